"""Small bridges between the units a published case is printed in and the SI functions under test.

A case may name one of these as `helpers.<function>`. A helper converts, calls and converts back; it holds
no physics of its own, or the case would check the helper instead of the program.
"""

from hearthold.physics import conductors
from hearthold.quantities.units import convert, si

CIRCULAR_MIL_M2 = 5.067074790974977e-10  # pi/4 of (0.001 in) squared
FT_M = 0.3048


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
