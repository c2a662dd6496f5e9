"""Planning again in the middle of an outage: from thermometers and fuel as they are now, for a length
nobody knows.

    now = Now(at_s=..., elapsed_s=..., cold_c={"fridge": 5.1}, fuel_tank_m3=0.009, fuel_stock_m3=0.020)
    answer = replan(house, outside, now, lengths_s, quantile=0.8)
    answer.sentence          # "Leave it off; start at 17:30 for 90 minutes."

The outage is planned for to a quantile of how long it may still last, so that fuel is rationed over that
time; what comes after the next day is planned coarsely. The answer is what to do now, and when that ends.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import ceil, inf

import numpy as np
from numpy.typing import ArrayLike

from hearthold.engine.weather import Hours
from hearthold.errors import InputError
from hearthold.house.house import House
from hearthold.plan.asked import NEXT_DAYS, Asked
from hearthold.plan.bound.lower import Bound
from hearthold.plan.labels import Before
from hearthold.plan.now import Now, before_now, compile_now
from hearthold.plan.objective import DAY_S, HOUR_S
from hearthold.plan.parts import CostParts
from hearthold.plan.polish import Pattern, price_patterns
from hearthold.plan.problem import Problem, pose
from hearthold.plan.rule_search import Rule
from hearthold.plan.runplan import RunPlan, described
from hearthold.plan.saynow import errand, sentence
from hearthold.plan.solve import Effort, or_a_rule, solve

LEAST_H, MOST_H = 24.0, 14 * 24.0
SHORT_PAUSE = 4  # slots; and what a pause no longer than this must save of the whole cost (judgement)
LITTLE_FRAC = 0.02
Prove = Callable[[Problem, float], Bound]
NOT_WHILE_RUNNING = Bound(
    0.0,
    False,
    "No lower bound: the machine is running, and the proof is of times that begin with it off.",
    (),
    0.0,
)
REPLAN = Effort(
    passes=((2, False), (2, True)), width=40, corridors=0, tries=0, always_tries=0, rules=0, later=4, after=48
)


@dataclass(frozen=True, slots=True, eq=False)
class Answer:
    """What to do now, and until when that stands."""

    run_now: bool
    until_s: float  # until the next switch, from now; inf where none is planned
    next_length_s: float  # how long the spell under way or the next one lasts; 0 where none is planned
    planned_for_s: float  # from now on
    quantile_frac: float
    changes_if_shorter_s: (
        float | None
    )  # if the outage ended before this (from now), the first act would differ; None: not as far as was tried
    fuel_day_m3: float  # rationed: what the plan burns a day
    fuel_left_m3: float
    sentence: str
    plan: RunPlan  # times count from now
    bound: Bound | None  # on the very problem, where one was asked for


def remaining_s(lengths_s: ArrayLike, elapsed_s: float, quantile_frac: float) -> float:
    """How long the outage may still last: the quantile of the lengths that exceed what has passed, less that.

    `lengths_s`: equally likely lengths, from the house's own history or drawn from a model. Where none is
    longer than what has passed, as long again as it has lasted (the rule for a thing of unknown age). Raises
    InputError for a quantile outside 0 to 1 or no lengths.

    Source: conditional quantile of the empirical distribution; the doubling rule is a judgement.
    """
    known = np.asarray(lengths_s, dtype=float)
    if known.size == 0 or not 0.0 < quantile_frac < 1.0:
        raise InputError(
            f"quantile is {quantile_frac:g} of {known.size} lengths; "
            "allowed above 0 and below 1, of one or more.",
            code="out_of_range",
        )
    longer = known[known > elapsed_s]
    if longer.size == 0:
        return elapsed_s
    return float(np.quantile(longer, quantile_frac, method="inverted_cdf")) - elapsed_s


def replan(
    house: House,
    outside: Hours,
    now: Now,
    lengths_s: ArrayLike,
    quantile_frac: float = 0.8,
    *,
    asked: Asked = NEXT_DAYS,
    effort: Effort = REPLAN,
    shorter: Sequence[float] = (),
) -> Answer:
    """The best thing to do now, planning for a quantile of the time that the outage may still last.

    At least a day is planned, at most a fortnight. Start, length and fuel at home come from `now` and the
    quantile, not from `asked`. `shorter`: fractions of the planned time to plan for as
    well, to tell whether the first act would differ if the grid came back sooner; each costs another search.
    Raises: InputError as `pose` and `remaining_s` do, and for a reading of a store that the house has not.
    """
    hours = hours_ahead(outside, now, lengths_s, quantile_frac)
    return plan_from(house, outside, now, hours, quantile_frac, asked=asked, effort=effort, shorter=shorter)


def hours_ahead(outside: Hours, now: Now, lengths_s: ArrayLike, quantile_frac: float) -> float:
    """Hours to plan for: the quantile of what may remain, a day to a fortnight, as far as the weather goes."""
    hours = min(max(remaining_s(lengths_s, now.elapsed_s, quantile_frac) / HOUR_S, LEAST_H), MOST_H)
    return float(ceil(min(hours, (outside.length_s - now.at_s) / HOUR_S - 1.0)))


def plan_from(
    house: House,
    outside: Hours,
    now: Now,
    hours: float,
    quantile_frac: float,
    *,
    asked: Asked = NEXT_DAYS,
    effort: Effort = REPLAN,
    shorter: Sequence[float] = (),
    prove: Prove | None = None,
) -> Answer:
    """The best thing to do now for a number of hours. `prove`: a lower bound on the problem, given a plan's cost.

    Raises: as `replan`.
    """
    found = sought(house, outside, now, hours, asked=asked, effort=effort)
    return answered(found, quantile_frac, if_sooner(found, shorter), prove)


@dataclass(frozen=True, slots=True, eq=False)
class Sought:
    """The best running found from now on, before anything is said of it."""

    asked: Asked
    posed: Callable[[float], Problem]  # the problem of so many hours
    hours: float
    effort: Effort
    problem: Problem
    before: Before
    on: Pattern
    parts: CostParts


def sought(
    house: House,
    outside: Hours,
    now: Now,
    hours: float,
    *,
    asked: Asked = NEXT_DAYS,
    effort: Effort = REPLAN,
    rules: Sequence[Rule] = (),
) -> Sought:
    """Search from now on. `rules`: daily rules to be tried beside what the search finds. Raises: as `replan`."""
    settled = replace(asked.settled(house), fuel_m3=None)

    def posed(of_hours: float) -> Problem:
        return posed_now(house, outside, now, replace(settled, hours=of_hours))

    problem = posed(hours)
    before = before_now(problem, now)
    found = or_a_rule(problem, solve(problem, effort, before), rules, effort, before)
    on, parts = _without_a_short_pause(problem, before, *found)
    return Sought(asked, posed, hours, effort, problem, before, on, parts)


def posed_now(house: House, outside: Hours, now: Now, asked: Asked) -> Problem:
    """The problem from now on, of a house as it is read; `asked` settled, its start left aside. Raises: as `replan`."""
    compiled = compile_now(house, now, asked.fuel)
    problem = pose(house, outside, replace(asked, start_s=now.at_s), compiled=compiled)
    return problem if now == Now(now.at_s) else _awake_now(problem)


@dataclass(frozen=True, slots=True, eq=False)
class Sooner:
    """The best running found if one were sure that the grid is back so soon."""

    hours: float
    on: Pattern


def if_sooner(found: Sought, shares: Sequence[float]) -> tuple[Sooner, ...]:
    """What would be done for shares of the time planned for, shortest first; each costs another search."""
    spans = [max(1.0, share * found.hours) for share in sorted(shares)]
    return tuple(Sooner(h, solve(found.posed(h), found.effort, found.before)[0]) for h in spans)


def answered(
    found: Sought, quantile_frac: float, sooner: Sequence[Sooner] = (), prove: Prove | None = None
) -> Answer:
    """What there is to say of what was found; see `plan_from`."""
    bound = None
    if prove is not None:
        bound = NOT_WHILE_RUNNING if found.before.on else prove(found.problem, found.parts.total_j)
    proven_j = bound.value_j if bound is not None and bound.proven else None
    plan = described(found.problem, found.on, found.parts, proven_j)
    return _answer(found, plan, quantile_frac, _changes_if_shorter(found, sooner), bound)


def _awake_now(problem: Problem) -> Problem:
    """The same where somebody is up at this moment, whatever the hour: who reads thermometers can switch."""
    may_switch, switch_j = problem.patterns.may_switch.copy(), problem.patterns.switch_j.copy()
    may_switch[0], switch_j[0] = True, 0.0
    return replace(problem, patterns=replace(problem.patterns, may_switch=may_switch, switch_j=switch_j))


def _without_a_short_pause(
    problem: Problem, before: Before, on: Pattern, parts: CostParts
) -> tuple[Pattern, CostParts]:
    """The same running on, where it would be stopped only to be started again within the hour for next to nothing.

    What such a pause gains is mostly that thermostats stand better when the spell ends, which no reading tells.
    """
    first = int(np.argmax(on))
    if not before.on or on[0] or not on.any() or first > SHORT_PAUSE:
        return on, parts
    going_on = on.copy()
    going_on[:first] = True
    if not problem.patterns.allows(going_on, before.on, before.age, before.started):
        return on, parts
    rows, switching = price_patterns(problem, [going_on], before)
    other = CostParts.of(rows[0], float(switching[0]))
    worse = other.total_j > parts.total_j * (1.0 + LITTLE_FRAC) or (parts.kept and not other.kept)
    return (on, parts) if worse else (going_on, other)


def _changes_if_shorter(found: Sought, sooner: Sequence[Sooner]) -> float | None:
    """The longest of the shorter times for which the first act would be another one."""
    return max((x.hours * HOUR_S for x in sooner if bool(x.on[0]) != bool(found.on[0])), default=None)


def _answer(
    found: Sought, plan: RunPlan, quantile_frac: float, changes: float | None, bound: Bound | None
) -> Answer:
    problem = found.problem
    ahead = [s for s in plan.spells if s.end_s > problem.lead_s]
    run_now = bool(ahead) and ahead[0].start_s <= problem.lead_s
    until, lasts = inf, 0.0
    if ahead:
        until = ahead[0].end_s if run_now else ahead[0].start_s
        lasts = ahead[0].length_s
    days = max(problem.length_s, 1.0) / DAY_S
    return Answer(
        run_now,
        until,
        lasts,
        problem.length_s,
        quantile_frac,
        changes,
        plan.fuel_m3 / days,
        plan.fuel_left_m3,
        sentence(problem, run_now, found.before.on, ahead) + errand(problem, plan.trips, ahead),
        plan,
        bound,
    )
