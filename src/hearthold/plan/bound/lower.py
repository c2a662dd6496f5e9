"""`lower_bound`: what every allowed pattern of running must cost at least, with what is proven said in words.

bound = lower_bound(problem, incumbent_cost=plan.cost.total_j, seconds=1.0)
bound.value_j, bound.proven, bound.statement
"""

from __future__ import annotations

import time
from dataclasses import dataclass, replace
from math import inf
from threading import Timer
from typing import Any

import numpy as np

from hearthold.engine.control import RunPlan
from hearthold.engine.trace import empty_tape
from hearthold.plan.bound.common import UnsupportedError
from hearthold.plan.bound.frame import Posed, posed
from hearthold.plan.bound.kernels import layout as b
from hearthold.plan.bound.kernels.layout import Array, Ints
from hearthold.plan.objective import LITRE_J
from hearthold.plan.problem import Problem

BOXES, LAYER = 1_500_000, 60_000
MOST_LEVELS = 9
SHORTEST_S = 0.05
PATIENCE = 3.0  # the next level is begun only if this many times the last one's time is left


@dataclass(frozen=True, slots=True)
class Level:
    """One level of refinement: width of its buckets (a share of the widest), boxes, least cost, seconds."""

    width: float
    boxes: int
    least_j: float
    seconds: float


@dataclass(frozen=True, slots=True)
class Bound:
    """A lower bound. `proven` is False where the problem is not covered or nothing could be finished."""

    value_j: float
    proven: bool
    statement: str
    levels: tuple[Level, ...]
    seconds: float

    def gap_frac(self, cost_j: float) -> float:
        """How much dearer a plan is than the bound; inf where there is none."""
        return cost_j / self.value_j - 1.0 if self.proven and self.value_j > 0.0 else inf


def lower_bound(problem: Problem, incumbent_cost: float = inf, seconds: float = 1.0) -> Bound:
    """A lower bound on the cost (joules of fuel) of every pattern that `problem.patterns` and the fuel allow.

    `incumbent_cost` is that of any allowed pattern: boxes that cost more are not followed. The value is valid
    for the engine as it stands (docs/method/bound.md); where the problem has a part that the proof does not
    cover, or not even the first level ends in time, `proven` is False and the statement says why. Runs without
    the interpreter lock, so that a search may go on beside it.
    """
    try:
        case = pose_bound(problem)
    except UnsupportedError as reason:
        return Bound(0.0, False, f"No lower bound: {reason}.", (), 0.0)
    warm_up(case)
    begun = time.perf_counter()
    levels = _refine(case, incumbent_cost * (1.0 + 1e-9) + 1.0, seconds)
    value_j = max((level.least_j for level in levels), default=-inf)
    value_j = min(value_j, _lifted(case, problem), incumbent_cost)
    took = time.perf_counter() - begun
    if not levels or value_j == -inf:
        return Bound(0.0, False, "No lower bound: the first level did not end in time or room.", (), took)
    return Bound(max(0.0, value_j), True, _statement(value_j, incumbent_cost), levels, took)


def pose_bound(problem: Problem) -> Posed:
    """The frame of the problem, from the engine's own state at the first slot's edge."""
    from hearthold.plan.bound.kernels.lead import lead_in
    from hearthold.plan.kernels.price import PART_COUNT, PART_RESTORE

    packed = problem.packed(RunPlan((), problem.handling), 1)
    state, parts = np.zeros(packed.state_size), np.zeros(PART_COUNT)
    lead_in(
        packed.w, packed.at, state, empty_tape(problem.compiled), problem.start_s, problem.lead_s, problem.prices,
        problem.offset_j, parts,
    )  # fmt: skip
    parts[PART_RESTORE] = 0.0
    return posed(problem, state, packed.at, parts)


def _lifted(case: Posed, problem: Problem) -> float:
    """The value up to which lemma 8 may lean on a vital load: one that is left dark costs at least its breach."""
    leans = bool((case.frame.slots[:, b.G_VITAL] != 0.0).any())
    return float(case.frame.par[b.F_VITAL_J]) if leans else inf


def _refine(case: Posed, most_j: float, seconds: float) -> tuple[Level, ...]:
    """Levels with ever finer buckets until the time is up, the bound meets the incumbent, or room runs out."""
    from hearthold.plan.bound.kernels.search import new_room

    kinds, widths = buckets(case)
    room, begun = new_room(BOXES, LAYER, len(case.z0)), time.perf_counter()
    levels: list[Level] = []
    child, to_go = np.zeros((0, 2), dtype=np.int64), np.zeros(0)
    for n in range(MOST_LEVELS):
        left = seconds - (time.perf_counter() - begun)
        if levels and PATIENCE * levels[-1].seconds > left:
            break
        width = 2.0 ** (1 - n) if n else inf
        keys = kinds if n and len(kinds) else kinds[:0]
        level = _level(case, most_j, keys, width * widths[: len(keys)], child, to_go, room, left)
        if level is None:
            break
        levels.append(replace(level, width=width))
        if level.least_j >= most_j or not len(kinds):
            break
        child, to_go = room.child[: level.boxes].copy(), room.to_go[: level.boxes].copy()
    return tuple(levels)


def _level(
    case: Posed,
    most_j: float,
    kinds: Ints,
    widths: Array,
    child: Ints,
    to_go: Array,
    room: Any,
    seconds: float,
) -> Level | None:
    """One sweep; None where time or room ran out, and then nothing of it counts."""
    from hearthold.plan.bound.kernels.search import sweep

    stop, begun = np.zeros(1), time.perf_counter()
    timer = Timer(max(seconds, SHORTEST_S), stop.__setitem__, (0, 1.0))
    timer.daemon = True
    timer.start()
    least_j, boxes, _, failed = sweep(
        case.frame, case.rules, case.z0, case.c0, most_j, kinds, 1.0 / widths, child, to_go, room, stop
    )
    timer.cancel()
    if failed:
        return None
    return Level(0.0, int(boxes), min(float(least_j), most_j), time.perf_counter() - begun)


def warm_up(case: Posed) -> None:
    """Compile the search, or load it from the cache, before the clock runs."""
    from hearthold.plan.bound.kernels.search import new_room, sweep

    kinds, nothing = np.zeros((0, 2), dtype=np.int64), np.zeros(0)
    room = new_room(8, 8, len(case.z0))
    sweep(case.frame, case.rules, case.z0, case.c0, -b.BIG, kinds, nothing, kinds, nothing, room, np.ones(1))


def buckets(case: Posed) -> tuple[Ints, Array]:
    """Fields that keep boxes apart, and the widths of their first buckets."""
    frame = case.frame
    kinds: list[tuple[int, int]] = []
    widths: list[float] = []
    if frame.par[b.F_HOUSE] != 0.0:
        kinds += [(b.Z_MH, 0), (b.Z_ML, 0)]
        widths += [1.0, 1.0]
    at = b.Z_FIRST
    for row in frame.cold:
        if row[b.C_ONE] != 0.0:
            kinds.append((at, 1))
            widths.append(0.5)
        at += b.ZC_COUNT
    return np.array(kinds, dtype=np.int64).reshape(-1, 2), np.array(widths)


def _statement(value_j: float, cost_j: float) -> str:
    """What is proven, in words."""
    least = (
        f"No allowed pattern of quarter hours costs less than {value_j / LITRE_J:.1f} litres of fuel worth"
    )
    if cost_j == inf:
        return f"{least}, by the engine."
    gap = max(0.0, cost_j / value_j - 1.0) if value_j > 0.0 else inf
    return f"{least}, by the engine; the plan in hand is within {100.0 * gap:.1f} % of the best possible."
