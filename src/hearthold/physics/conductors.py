"""Conductors: gauge, resistance, voltage drop and the current a cable carries without overheating."""

from __future__ import annotations

import numpy as np

from hearthold.errors import InputError
from hearthold.physics.values import Values
from hearthold.quantities.glossary import require

# --- kernels ---------------------------------------------------------------------------------------------


def awg_diameter_kernel(awg_number: Values) -> Values:
    """Diameter in metres of a gauge number."""
    # 36 AWG is 0.127 mm and 4/0 is 39 steps and a factor of 92 above it, by definition
    return 0.127e-3 * 92.0 ** ((36.0 - awg_number) / 39.0)


def resistance_kernel(
    area_m2: Values, resistivity_ohm_m: Values, temp_coefficient_per_k: Values, conductor_c: Values
) -> Values:
    """Resistance of one metre of solid conductor, in ohm."""
    return resistivity_ohm_m / area_m2 * (1.0 + temp_coefficient_per_k * (conductor_c - 20.0))


def ambient_factor_kernel(insulation_c: Values, ambient_c: Values, base_c: Values) -> Values:
    """Ratio of the currents that heat a cable to its limit at two ambient temperatures."""
    return ((insulation_c - ambient_c) / (insulation_c - base_c)) ** 0.5


def two_wire_drop_kernel(
    current_a: Values,
    resistance_ohm_per_m: Values,
    reactance_ohm_per_m: Values,
    length_m: Values,
    power_factor: Values,
) -> Values:
    """Drop out and back along a two-wire circuit, in volt."""
    reactive_share = (1.0 - power_factor**2) ** 0.5
    ohm_per_m = resistance_ohm_per_m * power_factor + reactance_ohm_per_m * reactive_share
    return 2.0 * length_m * current_a * ohm_per_m


# --- gauge and resistance --------------------------------------------------------------------------------


def awg_diameter_m(awg_number: Values) -> Values:
    """Diameter of a solid conductor of an American wire gauge.

    d = 0.127 mm * 92^((36 - n)/39), with n = 0, -1, -2, -3 for 1/0, 2/0, 3/0, 4/0. Arrays pass through.
    Raises: InputError outside 4/0 to 40 AWG.

    Source: ASTM B258 (definition of the American wire gauge).
    """
    require(awg_number=awg_number)
    return awg_diameter_kernel(awg_number)


def awg_area_m2(awg_number: Values) -> Values:
    """Metal cross-section of a conductor of an American wire gauge, solid or stranded: pi d^2 / 4.

    Raises: InputError outside 4/0 to 40 AWG.

    Source: ASTM B258 (definition of the American wire gauge).
    """
    return np.pi / 4.0 * awg_diameter_m(awg_number) ** 2


def resistance_ohm_per_m(
    conductor_area_m2: Values,
    resistivity_ohm_m: Values,
    temp_coefficient_per_k: Values,
    conductor_c: Values,
    stranding_factor: Values = 1.0,
) -> Values:
    """Direct-current resistance of one conductor from its metal, cross-section and temperature.

    R = s rho20 / A (1 + alpha20 (T - 20)); resistivity and coefficient are those at 20 degC. Skin effect is
    left out: under 1 % at 60 Hz up to 4/0 AWG outside steel conduit (from memory).
    Raises: InputError outside the glossary's ranges.

    Source: IEC 60028:1925 (form and reference temperature); stranding 1.02 is the ASTM B8 lay allowance.
    """
    require(
        conductor_area_m2=conductor_area_m2,
        resistivity_ohm_m=resistivity_ohm_m,
        temp_coefficient_per_k=temp_coefficient_per_k,
        conductor_c=conductor_c,
        stranding_factor=stranding_factor,
    )
    solid = resistance_kernel(conductor_area_m2, resistivity_ohm_m, temp_coefficient_per_k, conductor_c)
    return stranding_factor * solid


