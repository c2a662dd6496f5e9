"""Money over years: present worth, annuities, replacements and what a part is still worth; and ranges of it.

Everything is reckoned in today's prices: the discount rate is a real one, and a price that rises with the others
does not rise here. Sums at the end of each year; first cost at year 0.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isfinite, log1p

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.errors import InputError

Array = NDArray[np.float64]
_LEVEL = 1e-12
_LOWEST_RATE, _HIGHEST_RATE, _MOST_YEARS = -0.5, 1.0, 200.0


@dataclass(frozen=True, slots=True)
class Range:
    """A sum as low, typical and high."""

    low: float
    typical: float
    high: float

    def __add__(self, other: Range) -> Range:
        """Low with low, high with high: the ends of a sum of ranges."""
        return Range(self.low + other.low, self.typical + other.typical, self.high + other.high)

    def times(self, factor: float) -> Range:
        """The range `factor` times; raises InputError for a negative factor."""
        if not factor >= 0.0:
            raise InputError(
                f"a range of money is taken {factor:g} times; allowed 0 and above.", code="out_of_range"
            )
        return Range(self.low * factor, self.typical * factor, self.high * factor)

    def at(self, place: Array | float) -> Array:
        """Between low (-1), typical (0) and high (1), on two straight lines."""
        return np.asarray(np.interp(place, [-1.0, 0.0, 1.0], [self.low, self.typical, self.high]))


NOTHING = Range(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Terms:
    """How years are reckoned. The figures are common practice (no source) and open to change.

    Source: a real rate of 3 % is the usual one for public buildings in the USA, 10 CFR 436 (from memory).
    """

    years: float = 20.0
    discount_frac: float = 0.03  # real, a year
    fuel_rise_frac: float = 0.01  # real, a year: fuel dearer than other things

    def __post_init__(self) -> None:
        """Raises InputError for years or rates that cannot be."""
        if not 1.0 <= self.years <= _MOST_YEARS:
            raise InputError(f"years is {self.years:g}; allowed 1 to {_MOST_YEARS:g}.", code="out_of_range")
        for name in ("discount_frac", "fuel_rise_frac"):
            _check_rate(name, getattr(self, name))


def present_value(amount: ArrayLike, rate_frac: ArrayLike, years: ArrayLike) -> Array:
    """Worth today of an amount due after some years: F / (1 + r)^n. Arrays broadcast.

    Raises: InputError for a rate outside -0.5 to 1.
    Source: single payment present worth, any textbook of engineering economy.
    """
    _check_rate("rate_frac", rate_frac)
    return np.asarray(
        np.asarray(amount, dtype=float)
        / (1.0 + np.asarray(rate_frac, dtype=float)) ** np.asarray(years, dtype=float)
    )


def annuity_factor(rate_frac: ArrayLike, years: ArrayLike, rise_frac: ArrayLike = 0.0) -> Array:
    """Worth today of 1 at the end of each year, rising by `rise_frac` a year from today's price on. Arrays broadcast.

    P/A = (1 - ((1 + g)/(1 + r))^n) (1 + g)/(r - g), and n where r = g. With g = 0 the plain (1 - (1 + r)^-n)/r.
    Raises: InputError for rates outside -0.5 to 1 or years outside 0 to 200.
    Source: uniform present value, modified for escalation: NIST Handbook 135, 1995, section 3 (from memory).
    """
    _check_rate("rate_frac", rate_frac)
    _check_rate("rise_frac", rise_frac)
    n = np.asarray(years, dtype=float)
    if not np.all((n >= 0.0) & (n <= _MOST_YEARS)):
        raise InputError(f"years is {n}; allowed 0 to {_MOST_YEARS:g}.", code="out_of_range")
    growth = (1.0 + np.asarray(rise_frac, dtype=float)) / (1.0 + np.asarray(rate_frac, dtype=float))
    level = np.abs(growth - 1.0) < _LEVEL
    apart = np.where(level, 0.5, growth)
    return np.asarray(np.where(level, n, apart * (1.0 - apart**n) / (1.0 - apart)))


def recovery_frac(rate_frac: float, years: float) -> float:
    """Yearly sum that pays back 1 over some years (A/P): the inverse of the annuity factor. Raises InputError."""
    factor = float(annuity_factor(rate_frac, years))
    if factor <= 0.0:
        raise InputError(
            f"years is {years:g}; a sum is paid back over more than 0 years.", code="out_of_range"
        )
    return 1.0 / factor


def owning_factor(life_years: ArrayLike, rate_frac: ArrayLike, years: ArrayLike) -> Array:
    """Worth today of having a part of price 1 for some years: bought now and whenever it is worn out, and what is left
    of the last one taken off, in proportion to the years it still has. Arrays broadcast.

    Raises: InputError for a life of 0 or less, or a rate outside -0.5 to 1.
    Source: replacement and residual value by linear proration, NIST Handbook 135, 1995 (from memory).
    """
    _check_rate("rate_frac", rate_frac)
    life, rate, n = np.broadcast_arrays(*(np.asarray(x, dtype=float) for x in (life_years, rate_frac, years)))
    if not np.all(life > 0.0):
        raise InputError(f"life_years is {np.min(life):g}; allowed above 0.", code="out_of_range")
    count = np.maximum(1.0, np.ceil(n / life - 1e-9))
    worth = np.zeros(life.shape)
    for k in range(int(count.max())):
        worth += np.where(k < count, (1.0 + rate) ** (-k * life), 0.0)
    left_frac = count - n / life
    return np.asarray(worth - left_frac * (1.0 + rate) ** -n)


def payback_years(extra: float, saved_per_year: float, rate_frac: float) -> float:
    """Years after which savings have paid an extra first cost back, discounted; inf where they never do.

    n = -ln(1 - r E / S) / ln(1 + r). 0 where nothing extra is spent. Raises InputError for a rate out of range.
    Source: the annuity solved for its years.
    """
    _check_rate("rate_frac", rate_frac)
    if extra <= 0.0:
        return 0.0
    if saved_per_year <= 0.0:
        return inf
    if rate_frac == 0.0:
        return extra / saved_per_year
    share = rate_frac * extra / saved_per_year
    return inf if share >= 1.0 else -log1p(-share) / log1p(rate_frac)


def saving(cheap: Sequence[float], dear: Sequence[float]) -> tuple[float, float]:
    """Least and most that the cheap way saves against the dear one, each given as (low, high).

    Raises: InputError for a negative price or a range upside down.
    """
    for name, (low, high) in (("cheap", cheap), ("dear", dear)):
        if not 0.0 <= low <= high:
            raise InputError(f"{name} is {low:g} to {high:g}; give 0 <= low <= high.", code="out_of_range")
    return dear[0] - cheap[1], dear[1] - cheap[0]


def price(name: str, value: float) -> float:
    """A price a person gave, checked. Raises InputError where it is negative or no number."""
    if not (isfinite(value) and value >= 0.0):
        raise InputError(
            f"{name} is {value:g}; a price is 0 or more.", code="negative_price", name=name, value=value
        )
    return value


def _check_rate(name: str, rate_frac: ArrayLike) -> None:
    rates = np.asarray(rate_frac, dtype=float)
    if not np.all((rates >= _LOWEST_RATE) & (rates <= _HIGHEST_RATE)):
        raise InputError(
            f"{name} is {rates}; allowed {_LOWEST_RATE:g} to {_HIGHEST_RATE:g} a year (3 % is 0.03).",
            code="out_of_range",
        )
