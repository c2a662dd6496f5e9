"""Sun on the panels after each failure: the month's mean day, days brighter and duller, and a storm's first days."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.sunshine import with_panels
from hearthold.engine.weather import Hours
from hearthold.reference.storage import pv_constant

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.supply import Solar
    from hearthold.study.draws import Scenarios

Array = NDArray[np.float64]
DAY_H, YEAR_DAYS = 24, 365
_STORM_DAYS = 2  # dull days from the failure on, in a major outage (judgement)
_DULLEST, _BRIGHTEST = 0.35, 1.65  # a day's sun over its month's mean, evenly spread (judgement)
_STREAMS = ("routine", "major")


def year_panel_w(house: House, solar: Solar) -> Array:
    """(365, 24) power of some panels on days as bright as their month's mean.

    Source: engine.sunshine (Hargreaves' estimate of the sky, Liu-Jordan-Klein slope).
    """
    nothing = np.zeros(YEAR_DAYS * DAY_H)
    bare = Hours(nothing, nothing.copy())
    return with_panels(bare, replace(house, solar=solar)).solar_w.reshape(YEAR_DAYS, DAY_H)


def darkest_day_j(house: House, solar: Solar) -> float:
    """Energy of the mean day in the year's darkest month."""
    return float(year_panel_w(house, solar).sum(axis=1).min() * 3600.0)


def with_sun(scenarios: Scenarios, house: House, seed: int) -> Scenarios:
    """The same outages with power from the house's panels; hours that have sun from a weather file stay.

    Same seed, stream and round: the same sky for every design.
    """
    if house.solar is None or scenarios.hours.solar_w.any():
        return scenarios
    count = len(scenarios)
    days = len(scenarios.hours.outdoor_c) // DAY_H // count  # a day before each failure, then the days after
    day = (scenarios.day[:, None] + np.arange(-1, days - 1)) % YEAR_DAYS
    mean_w = year_panel_w(house, house.solar)[day]
    watts = np.minimum(mean_w * _brightness(scenarios, days, seed)[:, :, None], house.solar.peak_w)
    old = scenarios.hours
    return replace(scenarios, hours=Hours(old.outdoor_c, np.ascontiguousarray(watts.ravel()), old.first_day))


def _brightness(scenarios: Scenarios, days: int, seed: int) -> Array:
    """(n, days) a day's sun over the month's mean; the first days of a major outage are a storm's."""
    rng = np.random.default_rng([seed, 7, _STREAMS.index(scenarios.stream), scenarios.round])
    bright = rng.uniform(_DULLEST, _BRIGHTEST, (len(scenarios), days))
    if scenarios.stream == "major":
        low, high = pv_constant("storm_low_ratio"), pv_constant("storm_high_ratio")
        bright[:, 1 : 1 + _STORM_DAYS] = rng.uniform(low, high, (len(scenarios), _STORM_DAYS))
    return bright
