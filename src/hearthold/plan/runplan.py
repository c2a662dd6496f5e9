"""The run plan: the best spells for one outage, found with the engine inside the search and reported as
its replay.

    plan = plan_running(house, month_hours(house, 1), Asked(start_s=18 * 3600.0, hours=72.0))
    plan.spells, plan.cost.litres, plan.standing.words

The search is `labels`: half hours first, then a corridor of quarter hours about what was found. Where limits
break, more passes look elsewhere: with fuel made dear, and with the breach that cannot be avoided taken as
given; the rules of the routine are tried too. Whatever the passes say, every candidate is priced by a replay,
and the best is shown.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from math import inf

import numpy as np

from hearthold.engine.control import RunPlan as Control
from hearthold.engine.kernels.layout import Array
from hearthold.engine.run import simulate
from hearthold.engine.trace import Happening, Trace
from hearthold.engine.weather import Hours
from hearthold.house.house import House
from hearthold.plan import objective as o
from hearthold.plan.asked import NEXT_DAYS, Asked
from hearthold.plan.kept import StoreKept, first_broken, stores_kept
from hearthold.plan.labels import FRESH, Before, Found, Layers, corridor, even_layers, find_pattern
from hearthold.plan.objective import HOUR_S, SLOT_S
from hearthold.plan.parts import CostParts
from hearthold.plan.polish import Pattern, polish, price_patterns
from hearthold.plan.problem import Problem, pose
from hearthold.plan.rule_search import Judge, Rule, search
from hearthold.plan.status import Standing, standing
from hearthold.plan.turns import Turns

# Parts of a cost that are breaches, with the column of the price that falls due at the first moment of each.
BREACHES = {
    "food_j": o.FOOD_BREACH_J,
    "house_j": o.HOUSE_BREACH_J,
    "pipes_j": o.PIPE_BREACH_J,
    "pits_j": o.PIT_BREACH_J,
    "water_j": o.WATER_BREACH_J,
    "vital_j": o.VITAL_BREACH_J,
}
SMALL_LOADS = 8
DEAR = (1.0, 4.0)  # shadow prices on fuel, as multiples of its own


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to search. Widths are labels a layer in a small house; a large one, whose labels take
    longer, has fewer.

    `stride`: slots decided as one at first; `reach`: slots about each switch that the second pass leaves
    free; `rounds`: of small changes at the end.
    """

    stride: int = 2
    width: int = 80
    near_width: int = 100
    reach: int = 4
    rounds: int = 0
    rules: int = 150  # daily rules tried where limits break, and climbed from; 0: none
    climbs: int = 2
    more: int = 4  # passes that look elsewhere where limits break
    later: int = 0  # stride in slots from slot `after` on; 0: the same throughout
    after: int = 96


QUICK = Effort(width=50, near_width=0, rules=60, climbs=1)
USUAL = Effort()
THOROUGH = Effort(width=400, near_width=400, reach=5, rounds=4, rules=10**6, climbs=4)


@dataclass(frozen=True, slots=True)
class PlannedSpell:
    """One run of the machine as planned, in seconds since the grid failed."""

    start_s: float
    end_s: float

    @property
    def length_s(self) -> float:
        """How long it runs."""
        return self.end_s - self.start_s


@dataclass(frozen=True, slots=True)
class Refuel:
    """One filling of the machine's tank in the replay. It cools down first where it ran."""

    at_s: float
    poured_m3: float
    within_spell: bool  # the tank ran dry under way


@dataclass(frozen=True, slots=True, eq=False)
class RunPlan:
    """The spells of one outage, with the replay that every figure comes from."""

    spells: tuple[PlannedSpell, ...]
    circuits: tuple[str, ...]  # of the first turn, in the order in which each spell switches them on
    turns: Turns
    switching: str  # what to do at the panel during a spell; empty where one set serves
    refuels: tuple[Refuel, ...]
    cost: CostParts
    standing: Standing
    lower_bound_j: float | None
    fails_at_s: float  # time of day at which the grid fails
    horizon_s: float
    fuel_m3: float
    fuel_left_m3: float
    run_s: float
    night_run_s: float
    starts: int
    trips: int
    stores: tuple[StoreKept, ...]
    breaks_first: StoreKept | None
    gave_way: tuple[str, ...]
    pattern: Pattern  # (slots,) the machine wanted on
    control: Control
    trace: Trace

    @property
    def kept(self) -> bool:
        """Whether every limit is kept in the replay."""
        return self.cost.kept


