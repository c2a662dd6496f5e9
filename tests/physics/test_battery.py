"""Battery: closed balance, exact advance against small steps, cold limits and refusals."""

from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import battery as bt

FIXED = settings(derandomize=True, max_examples=200, deadline=None)
KWH_J = 3.6e6


@FIXED
@given(st.floats(0.0, 1.0), st.floats(-2e4, 2e4), st.floats(0.0, 1e6), st.floats(1e5, 1e8))
def test_what_goes_in_comes_out(share, net_w, duration_s, capacity_j):
    after = bt.advance(share * capacity_j, net_w, duration_s, capacity_j)
    gap_j = after.stored_j - share * capacity_j - (net_w * duration_s + after.short_j - after.over_j)
    assert abs(gap_j) <= 1e-9 * (capacity_j + abs(net_w * duration_s))
    assert 0.0 <= after.stored_j <= capacity_j
    assert after.short_j == 0.0 or after.over_j == 0.0


@FIXED
@given(st.floats(0.0, 1.0), st.floats(-2e4, 2e4), st.floats(0.0, 1e5), st.floats(0.0, 1.0))
def test_one_step_is_two_steps(share, net_w, duration_s, cut):
    whole = bt.advance(share * KWH_J, net_w, duration_s, KWH_J).stored_j
    first = bt.advance(share * KWH_J, net_w, duration_s * cut, KWH_J).stored_j
    second = bt.advance(first, net_w, duration_s * (1.0 - cut), KWH_J).stored_j
    assert second == pytest.approx(whole, abs=1e-3)


def test_limits_are_reached_when_said():
    empty_s = bt.time_to_empty_s(2 * KWH_J, -1000.0, 5 * KWH_J)
    assert empty_s == pytest.approx(7200.0)
    assert bt.advance(2 * KWH_J, -1000.0, empty_s, 5 * KWH_J).stored_j == pytest.approx(0.0, abs=1e-6)
    full_s = bt.time_to_full_s(2 * KWH_J, 1500.0, 5 * KWH_J)
    assert full_s == pytest.approx(7200.0)
    assert bt.time_to_empty_s(2 * KWH_J, 10.0, 5 * KWH_J) == inf
    assert bt.time_to_full_s(2 * KWH_J, -10.0, 5 * KWH_J) == inf
    assert bt.time_to_full_s(5 * KWH_J, -10.0, 5 * KWH_J) == 0.0
    assert bt.time_to_empty_s(2 * KWH_J, 0.0, 5 * KWH_J) == inf


def test_a_round_trip_loses_both_ways():
    """1 kWh into the charger and out again gives round_trip kWh at the load, idle draw aside."""
    up_w = bt.store_rate_w(0.0, 1000.0, 0.0, 0.93, 0.9)
    held_j = bt.advance(0.0, up_w, 3600.0, 5 * KWH_J).stored_j
    down_w = bt.store_rate_w(500.0, 0.0, 0.0, 0.93, 0.9)
    given_j = 500.0 * bt.time_to_empty_s(held_j, down_w, 5 * KWH_J)
    assert given_j / KWH_J == pytest.approx(bt.round_trip_frac(0.93, 0.9), rel=1e-12)


def test_idle_draw_alone_empties_the_store():
    rate_w = bt.store_rate_w(0.0, 0.0, 40.0, 0.93, 0.9)
    assert rate_w == -40.0
    assert bt.time_to_empty_s(KWH_J, rate_w, KWH_J) == pytest.approx(25 * 3600.0)


def test_capacity_in_the_cold():
    def usable(cell_c):
        return bt.usable_capacity_j(10 * KWH_J, 0.9, cell_c) / KWH_J

    assert usable(30.0) == usable(20.0) == pytest.approx(9.0)
    assert usable(-18.0) == pytest.approx(6.3)
    assert usable(1.0) == pytest.approx(9.0 * 0.85)
    assert usable(-30.0) < usable(-18.0)
    assert bt.usable_capacity_j(KWH_J, 0.5, -50.0, 20.0, 0.0, 0.45) == 0.0


def test_no_charging_below_freezing():
    assert not bt.may_charge(-0.1)
    assert bt.may_charge(0.0)
    assert bt.may_charge(45.0)
    assert not bt.may_charge(46.0)
    assert bt.may_discharge(-10.0)
    assert not bt.may_discharge(-25.0)
    assert bt.charge_rate_limit_w(5 * KWH_J, 0.5, bt.may_charge(-5.0)) == 0.0
    assert bt.charge_rate_limit_w(5 * KWH_J, 0.5, bt.may_charge(5.0)) == pytest.approx(2500.0)


def test_the_smallest_limit_rules_the_charger():
    assert bt.charge_accepted_w(3000.0, 2000.0, 5000.0, 0.9) == 2000.0
    assert bt.charge_accepted_w(1000.0, 2000.0, 5000.0, 0.9) == 1000.0
    assert bt.charge_accepted_w(9000.0, 8000.0, 4500.0, 0.9) == pytest.approx(5000.0)


def test_refusals_name_the_value_and_the_remedy():
    with pytest.raises(InputError, match=r"stored_j is 2e\+06 J and must not be above capacity_j"):
        bt.advance(2e6, 0.0, 1.0, 1e6)
    with pytest.raises(InputError, match=r"cold_c is 20 degC and must be below warm_c \(20 degC\)"):
        bt.usable_capacity_j(KWH_J, 0.9, 0.0, 20.0, 20.0)
    with pytest.raises(InputError, match=r"discharge_frac is 93 of 1; allowed 0\.1 to 1"):
        bt.store_rate_w(100.0, 0.0, 0.0, 93.0, 0.9)
