"""One day's running on all days after it.

Days are much alike, and how well a search does differs from day to day by chance: a label dropped, fuel spent early.
So the running of each day, from four times of day on, is tried on all days after it, and that of each two days.
"""

from __future__ import annotations

import numpy as np

from hearthold.plan.labels import FRESH, Before
from hearthold.plan.objective import SLOTS_A_DAY
from hearthold.plan.polish import Pattern, costs_j, kept_states
from hearthold.plan.problem import Problem

DAYS = (1, 2)
APART = SLOTS_A_DAY // 4  # slots between the moments from which a day is taken,
MOMENTS = 24  # and how many there are at most, so that time grows with the outage and not with its square
ENOUGH_FRAC = 1e-4


def repeated(problem: Problem, on: Pattern, cost_j: float, before: Before = FRESH) -> tuple[Pattern, float]:
    """The pattern after the best of its days has been put in the place of others, again and again; its cost.

    Never worse than what was given.
    """
    while True:
        tried = _with_a_day_repeated(problem, on, before)
        if not tried:
            return on, cost_j
        costs = costs_j(problem, tried, before, kept_states(problem, on, before))
        best = int(np.argmin(costs))
        if costs[best] >= cost_j * (1.0 - ENOUGH_FRAC):
            return on, cost_j
        on, cost_j = tried[best], float(costs[best])


def _with_a_day_repeated(problem: Problem, on: Pattern, before: Before) -> list[Pattern]:
    made = {}
    for period in (SLOTS_A_DAY * days for days in DAYS):
        moments = range(0, problem.slots - period, APART)
        for first in moments[:: 1 + len(moments) // MOMENTS]:
            new = on.copy()
            new[first + period :] = np.resize(on[first : first + period], problem.slots - first - period)
            made[new.tobytes()] = new
    return [
        new for new in made.values() if problem.patterns.allows(new, before.on, before.age, before.started)
    ]
