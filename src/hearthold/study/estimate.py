"""A figure with its 95 % interval, from independent rounds."""

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
    from scipy.special import stdtrit

    values = np.asarray(rounds, dtype=float)
    if values.size < 2:
        raise InputError(f"{values.size} round; an interval needs two or more.", code="too_few_rounds")
    middle = float(values.mean())
    reach = float(stdtrit(values.size - 1, 0.5 + SURE_FRAC / 2.0) * values.std(ddof=1) / values.size**0.5)
    return Estimate(middle, max(least, middle - reach), min(most, middle + reach))


def never_seen_frac(count: float) -> float:
    """Highest chance, at 95 %, of what did not happen once in `count` independent tries: 3 / count.

    Everything is possible where nothing was tried.

    Source: Hanley and Lippman-Hand, JAMA 249, 1983, "If nothing goes wrong, is everything all right?" (from
    memory).
    """
    return min(1.0, 3.0 / count) if count > 0.0 else 1.0
