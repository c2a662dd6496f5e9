"""Random outages of one stream, drawn so that a few hundred stand for tens of thousands.

What comes of an outage hangs on three things above all: the hour at which it begins, how cold the day and the
quarter after that hour are, and how cold the days after that. So each round throws thousands of days of the year with
their weather, sorts them by what is ahead of each hour of failure, in groups, and within each group by the days after,
and takes from that table, and from the hours of the day, the points of a scrambled Sobol net of three coordinates.
Every outage is a random one; together they leave no hour and no weather out.

Cold breaks pipes and empties houses, and is rare. So a round may take more of its outages from the coldest weather
(`COLD`), each of which then counts for less.

Rounds are stretches of one scrambled sequence, sharper together than apart, so that their scatter overstates the error
of their mean rather than hides it. Draws depend on seed, round, stream and climate alone: every design and every
routine meets the same outages.

Long outages are rare, so all are followed for a day and a half, and fewer beyond, the fewer the rarer they are; those
stand for the others beyond their end. The first points of a net are a net themselves.

Source: sorted states met by a low-discrepancy set, as in array-RQMC (L'Ecuyer, Lecot and Tuffin, Operations
Research 56, 2008); importance by strata, Owen, Monte Carlo theory, methods and examples, ch. 8 and 9 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, log2

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.engine.weather import Hours
from hearthold.physics.weather import DAYS_OF_MONTH
from hearthold.study.nets import scrambled, stretch
from hearthold.study.outages import Stream
from hearthold.study.weather import DAY_H, Climate, after_failure, day_means_c, even_draws

Array = NDArray[np.float64]
Days = NDArray[np.int64]
DAY_S = 86400.0
Shares = tuple[tuple[float, float], ...]  # parts of the outages, and of the weather, coldest first
EACH = 256  # outages a round: a power of two, as a net wants
EVEN: Shares = ((1.0, 1.0),)
# Four times as many of the coldest thirty-second; shares of outages in eighths, so that each part is a net itself.
COLD: Shares = ((1 / 8, 1 / 32), (1 / 4, 1 / 8), (5 / 8, 27 / 32))
ENDS_S = (1.5 * DAY_S, 4 * DAY_S, 7 * DAY_S)  # beyond each of these lengths fewer outages are followed
FEWEST = 16  # of so many, where rounds are small: fewer would leave late losses unseen, and chances too low
MOST_GROUPS = 128  # by the weather just ahead; as many rows in each, by the days after
SORTED_DAYS = 5
AHEAD_H = 30.0  # of weather that matter most to what the hour of failure leaves in the house
HOURS_SORTED = 8  # hours of failure for which weather is sorted anew
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
    weight: Array  # how much each counts, 1 on average
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
    climate: Climate,
    stream: Stream,
    *,
    seed: int,
    number: int,
    longest_s: float,
    each: int = EACH,
    shares: Shares = EVEN,
) -> Scenarios:
    """One round of outages. Same seed, number, stream and climate: same outages, whatever runs in them.

    Raises: InputError unless `each` is a power of two.
    """
    which = STREAMS.index(stream.name)
    rng = np.random.default_rng([seed, which, number])
    ends_s, followed = levels(longest_s, each, stream)
    points = stretch(number, each, [seed, which, 0, 1])[_taking_turns(number, each, int(followed[-1]), seed)]
    points[:, 1], weight = _stretched(points[:, 1], shares)
    storm = stream.name == "major"
    day, month, first = _weathers(climate, stream, points, weight, storm, rng)
    days = ceil(longest_s / DAY_S) + 1
    normal = np.column_stack([first, rng.standard_normal((each, max(0, days - SORTED_DAYS)))])[:, : 1 + days]
    hours = after_failure(climate, day, month, normal, days, storm=storm)
    block_s = (1 + days) * DAY_H * 3600.0
    start_s = np.arange(each) * block_s + DAY_S + points[:, 0] * (DAY_S - 1.0)
    return Scenarios(
        stream.name, number, start_s, day, month, stream.month_share_frac, weight, hours, ends_s, followed
    )


def _taking_turns(number: int, each: int, longest: int, seed: int) -> Days:
    """Order of a round's points: those that are followed to the end come first, and each part of the net has its turn.

    Parts take their turns at random: were it the same part of every round, or a part that goes with the round's number,
    the rounds would repeat each other's errors.
    """
    parts = each // longest
    cycle, turn = divmod(number, parts)
    part = int(np.random.default_rng([seed, cycle, 0, 2]).permutation(parts)[turn])
    return np.arange(each) ^ (part * longest)


def _stretched(place: Array, shares: Shares) -> tuple[Array, Array]:
    """Places in [0, 1), each share of the outages stretched over its share of the weather, and what each counts."""
    outages, weather = np.array(shares).T
    part = np.searchsorted(np.cumsum(outages), place, side="right")
    weight = (weather / outages)[part]
    begin, over = np.cumsum(outages) - outages, np.cumsum(weather) - weather
    return over[part] + (place - begin[part]) * weight, weight


def levels(longest_s: float, each: int, stream: Stream) -> tuple[Array, Days]:
    """Lengths to which outages are followed, the longest last, and how many are.

    Beyond each length the root of the share of outages that last longer, a quarter at most, as a power of two: what
    comes late counts by that share, and yet many losses come late only (a compromise between all and the optimal
    allocation of a loss that comes early; Cochran, Sampling Techniques, 1977, ch. 5, from memory).
    """
    ends_s = np.array([end for end in ENDS_S if end < longest_s] + [longest_s])
    root = stream.survival_frac(ends_s[:-1]) ** 0.5
    wanted = np.maximum(each * np.minimum(0.25, root), FEWEST * root)
    followed = 2 ** np.maximum(1, np.round(np.log2(np.maximum(1.0, wanted)))).astype(np.int64)
    return ends_s, np.minimum.accumulate(np.concatenate([[each], followed]))


def _weathers(
    climate: Climate, stream: Stream, points: Array, weight: Array, storm: bool, rng: np.random.Generator
) -> tuple[Days, Days, Array]:
    """(n,) days of the year and their months, (n, 1 + sorted days) draws of their weather: what the table holds at
    the points (n, 3): hour of failure, place among what is ahead, place among the days after. Groups by what is ahead
    are as much smaller as more of the outages are taken there.
    """
    groups = _groups(len(points))
    even = scrambled(groups**2, rng)
    day = _days(even[:, 0], stream.month_share_frac)
    draws = even_draws(even[:, 1:], SORTED_DAYS, rng)
    month = np.searchsorted(np.cumsum(DAYS_OF_MONTH), day, side="right")
    means = day_means_c(climate, day, month, draws, SORTED_DAYS, storm)[:, 1:]
    hour, chosen = (points[:, 0] * HOURS_SORTED).astype(np.int64), np.empty(len(points), dtype=np.int64)
    size = groups >> np.round(-np.log2(np.minimum(1.0, weight))).astype(np.int64)
    for i in range(HOURS_SORTED):
        ahead, after = _ahead_and_after(means, DAY_H * (i + 0.5) / HOURS_SORTED)
        coldest = np.argsort(ahead)
        for wide in np.unique(size):
            mine = np.flatnonzero((hour == i) & (size == wide))
            group = (points[mine, 1] * (len(coldest) / wide)).astype(np.int64)
            rows = coldest.reshape(-1, wide)[group]
            order = np.argsort(after[rows], axis=1)
            place = (points[mine, 2] * wide).astype(np.int64)
            chosen[mine] = rows[np.arange(len(mine)), order[np.arange(len(mine)), place]]
    return day[chosen], month[chosen], draws[chosen]


def _groups(count: int) -> int:
    """Groups, a power of two, whose square leaves sixteen rows of the table or more to an outage."""
    return min(MOST_GROUPS, 1 << ceil(log2(16 * count) / 2))


def _ahead_and_after(means_c: Array, hour: float) -> tuple[Array, Array]:
    """(n,) sums of (n, days) means over the hours just ahead of an hour of the first day, and over those after."""
    begin = DAY_H * np.arange(means_c.shape[1])
    until = np.clip(hour + AHEAD_H - begin, 0.0, DAY_H)
    return means_c @ (until - np.clip(hour - begin, 0.0, DAY_H)), means_c @ (DAY_H - until)


def _days(share: Array, month_share_frac: Array) -> Days:
    """Day of the year at each quantile of the stream's calendar, days of one month alike."""
    lengths = np.asarray(DAYS_OF_MONTH)
    ends = np.cumsum(np.repeat(month_share_frac / lengths, lengths))
    return np.minimum(np.searchsorted(ends / ends[-1], share, side="right"), len(ends) - 1)
