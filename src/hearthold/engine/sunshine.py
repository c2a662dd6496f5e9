"""Power from a house's panels for every hour of a series: the month's mean day, dimmed by a share."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.weather import DAY_H, Hours, month_hours
from hearthold.errors import InputError
from hearthold.physics import sun
from hearthold.physics.sunestimate import CLEAR_SKY_FRAC, level_from_range_j_per_m2
from hearthold.physics.weather import DAYS_OF_MONTH
from hearthold.reference.storage import pv_constant
from hearthold.sizing.conditions import conditions

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.supply import Solar
    from hearthold.sizing.conditions import Conditions


def with_panels(hours_outside: Hours, house: House, sun_frac: float = 1.0) -> Hours:
    """The same hours with power from the panels; `sun_frac` of the month's mean day (storms give 0.1 to 0.3).

    Hours count as local solar time. A house without panels is returned as it is.
    Raises: InputError for a share below 0 or above 2.

    Source: Hargreaves' estimate of the sky from the daily range, Liu-Jordan-Klein slope (see `physics.sun`).
    """
    if not 0.0 <= sun_frac <= 2.0:
        raise InputError(f"sun_frac is {sun_frac:g}; allowed 0 to 2.", code="out_of_range")
    if house.solar is None:
        return hours_outside
    day = (hours_outside.first_day + np.arange(-(-len(hours_outside.outdoor_c) // DAY_H))) % 365
    month = np.searchsorted(np.cumsum(DAYS_OF_MONTH), day, side="right")
    energy_j = sun_frac * _panel_day_j(house, house.solar)[month]
    watts = np.minimum(energy_j[:, None] * _day_shape(house, day) / 3600.0, house.solar.peak_w)
    flat = np.ascontiguousarray(watts.ravel()[: len(hours_outside.outdoor_c)])
    return replace(hours_outside, solar_w=flat)


def spell_sun_frac(weather: Conditions) -> float:
    """Share of the month's mean sun to plan with: a storm's in a bad spell of the heating season, else all of it.

    A hot spell in summer is no dull one (judgement). Source: storm ratios of the table of panels, from memory.
    """
    return pv_constant("storm_high_ratio") if weather.harsh and weather.heating_season else 1.0


def month_with_sun(house: House, month: int, harsh: bool = True, days: int = 32) -> Hours:
    """`month_hours` with power from the house's panels. Raises as that does."""
    outside = month_hours(house, month, harsh, days)
    return with_panels(outside, house, spell_sun_frac(conditions(house, month, harsh)))


def _panel_day_j(house: House, solar: Solar) -> NDArray[np.float64]:
    """(12,) energy of each month's mean day."""
    month, latitude = np.arange(1.0, 13.0), house.site.latitude
    above = np.asarray(sun.extraterrestrial_j_per_m2(latitude, sun.mean_day_of_month(month)))
    level = np.asarray(level_from_range_j_per_m2(house.climate.daily_range_k, above))
    clear = np.minimum(np.asarray(sun.clearness(latitude, month, level)), CLEAR_SKY_FRAC)
    plane = sun.plane_of_panel_j_per_m2(latitude, solar.tilt_deg, month, clear)
    return np.asarray(sun.panel_energy_j(solar.peak_w, plane, solar.performance))


def _day_shape(house: House, day: NDArray[np.int64]) -> NDArray[np.float64]:
    """(n, 24) share of each hour in a day's sun, by the sine of the sun's height."""
    of_year = np.asarray(day + 1, dtype=np.float64)
    dec = np.asarray(sun.declination_deg(of_year))[:, None]
    turn: NDArray[np.float64] = 15.0 * (np.arange(float(DAY_H)) - 11.5)
    up = np.maximum(0.0, np.sin(np.radians(sun.elevation_deg(house.site.latitude, dec, turn[None, :]))))
    total = up.sum(axis=1, keepdims=True)
    return np.asarray(np.divide(up, total, out=np.zeros_like(up), where=total > 1e-9))
