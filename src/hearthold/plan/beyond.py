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
    ruled_out, step, left_s = None, 1, seconds
    while holds < problem.slots and left_s > 0.0 and (ruled_out is None or ruled_out - holds > 1):
        if ruled_out is None:
            tried = min(problem.slots, holds + step)
            step *= 2
        else:
            tried = (holds + ruled_out) // 2
        bound = _bound_on_breaches(problem, tried, min(EACH_FRAC * seconds, left_s))
        left_s -= bound.seconds  # of the search alone: compiling it, once, does not count
        if bound.proven and bound.value_j >= _enough_j(problem):
            ruled_out = tried
        elif tried == problem.slots or not (bound.proven or bound.seconds):  # or the house is not covered
            break
        else:
            holds = tried
    return None if ruled_out is None else problem.lead_s + ruled_out * SLOT_S


def _enough_j(problem: Problem) -> float:
    """A bound that reaches this has found a breach in every pattern."""
    return LEAST_FRAC * problem.objective.breach_j * (1.0 - 1e-6)


def _bound_on_breaches(problem: Problem, slots: int, seconds: float) -> Bound:
    """The bound on the first slots, with breaches alone priced."""
    short = breaches_priced(shortened(problem, slots), problem.objective.breach_j)
    return lower_bound(short, LEAST_FRAC * problem.objective.breach_j, seconds)
