"""What is told of fuel is what the replay did: spells end where it ends, and trips leave when somebody must."""

from __future__ import annotations

import numpy as np
import pytest
from running_houses import HOUR_S, running_house, steady

from hearthold.plan.asked import Asked
from hearthold.plan.now import Now
from hearthold.plan.parts import CostParts
from hearthold.plan.polish import price_patterns
from hearthold.plan.problem import pose
from hearthold.plan.replan import replan
from hearthold.plan.runplan import RunPlan, described
from hearthold.plan.words import moment
from hearthold.sizing.burn import burn

GALLON_M3 = 0.003785411784  # NIST SP 811
TRIP = 'trip = { time = "90 min", brings = "5 gal", works_in_outage = true }'


def four_hours_a_day(days: int = 4, **house: str) -> RunPlan:
    """The grid fails at 06:00; the machine is wanted from 08:00 to 12:00 every day, fuel or not."""
    problem = pose(running_house(**house), steady(), Asked(30 * HOUR_S, 24.0 * days))
    at_h = 6.0 + 0.25 * np.arange(problem.slots)
    on = (at_h % 24.0 >= 8.0) & (at_h % 24.0 < 12.0)
    parts, switching = price_patterns(problem, [on])
    return described(problem, on, CostParts.of(parts[0], float(switching[0])))


def test_spells_are_cut_where_the_fuel_ends_and_none_comes_after() -> None:
    plan = four_hours_a_day(fuel="2 gal")
    ran_s = sum(s.length_s for s in plan.spells)
    assert len(plan.spells) == plan.starts < 4
    assert ran_s == pytest.approx(plan.run_s, abs=0.1)
    assert [s.runs_dry for s in plan.spells] == [False] * (plan.starts - 1) + [True]
    assert plan.spells[-1].end_s == plan.fuel_ends_s
    # no-load share over the time it ran plus slope times the energy it gave (Willans line) is all there was
    line, energy_j = burn(running_house(fuel="2 gal")), float(plan.trace.outcomes.energy_j[0])
    by_hand = (line.line.no_load_fuel_w * ran_s + line.line.slope_w_per_w * energy_j) / line.lhv_j_per_m3
    assert by_hand == pytest.approx(2.0 * GALLON_M3, rel=1e-6)
    # the minutes of the trace, which know nothing of the log that spells are cut by
    on = np.flatnonzero(plan.trace.machine_frac > 0.0)
    assert plan.fuel_ends_s == pytest.approx(60.0 * (on[-1] + plan.trace.machine_frac[on[-1]]), abs=0.1)


def test_fuel_that_lasts_leaves_every_spell_as_it_was_wanted() -> None:
    plan = four_hours_a_day(fuel="20 gal")
    wanted = [((2.0 + 24.0 * d) * HOUR_S, (6.0 + 24.0 * d) * HOUR_S) for d in range(4)]
    assert [(s.start_s, s.end_s) for s in plan.spells] == wanted
    assert not any(s.runs_dry for s in plan.spells)
    assert plan.fuel_ends_s == float("inf")
    assert plan.trips == ()


def test_what_runs_from_the_first_moment_on_is_a_spell() -> None:
    problem = pose(running_house(fuel="2 gal"), steady(), Asked(34 * HOUR_S, 12.0))
    for slots, dry in ((6, False), (problem.slots, True)):
        on = np.arange(problem.slots) < slots
        parts, switching = price_patterns(problem, [on])
        plan = described(problem, on, CostParts.of(parts[0], float(switching[0])))
        assert plan.spells[0].start_s == 0.0
        assert plan.spells[0].end_s == pytest.approx(plan.run_s, abs=0.1)
        assert plan.spells[0].runs_dry == dry


def test_without_fuel_there_is_no_spell() -> None:
    plan = four_hours_a_day(fuel="0 gal")
    assert plan.spells == ()
    assert plan.fuel_ends_s == 0.0


def test_a_trip_leaves_when_less_than_a_tank_is_left_and_is_back_with_what_it_brings() -> None:
    plan = four_hours_a_day(tank="1 gal", fuel="2 gal", trip=TRIP)
    assert plan.trips
    at_home = plan.trace.fuel_m3 + plan.trace.stock_m3
    for trip in plan.trips:
        assert trip.back_s - trip.leave_s == 90 * 60.0
        assert trip.brings_m3 == pytest.approx(5.0 * GALLON_M3)
        before, after = int(np.ceil(trip.leave_s / 60.0)), int(np.ceil(trip.back_s / 60.0)) + 1
        assert at_home[before] < 1.0 * GALLON_M3
        burned = plan.trace.burn_m3_per_s[before:after].sum() * 60.0
        assert at_home[after] - at_home[before] + burned == pytest.approx(trip.brings_m3, rel=1e-3)


def test_with_nothing_at_home_the_first_spell_waits_for_whoever_fetches_fuel() -> None:
    plan = four_hours_a_day(days=1, fuel="0 gal", trip=TRIP.replace("90 min", "3 h"))
    assert plan.trips[0].leave_s == 0.0
    assert plan.spells[0].start_s == pytest.approx(
        3.0 * HOUR_S, abs=600.0
    )  # back at 09:00, and the tank filled
    assert plan.spells[0].end_s == 6.0 * HOUR_S


def test_the_sentence_says_that_somebody_has_to_drive_at_once() -> None:
    house = running_house(fuel="0 gal", trip=TRIP, night="true", spells="4")
    answer = replan(house, steady(), Now(34 * HOUR_S), [96 * HOUR_S])
    assert not answer.run_now
    assert answer.sentence.endswith(
        "Somebody leaves for fuel now, to be back at 11:30: without it there is nothing to run on."
    )
    assert answer.until_s >= 1.5 * HOUR_S


@pytest.mark.parametrize(
    ("now_h", "at_h", "words"),
    [
        (20.0, 20.5, "at 20:30"),
        (23.5, 24.25, "at 00:15"),  # past midnight, and plain all the same
        (20.0, 30.0, "tomorrow at 06:00"),
        (20.0, 52.5, "in 2 days, on day 3, at 04:30"),
        (10.0, 23.0, "at 23:00"),
        (30.0, 24 * 6 + 15.25, "in 5 days, on day 6, at 15:15"),  # now lies on the second day of the weather
    ],
)
def test_a_moment_that_is_not_near_has_its_day(now_h: float, at_h: float, words: str) -> None:
    assert moment(now_h * HOUR_S, at_h * HOUR_S) == words
