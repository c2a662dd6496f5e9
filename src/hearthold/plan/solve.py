"""The search for the best pattern of one outage: passes of labels, then narrow corridors about what was found.

    on, parts = solve(problem)

A few passes run side by side, one that decides quarter hours and two that decide half hours. After them, corridors
about the best of what they found: passes in which only the quarter hours about each switch are free, with finer
buckets, again and again about the best in hand. Where limits break, the breaches found are taken as given (one that
cannot be avoided must not be put off in vain), and where fuel runs short, passes that ration it and the best daily
rules take the place of corridors. Of what comes out, days that went well are put in the place of others, and the best
is changed in small ways. Whatever the passes say, every candidate is priced by a replay, and the cheapest is given.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from hearthold.engine.kernels.layout import Array
from hearthold.plan import objective as o
from hearthold.plan.ahead import NOTHING_AHEAD, Outlook, outlook
from hearthold.plan.labels import (
    FRESH,
    USUAL_BUCKETS,
    Before,
    Buckets,
    Ration,
    View,
    corridor,
    even_layers,
    find_pattern,
)
from hearthold.plan.objective import SLOT_S
from hearthold.plan.parts import CostParts
from hearthold.plan.polish import Pattern, polish, price_patterns
from hearthold.plan.problem import Problem
from hearthold.plan.repeat import repeated
from hearthold.plan.rule_search import Judge, Rule, search
from hearthold.plan.threads import side_by_side

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
NEAR_MARGIN = 5.0  # starts of the machine that a label of a corridor may be dearer than the best, limits kept
# With what stride fuel that will not last is rationed, and how: two bend where they must, one hardly does.
RATIONED = ((1, Ration(64.0, 0.1)), (1, Ration(20.0, 0.3)), (2, Ration(1e5, 0.25)))
FIRST_BUCKETS = {1: Buckets(cold_run_s=600.0)}  # by stride; the usual ones where none are named
NEAR_BUCKETS = Buckets(cold_run_s=600.0)
FINE_BUCKETS = Buckets(cold_run_s=400.0)
ENOUGH_FRAC = 1e-3  # a corridor that gains less has come to its end
BEST_RULES = 8
# Plans from the first passes that are followed, and daily rules; most small changes go to the best.
STARTS = 2
FIRST_TRIES = 60  # of each of them


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to search. Widths are labels a layer in a small house; a large one, whose labels take
    longer, has fewer.

    `passes`: the first, side by side: slots decided as one, and whether the house may cool in what is foreseen of
    fridges; `near_width`, `corridors`, `reaches`: labels, most passes and slots left free about each switch, in turn,
    of the corridors; `tries`: patterns run for small changes at the end where limits break, `always_tries` where they
    are kept.
    """

    passes: tuple[tuple[int, bool], ...] = ((1, False), (2, False), (2, True))
    width: int = 56
    near_width: int = 56
    corridors: int = 3
    reaches: tuple[int, ...] = (2, 1, 1)
    tries: int = 200
    always_tries: int = 60
    rules: int = 60  # daily rules tried where fuel runs short, and climbed from; 0: none
    climbs: int = 1
    later: int = 0  # stride in slots from slot `after` on; 0: the same throughout
    after: int = 96


QUICK = Effort(passes=((2, False),), width=50, near_width=50, corridors=2, tries=100, always_tries=0)
USUAL = Effort()
THOROUGH = Effort(
    width=400,
    near_width=400,
    corridors=30,
    reaches=(2, 4, 1),
    tries=3000,
    always_tries=2000,
    rules=10**6,
    climbs=4,
)

Solution = tuple[Pattern, CostParts]


def solve(problem: Problem, effort: Effort = USUAL, before: Before = FRESH) -> Solution:
    """The best pattern found and its cost by replay."""
    foreseen = outlook(problem)
    prices = _without(problem, BREACHES) if foreseen.food_must_break else None
    starts = _passes(problem, effort, before, _first_ways(effort, prices, foreseen))
    found = _cheapest(problem, starts or [_never(problem)], before, STARTS)
    if not found[0][1].kept:
        return _where_limits_break(problem, effort, before, found, foreseen)
    kept = _days_repeated(problem, effort, before, [start for start in found if start[1].kept])
    ended = side_by_side(lambda start: _corridors(problem, start, effort, before), kept)
    best = _min(_days_repeated(problem, effort, before, ended))
    return _polished(problem, [best], effort.always_tries, before)


def _first_ways(effort: Effort, prices: Array | None, foreseen: Outlook) -> list[tuple[int, View]]:
    """Stride and view of each of the first passes."""
    warm = foreseen.held_warm()
    return [(stride, View(prices, outlook=foreseen if cools else warm)) for stride, cools in effort.passes]


def _min(found: Sequence[Solution]) -> Solution:
    return min(found, key=_cost_j)


def _cost_j(found: Solution) -> float:
    return found[1].total_j


def _width(problem: Problem, width: int) -> int:
    """Labels a layer for this house: time goes with the loads that the engine settles at every event."""
    return max(12, round(width * min(1.0, SMALL_LOADS / max(1, len(problem.compiled.load_ids)))))


def _passes(
    problem: Problem, effort: Effort, before: Before, ways: Sequence[tuple[int, View]]
) -> list[Pattern]:
    """First passes of several strides and views, side by side. Only those that reach the end count."""

    def one(way: tuple[int, View]) -> Pattern | None:
        stride, view = way
        layers = even_layers(problem, stride, effort.later, effort.after)
        buckets = FIRST_BUCKETS.get(stride, USUAL_BUCKETS)
        width = _width(problem, effort.width)
        found = find_pattern(problem, layers, width=width, buckets=buckets, before=before, view=view)
        return found.on if found.reached == problem.slots else None

    return [on for on in side_by_side(one, ways) if on is not None]