Bound = Callable[[Problem], float]


def plan_running(
    house: House,
    outside: Hours,
    asked: Asked = NEXT_DAYS,
    *,
    effort: Effort = USUAL,
    bound: Bound | None = None,
) -> RunPlan:
    """The best spells found for an outage, with the circuits of the house's own choice if no turns are given.

    `bound` gives a lower bound in joules for the very problem, so that the gap can be told. Raises:
    InputError for a house without a machine, an unknown fuel or circuit, or a horizon that the weather does
    not cover.

    Source: label setting with the engine inside (docs/method/planner.md); the figures are those of the
    replay.
    """
    problem = pose(house, outside, asked.settled(house))
    on, parts = solve(problem, effort)
    return described(problem, on, parts, bound(problem) if bound is not None else None)


def solve(problem: Problem, effort: Effort = USUAL, before: Before = FRESH) -> tuple[Pattern, CostParts]:
    """The best pattern found and its cost by replay."""
    layers = even_layers(problem, effort.stride, effort.later, effort.after)
    seen = _passes(problem, layers, effort, before, [(0.0, None)])
    best = _best(problem, [f.on for f in seen], before)
    if not best[1].kept:
        best = _where_limits_break(problem, layers, effort, before, best)
    if effort.near_width:
        near = corridor(best[0], before.on, effort.reach)
        found = find_pattern(
            problem,
            near,
            width=_width(problem, effort.near_width),
            before=before,
            most_j=_just_above(best[1]),
        )
        if found.reached == problem.slots:
            best = _best(problem, [best[0], found.on], before)
    if effort.rounds:
        on, _ = polish(problem, best[0], best[1].total_j, effort.rounds, before)
        best = _best(problem, [on], before)
    return best


def _width(problem: Problem, width: int) -> int:
    """Labels a layer for this house: time goes with the loads that the engine settles at every event."""
    return max(12, round(width * min(1.0, SMALL_LOADS / max(1, len(problem.compiled.load_ids)))))


def _just_above(cost: CostParts) -> float:
    return cost.total_j * (1.0 + 1e-9) + 1.0


def _passes(
    problem: Problem,
    layers: Layers,
    effort: Effort,
    before: Before,
    ways: Sequence[tuple[float, Array | None]],
) -> list[Found]:
    """Passes with several shadow prices and price rows, side by side. Only those that reach the end count."""

    def one(way: tuple[float, Array | None]) -> Found:
        shadow, prices = way
        return find_pattern(
            problem,
            layers,
            width=_width(problem, effort.width),
            before=before,
            shadow_j_per_m3=shadow,
            prices=prices,
        )

    if len(ways) == 1:
        found = [one(ways[0])]
    else:
        with ThreadPoolExecutor(os.cpu_count()) as pool:
            found = list(pool.map(one, ways))
    return [f for f in found if f.reached == problem.slots]


