"""Warmth of a house: air and mass as two stores, how long they keep, what brings them back, what it burns.

The steady loss of the two stores together is exactly UA (T_in - T_out), because UA is what people know (from
fuel bills and degree days). The way to that loss, air first and masonry hours later, is the two-store part.
All house figures are judgement until a cold night has been logged: the class of heat capacity and the share
of the loss that acts on the air at once move a hold by tens of per cent.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.errors import InputError
from hearthold.physics.twonode import (
    onenode_crossing_kernel,
    onenode_rate_kernel,
    twonode_crossing_kernel,
    twonode_modes_kernel,
    twonode_path_c,
    twonode_rates_kernel,
)
from hearthold.quantities.glossary import require

# Share of the heat capacity that follows the air within the hour: furniture, linings, the heating's water.
# ISO 52016-1:2017 gives 10 kJ/(m2 K) for air and furniture alone (from memory), with which a house would fall
# 20 K in the first hour of a frost; a boiler rests 10 to 20 minutes in a 1 K band at design weather (common
# practice, no source), which calls for about half of the capacity.
FAST_FRAC = 0.5
AIR_TO_SURFACE_W_PER_K_M2 = 3.45 * 4.5  # per floor area: ISO 13790:2008, 7.2.2.2 (from memory)
SURFACE_TO_MASS_W_PER_K_M2 = 9.1 * 2.5  # same, light to medium classes, 12.2.2 (from memory)
NEVER_S = 1e9
# Beyond this share of the coupling the mass would stand outside its own insulation and cool too fast.
LARGEST_BEHIND_FRAC = 0.5


@dataclass(frozen=True, slots=True)
class HouseNodes:
    """A house as two stores of heat; `house_nodes` builds and checks it."""

    air_j_per_k: float
    mass_j_per_k: float
    air_ua_w_per_k: float
    mass_ua_w_per_k: float
    air_mass_w_per_k: float


def house_nodes(
    ua_w_per_k: float,
    heated_area_m2: float,
    heat_class_j_per_k_m2: float,
    air_share_frac: float,
    fast_frac: float = FAST_FRAC,
) -> HouseNodes:
    """Two stores for a house of known loss, floor area and class of heat capacity.

    air_share_frac is the part of the loss that acts on the air at once (leakage and windows), fast_frac the
    part of the capacity that follows the air. The coupling of
    air and mass is the series of surface and mass coefficients per floor area; the mass loss is set so that
    the steady total is ua_w_per_k.

    Raises: InputError outside the glossary, or if the mass would lose more than the coupling can pass.
    Source: ISO 13790:2008 coefficients and classes (80, 110, 165, 260, 370 kJ/(K m2)), from memory, folded
    from five resistances to three; fast_frac is a judgement.
    """
    require(ua_w_per_k=ua_w_per_k, heated_area_m2=heated_area_m2)
    require(heat_class_j_per_k_m2=heat_class_j_per_k_m2, air_share_frac=air_share_frac, fast_frac=fast_frac)
    between = heated_area_m2 / (1.0 / AIR_TO_SURFACE_W_PER_K_M2 + 1.0 / SURFACE_TO_MASS_W_PER_K_M2)
    behind = (1.0 - air_share_frac) * ua_w_per_k
    if behind > LARGEST_BEHIND_FRAC * between:
        raise InputError(
            f"ua_w_per_k {ua_w_per_k:g} W/K is too much for {heated_area_m2:g} m2 of floor with "
            f"air_share_frac {air_share_frac:g}; check the floor area and the unit of the loss.",
            code="out_of_range",
        )
    return HouseNodes(
        air_j_per_k=fast_frac * heat_class_j_per_k_m2 * heated_area_m2,
        mass_j_per_k=(1.0 - fast_frac) * heat_class_j_per_k_m2 * heated_area_m2,
        air_ua_w_per_k=air_share_frac * ua_w_per_k,
        mass_ua_w_per_k=behind * between / (between - behind),
        air_mass_w_per_k=between,
    )


def house_time_constants_s(nodes: HouseNodes) -> tuple[float, float]:
    """Time constants of the air and of the whole house, short and long.

    Takes `nodes` as built by `house_nodes`; raises nothing.

    Source: eigenvalues of the two linear balances.
    """
    fast, slow, *_ = _modes(nodes)
    return 1.0 / fast, 1.0 / slow


def steady_mass_c(nodes: HouseNodes, air_c: float, outdoor_c: float) -> float:
    """Temperature of the mass of `nodes` when the air has been held for days: the usual start of an outage.

    T_mass = (G T_air + U T_out)/(G + U).

    Raises: InputError outside the glossary.
    Source: steady balance of the mass.
    """
    require(air_c=air_c, outdoor_c=outdoor_c)
    loss, between = nodes.mass_ua_w_per_k, nodes.air_mass_w_per_k
    return (between * air_c + loss * outdoor_c) / (between + loss)


def house_path_c(
    nodes: HouseNodes, air_c: float, mass_c: float, outdoor_c: float, gains_w: float, elapsed_s: ArrayLike
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Air and mass temperature of `nodes` at the times `elapsed_s` (any shape); constant weather and gains.

    Raises: InputError outside the glossary.
    Source: exact two-store solution, `twonode`.
    """
    require(air_c=air_c, mass_c=mass_c, outdoor_c=outdoor_c, gains_w=gains_w)
    return twonode_path_c(
        nodes.air_j_per_k, nodes.mass_j_per_k, nodes.air_ua_w_per_k, nodes.mass_ua_w_per_k,
        nodes.air_mass_w_per_k, air_c, mass_c, outdoor_c, outdoor_c, gains_w, 0.0, elapsed_s,
    )  # fmt: skip


