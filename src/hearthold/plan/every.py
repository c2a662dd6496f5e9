"""Every allowed pattern at once, while there are few: what no plan can do, by running all of them.

    found = every_pattern(problem, prices, most_j)   # None where there are too many

Quiet hours leave few ways to run a machine on the first evening. Labels that are neither joined nor dropped are all
beginnings of allowed patterns, each run by the engine itself. One that costs more than `most_j` is not followed: cost
only grows. So the slot that the last of them reaches is the last that any pattern reaches: no bound is as sharp.
"""

from __future__ import annotations

from hearthold.engine.kernels.layout import Array
from hearthold.plan.labels import FRESH, Before, Buckets, Found, View, even_layers, find_pattern
from hearthold.plan.problem import Problem, shortened

MOST = 6000  # beginnings in one slot
FIRST_SLOTS = 16  # looked at first, twice as many each time: too many of them are soon too many
# So narrow that no two patterns share one; where two did all the same, nothing is said.
APART = Buckets(mass_k=1e-7, tank_k=1e-7, cold_run_s=1e-6, fuel_frac=1e-9, battery_frac=1e-9)


def every_pattern(problem: Problem, prices: Array, most_j: float, before: Before = FRESH) -> Found | None:
    """The cheapest of all allowed patterns of at most `most_j`, in prices of its own; None where there are too many.

    `reached` of what is found: the slots after which every allowed pattern has cost more; the horizon where one never
    does.
    """
    slots = FIRST_SLOTS
    while True:
        slots = min(slots, problem.slots)
        short = shortened(problem, slots)
        found = find_pattern(
            short,
            even_layers(short, 1),
            width=MOST,
            buckets=APART,
            before=before,
            most_j=most_j,
            view=View(prices=prices),
        )
        if found.peak > MOST or found.merged:
            return None
        if found.reached < slots or slots == problem.slots:
            return found
        slots *= 2
