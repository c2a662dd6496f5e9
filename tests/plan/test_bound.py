"""The lower bound against every allowed pattern, one by one: bound <= optimum <= replay of anything, always."""

from __future__ import annotations

from itertools import product
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from running_houses import HOUR_S, running_house, steady
from test_bound_boxes import ODD, engine_states, example, has_fuel, some_turns

from hearthold.plan.asked import Asked
from hearthold.plan.bound import refine
from hearthold.plan.bound.kernels import layout as b
from hearthold.plan.bound.kernels.search import new_room
from hearthold.plan.bound.lower import lower_bound, pose_bound
from hearthold.plan.polish import price_patterns
from hearthold.plan.problem import Problem, pose
from hearthold.plan.solve import solve


def optimum_j(problem: Problem) -> float:
    """Least replay cost over all patterns that rules and fuel allow, by plain enumeration."""
    every = (np.array(bits) for bits in product((False, True), repeat=problem.slots))
    found = [on for on in every if problem.patterns.allows(on)]
    parts, switching = price_patterns(problem, found)
    costs = parts.sum(axis=1) + switching
    for i in np.argsort(costs, kind="stable").tolist():
        if has_fuel(found[i], engine_states(problem, found[i])[0]):
            return float(costs[i])
    return inf


@settings(max_examples=120, derandomize=True, deadline=None)
@given(st.sampled_from(sorted(ODD)), st.floats(-25.0, 35.0), st.integers(0, 86_399), st.integers(4, 13))
def test_never_above_the_optimum(odd: str, mean_c: float, start_s: int, slots: int) -> None:
    problem = pose(
        running_house(**ODD[odd]), steady(mean_c), Asked(start_s=48 * HOUR_S + start_s, hours=slots / 4.0)
    )
    best_j = optimum_j(problem)
    free, pruned = lower_bound(problem, seconds=6.0), lower_bound(problem, best_j, seconds=0.5)
    for bound in (free, pruned):
        assert bound.proven
        assert bound.value_j <= best_j + 1.0
        assert all(level.least_j <= best_j + 2.0 for level in bound.levels)


@pytest.mark.parametrize("odd", ["usual", "night", "short", "wet"])
def test_never_above_what_the_planner_finds(odd: str) -> None:
    problem = pose(running_house(**ODD[odd]), steady(-6.0), Asked(start_s=42 * HOUR_S, hours=48.0))
    _, parts = solve(problem)
    bound = lower_bound(problem, seconds=6.0)
    assert bound.proven
    assert 0.0 < bound.value_j <= parts.total_j
    assert bound.gap_frac(parts.total_j) == pytest.approx(parts.total_j / bound.value_j - 1.0)


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.sampled_from(sorted(ODD)), st.floats(-25.0, 35.0), st.integers(0, 86_399), st.floats(0.01, 0.3))
def test_whatever_is_kept_apart_and_up_to_whatever_goal(
    odd: str, mean_c: float, start_s: int, rise: float
) -> None:
    """Which boxes are joined and which go back to the level before makes a bound loose or tight, never wrong."""
    problem = pose(running_house(**ODD[odd]), steady(mean_c), Asked(start_s=48 * HOUR_S + start_s, hours=3.0))
    best_j, case = optimum_j(problem), pose_bound(problem)
    room = new_room(200_000, 20_000, len(case.z0))
    for store in refine.buckets(case):
        levels = refine.Levels(case, inf, 60.0, room)
        assert levels.add(())
        for width in (4.0, 0.25, 1.0):
            assert levels.add((store.scaled(width),), levels.value_j * (1.0 + rise))
        cost = refine.Bucket(0, b.BY_COST, max(1.0, 0.01 * levels.value_j))
        assert levels.add((cost, store.scaled(8.0)), levels.value_j * (1.0 + rise))
        assert levels.add((*refine.buckets(case), refine.Bucket(0, b.BY_BEGUN, 1.0)))
        assert all(level.least_j <= best_j + 1.0 for level in levels.done)
        assert [x.least_j for x in levels.done] == sorted(x.least_j for x in levels.done)


def test_a_tighter_bound_than_the_first_level_is_reached() -> None:
    problem = pose(running_house(**ODD["night"]), steady(-12.0), Asked(start_s=42 * HOUR_S, hours=24.0))
    _, parts = solve(problem)
    levels = lower_bound(problem, parts.total_j, seconds=2.0).levels
    assert len(levels) > 1
    assert levels[-1].least_j > levels[0].least_j


def test_room_that_runs_out_voids_the_level(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(refine, "LAYER", 3)
    problem = pose(running_house(), steady(2.0), Asked(start_s=42 * HOUR_S, hours=12.0))
    bound = lower_bound(problem)
    assert not bound.proven
    assert bound.value_j == 0.0
    assert bound.gap_frac(1.0) == inf
    assert "did not end" in bound.statement


def test_time_that_runs_out_voids_the_level() -> None:
    from hearthold.plan.bound.kernels.search import sweep

    case = pose_bound(pose(running_house(), steady(2.0), Asked(start_s=42 * HOUR_S, hours=12.0)))
    none = np.zeros((0, 2), dtype=np.int64)
    room = new_room(100_000, 10_000, len(case.z0))
    least_j, failed = sweep(
        case.frame, case.rules, case.z0, case.c0, inf, none, np.zeros(0), -1, room, np.ones(1)
    )
    assert failed
    assert least_j < -1e20


def test_a_battery_is_not_covered_and_it_says_so() -> None:
    battery = '[battery]\ncapacity = "10 kWh"\ncharge = "2 kW"\ndischarge = "3 kW"\n'
    problem = pose(running_house(battery), steady(5.0), Asked(start_s=42 * HOUR_S, hours=12.0))
    bound = lower_bound(problem)
    assert not bound.proven
    assert bound.statement.startswith("No lower bound: a house battery")


@settings(max_examples=80, derandomize=True, deadline=None)
@given(
    st.sampled_from(sorted(ODD)),
    st.floats(-25.0, 35.0),
    st.integers(0, 86_399),
    st.integers(4, 12),
    st.integers(0, 99),
)
def test_never_above_the_optimum_where_circuits_go_in_turns(
    odd: str, mean_c: float, start_s: int, slots: int, seed: int
) -> None:
    house = running_house(**ODD[odd])
    asked = Asked(start_s=48 * HOUR_S + start_s, hours=slots / 4.0, turns=some_turns(house, seed))
    problem = pose(house, steady(mean_c), asked)
    best_j = optimum_j(problem)
    bound = lower_bound(problem, seconds=6.0)
    assert bound.proven
    assert all(level.least_j <= best_j + 1.0 for level in bound.levels)


@pytest.mark.parametrize("name", ["tarn_hollow", "skerrow_croft"])
def test_the_example_houses_with_their_turns(name: str) -> None:
    house = example(name)
    problem = pose(house, steady(5.0), Asked(start_s=42 * HOUR_S, hours=24.0).settled(house))
    assert problem.turns.changes > 0
    _, parts = solve(problem)
    bound = lower_bound(problem, seconds=5.0)
    assert bound.proven
    assert 0.0 < bound.value_j <= parts.total_j


def test_the_same_twice() -> None:
    problem = pose(running_house(), steady(2.0), Asked(start_s=42 * HOUR_S, hours=12.0))
    first, second = lower_bound(problem, seconds=5.0), lower_bound(problem, seconds=5.0)
    common = min(len(first.levels), len(second.levels))
    assert [x.least_j for x in first.levels[:common]] == [x.least_j for x in second.levels[:common]]
