"""How long the limits can be kept at most: the shortest time for which the lower bound rules every plan out.

    cannot_beyond_s(problem, until_s, seconds=1.0)

With every price but those of breaches at nothing, a plan that keeps all limits costs nothing. So where the bound on
the same problem, cut short, reaches the price of a breach, no allowed pattern keeps them for so long; and as accounts
only grow, none does for longer. The bound is valid for the engine (docs/method/bound.md), and so is this.
"""

from __future__ import annotations

from hearthold.plan.bound.counts import breaches_priced
from hearthold.plan.bound.lower import Bound, lower_bound
from hearthold.plan.objective import SLOT_S
from hearthold.plan.problem import Problem, shortened

LEAST_FRAC = 0.5  # of the price of a breach
EACH_FRAC = 0.2  # of the time, for one bound: where it rules nothing out it takes all it is given


def cannot_beyond_s(problem: Problem, until_s: float, seconds: float = 1.5) -> float | None:
    """A time, in seconds since the failure, for which no plan keeps every limit; the shortest found in `seconds`.

    `until_s`: for how long some plan keeps them. None where the bound does not cover the house or rules nothing out.
    """
    holds = int((until_s - problem.lead_s) // SLOT_S)  # slots that some plan is known to keep
    ruled_out, step, left_s = problem.slots + 1, 1, seconds
    tried = problem.slots  # first of all: what the whole does not rule out, a part of it hardly will
    while holds < tried < ruled_out and left_s > 0.0:
        bound = _bound_on_breaches(problem, tried, min(EACH_FRAC * seconds, left_s))
        left_s -= bound.seconds  # of the search alone: compiling it, once, does not count
        if bound.proven and bound.value_j >= _enough_j(problem):
            ruled_out = tried
        elif tried == problem.slots:
            return None
        else:
            holds, step = tried, 2 * step
        tried = min(holds + step, (holds + ruled_out) // 2)
    return problem.lead_s + ruled_out * SLOT_S if ruled_out <= problem.slots else None


def _enough_j(problem: Problem) -> float:
    """A bound that reaches this has found a breach in every pattern."""
    return LEAST_FRAC * problem.objective.breach_j * (1.0 - 1e-6)


def _bound_on_breaches(problem: Problem, slots: int, seconds: float) -> Bound:
    """The bound on the first slots, with breaches alone priced."""
    short = breaches_priced(shortened(problem, slots), problem.objective.breach_j)
    return lower_bound(short, LEAST_FRAC * problem.objective.breach_j, seconds)
