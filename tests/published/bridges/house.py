"""Bridges to houses and hot water in the units of the trade."""

from tests.published.bridges.trade import FT_M, HOUR_S, btu, c_to_f, f_to_c, ua_of_btu

from hearthold.physics import heat, heating, tankheater
from hearthold.quantities.units import convert, si

F_DAY_K_S = 86400.0 / 1.8


HOUSE_M2 = 1800 * FT_M**2


def air_heat_btu_h_ft3_f():
    return (
        convert(heating.leakage_w_per_k(100.0, 1.0 / HOUR_S), "W/K", "Btu/h/F", "conductance")
        * FT_M**3
        / 100.0
    )


def leakage_of_blower(ach50, area_m2, height_m):
    return heating.normalized_leakage(ach50 * area_m2 * height_m / HOUR_S, area_m2, height_m)


def degree_heat_btu(ua_btu_h_f, hdd_f):
    return btu(heating.degree_heat_j(ua_of_btu(ua_btu_h_f), hdd_f * F_DAY_K_S))


def degree_fuel_gal(ua_btu_h_f, hdd_f, btu_per_gal, efficiency):
    density = si(btu_per_gal, "Btu", "energy") / si(1.0, "gal", "volume")
    fuel_m3 = heating.degree_fuel_m3(ua_of_btu(ua_btu_h_f), hdd_f * F_DAY_K_S, density, efficiency)
    return convert(fuel_m3, "m3", "gal", "volume")


def ua_from_oil_btu_h_f(gallons, hdd_f, btu_per_gal, efficiency):
    density = si(btu_per_gal, "Btu", "energy") / si(1.0, "gal", "volume")
    fuel_m3 = si(gallons, "gal", "volume")
    ua_w_per_k = heating.ua_from_fuel_w_per_k(fuel_m3, hdd_f * F_DAY_K_S, density, efficiency)
    return convert(ua_w_per_k, "W/K", "Btu/h/F", "conductance")


def loss_btu_h(area_ft2, u_btu_h_ft2_f, rise_f):
    load_w = heat.steady_load_w(ua_of_btu(area_ft2 * u_btu_h_ft2_f), rise_f / 1.8, 0.0)
    return convert(load_w, "W", "Btu/h", "power")


def house_hold_h(ua_btu_h_f, c_kj_per_k_m2, outdoor_f, limit_f):
    capacity = c_kj_per_k_m2 * 1000.0 * HOUSE_M2
    hold_s = heat.cool_down_s(
        ua_of_btu(ua_btu_h_f), capacity, f_to_c(68.0), f_to_c(outdoor_f), 400.0, f_to_c(limit_f)
    )
    return hold_s / HOUR_S


def wood_btu(pounds, moisture, btu_per_lb_dry, efficiency):
    dry_j_per_kg = si(btu_per_lb_dry, "Btu", "energy") / si(1.0, "lb", "mass")
    return btu(heating.wood_heat_j(si(pounds, "lb", "mass"), moisture, dry_j_per_kg, efficiency))


def stove_btu_h(pounds, moisture, btu_per_lb_dry, efficiency, hours):
    dry_j_per_kg = si(btu_per_lb_dry, "Btu", "energy") / si(1.0, "lb", "mass")
    out_w = heating.stove_w(si(pounds, "lb", "mass"), moisture, dry_j_per_kg, efficiency, hours * HOUR_S)
    return convert(out_w, "W", "Btu/h", "power")


def recovery_gal_per_h(heater_w, rise_f, efficiency):
    flow = tankheater.recovery_m3_per_s(heater_w, 10.0, 10.0 + rise_f / 1.8, efficiency)
    return convert(flow, "m3/s", "gph", "flow")


def recovery_gas_gal_per_h(input_btu_h, rise_f, efficiency):
    return recovery_gal_per_h(si(input_btu_h, "Btu/h", "power"), rise_f, efficiency)


def standby_gas_btu_h_f(energy_factor, recovery, input_btu_h):
    ua_w_per_k = tankheater.standby_ua_w_per_k(energy_factor, recovery, si(input_btu_h, "Btu/h", "power"))
    return convert(ua_w_per_k, "W/K", "Btu/h/F", "conductance")


def standby_w_per_k_of_federal_minimum(gallons):
    return tankheater.standby_ua_w_per_k(0.93 - 0.00132 * gallons, 0.98, 4500.0)


def tank_after_f(gallons, ua_w_per_k, start_f, room_f, hours):
    tank_m3 = si(gallons, "gal", "volume")
    return c_to_f(
        tankheater.tank_after_c(tank_m3, ua_w_per_k, f_to_c(start_f), f_to_c(room_f), hours * HOUR_S)
    )


def tank_hold_h(gallons, ua_w_per_k, start_f, room_f, limit_f):
    tank_m3 = si(gallons, "gal", "volume")
    return (
        tankheater.tank_hold_s(tank_m3, ua_w_per_k, f_to_c(start_f), f_to_c(room_f), f_to_c(limit_f)) / HOUR_S
    )


def reheat_kwh(gallons, rise_f):
    joules = tankheater.reheat_j(si(gallons, "gal", "volume"), 10.0, 10.0 + rise_f / 1.8)
    return convert(joules, "J", "kWh", "energy")


def heat_up_h(gallons, rise_f, heater_w):
    tank_m3 = si(gallons, "gal", "volume")
    return tankheater.heat_up_s(tank_m3, 1.5, 10.0, 18.0, heater_w, 10.0 + rise_f / 1.8) / HOUR_S


def hot_gal(gallons, tank_f, inlet_f, delivery_f):
    return gallons * tankheater.hot_share_frac(f_to_c(tank_f), f_to_c(inlet_f), f_to_c(delivery_f))


def layered_gal(gallons):
    tank_m3 = si(gallons, "gal", "volume")
    return convert(tankheater.usable_layered_m3(tank_m3, 50.0, 10.0, 50.0), "m3", "gal", "volume")
