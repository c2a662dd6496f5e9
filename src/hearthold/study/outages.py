"""How often the grid fails and for how long: two Poisson streams, routine and major, with lognormal lengths.

A stream may hold many versions of its figures, each as likely as the others (draws of a posterior); then
every answer is their mean, and their spread says what the household's own short history leaves open. One
version means that published figures are taken as they stand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.quantities.source import Source
from hearthold.reference.outages import OutageModel, OutageStream, month_share_frac
from hearthold.reference.reader import table

Array = NDArray[np.float64]
YEAR_S = 365.25 * 86400.0


class Basis(StrEnum):
    """What the figures rest on."""

    HISTORY = "your own outages, with the region as a start"
    INDICES = "your utility's indices"
    REGION = "the figures of a region"


@dataclass(frozen=True, slots=True, eq=False)
class Stream:
    """One stream in K versions: arrays of shape (K,); `sigma` is of the logarithm of the length."""

    name: str
    rate_per_year: Array
    median_s: Array
    sigma: Array
    month_share_frac: Array  # (12,) January first, sums to 1

    @property
    def usual_per_year(self) -> float:
        """Outages in a usual year, mean of the versions."""
        return float(np.mean(self.rate_per_year))

    @property
    def rate_band_per_year(self) -> tuple[float, float]:
        """Middle 95 % of the versions' rates; of published figures, the one rate twice."""
        return _middle([self.rate_per_year])

    @property
    def typical_s(self) -> float:
        """Length that half of the outages pass, mean of the versions' logarithms."""
        return float(np.exp(np.mean(np.log(self.median_s))))

    def survival_each_frac(self, time_s: ArrayLike) -> Array:
        """(K, times) chance by each version that an outage lasts longer than each time. Not to be written to."""
        return _survival_each_frac(self, np.asarray(time_s, dtype=float).tobytes())

    def survival_frac(self, time_s: ArrayLike) -> Array:
        """(times,) chance that an outage lasts longer than each time: versions weighted by their rates."""
        return np.asarray(self.rate_per_year @ self.survival_each_frac(time_s) / self.rate_per_year.sum())

    def with_sigma_by(self, factor: float) -> Stream:
        """The same stream with every sigma times `factor`, mean length unchanged."""
        wider = self.sigma * factor
        return replace(self, sigma=wider, median_s=self.median_s * np.exp((self.sigma**2 - wider**2) / 2.0))

    def in_month(self, month: int) -> Stream:
        """Only what falls in one month of a year, 1 to 12: its rate, and all of its share."""
        share = np.zeros(12)
        share[month - 1] = 1.0
        return replace(
            self, rate_per_year=self.rate_per_year * self.month_share_frac[month - 1], month_share_frac=share
        )


def _middle(tails: Sequence[Array]) -> tuple[float, float]:
    """Lowest and highest of the middle 95 % of the versions of each tail."""
    found = [np.quantile(each, [0.025, 0.975]) for each in tails]
    return float(np.min(found)), float(np.max(found))


@lru_cache(maxsize=32)  # the same grid of times is asked for again with every round
def _survival_each_frac(stream: Stream, time_s: bytes) -> Array:
    from scipy.special import ndtr

    at = np.log(np.maximum(np.frombuffer(time_s), 1e-9))
    found = np.asarray(ndtr((np.log(stream.median_s)[:, None] - at) / stream.sigma[:, None]))
    found.flags.writeable = False
    return found


@dataclass(frozen=True, slots=True, eq=False)
class Outages:
    """The outages to be reckoned with, what they rest on, and what was taken for granted."""

    routine: Stream
    major: Stream
    basis: Basis
    source: Source
    notes: tuple[str, ...]

    @property
    def streams(self) -> tuple[Stream, Stream]:
        """Routine, then major."""
        return self.routine, self.major

    @property
    def saifi_per_year(self) -> float:
        """Outages in a usual year."""
        return sum(s.usual_per_year for s in self.streams)

    def longer_than_per_year(self, time_s: float) -> float:
        """Outages longer than a time in a usual year."""
        return float(sum(s.usual_per_year * s.survival_frac([time_s])[0] for s in self.streams))

    def chance_in_year_frac(self, time_s: float) -> float:
        """Chance of at least one outage longer than a time in a year, mean of the versions."""
        each = sum(s.rate_per_year * s.survival_each_frac([time_s])[:, 0] for s in self.streams)
        return float(np.mean(-np.expm1(-np.asarray(each))))

    def chance_band_frac(self, time_s: float) -> tuple[float, float]:
        """Lowest and highest of that chance, over the likely versions and over other spreads of lengths."""
        found = []
        for other in (self, *self.other_tails()):
            each = sum(s.rate_per_year * s.survival_each_frac([time_s])[:, 0] for s in other.streams)
            found.append(-np.expm1(-np.asarray(each)))
        return _middle(found)

    @property
    def major_median_band_s(self) -> tuple[float, float]:
        """Lowest and highest median length of a major outage, over versions and spreads alike."""
        return _middle([other.major.median_s for other in (self, *self.other_tails())])

    def other_tails(self) -> tuple[Outages, ...]:
        """The same outages with the spreads of major lengths that published data cannot tell apart."""
        return _other_tails(self)

    def in_month(self, month: int) -> Outages:
        """Only the outages of one month, 1 to 12."""
        return replace(self, routine=self.routine.in_month(month), major=self.major.in_month(month))


@lru_cache(maxsize=8)  # every band asks for them, and the survival of each is kept by its stream
def _other_tails(outages: Outages) -> tuple[Outages, ...]:
    return tuple(replace(outages, major=outages.major.with_sigma_by(f)) for f in sigma_factors() if f != 1.0)


def sigma_factors() -> tuple[float, ...]:
    """Spreads of the tail table as multiples of the one that the outage models use, smallest first."""
    used = float(np.median([row.number("major_sigma_ratio") for row in table("outage_models")]))
    return tuple(sorted({row.number("major_sigma_ratio") / used for row in table("outage_tails")}))


def lognormal_median_s(mean_s: float, sigma: float) -> float:
    """Median of a lognormal from its mean: mean exp(-sigma^2 / 2).

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.6.9, lognormal (from memory).
    """
    return float(mean_s * np.exp(-(sigma**2) / 2.0))


def from_model(model: OutageModel) -> Outages:
    """The outages of a region row, taken as they stand."""
    return Outages(
        fixed_stream("routine", model.routine),
        fixed_stream("major", model.major),
        Basis.REGION,
        model.source,
        (f"the region is {model.meaning}", model.caution),
    )


def fixed_stream(name: str, row: OutageStream) -> Stream:
    """A stream with one version of its figures; major outages come by the table's months, routine evenly."""
    shares = np.array(month_share_frac()) if name == "major" else np.full(12, 1.0 / 12.0)
    return Stream(
        name,
        np.array([row.rate_per_year]),
        np.array([lognormal_median_s(row.mean_s, row.sigma)]),
        np.array([row.sigma]),
        shares / shares.sum(),
    )
