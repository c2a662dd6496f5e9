"""Small bridges between the units a published case is printed in and the SI functions under test.

A case may name one of these as `helpers.<function>`. A helper converts, calls and converts back; it holds
no physics of its own, or the case would check the helper instead of the program.
"""

from dataclasses import replace
from math import exp, pi

from hearthold.physics import (
    alternator,
    battery,
    cold,
    coldmarch,
    conductors,
    derating,
    food,
    gaspipe,
    heat,
    heating,
    ice,
    loadcalc,
    motors,
    pit,
    pressuretank,
    propane,
    pump,
    sun,
    tankheater,
    weather,
    willans,
)
from hearthold.quantities.units import convert, si

CIRCULAR_MIL_M2 = 5.067074790974977e-10  # pi/4 of (0.001 in) squared
FT_M = 0.3048
COPPER_OHM_M = 1.7241e-8  # IEC 60028, 20 degC


def awg_diameter_in(awg_number):
    return convert(conductors.awg_diameter_m(awg_number), "m", "in", "length")


def awg_area_cmil(awg_number):
    return conductors.awg_area_m2(awg_number) / CIRCULAR_MIL_M2


def metal_resistance_ohm_per_kft(
    awg_number, resistivity_ohm_m, temp_coefficient_per_k, conductor_c, stranding_factor
):
    area_m2 = conductors.awg_area_m2(awg_number)
    found = conductors.resistance_ohm_per_m(
        area_m2, resistivity_ohm_m, temp_coefficient_per_k, conductor_c, stranding_factor
    )
    return found * 1000.0 * FT_M


def drop_from_kft_v(current_a, r_ohm_per_kft, x_ohm_per_kft, length_ft, power_factor):
    per_m = 1.0 / (1000.0 * FT_M)
    return conductors.voltage_drop_two_wire_v(
        current_a, r_ohm_per_kft * per_m, x_ohm_per_kft * per_m, si(length_ft, "ft", "length"), power_factor
    )


def drop_from_k_v(current_a, k_ohm_cmil_per_ft, area_cmil, length_ft):
    resistance_ohm_per_m = k_ohm_cmil_per_ft / area_cmil / FT_M
    return conductors.voltage_drop_two_wire_v(
        current_a, resistance_ohm_per_m, 0.0, si(length_ft, "ft", "length"), 1.0
    )


def least_area_cmil(current_a, k_ohm_cmil_per_ft, length_ft, drop_limit_v):
    resistivity_ohm_m = k_ohm_cmil_per_ft * CIRCULAR_MIL_M2 / FT_M
    found = conductors.least_area_m2(
        current_a, resistivity_ohm_m, si(length_ft, "ft", "length"), drop_limit_v
    )
    return found / CIRCULAR_MIL_M2


def current_at_drop_from_kft_a(drop_limit_v, r_ohm_per_kft, length_ft):
    per_m = 1.0 / (1000.0 * FT_M)
    return conductors.current_at_drop_a(
        drop_limit_v, r_ohm_per_kft * per_m, 0.0, si(length_ft, "ft", "length"), 1.0
    )


def corrected_ampacity_a(base_ampacity_a, insulation_c, ambient_c):
    factor = conductors.ambient_factor_frac(insulation_c, ambient_c)
    return conductors.corrected_ampacity_a(base_ampacity_a, factor, base_ampacity_a * 2.0)


def effective_z_ohm_per_kft(r_ohm_per_kft, x_ohm_per_kft, power_factor):
    """Half the drop of a 1 A two-wire loop of 1000 ft, which is ohm to neutral as Table 9 prints it."""
    return 0.5 * drop_from_kft_v(1.0, r_ohm_per_kft, x_ohm_per_kft, 1000.0, power_factor)


