"""What every plan that keeps all limits needs at least: starts of the machine, litres of fuel.

    fewest_starts(problem, seconds=1.0), least_fuel_m3(problem, seconds=1.0)

The bound of `lower` with nothing priced but what is counted, and a breach so dear that no plan with one comes near.
Starts are whole numbers: kept apart by their count, boxes give nothing of it away (docs/method/bound.md, Counting).
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil, inf

import numpy as np

from hearthold.plan import objective as o
from hearthold.plan.bound.lower import Bound, lower_bound
from hearthold.plan.objective import LITRE_J, Objective
from hearthold.plan.problem import Problem, switched_freely

NOTHING = Objective(
    start_j=0.0, wake_j=0.0, refill_j=0.0, trip_j=0.0, night_w=0.0, air_w_per_k=0.0, hot_j_per_m3=0.0, task_w=0.0,
    cycle_w=0.0, jug_j_per_m3=0.0, restore_frac=0.0,
)  # fmt: skip
BREACHES = [
    o.FOOD_BREACH_J,
    o.HOUSE_BREACH_J,
    o.PIPE_BREACH_J,
    o.PIT_BREACH_J,
    o.WATER_BREACH_J,
    o.VITAL_BREACH_J,
]
DEAR_J = 1e6 * LITRE_J  # a breach, where something else is counted: no count comes near


def breaches_priced(problem: Problem, breach_j: float, **priced: float) -> Problem:
    """The same problem with nothing priced but breaches, each alike, and what is named (J, as in `Objective`)."""
    objective = replace(NOTHING, breach_j=breach_j, vital_breach_j=breach_j, **priced)
    prices = np.zeros_like(problem.prices)
    prices[BREACHES], prices[o.LOWEST_C] = breach_j, problem.prices[o.LOWEST_C]
    prices[o.START_J] = objective.start_j
    return switched_freely(replace(problem, objective=objective, prices=prices))


def fewest_starts(problem: Problem, known: float = inf, seconds: float = 1.0) -> tuple[int, Bound]:
    """Fewest starts of the machine in any plan that keeps all limits; 0 where nothing is proven.

    `known`: starts of some plan that keeps them, where there is one.
    """
    bound = lower_bound(breaches_priced(problem, DEAR_J, start_j=LITRE_J), known * LITRE_J, seconds)
    return (ceil(bound.value_j / LITRE_J - 1e-6) if bound.proven else 0), bound


def least_fuel_m3(problem: Problem, known_m3: float = inf, seconds: float = 1.0) -> tuple[float, Bound]:
    """Least fuel, m3, that any plan burns that keeps all limits; 0 where nothing is proven."""
    counted, lhv = breaches_priced(problem, DEAR_J), problem.prices[o.FUEL_J_PER_M3]
    counted.prices[o.FUEL_J_PER_M3] = lhv
    bound = lower_bound(counted, known_m3 * lhv, seconds)
    return (bound.value_j / lhv if bound.proven else 0.0), bound
