"""Food as it freezes and thaws: enthalpy, ice, heat capacity, and temperature as straight segments of it.

Water in food freezes over a range, not at one temperature. Chen's relation gives the enthalpy from the
composition and the temperature at which ice begins to form; it is zero at -40 degC. Below freezing

    H(t) = (t + 40) (a - k/t),   a = 1.55 + 1.26 x_s,   k = (x_w - x_b) L0 t_f / (-40)     [kJ/kg]

with solids x_s = 1 - x_w and bound water x_b = 0.4 x_p; above freezing it is a straight line.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from hearthold.errors import InputError
from hearthold.physics.values import Values
from hearthold.quantities.glossary import require

REFERENCE_C = -40.0  # enthalpy is zero here (ASHRAE's convention)
FUSION_J_PER_KG = 333.6e3  # latent heat of water at 0 degC, as ASHRAE uses it
CURVE_TOP_C = 30.0  # last knot; the line above freezing goes on straight beyond it
FEWEST_SEGMENTS = 3
MOST_SEGMENTS = 60

Constants = tuple[float, float, float, float]


def chen_constants_kernel(water_frac: float, protein_frac: float, freezing_c: float) -> Constants:
    """(a, k, c_unfrozen, H_freezing) of Chen's relation in J/(kg K), J/kg, J/(kg K), J/kg."""
    solids = 1.0 - water_frac
    a = 1550.0 + 1260.0 * solids
    k = (water_frac - 0.4 * protein_frac) * FUSION_J_PER_KG * freezing_c / REFERENCE_C
    unfrozen = 4190.0 - 2300.0 * solids - 628.0 * solids**3
    return a, k, unfrozen, (freezing_c - REFERENCE_C) * (a - k / freezing_c)


def chen_enthalpy_kernel(food_c: float, freezing_c: float, constants: Constants) -> float:
    """Enthalpy at a temperature."""
    a, k, unfrozen, at_freezing = constants
    if food_c >= freezing_c:
        return at_freezing + (food_c - freezing_c) * unfrozen
    return (food_c - REFERENCE_C) * (a - k / food_c)


def chen_temp_kernel(enthalpy_j_per_kg: float, freezing_c: float, constants: Constants) -> float:
    """Temperature at an enthalpy: the negative root of a t^2 - (k + a t_r + H) t + k t_r = 0."""
    a, k, unfrozen, at_freezing = constants
    if enthalpy_j_per_kg >= at_freezing:
        return freezing_c + (enthalpy_j_per_kg - at_freezing) / unfrozen
    b = k + a * REFERENCE_C + enthalpy_j_per_kg
    root = sqrt(b * b - 4.0 * a * k * REFERENCE_C)
    # Two forms of one root: the one whose terms have the same sign keeps its digits.
    return (b - root) / (2.0 * a) if b < 0.0 else 2.0 * k * REFERENCE_C / (b + root)


def food_enthalpy_j_per_kg(
    food_c: Values, food_water_frac: float, food_protein_frac: float, freezing_c: float
) -> Values:
    """Enthalpy of food above -40 degC. `food_c` may be an array; the result has its shape.

    Chen's relation, see the head of this module. Valid from -40 to 60 degC for foods that do not dry out.

    Raises: InputError outside the glossary, or if bound water would exceed all water.
    Source: Chen (1985), as in ASHRAE Handbook Refrigeration, Thermal Properties of Foods, eqs. for enthalpy
    (from memory); found the best of ten methods for enthalpy by Fricke & Becker, HVAC&R Research 7(4), 2001.
    """
    constants = _constants(food_water_frac, food_protein_frac, freezing_c)
    require(food_c=food_c)
    return _each(food_c, lambda t: chen_enthalpy_kernel(t, freezing_c, constants))


def food_temp_c(
    enthalpy_j_per_kg: Values, food_water_frac: float, food_protein_frac: float, freezing_c: float
) -> Values:
    """Temperature of food from its enthalpy above -40 degC: the exact inverse, same shapes and validity.

    Raises: InputError outside the glossary, or if bound water would exceed all water.
    Source: quadratic inverse of Chen (1985), own algebra.
    """
    constants = _constants(food_water_frac, food_protein_frac, freezing_c)
    require(enthalpy_j_per_kg=enthalpy_j_per_kg)
    return _each(enthalpy_j_per_kg, lambda h: chen_temp_kernel(h, freezing_c, constants))


def ice_frac(food_c: Values, food_water_frac: float, food_protein_frac: float, freezing_c: float) -> Values:
    """Mass of ice per mass of food: (x_w - x_b)(1 - t_f/t) below freezing, 0 above.

    Raises: InputError outside the glossary, or if bound water would exceed all water.
    Source: Miles (1974), the form behind Chen's relation, ASHRAE Handbook Refrigeration, Thermal
    Properties of Foods (from memory).
    """
    _constants(food_water_frac, food_protein_frac, freezing_c)
    require(food_c=food_c)
    free = food_water_frac - 0.4 * food_protein_frac
    return _each(food_c, lambda t: free * (1.0 - freezing_c / t) if t < freezing_c else 0.0)


