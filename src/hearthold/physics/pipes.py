"""Water pipes when the house cools: the coldest pipe between indoors and outdoors, and the clock to freezing.

The pipe is taken to sit at a fixed share between outdoor and indoor temperature: about 0.9 in a basement, 0.7
under a sink, 0.3 to 0.5 in an outer wall (judgement). Three hours below 0 degC count as a risk (judgement):
water supercools and a thin pipe takes time to form ice, see `pipe_freeze_s`. Wind through a gap at the pipe
undoes all of it.
"""

from __future__ import annotations

from math import inf, log, pi

from hearthold.errors import InputError
from hearthold.physics.food import FUSION_J_PER_KG
from hearthold.physics.heat import HouseNodes, first_passage_s, house_path_c
from hearthold.quantities.glossary import require

FREEZE_CLOCK_S = 3 * 3600.0  # below 0 degC for this long counts as a risk (judgement)
WATER_J_PER_M3_K = 4.2e6  # near 5 degC (handbook value, from memory)
WATER_KG_PER_M3 = 1000.0


def pipe_c(outdoor_c: float, indoor_c: float, indoor_share_frac: float) -> float:
    """Temperature of a still pipe: T_out + r (T_in - T_out).

    Raises: InputError outside the glossary.
    Source: common practice, no source (a fixed temperature index, as used for thermal bridges in ISO 10211).
    """
    require(outdoor_c=outdoor_c, indoor_c=indoor_c, indoor_share_frac=indoor_share_frac)
    return outdoor_c + indoor_share_frac * (indoor_c - outdoor_c)


def freezing_share_frac(outdoor_c: float, indoor_c: float) -> float:
    """Share of the way from outdoors to indoors at which a pipe stands at 0 degC: T_out/(T_out - T_in); 0 in mild air.

    Raises: InputError outside the glossary.
    Source: `pipe_c` solved for the share.
    """
    require(outdoor_c=outdoor_c, indoor_c=indoor_c)
    if outdoor_c >= 0.0:
        return 0.0
    return outdoor_c / (outdoor_c - indoor_c) if indoor_c > 0.0 else 1.0


def freezing_indoor_c(outdoor_c: float, indoor_share_frac: float) -> float:
    """Indoor temperature at which the pipe stands at 0 degC: T_out (1 - 1/r).

    Raises: InputError outside the glossary.
    Source: `pipe_c` solved for the indoor temperature.
    """
    require(outdoor_c=outdoor_c, indoor_share_frac=indoor_share_frac)
    return outdoor_c * (1.0 - 1.0 / indoor_share_frac)


def freeze_risk_s(
    nodes: HouseNodes,
    air_c: float,
    mass_c: float,
    outdoor_c: float,
    gains_w: float,
    indoor_share_frac: float,
    below_s: float = 0.0,
    clock_s: float = FREEZE_CLOCK_S,
) -> float:
    """Time until a pipe of a cooling house (`nodes`) has been below 0 degC for clock_s; `math.inf` if never.

    below_s is how long it has been below already. If the air recovers before the clock is out, it starts
    again at the next dip. Outdoor temperature and gains are constant.

    Raises: InputError outside the glossary.
    Source: exact two-store house; the three hours are judgement. Drain the pipes well before.
    """
    require(below_s=below_s, clock_s=clock_s)
    level = freezing_indoor_c(outdoor_c, indoor_share_frac)
    now = 0.0
    for _ in range(4):  # two exponentials pass a level at most twice
        turn = first_passage_s(nodes, air_c, mass_c, outdoor_c, gains_w, level)
        if _is_below(nodes, air_c, mass_c, outdoor_c, gains_w, level):
            left = max(0.0, clock_s - below_s)
            if turn >= left:
                return now + left
        if turn == inf:
            return inf
        path = house_path_c(nodes, air_c, mass_c, outdoor_c, gains_w, turn)
        now, air_c, mass_c, below_s = now + turn, level, float(path[1]), 0.0
    return inf


