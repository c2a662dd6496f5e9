"""`risk`: how likely a house under a control is to come through its outages, and what they cost.

    found = risk(house, routine, outages_of(house, today), seed=1)
    found.loss("house").year_frac          # value, low, high

Rounds of outages are run until every interval is narrow enough. Whoever interrupts gets the answer so far.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from math import ceil, inf
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.compile_machine import fuel_kind
from hearthold.engine.compiled import CompiledHouse
from hearthold.errors import InputError
from hearthold.study.draws import COLD, EACH, Scenarios, draw
from hearthold.study.estimate import estimate
from hearthold.study.fuelcurve import endless, fuel_risk
from hearthold.study.gathering import Study, risk_of
from hearthold.study.losses import watched
from hearthold.study.outages import Outages, Stream
from hearthold.study.result import Risk, Stopped
from hearthold.study.sunlight import with_sun
from hearthold.study.tracks import Tracks, follow
from hearthold.study.weather import Climate, climate_of
from hearthold.study.weigh import Weighed, gather_both, weigh

if TYPE_CHECKING:
    from hearthold.engine.control import Control
    from hearthold.house.house import House
    from hearthold.house.weatherfile import WeatherHours

Array = NDArray[np.float64]
Progress = Callable[[str], None]
Pair = tuple[Tracks, Tracks]  # routine and major of one round
DAY_S = 86400.0
LONGEST_DAYS, SHORTEST_DAYS = 14, 2
RARE_FRAC = 1e-3  # a stream's tracks are long enough when fewer outages than this are longer
FUEL_ROUNDS, FUEL_EACH = 4, 128  # that run with fuel without end


@dataclass(frozen=True, slots=True)
class Effort:
    """When to stop: as soon as every chance is known to `half_frac` at 95 %, within these rounds."""

    half_frac: float = 0.005
    least_rounds: int = 4
    most_rounds: int = 128
    each: int = EACH  # major outages a round, a power of two; half as many routine ones
    threads: int | None = None


USUAL_EFFORT = Effort()


def risk(
    house: House,
    control: Control | Sequence[Control],
    outages: Outages,
    *,
    seed: int = 0,
    month: int | None = None,
    fuel: str | None = None,
    weather_file: WeatherHours | None = None,
    effort: Effort = USUAL_EFFORT,
    progress: Progress | None = None,
) -> Risk:
    """Chances, amounts and costs of a house under one control, or one a month (twelve, January first).

    `month` (1 to 12) asks about the outages of that month alone. Same seed, same answer. Raises InputError
    for a month, a control or a climate that cannot be used; KeyboardInterrupt only where fewer than two
    rounds were done.
    """
    if month is not None and month not in range(1, 13):
        raise InputError(f"month is {month}; allowed 1 to 12.", code="out_of_range")
    asked = outages if month is None else outages.in_month(month)
    compiled = watched(house, fuel)
    climate, longest = climate_of(house, weather_file), (longest_s(asked.routine), longest_s(asked.major))
    runner = _Runner(house, compiled, control, asked, climate, seed, longest, effort, progress)
    rounds, stopped = runner.rounds()
    plenty = endless(compiled)
    fuel_rounds = [] if plenty is None or stopped is Stopped.INTERRUPTED else runner.again(plenty)
    burned = (
        fuel_risk(house, fuel_kind(house, fuel), compiled.start_fuel_m3, fuel_rounds, asked)
        if len(fuel_rounds) > 1
        else None
    )
    return risk_of(Study(house, asked, tuple(rounds), runner.longest_s, stopped, month, weather_file), burned)


def longest_s(stream: Stream) -> float:
    """Length to which outages are followed: whole days, until longer ones are rare, at most fourteen."""
    for days in range(SHORTEST_DAYS, LONGEST_DAYS):
        if stream.survival_frac([days * DAY_S])[0] <= RARE_FRAC:
            return days * DAY_S
    return LONGEST_DAYS * DAY_S


@dataclass(frozen=True, slots=True)
class _Runner:
    """Runs rounds; the same number always meets the same outages."""

    house: House
    compiled: CompiledHouse
    control: Control | Sequence[Control]
    outages: Outages
    climate: Climate
    seed: int
    longest_s: tuple[float, float]  # of both streams
    effort: Effort
    progress: Progress | None

    @property
    def threads(self) -> int:
        """How many to use."""
        return self.effort.threads or os.cpu_count() or 1

    def one(self, number: int, house: CompiledHouse, each: int, threads: int = 1) -> Pair:
        """One round of both streams, `each` major outages and half as many routine ones, under the house's own sky."""
        streams = zip(self.outages.streams, self.longest_s, (max(1, each // 2), each), strict=True)
        routine, major = (
            follow(house, self.control, self.drawn(s, number, most_s, count), threads=threads)
            for s, most_s, count in streams
        )
        return routine, major

    def drawn(self, stream: Stream, number: int, most_s: float, each: int) -> Scenarios:
        """The outages of one round of one stream, with the sun on the house's panels."""
        found = draw(
            self.climate,
            stream,
            seed=self.seed,
            number=number,
            longest_s=most_s,
            each=each,
            shares=COLD,
        )
        return with_sun(found, self.house, self.seed)

    def in_order(self) -> Iterator[Pair]:
        """Round after round. The first is run by all threads, for it compiles; then each thread has its own."""
        most, one = self.effort.most_rounds, partial(self.one, house=self.compiled, each=self.effort.each)
        yield one(0, threads=self.threads)
        with ThreadPoolExecutor(self.threads) as pool:
            first, ahead = 1, max(1, self.effort.least_rounds - 1)
            while first < most:
                yield from pool.map(one, range(first, min(most, first + ahead)))
                first, ahead = first + ahead, self.threads

    def rounds(self) -> tuple[list[Pair], Stopped]:
        """Rounds until the answer is narrow enough, or as many as were done when somebody interrupted."""
        done: list[Pair] = []
        known: list[Array] = []
        begun = time.monotonic()
        try:
            for pair in self.in_order():
                done.append(pair)
                known.append(_chances(weigh(gather_both([pair], self.outages), self.outages)))
                half = self._half(known)
                if half <= self.effort.half_frac:
                    return done, Stopped.NARROW
                self._tell(len(done), half, time.monotonic() - begun)
        except KeyboardInterrupt:
            if len(done) < 2:
                raise
            return done, Stopped.INTERRUPTED
        return done, Stopped.ROUNDS

    def again(self, house: CompiledHouse) -> list[Pair]:
        """A few rounds with another house; none where somebody interrupts."""
        one = partial(self.one, house=house, each=min(FUEL_EACH, self.effort.each))
        try:
            with ThreadPoolExecutor(self.threads) as pool:
                return list(pool.map(one, range(FUEL_ROUNDS)))
        except KeyboardInterrupt:
            return []

    def _half(self, known: list[Array]) -> float:
        """Widest half interval of any chance so far; without end before there are rounds enough."""
        if len(known) < self.effort.least_rounds:
            return inf
        return max((estimate(column).half for column in np.array(known).T), default=0.0)

    def _tell(self, done: int, half: float, spent_s: float) -> None:
        if self.progress is None:
            return
        need = self.effort.least_rounds
        if half < inf:  # errors fall at least as fast as one over the root of the rounds
            need = min(self.effort.most_rounds, ceil(done * (half / self.effort.half_frac) ** 2))
        left_s = spent_s / done * max(0, need - done)
        outages = done * (self.effort.each + self.effort.each // 2)
        self.progress(f"{outages} outages followed, {done} rounds of about {need}, {left_s:.0f} s left")


def _chances(found: Weighed) -> Array:
    """(chances,) of one round: of each loss in a major outage, and in a year."""
    return np.concatenate([found.major_chance[0], found.year_chance[0]])
