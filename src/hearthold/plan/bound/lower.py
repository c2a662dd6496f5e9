"""`lower_bound`: what every allowed pattern of running must cost at least, with what is proven said in words.

bound = lower_bound(problem, incumbent_cost=plan.cost.total_j, seconds=1.0)
bound.value_j, bound.proven, bound.statement
"""

from __future__ import annotations

import time
from dataclasses import dataclass
from math import inf

import numpy as np

from hearthold.engine.control import RunPlan
from hearthold.engine.trace import empty_tape
from hearthold.plan.bound.common import UnsupportedError
from hearthold.plan.bound.frame import Posed, posed
from hearthold.plan.bound.kernels import layout as b
from hearthold.plan.bound.refine import Level, refine
from hearthold.plan.objective import LITRE_J
from hearthold.plan.problem import Problem

CLOCKED = " The clock ran out before the work was done; with more time more may be proven."


@dataclass(frozen=True, slots=True)
class Bound:
    """A lower bound. `proven` is False where the problem is not covered or nothing could be finished."""

    value_j: float
    proven: bool
    statement: str
    levels: tuple[Level, ...]
    seconds: float
    clocked: bool = (
        False  # whether the clock, not the count of boxes, ended it: another run may prove another value
    )

    def gap_frac(self, cost_j: float) -> float:
        """How much dearer a plan is than the bound; inf where there is none."""
        return cost_j / self.value_j - 1.0 if self.proven and self.value_j > 0.0 else inf


def lower_bound(problem: Problem, incumbent_cost: float = inf, seconds: float = 1.0) -> Bound:
    """A lower bound on the cost (joules of fuel) of every pattern that `problem.patterns` and the fuel allow.

    `incumbent_cost` is that of any allowed pattern: boxes that cost more are not followed. The value is valid
    for the engine as it stands (docs/method/bound.md); where the problem has a part that the proof does not
    cover, or not even the first level ends in time, `proven` is False and the statement says why. `seconds` stand
    for a count of boxes, about as many as a core makes in them: the same is proven on any machine, unless the clock
    stops a level at `refine.CAP` times the seconds, and that is said. Runs without the interpreter lock, so that a
    search may go on beside it.
    """
    try:
        case = pose_bound(problem)
    except UnsupportedError as reason:
        return Bound(0.0, False, f"No lower bound: {reason}.", (), 0.0)
    warm_up(case)
    begun = time.perf_counter()
    found = refine(case, incumbent_cost * (1.0 + 1e-9) + 1.0, seconds)
    levels = tuple(found.done)
    value_j = min(found.value_j, _lifted(case, problem), incumbent_cost)
    took = time.perf_counter() - begun
    if not levels or value_j == -inf:
        return Bound(0.0, False, "No lower bound: the first level did not end in time or room.", (), took)
    told = _statement(value_j, incumbent_cost) + (CLOCKED if found.clocked else "")
    return Bound(max(0.0, value_j), True, told, levels, took, found.clocked)


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


def warm_up(case: Posed) -> None:
    """Compile the search, or load it from the cache, before the clock runs."""
    from hearthold.plan.bound.kernels.search import new_room, sweep

    room = new_room(8, 8, len(case.z0))
    none, nothing = np.zeros((0, 2), dtype=np.int64), np.zeros(0)
    sweep(case.frame, case.rules, case.z0, case.c0, -b.BIG, none, nothing, -1, room, np.ones(1))


def _statement(value_j: float, cost_j: float) -> str:
    """What is proven, in words."""
    least = (
        f"No allowed pattern of quarter hours costs less than {value_j / LITRE_J:.1f} litres of fuel worth"
    )
    if cost_j == inf:
        return f"{least}, by the engine."
    gap = max(0.0, cost_j / value_j - 1.0) if value_j > 0.0 else inf
    return f"{least}, by the engine; the plan in hand is within {100.0 * gap:.1f} % of the best possible."
