"""Bridges to food, ice and cold stores; the chest and the upright are the boxes of the label and the guidance."""

from dataclasses import replace

from tests.published.bridges.trade import HOUR_S

from hearthold.physics import cold, coldmarch, food, ice
from hearthold.quantities.units import convert, si

MIXED_LOAD = food.enthalpy_segments(
    0.65, 0.12, -1.8, count=20
)  # 65 % water, 12 % protein, ice from -1.8 degC


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
