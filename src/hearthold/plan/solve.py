"""The search for the best pattern of one outage: passes of labels, then narrow corridors about what was found.

    on, parts = solve(problem)

The first pass decides half hours. After it, corridors: passes in which only the quarter hours about each switch
are free, with finer buckets, again and again about the best in hand until none gains. Where limits break, more
starts are taken: wider passes with the breaches found taken as given and with stores valued higher, a pass with
fuel made dear where it ran short, and the best daily rules. Corridors are laid about the two cheapest; what
comes out and the best rules are changed in small ways, most tries for the best of them. Whatever the passes say,
every candidate is priced by a replay, and the cheapest is given: so it is never dearer than the best of the
daily rules tried, changed in small ways.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from hearthold.engine.kernels.layout import Array
from hearthold.plan import objective as o
from hearthold.plan.labels import FRESH, Before, Buckets, Layers, corridor, even_layers, find_pattern
from hearthold.plan.objective import SLOT_S
from hearthold.plan.parts import CostParts
from hearthold.plan.polish import Pattern, polish, price_patterns
from hearthold.plan.problem import Problem
from hearthold.plan.rule_search import Judge, Rule, search

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
WIDER = 2.5  # of the passes where limits break
VALUED = 4.0  # times the price of restoring stores, in one of them: what is cold is worth more than its fuel
DEAR = 512.0  # shadow price of fuel that will not last, as a multiple of its own
NEAR_BUCKETS = Buckets(cold_run_s=600.0)
FINE_BUCKETS = Buckets(cold_run_s=400.0)
ENOUGH_FRAC = 1e-3  # a corridor that gains less has come to its end
BEST_RULES = 8
STARTS = 4  # plans that small changes begin with; most tries go to the best of them
FIRST_TRIES, NEXT_TRIES = 60, 100  # of each of them, and of the best two
LEAST_TRIES = 300  # of the best, where limits break


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to search. Widths are labels a layer in a small house; a large one, whose labels take
    longer, has fewer.

    `stride`: slots decided as one at first; `near_width`, `corridors`, `reaches`: labels, most passes and slots
    left free about each switch, in turn, of the corridors; `tries`: patterns run for small changes at the end.
    """

    stride: int = 2
    width: int = 80
    near_width: int = 100
    corridors: int = 6
    reaches: tuple[int, ...] = (2, 2, 1)
    tries: int = 0
    rules: int = 150  # daily rules tried where limits break, and climbed from; 0: none
    climbs: int = 2
    later: int = 0  # stride in slots from slot `after` on; 0: the same throughout
    after: int = 96


QUICK = Effort(width=50, near_width=50, corridors=2, rules=60, climbs=1)
USUAL = Effort()
THOROUGH = Effort(
    width=400, near_width=400, corridors=30, reaches=(2, 4, 1), tries=2000, rules=10**6, climbs=4
)

Solution = tuple[Pattern, CostParts]
X = TypeVar("X")
Y = TypeVar("Y")


def solve(problem: Problem, effort: Effort = USUAL, before: Before = FRESH) -> Solution:
    """The best pattern found and its cost by replay."""
    layers = even_layers(problem, effort.stride, effort.later, effort.after)
    best = _best(problem, _passes(problem, layers, effort.width, before, [(0.0, None)]), before)
    if best[1].kept:
        best = _corridors(problem, best, effort, before)
    else:
        best = _where_limits_break(problem, layers, effort, before, best)
    if effort.tries:
        on, _ = polish(problem, best[0], best[1].total_j, effort.tries, before)
        best = _best(problem, [best[0], on], before)
    return best


def _width(problem: Problem, width: int) -> int:
    """Labels a layer for this house: time goes with the loads that the engine settles at every event."""
    return max(12, round(width * min(1.0, SMALL_LOADS / max(1, len(problem.compiled.load_ids)))))


def _passes(
    problem: Problem,
    layers: Layers,
    width: int,
    before: Before,
    ways: Sequence[tuple[float, Array | None]],
) -> list[Pattern]:
    """Passes with several shadow prices and price rows, side by side. Only those that reach the end count."""

    def one(way: tuple[float, Array | None]) -> Pattern | None:
        shadow, prices = way
        found = find_pattern(
            problem,
            layers,
            width=_width(problem, width),
            before=before,
            shadow_j_per_m3=shadow,
            prices=prices,
        )
        return found.on if found.reached == problem.slots else None

    return [on for on in _side_by_side(one, ways) if on is not None]


def _side_by_side(work: Callable[[X], Y], on: Sequence[X]) -> list[Y]:
    if len(on) == 1:
        return [work(on[0])]
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        return list(pool.map(work, on))


def _corridors(problem: Problem, start: Solution, effort: Effort, before: Before) -> Solution:
    """Corridor after corridor about the best in hand, each with the next reach, until a round of them gains
    nothing.

    One that ends a little worse may still lead on, so the next is laid about it; after two, about the best.
    """
    best, about, idle = start, start[0], 0
    for n in range(effort.corridors):
        prices = None if best[1].kept else _eased(problem, best[1])
        near = corridor(about, before.on, effort.reaches[n % len(effort.reaches)])
        found = find_pattern(
            problem,
            near,
            width=_width(problem, effort.near_width),
            buckets=NEAR_BUCKETS if best[1].kept else FINE_BUCKETS,
            before=before,
            prices=prices,
        )
        new = _best(problem, [found.on], before) if found.reached == problem.slots else best
        gained = new[1].total_j < best[1].total_j * (1.0 - ENOUGH_FRAC)
        best = min(best, new, key=lambda s: s[1].total_j)
        idle = 0 if gained else idle + 1
        if idle >= len(effort.reaches):
            break
        about = new[0] if idle < 2 else best[0]
    return best


