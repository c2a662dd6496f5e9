"""For how long the limits can be kept: the plan that holds longest and, where it can be known, that none goes on.

    hold = longest_hold(problem)
    hold.until_s, hold.fails.name, hold.none_beyond_s

Where quiet hours leave so few patterns that all of them can be run, the last to break a limit tells both. Elsewhere a
search in which a label dies the moment a limit breaks gives a time that some plan reaches, shown by its replay.
"""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

import numpy as np

from hearthold.engine.control import RunPlan as Control
from hearthold.engine.kernels.layout import Array
from hearthold.engine.run import simulate
from hearthold.plan import objective as o
from hearthold.plan.every import every_pattern
from hearthold.plan.kept import StoreKept, first_broken, stores_kept
from hearthold.plan.labels import FRESH, Before, View, even_layers, find_pattern
from hearthold.plan.objective import HOUR_S, SLOT_S
from hearthold.plan.polish import Pattern, costs_j, polish
from hearthold.plan.problem import Problem, shortened, switched_freely
from hearthold.plan.solve import BREACHES, FINE_BUCKETS

SURVIVE_WIDTH, WIDER = 60, 300
DEAR = (1.0, 4.0, 16.0, 256.0)  # shadow prices on fuel, as multiples of its own
PASSES = (*((SURVIVE_WIDTH, shadow) for shadow in (0.0, *DEAR)), (WIDER, DEAR[-1]))
DRAWN_OUT_TRIES = 150
BREACH_COLUMNS = (*BREACHES.values(), o.COLD_W_PER_K, o.FOOD_LOST_J, o.LOWEST_J_PER_K, o.LOWEST_C, o.PIPE_W,
                  o.PIT_J_PER_M3, o.DRY_J_PER_M3, o.VITAL_W)  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Hold:
    """How long some plan keeps every limit, and what is known of all others."""

    until_s: float  # since the grid failed
    pattern: Pattern
    fails: StoreKept  # what fails first in its replay
    none_beyond_s: float | None  # where all allowed patterns were run: by then each has broken a limit


def longest_hold(problem: Problem, before: Before = FRESH) -> Hold:
    """How long some plan keeps every limit, that plan, and what fails first in its replay.

    All patterns where there are few; else passes in which any breach ends a label; fuel is cheap or more and more dear,
    labels few or many, comfort is free. The longest counts; then it is drawn out.
    """
    alone = _breaches_alone(problem)
    most_j = 0.99 * min(float(alone[column]) for column in BREACHES.values())
    # With nothing else priced, what is dropped is what breaks a limit.
    every = every_pattern(problem, alone, most_j, before)
    if every is not None:
        on = np.zeros(problem.slots, dtype=bool)
        on[: len(every.on)] = every.on
        held = _longer(problem, on, _edge_s(problem, every.reached), before)
        over = every.reached < problem.slots
        return Hold(*held, _edge_s(problem, every.reached + 1) if over else None)
    prices, priced = alone.copy(), [o.FUEL_J_PER_M3, o.START_J, o.RESTORE_FRAC]
    prices[priced] = problem.prices[priced]

    def one(width: int, shadow: float) -> tuple[int, Pattern]:
        found = find_pattern(
            problem,
            even_layers(problem, 1),
            width=width,
            before=before,
            most_j=most_j,
            view=View(prices=prices, shadow=shadow),
        )
        return found.reached, found.on

    with ThreadPoolExecutor(os.cpu_count()) as pool:
        passes = list(pool.map(one, *zip(*PASSES, strict=True)))
    reached = max(r for r, _ in passes)
    longest = {on.tobytes(): on for r, on in passes if r == reached}
    found = (_longer(problem, on, _edge_s(problem, reached), before) for on in longest.values())
    return Hold(*max(found, key=lambda h: h[0]), None)


def _edge_s(problem: Problem, slots: int) -> float:
    """The end of so many slots, since the grid failed; 0 before the first."""
    return problem.lead_s + slots * SLOT_S if slots else 0.0


