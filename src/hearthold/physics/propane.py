"""Propane: vapour pressure, the vapour a cold cylinder or tank gives, and how long before it is too cold.

Vapour draws its heat from the liquid, the liquid from the air through the wetted wall. Drawn too fast the
liquid chills until its pressure no longer feeds the regulator. Rates from published tables are kept on the
higher heating value (HHV), as printed. Never warm a cylinder with a flame or a heater to get more out of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, exp, inf, log

import numpy as np
from numpy.typing import ArrayLike

from hearthold.errors import InputError
from hearthold.quantities.glossary import require

_ICE_K = 273.15
_CRITICAL_K = 369.89
_CRITICAL_PA = 4.2512e6
_BOILING_K = 231.036  # at one atmosphere
_LATENT_AT_BOILING_J_PER_KG = 425.6e3
_LIQUID_J_PER_KG_K = 2400.0  # saturated liquid near -10 degC
_STEEL_J_PER_KG_K = 460.0


@dataclass(frozen=True, slots=True)
class CylinderLine:
    """Steady vapour of a cylinder for each kelvin of air above its floor: empty, and for each kilogram."""

    base_w_per_k: float
    wetted_w_per_k_per_kg: float


@dataclass(frozen=True, slots=True)
class CylinderRun:
    """How long one cylinder feeds a steady draw, and what ends it: "empty" or "cold"."""

    duration_s: float
    ends: str


def vapor_pressure_kernel(propane_c: float) -> float:
    """Absolute vapour pressure of pure propane, Pa."""
    kelvin = propane_c + _ICE_K
    x = 1.0 - kelvin / _CRITICAL_K
    series = -6.7722 * x + 1.6938 * x**1.5 - 1.3341 * x**2.2 - 3.1876 * x**4.8 + 0.94937 * x**6.2
    return _CRITICAL_PA * exp(_CRITICAL_K / kelvin * series)


def latent_kernel(propane_c: float) -> float:
    """Heat of vaporisation of propane, J/kg."""
    left = (_CRITICAL_K - propane_c - _ICE_K) / (_CRITICAL_K - _BOILING_K)
    latent: float = _LATENT_AT_BOILING_J_PER_KG * left**0.38
    return latent


def chill_kernel(
    liquid_c: float,
    outdoor_c: float,
    heat_j_per_k: float,
    wetted_w_per_k: float,
    drawn_kg_per_s: float,
    latent_j_per_kg: float,
    duration_s: float,
) -> float:
    """Liquid temperature after a steady draw, exact while the wetted wall is taken as constant, degC.

    The heat capacity falls linearly with the liquid drawn, so the approach to the settling temperature is a
    power of the capacity left, not an exponential; with no draw it is the exponential.
    Needs no more drawn than the liquid there was.
    """
    settles_c = outdoor_c - drawn_kg_per_s * latent_j_per_kg / wetted_w_per_k
    lost_w_per_k = drawn_kg_per_s * _LIQUID_J_PER_KG_K
    if lost_w_per_k * duration_s < 1e-9 * heat_j_per_k:
        return settles_c + (liquid_c - settles_c) * exp(-wetted_w_per_k * duration_s / heat_j_per_k)
    left = 1.0 - lost_w_per_k * duration_s / heat_j_per_k
    share: float = left ** (wetted_w_per_k / lost_w_per_k)
    return settles_c + (liquid_c - settles_c) * share


def vapor_pressure_pa(propane_c: float) -> float:
    """Absolute vapour pressure of pure propane: ln(p/pc) = (Tc/T) sum of five powers of 1 - T/Tc.

    Within 0.02 % of the reference equation from -43 to 60 degC. Commercial propane holds some ethane and runs
    about 5 to 15 psi higher when full, lower when nearly empty.

    Raises: InputError outside the glossary ranges.
    Source: Lemmon, McLinden and Wagner, J. Chem. Eng. Data 54, 2009, ancillary equation (from memory).
    """
    require(propane_c=propane_c)
    return vapor_pressure_kernel(propane_c)


def saturation_c(propane_pa: float) -> float:
    """Temperature at which pure propane has an absolute vapour pressure: the inverse by bisection.

    Give atmosphere + 5 to 10 psi for the coldest liquid that still feeds a regulator.

    Raises: InputError outside the glossary ranges.
    Source: see `vapor_pressure_pa`.
    """
    require(propane_pa=propane_pa)
    low_c, high_c = -75.0, 75.0
    for _ in range(60):
        middle_c = 0.5 * (low_c + high_c)
        if vapor_pressure_kernel(middle_c) < propane_pa:
            low_c = middle_c
        else:
            high_c = middle_c
    return 0.5 * (low_c + high_c)


def latent_heat_j_per_kg(propane_c: float) -> float:
    """Heat of vaporisation: 425.6 kJ/kg x ((Tc - T)/(Tc - Tb))^0.38, within 1.5 % from -43 to 45 degC.

    Raises: InputError outside the glossary ranges.
    Source: Watson, Ind. Eng. Chem. 35, 1943, exponent 0.38; heat at the boiling point from memory.
    """
    require(propane_c=propane_c)
    return latent_kernel(propane_c)


def cylinder_line(
    propane_kg: ArrayLike, outdoor_c: ArrayLike, vapor_w: ArrayLike, liquid_floor_c: float
) -> CylinderLine:
    """Straight-line fit to a printed table of draw by fill and air temperature.

    `propane_kg`, `outdoor_c` and `vapor_w` are sequences of equal length, one entry a printed figure;
    vapour over (T_air - T_floor) is fitted as base + wetted x liquid, least squares.

    Raises: InputError with fewer than two fills, air at or below the floor, or outside the glossary ranges.
    Source: least squares; our own.
    """
    liquid, air = np.asarray(propane_kg, dtype=float), np.asarray(outdoor_c, dtype=float)
    vapor = np.asarray(vapor_w, dtype=float)
    require(propane_kg=liquid, outdoor_c=air, vapor_w=vapor, liquid_floor_c=liquid_floor_c)
    if len(set(liquid.tolist())) < 2 or float(air.min()) <= liquid_floor_c:
        raise InputError(
            "a cylinder line needs two or more fills, all at air temperatures above liquid_floor_c.",
            code="too_few_points",
        )
    wetted, base = np.polyfit(liquid, vapor / (air - liquid_floor_c), 1)
    return CylinderLine(float(base), float(wetted))


def cylinder_vapor_w(
    propane_kg: float,
    outdoor_c: float,
    base_w_per_k: float,
    wetted_w_per_k_per_kg: float,
    liquid_floor_c: float,
) -> float:
    """Steady vapour a 100 lb cylinder gives, as HHV: (base + wetted x liquid) x (T_air - T_floor), 0 below.

    The trade's table of draw by fill and temperature fits base 192.4 W/K and wetted 25.42 W/(K kg) HHV within
    7 % with a floor of -42.6 degC, where the liquid has no pressure left. For an engine's regulator put the
    floor at the liquid's temperature at 5 to 10 psi gauge (-35 to -29 degC); the rest is the same.

    Raises: InputError outside the glossary ranges.
    Source: straight-line fit to the widely reprinted 100 lb table; the change of floor is our own reading.
    """
    require(propane_kg=propane_kg, outdoor_c=outdoor_c, liquid_floor_c=liquid_floor_c)
    require(base_w_per_k=base_w_per_k, wetted_w_per_k_per_kg=wetted_w_per_k_per_kg)
    return (base_w_per_k + wetted_w_per_k_per_kg * propane_kg) * max(0.0, outdoor_c - liquid_floor_c)


def tank_vapor_w(
    tank_outside_m: float,
    tank_length_m: float,
    fill_factor_w_per_m2_k: float,
    outdoor_c: float,
    liquid_floor_c: float = -28.888888888888889,
) -> float:
    """Vapour a horizontal tank gives, as HHV: D L K (T_air - T_floor), with the liquid held to -20 degF.

    In trade units Q[Btu/h] = D[in] L[in] K (T[F] + 20)/20, K from 100 at 60 % to 45 at 10 % fill; one trade K
    is 40.88 W/(m2 K). Valid for bare steel in still air; some trade charts are 1.4 to 2 times more careful.

    Raises: InputError outside the glossary ranges.
    Source: trade appendix with the K table at 0 degF; temperature multiplier (T + 20)/20 from memory.
    """
    require(tank_outside_m=tank_outside_m, tank_length_m=tank_length_m, outdoor_c=outdoor_c)
    require(fill_factor_w_per_m2_k=fill_factor_w_per_m2_k, liquid_floor_c=liquid_floor_c)
    return tank_outside_m * tank_length_m * fill_factor_w_per_m2_k * max(0.0, outdoor_c - liquid_floor_c)


def cylinders_needed(vapor_w: float, cylinder_limit_w: float) -> int:
    """Cylinders to manifold for a demand, both on the same heating value, rounded up, at least one.

    Raises: InputError when a cylinder gives nothing, or outside the glossary ranges.
    Source: arithmetic; all cylinders take the same air and the same fill.
    """
    require(vapor_w=vapor_w, cylinder_limit_w=cylinder_limit_w)
    if cylinder_limit_w <= 0.0:
        raise InputError(
            "cylinder_limit_w is 0 W: at this temperature the cylinder gives no vapour; "
            "plan another fuel or a larger tank, and never heat the cylinder.",
            code="too_cold",
        )
    return max(1, ceil(vapor_w / cylinder_limit_w))


def chilled_c(
    propane_kg: float,
    steel_kg: float,
    wetted_w_per_k: float,
    propane_kg_per_s: float,
    outdoor_c: float,
    duration_s: float,
) -> float:
    """Liquid temperature after a steady draw from a cylinder that starts at air temperature.

    (m c + m_steel c_steel) dT/dt = UA (T_air - T) - w h, m falling; exact for constant UA, c and h.
    UA in truth falls with the level and with frost, so the real liquid is colder late in a run.

    Raises: InputError if more is drawn than there is, or outside the glossary ranges.
    Source: lumped heat balance; our own closed form.
    """
    _require_draw(propane_kg, steel_kg, wetted_w_per_k, propane_kg_per_s, outdoor_c)
    require(duration_s=duration_s)
    if propane_kg_per_s * duration_s > propane_kg * (1.0 + 1e-12):
        raise InputError(
            f"{propane_kg_per_s * duration_s:g} kg drawn of propane_kg {propane_kg:g} kg; shorten the run.",
            code="cylinder_empty",
        )
    heat_j_per_k = propane_kg * _LIQUID_J_PER_KG_K + steel_kg * _STEEL_J_PER_KG_K
    latent = latent_kernel(outdoor_c)
    return chill_kernel(
        outdoor_c, outdoor_c, heat_j_per_k, wetted_w_per_k, propane_kg_per_s, latent, duration_s
    )


def cylinder_run(
    propane_kg: float,
    steel_kg: float,
    wetted_w_per_k: float,
    propane_kg_per_s: float,
    outdoor_c: float,
    liquid_floor_c: float,
) -> CylinderRun:
    """How long a cylinder at air temperature feeds a steady draw: until empty or too cold, whichever first.

    From the exact solution, t = C0/(w c) (1 - r^(w c/UA)) with r how far the floor lies from the settling
    temperature. Heat of vaporisation is taken at the floor, where it is highest: slightly too short a time.

    Raises: InputError outside the glossary ranges.
    Source: lumped heat balance; our own closed form.
    """
    _require_draw(propane_kg, steel_kg, wetted_w_per_k, propane_kg_per_s, outdoor_c)
    require(liquid_floor_c=liquid_floor_c)
    if outdoor_c <= liquid_floor_c:
        return CylinderRun(0.0, "cold")
    empty_s = propane_kg / propane_kg_per_s if propane_kg_per_s > 0.0 else inf
    latent = latent_kernel(liquid_floor_c)
    fall_k = propane_kg_per_s * latent / wetted_w_per_k
    if fall_k <= outdoor_c - liquid_floor_c:
        return CylinderRun(empty_s, "empty")
    lost_w_per_k = propane_kg_per_s * _LIQUID_J_PER_KG_K
    heat_j_per_k = propane_kg * _LIQUID_J_PER_KG_K + steel_kg * _STEEL_J_PER_KG_K
    to_go = 1.0 - (outdoor_c - liquid_floor_c) / fall_k
    cold_s = heat_j_per_k / lost_w_per_k * (1.0 - exp(log(to_go) * lost_w_per_k / wetted_w_per_k))
    return CylinderRun(cold_s, "cold") if cold_s < empty_s else CylinderRun(empty_s, "empty")


def _require_draw(
    propane_kg: float, steel_kg: float, wetted_w_per_k: float, propane_kg_per_s: float, outdoor_c: float
) -> None:
    require(propane_kg=propane_kg, steel_kg=steel_kg, wetted_w_per_k=wetted_w_per_k)
    require(propane_kg_per_s=propane_kg_per_s, outdoor_c=outdoor_c)
