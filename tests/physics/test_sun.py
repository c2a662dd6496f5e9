"""Sun: known days, symmetry, the day integral against hours, the slope against its limits."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import sun

FIXED = settings(derandomize=True, max_examples=100, deadline=None)
latitude = st.floats(-89.0, 89.0)
day = st.floats(1.0, 365.0)
DAYS = np.arange(1, 366, dtype=float)


def test_the_year_has_its_turning_points():
    dec = sun.declination_deg(DAYS)
    assert dec.max() == pytest.approx(23.44, abs=0.05)
    assert dec.min() == pytest.approx(-23.44, abs=0.05)
    assert int(DAYS[dec.argmax()]) in range(170, 175)
    assert int(DAYS[dec.argmin()]) in range(354, 358)
    factor = sun.distance_factor(DAYS)
    assert int(DAYS[factor.argmax()]) in range(1, 8)
    assert factor.mean() == pytest.approx(1.0, abs=3e-4)
    assert np.abs(sun.equation_of_time_s(DAYS)).max() == pytest.approx(16.4 * 60.0, abs=20.0)


@FIXED
@given(latitude, day)
def test_noon_is_highest_and_due_south_or_north(lat, day_of_year):
    dec = sun.declination_deg(day_of_year)
    turns = np.linspace(-180.0, 180.0, 73)
    heights = sun.elevation_deg(lat, dec, turns)
    assert heights.argmax() == 36
    assert heights[36] == pytest.approx(90.0 - abs(lat - dec), abs=1e-6)
    if abs(lat - dec) > 0.5:
        assert sun.azimuth_deg(lat, dec, 0.0) == pytest.approx(180.0 if lat > dec else 0.0, abs=1e-6)


def test_morning_is_east_and_afternoon_west():
    assert 0.0 < sun.azimuth_deg(45.0, 10.0, -60.0) < 180.0
    assert 180.0 < sun.azimuth_deg(45.0, 10.0, 60.0) < 360.0


@FIXED
@given(latitude, day)
def test_the_sun_stands_on_the_horizon_at_sunset(lat, day_of_year):
    dec = sun.declination_deg(day_of_year)
    sunset = sun.sunset_hour_angle_deg(lat, dec, -0.833)
    if 0.0 < sunset < 180.0:
        assert sun.elevation_deg(lat, dec, sunset) == pytest.approx(-0.833, abs=1e-6)


def test_days_are_counted_with_refraction_unless_said():
    """Twelve hours of geometry at the equator and about 6.7 minutes more of almanac day."""
    assert sun.day_length_s(0.0, 80, 0.0) == pytest.approx(43200.0, abs=1.0)
    assert sun.day_length_s(0.0, 80) == pytest.approx(43200.0 + 2 * 0.833 * 240.0, abs=1.0)


def test_polar_day_and_night():
    assert sun.day_length_s(75.0, 172) == 86400.0
    assert sun.day_length_s(75.0, 355) == 0.0
    assert sun.extraterrestrial_j_per_m2(75.0, 355) == 0.0
    assert sun.extraterrestrial_j_per_m2(90.0, 172) > 0.0
    assert sun.extraterrestrial_j_per_m2(-90.0, 172) == 0.0


@FIXED
@given(latitude, day)
def test_daily_sun_above_the_air_is_the_sum_of_its_hours(lat, day_of_year):
    dec = sun.declination_deg(day_of_year)
    turns = np.linspace(-180.0, 180.0, 14401)
    sines = np.maximum(0.0, np.sin(np.radians(sun.elevation_deg(lat, dec, turns))))
    by_hours = 1361.0 * sun.distance_factor(day_of_year) * 86400.0 * np.trapezoid(sines, turns) / 360.0
    assert sun.extraterrestrial_j_per_m2(lat, day_of_year) == pytest.approx(by_hours, rel=1e-4, abs=100.0)


@FIXED
@given(st.floats(-60.0, 60.0), st.floats(0.0, 80.0), day)
def test_beam_ratio_is_the_ratio_of_its_hours(lat, tilt, day_of_year):
    """Direct sun on the slope, by vectors hour by hour, over that on the level."""
    dec = sun.declination_deg(day_of_year)
    turns = np.linspace(-180.0, 180.0, 7201)
    height, bearing = (
        np.radians(sun.elevation_deg(lat, dec, turns)),
        np.radians(sun.azimuth_deg(lat, dec, turns)),
    )
    facing = np.pi if lat >= 0.0 else 0.0
    slope = np.radians(tilt)
    cosine = np.sin(height) * np.cos(slope) + np.cos(height) * np.sin(slope) * np.cos(bearing - facing)
    up = height > 0.0
    panel = np.trapezoid(np.where(up, np.maximum(0.0, cosine), 0.0), turns)
    level = np.trapezoid(np.where(up, np.sin(height), 0.0), turns)
    if panel / level < 19.0:
        assert sun.beam_ratio(lat, tilt, dec) == pytest.approx(panel / level, rel=2e-3, abs=1e-3)


def test_a_level_panel_gets_the_level_sun():
    months = np.arange(1, 13, dtype=float)
    level = 0.5 * sun.extraterrestrial_j_per_m2(40.0, sun.mean_day_of_month(months))
    assert sun.plane_of_panel_j_per_m2(40.0, 0.0, months, 0.5) == pytest.approx(level, rel=1e-9)
    assert sun.clearness(40.0, months, level) == pytest.approx(0.5, rel=1e-9)


def test_slopes_face_the_equator_in_both_halves_of_the_world():
    north = sun.plane_of_panel_j_per_m2(45.0, 60.0, 12, 0.5)
    assert north > 1.5 * sun.plane_of_panel_j_per_m2(45.0, 0.0, 12, 0.5)
    south = sun.plane_of_panel_j_per_m2(-45.0, 60.0, 6, 0.5)
    assert south > 1.5 * sun.plane_of_panel_j_per_m2(-45.0, 0.0, 6, 0.5)


def test_snow_on_the_ground_helps_a_steep_panel():
    bare = sun.plane_of_panel_j_per_m2(45.0, 60.0, 1, 0.5)
    assert sun.plane_of_panel_j_per_m2(45.0, 60.0, 1, 0.5, 0.7) > bare


def test_overcast_is_all_sky_light_and_clearer_is_less():
    shares = sun.monthly_diffuse_frac(np.array([0.3, 0.4, 0.5, 0.6, 0.7]), 90.0)
    assert np.all(np.diff(shares) < 0.0)
    assert sun.monthly_diffuse_frac(0.1, 90.0) == shares[0]


def test_winter_days_have_their_own_sky_light():
    """At clearness 0.5 the two published curves give 0.391 and 0.429, parting at 81.4 deg of sunset angle."""
    shares = sun.monthly_diffuse_frac(0.5, np.array([70.0, 81.3, 81.5, 110.0]))
    assert shares == pytest.approx([0.3913, 0.3913, 0.4291, 0.4291], abs=5e-4)


def test_panel_energy():
    """1 kWp, 3 sun hours, ratio 0.8: 2.4 kWh."""
    assert sun.panel_energy_j(1000.0, 3.0 * 3.6e6, 0.8) == pytest.approx(2.4 * 3.6e6)


def test_arrays_agree_with_scalars():
    months = np.arange(1, 13)
    clear = np.linspace(0.35, 0.6, 12)
    many = sun.plane_of_panel_j_per_m2(55.3, 55.3, months, clear)
    one = [
        sun.plane_of_panel_j_per_m2(55.3, 55.3, int(m), float(k)) for m, k in zip(months, clear, strict=True)
    ]
    assert many == pytest.approx(one)
    assert all(isinstance(x, float) for x in one)


def test_refusals_name_the_value():
    with pytest.raises(InputError, match="latitude_deg is 91 deg"):
        sun.extraterrestrial_j_per_m2(91.0, 10)
    with pytest.raises(InputError, match="day_of_year is 0 1"):
        sun.declination_deg(np.array([0.0, 1.0]))
    with pytest.raises(InputError, match="month_number is 13 1"):
        sun.mean_day_of_month(13)
