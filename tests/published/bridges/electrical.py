"""Bridges to conductors, derating, motors and the dwelling load, in the units of American tables."""

from math import pi

from tests.published.bridges.trade import CIRCULAR_MIL_M2, FT_M

from hearthold.physics import alternator, conductors, derating, loadcalc, motors
from hearthold.quantities.units import convert, si

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
