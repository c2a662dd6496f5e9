"""Degree-days and monthly normals against two weather files that pvlib carries (TMY3)."""

from pathlib import Path

import numpy as np
import pandas as pd
import pvlib
import pytest

from hearthold.physics import sun, weather

DATA = Path(pvlib.__file__).parent / "data"
BASE_C = (65.0 - 32.0) / 1.8
PLACES = ["723170TYA.CSV", "703165TY.csv"]  # Greensboro NC, Sand Point AK


def read(name):
    frame, place = pvlib.iotools.read_tmy3(DATA / name, map_variables=True, coerce_year=1990)
    return frame["temp_air"], place


def pandas_degree_days_f(hourly, heating=True):
    """By pandas: rows stamped 01:00 to 24:00 belong to the day they end in, so shift back an hour."""
    daily = (
        hourly.set_axis(hourly.index.tz_localize(None) - pd.Timedelta("1h"))
        .groupby(lambda t: t.day_of_year)
        .mean()
    )
    gap = BASE_C - daily if heating else daily - BASE_C
    return float(gap.clip(lower=0.0).sum() * 1.8)


@pytest.mark.parametrize("name", PLACES)
def test_hourly_degree_days_against_pandas(name):
    hourly, _ = read(name)
    days = weather.daily_means_c(hourly)
    assert weather.heating_degree_days_k(days, BASE_C) * 1.8 == pytest.approx(
        pandas_degree_days_f(hourly), rel=1e-9
    )
    cooling = weather.cooling_degree_days_k(days, BASE_C) * 1.8
    assert cooling == pytest.approx(pandas_degree_days_f(hourly, heating=False), rel=1e-9, abs=1e-9)


def test_greensboro_against_its_climate_normals():
    """NOAA normals for Greensboro 1961-1990: 3865 heating, 1303 cooling degree F days (from memory)."""
    days = weather.daily_means_c(read(PLACES[0])[0])
    assert weather.heating_degree_days_k(days, BASE_C) * 1.8 == pytest.approx(3865.0, rel=0.03)
    assert weather.cooling_degree_days_k(days, BASE_C) * 1.8 == pytest.approx(1303.0, rel=0.03)


@pytest.mark.parametrize("name", PLACES)
def test_low_and_high_give_nearly_the_same_degree_days(name):
    """The official mean of low and high against the mean of 24 hours: within 1 %."""
    by_day = np.asarray(read(name)[0]).reshape(-1, 24)
    middles = (by_day.min(axis=1) + by_day.max(axis=1)) / 2.0
    assert weather.heating_degree_days_k(middles, BASE_C) == pytest.approx(
        weather.heating_degree_days_k(by_day.mean(axis=1), BASE_C), rel=0.01
    )


@pytest.mark.parametrize(("name", "plain", "spread"), [(PLACES[0], 0.035, 0.003), (PLACES[1], 0.001, 0.001)])
def test_degree_days_from_monthly_normals(name, plain, spread):
    """From 12 means alone (a few per cent low where months straddle the base) and with the days' spread."""
    days = weather.daily_means_c(read(name)[0])
    true_k = weather.heating_degree_days_k(days, BASE_C)
    months = np.split(days, np.cumsum(weather.DAYS_OF_MONTH)[:-1])
    smooth = weather.heating_degree_days_k(weather.yearly_c([m.mean() for m in months]), BASE_C)
    assert smooth == pytest.approx(true_k, rel=plain)
    normal = sum(weather.monthly_heating_degree_days_k(m.mean(), m.std(), BASE_C, len(m)) for m in months)
    assert normal == pytest.approx(true_k, rel=spread)


@pytest.mark.parametrize(("name", "share"), [(PLACES[0], 0.65), (PLACES[1], 1.05)])
def test_hours_from_lows_and_highs(name, share):
    """The two-cosine day against the file's hours, as a share of the miss of a flat day at its mean.

    Inland it explains much of the day; at Sand Point, in the sea, passing weather makes lows and highs at any
    hour and the curve is no better than the mean: a stated limit. Rows are stamped at the end of their hour.
    """
    hourly, place = read(name)
    by_day = np.asarray(hourly).reshape(-1, 24)
    noon_h = 12.0 + place["TZ"] - place["longitude"] / 15.0
    rise_h = noon_h - sun.day_length_s(place["latitude"], np.arange(1.0, 366.0)) / 7200.0
    hours = np.arange(1.0, 25.0)
    rows = zip(by_day.min(axis=1), by_day.max(axis=1), rise_h, strict=True)
    ours = np.array([weather.diurnal_c(hours, *row, noon_h + 2.0) for row in rows])
    flat = np.sqrt(((by_day - by_day.mean(axis=1, keepdims=True)) ** 2).mean())
    assert np.sqrt(((ours - by_day) ** 2).mean()) < share * flat


@pytest.mark.parametrize("name", PLACES)
def test_coldest_three_days_by_rolling_mean(name):
    hourly = read(name)[0]
    assert weather.coldest_mean_c(hourly, 72) == pytest.approx(hourly.rolling(72).mean().min(), abs=1e-9)
