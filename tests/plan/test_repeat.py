"""Days put in the place of others: never worse, allowed, and what one good day is worth is found on all."""

from __future__ import annotations

import numpy as np
import pytest
from running_houses import HOUR_S, running_house, steady

from hearthold.plan.asked import Asked
from hearthold.plan.objective import SLOTS_A_DAY
from hearthold.plan.polish import costs_j, pattern
from hearthold.plan.problem import Problem, pose
from hearthold.plan.repeat import repeated

GOOD = (10, 16), (48, 52)  # a day from 18:00 on: an hour and a half from 20:30, an hour from 06:00


@pytest.fixture(scope="module")
def problem() -> Problem:
    return pose(running_house(fuel="60 gal"), steady(8.0), Asked(start_s=42 * HOUR_S, hours=96.0))


def days(*of: tuple[tuple[int, int], ...]) -> np.ndarray:
    spells = [(SLOTS_A_DAY * n + a, SLOTS_A_DAY * n + b) for n, day in enumerate(of) for a, b in day]
    return pattern(spells, SLOTS_A_DAY * len(of))


def test_a_good_day_takes_the_place_of_bad_ones_after_it(problem: Problem) -> None:
    """After two good days one without any running and one of four hours more: the best is four good days."""
    on, best = days(GOOD, GOOD, (), ((4, 16),)), days(GOOD, GOOD, GOOD, GOOD)
    assert problem.patterns.allows(on)
    cost_j, best_j = costs_j(problem, [on, best]).tolist()
    assert best_j < cost_j
    found, found_j = repeated(problem, on, cost_j)
    assert found_j <= best_j * (1.0 + 1e-9)
    assert problem.patterns.allows(found)
    assert costs_j(problem, [found])[0] == found_j


def test_nothing_is_made_worse_or_forbidden(problem: Problem) -> None:
    random, tried = np.random.default_rng(3), 0
    while tried < 10:
        on = np.repeat(random.random(problem.slots // 6) < 0.3, 6)
        if not problem.patterns.allows(on):
            on &= problem.patterns.may_run
            continue
        cost_j = float(costs_j(problem, [on])[0])
        found, found_j = repeated(problem, on, cost_j)
        assert found_j <= cost_j
        assert problem.patterns.allows(found)
        tried += 1


def test_an_outage_of_a_day_has_no_day_to_repeat() -> None:
    problem = pose(running_house(), steady(8.0), Asked(start_s=42 * HOUR_S, hours=24.0))
    on = days(GOOD)
    assert repeated(problem, on, 1.0)[0] is on