def tabulated_from_metal_mv_per_a_m(r20_ohm_per_km, temp_coefficient_per_k, conductor_c):
    area_m2 = COPPER_OHM_M / (r20_ohm_per_km / 1000.0)
    hot = conductors.resistance_ohm_per_m(area_m2, COPPER_OHM_M, temp_coefficient_per_k, conductor_c)
    return 1000.0 * conductors.voltage_drop_two_wire_v(1.0, hot, 0.0, 1.0, 1.0)


def spark_ignition_at_altitude_frac(altitude_ft, intake_c, vapour_pa):
    pressure_pa = derating.standard_pressure_pa(si(altitude_ft, "ft", "length"))
    return derating.spark_ignition_factor_frac(pressure_pa - vapour_pa, intake_c)


def linear_derate_frac(altitude_ft, intake_f, per_1000_ft_percent, per_10_f_percent, reference_f):
    return derating.linear_derate_frac(
        altitude_m=si(altitude_ft, "ft", "length"),
        intake_c=si(intake_f, "F", "temperature"),
        altitude_rate_per_m=per_1000_ft_percent / 100.0 / si(1000.0, "ft", "length"),
        temperature_rate_per_k=per_10_f_percent / 100.0 / si(10.0, "F", "temperature_difference"),
        altitude_from_m=0.0,
        reference_c=si(reference_f, "F", "temperature"),
    )


def locked_rotor_from_code_a(kva_per_hp, hp, voltage_v):
    va_per_w = si(kva_per_hp, "kVA", "apparent_power") / si(1.0, "hp", "power")
    return motors.locked_rotor_a(va_per_w, si(hp, "hp", "power"), voltage_v)


def start_kva(locked_rotor_a, voltage_v):
    return motors.start_va(locked_rotor_a, voltage_v) / 1000.0


def start_kva_from_code(kva_per_hp, hp, voltage_v):
    return start_kva(locked_rotor_from_code_a(kva_per_hp, hp, voltage_v), voltage_v)


def horsepower_current_a(hp, voltage_v, efficiency, power_factor):
    """The trade's I = 746 hp / (V eff pf)."""
    return motors.running_current_a(
        motors.input_power_w(si(hp, "hp", "power"), efficiency), voltage_v, power_factor
    )


def run_up_from_trade_units_s(wk2_lb_ft2, speed_rpm, torque_lb_ft):
    pound_foot_n_m = 4.4482216152605 * FT_M
    return motors.run_up_time_s(
        wk2_lb_ft2 * si(1.0, "lb", "mass") * FT_M**2,
        speed_rpm * 2.0 * pi / 60.0,
        torque_lb_ft * pound_foot_n_m,
    )


def frequency_from_rpm_hz(speed_rpm, pole_count):
    return alternator.frequency_hz(speed_rpm / 60.0, pole_count)


def no_load_frequency_hz(rated_hz, droop_percent):
    return alternator.frequency_under_load_hz(rated_hz, droop_percent / 100.0, 0.0)


OPTIONAL_METHOD = loadcalc.DemandRule(block_va=(10_000.0,), block_frac=(1.0,), rest_frac=0.40)
STANDARD_LIGHTING = loadcalc.DemandRule(block_va=(3_000.0, 117_000.0), block_frac=(1.0, 0.35), rest_frac=0.25)


def general_load_va(floor_ft2, va_per_ft2, circuit_count, circuit_va, nameplate_va):
    ft2_m2 = si(1.0, "ft2", "area")
    return loadcalc.general_load_va(
        floor_ft2 * ft2_m2, va_per_ft2 / ft2_m2, circuit_count, circuit_va, nameplate_va
    )


def optional_dwelling_steps(
    floor_ft2, va_per_ft2, circuit_count, circuit_va, nameplate_va, entry_va, entry_frac, voltage_v
):
    general_va = general_load_va(floor_ft2, va_per_ft2, circuit_count, circuit_va, nameplate_va)
    hvac_va = loadcalc.largest_entry_va(entry_va, entry_frac)
    found = loadcalc.dwelling_demand(general_va, hvac_va, OPTIONAL_METHOD, voltage_v)
    return [found.general_va, found.general_demand_va, found.hvac_va, found.total_va, found.service_a]


