"""The switch-on order against every order there is."""

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sizing_houses import cottage, farm

from hearthold.house.site import Medical
from hearthold.sizing.order import Item, least_peak_order, peak_of_order_va, switch_on_order

VA = st.floats(0.0, 20e3)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.lists(st.tuples(VA, VA), min_size=1, max_size=6))
def test_sorting_finds_the_least_peak_of_all_orders(pairs):
    items = [Item(str(i), s, r, 1.0, float("inf")) for i, (s, r) in enumerate(pairs)]
    best = min(peak_of_order_va(order) for order in permutations(items))
    assert peak_of_order_va(least_peak_order(items)) == pytest.approx(best, rel=1e-12)


def test_largest_start_first_can_be_worse_than_largest_surplus_first():
    # a 5 kW heater (no surplus) before a 4 kVA pump that runs at 1 kVA: 9 kVA instead of 6
    heater, pump = Item("heater", 5000.0, 5000.0, 3.0, 9e9), Item("pump", 4000.0, 1000.0, 3.0, 9e9)
    assert peak_of_order_va([heater, pump]) == 9000.0
    assert peak_of_order_va(least_peak_order([heater, pump])) == 6000.0


def test_vital_circuit_goes_first_only_when_it_cannot_wait():
    waiting = switch_on_order(farm())
    assert waiting.steps[0].circuit == "c_bed"
    assert waiting.moved_ahead == ("c_bed",)
    patient = farm(medical=(Medical(load="oxygen", hours_per_day=24.0, own_battery="2 h"),))
    by_rule = switch_on_order(patient)
    assert by_rule.steps[0].circuit == "c_well"
    assert by_rule.moved_ahead == ()
    assert by_rule.peak_va < waiting.peak_va


def test_steps_add_up_and_stay_under_everything_at_once():
    order = switch_on_order(farm())
    assert [s.position for s in order.steps] == list(range(1, 8))
    assert order.peak_va <= order.together_va
    # 1310 + 180 + 150 + 90 + 250 + 20 + 350 W run by themselves once all are on
    assert order.steps[-1].after.total_w == pytest.approx(2350.0)
    assert set(order.by_hand) == {"lights", "kettle"}
    waits = {s.circuit: s.wait_s for s in order.steps}
    assert waits["c_well"] == 11.0
    assert waits["c_bed"] == 3.0
    assert order.lasts_s == pytest.approx(sum(waits.values()))


def test_phasor_peak_never_exceeds_the_plain_sum_of_the_rule():
    for house in (farm(), cottage()):
        order = switch_on_order(house)
        plain, running_va = 0.0, 0.0
        for step in order.steps:
            plain = max(plain, running_va + step.own_start_va)
            running_va += step.own_start_va  # no less than its running
        assert order.peak_va <= plain + 1e-6


def test_single_phase_house_has_nothing_on_leg_b():
    assert all(s.peak.leg_b_a == 0.0 for s in switch_on_order(cottage()).steps)