def resistance_from_75c_ohm_per_m(
    resistance_75c_ohm_per_m: Values, temp_coefficient_per_k: Values, conductor_c: Values
) -> Values:
    """A resistance tabulated at 75 degC, moved to another conductor temperature.

    R2 = R1 (1 + alpha75 (T2 - 75)); the coefficient must be the one at 75 degC (0.00323 copper, 0.00330
    aluminium), not the one at 20 degC. Raises: InputError outside the glossary's ranges.

    Source: NFPA 70 (NEC) Chapter 9, Table 8, note 2.
    """
    require(
        resistance_75c_ohm_per_m=resistance_75c_ohm_per_m,
        temp_coefficient_per_k=temp_coefficient_per_k,
        conductor_c=conductor_c,
    )
    return resistance_75c_ohm_per_m * (1.0 + temp_coefficient_per_k * (conductor_c - 75.0))


# --- voltage drop ----------------------------------------------------------------------------------------


def voltage_drop_two_wire_v(
    current_a: Values,
    resistance_ohm_per_m: Values,
    reactance_ohm_per_m: Values,
    length_m: Values,
    power_factor: Values,
) -> Values:
    """Voltage lost out and back along a two-wire circuit with a lagging load.

    dV = 2 L I (R cos phi + X sin phi), the in-phase part of the drop. The exact phasor drop is larger: up to
    a 5 % drop by less than 0.1 % of the supply at pf 0.8, 0.4 % at pf 0.5 (X below R). A 120 V load counts
    hot and neutral, a 240 V load both hots. Raises: InputError outside the glossary's ranges.

    Source: NFPA 70 (NEC) Chapter 9, Table 9, note 2 (effective Z); UFC 3-520-01 (2002), Appendix B.
    """
    require(
        current_a=current_a,
        resistance_ohm_per_m=resistance_ohm_per_m,
        reactance_ohm_per_m=reactance_ohm_per_m,
        length_m=length_m,
        power_factor=power_factor,
    )
    return two_wire_drop_kernel(current_a, resistance_ohm_per_m, reactance_ohm_per_m, length_m, power_factor)


def tabulated_drop_v(tabulated_drop_v_per_a_m: Values, current_a: Values, length_m: Values) -> Values:
    """Voltage lost by a circuit whose table prints the drop of both conductors together (mV/A/m).

    dV = d I L, with d in V/(A m): 18 mV/A/m is 0.018. No factor 2, the table already has it.
    Raises: InputError outside the glossary's ranges.

    Source: BS 7671:2018, Appendix 4, section 6 (from memory).
    """
    require(tabulated_drop_v_per_a_m=tabulated_drop_v_per_a_m, current_a=current_a, length_m=length_m)
    return tabulated_drop_v_per_a_m * current_a * length_m


def voltage_drop_frac(drop_v: Values, voltage_v: Values) -> Values:
    """A drop as a share of the voltage at the source: of 120 V for a 120 V load, of 240 V for a 240 V load.

    Raises: InputError outside the glossary's ranges.

    Source: NFPA 70 (NEC) 210.19(A), informational note (3 % branch, 5 % in all); definition.
    """
    require(drop_v=drop_v, voltage_v=voltage_v)
    return drop_v / voltage_v


def least_area_m2(
    current_a: Values, resistivity_ohm_m: Values, length_m: Values, drop_limit_v: Values
) -> Values:
    """Smallest metal cross-section that keeps a two-wire circuit within a drop, reactance left out.

    A = 2 rho I L / dV, with rho at working temperature (and stranding in it). Reactance matters above about
    2 AWG: check the chosen size with voltage_drop_two_wire_v. Raises: InputError outside the ranges.

    Source: trade form cmil = 2 K I L / Vd (licence-examination texts); Ohm's law.
    """
    require(
        current_a=current_a, resistivity_ohm_m=resistivity_ohm_m, length_m=length_m, drop_limit_v=drop_limit_v
    )
    return 2.0 * resistivity_ohm_m * current_a * length_m / drop_limit_v


