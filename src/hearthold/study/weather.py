"""The days after each failure of the grid: normals with days that remember, or years of a weather file.

A major outage comes with its weather: its first week is shifted, month by month, half of the way to the
month's bad spell, and the shift then fades as weather does. Wind is part of that shift and is not modelled by
itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.weather import DEVIATION_K, LAG_ONE_DAY_FRAC, SPELL_DEVIATIONS, Hours
from hearthold.errors import InputError
from hearthold.physics.weather import diurnal_c, yearly_c
from hearthold.sizing.conditions import conditions

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.weatherfile import WeatherHours

Array = NDArray[np.float64]
Days = NDArray[np.int64]
DAY_H, YEAR_DAYS = 24, 365
STORM_SHARE_FRAC = 0.5  # of the way from usual to a bad spell, in the week after a major failure (judgement)
STORM_DAYS = 7
FULL_SUN_W_PER_M2 = 1000.0  # irradiance at which a panel gives its peak power (standard test conditions)


@dataclass(frozen=True, eq=False)
class Climate:
    """What weather is drawn from: normals, a daily course, how far days wander; a file's years if any."""

    normal_c: Array  # (365,) mean of each day of the year
    course_k: Array  # (24,) hour of day about the day's mean
    deviation_k: float
    storm_k: Array  # (12,) shift of the week after a major failure
    file_c: Array | None  # (hours of all years,)
    file_solar_w: Array | None

    @property
    def years(self) -> int:
        """Years in the file; 0 without one."""
        return 0 if self.file_c is None else len(self.file_c) // (YEAR_DAYS * DAY_H)

    @cached_property
    def file_day_c(self) -> Array:
        """Mean of each day of the file."""
        hours = np.empty(0) if self.file_c is None else self.file_c
        return np.asarray(hours[: self.years * YEAR_DAYS * DAY_H].reshape(-1, DAY_H).mean(axis=1))

    @cached_property
    def has_sun(self) -> bool:
        """Whether a panel gives anything in these hours."""
        return self.file_solar_w is not None and bool(np.any(self.file_solar_w > 0.0))


def climate_of(house: House, file: WeatherHours | None = None) -> Climate:
    """The climate of a house. With a file its hours are used as they are, the normals for the storm shift.

    Raises: InputError for a house without monthly means.
    """
    if not house.climate.mean:
        raise InputError("climate has no monthly means; give mean = [...].", code="no_normals")
    spell_k = house.climate.cold_spell_k
    half_k = house.climate.daily_range_k / 2.0
    clock: Array = np.arange(DAY_H, dtype=float) + 0.5  # each hour stands for its middle
    course = np.asarray(diurnal_c(clock, -half_k, half_k)) if half_k > 0.0 else np.zeros(DAY_H)
    return Climate(
        np.asarray(yearly_c(house.climate.mean_c)),
        course - course.mean(),
        spell_k / SPELL_DEVIATIONS if spell_k > 0.0 else DEVIATION_K,
        STORM_SHARE_FRAC * np.array([_bad_spell_k(house, month) for month in range(1, 13)]),
        None if file is None else file.outdoor_c,
        None if file is None else _flat_panel_w(house, file),
    )


def after_failure(climate: Climate, day: Days, month: Days, draws: Array, days: int, storm: bool) -> Hours:
    """Weather of n outages end to end: a day before, and `days` from the day of each failure on.

    `draws` (n, 1 + days) are standard normal: the anomaly of the day of failure, then what each later day
    adds (with a file the first picks the year). Block i begins at hour i x 24 x (1 + days).
    """
    shift = _storm_k(climate, month, days) if storm else np.zeros((len(day), 1 + days))
    if climate.file_c is None:
        means = _normals_c(climate, day, days) + climate.deviation_k * _remembering(draws) + shift
        return _joined(means[:, :, None] + climate.course_k)
    first = _file_days(climate, day, draws, days)
    hours = (first[:, :, None] * DAY_H + np.arange(DAY_H)) % len(climate.file_c)
    sun = None if climate.file_solar_w is None else climate.file_solar_w[hours]
    return _joined(climate.file_c[hours] + shift[:, :, None], sun)


