"""Pipes that freeze with the heating on as well: no running is spent on them."""

from dataclasses import replace

import numpy as np
import pytest
from running_houses import HOUR_S, running_house, steady

from hearthold.engine.control import AlwaysOn
from hearthold.engine.run import simulate
from hearthold.house.house import House
from hearthold.plan.asked import Asked
from hearthold.plan.kept import StoreKept
from hearthold.plan.runplan import RunPlan, plan_running

MEAN_C, SWING_K = -12.0, 6.0  # the coldest hour is -18 degC


def household(ratio: float, drained: str = "false") -> House:
    """Heated to 20 degC, so that its rooms are between 19.5 and 20.5."""
    given = running_house(drained=drained, fuel="60 gal", night="true", spells="4")
    return replace(given, heat=replace(given.heat, pipe_ratio=ratio))


def planned(house: House) -> RunPlan:
    return plan_running(house, steady(MEAN_C, swing_k=SWING_K), Asked(42 * HOUR_S, 48.0))


def pipes(plan: RunPlan) -> StoreKept:
    return next(s for s in plan.stores if s.kind == "pipes")


@pytest.mark.parametrize(("ratio", "freezes"), [(0.45, True), (0.5, False)])
def test_it_is_the_engine_with_power_all_the_time_that_decides(ratio, freezes):
    """-18 + 0.45 (19.5 + 18) = -1.1 and -18 + 0.5 (19.5 + 18) = 0.8 degC at the coldest hour, by hand."""
    house = household(ratio)
    trace = simulate(house, steady(MEAN_C, swing_k=SWING_K), AlwaysOn(delay_s=0.0), hours=48, fuel_m3=1.0)
    after = np.arange(len(trace.pipe_c)) > 120  # once every circuit is on
    assert bool((trace.pipe_c[after] < 0.0).any()) is freezes
    assert house.pipe_freezes_heated(MEAN_C - SWING_K) is freezes


def test_such_a_house_is_run_as_if_its_pipes_were_drained():
    given_up, drained = planned(household(0.45)), planned(household(0.45, drained="true"))
    assert np.array_equal(given_up.pattern, drained.pattern)
    assert given_up.kept
    assert not pipes(given_up).hard
    assert not pipes(given_up).kept


def test_pipes_that_heating_keeps_are_still_a_limit():
    plan, drained = planned(household(0.5)), planned(household(0.5, drained="true"))
    assert pipes(plan).hard
    assert plan.run_s > drained.run_s