def standard_dwelling_steps(floor_ft2, va_per_ft2, circuit_count, circuit_va, range_va, dryer_va, voltage_v):
    lighting_va = general_load_va(floor_ft2, va_per_ft2, circuit_count, circuit_va, [])
    lighting_demand_va = loadcalc.demand_va(lighting_va, STANDARD_LIGHTING)
    net_va = lighting_demand_va + range_va + dryer_va
    neutral_va = loadcalc.neutral_demand_va(lighting_demand_va, range_va, dryer_va, 0.7)
    return [lighting_demand_va, net_va, loadcalc.service_current_a(net_va, voltage_v), neutral_va]


# Cold stores. The chest and the upright are the boxes that the label and the guidance describe.

MIXED_LOAD = food.enthalpy_segments(
    0.65, 0.12, -1.8, count=20
)  # 65 % water, 12 % protein, ice from -1.8 degC
HOUR_S = 3600.0


def food_enthalpy_kj_per_kg(food_c, water, protein, freezing_c):
    return food.food_enthalpy_j_per_kg(food_c, water, protein, freezing_c) / 1000.0


def food_heat_kj_per_kg_k(food_c, water, protein, freezing_c):
    return food.food_heat_j_per_kg_k(food_c, water, protein, freezing_c) / 1000.0


def food_latent_kj_per_kg(water):
    return food.latent_j_per_kg(water) / 1000.0


def food_heat_removed_kj(mass_kg, from_c, to_c, water, protein, freezing_c):
    of = (water, protein, freezing_c)
    return mass_kg * (food_enthalpy_kj_per_kg(from_c, *of) - food_enthalpy_kj_per_kg(to_c, *of))


def food_ice_kg(mass_kg, food_c, water, protein, freezing_c):
    return mass_kg * food.ice_frac(food_c, water, protein, freezing_c)


def chest():
    """Full 15 ft3 chest freezer: walls from the label limit, 20 lb/ft3 of food."""
    return cold.planning_box(cold.cold_box(1.32, 136.0, 25e3, MIXED_LOAD))


def upright():
    """Full 17 ft3 upright freezer with automatic defrost, walls from the label limit."""
    return cold.planning_box(cold.cold_box(1.70, 154.0, 30e3, MIXED_LOAD))


def chest_planning_h(fill, room_c):
    box = replace(chest(), food_kg=fill * 136.0)
    start = cold.FREEZER_START_C
    return cold.hold_planning_s(box, start, start, room_c, cold.DANGER_C) / HOUR_S


def chest_rise_h(likely):
    if likely:
        return cold.hold_likely_s(chest(), -18.0, 25.0, -9.0) / HOUR_S
    return cold.hold_planning_s(chest(), -18.0, -18.0, 25.0, -9.0) / HOUR_S


def fridge_planning_h(ua_w_per_k):
    return fridge_hold_h(
        cold.fridge_planning_j_per_k(ua_w_per_k) / 1000.0, ua_w_per_k, cold.FRIDGE_START_C, cold.RULE_ROOM_C
    )


def fridge_hold_h(c_kj_per_k, ua_w_per_k, start_c, room_c):
    return cold.fridge_hold_s(c_kj_per_k * 1000.0, ua_w_per_k, start_c, room_c, cold.DANGER_C) / HOUR_S


def label_ua_w_per_k(kwh_per_yr, usage, aux_w, compartment_c):
    heat_w = cold.label_heat_w(convert(kwh_per_yr, "kWh/yr", "W", "power"), usage, aux_w)
    return cold.label_ua_w_per_k(heat_w, compartment_c)


def upright_empty_h():
    return cold.hold_likely_s(replace(upright(), food_kg=0.0), -20.0, 19.0, 0.0) / HOUR_S


