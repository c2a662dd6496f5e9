"""What every plan that keeps all limits needs at least, against every pattern one by one and against hand counts."""

from __future__ import annotations

from itertools import product
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from running_houses import HOUR_S, running_house, steady
from test_bound import optimum_j
from test_bound_boxes import ODD

from hearthold.plan.asked import Asked
from hearthold.plan.bound import refine
from hearthold.plan.bound.counts import DEAR_J, breaches_priced, fewest_starts, least_fuel_m3
from hearthold.plan.bound.lower import lower_bound
from hearthold.plan.now import Now
from hearthold.plan.objective import LITRE_J
from hearthold.plan.outage import Span, plan_outage
from hearthold.plan.polish import price_patterns
from hearthold.plan.problem import Problem, pose


def least_of_all(problem: Problem, part: int) -> float:
    """Least of one account over all allowed patterns without a breach, by plain enumeration; inf where none is."""
    every = (np.array(bits) for bits in product((False, True), repeat=problem.slots))
    parts, _ = price_patterns(problem, [on for on in every if problem.patterns.allows(on)])
    kept = parts.sum(axis=1) < DEAR_J
    return float(parts[kept, part].min()) if kept.any() else inf


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.sampled_from(["usual", "night", "short", "wet"]), st.floats(-25.0, 35.0), st.integers(0, 86_399))
def test_never_more_than_some_plan_needs(odd: str, mean_c: float, start_s: int) -> None:
    house = running_house(**(ODD[odd] | {"inflow": "9 gal/h"}))  # a pit that floods within three hours or so
    problem = pose(house, steady(mean_c), Asked(start_s=48 * HOUR_S + start_s, hours=2.75))
    starts = least_of_all(breaches_priced(problem, DEAR_J, start_j=LITRE_J), 1) / LITRE_J
    assert fewest_starts(problem)[0] <= max(starts, DEAR_J / LITRE_J if starts == inf else 0.0)
    counted = breaches_priced(problem, DEAR_J)
    counted.prices[0] = problem.prices[0]
    assert (
        least_fuel_m3(problem)[0] * problem.prices[0]
        <= min(least_of_all(counted, 0), optimum_j(counted)) + 1.0
    )


def test_a_pit_must_be_emptied_so_often() -> None:
    """24 gal of headroom at 12 gal/h last two hours, quiet hours none: twelve hours ask for at least five starts."""
    house = running_house(inflow="12 gal/h", night="true", spells="12", longest="15 min", shortest="15 min")
    problem = pose(house, steady(8.0), Asked(42 * HOUR_S, 12.0))
    fewest, bound = fewest_starts(problem)
    assert bound.proven
    assert fewest >= 5


def test_a_plan_with_as_many_is_proven_to_have_the_fewest() -> None:
    problem = pose(running_house(night="true", spells="5"), steady(8.0), Asked(42 * HOUR_S, 24.0))
    fewest, _ = fewest_starts(problem)
    assert fewest >= 2
    assert fewest_starts(problem, fewest)[0] == fewest


def test_what_is_proven_does_not_depend_on_the_clock() -> None:
    problem = pose(running_house(), steady(2.0), Asked(start_s=42 * HOUR_S, hours=24.0))
    first, second = lower_bound(problem, seconds=0.2), lower_bound(problem, seconds=0.2)
    assert first.clocked or second.clocked or first.value_j == second.value_j
    assert [x.boxes for x in first.levels][:3] == [x.boxes for x in second.levels][:3]


def test_a_clock_that_ran_out_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    usual = refine.Levels.tried

    def late(self: refine.Levels, *how: object) -> refine.Level | None:
        self.clocked = bool(self.done)
        return None if self.done else usual(self, *how)

    problem = pose(running_house(), steady(2.0), Asked(start_s=42 * HOUR_S, hours=12.0))
    assert "clock ran out" not in lower_bound(problem, seconds=0.2).statement
    monkeypatch.setattr(refine.Levels, "tried", late)
    bound = lower_bound(problem, seconds=0.2)
    assert bound.proven
    assert bound.clocked
    assert "clock ran out" in bound.statement


def test_a_plan_that_keeps_its_limits_never_starts_less_often() -> None:
    house = running_house(night="true", spells="5")
    planned = plan_outage(house, steady(8.0), Now(42 * HOUR_S), Span(24.0), prove_s=1.0)
    assert planned.plan.kept
    assert 1 <= planned.fewest_starts <= planned.plan.starts
