"""What fridges will still ask for, against cases that can be reckoned by hand, and that it only orders labels."""

from __future__ import annotations

from math import exp, isclose
from typing import Any

import numpy as np
import pytest
from running_houses import HOUR_S, running_house, steady

from hearthold.engine.control import RunPlan
from hearthold.engine.jit import entry
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array
from hearthold.plan.ahead import NOTHING_AHEAD, outlook
from hearthold.plan.asked import Asked
from hearthold.plan.kernels.ahead import CELLS_BELOW, COOL, FADE_FRAC, LIMIT_C, LOW_C, WARM, Ahead, ahead_j
from hearthold.plan.labels import View, even_layers, find_pattern
from hearthold.plan.objective import SLOT_S, USUAL_OBJECTIVE
from hearthold.plan.polish import costs_j
from hearthold.plan.problem import Problem, pose

START_S = 36 * HOUR_S  # noon of the second day


@entry
def _asked_j(ahead: Ahead, state: Array) -> float:
    return ahead_j(ahead, 0, 1, 0, 4, state)


def problem_of(hours: float, mean_c: float = 5.0, start_s: float = START_S, **changes: str) -> Problem:
    return pose(running_house(**changes), steady(mean_c), Asked(start_s, hours))


def test_a_cold_fridge_over_a_short_time_asks_for_nothing_and_a_long_one_for_a_start() -> None:
    short, long = outlook(problem_of(1.0)), outlook(problem_of(9.0))
    assert short.table[0, WARM, 0, 0, 0, 0] == 0.0
    assert long.table[0, WARM, 0, 0, 0, 0] >= USUAL_OBJECTIVE.start_j
    assert not long.food_must_break


def test_a_fridge_that_nothing_may_cool_costs_what_it_stands_above_its_limit() -> None:
    """No spell may begin: it warms as an exponential does, and every slot costs its mean excess."""
    problem = problem_of(8.0, mean_c=20.0, spells="1")
    problem.patterns.may_run[:] = False
    found = outlook(problem)
    row, cold = found.rows[0], problem.compiled.world.cold[0]
    par = problem.compiled.world.par
    room_c = max(0.5 * (par[c.P_HEAT_ON] + par[c.P_HEAT_OFF]), float(problem.outside.outdoor_c[36:44].mean()))
    assert cold[c.C_ROOM_AIR] == 1.0
    fade = exp(-cold[c.C_UA] * SLOT_S / problem.house.cold[0].fresh_j_per_k)
    assert isclose(row[FADE_FRAC], fade)
    temp, cost = row[LIMIT_C], 0.0
    for _ in range(problem.slots):
        after = room_c + (temp - room_c) * fade
        cost += USUAL_OBJECTIVE.cold_w_per_k * SLOT_S * (0.5 * (temp + after) - row[LIMIT_C])
        temp = after
    assert found.food_must_break  # so that the fixed sum is left out
    assert found.table[0, WARM, 0, 0, 0, CELLS_BELOW] == pytest.approx(
        cost, rel=0.03
    )  # between cells it is a line


def test_warmer_costs_no_less_and_later_is_no_dearer() -> None:
    table = outlook(problem_of(24.0, night="true")).table[0, WARM]
    assert (np.diff(table[:, 0, 0, :], axis=1) >= -1.0).all()
    assert table[-1].max() == 0.0
    assert table[0, 0, 0, 0] >= table[48, 0, 0, 0]


def test_where_a_battery_feeds_the_fridge_nothing_is_foreseen() -> None:
    battery = '[battery]\ncapacity = "10 kWh"\ncharge = "2 kW"\ndischarge = "3 kW"\n'
    problem = pose(running_house(battery), steady(), Asked(START_S, 24.0))
    assert outlook(problem) is NOTHING_AHEAD


def test_it_orders_labels_and_changes_no_cost() -> None:
    problem = problem_of(36.0, night="true", spells="4")
    for view in (View(), View(outlook=outlook(problem))):
        found = find_pattern(problem, even_layers(problem, 1), width=40, view=view)
        assert isclose(found.value_j, costs_j(problem, [found.on])[0], rel_tol=1e-12)


def test_in_a_tight_night_few_labels_find_a_way_that_they_would_miss() -> None:
    """Hot days with five spells: with the look ahead forty labels come out cheaper than without."""
    problem = problem_of(72.0, 27.0, 42 * HOUR_S, fuel="60 gal", night="true", spells="5")
    without, seen = (
        find_pattern(problem, even_layers(problem, 1), width=40, view=View(outlook=o)).value_j
        for o in (NOTHING_AHEAD, outlook(problem))
    )
    assert seen < without
    assert LOW_C < LIMIT_C


def test_in_a_cool_house_a_fridge_asks_for_less_and_in_a_hot_one_both_rooms_are_alike() -> None:
    """Walls between the two rooms: in proportion; held warm: as in the warm room, however cold they are."""
    found = outlook(problem_of(48.0, night="true"))
    cool, warm = found.table[0, COOL, :, 0, 0, 0], found.table[0, WARM, :, 0, 0, 0]  # a cold fridge, off
    assert (cool <= warm + 1.0).all()
    assert (cool < warm - USUAL_OBJECTIVE.start_j).any()
    problem = problem_of(48.0, mean_c=35.0, night="true")
    assert (outlook(problem).table[:, COOL] == outlook(problem).table[:, WARM]).all()
    at = problem.packed(RunPlan((), problem.handling), 1).at
    state = np.zeros(400)
    state[found.seen(at).places[0]] = found.rows[0, LIMIT_C] - 1.0

    def asked_j(seen: Any, walls_c: float) -> float:
        state[c.S_MASS] = walls_c
        return float(_asked_j(seen, state))

    seen, held = found.seen(at), found.held_warm().seen(at)
    warm_j, cool_j = asked_j(seen, found.warm_c + 1.0), asked_j(seen, found.cool_c - 5.0)
    assert cool_j < warm_j
    half_c = 0.5 * (found.warm_c + found.cool_c)
    assert asked_j(seen, half_c) == pytest.approx(0.5 * (warm_j + cool_j))
    assert asked_j(held, found.cool_c - 5.0) == pytest.approx(warm_j)