def upright_after_c(food_kg, hours, likely):
    """Shell temperature of the upright, room 19 degC, from -20 degC, by marching the exact steps."""
    share = 1.0 if likely else upright().shell_frac
    shell_kg, core_kg = share * food_kg, (1.0 - share) * food_kg
    g = 0.0 if likely else upright().coupling_w_per_k_kg * food_kg
    knots, heats = MIXED_LOAD.knots_c, MIXED_LOAD.heat_j_per_kg_k
    left, t1, t2 = hours * HOUR_S, -20.0, -20.0
    while left > 0.0:
        step, t1, t2, _, _ = coldmarch.cold_step_kernel(
            knots, heats, shell_kg, core_kg, 30e3, 1.70, g, 19.0, 0.0, t1, t2, 1e9, left
        )
        left -= step
    return t1


def upright_place_frac(food_kg, hours, measured_c):
    low, high = (upright_after_c(food_kg, hours, likely) for likely in (1, 0))
    return (measured_c - low) / (high - low)


def dry_ice_h(dry_ice_lb, ua_w_per_k, room_c):
    stock_j = ice.dry_ice_cold_j(si(dry_ice_lb, "lb", "mass"), cold.FREEZER_START_C)
    return ice.cold_lasts_s(stock_j, ua_w_per_k, room_c, cold.FREEZER_START_C) / HOUR_S


def dry_ice_w(dry_ice_lb, hours):
    return ice.dry_ice_cold_j(si(dry_ice_lb, "lb", "mass"), cold.FREEZER_START_C) / (hours * HOUR_S)


def jug_h(gallons):
    melting_j = ice.ice_cold_j(si(gallons, "gal", "volume") * 1000.0, 0.0, 0.0)
    return ice.cold_lasts_s(melting_j, 1.15, 22.0, 2.78) / HOUR_S


# Houses and hot water in the units of the trade.

F_DAY_K_S = 86400.0 / 1.8
HOUSE_M2 = 1800 * FT_M**2


def ua_of_btu(btu_h_f):
    return convert(btu_h_f, "Btu/h/F", "W/K", "conductance")


def f_to_c(degf):
    return si(degf, "F", "temperature")


def c_to_f(degc):
    return convert(degc, "C", "F", "temperature")


def btu(joules):
    return convert(joules, "J", "Btu", "energy")


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


# Water, fuel, gas, battery and sun.


def drawdown_gal(tank_gal, cut_in_psi, cut_out_psi, precharge_psi):
    found_m3 = pressuretank.drawdown_m3(
        si(tank_gal, "gal", "volume"),
        si(cut_in_psi, "psi", "pressure"),
        si(cut_out_psi, "psi", "pressure"),
        si(precharge_psi, "psi", "pressure"),
    )
    return convert(found_m3, "m3", "gal", "volume")


def head_of_pressure_ft(psi):
    return convert(pump.pressure_head_m(si(psi, "psi", "pressure")), "m", "ft", "length")


def water_hp(gpm, head_ft):
    found_w = pump.hydraulic_power_w(si(gpm, "gpm", "flow"), si(head_ft, "ft", "length"))
    return convert(found_w, "W", "hp", "power")


def lift_energy_kwh_per_acre_ft(head_ft):
    """An acre-foot is 43 560 ft3."""
    per_m3 = pump.energy_per_volume_j_per_m3(si(head_ft, "ft", "length"), 1.0)
    return convert(per_m3 * 43560.0 * si(1.0, "ft3", "volume"), "J", "kWh", "energy")


def friction_ft_per_100_ft(gpm, inside_in, smoothness):
    found_m = pump.hazen_williams_head_m(
        si(gpm, "gpm", "flow"), si(100.0, "ft", "length"), si(inside_in, "in", "length"), smoothness
    )
    return convert(found_m, "m", "ft", "length")


def casing_gal(inside_in, column_ft):
    found_m3 = pump.casing_storage_m3(si(inside_in, "in", "length"), si(column_ft, "ft", "length"))
    return convert(found_m3, "m3", "gal", "volume")


