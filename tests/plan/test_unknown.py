"""Where nobody knows how long, fuel is spent sooner if that loses less on average, and only then."""

from __future__ import annotations

import numpy as np
import pytest
from running_houses import HOUR_S, running_house, steady

from hearthold.plan.asked import Asked
from hearthold.plan.labels import FRESH
from hearthold.plan.now import Now
from hearthold.plan.outage import OutagePlan, Span, plan_outage
from hearthold.plan.polish import price_patterns
from hearthold.plan.problem import Problem, pose
from hearthold.plan.unknown import ends_of, mean_costs_j

AT_S = 42 * HOUR_S
HOUSE = running_house(fuel="1.5 gal", night="true", spells="4")


def posed(hours: float) -> Problem:
    return pose(HOUSE, steady(0.0), Asked(AT_S, hours))


def planned(lengths_h: list[float], sure_frac: float = 0.99) -> OutagePlan:
    span = Span(None, np.array(lengths_h) * HOUR_S, sure_frac)
    return plan_outage(HOUSE, steady(0.0), Now(AT_S), span)


def mean_j(pattern: np.ndarray, lengths_h: list[float]) -> float:
    """One outage of each length, posed and priced by itself."""
    costs = []
    for hours in lengths_h:
        problem = posed(hours)
        parts, switching = price_patterns(problem, [pattern[: problem.slots]])
        costs.append(float(parts[0].sum() + switching[0]))
    return sum(costs) / len(costs)


def test_where_most_are_short_fuel_is_spent_sooner_and_less_is_lost_on_average() -> None:
    lengths_h = [24.0] * 14 + [120.0] * 2  # sixteen, as many as a plan is cut off at
    found = planned(lengths_h)
    weighed = found.weighed
    assert weighed is not None
    assert weighed.saves_less
    assert found.plan.horizon_s == 120 * HOUR_S
    assert mean_j(found.plan.pattern, lengths_h) == pytest.approx(weighed.mean_j, rel=1e-9)
    assert weighed.mean_j < 0.98 * weighed.whole_mean_j
    # what the day is kept for is burned in it
    burned_m3 = np.cumsum(found.plan.trace.burn_m3_per_s) * 60.0
    assert burned_m3[24 * 60] > 0.5 * found.plan.fuel_m3


def test_where_all_are_as_long_it_is_the_plan_for_that_length() -> None:
    found = planned([72.0] * 8)
    assert found.weighed is not None
    assert not found.weighed.saves_less
    alone = plan_outage(HOUSE, steady(0.0), Now(AT_S), Span(72.0))
    assert found.plan.cost.total_j <= alone.plan.cost.total_j


def test_nothing_is_weighed_where_every_limit_is_kept_or_the_length_is_known() -> None:
    assert plan_outage(HOUSE, steady(0.0), Now(AT_S), Span(72.0)).weighed is None
    ample = running_house(night="true", spells="4")
    span = Span(None, np.array([24.0, 30.0]) * HOUR_S, 0.9)
    assert plan_outage(ample, steady(8.0), Now(AT_S), span).weighed is None


def test_ends_are_equally_likely_lengths_that_exceed_what_has_passed() -> None:
    """Uniform lengths up to 96 h, of which 32 h have passed: what is left is uniform up to 64 h."""
    problem = posed(48.0)
    ends = np.array(ends_of(problem, np.arange(1, 9601) * 36.0, 32 * HOUR_S)) / 4.0
    by_hand = np.minimum((np.arange(16) + 0.5) / 16.0 * 64.0, 48.0)
    assert ends == pytest.approx(by_hand, abs=0.26)
    assert ends_of(problem, [3600.0], 10 * HOUR_S) == (40,) * 16  # none is so long: as long again


def test_the_mean_is_that_of_each_end_by_itself() -> None:
    problem = posed(48.0)
    on = np.arange(problem.slots) % 40 < 8
    ends = (20, 20, 100, 192)
    assert mean_costs_j(problem, [on], ends, FRESH)[0] == pytest.approx(
        mean_j(on, [x / 4.0 for x in ends]), rel=1e-9
    )