def day_means_c(climate: Climate, day: Days, month: Days, draws: Array, days: int, storm: bool) -> Array:
    """(n, 1 + days) daily means of what `after_failure` would make of the same draws, the day before first."""
    shift = _storm_k(climate, month, days) if storm else np.zeros((len(day), 1 + days))
    if climate.file_c is None:
        return np.asarray(_normals_c(climate, day, days) + climate.deviation_k * _remembering(draws) + shift)
    of_file = climate.file_day_c
    return np.asarray(of_file[_file_days(climate, day, draws, days) % len(of_file)] + shift)


def even_draws(places: Array, days: int, rng: np.random.Generator) -> Array:
    """(n, 1 + days) standard normal draws for n failures; `places` (n, 2) in [0, 1) are the quantiles of the anomalies
    of their first two days, and of what the days after add to them. Places of a net spread both evenly.
    """
    from scipy.special import ndtri

    anomaly = _remembering(np.eye(1 + days))  # (draws, days) what each draw gives to each day
    first, after = anomaly[:, 1:3].sum(axis=1), anomaly[:, 3:].sum(axis=1)
    turned, size = np.linalg.qr(np.column_stack([first, after, np.eye(1 + days)]))
    turned = turned * np.where(np.diagonal(size) < 0.0, -1.0, 1.0)
    normal = rng.standard_normal((len(places), 1 + days))
    normal[:, :2] = ndtri(np.clip(places, 1e-12, 1.0 - 1e-12))
    return np.asarray(normal @ turned.T)


def _normals_c(climate: Climate, day: Days, days: int) -> Array:
    return np.asarray(climate.normal_c[(day[:, None] + np.arange(-1, days)) % YEAR_DAYS])


def _file_days(climate: Climate, day: Days, draws: Array, days: int) -> Days:
    """(n, 1 + days) days of the file; the first draw picks the year."""
    from scipy.special import ndtr

    year = np.minimum((ndtr(draws[:, 0]) * climate.years).astype(np.int64), climate.years - 1)
    return np.asarray((year * YEAR_DAYS + day)[:, None] + np.arange(-1, days))


def _joined(outdoor_c: Array, solar_w: Array | None = None) -> Hours:
    flat = np.ascontiguousarray(outdoor_c.ravel())
    return Hours(flat, np.zeros_like(flat) if solar_w is None else np.ascontiguousarray(solar_w.ravel()))


def _remembering(draws: Array) -> Array:
    """(n, 1 + days) anomalies of unit deviation, the day before the failure first.

    A first-order autoregression read backwards is one too.
    """
    keep = (1.0 - LAG_ONE_DAY_FRAC**2) ** 0.5
    found = np.empty_like(draws)
    found[:, 1] = draws[:, 0]
    found[:, 0] = LAG_ONE_DAY_FRAC * found[:, 1] + keep * draws[:, 1]
    for i in range(2, draws.shape[1]):
        found[:, i] = LAG_ONE_DAY_FRAC * found[:, i - 1] + keep * draws[:, i]
    return found


def _storm_k(climate: Climate, month: Days, days: int) -> Array:
    """The shift of each day: nothing the day before, whole for a week, then fading by the day's memory."""
    after = np.maximum(0, np.arange(days) - (STORM_DAYS - 1))
    course = np.concatenate([[0.0], LAG_ONE_DAY_FRAC**after])
    return np.asarray(climate.storm_k[month][:, None] * course)


def _bad_spell_k(house: House, month: int) -> float:
    bad, usual = conditions(house, month), conditions(house, month, harsh=False)
    return bad.outdoor_mean_c - usual.outdoor_mean_c


def _flat_panel_w(house: House, file: WeatherHours) -> Array:
    """Power of the house's panel as if it lay flat: the file holds horizontal irradiance only."""
    if house.solar is None:
        return np.zeros_like(file.outdoor_c)
    return np.asarray(file.ghi_w_per_m2 / FULL_SUN_W_PER_M2 * house.solar.peak_w * house.solar.performance)
