"""Chen's relation turned round, its slope and its ice; its straight segments against their stated error."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import food

FIXED = settings(derandomize=True, max_examples=150, deadline=None)
MIXED = (0.65, 0.12, -1.8)
composition = st.tuples(st.floats(0.3, 0.95), st.floats(0.0, 0.05), st.floats(-6.0, -0.3))


@FIXED
@given(composition, st.floats(-39.9, 40.0))
def test_inverse_returns_the_temperature(of, t):
    back = food.food_temp_c(food.food_enthalpy_j_per_kg(t, *of), *of)
    assert back == pytest.approx(t, abs=1e-10)


@FIXED
@given(composition, st.floats(-39.0, 30.0), st.floats(-39.0, 30.0))
def test_warmer_food_holds_more_heat_and_less_ice(of, one, two):
    low, high = sorted((one, two))
    assert food.food_enthalpy_j_per_kg(low, *of) <= food.food_enthalpy_j_per_kg(high, *of)
    assert food.ice_frac(low, *of) >= food.ice_frac(high, *of)


@pytest.mark.parametrize("t", [-30.0, -12.0, -5.0, -2.0, 3.0])
def test_heat_is_the_slope_of_enthalpy(t):
    slope = (
        food.food_enthalpy_j_per_kg(t + 1e-5, *MIXED) - food.food_enthalpy_j_per_kg(t - 1e-5, *MIXED)
    ) / 2e-5
    assert food.food_heat_j_per_kg_k(t, *MIXED) == pytest.approx(slope, rel=1e-6)


def test_enthalpy_is_zero_at_its_reference_and_continuous_at_freezing():
    assert food.food_enthalpy_j_per_kg(-40.0, *MIXED) == 0.0
    below, above = food.food_enthalpy_j_per_kg(np.array([-1.8 - 1e-9, -1.8]), *MIXED)
    assert above - below < 1e-3


def test_ice_never_exceeds_the_free_water():
    assert food.ice_frac(-39.0, *MIXED) < 0.65 - 0.4 * 0.12
    assert food.ice_frac(-1.0, *MIXED) == 0.0


def test_arrays_keep_their_shape():
    grid = np.linspace(-30.0, 20.0, 12).reshape(3, 4)
    for function in (food.food_enthalpy_j_per_kg, food.ice_frac, food.food_heat_j_per_kg_k):
        out = function(grid, *MIXED)
        assert out.shape == grid.shape
        assert out[1, 2] == function(float(grid[1, 2]), *MIXED)


@FIXED
@given(composition, st.integers(3, 20))
def test_the_stated_error_bounds_the_segments(of, count):
    curve = food.enthalpy_segments(*of, count=count)
    assert len(curve.heat_j_per_kg_k) == count == len(curve.knots_c) - 1
    h = np.linspace(curve.knots_j_per_kg[0], curve.knots_j_per_kg[-1], 3000)
    exact = food.food_temp_c(h, *of)
    short = exact - np.interp(h, curve.knots_j_per_kg, curve.knots_c)
    assert short.min() > -1e-9
    assert short.max() <= curve.error_k + 1e-9
    assert short.max() > 0.9 * curve.error_k  # and it is not a lazy bound


def test_error_of_the_mixed_load_and_its_fall_with_the_count():
    errors = [food.enthalpy_segments(*MIXED, count=n).error_k for n in (6, 8, 10, 20)]
    assert errors == sorted(errors, reverse=True)
    assert errors[0] < 0.55
    assert errors[1] < 0.3
    assert errors[2] < 0.17
    assert errors[3] < 0.04


def test_spread_of_knots_is_nearly_even():
    curve = food.enthalpy_segments(*MIXED, count=10)
    of = food.chen_constants_kernel(*MIXED)
    each = food._chord_errors_k(curve.knots_c, curve.knots_j_per_kg, curve.heat_j_per_kg_k, of[0], of[1])
    assert each.max() < 1.5 * each.min()


@pytest.mark.parametrize(
    ("of", "message"),
    [
        ((0.65, 0.12, 0.5), "freezing_c is 0.5"),
        ((1.2, 0.12, -1.8), "food_water_frac is 1.2"),
        ((0.9, 0.2, -1.8), "exceed the whole"),
        ((0.1, 0.5, -1.8), "no free water"),
        ((float("nan"), 0.1, -1.8), "food_water_frac is nan"),
    ],
)
def test_impossible_food_is_refused(of, message):
    with pytest.raises(InputError, match=message):
        food.food_enthalpy_j_per_kg(-10.0, *of)


def test_impossible_states_are_refused():
    with pytest.raises(InputError, match="food_c is -80"):
        food.ice_frac(-80.0, *MIXED)
    with pytest.raises(InputError, match="enthalpy_j_per_kg is -1"):
        food.food_temp_c(-1.0, *MIXED)
    with pytest.raises(InputError, match="count is 2"):
        food.enthalpy_segments(*MIXED, count=2)
