"""A house as two stores: steady loss, holds, warm-up, and the one-store limit."""

from math import inf, log

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import heat

FIXED = settings(derandomize=True, max_examples=60, deadline=None)
H = 3600.0
FARM = heat.house_nodes(
    ua_w_per_k=290.0, heated_area_m2=167.0, heat_class_j_per_k_m2=110e3, air_share_frac=0.45
)
house = st.builds(
    lambda loss_w_per_k_m2, heated_area_m2, **rest: heat.house_nodes(
        loss_w_per_k_m2 * heated_area_m2, heated_area_m2, **rest
    ),
    loss_w_per_k_m2=st.floats(0.3, 4.0),
    heated_area_m2=st.floats(80.0, 300.0),
    heat_class_j_per_k_m2=st.sampled_from([80e3, 110e3, 165e3, 260e3, 370e3]),
    air_share_frac=st.floats(0.1, 0.9),
)


@FIXED
@given(house, st.floats(-30.0, 10.0), st.floats(15.0, 24.0))
def test_the_steady_loss_of_two_stores_is_ua(nodes, outdoor, indoor):
    # Undo the mass's series resistance by hand: what leaves by air plus what leaves by mass.
    mass = heat.steady_mass_c(nodes, indoor, outdoor)
    lost = nodes.air_ua_w_per_k * (indoor - outdoor) + nodes.mass_ua_w_per_k * (mass - outdoor)
    ua = nodes.air_ua_w_per_k + 1.0 / (1.0 / nodes.mass_ua_w_per_k + 1.0 / nodes.air_mass_w_per_k)
    assert lost == pytest.approx(heat.steady_load_w(ua, indoor, outdoor))
    held, _ = heat.house_path_c(nodes, indoor, mass, outdoor, lost, np.array([60.0, 3600.0, 1e6]))
    np.testing.assert_allclose(held, indoor, atol=1e-8)


def test_the_loss_put_in_comes_out():
    ua = FARM.air_ua_w_per_k + 1.0 / (1.0 / FARM.mass_ua_w_per_k + 1.0 / FARM.air_mass_w_per_k)
    assert ua == pytest.approx(290.0, rel=1e-12)


@FIXED
@given(house)
def test_the_long_time_constant_is_near_c_over_ua(nodes):
    ua = nodes.air_ua_w_per_k + 1.0 / (1.0 / nodes.mass_ua_w_per_k + 1.0 / nodes.air_mass_w_per_k)
    short, long = heat.house_time_constants_s(nodes)
    one_store = (nodes.air_j_per_k + nodes.mass_j_per_k) / ua
    assert short < 0.25 * long
    assert 0.6 * one_store < long < 1.6 * one_store


def test_a_boiler_rests_ten_to_thirty_minutes_at_design_weather():
    # Common practice, no source: in a 1 K band a boiler at its design weather is off for 10 to 20 minutes; a
    # leaky or a tight house lies a little outside that. With air and furniture alone it would be 3.
    mass = heat.steady_mass_c(FARM, 20.0, -12.0)
    assert 10.0 * 60.0 < heat.house_hold_s(FARM, 20.5, mass, -12.0, 400.0, 19.5) < 30.0 * 60.0
    bare = heat.house_nodes(290.0, 167.0, 110e3, 0.45, fast_frac=10.0 / 110.0)
    assert heat.house_hold_s(bare, 20.5, mass, -12.0, 400.0, 19.5) < 5.0 * 60.0


def test_holds_follow_weather_gains_and_start():
    def hold(outdoor=-7.0, gains=400.0, start=20.0):
        return (
            heat.house_hold_s(FARM, start, heat.steady_mass_c(FARM, start, outdoor), outdoor, gains, 7.0) / H
        )

    assert hold(-18.0) < hold(-7.0) < hold(0.0)
    assert hold(gains=0.0) < hold(gains=1000.0)
    assert hold(start=16.0) < hold(start=22.0)
    assert hold(outdoor=8.0) == inf
    assert heat.house_hold_s(FARM, 6.0, 10.0, -7.0, 400.0, 7.0) == 0.0


def test_hold_of_two_stores_ends_at_the_limit():
    at = heat.house_hold_s(FARM, 20.0, 19.0, -7.0, 400.0, 7.0)
    air, mass = heat.house_path_c(FARM, 20.0, 19.0, -7.0, 400.0, at)
    assert float(air) == pytest.approx(7.0, abs=1e-9)
    assert abs(float(mass) - 7.0) > 0.1


def test_one_store_is_the_textbook_exponential():
    ua, c, out = 290.0, 167.0 * 110e3, -6.67
    equilibrium = out + 400.0 / ua
    expect = c / ua * log((20.0 - equilibrium) / (7.2 - equilibrium))
    assert heat.cool_down_s(ua, c, 20.0, out, 400.0, 7.2) == pytest.approx(expect, rel=1e-12)
    assert heat.cool_down_s(ua, c, 20.0, 5.0, 1000.0, 7.2) == inf
    assert heat.cool_down_s(ua, c, 7.0, out, 0.0, 7.2) == 0.0


def test_two_stores_cool_a_little_sooner_than_one():
    # The air leads the mass down, so the air limit comes sooner; by less than a third for a light house.
    two = heat.house_hold_s(FARM, 20.0, heat.steady_mass_c(FARM, 20.0, -6.67), -6.67, 400.0, 7.2)
    one = heat.cool_down_s(290.0, 167.0 * 110e3, 20.0, -6.67, 400.0, 7.2)
    assert 0.67 * one < two < one


def test_warming_up_takes_more_than_the_steady_load():
    load = heat.steady_load_w(290.0, 20.0, -7.0)
    assert heat.warm_up_s(FARM, 8.0, 9.0, -7.0, load * 0.9, 20.0) == inf
    quick, slow = (heat.warm_up_s(FARM, 8.0, 9.0, -7.0, w, 20.0) for w in (4 * load, 2 * load))
    assert 0.0 < quick < slow < inf
    assert heat.warm_up_s(FARM, 20.5, 9.0, -7.0, 100.0, 20.0) == 0.0


def test_load_is_never_negative():
    assert heat.steady_load_w(290.0, 20.0, 25.0) == 0.0
    assert heat.steady_load_w(290.0, 20.0, 19.0, gains_w=400.0) == 0.0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: heat.house_nodes(600.0, 100.0, 110e3, 0.1), "too much for 100 m2"),
        (lambda: heat.house_nodes(290.0, 167.0, 110.0, 0.5), "heat_class_j_per_k_m2 is 110"),
        (lambda: heat.house_hold_s(FARM, float("nan"), 19.0, -7.0, 0.0, 7.0), "air_c is nan"),
        (lambda: heat.steady_load_w(290.0, 20.0, -200.0), "outdoor_c is -200"),
        (lambda: heat.warm_up_s(FARM, 8.0, 9.0, -7.0, -5.0, 20.0), "heat_w is -5"),
    ],
)
def test_what_cannot_be_is_refused(call, message):
    with pytest.raises(InputError, match=message):
        call()
