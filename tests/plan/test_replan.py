"""Planning again from readings: quantiles, rationing, and what to do now."""

from __future__ import annotations

import numpy as np
import pytest
from running_houses import HOUR_S, running_house, steady

from hearthold.engine.kernels import layout as c
from hearthold.engine.run import simulate
from hearthold.errors import InputError
from hearthold.plan.asked import Asked
from hearthold.plan.bound.lower import Bound
from hearthold.plan.now import Now, before_now, compile_now
from hearthold.plan.problem import Problem, pose
from hearthold.plan.replan import plan_from, remaining_s, replan

LENGTHS_S = [6 * HOUR_S, 12 * HOUR_S, 24 * HOUR_S, 48 * HOUR_S, 96 * HOUR_S]
HOUSE = running_house(night="true", spells="4")
AT_S = 34 * HOUR_S


def test_remaining_time_is_the_quantile_of_those_that_last_longer() -> None:
    assert remaining_s(LENGTHS_S, 10 * HOUR_S, 0.99) == 86 * HOUR_S
    assert remaining_s(LENGTHS_S, 10 * HOUR_S, 0.01) == 2 * HOUR_S
    assert remaining_s(LENGTHS_S, 0.0, 0.5) == 24 * HOUR_S
    assert remaining_s(LENGTHS_S, 200 * HOUR_S, 0.5) == 200 * HOUR_S  # longer than any: as long again


def test_remaining_time_of_an_ageless_length_does_not_age() -> None:
    """Exponential lengths: whatever has passed, the median left is the mean times ln 2."""
    draws = np.random.default_rng(2).exponential(20 * HOUR_S, 200_000)
    for passed_h in (0.0, 10.0, 30.0):
        left = remaining_s(draws, passed_h * HOUR_S, 0.5)
        assert left == pytest.approx(20 * HOUR_S * np.log(2.0), rel=0.03)


def test_readings_are_where_the_replay_begins() -> None:
    now = Now(AT_S, air_c=14.0, mass_c=16.0, cold_c={"fridge": 6.5}, fuel_tank_m3=0.004, fuel_stock_m3=0.01)
    trace = simulate(compile_now(HOUSE, now), steady(), replan(HOUSE, steady(), now, LENGTHS_S).plan.control,
                     start_s=AT_S, hours=1.0)  # fmt: skip
    assert trace.air_c[0] == pytest.approx(14.0)
    assert trace.mass_c[0] == pytest.approx(16.0)
    assert trace.cold_c[0, 0] == pytest.approx(6.5)
    assert trace.fuel_m3[0] == pytest.approx(0.004)
    assert trace.stock_m3[0] == pytest.approx(0.01)


def test_a_thawing_freezer_is_put_in_its_segment() -> None:
    made = compile_now(HOUSE, Now(AT_S, cold_c={"chest": -2.0}, core_c={"chest": -12.0}))
    row, knots = made.world.cold[1], made.world.knots[1]
    for value, place in ((-2.0, c.C_SEG1), (-12.0, c.C_SEG2)):
        i = int(row[place])
        assert knots[i] <= value < knots[i + 1]


def test_a_warm_fridge_is_cooled_at_once_and_a_cold_one_waits() -> None:
    warm = replan(HOUSE, steady(), Now(AT_S, cold_c={"fridge": 4.3}), LENGTHS_S)
    cold = replan(HOUSE, steady(), Now(AT_S, cold_c={"fridge": 1.8}), LENGTHS_S)
    assert warm.run_now
    assert warm.sentence.startswith("Start it now")
    assert not cold.run_now
    assert cold.until_s > HOUR_S
    assert "start at" in cold.sentence


def test_fuel_is_rationed_over_the_time_planned_for() -> None:
    now = Now(AT_S, fuel_tank_m3=0.006, fuel_stock_m3=0.0)
    short = replan(HOUSE, steady(), now, LENGTHS_S, 0.3)
    long = replan(HOUSE, steady(), now, LENGTHS_S, 0.99)
    assert short.planned_for_s < long.planned_for_s
    assert long.fuel_day_m3 < short.fuel_day_m3
    assert long.plan.fuel_m3 <= 0.006 + 1e-9


def test_what_runs_is_kept_running_for_its_shortest_spell() -> None:
    answer = replan(HOUSE, steady(), Now(AT_S, running=True, since_s=900.0, started_today=1), LENGTHS_S)
    assert answer.run_now
    assert answer.until_s >= 2 * 900.0
    assert answer.sentence.startswith("Keep it running until")


def test_a_spell_of_unknown_beginning_may_go_on_and_may_be_ended() -> None:
    problem = pose(HOUSE, steady(), Asked(AT_S, 24.0))
    before = before_now(problem, Now(AT_S, running=True))
    assert (before.on, before.started) == (True, 1)
    for slots in (0, 4, problem.patterns.most_on - before.age):
        on = np.zeros(problem.slots, dtype=bool)
        on[:slots] = True
        assert problem.patterns.allows(on, before.on, before.age, before.started)
    assert before_now(problem, Now(AT_S, running=True, since_s=AT_S)).started == 0  # since yesterday


@pytest.mark.parametrize("fridge_c", [2.0, 5.0])
def test_a_running_machine_is_not_stopped_to_be_started_again(fridge_c: float) -> None:
    """What it has begun saves a start, so a warm fridge is cooled on, and a break is worth its while."""
    now = Now(AT_S, running=True, cold_c={"fridge": fridge_c}, fuel_tank_m3=0.015)
    answer = replan(HOUSE, steady(), now, LENGTHS_S)
    if fridge_c > 4.0:
        assert answer.run_now
    if not answer.run_now:
        assert answer.until_s >= HOUR_S


def test_who_asks_in_the_night_is_awake_and_may_stop_it() -> None:
    """At 03:00, quiet hours and everybody asleep but one: what runs against the wishes is stopped at once."""
    house = running_house()
    answer = replan(house, steady(), Now(27 * HOUR_S, running=True), LENGTHS_S)
    assert answer.sentence.startswith("Stop it now")
    assert answer.plan.pattern.any()


def test_nothing_is_proved_while_the_machine_runs() -> None:
    def prove(problem: Problem, cost_j: float) -> Bound:
        raise AssertionError("a proof was sought")

    answer = plan_from(HOUSE, steady(), Now(AT_S, running=True), 24.0, 1.0, prove=prove)
    assert answer.bound is not None
    assert not answer.bound.proven


def test_the_length_at_which_the_answer_changes_is_told_where_there_is_one() -> None:
    """A house cold enough to heat before a long night, not worth a start if the grid is back within the
    hour.
    """
    now = Now(AT_S, cold_c={"fridge": 4.3})
    answer = replan(HOUSE, steady(), now, LENGTHS_S, shorter=(0.05, 0.5))
    assert answer.changes_if_shorter_s is None or 0.0 < answer.changes_if_shorter_s < answer.planned_for_s


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(InputError, match="readings of cellar"):
        compile_now(HOUSE, Now(AT_S, cold_c={"cellar": 4.0}))
    with pytest.raises(InputError, match="allowed 0 and above"):
        compile_now(HOUSE, Now(AT_S, fuel_tank_m3=-0.001))
    with pytest.raises(InputError, match="allowed above 0 and below 1"):
        remaining_s(LENGTHS_S, 0.0, 1.0)