def cycle_minutes_at_half_flow(volume_gal, pump_gpm):
    volume_m3, flow = si(volume_gal, "gal", "volume"), si(pump_gpm, "gpm", "flow")
    return 1440.0 / pump.starts_per_day(volume_m3, flow / 2.0, flow)


def pit_gal_per_in(inside_in):
    area_m2 = pit.round_area_m2(si(inside_in, "in", "length"))
    per_in_m3 = pit.volume_between_m3(area_m2, 0.2 + si(1.0, "in", "length"), 0.2)
    return convert(per_in_m3, "m3", "gal", "volume")


def diesel_between_ends_gal_per_h(rated_kw, quarter_gal_per_h, full_gal_per_h):
    """Half and three-quarter load from a line through quarter and full load (the heating value cancels)."""
    per_gal_j = 1.36e8
    ends_w = [rated_kw * 250.0, rated_kw * 1000.0]
    burned_w = [quarter_gal_per_h * per_gal_j / 3600.0, full_gal_per_h * per_gal_j / 3600.0]
    line = willans.line_from_points(ends_w, burned_w)
    return [willans.fuel_power_w(line, rated_kw * x) * 3600.0 / per_gal_j for x in (500.0, 750.0)]


def set_gal_per_h(rated_kw, full_load_frac, no_load_frac, load_frac, lhv_kwh_per_gal):
    line = willans.line_from_efficiency(rated_kw * 1000.0, full_load_frac, no_load_frac)
    lhv_j_per_m3 = si(lhv_kwh_per_gal, "kWh", "energy") / si(1.0, "gal", "volume")
    found = willans.fuel_m3_per_s(line, rated_kw * 1000.0 * load_frac, lhv_j_per_m3)
    return convert(found, "m3/s", "gal/h", "flow")


def claimed_efficiency(tank_gal, run_h, output_kw, lhv_kwh_per_gal):
    lhv_j_per_m3 = si(lhv_kwh_per_gal, "kWh", "energy") / si(1.0, "gal", "volume")
    found = willans.claim(si(tank_gal, "gal", "volume"), run_h * 3600.0, output_kw * 1000.0, lhv_j_per_m3)
    return found.efficiency_frac


def two_point_set(idle_gal_per_h, per_kwh_gal, output_kw, lhv_kwh_per_gal):
    """Efficiency at a load, and idle fuel over the fuel at that load, from a measured line."""
    per_gal_j = si(lhv_kwh_per_gal, "kWh", "energy")
    line = willans.WillansLine(idle_gal_per_h * per_gal_j / 3600.0, per_kwh_gal * lhv_kwh_per_gal)
    output_w = output_kw * 1000.0
    return [willans.line_efficiency_frac(line, output_w), willans.no_load_share_frac(line, output_w)]


def gas_pipe_cfh(inside_in, run_ft, drop_in_wc, gas_factor):
    sizes = inside_in if isinstance(inside_in, list) else [inside_in]
    found = [
        convert(
            gaspipe.code_flow_m3_per_s(
                si(x, "in", "length"),
                si(run_ft, "ft", "length"),
                si(drop_in_wc, "in w.c.", "pressure"),
                gas_factor,
            ),
            "m3/s",
            "ft3/h",
            "flow",
        )
        for x in sizes
    ]
    return found if isinstance(inside_in, list) else found[0]


def propane_pipe_kbtu_per_h(inside_in, run_ft, btu_per_ft3):
    return [x * btu_per_ft3 / 1000.0 for x in gas_pipe_cfh(inside_in, run_ft, 0.5, 1.2462)]


def smallest_gas_pipe_in(inside_in, run_ft, flow_cfh):
    index = gaspipe.smallest_pipe(
        [si(x, "in", "length") for x in inside_in],
        si(run_ft, "ft", "length"),
        si(0.5, "in w.c.", "pressure"),
        si(flow_cfh, "ft3/h", "flow"),
        0.6094,
    )
    return inside_in[index]


