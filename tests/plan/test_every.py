"""All patterns at once, against enumeration one by one: how long the last of them keeps every limit."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from running_houses import HOUR_S, running_house, steady
from test_bound_boxes import ODD, engine_states, has_fuel

from hearthold.plan import every
from hearthold.plan.asked import Asked
from hearthold.plan.bound.counts import DEAR_J, breaches_priced
from hearthold.plan.every import every_pattern
from hearthold.plan.hold import longest_hold
from hearthold.plan.polish import costs_j
from hearthold.plan.problem import Problem, pose, shortened


def last_slot_kept(problem: Problem) -> int:
    """Slots for which some allowed pattern that has fuel keeps every limit, pattern by pattern and slot by slot."""
    for slots in range(problem.slots, 0, -1):
        short = shortened(problem, slots)
        found = [np.array(bits) for bits in product((False, True), repeat=slots)]
        found = [on for on in found if short.patterns.allows(on)]
        kept = np.flatnonzero(costs_j(short, found) < DEAR_J)
        if any(has_fuel(found[i], engine_states(short, found[i])[0]) for i in kept.tolist()):
            return slots
    return 0


@settings(max_examples=25, derandomize=True, deadline=None)
@given(st.sampled_from(sorted(ODD)), st.floats(-25.0, 35.0), st.integers(0, 86_399))
def test_no_pattern_goes_further_and_one_goes_so_far(odd: str, mean_c: float, start_s: int) -> None:
    house = running_house(**(ODD[odd] | {"inflow": "24 gal/h"}))  # a pit that floods within an hour or so
    problem = breaches_priced(
        pose(house, steady(mean_c), Asked(start_s=48 * HOUR_S + start_s, hours=2.5)), DEAR_J
    )
    found = every_pattern(problem, problem.prices, 0.99 * DEAR_J)
    assert found is not None
    assert found.reached == last_slot_kept(problem)
    assert costs_j(shortened(problem, found.reached), [found.on[: found.reached]])[0] < DEAR_J


def test_too_many_patterns_are_not_run() -> None:
    problem = pose(running_house(night="true", spells="5"), steady(8.0), Asked(42 * HOUR_S, 72.0))
    assert every_pattern(problem, problem.prices, np.inf) is None
    assert longest_hold(problem).none_beyond_s is None


def test_as_many_as_there_are_fit_and_one_fewer_do_not(monkeypatch: pytest.MonkeyPatch) -> None:
    """Four slots, spells and pauses of any length, three spells: 16 patterns in the last, all different."""
    house = running_house(shortest="15 min", longest="1 h", spells="3", night="true")
    problem = pose(house, steady(8.0), Asked(42 * HOUR_S, 1.0))
    problem.patterns.may_switch[:] = True
    allowed = sum(problem.patterns.allows(np.array(on)) for on in product((False, True), repeat=4))
    monkeypatch.setattr(every, "MOST", allowed)
    assert every_pattern(problem, problem.prices, np.inf) is not None
    monkeypatch.setattr(every, "MOST", allowed - 1)
    assert every_pattern(problem, problem.prices, np.inf) is None