def _where_limits_break(
    problem: Problem, layers: Layers, effort: Effort, before: Before, best: tuple[Pattern, CostParts]
) -> tuple[Pattern, CostParts]:
    """Look elsewhere: fuel made dear; the first moment of each breach made free, so that it is not put off
    in vain.
    """
    eased = problem.prices.copy()
    for name, column in BREACHES.items():
        if getattr(best[1], name) > 0.0:
            eased[column] = 0.0
    own = problem.lhv_j_per_m3
    ways: list[tuple[float, Array | None]] = [(dear * own, eased) for dear in DEAR]
    ways += [(0.0, eased), (DEAR[0] * own, None)]
    found = [f.on for f in _passes(problem, layers, effort, before, ways[: effort.more])]
    if effort.rules:  # quarter hours, where half hours were too coarse
        finer = replace(effort, width=2 * effort.width)
        found += [f.on for f in _passes(problem, even_layers(problem, 1), finer, before, [(0.0, None)])]
    if effort.rules == 0:
        return _best(problem, [best[0], *found], before)
    rules = [rule_pattern(problem, rule) for rule in _rules(problem, effort)]
    allowed = [on for on in rules if problem.patterns.allows(on, before.on, before.age, before.started)]
    best = _best(problem, [best[0], *found, *allowed], before)
    on, _ = polish(problem, best[0], best[1].total_j, 1, before)
    return _best(problem, [best[0], on], before)


def _rules(problem: Problem, effort: Effort) -> list[Rule]:
    """The best few daily rules of a short search."""
    judge = Judge(problem, np.array([problem.start_s]), np.array([problem.length_s]))
    return search(problem, judge, effort.rules, effort.climbs, 4)[:8]


def rule_pattern(problem: Problem, rule: Rule) -> Pattern:
    """The slots in which a daily rule has the machine on."""
    at_min = (problem.start_s + problem.lead_s + SLOT_S * np.arange(problem.slots)) / 60.0
    on = np.zeros(problem.slots, dtype=bool)
    for start, length in rule:
        on |= (at_min - start) % 1440.0 < length
    return on


def _best(problem: Problem, found: Sequence[Pattern], before: Before) -> tuple[Pattern, CostParts]:
    """The cheapest by replay; the first of equals. With nothing found, never running is what is left."""
    unique = {on.tobytes(): on for on in found} or {b"": np.zeros(problem.slots, dtype=bool)}
    patterns = list(unique.values())
    parts, switching = price_patterns(problem, patterns, before)
    i = int(np.argmin(parts.sum(axis=1) + switching))
    return patterns[i], CostParts.of(parts[i], float(switching[i]))


def described(problem: Problem, on: Pattern, parts: CostParts, bound_j: float | None = None) -> RunPlan:
    """A pattern with its replay in the plain world."""
    control = Control(problem.spells_of(on), problem.handling)
    trace = simulate(
        problem.plain, problem.outside, control, start_s=problem.start_s, hours=problem.length_s / HOUR_S
    )
    out, stores = trace.outcomes, stores_kept(problem.house, trace)
    spells = tuple(PlannedSpell(s.start_s, s.end_s) for s in control.spells)
    left = float(out.fuel_left_m3[0])
    return RunPlan(
        spells=spells,
        circuits=problem.turns.order,
        turns=problem.turns,
        switching=problem.turns.sentence(problem.house),
        refuels=_refuels(trace, spells),
        cost=parts,
        standing=standing(parts.total_j, bound_j, parts.kept),
        lower_bound_j=bound_j,
        fails_at_s=problem.start_s % o.DAY_S,
        horizon_s=problem.length_s,
        fuel_m3=float(out.fuel_m3[0]),
        fuel_left_m3=left if left < inf else inf,
        run_s=float(out.run_s[0]),
        night_run_s=float(out.night_run_s[0]),
        starts=int(out.starts[0]),
        trips=int(out.fuel_trips[0]),
        stores=stores,
        breaks_first=first_broken(stores),
        gave_way=problem.rules.gave_way,
        pattern=on,
        control=control,
        trace=trace,
    )


def _refuels(trace: Trace, spells: Sequence[PlannedSpell]) -> tuple[Refuel, ...]:
    """Fillings as the engine's log has them; what was poured is what the stock lost in that minute."""
    made = []
    for line in trace.log:
        if line.what is Happening.REFILL:
            minute = int(line.at_s // 60.0)
            after = min(minute + 1, len(trace.stock_m3) - 1)
            poured = float(trace.stock_m3[minute] - trace.stock_m3[after])
            within = any(s.start_s < line.at_s < s.end_s for s in spells)
            made.append(Refuel(line.at_s, poured, within))
    return tuple(made)
