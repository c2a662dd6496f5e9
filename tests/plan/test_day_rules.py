"""The days of a run plan as rules: what they are, and that a routine that breaks limits is no dearer for them."""

import numpy as np
from running_houses import HOUR_S, running_house, steady

from hearthold.plan.asked import Asked
from hearthold.plan.problem import pose
from hearthold.plan.routine import FAILS_AT_S, best_rules
from hearthold.plan.rule_search import Judge, coarse, day_rules, rule_set
from hearthold.plan.solve import QUICK, solve


def test_a_plan_of_days_alike_is_their_rule():
    """Spells at 06:00 for 2 h and 14:30 for 75 min, each day: half hours and rungs of the ladder, read off by hand."""
    problem = pose(running_house(), steady(), Asked(24 * HOUR_S, 48.0))
    on = np.zeros(problem.slots, dtype=bool)
    for day in (0, 96):
        on[day + 24 : day + 32] = True
        on[day + 58 : day + 63] = True  # 14:30 to 15:45
    found = set(day_rules(problem, on))
    assert found == {((360, 90), (870, 45)), ((360, 120), (870, 60)), ((360, 150), (870, 90))}


def test_rules_of_a_house_that_breaks_limits_are_no_dearer_than_the_grid_and_the_days_of_a_plan():
    """A hot month: every rule of the coarse grid, priced one by one, and every day of a plan of the same outage."""
    house = running_house(spells="2")
    outside, asked = steady(24.0), Asked(FAILS_AT_S, 72.0)
    problem, ranked, _ = best_rules(house, outside, asked)
    judge = Judge(problem, np.array([FAILS_AT_S]), np.array([problem.length_s]))
    best = judge.costs_j(ranked[:1])[ranked[0]]
    assert best >= problem.objective.breach_j  # the fridge does not last the night
    on, _ = solve(problem, QUICK)
    rules = rule_set(problem)
    others = [r for r in (*coarse(rules), *day_rules(problem, on)) if rules.allows(r)]
    assert best <= min(judge.costs_j(others).values()) * (1.0 + 1e-9)
