"""A figure with its 95 % interval, from rounds that are independent, or sharper together than apart (too wide then)."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.errors import InputError

Array = NDArray[np.float64]
SURE_FRAC = 0.95


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value and its 95 % interval. Sampling alone: the inputs are taken as true."""

    value: float
    low: float
    high: float

    @property
    def half(self) -> float:
        """Half the width of the interval."""
        return (self.high - self.low) / 2.0

    def times(self, factor: float) -> Estimate:
        """The same in another unit; `factor` is above 0."""
        return Estimate(self.value * factor, self.low * factor, self.high * factor)


def estimate(rounds: ArrayLike, *, least: float = -inf, most: float = inf) -> Estimate:
    """Mean of the rounds (r,) with the Student interval of their scatter, kept within [least, most].

    Raises InputError for fewer than two rounds.
    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2, confidence limits for the mean (from
    memory); randomized quasi-Monte Carlo replicates, Owen, Monte Carlo theory, methods and examples, ch. 17
    (from memory).
    """
    values = np.asarray(rounds, dtype=float)
    middle, reach = min(most, max(least, float(values.mean()))), float(reach_of(values))
    return Estimate(middle, max(least, middle - reach), min(most, middle + reach))


def reach_of(rounds: Array) -> Array:
    """Half width of the Student interval of the mean over the first axis. Raises InputError for fewer than two."""
    from scipy.special import stdtrit

    count = len(rounds)
    if count < 2:
        raise InputError(f"{count} round; an interval needs two or more.", code="too_few_rounds")
    return np.asarray(stdtrit(count - 1, 0.5 + SURE_FRAC / 2.0) * rounds.std(axis=0, ddof=1) / count**0.5)


def enough(amounts: Array, enough_frac: Array, share: float, unseen: float = 0.0) -> Estimate:
    """Least of the rising `amounts` that is enough for a share, from rounds (r, amounts) of how often each is enough.

    The interval holds every amount of which it cannot be said, at 95 %, that it is enough for less or for more; its
    high end is inf where no amount is enough beyond doubt. `unseen` is the highest chance of what no round showed.
    Raises InputError for fewer than two rounds.
    Source: test inversion for percentiles, Woodruff, J. Am. Stat. Assoc. 47, 1952 (from memory).
    """
    middle, reach = enough_frac.mean(axis=0), reach_of(enough_frac)
    surely = np.minimum(middle - reach, np.where(1.0 - middle < unseen, 1.0 - unseen, 1.0))
    surely = np.minimum.accumulate(surely[::-1])[::-1]
    rows = np.array([middle, np.minimum(1.0, middle + reach), surely])
    value, low, high = first_at(amounts, rows, share)
    most = float(amounts[-1])
    return Estimate(min(value, most), min(low, value, most), max(high, value))


def first_at(amounts: Array, enough_frac: Array, share: float) -> Array:
    """(m,) where rows (m, amounts) first reach a share, straight between the rising amounts; inf where none do."""
    rows = np.arange(len(enough_frac))
    after = np.sum(np.maximum.accumulate(enough_frac, axis=1) < share - 1e-12, axis=1)
    k = np.clip(after, 1, len(amounts) - 1)
    low, high = enough_frac[rows, k - 1], enough_frac[rows, k]
    step = np.divide(share - low, high - low, out=np.zeros(len(rows)), where=high > low)
    found = amounts[k - 1] + np.clip(step, 0.0, 1.0) * (amounts[k] - amounts[k - 1])
    return np.where(after < len(amounts), np.where(after > 0, found, amounts[0]), inf)


def share_of(count: int, homes: int) -> Estimate:
    """A share with Wilson's interval; everything is possible where nothing was looked at.

    Source: Wilson, J. Am. Stat. Assoc. 22, 1927; NIST/SEMATECH e-Handbook, 7.2.4.1 (from memory).
    """
    from scipy.special import ndtri

    if homes == 0:
        return Estimate(0.0, 0.0, 1.0)
    z, share = float(ndtri(0.5 + SURE_FRAC / 2.0)), count / homes
    middle = (share + z**2 / (2.0 * homes)) / (1.0 + z**2 / homes)
    reach = z / (1.0 + z**2 / homes) * (share * (1.0 - share) / homes + z**2 / (4.0 * homes**2)) ** 0.5
    return Estimate(share, min(share, max(0.0, middle - reach)), max(share, min(1.0, middle + reach)))


def ratio(tops: ArrayLike, bottoms: ArrayLike) -> Estimate:
    """Sum over sum of pairs drawn together, with the Student interval of the line that they scatter about.

    One pair tells nothing of the scatter: the interval is then without end. Bottoms are 0 or above, not all 0.
    Source: ratio estimator by linearisation, Cochran, Sampling Techniques, 1977, ch. 6 (from memory).
    """
    top, bottom = np.asarray(tops, dtype=float), np.asarray(bottoms, dtype=float)
    found = float(top.sum() / bottom.sum())
    if top.size < 2:
        return Estimate(found, -inf, inf)
    reach = float(reach_of((top - found * bottom) / bottom.mean()))
    return Estimate(found, found - reach, found + reach)


def never_seen_frac(count: float) -> float:
    """Highest chance, at 95 %, of what did not happen once in `count` independent tries: 3 / count.

    Everything is possible where nothing was tried.

    Source: Hanley and Lippman-Hand, JAMA 249, 1983, "If nothing goes wrong, is everything all right?" (from
    memory).
    """
    return min(1.0, 3.0 / count) if count > 0.0 else 1.0
