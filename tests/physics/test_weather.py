"""Weather from normals: means kept, hours at the right time, degree-days by two roads."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import weather as w

FIXED = settings(derandomize=True, max_examples=50, deadline=None)
NORMALS_C = [-5.0, -3.5, 1.5, 8.0, 14.0, 19.0, 21.5, 20.5, 16.0, 10.0, 4.0, -2.0]


def test_a_day_has_its_low_at_sunrise_and_its_high_in_the_afternoon():
    hours = np.linspace(0.0, 24.0, 24 * 60 + 1)
    day = w.diurnal_c(hours, -4.0, 8.0, 7.0, 15.0)
    assert day.min() == pytest.approx(-4.0, abs=1e-6)
    assert hours[day.argmin()] == pytest.approx(7.0)
    assert day.max() == pytest.approx(8.0, abs=1e-6)
    assert hours[day.argmax()] == pytest.approx(15.0)
    assert day[0] == pytest.approx(day[-1])
    assert np.trapezoid(day, hours) / 24.0 == pytest.approx(2.0, abs=1e-4)
    assert np.abs(np.diff(day)).max() < 0.06
    assert w.diurnal_c(7.0, -4.0, 8.0, 7.0) == pytest.approx(-4.0)


@FIXED
@given(st.lists(st.floats(-40.0, 35.0), min_size=12, max_size=12))
def test_every_month_keeps_its_mean(monthly):
    days = w.yearly_c(monthly)
    ends = np.cumsum(w.DAYS_OF_MONTH)
    means = [part.mean() for part in np.split(days, ends[:-1])]
    assert means == pytest.approx(monthly, abs=1e-9)


def test_a_flat_year_stays_flat_and_a_real_one_is_smooth_around_new_year():
    assert w.yearly_c([7.0] * 12) == pytest.approx(np.full(365, 7.0))
    days = w.yearly_c(NORMALS_C)
    assert np.abs(np.diff(np.append(days, days[0]))).max() < 0.4
    assert days.min() < min(NORMALS_C)
    assert days.max() > max(NORMALS_C)


def test_hours_keep_the_day():
    low, high = np.array([-8.0, -2.0, 1.0]), np.array([0.0, 6.0, 9.0])
    hours = w.hourly_year_c(low, high, [7.5, 7.4, 7.3])
    assert hours.shape == (72,)
    assert w.daily_means_c(hours) == pytest.approx((low + high) / 2.0, abs=0.1)
    assert w.hourly_year_c([], []).shape == (0,)


@FIXED
@given(st.lists(st.floats(-40.0, 40.0), min_size=1, max_size=60), st.floats(-10.0, 30.0))
def test_heating_less_cooling_is_the_plain_difference(means, balance):
    heating = w.heating_degree_days_k(means, balance)
    cooling = w.cooling_degree_days_k(means, balance)
    assert heating - cooling == pytest.approx(sum(balance - m for m in means), abs=1e-9 * len(means) * 100)
    assert heating >= 0.0
    assert cooling >= 0.0


def test_monthly_form_against_many_days_drawn_from_it():
    days = np.random.default_rng(20260101).normal(14.0, 4.5, 200_000)
    drawn = w.heating_degree_days_k(np.clip(days, -60.0, 50.0), 18.33) / 200_000 * 30
    assert w.monthly_heating_degree_days_k(14.0, 4.5, 18.33, 30) == pytest.approx(drawn, rel=0.005)


def test_monthly_form_without_spread_is_the_plain_difference():
    assert w.monthly_heating_degree_days_k(10.0, 0.01, 18.33, 30) == pytest.approx(30 * 8.33)
    assert w.monthly_heating_degree_days_k(25.0, 0.01, 18.33, 30) == pytest.approx(0.0, abs=1e-9)


def test_coldest_run_of_hours():
    hours = np.full(240, 5.0)
    hours[100:124] = -15.0
    assert w.coldest_mean_c(hours, 24) == pytest.approx(-15.0)
    assert w.coldest_mean_c(hours, 48) == pytest.approx(-5.0)
    assert w.coldest_mean_c(hours, 240) == pytest.approx(hours.mean())


def test_refusals_name_the_value_and_the_remedy():
    with pytest.raises(InputError, match="monthly_c has 11 values; give 12"):
        w.yearly_c(NORMALS_C[:11])
    with pytest.raises(InputError, match="hourly_c has 25 values; give whole days"):
        w.daily_means_c(np.zeros(25))
    with pytest.raises(InputError, match="sunrise_h is 13 h and must be before"):
        w.diurnal_c(10.0, 0.0, 5.0, 13.0, 12.0)
    with pytest.raises(InputError, match="duration_h is 0; allowed 1 to 10"):
        w.coldest_mean_c(np.zeros(10), 0)
    with pytest.raises(InputError, match="one value a day each"):
        w.hourly_year_c([0.0], [1.0, 2.0])
    with pytest.raises(InputError, match="hourly_c is nan"):
        w.daily_means_c(np.full(24, np.nan))