def food_heat_j_per_kg_k(
    food_c: Values, food_water_frac: float, food_protein_frac: float, freezing_c: float
) -> Values:
    """Apparent specific heat dH/dt, melting included: a + 40 k/t^2 below freezing, constant above.

    Raises: InputError outside the glossary, or if bound water would exceed all water.
    Source: derivative of Chen (1985); above freezing c = 4.19 - 2.30 x_s - 0.628 x_s^3 kJ/(kg K), ASHRAE
    Handbook Refrigeration, Thermal Properties of Foods (from memory).
    """
    a, k, unfrozen, _ = _constants(food_water_frac, food_protein_frac, freezing_c)
    require(food_c=food_c)
    return _each(food_c, lambda t: a - k * REFERENCE_C / t**2 if t < freezing_c else unfrozen)


def latent_j_per_kg(food_water_frac: float) -> float:
    """Latent heat if all the water froze: 333.6 kJ/kg times the water fraction.

    Raises: InputError outside the glossary.
    Source: ASHRAE Handbook Refrigeration, Thermal Properties of Foods (from memory).
    """
    require(food_water_frac=food_water_frac)
    return FUSION_J_PER_KG * food_water_frac


@dataclass(frozen=True, slots=True, eq=False)
class EnthalpyCurve:
    """Temperature on enthalpy as straight segments, exact at the knots.

    knots_c, knots_j_per_kg : (n + 1,) rising; heat_j_per_kg_k : (n,) slope of each segment; error_k : the
    most by which the segments read too cold between knots (they are never too warm).
    """

    knots_c: NDArray[np.float64]
    knots_j_per_kg: NDArray[np.float64]
    heat_j_per_kg_k: NDArray[np.float64]
    error_k: float


def enthalpy_segments(
    food_water_frac: float, food_protein_frac: float, freezing_c: float, count: int = 8
) -> EnthalpyCurve:
    """Straight segments of temperature on enthalpy from -40 to 30 degC, `count` in all (the last is exact).

    Inside a segment a store of food has a constant heat capacity, so its motion is a plain exponential.
    Knots are spread so that the error is about the same in each segment; it falls with the square of the
    count (a mixed freezer load: 0.23 K with 8 segments).

    Raises: InputError outside the glossary or for a count outside 3..60.
    Source: equal distribution of the chord error (de Boor, A Practical Guide to Splines, 1978, ch. 12,
    from memory) applied to Chen (1985).
    """
    a, k, unfrozen, _ = constants = _constants(food_water_frac, food_protein_frac, freezing_c)
    if not FEWEST_SEGMENTS <= count <= MOST_SEGMENTS:
        raise InputError(f"count is {count}; allowed 3 to 60 segments.", code="out_of_range")
    frozen = _even_knots_c(a, k, freezing_c, count - 1)
    knots = np.append(frozen, CURVE_TOP_C)
    heights = np.array([chen_enthalpy_kernel(t, freezing_c, constants) for t in knots.tolist()])
    slopes = np.diff(heights) / np.diff(knots)
    slopes[-1] = unfrozen
    return EnthalpyCurve(knots, heights, slopes, float(np.max(_chord_errors_k(knots, heights, slopes, a, k))))


def _even_knots_c(a: float, k: float, freezing_c: float, count: int) -> NDArray[np.float64]:
    """Knots from -40 degC to freezing with equal shares of the integral of sqrt(-T''(H)) over H."""
    t = np.linspace(REFERENCE_C, freezing_c, 4001)
    weight = np.sqrt(2.0 * k * REFERENCE_C / t**3 / (a - k * REFERENCE_C / t**2))
    share = np.concatenate([[0.0], np.cumsum((weight[1:] + weight[:-1]) / 2.0 * np.diff(t))])
    knots = np.interp(np.linspace(0.0, share[-1], count + 1), share, t)
    knots[0], knots[-1] = REFERENCE_C, freezing_c
    return knots


def _chord_errors_k(
    knots: NDArray[np.float64], heights: NDArray[np.float64], slopes: NDArray[np.float64], a: float, k: float
) -> NDArray[np.float64]:
    """Largest error of each frozen chord: where the curve runs parallel to it, a - k t_r / t^2 = slope."""
    t = -np.sqrt(-k * REFERENCE_C / (slopes[:-1] - a))
    h = (t - REFERENCE_C) * (a - k / t)
    errors: NDArray[np.float64] = t - (knots[:-2] + (h - heights[:-2]) / slopes[:-1])
    return errors


def _constants(food_water_frac: float, food_protein_frac: float, freezing_c: float) -> Constants:
    require(food_water_frac=food_water_frac, food_protein_frac=food_protein_frac, freezing_c=freezing_c)
    if food_water_frac + food_protein_frac > 1.0:
        raise InputError(
            f"food_water_frac {food_water_frac:g} and food_protein_frac {food_protein_frac:g} exceed the "
            "whole; give shares of the total mass.",
            code="out_of_range",
        )
    if food_water_frac - 0.4 * food_protein_frac <= 0.0:
        raise InputError(
            f"food_water_frac {food_water_frac:g} leaves no free water to freeze; needs more than 0.4 times "
            f"food_protein_frac ({food_protein_frac:g}).",
            code="out_of_range",
        )
    return chen_constants_kernel(food_water_frac, food_protein_frac, freezing_c)


def _each(values: Values, kernel: Callable[[float], float]) -> Values:
    """One kernel over a number or an array, same shape out."""
    if isinstance(values, np.ndarray):
        return np.array([kernel(v) for v in values.ravel().tolist()], dtype=float).reshape(values.shape)
    return kernel(float(values))