def _eased(problem: Problem, parts: CostParts) -> Array:
    """Prices without the fixed sums of the breaches found, so that none is put off in vain."""
    eased = problem.prices.copy()
    for name, column in BREACHES.items():
        if getattr(parts, name) > 0.0:
            eased[column] = 0.0
    return eased


def _where_limits_break(
    problem: Problem, layers: Layers, effort: Effort, before: Before, best: Solution
) -> Solution:
    """Look elsewhere: with the first moment of each breach made free, with stores valued higher, with fuel made
    dear where there is too little of it, and among the daily rules; then corridors and small changes.
    """
    eased = _eased(problem, best[1])
    valued = eased.copy()
    valued[o.RESTORE_FRAC] *= VALUED
    ways: list[tuple[float, Array | None]] = [(0.0, eased), (0.0, valued)]
    if _is_scarce(problem, best[1]):
        ways = [(DEAR * problem.lhv_j_per_m3, eased), *ways[:1]]
    found = [best[0], *_passes(problem, layers, round(WIDER * effort.width), before, ways)]
    rules = daily_rules(problem, effort, before)
    starts = _cheapest(problem, [*found, *rules], before, 2)
    ended = _side_by_side(lambda s: _corridors(problem, s, effort, before), starts)
    begin = [*(on for on, _ in ended), *rules[: STARTS - len(ended)]]
    return _polished(problem, _cheapest(problem, begin, before, STARTS), effort, before)


def _polished(problem: Problem, starts: Sequence[Solution], effort: Effort, before: Before) -> Solution:
    """Small changes to several plans: a few to each, more to the best two, most to the best."""
    made = [(on, parts.total_j) for on, parts in starts]
    stages = ((STARTS, FIRST_TRIES), (2, NEXT_TRIES), (1, max(LEAST_TRIES, effort.tries)))
    for most, tries in stages if effort.rules else stages[:1]:
        chosen = sorted(made, key=lambda s: s[1])[:most]
        made = [polish(problem, on, cost_j, tries, before) for on, cost_j in chosen]
    return _best(problem, [on for on, _ in made], before)


def _is_scarce(problem: Problem, parts: CostParts) -> bool:
    """Whether the plan in hand burned most of the fuel at home, or somebody had to go for more."""
    burned_m3 = parts.fuel_j / problem.lhv_j_per_m3
    return parts.trips_j > 0.0 or burned_m3 > 0.7 * problem.compiled.start_fuel_m3


def daily_rules(problem: Problem, effort: Effort, before: Before = FRESH) -> list[Pattern]:
    """The best few daily rules of a short search, as patterns that are allowed here, cheapest first."""
    if not effort.rules:
        return []
    judge = Judge(problem, np.array([problem.start_s]), np.array([problem.length_s]))
    rules = search(problem, judge, effort.rules, effort.climbs, 4)[:BEST_RULES]
    found = [on for rule in rules for on in _fitted(problem, rule_pattern(problem, rule), before)]
    return [on for on, _ in _cheapest(problem, found, before, BEST_RULES)] if found else []


def _fitted(problem: Problem, on: Pattern, before: Before) -> list[Pattern]:
    """A rule's pattern as it may be begun: a spell that the failure of the grid cuts short is left out, or
    made as long as the shortest.
    """
    first = int(np.argmin(on)) if not on.all() else len(on)
    without, longer = on.copy(), on.copy()
    without[:first], longer[: max(first, problem.patterns.least_on)] = False, first > 0
    tried = [on, without, longer] if first else [on]
    return [p for p in tried if problem.patterns.allows(p, before.on, before.age, before.started)]


def rule_pattern(problem: Problem, rule: Rule) -> Pattern:
    """The slots in which a daily rule has the machine on."""
    at_min = (problem.start_s + problem.lead_s + SLOT_S * np.arange(problem.slots)) / 60.0
    on = np.zeros(problem.slots, dtype=bool)
    for start, length in rule:
        on |= (at_min - start) % 1440.0 < length
    return on


def _best(problem: Problem, found: Sequence[Pattern], before: Before) -> Solution:
    """The cheapest by replay; the first of equals. With nothing found, never running is what is left."""
    return _cheapest(problem, found or [np.zeros(problem.slots, dtype=bool)], before, 1)[0]


def _cheapest(problem: Problem, found: Iterable[Pattern], before: Before, most: int) -> list[Solution]:
    """The cheapest few by replay, each once."""
    patterns = list({on.tobytes(): on for on in found}.values())
    parts, switching = price_patterns(problem, patterns, before)
    order = np.argsort(parts.sum(axis=1) + switching, kind="stable")[:most]
    return [(patterns[i], CostParts.of(parts[i], float(switching[i]))) for i in order.tolist()]
