"""Spending fuel where nobody knows how long the outage lasts: early hours are sure to come, late ones are not.

    weighed = weigh(found, sooner, lengths_s, elapsed_s)
    weighed.found.on, weighed.made_for_s

A plan for a long horizon saves fuel for hours that most outages never reach. So plans made for shorter times, each
carried on to the horizon with what they leave, stand beside it; each is cut off at a row of equally likely lengths and
priced by replay as an outage that ends there; the least mean is taken.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from hearthold.engine.kernels.layout import Array
from hearthold.plan.ahead import outlook
from hearthold.plan.labels import Before, Layers, View, even_layers, find_pattern
from hearthold.plan.objective import HOUR_S, SLOT_S, SLOTS_A_DAY
from hearthold.plan.parts import CostParts
from hearthold.plan.polish import Pattern, price_patterns
from hearthold.plan.problem import Problem, shortened
from hearthold.plan.replan import Sooner, Sought

LENGTHS = 16  # at which a plan is cut off
TAIL_WIDTH = 30
CLEAR_FRAC = (
    0.98  # of the mean loss: a plan that saves for the whole time is left only for what is clearly less
)


@dataclass(frozen=True, slots=True, eq=False)
class Weighed:
    """The plan taken, how long it was made for, and what it loses on average against the one for the whole time."""

    found: Sought
    whole: Sought  # the best for the whole time
    made_for_s: float
    mean_j: float
    whole_mean_j: float

    @property
    def saves_less(self) -> bool:
        """Whether it spends fuel sooner than a plan for the whole time."""
        return self.found is not self.whole


def weigh(found: Sought, sooner: Sequence[Sooner], lengths_s: ArrayLike, elapsed_s: float) -> Weighed:
    """The plan of least mean cost over how long the outage may still last. `sooner`: plans made for shorter times.

    One of these, carried on, may be the best for the whole time as well; then it is taken for that.
    Source: mean over the conditional distribution of lengths, by full simulation; what is compared are few plans, so
    that a better one may exist.
    """
    problem, before = found.problem, found.before
    made = [(found.hours * HOUR_S, found.on)]
    made += [(x.hours * HOUR_S, on) for x in sooner for on in _carried_on(problem, before, x.on, found.on)]
    patterns = [on for _, on in made]
    parts, switching = price_patterns(problem, patterns, before)
    plans = [
        replace(found, on=on, parts=CostParts.of(row, float(j)))
        for on, row, j in zip(patterns, parts, switching, strict=True)
    ]
    whole = min(range(len(plans)), key=lambda i: plans[i].parts.total_j)
    means = mean_costs_j(problem, patterns, ends_of(problem, lengths_s, elapsed_s), before)
    best = int(np.argmin(means))
    if means[best] > CLEAR_FRAC * means[whole]:
        best = whole
    made_for_s = made[best][0] if best != whole else made[0][0]
    return Weighed(plans[best], plans[whole], made_for_s, float(means[best]), float(means[whole]))


def ends_of(problem: Problem, lengths_s: ArrayLike, elapsed_s: float) -> tuple[int, ...]:
    """Equally likely ends from now on, as slots within the horizon: quantiles of the lengths above what has passed.

    Where none is, as long again as it has lasted.
    """
    known = np.asarray(lengths_s, dtype=float)
    left_s = known[known > elapsed_s] - elapsed_s if (known > elapsed_s).any() else np.array([elapsed_s])
    at = np.quantile(left_s, (np.arange(LENGTHS) + 0.5) / LENGTHS, method="inverted_cdf")
    return tuple(int(x) for x in np.clip(np.ceil((at - problem.lead_s) / SLOT_S), 1, problem.slots))


def mean_costs_j(problem: Problem, wanted: Sequence[Pattern], ends: Sequence[int], before: Before) -> Array:
    """Mean cost of each pattern over outages that end at these slots."""
    total = np.zeros(len(wanted))
    for end in sorted(set(ends)):
        parts, switching = price_patterns(shortened(problem, end), [on[:end] for on in wanted], before)
        total += ends.count(end) * (parts.sum(axis=1) + switching)
    return total / len(ends)


def _carried_on(problem: Problem, before: Before, first: Pattern, whole: Pattern) -> Iterator[Pattern]:
    """A pattern for a shorter time, and after it what a pass of labels finds, or what the plan for all of it does."""
    n = len(first)
    searched = find_pattern(
        problem, _tail(problem, first), width=TAIL_WIDTH, before=before, view=View(outlook=outlook(problem))
    )
    off = np.zeros(problem.slots - n, dtype=bool)
    tails = [whole[n:], off]
    if searched.reached == problem.slots:
        tails.insert(0, searched.on[n:])
    for tail in tails:
        on = np.concatenate([first, tail])
        if problem.patterns.allows(on, before.on, before.age, before.started):
            yield on


def _tail(problem: Problem, first: Pattern) -> Layers:
    """Slots as `first` has them, and after it half hours and hours that are free."""
    n = len(first)
    later = [edge for edge in even_layers(problem, 2, 4, SLOTS_A_DAY).edges.tolist() if edge > n]
    edges = np.array([*range(n + 1), *later], dtype=np.int64)
    forced = np.array([*first.astype(np.int64), *[-1] * (len(edges) - 1 - n)], dtype=np.int64)
    return Layers(edges, forced)