def current_at_drop_a(
    drop_limit_v: Values,
    resistance_ohm_per_m: Values,
    reactance_ohm_per_m: Values,
    length_m: Values,
    power_factor: Values,
) -> Values:
    """Largest current a two-wire circuit carries within a voltage drop (says nothing about heating).

    I = dV / (2 L (R cos phi + X sin phi)), the inverse of voltage_drop_two_wire_v; infinite at no length.
    Raises: InputError outside the glossary's ranges, or when the circuit has no impedance at all.

    Source: NFPA 70 (NEC) Chapter 9, Table 9, note 2, solved for the current.
    """
    require(
        drop_limit_v=drop_limit_v,
        resistance_ohm_per_m=resistance_ohm_per_m,
        reactance_ohm_per_m=reactance_ohm_per_m,
        length_m=length_m,
        power_factor=power_factor,
    )
    loop_ohm = two_wire_drop_kernel(1.0, resistance_ohm_per_m, reactance_ohm_per_m, length_m, power_factor)
    if np.any(np.asarray(loop_ohm) <= 0.0):
        raise InputError(
            "a circuit of no length or no resistance has no voltage drop; give length_m and "
            "resistance_ohm_per_m above 0.",
            code="no_impedance",
        )
    return drop_limit_v / loop_ohm


# --- heating ---------------------------------------------------------------------------------------------


def ambient_factor_frac(insulation_c: Values, ambient_c: Values, base_c: Values = 30.0) -> Values:
    """Factor on a tabulated ampacity for the temperature around the cable; above 1 in the cold.

    f = sqrt((Tc - Ta) / (Tc - Tb)); Tb is 30 degC in NEC Table 310.16 and for IEC cables in air, 20 degC for
    IEC cables in earth. Raises: InputError where the air (or the base) is as hot as the insulation may be.

    Source: NFPA 70 (NEC) 310.15(B), Equation 310.15(B); IEC 60364-5-52:2009, Table B.52.14 (same form).
    """
    require(insulation_c=insulation_c, ambient_c=ambient_c, base_c=base_c)
    hottest = np.maximum(ambient_c, base_c)
    if np.any(hottest >= np.asarray(insulation_c)):
        raise InputError(
            f"ambient_c is {float(np.max(ambient_c)):g} degC round insulation rated "
            f"{float(np.min(insulation_c)):g} degC; no current is allowed there. Move the cable to a cooler "
            "place or take insulation with a higher rating.",
            code="ambient_too_hot",
        )
    return ambient_factor_kernel(insulation_c, ambient_c, base_c)


def corrected_ampacity_a(
    base_ampacity_a: Values, correction_frac: Values, ampacity_limit_a: Values
) -> Values:
    """Ampacity in the insulation's own column times its corrections, held to the limit of terminals or rule.

    I = min(I0 f, limit): the correction is taken first and the limit last, so a 90 degC insulation may
    spend its reserve on heat and bundling but never load a 60 degC terminal beyond its column.
    Raises: InputError outside the glossary's ranges.

    Source: NFPA 70 (NEC) 310.15(B), 110.14(C) and 240.4(D) (110.14(C) from memory).
    """
    require(
        base_ampacity_a=base_ampacity_a, correction_frac=correction_frac, ampacity_limit_a=ampacity_limit_a
    )
    corrected = np.minimum(base_ampacity_a * correction_frac, ampacity_limit_a)
    return corrected if isinstance(corrected, np.ndarray) else float(corrected)


def required_rating_a(
    continuous_a: Values, intermittent_a: Values, continuous_factor: Values = 1.25
) -> Values:
    """Least rating of conductor or overcurrent device for a mix of continuous and other current.

    I = k I_continuous + I_other, with k 1.25 (continuous means three hours or more); IEC practice has k 1.
    For a conductor this is compared before correction factors. Raises: InputError outside the ranges.

    Source: NFPA 70 (NEC) 210.19(A)(1), 210.20(A), 215.2(A)(1).
    """
    require(continuous_a=continuous_a, intermittent_a=intermittent_a, continuous_factor=continuous_factor)
    return continuous_factor * continuous_a + intermittent_a


def cable_loading_frac(
    continuous_a: Values, intermittent_a: Values, ampacity_a: Values, continuous_factor: Values = 1.25
) -> Values:
    """Share of a cable's ampacity that a load asks for; above 1 the cable would overheat.

    (k I_continuous + I_other) / ampacity. Heating goes with the square of the current, so 1.1 here is 21 %
    more heat than the insulation is rated for. Raises: InputError outside the glossary's ranges.

    Source: NFPA 70 (NEC) 210.19(A)(1), 215.2(A)(1).
    """
    require(ampacity_a=ampacity_a)
    return required_rating_a(continuous_a, intermittent_a, continuous_factor) / ampacity_a
