"""Starts in the sets of loads that are on at one time, against hand sums and the sums the choice goes by."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from sizing_houses import circuit, farm, farm_hookup, load, motor

from hearthold.house.loads import Pattern, Priority
from hearthold.house.reader import read_house
from hearthold.house.supply import Hookup
from hearthold.plan.choice import choose, sets_on
from hearthold.plan.house import plan_house
from hearthold.sizing.supply import hardest_starts, most_asked, supply
from hearthold.sizing.together import asked, draws, on_together

EXAMPLES = Path(__file__).parents[2] / "examples"


def small(**given):
    loads = (
        motor("pump", "ab", 1000.0, 4000.0, voltage_v=240.0, power_factor=1.0, start_power_factor=1.0),
        load("kettle", "a", 1200.0, pattern=Pattern.ON_DEMAND),
        load("tank", "b", 2000.0),
        motor("fans", "c", 300.0, 500.0, power_factor=1.0, start_power_factor=1.0, count=3),
        load("iron", "a", 900.0, pattern=Pattern.ON_DEMAND, priority=Priority.DEFER),
    )
    circuits = (
        circuit("a", leg="A"),
        circuit("b", leg="B"),
        circuit("c", leg="B"),
        circuit("ab", poles=2, wire="12 AWG"),
    )
    return farm(loads=loads, circuits=circuits, cold=(), pits=(), water=None, hot_water=None, **given)


def test_the_hardest_set_counts_and_what_people_switch_is_in_it():
    house = small()
    pump, kettle, tank, *_ = house.loads
    source = supply(house)
    starts = {s.load: s for s in hardest_starts(house, source, [(pump, kettle), (pump, tank)])}
    # 4000 W on top of 2000 W; the kettle's 1200 W would be less
    assert starts["pump"].watts_frac == pytest.approx(6000.0 / source.start_w)
    assert starts["pump"].va_frac == pytest.approx(6000.0 / source.start_va)
    assert starts["pump"].dip_use_frac == pytest.approx(6000.0 / source.dip_va)
    # in no set, so alone: one of three fans
    assert starts["fans"].va_frac == pytest.approx(500.0 / source.start_va)


def test_other_pieces_of_the_same_load_run_already():
    house = small()
    kettle, fans = house.loads[1], house.loads[3]
    found = most_asked(house, (kettle, fans))
    # 1200 + 300 W running; a third of the fans starts with 500 VA while 200 W of them and the kettle run
    assert (found.running_w, found.running_va) == (pytest.approx(1500.0), pytest.approx(1500.0))
    assert found.start_va == found.start_w == pytest.approx(1900.0)


def test_nothing_that_starts_asks_what_runs():
    house = small()
    found = most_asked(house, (house.loads[1], house.loads[2]))
    assert found.start_w == found.running_w == pytest.approx(3200.0)


def test_what_can_wait_is_left_off_in_turns_and_not_behind_an_automatic_switch():
    house = small()
    assert "iron" not in {x.id for x in on_together(house, ["a"])}
    automatic = small(hookup=farm_hookup(kind="automatic_standby"))
    chosen = choose(automatic, supply(automatic))
    ((*everything,),) = sets_on(automatic, chosen)
    assert {x.id for x in everything} == {x.id for x in automatic.loads}


@pytest.mark.parametrize("name", ["tarn_hollow", "skerrow_croft"])
def test_same_sums_as_the_choice_of_circuits(name):
    house = read_house(EXAMPLES / f"{name}.toml")
    chosen = choose(house, supply(house))
    sets = sets_on(house, chosen)
    assert len(sets) == len(chosen.turns)
    for turn, on in zip(chosen.turns, sets, strict=True):
        found = most_asked(house, on)
        ways = asked(draws(house, turn), chosen.limits)
        want = {(x.what, x.unit): x.asked for x in ways if x.what in ("running", "start")}
        assert found.running_w == pytest.approx(want["running", "W"])
        assert found.running_va == pytest.approx(want["running", "VA"])
        assert found.start_w == pytest.approx(want["start", "W"])
        assert found.start_va == pytest.approx(want["start", "VA"])


@pytest.mark.parametrize("name", ["tarn_hollow", "skerrow_croft"])
def test_no_start_of_a_proven_turn_may_stall(name):
    """What is chosen to be on together and what is said of its starts go by one rule."""
    house = read_house(EXAMPLES / f"{name}.toml")
    source = supply(house)
    chosen = choose(house, source)
    carried = {c for turn in chosen.turns for c in turn}
    for start in hardest_starts(house, source, sets_on(house, chosen)):
        if house.load_by_id[start.load].circuit in carried:
            assert start.hard_frac <= 1.0 + 1e-9


def test_on_cords_a_routine_serves_what_has_a_plug_and_nothing_of_the_wiring():
    house = read_house(EXAMPLES / "tarn_hollow.toml")
    hookup = Hookup(kind="cords", cord={"wire": "14 AWG", "cable": "cord", "length": "75 ft"})
    plan = plan_house(replace(house, hookup=hookup), today=date(2026, 11, 25))
    assert plan.routine is not None
    assert "cord to Kitchen fridge" in plan.routine.switching
    assert {"house", "water"} <= {s.store for s in plan.routine.stores if not s.kept}
    assert next(s for s in plan.routine.stores if s.store == "fridge").kept
    assert plan.load_calculation is None
    assert plan.fuel.day_need_m3 == plan.routine.fuel_day_m3
    assert plan.choice.turns == ()
    assert plan.chain.delivered_w == pytest.approx(1800.0)
    # the sump pump plugs in and starts on top of the other appliances; the well pump is wired in
    named = {start.load for start in plan.starts}
    assert "sump_pump" in named
    assert "well_pump" not in named