def house_hold_s(
    nodes: HouseNodes, air_c: float, mass_c: float, outdoor_c: float, gains_w: float, limit_c: float
) -> float:
    """Time until the air of an unheated house (`nodes`) falls to the limit.

    gains_w are people, pets, sun and lamps. 0 at or below the limit, `math.inf` if never so far. Air can
    dip under the limit and recover when the mass is warm; the first passage counts.

    Raises: InputError outside the glossary.
    Source: exact two-store solution, `twonode`.
    """
    require(air_c=air_c, mass_c=mass_c, outdoor_c=outdoor_c, gains_w=gains_w, limit_c=limit_c)
    if air_c <= limit_c:
        return 0.0
    return first_passage_s(nodes, air_c, mass_c, outdoor_c, gains_w, limit_c)


def warm_up_s(
    nodes: HouseNodes, air_c: float, mass_c: float, outdoor_c: float, heat_w: float, target_c: float
) -> float:
    """Time until a heat source brings the air of `nodes` to the target; `math.inf` if it is too weak.

    heat_w is all heat into the air, gains included. The mass is still cold then and draws the air down again:
    expect to go on heating.

    Raises: InputError outside the glossary.
    Source: exact two-store solution, `twonode`.
    """
    require(air_c=air_c, mass_c=mass_c, outdoor_c=outdoor_c, heat_w=heat_w, target_c=target_c)
    if air_c >= target_c:
        return 0.0
    return first_passage_s(nodes, air_c, mass_c, outdoor_c, heat_w, target_c)


def first_passage_s(
    nodes: HouseNodes, air_c: float, mass_c: float, outdoor_c: float, gains_w: float, limit_c: float
) -> float:
    """First time after now at which the air of `nodes` passes the limit, either way; `math.inf` if never.

    Raises: InputError outside the glossary.
    Source: exact two-store solution, `twonode`.
    """
    require(air_c=air_c, mass_c=mass_c, outdoor_c=outdoor_c, gains_w=gains_w, limit_c=limit_c)
    f1, f2 = twonode_rates_kernel(
        nodes.air_j_per_k, nodes.mass_j_per_k, nodes.air_ua_w_per_k, nodes.mass_ua_w_per_k,
        nodes.air_mass_w_per_k, air_c, mass_c, outdoor_c, outdoor_c, gains_w, 0.0,
    )  # fmt: skip
    at = twonode_crossing_kernel(_modes(nodes), air_c, f1, f2, limit_c, NEVER_S)
    return at if at > 0.0 else inf


def cool_down_s(
    ua_w_per_k: float, c_j_per_k: float, start_c: float, outdoor_c: float, gains_w: float, limit_c: float
) -> float:
    """Time for a house as one store to cool to the limit.

    t = C/UA ln((T0 - T_eq)/(T1 - T_eq)), T_eq = T_out + gains/UA; 0 at or below the limit, `math.inf`
    if it settles above.

    Raises: InputError outside the glossary.
    Source: one-node heat balance; time constant C/UA as in ISO 13790:2008, 12.2.1.3 (from memory).
    """
    require(ua_w_per_k=ua_w_per_k, c_j_per_k=c_j_per_k, start_c=start_c, outdoor_c=outdoor_c)
    require(gains_w=gains_w, limit_c=limit_c)
    if start_c <= limit_c:
        return 0.0
    k, f = onenode_rate_kernel(c_j_per_k, ua_w_per_k, start_c, outdoor_c, gains_w)
    at = onenode_crossing_kernel(k, start_c, f, limit_c, NEVER_S)
    return at if at > 0.0 else inf


def steady_load_w(ua_w_per_k: float, indoor_c: float, outdoor_c: float, gains_w: float = 0.0) -> float:
    """Heat needed to hold a temperature: UA (T_in - T_out) - gains, at least 0.

    Raises: InputError outside the glossary.
    Source: steady heat balance.
    """
    require(ua_w_per_k=ua_w_per_k, indoor_c=indoor_c, outdoor_c=outdoor_c, gains_w=gains_w)
    return max(0.0, ua_w_per_k * (indoor_c - outdoor_c) - gains_w)


def _modes(nodes: HouseNodes) -> tuple[float, float, float, float, float, float]:
    return twonode_modes_kernel(
        nodes.air_j_per_k,
        nodes.mass_j_per_k,
        nodes.air_ua_w_per_k,
        nodes.mass_ua_w_per_k,
        nodes.air_mass_w_per_k,
    )
