"""Hours outside: a month in a bad spell or as usual, or years with day-to-day variation; the sun on a panel."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.errors import InputError
from hearthold.physics.weather import DAYS_OF_MONTH, diurnal_c, yearly_c
from hearthold.quantities.glossary import require
from hearthold.sizing.conditions import conditions

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.sizing.conditions import Conditions

DAY_H, YEAR_H = 24, 8760
DEVIATION_K = 5.0  # of daily means about the month's normal in winter, mid latitudes (judgement)
LAG_ONE_DAY_FRAC = (
    0.7  # correlation of one day's anomaly with the next (common in weather generators, from memory)
)
SPELL_DEVIATIONS = 2.0  # a bad week lies about this many deviations below its month (judgement)


@dataclass(frozen=True, slots=True, eq=False)
class Hours:
    """Outdoor temperature and solar power hour by hour since midnight of day 0 (local time)."""

    outdoor_c: NDArray[np.float64]
    solar_w: NDArray[np.float64]
    first_day: int = 0  # day of the year of hour 0, 1 January = 0

    @property
    def length_s(self) -> float:
        """Length of the series."""
        return len(self.outdoor_c) * 3600.0

    def coldest_c(self, start_s: float, length_s: float) -> float:
        """The coldest of the hours that a stretch of time touches."""
        first, last = int(start_s // 3600.0), max(start_s // 3600.0 + 1.0, -(-(start_s + length_s) // 3600.0))
        return float(np.min(self.outdoor_c[first : int(last)]))


def hours(outdoor_c: ArrayLike, solar_w: ArrayLike | None = None, first_day: int = 0) -> Hours:
    """A series of one's own, one value an hour from midnight on. Raises InputError for values out of range."""
    outside = np.ascontiguousarray(outdoor_c, dtype=float)
    sun = np.zeros_like(outside) if solar_w is None else np.ascontiguousarray(solar_w, dtype=float)
    if outside.ndim != 1 or outside.size == 0 or sun.shape != outside.shape:
        raise InputError(
            f"outdoor_c has shape {outside.shape} and solar_w {sun.shape}; give one value an hour in each.",
            code="hours",
        )
    require(outdoor_c=outside)
    if not (np.all(np.isfinite(sun)) and np.all(sun >= 0.0)):
        raise InputError("solar_w must be 0 or more in every hour.", code="hours")
    return Hours(outside, sun, first_day)


def month_hours(house: House, month: int, harsh: bool = True, days: int = 32) -> Hours:
    """The same day over and over: a month's mean (in a bad spell if `harsh`) with its daily course.

    Raises: InputError for a month that is none or a house without normals.
    """
    return steady_hours(conditions(house, month, harsh), days)


def steady_hours(weather: Conditions, days: int) -> Hours:
    """The same day over and over, as the conditions have it."""
    clock = np.arange(DAY_H, dtype=np.float64) + 0.5  # each hour stands for its middle
    day = np.asarray(diurnal_c(clock, weather.outdoor_low_c, weather.outdoor_high_c))
    day += weather.outdoor_mean_c - day.mean()
    return hours(np.tile(day, days), first_day=sum(DAYS_OF_MONTH[: weather.month - 1]))


def year_hours(house: House, seed: int, years: int = 1, spare_days: int = 16) -> Hours:
    """Years of hours from the normals: daily means that wander about them, and the daily course.

    Anomalies are a first-order autoregression; their deviation comes from the house's cold spell where given.
    `spare_days` are added at the end so that an outage may begin on the last day. Same seed, same years.
    Raises: InputError for a house without normals.

    Source: AR(1) daily anomalies, common in weather generators (Richardson, Water Resources Research 17, 1981,
    from memory); the deviation is a judgement.
    """
    if not house.climate.mean:
        raise InputError("climate has no monthly means; give mean = [...].", code="no_normals")
    normal = yearly_c(house.climate.mean_c)
    count = 365 * years + spare_days
    spell_k = house.climate.cold_spell_k
    deviation_k = spell_k / SPELL_DEVIATIONS if spell_k > 0.0 else DEVIATION_K
    means = np.resize(normal, count) + deviation_k * _wandering(np.random.default_rng(seed), count)
    half_k = house.climate.daily_range_k / 2.0
    course = (
        np.asarray(diurnal_c((np.arange(DAY_H) + 0.5).astype(np.float64), -half_k, half_k))
        if half_k > 0.0
        else np.zeros(DAY_H)
    )
    outside = (means[:, None] + (course - course.mean())[None, :]).ravel()
    return Hours(outside, np.zeros(outside.size))


def _wandering(rng: np.random.Generator, count: int) -> NDArray[np.float64]:
    """A series of unit deviation in which each day remembers the one before."""
    noise = rng.standard_normal(count)
    made = np.empty(count)
    made[0] = noise[0]
    keep = (1.0 - LAG_ONE_DAY_FRAC**2) ** 0.5
    for i in range(1, count):
        made[i] = LAG_ONE_DAY_FRAC * made[i - 1] + keep * noise[i]
    return made