def _longer(
    problem: Problem, on: Pattern, least_s: float, before: Before
) -> tuple[float, Pattern, StoreKept]:
    """A pattern, drawn out where that helps. Of water only the time from which jugs stand in for it is known."""
    until_s, _, fails = held = _held(problem, on, least_s)
    if until_s >= problem.length_s or fails.kind == "water":
        return held
    drawn = [
        _held(problem, _drawn_out(problem, on, until_s, width, before)) for width in (SURVIVE_WIDTH, WIDER)
    ]
    return max((held, *(h for h in drawn if h[2].kind != "water")), key=lambda h: h[0])


def _held(problem: Problem, on: Pattern, least_s: float = 0.0) -> tuple[float, Pattern, StoreKept]:
    """How long a pattern keeps every limit, by its replay, and what fails then (or is nearest to it).

    `least_s`: for how long it is known to keep them.
    """
    stores = stores_of(problem, on)
    broken = _first_failing(problem, on, stores)
    if broken is None:  # kept to the end of the horizon after all
        return problem.length_s, on, min((s for s in stores if s.hard), key=lambda s: s.margin)
    return max(least_s, broken.first_s), on, broken


def _first_failing(problem: Problem, on: Pattern, stores: tuple[StoreKept, ...]) -> StoreKept | None:
    """The store whose limit breaks first. Taps run dry before the jugs do: of water only the slot is known in which
    what stands in jugs is used up.
    """
    broken = first_broken(stores)
    if broken is None or broken.kind != "water":
        return broken
    edge_s = _edge_s(problem, _slots_kept(problem, on))
    others = first_broken(stores, but="water")
    if others is not None and others.first_s < edge_s + SLOT_S:
        return others
    return replace(broken, first_s=edge_s)


def _slots_kept(problem: Problem, on: Pattern) -> int:
    """Slots at whose end a pattern has broken nothing, by replays cut short; accounts only grow."""
    free = switched_freely(replace(problem, prices=_breaches_alone(problem)))
    kept, broken = 0, problem.slots
    while broken - kept > 1:
        tried = (kept + broken) // 2
        if costs_j(shortened(free, tried), [on[:tried]])[0] > 0.0:
            broken = tried
        else:
            kept = tried
    return kept


def _drawn_out(problem: Problem, on: Pattern, until_s: float, width: int, before: Before) -> Pattern:
    """The pattern changed in small ways so that what breaks within the hour after `until_s` does so as late and as
    little as can be.
    """
    slots = min(problem.slots, int((until_s + HOUR_S - problem.lead_s) / SLOT_S) + 1)
    prices = _breaches_alone(problem)
    prices[list(BREACHES.values())] = 0.0  # the extents alone
    short = switched_freely(replace(shortened(problem, slots), prices=prices))
    starts = [on[:slots]]
    near = find_pattern(short, even_layers(short, 1), width=width, buckets=FINE_BUCKETS, before=before)
    starts += [near.on] if near.reached == slots else []
    costs = costs_j(short, starts, before)
    best, _ = polish(short, starts[int(np.argmin(costs))], float(costs.min()), DRAWN_OUT_TRIES, before)
    return np.concatenate([best, np.zeros(problem.slots - slots, dtype=bool)])


def _breaches_alone(problem: Problem) -> Array:
    """Prices of breaches and their extents, and nothing else."""
    prices = problem.prices.copy()
    prices[[c for c in range(o.PRICE_COUNT) if c not in BREACH_COLUMNS]] = 0.0
    return prices


def stores_of(problem: Problem, on: Pattern) -> tuple[StoreKept, ...]:
    """What becomes of each store under a pattern, by its replay."""
    control = Control(problem.spells_of(on), problem.handling)
    trace = simulate(
        problem.plain, problem.outside, control, start_s=problem.start_s, hours=problem.length_s / HOUR_S
    )
    return stores_kept(problem.house, trace)
