"""Random outages of one stream, drawn so that a few hundred stand for tens of thousands.

What comes of an outage hangs on three things above all: the hour at which it begins, how cold its first two days
are, and how cold the three days after them. So each round throws thousands of days of the year with their weather,
sorts them by the first two days, in groups, and within each group by the days after, and takes from that table,
and from the hours of the day, the points of a scrambled Sobol net of three coordinates. Every outage by itself is
a plain random one; together they leave no hour and no weather out.

Each round is a scramble of its own, so the rounds are independent and their scatter measures the error. Draws
depend on seed, round, stream and climate alone: every design and every routine meets the same outages.

Long outages are rare, so all are followed for a day and a half, a quarter for four days, an eighth to the longest
length; those stand for the others beyond their end. The first points of a net are a net themselves.

Source: sorted states met by a low-discrepancy set, as in array-RQMC (L'Ecuyer, Lecot and Tuffin, Operations
Research 56, 2008; from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.engine.weather import Hours
from hearthold.physics.weather import DAYS_OF_MONTH
from hearthold.study.nets import scrambled
from hearthold.study.outages import Stream
from hearthold.study.weather import DAY_H, Climate, after_failure, day_means_c

Array = NDArray[np.float64]
Days = NDArray[np.int64]
DAY_S = 86400.0
EACH = 128  # outages a round: a power of two, as a net wants
LEVELS = ((1.5 * DAY_S, 1), (4 * DAY_S, 4), (np.inf, 8))  # to this length, one outage in so many is followed
FEWEST = 2  # that are followed to any length
GROUPS = 64  # by the first two days; as many by the days after, in each
SORTED_DAYS = 5
STREAMS = ("routine", "major")


@dataclass(frozen=True, slots=True, eq=False)
class Scenarios:
    """Outages of one stream and one round: arrays of shape (n,), and the hours in which all of them lie."""

    stream: str
    round: int
    start_s: Array  # within `hours`
    day: Days  # of the year, 0 for 1 January
    month: Days  # 0 for January
    month_share_frac: Array  # (12,) by which they were drawn
    hours: Hours
    ends_s: Array  # (levels,) rising: lengths to which outages are followed, the longest last
    followed: Days  # (levels,) how many, the first ones, are followed to each

    def __len__(self) -> int:
        return len(self.start_s)

    @property
    def longest_s(self) -> float:
        """Length to which the longest are followed."""
        return float(self.ends_s[-1])

    @property
    def level(self) -> Days:
        """(n,) the level to whose end each outage is followed."""
        return np.asarray(np.sum(np.arange(len(self))[:, None] < self.followed, axis=1) - 1)

    @property
    def end_s(self) -> Array:
        """(n,) length to which each is followed."""
        return np.asarray(self.ends_s[self.level])

    def seen(self, until_s: Array) -> list[int]:
        """How many of the rising times `until_s` the outages of each level are followed to."""
        return [int(np.sum(until_s <= end_s)) for end_s in self.ends_s]

    def counts(self, time_s: ArrayLike) -> Array:
        """How much counts what is seen at a time: once, or for all that were not followed so far."""
        level = np.searchsorted(self.ends_s, np.asarray(time_s))
        return np.asarray(len(self) / self.followed[np.minimum(level, len(self.followed) - 1)])


def draw(
    climate: Climate, stream: Stream, *, seed: int, number: int, longest_s: float, each: int = EACH
) -> Scenarios:
    """One round of outages. Same seed, number, stream and climate: same outages, whatever runs in them.

    Raises: InputError unless `each` is a power of two.
    """
    rng = np.random.default_rng([seed, STREAMS.index(stream.name), number])
    points = scrambled(each, rng)
    storm = stream.name == "major"
    day, first = _weathers(climate, stream, points[:, 1:], storm, rng)
    month = np.searchsorted(np.cumsum(DAYS_OF_MONTH), day, side="right")
    days = ceil(longest_s / DAY_S) + 1
    normal = np.column_stack([first, rng.standard_normal((each, max(0, days - SORTED_DAYS)))])[:, : 1 + days]
    hours = after_failure(climate, day, month, normal, days, storm=storm)
    block_s = (1 + days) * DAY_H * 3600.0
    start_s = np.arange(each) * block_s + DAY_S + points[:, 0] * (DAY_S - 1.0)
    ends_s, followed = levels(longest_s, each)
    return Scenarios(
        stream.name, number, start_s, day, month, stream.month_share_frac, hours, ends_s, followed
    )


def levels(longest_s: float, each: int) -> tuple[Array, Days]:
    """Lengths to which outages are followed, the longest last, and how many are."""
    ends = [end for end, _ in LEVELS if end < longest_s] + [longest_s]
    return np.array(ends), np.array([max(min(FEWEST, each), each // n) for _, n in LEVELS[: len(ends)]])


def _weathers(
    climate: Climate, stream: Stream, points: Array, storm: bool, rng: np.random.Generator
) -> tuple[Days, Array]:
    """(n,) days of the year and (n, 1 + sorted days) draws of their weather: the points of (n, 2) in the table."""
    size = GROUPS * max(GROUPS, len(points) // 16)
    share = (np.arange(size) + rng.random(size)) / size
    day = _days(share, stream.month_share_frac)
    draws = rng.standard_normal((size, 1 + SORTED_DAYS))
    month = np.searchsorted(np.cumsum(DAYS_OF_MONTH), day, side="right")
    means = day_means_c(climate, day, month, draws, SORTED_DAYS, storm)
    early, late = means[:, 1:3].sum(axis=1), means[:, 3:].sum(axis=1)
    group = np.empty(size, dtype=np.int64)
    group[np.argsort(early, kind="stable")] = np.arange(size) // (size // GROUPS)
    table = np.lexsort((late, group)).reshape(GROUPS, -1)
    rows, columns = ((points * table.shape).astype(np.int64)).T
    chosen = table[rows, columns]
    return day[chosen], draws[chosen]


def _days(share: Array, month_share_frac: Array) -> Days:
    """Day of the year at each quantile of the stream's calendar, days of one month alike."""
    lengths = np.asarray(DAYS_OF_MONTH)
    ends = np.cumsum(np.repeat(month_share_frac / lengths, lengths))
    return np.minimum(np.searchsorted(ends / ends[-1], share, side="right"), len(ends) - 1)
