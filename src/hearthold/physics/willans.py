"""Generator fuel as a straight line: no-load fuel plus a slope times the electrical output.

Everything is fuel *power* on the lower heating value (LHV), so that one line serves gasoline and propane and
the efficiency can be read off; the heating value turns it into kilograms or litres. A maker's run time is a
claim: `claim` says what it implies, `judge` how far to believe it, `planning_line` what to plan on instead.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import inf
from typing import TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.errors import InputError
from hearthold.quantities.glossary import require

Real = TypeVar("Real", float, NDArray[np.float64])


@dataclass(frozen=True, slots=True)
class WillansLine:
    """Fuel power at no load (W, LHV) and extra fuel power for each watt of load (W/W)."""

    no_load_fuel_w: float
    slope_w_per_w: float

    def __post_init__(self) -> None:
        require(no_load_fuel_w=self.no_load_fuel_w, slope_w_per_w=self.slope_w_per_w)


@dataclass(frozen=True, slots=True)
class Claim:
    """What a printed run time implies: consumption, fuel power (LHV) and efficiency at that load."""

    output_w: float
    use_m3_per_s: float
    fuel_w: float
    efficiency_frac: float


class Plausibility(StrEnum):
    """How far an efficiency can be believed, from the bounds that were given."""

    BEYOND = "beyond plausible"
    EDGE = "at the edge"
    TYPICAL = "typical"
    POOR = "poor"


def fuel_kernel(no_load_fuel_w: float, slope_w_per_w: float, output_w: float) -> float:
    """Fuel power of a running set, W (LHV)."""
    return no_load_fuel_w + slope_w_per_w * output_w


def fuel_power_w(line: WillansLine, output_w: Real) -> Real:
    """Fuel power of a running set at a load (scalar or array): F = F0 + s P, on the LHV.

    `line` is a WillansLine. Valid from no load to rated load at steady speed; a start costs extra.

    Raises: InputError outside the glossary ranges.
    Source: Willans line, the steam engineer P. W. Willans, 1888; usual for engines since (from memory).
    """
    require(output_w=output_w)
    return line.no_load_fuel_w + line.slope_w_per_w * output_w


def fuel_m3_per_s(line: WillansLine, output_w: Real, lhv_j_per_m3: float) -> Real:
    """Volume of fuel burned a second at a load (scalar or array). `line` is a WillansLine.

    Raises: InputError outside the glossary ranges.
    Source: energy balance, fuel power over heating value.
    """
    require(lhv_j_per_m3=lhv_j_per_m3)
    return fuel_power_w(line, output_w) / lhv_j_per_m3


def fuel_kg_per_s(line: WillansLine, output_w: Real, lhv_j_per_kg: float) -> Real:
    """Mass of fuel burned a second at a load (scalar or array). `line` is a WillansLine.

    Raises: InputError outside the glossary ranges.
    Source: energy balance, fuel power over heating value.
    """
    require(lhv_j_per_kg=lhv_j_per_kg)
    return fuel_power_w(line, output_w) / lhv_j_per_kg


def line_efficiency_frac(line: WillansLine, output_w: Real) -> Real:
    """Electrical output over fuel (LHV) at a load (scalar or array), 0 at no load. `line` is a WillansLine.

    Raises: InputError if the line burns nothing, or outside the glossary ranges.
    Source: definition.
    """
    if line.no_load_fuel_w + line.slope_w_per_w <= 0.0:
        raise InputError(
            "the fuel line burns nothing; give a no-load fuel or a slope above 0.", code="no_fuel"
        )
    require(output_w=output_w)
    tiny_w = 1e-12  # keeps 0/0 away from a line through the origin at no load
    return output_w / (fuel_power_w(line, output_w) + tiny_w)


def no_load_share_frac(line: WillansLine, rated_power_w: float) -> float:
    """Fuel at no load over fuel at rated load. `line` is a WillansLine.

    Raises: InputError if the line burns nothing, or outside the glossary ranges.
    Source: definition.
    """
    require(rated_power_w=rated_power_w)
    full_w = fuel_power_w(line, rated_power_w)
    if full_w <= 0.0:
        raise InputError(
            "the fuel line burns nothing; give a no-load fuel or a slope above 0.", code="no_fuel"
        )
    return line.no_load_fuel_w / full_w


def line_from_points(output_w: ArrayLike, fuel_w: ArrayLike) -> WillansLine:
    """Line through two or more (load, fuel power) points, least squares with neither number below zero.

    `output_w` and `fuel_w` are sequences of equal length. Where plain least squares would go negative, the
    best line with that number at zero is taken (the exact solution of the two-variable problem).

    Raises: InputError with fewer than two different loads, unequal lengths, or outside the glossary ranges.
    Source: Lawson and Hanson, Solving Least Squares Problems, 1974, ch. 23 (two variables in closed form).
    """
    loads, fuels = np.asarray(output_w, dtype=float), np.asarray(fuel_w, dtype=float)
    if loads.ndim != 1 or loads.shape != fuels.shape or len(set(loads.tolist())) < 2:
        raise InputError(
            "a fuel line needs two or more different loads, each with its fuel; "
            "with one printed point use the typical no-load share instead.",
            code="too_few_points",
        )
    require(output_w=loads, fuel_w=fuels)
    slope = float(
        ((loads - loads.mean()) * (fuels - fuels.mean())).sum() / ((loads - loads.mean()) ** 2).sum()
    )
    no_load = float(fuels.mean() - slope * loads.mean())
    if no_load >= 0.0 and slope >= 0.0:
        return WillansLine(no_load, slope)
    flat = WillansLine(float(fuels.mean()), 0.0)
    through_origin = WillansLine(0.0, float((loads * fuels).sum() / (loads**2).sum()))
    return min((flat, through_origin), key=lambda line: _misfit(line, loads, fuels))


def line_from_point(output_w: float, fuel_w: float, rated_power_w: float, no_load_frac: float) -> WillansLine:
    """Line through one printed point, with a typical no-load share of the full-load fuel.

    F_full = F / (a + (1 - a) P/P_rated); then F0 = a F_full and s = (1 - a) F_full / P_rated.
    The share is a judgement (0.25 to 0.45 for small fixed-speed sets) and sets the light-load fuel.

    Raises: InputError outside the glossary ranges.
    Source: Willans line; the share is an argument.
    """
    require(output_w=output_w, fuel_w=fuel_w, rated_power_w=rated_power_w, no_load_frac=no_load_frac)
    share = no_load_frac + (1.0 - no_load_frac) * output_w / rated_power_w
    if share <= 0.0:
        raise InputError(
            "one point at no load with no_load_frac 0 says nothing; give a loaded point.", code="no_fuel"
        )
    full_w = fuel_w / share
    return WillansLine(no_load_frac * full_w, (1.0 - no_load_frac) * full_w / rated_power_w)


def line_from_efficiency(rated_power_w: float, full_load_frac: float, no_load_frac: float) -> WillansLine:
    """Line from the efficiency at rated load and the no-load share, for a set with nothing printed.

    Raises: InputError outside the glossary ranges.
    Source: Willans line; both numbers are arguments.
    """
    require(rated_power_w=rated_power_w, full_load_frac=full_load_frac, no_load_frac=no_load_frac)
    return line_from_point(rated_power_w, rated_power_w / full_load_frac, rated_power_w, no_load_frac)


def claim(fuel_m3: float, claimed_run_s: float, output_w: float, lhv_j_per_m3: float) -> Claim:
    """What a printed tank run time implies at its load: consumption, fuel power and efficiency (LHV).

    Take `fuel_m3` as the whole tank; makers seldom say whether the last litre counts.

    Raises: InputError if the tank is empty, or outside the glossary ranges.
    Source: energy balance.
    """
    require(fuel_m3=fuel_m3, claimed_run_s=claimed_run_s, output_w=output_w, lhv_j_per_m3=lhv_j_per_m3)
    if fuel_m3 == 0.0:
        raise InputError("fuel_m3 is 0; give the tank that the printed run time is for.", code="no_fuel")
    use_m3_per_s = fuel_m3 / claimed_run_s
    burned_w = use_m3_per_s * lhv_j_per_m3
    return Claim(output_w, use_m3_per_s, burned_w, output_w / burned_w)


def judge(
    efficiency_frac: float, poor_below_frac: float, edge_from_frac: float, beyond_above_frac: float
) -> Plausibility:
    """Class of an efficiency among bounds for that kind of machine at that share of its load.

    Raises: InputError if the bounds are not in rising order, or outside the glossary ranges.
    Source: the bounds are arguments; see the reference tables for their standing.
    """
    require(efficiency_frac=efficiency_frac, poor_below_frac=poor_below_frac)
    require(edge_from_frac=edge_from_frac, beyond_above_frac=beyond_above_frac)
    if not poor_below_frac <= edge_from_frac <= beyond_above_frac:
        raise InputError(
            "the bounds must rise: poor_below_frac, edge_from_frac, beyond_above_frac; got "
            f"{poor_below_frac:g}, {edge_from_frac:g}, {beyond_above_frac:g}.",
            code="bounds",
        )
    if efficiency_frac > beyond_above_frac:
        return Plausibility.BEYOND
    if efficiency_frac >= edge_from_frac:
        return Plausibility.EDGE
    return Plausibility.TYPICAL if efficiency_frac >= poor_below_frac else Plausibility.POOR


def planning_line(
    line: WillansLine,
    rated_power_w: float,
    half_plausible_frac: float,
    full_plausible_frac: float,
    least_no_load_frac: float = 0.0,
) -> WillansLine:
    """Line to plan on: never less fuel than `line` says, and never better than the plausible bounds.

    First the no-load share is raised to `least_no_load_frac`, turning the line about its rated point; then
    the whole line is raised until half and rated load are within their bounds. Efficiency rises with load,
    so nothing below half load beats the half-load bound either.

    Raises: InputError outside the glossary ranges.
    Source: our own careful rule; the bounds are arguments.
    """
    require(half_plausible_frac=half_plausible_frac, full_plausible_frac=full_plausible_frac)
    require(least_no_load_frac=least_no_load_frac)
    share = max(no_load_share_frac(line, rated_power_w), least_no_load_frac)
    full_w = fuel_power_w(line, rated_power_w)
    turned = WillansLine(share * full_w, (1.0 - share) * full_w / rated_power_w)
    excess = max(
        1.0,
        line_efficiency_frac(turned, rated_power_w / 2.0) / half_plausible_frac,
        line_efficiency_frac(turned, rated_power_w) / full_plausible_frac,
    )
    return WillansLine(turned.no_load_fuel_w * excess, turned.slope_w_per_w * excess)


def run_s(line: WillansLine, output_w: float, fuel_m3: float, lhv_j_per_m3: float) -> float:
    """Time a tank lasts at a steady load; infinite if nothing is burned. `line` is a WillansLine.

    Raises: InputError outside the glossary ranges.
    Source: energy balance.
    """
    require(fuel_m3=fuel_m3)
    burned = fuel_m3_per_s(line, output_w, lhv_j_per_m3)
    return fuel_m3 / burned if burned > 0.0 else inf


def spell_fuel_m3(line: WillansLine, output_w: float, duration_s: float, lhv_j_per_m3: float) -> float:
    """Fuel for a spell of running; `output_w` is the mean load, which is exact on a straight line.

    `line` is a WillansLine.

    Raises: InputError outside the glossary ranges.
    Source: energy balance.
    """
    require(duration_s=duration_s)
    return fuel_m3_per_s(line, output_w, lhv_j_per_m3) * duration_s


def yield_j_per_m3(line: WillansLine, output_w: float, lhv_j_per_m3: float) -> float:
    """Electrical energy from each cubic metre of fuel at a load (3.6e9 J/m3 is 1 kWh a litre).

    `line` is a WillansLine.

    Raises: InputError outside the glossary ranges.
    Source: definition, efficiency times heating value.
    """
    require(lhv_j_per_m3=lhv_j_per_m3)
    return line_efficiency_frac(line, output_w) * lhv_j_per_m3


def _misfit(line: WillansLine, loads: NDArray[np.float64], fuels: NDArray[np.float64]) -> float:
    return float(((fuel_power_w(line, loads) - fuels) ** 2).sum())
