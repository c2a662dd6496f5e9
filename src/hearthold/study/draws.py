"""Random outages of one stream, drawn so that a few hundred stand for tens of thousands.

When an outage begins (day of the year by the stream's months, time of day evenly) and the weather of its
first days are a scrambled Sobol set; the days after that are plain random. Each round is a scramble of its
own, so the rounds are independent and their scatter measures the error. Draws depend on seed, round, stream
and climate alone: every design and every routine meets the same outages.

Long outages are rare, so only the first quarter of each round is followed to the longest length, and counts
fourfold beyond the others' end: the first points of a Sobol set are a Sobol set themselves.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.engine.weather import Hours
from hearthold.physics.weather import DAYS_OF_MONTH
from hearthold.study.outages import Stream
from hearthold.study.weather import DAY_H, Climate, after_failure

Array = NDArray[np.float64]
DAY_S = 86400.0
SOBOL_DAYS = 6  # days of weather in the Sobol set; later ones matter less and less
EACH = 128  # outages a round: a power of two, as a Sobol set wants
LONG_SHARE = 4  # one outage in so many is followed to the longest length
SHORT_S = 2 * DAY_S  # the others to this
STREAMS = ("routine", "major")


@dataclass(frozen=True, slots=True, eq=False)
class Scenarios:
    """Outages of one stream and one round: arrays of shape (n,), and the hours in which all of them lie."""

    stream: str
    round: int
    start_s: Array  # within `hours`
    day: NDArray[np.int64]  # of the year, 0 for 1 January
    month: NDArray[np.int64]  # 0 for January
    month_share_frac: Array  # (12,) by which they were drawn
    hours: Hours
    longest_s: float
    short_s: float  # outages from `long_count` on are followed to this only

    def __len__(self) -> int:
        return len(self.start_s)

    @property
    def long_count(self) -> int:
        """How many outages, the first ones, are followed to the longest length."""
        return len(self) if self.short_s >= self.longest_s else max(1, len(self) // LONG_SHARE)

    def counts(self, time_s: ArrayLike) -> Array:
        """How much counts what is seen at a time: once, or for all that were not followed so far."""
        beyond = np.asarray(time_s) > self.short_s
        return np.asarray(np.where(beyond, len(self) / self.long_count, 1.0))


def draw(
    climate: Climate, stream: Stream, *, seed: int, number: int, longest_s: float, each: int = EACH
) -> Scenarios:
    """One round of outages. Same seed, number, stream and climate: same outages, whatever runs in them."""
    from scipy.special import ndtri
    from scipy.stats import qmc

    rng = np.random.default_rng([seed, STREAMS.index(stream.name), number])
    points = qmc.Sobol(2 + 1 + SOBOL_DAYS, rng=rng).random(each)
    day = _days(points[:, 0], stream.month_share_frac)
    month = np.searchsorted(np.cumsum(DAYS_OF_MONTH), day, side="right")
    days = ceil(longest_s / DAY_S) + 1
    normal = rng.standard_normal((each, 1 + days))
    known = min(1 + SOBOL_DAYS, 1 + days)
    normal[:, :known] = ndtri(np.clip(points[:, 2 : 2 + known], 1e-12, 1.0 - 1e-12))
    hours = after_failure(climate, day, month, normal, days, storm=stream.name == "major")
    block_s = (1 + days) * DAY_H * 3600.0
    start_s = np.arange(each) * block_s + DAY_S + points[:, 1] * (DAY_S - 1.0)
    short_s = min(SHORT_S, longest_s)
    return Scenarios(
        stream.name, number, start_s, day, month, stream.month_share_frac, hours, longest_s, short_s
    )


def _days(share: Array, month_share_frac: Array) -> NDArray[np.int64]:
    """Day of the year at each quantile of the stream's calendar, days of one month alike."""
    lengths = np.asarray(DAYS_OF_MONTH)
    ends = np.cumsum(np.repeat(month_share_frac / lengths, lengths))
    return np.minimum(np.searchsorted(ends / ends[-1], share, side="right"), len(ends) - 1)