def _corridors(
    problem: Problem, start: Solution, effort: Effort, before: Before, foreseen: Outlook = NOTHING_AHEAD
) -> Solution:
    """Corridor after corridor about the best in hand, each with the next reach, until a round of them gains
    nothing.

    One that ends a little worse may still lead on, so the next is laid about it; after two, about the best.
    """
    best, about, idle = start, start[0], 0
    for n in range(effort.corridors):
        kept = best[1].kept
        view = (
            View(margin_j=NEAR_MARGIN * problem.objective.start_j)
            if kept
            else View(_eased(problem, best[1]), outlook=foreseen)
        )
        found = find_pattern(
            problem,
            corridor(about, before.on, effort.reaches[n % len(effort.reaches)]),
            width=_width(problem, effort.near_width),
            buckets=NEAR_BUCKETS if kept else FINE_BUCKETS,
            before=before,
            view=view,
        )
        new = _best(problem, [found.on], before) if found.reached == problem.slots else best
        gained = new[1].total_j < best[1].total_j * (1.0 - ENOUGH_FRAC)
        best = _min([best, new])
        idle = 0 if gained else idle + 1
        if idle >= len(effort.reaches):
            break
        about = new[0] if idle < 2 else best[0]
    return best


def _eased(problem: Problem, parts: CostParts) -> Array:
    """Prices without the fixed sums of the breaches found, so that none is put off in vain."""
    return _without(problem, [name for name in BREACHES if getattr(parts, name) > 0.0])


def _without(problem: Problem, names: Iterable[str]) -> Array:
    """The prices with the fixed sums of some breaches left out."""
    eased = problem.prices.copy()
    eased[[BREACHES[name] for name in names]] = 0.0
    return eased


def _where_limits_break(
    problem: Problem, effort: Effort, before: Before, found: list[Solution], foreseen: Outlook
) -> Solution:
    """Passes with the breaches found taken as given where they were not, and corridors; or, where there is too little
    fuel, passes that ration it and daily rules. Then days repeated, and small changes.
    """
    prices, plain = _eased(problem, found[0][1]), [on for on, _ in found]
    rules: list[Pattern] = []
    if _is_scarce(problem, found[0][1]):
        rules, *more = side_by_side(
            lambda way: way(), _ways_to_ration(problem, effort, before, View(prices, outlook=foreseen))
        )
        starts = _cheapest(problem, [*plain, *(on for some in more for on in some)], before, len(RATIONED))
    else:
        again = [] if foreseen.food_must_break else _first_ways(effort, prices, foreseen)
        starts = _cheapest(problem, [*plain, *_passes(problem, effort, before, again)], before, STARTS)
        starts = side_by_side(lambda s: _corridors(problem, s, effort, before, foreseen), starts)
    starts = sorted(_days_repeated(problem, effort, before, starts), key=_cost_j)[:STARTS]
    ruled = _cheapest(problem, rules, before, STARTS) if rules else []
    return _polished(problem, [*starts, *ruled], effort.tries, before)


def _ways_to_ration(
    problem: Problem, effort: Effort, before: Before, eased: View
) -> list[Callable[[], list[Pattern]]]:
    """Daily rules, which take the longest, and passes that ration fuel, each in its way."""
    ways: list[Callable[[], list[Pattern]]] = [lambda: daily_rules(problem, effort, before)]
    for stride, ration in RATIONED:
        view = replace(eased, ration=ration)
        ways.append(partial(_passes, problem, effort, before, [(stride, view)]))
    return ways


def _days_repeated(
    problem: Problem, effort: Effort, before: Before, starts: Sequence[Solution]
) -> list[Solution]:
    """Each of some plans after the best of its days has been put in the place of others."""
    if not effort.tries:
        return list(starts)
    made = side_by_side(lambda s: repeated(problem, s[0], s[1].total_j, before)[0], starts)
    return [_best(problem, [on], before) for on in made]


def _polished(problem: Problem, starts: Sequence[Solution], tries: int, before: Before) -> Solution:
    """Small changes to several plans: a few to each, then to one day of the best and all like it, most to the best."""
    if not tries:
        return _min(starts)
    made = [(on, parts.total_j) for on, parts in starts]
    if len(made) > 1:
        made = side_by_side(lambda s: polish(problem, *s, min(FIRST_TRIES, tries), before), made)
        made = [repeated(problem, *min(made, key=lambda s: s[1]), before)]
    on, cost_j = made[0]
    on, _ = polish(problem, on, cost_j, tries, before)
    return _best(problem, [on], before)


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


def or_a_rule(
    problem: Problem, best: Solution, rules: Sequence[Rule], effort: Effort, before: Before = FRESH
) -> Solution:
    """The best in hand, or one of some daily rules with small changes where that is cheaper."""
    found = [on for rule in rules for on in _fitted(problem, rule_pattern(problem, rule), before)]
    if not found:
        return best
    return _min([best, _polished(problem, _cheapest(problem, found, before, STARTS), effort.tries, before)])


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
    return _cheapest(problem, found or [_never(problem)], before, 1)[0]


def _never(problem: Problem) -> Pattern:
    return np.zeros(problem.slots, dtype=bool)


def _cheapest(problem: Problem, found: Iterable[Pattern], before: Before, most: int) -> list[Solution]:
    """The cheapest few by replay, each once."""
    patterns = list({on.tobytes(): on for on in found}.values())
    parts, switching = price_patterns(problem, patterns, before)
    order = np.argsort(parts.sum(axis=1) + switching, kind="stable")[:most]
    return [(patterns[i], CostParts.of(parts[i], float(switching[i]))) for i in order.tolist()]