def propane_tank_btu_per_h(diameter_in, length_in, fill_factor, outdoor_f):
    """One unit of the printed factor is 1 Btu/(h in2) at 20 degF above the floor."""
    factor = (
        fill_factor
        * si(1.0, "Btu/h", "power")
        / (si(1.0, "in", "length") ** 2 * si(20.0, "F", "temperature_difference"))
    )
    found_w = propane.tank_vapor_w(
        si(diameter_in, "in", "length"),
        si(length_in, "in", "length"),
        factor,
        si(outdoor_f, "F", "temperature"),
    )
    return convert(found_w, "W", "Btu/h", "power")


def cylinder_btu_per_h(propane_lb, outdoor_f, floor_f):
    found_w = propane.cylinder_vapor_w(
        si(propane_lb, "lb", "mass"),
        si(outdoor_f, "F", "temperature"),
        192.44,
        25.418,
        si(floor_f, "F", "temperature"),
    )
    return convert(found_w, "W", "Btu/h", "power")


def propane_boiling_f(absolute_psi):
    return convert(propane.saturation_c(si(absolute_psi, "psi", "pressure")), "C", "F", "temperature")


def propane_pressure_psia(propane_f):
    found_pa = propane.vapor_pressure_pa(si(propane_f, "F", "temperature"))
    return convert(found_pa, "Pa", "psi", "pressure")


def battery_hours(capacity_kwh, load_kw, discharge_frac, idle_w):
    rate_w = battery.store_rate_w(load_kw * 1000.0, 0.0, idle_w, discharge_frac, 1.0)
    full_j = si(capacity_kwh, "kWh", "energy")
    return battery.time_to_empty_s(full_j, rate_w, full_j) / 3600.0


def cold_battery_share(cell_c):
    return battery.usable_capacity_j(3.6e6, 1.0, cell_c) / 3.6e6


def sun_above_air_mj_per_m2(latitude_deg, day_of_year):
    return sun.extraterrestrial_j_per_m2(latitude_deg, day_of_year) / 1e6


def daylight_h(latitude_deg, day_of_year, horizon_deg):
    return sun.day_length_s(latitude_deg, day_of_year, horizon_deg) / 3600.0


def equation_of_time_min(day_of_year):
    return sun.equation_of_time_s(day_of_year) / 60.0


def zenith_deg(latitude_deg, declination_deg, hour_angle_deg):
    return 90.0 - sun.elevation_deg(latitude_deg, declination_deg, hour_angle_deg)


def panel_mj_per_m2(latitude_deg, tilt_deg, month_number, level_mj_per_m2, reflectance):
    clear = sun.clearness(latitude_deg, month_number, level_mj_per_m2 * 1e6)
    return sun.plane_of_panel_j_per_m2(latitude_deg, tilt_deg, month_number, clear, reflectance) / 1e6


def heating_degree_days_f(daily_mean_f):
    means_c = [si(x, "F", "temperature") for x in daily_mean_f]
    return weather.heating_degree_days_k(means_c, si(65.0, "F", "temperature")) * 1.8


def cooling_degree_days_f(daily_mean_f):
    means_c = [si(x, "F", "temperature") for x in daily_mean_f]
    return weather.cooling_degree_days_k(means_c, si(65.0, "F", "temperature")) * 1.8


def eia_caidi_min(year, with_major):
    """Mean length of an outage of the streams that are made of a year's national SAIDI and SAIFI."""
    from hearthold.reference.outages import national_indices, outage_model
    from hearthold.study.fromindices import from_both

    made = from_both(national_indices(year), outage_model("us_average"))
    streams = made.streams if with_major else (made.routine,)
    rate = sum(s.usual_per_year for s in streams)
    lost_s = sum(s.usual_per_year * float(s.median_s[0]) * exp(float(s.sigma[0]) ** 2 / 2.0) for s in streams)
    return convert(lost_s / rate, "s", "min", "time")
