"""From monthly normals to hours: a year of daily means, a day's course of temperature, and degree-days.

Normals give the usual, not the cold snap in which an outage hurts: for that take a weather file.
"""

from __future__ import annotations

from math import erf, exp, pi, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.errors import InputError
from hearthold.physics.values import Values
from hearthold.quantities.glossary import require

DAYS_OF_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
YEAR_DAYS = 365
WARMEST_H = 15.0  # usual hour of the day's high
HOURS_OF_DAY = 24


def diurnal_c(
    clock_h: Values,
    daily_low_c: Values,
    daily_high_c: Values,
    sunrise_h: float = 6.5,
    warmest_h: float = WARMEST_H,
) -> Values:
    """Temperature at an hour of a day: two half cosines, lowest at sunrise, highest at `warmest_h`.

    Rises over sunrise to warmest, falls over the rest of the 24 h; the day's mean is the mean of low and
    high. Valid for a usual clear or partly clear day; fronts break it.

    Raises: InputError outside the glossary ranges.
    Source: two-cosine day, common practice in weather generators, no one source.
    """
    require(clock_h=clock_h, daily_low_c=daily_low_c, daily_high_c=daily_high_c)
    require(sunrise_h=sunrise_h, warmest_h=warmest_h)
    if sunrise_h >= warmest_h:
        raise InputError(
            f"sunrise_h is {sunrise_h:g} h and must be before warmest_h ({warmest_h:g} h).", code="day_order"
        )
    since_h = (np.asarray(clock_h, dtype=float) - sunrise_h) % HOURS_OF_DAY
    rising_h = warmest_h - sunrise_h
    up = 0.5 - 0.5 * np.cos(pi * since_h / rising_h)
    down = 0.5 + 0.5 * np.cos(pi * (since_h - rising_h) / (HOURS_OF_DAY - rising_h))
    share = np.where(since_h < rising_h, up, down)
    found = np.asarray(daily_low_c) + share * (np.asarray(daily_high_c) - np.asarray(daily_low_c))
    return float(found) if found.ndim == 0 else found


def yearly_c(monthly_c: ArrayLike) -> NDArray[np.float64]:
    """365 daily values from 12 monthly means, straight between mid-months, keeping every month's mean.

    `monthly_c` is a sequence of 12; the result has shape (365,). The knots are solved for, so that coldest
    and warmest day lie a little beyond the month's mean, as they do.

    Raises: InputError unless 12 values are given, or outside the glossary ranges.
    Source: piecewise-linear curve with given means; our own.
    """
    means = np.asarray(monthly_c, dtype=float)
    if means.shape != (12,):
        raise InputError(f"monthly_c has {means.size} values; give 12, January first.", code="twelve_months")
    require(monthly_c=means)
    weights = _month_weights()
    month = _month_of_day()
    averages = np.array([weights[month == m].mean(axis=0) for m in range(12)])
    return np.asarray(weights @ np.linalg.solve(averages, means))


def hourly_year_c(
    daily_low_c: ArrayLike, daily_high_c: ArrayLike, sunrise_h: ArrayLike = 6.5, warmest_h: float = WARMEST_H
) -> NDArray[np.float64]:
    """Hour by hour temperatures from daily lows and highs, at each full hour.

    Shape (days,) in, (days x 24,) out. `sunrise_h` may be one number or one a day. The evening falls toward
    the *same* day's low, so that days join with a step where lows differ much.

    Raises: InputError when the lengths differ, or outside the glossary ranges.
    Source: see `diurnal_c`.
    """
    low, high = np.asarray(daily_low_c, dtype=float), np.asarray(daily_high_c, dtype=float)
    if low.ndim != 1 or low.shape != high.shape:
        raise InputError("daily_low_c and daily_high_c must have one value a day each.", code="lengths")
    rise = np.broadcast_to(np.asarray(sunrise_h, dtype=float), low.shape)
    hours = np.arange(HOURS_OF_DAY, dtype=float)
    days = [
        np.asarray(diurnal_c(hours, float(a), float(b), float(r), warmest_h))
        for a, b, r in zip(low, high, rise, strict=True)
    ]
    return np.concatenate(days) if days else np.empty(0)


