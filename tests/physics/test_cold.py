"""Holds of freezers and refrigerators: limits, order, calibration, readings, refusals."""

from dataclasses import replace
from math import inf, log

import pytest

from hearthold.errors import InputError
from hearthold.physics import cold
from hearthold.physics.food import enthalpy_segments

CURVE = enthalpy_segments(0.65, 0.12, -1.8, count=10)
FULL = cold.cold_box(ua_w_per_k=1.32, food_kg=136.0, cabinet_j_per_k=25e3, curve=CURVE)
PLANNING = cold.planning_box(FULL)
H = 3600.0


def planning_h(box, room=22.0, start=cold.FREEZER_START_C):
    return cold.hold_planning_s(box, start, start, room, cold.DANGER_C) / H


def likely_h(box, room=22.0, start=cold.FREEZER_START_C):
    return cold.hold_likely_s(box, start, room, cold.DANGER_C) / H


def test_the_calibration_meets_the_rule_it_was_made_from():
    assert planning_h(PLANNING) == pytest.approx(48.0, abs=1e-6)
    assert 0.1 < PLANNING.shell_frac < 0.2


@pytest.mark.parametrize("hold_h", [planning_h, likely_h])
def test_warmer_rooms_warmer_starts_and_less_food_shorten_the_hold(hold_h):
    by_room = [hold_h(PLANNING, room) for room in (8.0, 16.0, 22.0, 32.0, 40.0)]
    by_start = [hold_h(PLANNING, start=start) for start in (-25.0, -18.0, -8.0, -2.0, 1.0)]
    by_food = [hold_h(replace(PLANNING, food_kg=kg)) for kg in (136.0, 68.0, 34.0, 5.0, 0.0)]
    for hours in (by_room, by_start, by_food):
        assert hours == sorted(hours, reverse=True)
        assert hours[-1] > 0.0


def test_the_likely_hold_is_several_times_the_planning_hold():
    assert 4.0 < likely_h(PLANNING) / planning_h(PLANNING) < 7.0


def test_an_empty_box_is_a_plain_exponential():
    empty = replace(PLANNING, food_kg=0.0)
    tau_h = 25e3 / 1.32 / H
    expect = tau_h * log((22.0 + 17.0) / (22.0 - 4.0))
    assert cold.hold_likely_s(empty, -17.0, 22.0, 4.0) / H == pytest.approx(expect, rel=1e-9)
    assert cold.hold_planning_s(empty, -17.0, -17.0, 22.0, 4.0) / H == pytest.approx(expect, rel=1e-9)


def test_a_cold_room_keeps_for_ever_and_a_warm_box_not_at_all():
    assert planning_h(PLANNING, room=4.0) == inf
    assert planning_h(PLANNING, room=cold.DANGER_C) == inf
    assert likely_h(PLANNING, room=cold.DANGER_C) == inf
    assert likely_h(PLANNING, room=-5.0) == inf
    assert planning_h(PLANNING, start=5.0) == 0.0
    assert likely_h(PLANNING, start=cold.DANGER_C) == 0.0


def test_a_reading_replaces_both_starts_and_its_error_counts_against_us():
    exact = cold.holds_from_reading(PLANNING, -10.0, 22.0, reading_error_k=0.0)
    assert exact.planning_s / H == pytest.approx(planning_h(PLANNING, start=-10.0))
    assert exact.likely_s / H == pytest.approx(likely_h(PLANNING, start=-10.0))
    assert exact.stricter_s == exact.planning_s
    unsure = cold.holds_from_reading(PLANNING, -10.0, 22.0)
    assert unsure.planning_s < exact.planning_s
    assert unsure.likely_s == cold.holds_from_reading(PLANNING, -9.0, 22.0, reading_error_k=0.0).likely_s
    assert cold.holds_from_reading(PLANNING, 4.0, 22.0).stricter_s == 0.0


def test_pull_down_needs_more_cooling_than_the_walls_let_in():
    assert cold.pull_down_s(PLANNING, -5.0, -16.0, 22.0, 150.0, -17.0) < 12 * H
    assert cold.pull_down_s(PLANNING, -5.0, -16.0, 22.0, 1.32 * 30.0, -17.0) == inf
    assert cold.pull_down_s(PLANNING, -18.0, -18.0, 22.0, 150.0, -17.0) == 0.0


def test_duty_and_its_bounds():
    assert cold.steady_duty_frac(1.32, 22.0, -17.78, 150.0) == pytest.approx(0.350, abs=5e-4)
    assert cold.steady_duty_frac(1.32, 22.0, -18.0, 20.0) == 1.0
    assert cold.steady_duty_frac(1.32, -20.0, -18.0, 100.0) == 0.0


def test_refrigerator_keeps_the_rule_it_was_made_from():
    c = cold.fridge_planning_j_per_k(1.15)
    assert cold.fridge_hold_s(c, 1.15, cold.FRIDGE_START_C, 22.0, cold.DANGER_C) == pytest.approx(4 * H)
    assert cold.fridge_hold_s(c, 1.15, 1.0, 22.0, cold.DANGER_C) > 4 * H
    assert cold.fridge_hold_s(c, 1.15, 3.0, 4.0, cold.DANGER_C) == inf
    assert cold.fridge_hold_s(c, 1.15, 6.0, 22.0, cold.DANGER_C) == 0.0


def test_label_to_walls():
    # 15 ft3 chest freezer at the federal limit 7.29 x 26.4 + 107.8 kWh a year (10 CFR 430.32), COP 1.35.
    heat = cold.label_heat_w(300.256 / 8.766, usage_frac=0.7)
    assert cold.label_ua_w_per_k(heat, cold.FREEZER_START_C) == pytest.approx(1.32, rel=0.01)
    assert cold.label_heat_w(40.0, aux_w=40.0 - 1e-9, cop=2.0) == pytest.approx(40.0)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: cold.label_heat_w(20.0, aux_w=30.0), "leaves nothing of the label"),
        (lambda: cold.label_ua_w_per_k(60.0, 15.0, 12.0), "must be below test_room_c"),
        (lambda: cold.cold_box(1.0, 0.0, 0.0, CURVE), "both 0"),
        (lambda: cold.cold_box(0.0, 10.0, 0.0, CURVE), "ua_w_per_k is 0"),
        (lambda: cold.hold_likely_s(FULL, float("nan"), 22.0, 4.0), "start_c is nan"),
        (lambda: cold.planning_box(FULL, coupling_w_per_k_kg=0.05), "no exposed share gives 48 h"),
        (lambda: cold.fridge_planning_j_per_k(1.15, rule_room_c=3.0), "never warms"),
        (lambda: cold.holds_from_reading(FULL, -70.0, 22.0), "reading_c is -70"),
    ],
)
def test_what_cannot_be_is_refused(call, message):
    with pytest.raises(InputError, match=message):
        call()