def pipe_cool_s(
    pipe_inside_m: float,
    pipe_outside_m: float,
    insulation_m: float,
    insulation_w_per_m_k: float,
    film_w_per_m2_k: float,
    start_c: float,
    ambient_c: float,
) -> float:
    """Time for still water in a pipe to cool to 0 degC: rho c A R ln((T0 - Ta)/(0 - Ta)); inf in air above 0.

    R = ln(D_ins/D_pipe)/(2 pi k) + 1/(h pi D_ins) per metre; the wall's own heat and resistance are left out.

    Raises: InputError outside the glossary, or for a pipe without wall.
    Source: ASHRAE Handbook Fundamentals, Insulation for mechanical systems, time to freeze of still water
    (from memory).
    """
    require(start_c=start_c, ambient_c=ambient_c)
    resistance_k_m_per_w = _pipe_k_m_per_w(
        pipe_inside_m, pipe_outside_m, insulation_m, insulation_w_per_m_k, film_w_per_m2_k
    )
    if start_c <= 0.0:
        return 0.0
    if ambient_c >= 0.0:
        return inf
    water_j_per_m_k = WATER_J_PER_M3_K * pi * pipe_inside_m**2 / 4.0
    return water_j_per_m_k * resistance_k_m_per_w * log((start_c - ambient_c) / -ambient_c)


def pipe_freeze_s(
    pipe_inside_m: float,
    pipe_outside_m: float,
    insulation_m: float,
    insulation_w_per_m_k: float,
    film_w_per_m2_k: float,
    frozen_frac: float,
    ambient_c: float,
) -> float:
    """Time from 0 degC until a share of the water is ice: rho L A x R / (0 - Ta); inf in air at or above 0.

    The ice's own resistance is left out, so that the true time is a little longer. Pipes burst by pressure
    between ice and a closed tap, before they are frozen through.

    Raises: InputError outside the glossary, or for a pipe without wall.
    Source: quasi-steady latent heat balance, ASHRAE Handbook Fundamentals, Insulation for mechanical systems
    (from memory).
    """
    require(frozen_frac=frozen_frac, ambient_c=ambient_c)
    resistance_k_m_per_w = _pipe_k_m_per_w(
        pipe_inside_m, pipe_outside_m, insulation_m, insulation_w_per_m_k, film_w_per_m2_k
    )
    if ambient_c >= 0.0:
        return inf
    latent_j_per_m = WATER_KG_PER_M3 * FUSION_J_PER_KG * pi * pipe_inside_m**2 / 4.0
    return latent_j_per_m * frozen_frac * resistance_k_m_per_w / -ambient_c


def _is_below(
    nodes: HouseNodes, air_c: float, mass_c: float, outdoor_c: float, gains_w: float, level_c: float
) -> bool:
    """Whether the air is below the level now; standing on it, whether it is going there."""
    if abs(air_c - level_c) > 1e-9:
        return air_c < level_c
    soon, _ = house_path_c(nodes, air_c, mass_c, outdoor_c, gains_w, 1.0)
    return float(soon) < level_c


def _pipe_k_m_per_w(
    pipe_inside_m: float,
    pipe_outside_m: float,
    insulation_m: float,
    insulation_w_per_m_k: float,
    film_w_per_m2_k: float,
) -> float:
    """Thermal resistance from water to air of one metre of pipe."""
    require(pipe_inside_m=pipe_inside_m, pipe_outside_m=pipe_outside_m, insulation_m=insulation_m)
    require(insulation_w_per_m_k=insulation_w_per_m_k, film_w_per_m2_k=film_w_per_m2_k)
    if pipe_outside_m <= pipe_inside_m:
        raise InputError(
            f"pipe_outside_m {pipe_outside_m:g} m must be more than pipe_inside_m {pipe_inside_m:g} m.",
            code="out_of_range",
        )
    outside = pipe_outside_m + 2.0 * insulation_m
    layer = log(outside / pipe_outside_m) / (2.0 * pi * insulation_w_per_m_k)
    return layer + 1.0 / (film_w_per_m2_k * pi * outside)