def daily_means_c(hourly_c: ArrayLike) -> NDArray[np.float64]:
    """Daily means of whole days of hourly values: shape (days x 24,) in, (days,) out.

    Raises: InputError unless the number of hours is a multiple of 24, or outside the glossary ranges.
    Source: arithmetic.
    """
    hours = np.asarray(hourly_c, dtype=float)
    if hours.size == 0 or hours.size % HOURS_OF_DAY:
        raise InputError(f"hourly_c has {hours.size} values; give whole days of 24.", code="whole_days")
    require(hourly_c=hours)
    return np.asarray(hours.reshape(-1, HOURS_OF_DAY).mean(axis=1))


def heating_degree_days_k(daily_mean_c: ArrayLike, balance_c: float) -> float:
    """Heating degree-days of a series of daily means: sum of max(0, balance - mean), in kelvin-days.

    `daily_mean_c` is a number or a sequence. The published 65 degF is 18.33 degC; 1 K day is 1.8 degF day.
    United States practice takes the mean of the day's low and high, which differs by a few per cent.

    Raises: InputError outside the glossary ranges.
    Source: ASHRAE Handbook of Fundamentals, energy estimating chapter (definition, from memory).
    """
    means = np.asarray(daily_mean_c, dtype=float)
    require(daily_mean_c=means, balance_c=balance_c)
    return float(np.maximum(0.0, balance_c - means).sum())


def cooling_degree_days_k(daily_mean_c: ArrayLike, balance_c: float) -> float:
    """Cooling degree-days of a series of daily means: sum of max(0, mean - balance), in kelvin-days.

    `daily_mean_c` is a number or a sequence.

    Raises: InputError outside the glossary ranges.
    Source: see `heating_degree_days_k`.
    """
    means = np.asarray(daily_mean_c, dtype=float)
    require(daily_mean_c=means, balance_c=balance_c)
    return float(np.maximum(0.0, means - balance_c).sum())


def monthly_heating_degree_days_k(
    monthly_c: float, deviation_k: float, balance_c: float, day_count: float
) -> float:
    """Heating degree-days of a month from its mean and the spread of its days, taken as normal.

    N s (z Phi(z) + phi(z)), z = (balance - mean)/s. Tends to N max(0, balance - mean) as the spread vanishes.

    Raises: InputError outside the glossary ranges.
    Source: Thom 1954; normal form of Schoenau and Kehrig, Energy and Buildings 14, 1990 (from memory).
    """
    require(monthly_c=monthly_c, deviation_k=deviation_k, balance_c=balance_c, day_count=day_count)
    z = (balance_c - monthly_c) / deviation_k
    below = 0.5 * (1.0 + erf(z / sqrt(2.0)))
    density = exp(-0.5 * z * z) / sqrt(2.0 * pi)
    return day_count * deviation_k * (z * below + density)


def coldest_mean_c(hourly_c: ArrayLike, duration_h: int) -> float:
    """Lowest mean over any `duration_h` whole hours in a row: the worst cold an outage that long would meet.

    Raises: InputError if the series is shorter, or outside the glossary ranges.
    Source: arithmetic.
    """
    hours = np.asarray(hourly_c, dtype=float)
    if not 1 <= duration_h <= hours.size:
        raise InputError(
            f"duration_h is {duration_h}; allowed 1 to {hours.size}, the hours given.", code="series"
        )
    require(hourly_c=hours)
    sums = np.concatenate([[0.0], np.cumsum(hours)])
    return float((sums[duration_h:] - sums[:-duration_h]).min() / duration_h)


def _month_of_day() -> NDArray[np.int64]:
    return np.repeat(np.arange(12), DAYS_OF_MONTH)


def _month_weights() -> NDArray[np.float64]:
    """(365, 12): share of each mid-month knot in each day, straight between knots around the year."""
    ends = np.cumsum(DAYS_OF_MONTH)
    middles = ends - np.asarray(DAYS_OF_MONTH) / 2.0
    days = np.arange(YEAR_DAYS) + 0.5
    around = np.concatenate([[middles[-1] - YEAR_DAYS], middles, [middles[0] + YEAR_DAYS]])
    knots = np.eye(12)[[11, *range(12), 0]]
    return np.column_stack([np.interp(days, around, knots[:, m]) for m in range(12)])
