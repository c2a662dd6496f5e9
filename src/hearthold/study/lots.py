"""Rounds of one stream as one batch, and what their first times and courses weigh by outage statistics."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.kernels.layout import Weather
from hearthold.study.draws import Scenarios
from hearthold.study.outages import Outages, Stream
from hearthold.study.weigh import loss_counts, on_grid

Array = NDArray[np.float64]
HOUR_S = 3600.0
_TIMES = 400


@dataclass(frozen=True, eq=False)
class Lot:
    """Rounds of one stream as one batch: arrays of shape (n,), the hours end to end."""

    scenarios: tuple[Scenarios, ...]
    start_s: Array
    month: NDArray[np.int64]
    level: NDArray[np.int64]  # to the end of which an outage is followed
    weather: Weather
    until_s: Array

    @cached_property
    def grid_s(self) -> Array:
        """Times on which survival is taken."""
        return np.unique(np.concatenate([[0.0], np.geomspace(60.0, self.until_s[-1], _TIMES)]))

    def by_round(self, values: Array) -> Array:
        """(..., n) as (..., rounds, outages of a round): every round is as large, and followed alike."""
        return values.reshape(*values.shape[:-1], -1, len(self.scenarios[0]))

    @cached_property
    def weight(self) -> Array:
        """(rounds, outages of a round) how much each counts."""
        return np.array([s.weight for s in self.scenarios])

    def counts(self, first: Array) -> Array:
        """(..., rounds, outages) how much each counts for losses that first came at (..., rounds, outages)."""
        return self.weight * loss_counts(first, self.scenarios[0], self.weight)


def lot_of(scenarios: tuple[Scenarios, ...]) -> Lot:
    """Rounds put end to end."""
    hours = np.cumsum([0, *(len(s.hours.outdoor_c) for s in scenarios)])[:-1]
    return Lot(
        scenarios,
        np.concatenate([s.start_s + h * HOUR_S for s, h in zip(scenarios, hours, strict=True)]),
        np.concatenate([s.month for s in scenarios]),
        np.concatenate([s.level for s in scenarios]),
        Weather(
            np.concatenate([s.hours.outdoor_c for s in scenarios]),
            np.concatenate([s.hours.solar_w for s in scenarios]),
        ),
        checkpoints_s(scenarios[0].longest_s),
    )


def checkpoints_s(longest_s: float) -> Array:
    """Few checkpoints: dense where most outages end, a day apart later."""
    early = [1.0, 2.0, 4.0, 6.0, 9.0, 12.0, 18.0, 24.0, 36.0, 48.0, 60.0, 72.0]
    hours = np.array([*early, 96.0, 120.0, 144.0, 168.0, 192.0, 216.0, 240.0, 264.0, 288.0, 312.0])
    inside = hours[hours * HOUR_S < longest_s] * HOUR_S
    return np.append(inside, longest_s)


def lot_chances(first: Array, lot: Lot, stream: Stream) -> Array:
    """(stocks, rounds, losses) chance in one outage: the mean of survival over first times (stocks, losses, n)."""
    times = lot.by_round(first)
    survival = stream.survival_frac(lot.grid_s)
    outlasts = np.interp(times, lot.grid_s, survival, right=0.0) * np.isfinite(times)
    return np.asarray((outlasts * lot.counts(times)).mean(axis=3).transpose(0, 2, 1))


def lot_amounts(course: Array, lot: Lot, stream: Stream) -> Array:
    """(stocks, rounds, accounts) expected in one outage: what each stretch adds, times the chance of living it.

    course: (stocks, accounts, n, k).
    """
    grid_s, survival = lot.grid_s, stream.survival_frac(lot.grid_s)
    area = np.concatenate([[0.0], np.cumsum(0.5 * (survival[1:] + survival[:-1]) * np.diff(grid_s))])
    edges = np.concatenate([[0.0], lot.until_s])
    mean = np.diff(np.interp(edges, grid_s, area)) / np.diff(edges)
    added = np.diff(course, axis=3, prepend=0.0)
    each = lot.by_round(added @ (mean * lot.scenarios[0].counts(lot.until_s)))
    return np.asarray((each * lot.weight).mean(axis=3).transpose(0, 2, 1))


def year_bands(first: Sequence[Array], lots: Sequence[Lot], outages: Outages) -> list[tuple[float, float]]:
    """For each stock, what the outage statistics leave open of one loss's chance in a year.

    first: (stocks, n) of each stream.
    """
    weights = []
    for times, lot in zip(first, lots, strict=True):
        each = lot.by_round(times)
        counts = lot.counts(each) / times.shape[-1]
        weights.append(on_grid(times, counts.reshape(times.shape), lot.grid_s))
    found = []
    for tail in (outages, *outages.other_tails()):
        count = sum(
            stream.rate_per_year[:, None] * (stream.survival_each_frac(lot.grid_s) @ w.T)
            for stream, lot, w in zip(tail.streams, lots, weights, strict=True)
        )
        found.append(np.quantile(-np.expm1(-np.asarray(count)), (0.025, 0.975), axis=0))
    low, high = np.array(found)[:, 0].min(axis=0), np.array(found)[:, 1].max(axis=0)
    return [(float(a), float(b)) for a, b in zip(low, high, strict=True)]
