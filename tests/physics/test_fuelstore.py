"""Stored fuel: ageing by doubling, stock and trips, filling for the heat."""

from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import fuelstore as fs
from hearthold.quantities.units import si

FIXED = settings(derandomize=True, max_examples=100, deadline=None)
MONTH_S = si(1.0, "month", "time")


def test_ageing_doubles_every_step():
    speeds = [fs.age_equivalent_s(20.0 + 10.0 * n, 3600.0) / 3600.0 for n in range(-2, 3)]
    assert speeds == pytest.approx([0.25, 0.5, 1.0, 2.0, 4.0])


@FIXED
@given(st.floats(-30.0, 40.0), st.floats(0.0, 25.0))
def test_swings_age_faster_than_their_mean(mean_c, swing_k):
    """The curve is convex, so a day between low and high ages at least as fast as its mean."""
    swung = fs.age_equivalent_s(np.array([mean_c - swing_k, mean_c + swing_k]), 43200.0)
    assert swung >= fs.age_equivalent_s(mean_c, 86400.0) * (1.0 - 1e-12)


def test_life_ends_when_the_age_reaches_the_shelf_life():
    life_s = fs.usable_life_s(3.0 * MONTH_S, 28.0)
    assert fs.age_equivalent_s(28.0, life_s) == pytest.approx(3.0 * MONTH_S, rel=1e-12)
    assert fs.remaining_life_s(3.0 * MONTH_S, 3.0 * MONTH_S, 28.0) == 0.0
    assert fs.remaining_life_s(3.0 * MONTH_S, 4.0 * MONTH_S, 28.0) == 0.0
    assert fs.remaining_life_s(3.0 * MONTH_S, 0.0, 28.0) == pytest.approx(life_s)


def test_stock_and_rotation():
    assert fs.stock_lasts_s(0.08, 0.02 / 86400.0) == pytest.approx(4.0 * 86400.0)
    assert fs.stock_lasts_s(0.08, 0.0) == inf
    assert fs.stock_lasts_s(0.0, 0.0) == 0.0
    rate = fs.rotation_m3_per_s(0.06, 6.0 * MONTH_S)
    assert fs.stock_lasts_s(0.06, rate) == pytest.approx(6.0 * MONTH_S)


@FIXED
@given(st.floats(0.0, 0.003), st.floats(-30.0, 30.0), st.floats(0.0, 40.0), st.floats(0.0, 0.3))
def test_a_filled_can_keeps_its_vapour_space_in_the_heat(expansion, fill_c, rise_k, space):
    share = fs.fill_fraction(expansion, fill_c, fill_c + rise_k, space)
    assert share * (1.0 + expansion * rise_k) == pytest.approx(1.0 - space)
    assert fs.fill_fraction(expansion, fill_c, fill_c - 5.0, space) == pytest.approx(1.0 - space)


def test_trips_round_up_and_no_further():
    can_m3 = si(5.0, "gal", "volume")
    assert fs.trips(si(38.0, "gal", "volume"), can_m3, 4, 0.95) == 2
    assert fs.trips(si(38.1, "gal", "volume"), can_m3, 4, 0.95) == 3
    assert fs.trips(0.0, can_m3, 4) == 0


def test_refusals_name_the_value_and_the_remedy():
    with pytest.raises(InputError, match="cans_a_trip is 0; take one can or more"):
        fs.trips(0.1, 0.02, 0)
    with pytest.raises(InputError, match="the fuel is stale already"):
        fs.rotation_m3_per_s(0.06, 0.0)
    with pytest.raises(InputError, match="store_c is 90 degC"):
        fs.age_equivalent_s(np.array([20.0, 90.0]), 3600.0)
