"""Tank water heater: cooling, reheating, drawing; balances, limits and refusals."""

from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import tankheater as tank

FIXED = settings(derandomize=True, max_examples=60, deadline=None)
H = 3600.0


def test_standing_tank_cools_to_the_limit_when_it_says():
    hold = tank.tank_hold_s(0.19, 1.5, 52.0, 18.0, 41.0)
    assert tank.tank_after_c(0.19, 1.5, 52.0, 18.0, hold) == pytest.approx(41.0, abs=1e-9)
    assert tank.tank_hold_s(0.19, 1.5, 40.0, 18.0, 41.0) == 0.0
    assert tank.tank_hold_s(0.19, 1.5, 52.0, 42.0, 41.0) == inf


def test_heating_up_pays_for_the_losses_too():
    bare = tank.reheat_j(0.19, 15.0, 50.0) / 4500.0
    assert bare < tank.heat_up_s(0.19, 1.5, 15.0, 18.0, 4500.0, 50.0) < 1.02 * bare
    assert tank.heat_up_s(0.19, 1.5, 15.0, 18.0, 1.5 * 31.0, 50.0) == inf
    assert tank.heat_up_s(0.19, 1.5, 55.0, 18.0, 4500.0, 50.0) == 0.0
    assert tank.reheat_j(0.19, 55.0, 50.0) == 0.0


@FIXED
@given(st.floats(45.0, 80.0), st.floats(2.0, 20.0), st.floats(35.0, 44.0), st.floats(0.05, 0.5))
def test_what_the_tap_gives_came_out_of_the_tank(hot, inlet, delivery, volume):
    mixed = tank.usable_mixed_m3(volume, hot, inlet, delivery)
    assert mixed * (delivery - inlet) == pytest.approx(volume * (hot - delivery))
    layered = tank.usable_layered_m3(volume, hot, inlet, delivery)
    assert layered * tank.hot_share_frac(hot, inlet, delivery) == pytest.approx(0.7 * volume)
    # The tank volume drawn while mixing: the same as following the stirred tank with a steady draw.
    drawn = tank.drawn_mixed_m3(volume, hot, inlet, delivery)
    after = tank.tank_after_c(volume, 0.01, hot, 20.0, 1e3, inlet, drawn / 1e3)
    assert after == pytest.approx(delivery, abs=1e-2)


def test_too_cool_a_tank_gives_nothing_usable():
    assert tank.hot_share_frac(38.0, 10.0, 41.0) == 1.0
    assert tank.usable_layered_m3(0.19, 38.0, 10.0, 41.0) == 0.0
    assert tank.usable_mixed_m3(0.19, 38.0, 10.0, 41.0) == 0.0
    assert tank.drawn_mixed_m3(0.19, 38.0, 10.0, 41.0) == 0.0


def test_recovery_keeps_the_tank_where_it_is():
    flow = tank.recovery_m3_per_s(4500.0, 10.0, 50.0)
    assert tank.tank_after_c(0.19, 0.01, 50.0, 50.0, 1e5, 10.0, flow, 4500.0) == pytest.approx(50.0, abs=1e-6)
    assert tank.recovery_m3_per_s(4500.0, 10.0, 50.0, 0.76) == pytest.approx(0.76 * flow)


def test_better_labels_lose_less():
    uas = [tank.standby_ua_w_per_k(ef, 0.98, 4500.0) for ef in (0.82, 0.86, 0.90, 0.95)]
    assert uas == sorted(uas, reverse=True)
    assert uas[-1] > 0.0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: tank.standby_ua_w_per_k(0.98, 0.98, 4500.0), "must be below recovery_frac"),
        (lambda: tank.recovery_m3_per_s(4500.0, 20.0, 20.0), "must be above inlet_c"),
        (lambda: tank.hot_share_frac(50.0, 40.0, 38.0), "delivery_c 38 degC must be above"),
        (lambda: tank.tank_after_c(0.19, 1.5, 125.0, 18.0, H), "tank_c is 125"),
        (lambda: tank.tank_hold_s(50.0, 1.5, 52.0, 18.0, 41.0), "tank_m3 is 50"),
    ],
)
def test_what_cannot_be_is_refused(call, message):
    with pytest.raises(InputError, match=message):
        call()
