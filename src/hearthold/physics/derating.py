"""Derating: what is left of an engine's rated power at altitude, in heat and on another fuel.

Every function here gives one factor for the air (altitude and temperature together). Choose one of them;
multiplying two counts the same thin air twice.
"""

from __future__ import annotations

import numpy as np

from hearthold.physics.values import Values
from hearthold.quantities.glossary import require

ZERO_C_K = 273.15

# --- kernels ---------------------------------------------------------------------------------------------


def standard_pressure_kernel(altitude_m: Values) -> Values:
    """Pressure of the standard atmosphere, in Pa."""
    # 0.0065 K/m over 288.15 K, and g M / (R L); ISO 2533 and the US Standard Atmosphere agree here
    return 101325.0 * (1.0 - 0.0065 / 288.15 * altitude_m) ** 5.255876


def spark_ignition_kernel(dry_pressure_pa: Values, intake_c: Values) -> Values:
    """Power at site over power at 99 kPa dry air and 25 degC, of 1."""
    correction = 1.18 * (99000.0 / dry_pressure_pa) * ((intake_c + ZERO_C_K) / 298.15) ** 0.5 - 0.18
    return 1.0 / correction


def linear_derate_kernel(climb_m: Values, warmth_k: Values, per_m: Values, per_k: Values) -> Values:
    """Share of rated power left after a straight-line loss, not held to 0..1."""
    return 1.0 - per_m * climb_m - per_k * warmth_k


# --- the air ---------------------------------------------------------------------------------------------


def standard_pressure_pa(altitude_m: Values) -> Values:
    """Air pressure against altitude in the standard atmosphere, up to 5500 m.

    p = 101 325 Pa (1 - 0.0065 h / 288.15)^5.2559. Weather moves it by about 3 % either way.
    Raises: InputError outside the glossary's range.

    Source: ISO 2533:1975; US Standard Atmosphere 1976 (equation from memory).
    """
    require(altitude_m=altitude_m)
    return standard_pressure_kernel(altitude_m)


# --- factors for the air: choose one ---------------------------------------------------------------------


def spark_ignition_factor_frac(dry_pressure_pa: Values, intake_c: Values) -> Values:
    """Power left of a naturally aspirated spark-ignition engine in the air of the site.

    1 / (1.18 (99 kPa / p_dry) sqrt(T / 298.15 K) - 0.18); 1 at 99 kPa of dry air and 25 degC, above 1 in
    cold dense air. The standard corrects test results near its reference; further out (above about
    2000 m) it is an estimate. Raises: InputError outside the glossary's ranges.

    Source: SAE J1349, spark-ignition atmospheric correction (1990 and later; from memory).
    """
    require(dry_pressure_pa=dry_pressure_pa, intake_c=intake_c)
    return spark_ignition_kernel(dry_pressure_pa, intake_c)


def adjusted_power_frac(
    pressure_pa: Values,
    intake_c: Values,
    pressure_exponent: Values,
    temperature_exponent: Values,
    mechanical_efficiency_frac: Values = 0.80,
    reference_pressure_pa: Values = 100e3,
    reference_c: Values = 25.0,
) -> Values:
    """Power left of a naturally aspirated engine of known exponents in the air of the site.

    k = (p / p_r)^m (T_r / T)^n; alpha = k - 0.7 (1 - k)(1 / eta - 1). m and n belong to the kind of engine
    (petrol about 1 and 0.5, diesel about 1 and 0.75; take them from the table). Held at 0 from below.
    Raises: InputError outside the glossary's ranges.

    Source: ISO 3046-1:2002, clause 10 (formula and reference conditions from memory).
    """
    require(
        pressure_pa=pressure_pa,
        intake_c=intake_c,
        pressure_exponent=pressure_exponent,
        temperature_exponent=temperature_exponent,
        mechanical_efficiency_frac=mechanical_efficiency_frac,
        reference_pressure_pa=reference_pressure_pa,
        reference_c=reference_c,
    )
    thinness = (pressure_pa / reference_pressure_pa) ** pressure_exponent
    indicated = thinness * ((reference_c + ZERO_C_K) / (intake_c + ZERO_C_K)) ** temperature_exponent
    return _held(indicated - 0.7 * (1.0 - indicated) * (1.0 / mechanical_efficiency_frac - 1.0), np.inf)


def linear_derate_frac(
    altitude_m: Values,
    intake_c: Values,
    altitude_rate_per_m: Values,
    temperature_rate_per_k: Values,
    altitude_from_m: Values,
    reference_c: Values,
) -> Values:
    """Power left by the rule printed in owners' manuals: so much lost a metre and a kelvin.

    1 - a max(h - h0, 0) - b max(T - T0, 0), held to 0..1: the rule gives nothing back in cold or low down.
    3.5 % per 1000 ft is 1.148e-4 per m; 1 % per 10 F is 1.8e-3 per K. Raises: InputError outside the ranges.

    Source: common practice, no source (rule of manuals); gas-compression practice, 1 % per 10 F above 60 F.
    """
    require(
        altitude_m=altitude_m,
        intake_c=intake_c,
        altitude_rate_per_m=altitude_rate_per_m,
        temperature_rate_per_k=temperature_rate_per_k,
        altitude_from_m=altitude_from_m,
        reference_c=reference_c,
    )
    climb_m = np.maximum(altitude_m - altitude_from_m, 0.0)
    warmth_k = np.maximum(intake_c - reference_c, 0.0)
    return _held(linear_derate_kernel(climb_m, warmth_k, altitude_rate_per_m, temperature_rate_per_k), 1.0)


# --- together --------------------------------------------------------------------------------------------


def available_power_w(engine_w: Values, alternator_w: Values, fuel_frac: Values, air_frac: Values) -> Values:
    """Power a generator can hold at the site: the engine derated for fuel and air, or the alternator.

    P = min(P_alternator, P_engine f_fuel f_air). fuel_frac is 1 where the nameplate rates the fuel used;
    air_frac is one of the factors above, once. Cold dense air helps the engine and never the alternator.
    Raises: InputError outside the glossary's ranges.

    Source: common practice, no source.
    """
    require(engine_w=engine_w, alternator_w=alternator_w, fuel_frac=fuel_frac, air_frac=air_frac)
    held_w = np.minimum(alternator_w, engine_w * fuel_frac * air_frac)
    return held_w if isinstance(held_w, np.ndarray) else float(held_w)


def _held(factor: Values, highest: float) -> Values:
    held = np.clip(factor, 0.0, highest)
    return held if isinstance(held, np.ndarray) else float(held)
