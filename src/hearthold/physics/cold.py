"""How long cold keeps: freezers as two stores of food, refrigerators as one, moved from event to event.

Two answers stand side by side, because they disagree and nothing published decides between them:

planning hold  a thin exposed share of the food, weakly joined to the rest, *calibrated* so that a full box
               takes the 48 h of public-health guidance. It is a pessimistic account of the most exposed
               packages and proves nothing about the box: the 48 h went in. Verdicts use it.
likely hold    all food at one temperature, losing cold through the walls that the energy label implies.
               Usually several times longer.

A thermometer reading replaces the assumed start of both. Clock rules (4 h, 24 h, 48 h) are a third figure,
shown by the caller; the strictest of the three decides.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import inf, log

from hearthold.errors import InputError
from hearthold.physics.coldmarch import cold_step_kernel
from hearthold.physics.food import EnthalpyCurve
from hearthold.physics.twonode import onenode_crossing_kernel, onenode_rate_kernel
from hearthold.quantities.glossary import require

FREEZER_START_C = -17.777777777777779  # 0 degF, the setting that guidance assumes
FRIDGE_START_C = 2.7777777777777777  # 37 degF, a usual setting of a refrigerator
DANGER_C = 4.444444444444445  # 40 degF, above which perishable food is on the clock
_SHARE_STEP = 1e-10  # of the exposed share; some 0.2 ms of hold
RULE_ROOM_C = 22.0  # room in which the public-health hours are taken to hold (judgement: the rules name none)
FREEZER_RULE_S = 48 * 3600.0  # full freezer, door shut (public-health guidance)
FRIDGE_RULE_S = 4 * 3600.0  # unopened refrigerator (public-health guidance)
LABEL_ROOM_C = 32.22222222222222  # 90 degF test room of the US energy label
NEVER_S = 1e9  # thirty years: what has not happened by then is reported as math.inf
_MOST_EVENTS = 400  # a monotone path crosses each knot once; this many means the arithmetic is broken


@dataclass(frozen=True, slots=True, eq=False)
class ColdBox:
    """A freezer with its load. Units are in the names; build it with `cold_box`, which checks them."""

    ua_w_per_k: float
    food_kg: float
    cabinet_j_per_k: float
    curve: EnthalpyCurve
    shell_frac: float = 1.0
    coupling_w_per_k_kg: float = 0.0


@dataclass(frozen=True, slots=True)
class Holds:
    """The two answers to "how long will it keep": seconds, `math.inf` for never."""

    planning_s: float
    likely_s: float

    @property
    def stricter_s(self) -> float:
        """The shorter of the two: the one a verdict on food stands on."""
        return min(self.planning_s, self.likely_s)


def label_heat_w(label_w: float, usage_frac: float = 1.0, aux_w: float = 0.0, cop: float = 1.35) -> float:
    """Heat through the walls in the label's test room: (E/K - aux) COP + aux.

    label_w is the label's yearly energy as a mean power; usage_frac the label's correction for use (0.7
    chest, 0.85 upright freezer); aux_w fans and defrost, which end as heat inside. A COP of 1.2 to 1.5 moves
    the result by about 11 %.

    Raises: InputError outside the glossary, or if aux_w exceeds the label.
    Source: energy balance; usage factors 10 CFR 430 subpart B Appendix B, COP of household units (both from
    memory).
    """
    require(label_w=label_w, usage_frac=usage_frac, aux_w=aux_w, cop=cop)
    if aux_w >= label_w / usage_frac:
        raise InputError(
            f"aux_w {aux_w:g} W leaves nothing of the label's {label_w / usage_frac:.3g} W for the "
            "compressor; give fans and defrost as a mean power.",
            code="out_of_range",
        )
    return (label_w / usage_frac - aux_w) * cop + aux_w


def label_ua_w_per_k(wall_heat_w: float, compartment_c: float, test_room_c: float = LABEL_ROOM_C) -> float:
    """Conductance of the walls from the heat that passes them: UA = Q / (T_room - T_compartment).

    For a refrigerator with freezer give each compartment its own share of the heat.

    Raises: InputError outside the glossary, or if the compartment is not colder than the room.
    Source: definition; test room 90 degF, freezer 0 degF, 10 CFR 430 subpart B Appendices A and B (from
    memory).
    """
    require(wall_heat_w=wall_heat_w, compartment_c=compartment_c, test_room_c=test_room_c)
    if compartment_c >= test_room_c:
        raise InputError(
            f"compartment_c {compartment_c:g} degC must be below test_room_c {test_room_c:g} degC.",
            code="out_of_range",
        )
    return wall_heat_w / (test_room_c - compartment_c)


def cold_box(
    ua_w_per_k: float,
    food_kg: float,
    cabinet_j_per_k: float,
    curve: EnthalpyCurve,
    shell_frac: float = 1.0,
    coupling_w_per_k_kg: float = 0.0,
) -> ColdBox:
    """A checked `ColdBox`; `curve` is from `food.enthalpy_segments`, the defaults make one store of it all.

    Raises: InputError outside the glossary, or for a box that holds no heat at all.
    Source: data only.
    """
    require(ua_w_per_k=ua_w_per_k, food_kg=food_kg, cabinet_j_per_k=cabinet_j_per_k)
    require(shell_frac=shell_frac, coupling_w_per_k_kg=coupling_w_per_k_kg)
    if food_kg * shell_frac <= 0.0 and cabinet_j_per_k <= 0.0:
        raise InputError(
            "food_kg and cabinet_j_per_k are both 0; an empty box still has a cabinet.", code="empty"
        )
    return ColdBox(ua_w_per_k, food_kg, cabinet_j_per_k, curve, shell_frac, coupling_w_per_k_kg)


def hold_planning_s(box: ColdBox, shell_c: float, core_c: float, room_c: float, limit_c: float) -> float:
    """Time until the exposed food of `box` reaches the limit, unpowered and shut; `math.inf` if never.

    shell: dH_s/dt = UA (T_room - T_s) - g m (T_s - T_c), core: dH_c/dt = g m (T_s - T_c); 0 at or above the
    limit. Calibrated, hence no evidence: see the head of this module.

    Raises: InputError outside the glossary.
    Source: own effective model, fitted to the public-health rule of 48 h for a full freezer.
    """
    require(shell_c=shell_c, core_c=core_c, room_c=room_c, limit_c=limit_c)
    if shell_c >= limit_c:
        return 0.0
    if max(room_c, core_c) <= limit_c:
        return inf
    return _march_s(box, shell_c, core_c, room_c, 0.0, limit_c)


def hold_likely_s(box: ColdBox, start_c: float, room_c: float, limit_c: float) -> float:
    """Time until all the food of `box`, at one temperature, reaches the limit; `math.inf` if it never does.

    dH/dt = UA (T_room - T). The shell and coupling of the box are set aside.

    Raises: InputError outside the glossary.
    Source: one-node heat balance with Chen's enthalpy; walls from the energy label.
    """
    require(start_c=start_c, room_c=room_c, limit_c=limit_c)
    if start_c >= limit_c:
        return 0.0
    if room_c <= limit_c:
        return inf
    return _march_s(replace(box, shell_frac=1.0), start_c, start_c, room_c, 0.0, limit_c)


def holds_from_reading(
    box: ColdBox, reading_c: float, room_c: float, limit_c: float = DANGER_C, reading_error_k: float = 1.0
) -> Holds:
    """Both holds of `box` from a reading, taken as warm as its error allows and as true of all the food.

    The core of a box that has been off is colder than the reading, so the planning hold errs on the short
    side. Between freezing and about -5 degC one degree stands for much of the cold: trust a probe between
    packages.

    Raises: InputError outside the glossary.
    Source: own; a reading beats a clock (public-health guidance).
    """
    require(reading_c=reading_c, reading_error_k=reading_error_k)
    start = min(reading_c + reading_error_k, 60.0)
    planning = hold_planning_s(box, start, start, room_c, limit_c)
    return Holds(planning, hold_likely_s(box, start, room_c, limit_c))


def pull_down_s(
    box: ColdBox, shell_c: float, core_c: float, room_c: float, cooling_w: float, target_c: float
) -> float:
    """Time of running until the exposed food of `box` is at the target; `math.inf` if cooling is too small.

    Raises: InputError outside the glossary.
    Source: the balances of `hold_planning_s` with the compressor's cooling taken from the shell.
    """
    require(shell_c=shell_c, core_c=core_c, room_c=room_c, cooling_w=cooling_w, target_c=target_c)
    if shell_c <= target_c:
        return 0.0
    return _march_s(box, shell_c, core_c, room_c, -cooling_w, target_c)


def planning_box(
    box: ColdBox,
    coupling_w_per_k_kg: float = 0.002,
    rule_s: float = FREEZER_RULE_S,
    rule_room_c: float = RULE_ROOM_C,
) -> ColdBox:
    """`box`, given full, with the exposed share that makes it go from 0 degF to 40 degF in exactly rule_s.

    Circular by construction. The coupling 0.002 W/(K kg) was kept because a half-full box then comes near the
    published 24 h; measured couplings are 15 to 90 times larger. Change food_kg afterwards for another fill.

    Raises: InputError outside the glossary, or if no share can give the rule.
    Source: own calibration to public-health guidance (48 h full; the 24 h half full was in view when the
    coupling was chosen).
    """
    require(coupling_w_per_k_kg=coupling_w_per_k_kg, rule_s=rule_s, rule_room_c=rule_room_c)
    tried = replace(box, coupling_w_per_k_kg=coupling_w_per_k_kg)

    def hold(share: float) -> float:
        start = FREEZER_START_C
        return hold_planning_s(replace(tried, shell_frac=share), start, start, rule_room_c, DANGER_C)

    low, high = 0.004, 0.9
    if not hold(low) < rule_s < hold(high):
        raise InputError(
            f"no exposed share gives {rule_s / 3600:.3g} h: this box keeps {hold(low) / 3600:.3g} to "
            f"{hold(high) / 3600:.3g} h in the model; check ua_w_per_k and food_kg.",
            code="no_calibration",
        )
    while high - low > _SHARE_STEP:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if hold(middle) < rule_s else (low, middle)
    return replace(tried, shell_frac=0.5 * (low + high))


def steady_duty_frac(ua_w_per_k: float, room_c: float, set_c: float, cooling_w: float) -> float:
    """Share of the time a compressor runs to hold its setting: UA (T_room - T_set) / Q, at most 1.

    1 means that the setting cannot be held. Door openings and new food come on top.

    Raises: InputError outside the glossary.
    Source: steady heat balance.
    """
    require(ua_w_per_k=ua_w_per_k, room_c=room_c, set_c=set_c, cooling_w=cooling_w)
    return min(1.0, max(0.0, ua_w_per_k * (room_c - set_c) / cooling_w))


def fridge_hold_s(
    c_j_per_k: float, ua_w_per_k: float, start_c: float, room_c: float, limit_c: float
) -> float:
    """Time for a shut refrigerator, one store of heat, to warm to the limit.

    t = C/UA ln((T_room - T0)/(T_room - T1)); 0 at or above the limit, `math.inf` in a room not warmer.
    Planning or likely is a matter of the capacity given: `fridge_planning_j_per_k` or the real contents.

    Raises: InputError outside the glossary.
    Source: one-node heat balance.
    """
    require(c_j_per_k=c_j_per_k, ua_w_per_k=ua_w_per_k, start_c=start_c, room_c=room_c, limit_c=limit_c)
    if start_c >= limit_c:
        return 0.0
    k, f = onenode_rate_kernel(c_j_per_k, ua_w_per_k, start_c, room_c, 0.0)
    at = onenode_crossing_kernel(k, start_c, f, limit_c, NEVER_S)
    return at if at > 0.0 else inf


def fridge_planning_j_per_k(
    ua_w_per_k: float, rule_s: float = FRIDGE_RULE_S, rule_room_c: float = RULE_ROOM_C
) -> float:
    """Heat capacity with which a full refrigerator at 37 degF reaches 40 degF in exactly the rule's time.

    Circular by construction: C = UA t / ln((T_room - T0)/(T_room - T1)).

    Raises: InputError outside the glossary, or for a room at or below 40 degF.
    Source: own calibration to public-health guidance (4 h unopened).
    """
    require(ua_w_per_k=ua_w_per_k, rule_s=rule_s, rule_room_c=rule_room_c)
    if rule_room_c <= DANGER_C:
        raise InputError(
            f"rule_room_c {rule_room_c:g} degC never warms food to {DANGER_C:.3g} degC.", code="out_of_range"
        )
    return ua_w_per_k * rule_s / log((rule_room_c - FRIDGE_START_C) / (rule_room_c - DANGER_C))


def _march_s(box: ColdBox, shell_c: float, core_c: float, room_c: float, q_w: float, limit_c: float) -> float:
    """Time until the shell reaches the limit, event by event; inf if it does not within NEVER_S."""
    shell_kg = box.food_kg * box.shell_frac
    core_kg = box.food_kg - shell_kg
    g = box.coupling_w_per_k_kg * box.food_kg if core_kg > 0.0 else 0.0
    now = 0.0
    for _ in range(_MOST_EVENTS):
        step, shell_c, core_c, _, reached = cold_step_kernel(
            box.curve.knots_c, box.curve.heat_j_per_kg_k, shell_kg, core_kg, box.cabinet_j_per_k,
            box.ua_w_per_k, g, room_c, q_w, shell_c, core_c, limit_c, NEVER_S - now,
        )  # fmt: skip
        now += step
        if reached:
            return float(now)
        if now >= NEVER_S:
            return inf
    raise ArithmeticError(f"cold box did not settle: {shell_c:g} and {core_c:g} degC after {now:g} s")
