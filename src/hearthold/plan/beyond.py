"""How long the limits can be kept at most: the shortest time for which the lower bound rules every plan out.

    cannot_beyond_s(problem, until_s, seconds=1.0)

With every price but those of breaches at nothing, a plan that keeps all limits costs nothing. So where the bound on
the same problem, cut short, reaches the price of a breach, no allowed pattern keeps them for so long; and as accounts
only grow, none does for longer. The bound is valid for the engine (docs/method/bound.md), and so is this.
"""

from __future__ import annotations

import time
from dataclasses import replace

import numpy as np

from hearthold.plan import objective as o
from hearthold.plan.bound.lower import lower_bound
from hearthold.plan.objective import SLOT_S, Objective
from hearthold.plan.problem import Problem, shortened

LEAST_FRAC = 0.5  # of the price of a breach: what the bound must reach to have found one in every pattern
EACH_FRAC = 0.2  # of the time, for one bound: where it rules nothing out it takes all it is given
NOTHING = Objective(
    start_j=0.0, wake_j=0.0, refill_j=0.0, trip_j=0.0, night_w=0.0, air_w_per_k=0.0, hot_j_per_m3=0.0, task_w=0.0,
    cycle_w=0.0, jug_j_per_m3=0.0, restore_frac=0.0,
)  # fmt: skip


def cannot_beyond_s(problem: Problem, until_s: float, seconds: float = 1.5) -> float | None:
    """A time, in seconds since the failure, for which no plan keeps every limit; the shortest found in `seconds`.

    `until_s`: for how long some plan keeps them. None where the bound does not cover the house or rules nothing out.
    """
    begun = time.perf_counter()
    holds = int((until_s - problem.lead_s) // SLOT_S)  # slots that some plan is known to keep
    ruled_out, step = None, 1
    while holds < problem.slots and (ruled_out is None or ruled_out - holds > 1):
        left_s = seconds - (time.perf_counter() - begun)
        if left_s <= 0.0:
            break
        if ruled_out is None:
            tried = min(problem.slots, holds + step)
            step *= 2
        else:
            tried = (holds + ruled_out) // 2
        if _every_plan_breaks(problem, tried, min(EACH_FRAC * seconds, left_s)):
            ruled_out = tried
        elif tried == problem.slots:
            break
        else:
            holds = tried
    return None if ruled_out is None else problem.lead_s + ruled_out * SLOT_S


def _every_plan_breaks(problem: Problem, slots: int, seconds: float) -> bool:
    """Whether the bound on the first slots, with breaches alone priced, reaches the price of one."""
    objective = replace(
        NOTHING, breach_j=problem.objective.breach_j, vital_breach_j=problem.objective.breach_j
    )
    prices = np.zeros_like(problem.prices)
    kept = [o.LOWEST_C, o.FOOD_BREACH_J, o.HOUSE_BREACH_J, o.PIPE_BREACH_J, o.PIT_BREACH_J, o.WATER_BREACH_J]
    prices[kept] = problem.prices[kept]
    prices[o.VITAL_BREACH_J] = problem.objective.breach_j
    short = replace(shortened(problem, slots), objective=objective, prices=prices)
    short = replace(short, patterns=replace(short.patterns, switch_j=np.zeros(slots)))
    least_j = LEAST_FRAC * problem.objective.breach_j
    bound = lower_bound(short, least_j, seconds)
    return bound.proven and bound.value_j >= least_j * (1.0 - 1e-6)
