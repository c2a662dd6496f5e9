"""A weather file (EPW, TMY3 or a CSV of our own) as hours of temperature and sun; its monthly normals.

The CSV has a header line and the columns `outdoor_c` and, if the sun matters, `ghi_w_per_m2`: one row an
hour from the first hour of 1 January, 8760 rows or whole years of them.
"""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hearthold.errors import InputError, MissingExtraError
from hearthold.house.site import Climate

HOURS_A_YEAR = 8760
_MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_LOWEST_C, _HIGHEST_C = -70.0, 60.0


@dataclass(frozen=True, slots=True, eq=False)
class WeatherHours:
    """Hours of weather from 1 January: arrays of whole years, 8760 hours each."""

    outdoor_c: NDArray[np.float64]
    ghi_w_per_m2: NDArray[np.float64]
    name: str

    def monthly_mean_c(self) -> tuple[float, ...]:
        """Mean outdoor temperature of each month over all years."""
        return tuple(float(np.mean(part)) for part in self._by_month())

    def daily_range_k(self) -> float:
        """Mean difference between a day's warmest and coldest hour."""
        days = self.outdoor_c.reshape(-1, 24)
        return float(np.mean(np.ptp(days, axis=1)))

    def cold_spell_k(self) -> float:
        """How far the coldest three days of the coldest month lie below that month's mean."""
        months = self._by_month()
        coldest = min(months, key=lambda m: float(np.mean(m)))
        daily = coldest.reshape(-1, 24).mean(axis=1)
        three = np.convolve(daily, np.ones(3) / 3.0, mode="valid")
        return max(0.0, float(np.mean(coldest) - np.min(three)))

    def _by_month(self) -> list[NDArray[np.float64]]:
        years = self.outdoor_c.reshape(-1, HOURS_A_YEAR)
        edges = np.cumsum((0, *_MONTH_DAYS)) * 24
        return [years[:, a:b].reshape(-1) for a, b in pairwise(edges)]


def with_normals(climate: Climate, beside: Path) -> Climate:
    """The climate with monthly normals from its weather file, where it gives none of its own.

    Relative paths count from the house file's folder `beside`. Raises InputError, MissingExtraError.
    """
    if climate.weather_file is None or climate.mean:
        return climate
    hours = read_weather(str(beside / climate.weather_file))
    return climate.model_copy(
        update={
            "unit": "C",
            "mean": hours.monthly_mean_c(),
            "daily_range": climate.daily_range or hours.daily_range_k(),
            "cold_spell": climate.cold_spell or hours.cold_spell_k(),
            "source": climate.source or f"weather file {hours.name}",
        }
    )


@lru_cache(maxsize=8)
def read_weather(path: str) -> WeatherHours:
    """Hours of a weather file by its ending: .epw, .csv of TMY3, or a CSV of our own.

    Raises InputError naming file and what is wrong; MissingExtraError where EPW or TMY3 needs pvlib.
    """
    place = Path(path)
    if not place.is_file():
        raise InputError(
            f"{path}: the weather file does not exist. Paths count from the house file's folder."
        )
    try:
        head = place.read_text("utf-8", errors="replace").splitlines()[:2]
    except OSError as problem:
        raise InputError(f"{path}: the weather file cannot be read ({problem}).") from None
    if head and "outdoor_c" in head[0]:
        return _checked(path, *_own(place))
    return _checked(path, *_standard(place))


def _own(place: Path) -> tuple[list[float], list[float]]:
    rows = csv.DictReader(io.StringIO(place.read_text("utf-8", errors="replace")))
    outdoor, sun = [], []
    for number, row in enumerate(rows, start=2):
        try:
            outdoor.append(float(row["outdoor_c"]))
            sun.append(float(row.get("ghi_w_per_m2") or 0.0))
        except (TypeError, ValueError):
            raise InputError(f"{place}:{number}: needs a number in outdoor_c (and ghi_w_per_m2).") from None
    return outdoor, sun


def _standard(place: Path) -> tuple[list[float], list[float]]:
    """EPW or TMY3, read by pvlib."""
    try:
        from pvlib import iotools
    except ImportError:
        raise MissingExtraError(
            f"{place}: reading EPW and TMY3 files needs pvlib; install it with: "
            "pip install 'hearthold[weather]'"
        ) from None
    try:
        frame: Any
        if place.suffix.lower() == ".epw":
            frame, _ = iotools.read_epw(place)
        else:
            frame, _ = iotools.read_tmy3(place, coerce_year=1990, map_variables=True)
        return [float(v) for v in frame["temp_air"]], [float(v) for v in frame["ghi"]]
    except Exception as problem:  # pvlib raises whatever its parser meets
        raise InputError(
            f"{place}: cannot be read as an EPW or TMY3 file ({type(problem).__name__}: {problem}), and its first "
            "line names no column outdoor_c. Fetch it again, or write a CSV with that column and 8760 hours."
        ) from None


def _checked(path: str, outdoor: list[float], sun: list[float]) -> WeatherHours:
    temperatures, light = np.array(outdoor), np.nan_to_num(np.array(sun), nan=0.0)
    if len(temperatures) == 0 or len(temperatures) % HOURS_A_YEAR:
        raise InputError(
            f"{path}: has {len(temperatures)} hours; needs whole years of {HOURS_A_YEAR} "
            "(leave 29 February out)."
        )
    if np.all(np.isnan(temperatures)):
        raise InputError(
            f"{path}: every temperature is missing. Use another file, or leave weather_file out and give mean."
        )
    if np.any(np.isnan(temperatures)):
        known = ~np.isnan(temperatures)
        at = np.arange(len(temperatures))
        temperatures = np.interp(at, at[known], temperatures[known])
    if temperatures.min() < _LOWEST_C or temperatures.max() > _HIGHEST_C:
        raise InputError(
            f"{path}: temperatures run from {temperatures.min():.0f} to {temperatures.max():.0f} C; "
            f"allowed {_LOWEST_C:.0f} to {_HIGHEST_C:.0f} C. Is the column in Fahrenheit?"
        )
    temperatures.flags.writeable = light.flags.writeable = False
    return WeatherHours(temperatures, light, Path(path).name)
