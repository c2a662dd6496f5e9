"""Demand: hand sums, invariants, and legs."""

from dataclasses import replace
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sizing_houses import circuit, cottage, farm, load, motor

from hearthold.house.loads import Pattern
from hearthold.physics.legs import Connection
from hearthold.sizing.demand import demand, running_currents
from hearthold.sizing.placement import placement


def small(loads, circuits):
    return farm(loads=tuple(loads), circuits=tuple(circuits))


def test_heater_and_motor_add_as_phasors():
    # 1000 W at pf 1 and 600 W at pf 0.6 (800 var): 1600 W, 800 var, 1788.9 VA; leg A 14.907 A
    house = small([load("h", "a", 1000.0), load("m", "a", 600.0, power_factor=0.6)], [circuit("a", leg="A")])
    found = demand(house).all_on
    assert found.total_w == pytest.approx(1600.0)
    assert found.total_va == pytest.approx(hypot(1600.0, 800.0))
    assert found.leg_a_a == pytest.approx(hypot(1600.0, 800.0) / 120.0)
    assert found.neutral_a == pytest.approx(found.leg_a_a)


def test_equal_legs_leave_the_neutral_empty_and_240_v_loads_never_touch_it():
    house = small(
        [load("x", "a", 1200.0), load("y", "b", 1200.0), load("z", "ab", 4800.0, voltage_v=240.0)],
        [circuit("a", leg="A"), circuit("b", leg="B"), circuit("ab", 30.0, 2, "10 AWG")],
    )
    found = demand(house).all_on
    assert found.neutral_a == pytest.approx(0.0, abs=1e-9)
    assert found.leg_a_a == found.leg_b_a == pytest.approx(10.0 + 20.0)
    assert found.imbalance_frac == 0.0


def test_planning_peak_is_what_runs_plus_the_worst_single_start():
    found = demand(farm()).worst_start
    assert found.what == "well"
    # by hand: 180 + 150 + 90 + 250 + 20 + 350 = 1040 W run by themselves, start 9360 x 0.8 = 7488 W
    assert found.demand.total_w == pytest.approx(1040.0 + 7488.0)


def test_order_of_the_five_demands():
    for house in (farm(), cottage()):
        found = demand(house)
        assert found.average.total_w <= found.cold_pickup.total_w <= found.all_on.total_w
        assert found.worst_start.demand.total_va <= found.start_together.total_va + found.all_on.total_va


@settings(derandomize=True, max_examples=50, deadline=None)
@given(st.floats(1.0, 5000.0), st.floats(0.5, 1.0), st.sampled_from(["A", "B", "AB"]), st.booleans())
def test_adding_a_load_never_lowers_watts_or_va(watts, factor, leg, is_motor):
    house = farm()
    poles = 2 if leg == "AB" else 1
    made = motor if is_motor else load
    start = {"start_va": 5.0 * watts / factor} if is_motor else {}
    extra = made("extra", "c_extra", watts, power_factor=factor, voltage_v=120.0 * poles, **start)
    more = replace(
        house,
        loads=(*house.loads, extra),
        circuits=(*house.circuits, circuit("c_extra", 60.0, poles, leg=leg)),
    )
    before, after = demand(house), demand(more)
    for name in ("average", "cold_pickup", "all_on", "start_together"):
        assert getattr(after, name).total_w >= getattr(before, name).total_w
        assert getattr(after, name).total_va >= getattr(before, name).total_va
    assert after.worst_start.demand.total_va >= before.worst_start.demand.total_va


def test_loads_switched_by_hand_are_not_in_the_pickup_at_full():
    house = small(
        [load("k", "a", 1500.0, pattern=Pattern.ON_DEMAND, duty_frac=0.1), load("f", "a", 100.0)],
        [circuit("a")],
    )
    assert demand(house).cold_pickup.total_w == pytest.approx(150.0 + 100.0)


def test_all_pieces_start_together_but_the_worst_start_is_one_piece():
    house = small([motor("m", "a", 400.0, 1000.0, count=2)], [circuit("a")])
    found = demand(house)
    assert found.start_together.total_va == pytest.approx(2000.0)
    # one starts at 800 W while the other runs at 200 W
    assert found.worst_start.demand.total_w == pytest.approx(800.0 + 200.0)


def test_legs_not_given_are_spread_and_said():
    house = small(
        [load("p", "one", 900.0), load("q", "two", 500.0), load("r", "three", 400.0)],
        [circuit("one"), circuit("two"), circuit("three")],
    )
    seats = placement(house)
    assert seats.leg_of == {"one": Connection.A, "two": Connection.B, "three": Connection.B}
    assert "one, two, three" in demand(house).notes[0]
    assert demand(house).all_on.imbalance_frac == pytest.approx(0.0)


def test_multiwire_partners_take_opposite_legs():
    house = small(
        [load("p", "one", 900.0), load("q", "two", 900.0), load("r", "three", 900.0)],
        [
            circuit("one", leg="A"),
            circuit("two", multiwire_with="three"),
            circuit("three", multiwire_with="two"),
        ],
    )
    seats = placement(house).leg_of
    assert {seats["two"], seats["three"]} == {Connection.A, Connection.B}


def test_no_loads_is_no_demand():
    house = farm()
    found = running_currents(house, placement(house), [])
    assert abs(found.total_va) == 0.0
    assert demand(house, ["c_tank"]).worst_start is None
