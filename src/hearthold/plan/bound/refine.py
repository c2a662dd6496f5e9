"""Levels of refinement: which stores are kept apart, how finely, and up to which goal, until the time is up.

Knows: nothing of stores but where they stand in a box. The search itself is kernels.search.sweep.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, replace
from math import inf
from threading import Timer
from typing import TYPE_CHECKING

import numpy as np

from hearthold.plan.bound.frame import Posed
from hearthold.plan.bound.kernels import layout as b
from hearthold.plan.bound.kernels.layout import BY_FIELD, BY_LEAST, BY_MOST, BY_SUM

if TYPE_CHECKING:
    from hearthold.plan.bound.kernels.search import Room

BOXES, LAYER = 4_000_000, 300_000
SHORTEST_S = 0.1
PROBE_RISE, PROBE_FRAC = 0.05, 0.15  # goal of a store that is tried alone; share of the time that it may take
ALONE_FRAC = 0.6  # share of the time left within which a level of the best store alone must end
COARSE = 4.0  # the first buckets of the best store, over its usual ones
MORE = 2.5  # times as long, at most, that a level with buckets half as wide takes
LEAST_RISE, IDLE_LEVELS = 1e-4, 4  # so many levels in a row without such a rise are the last
STEP, GROWTH = 0.01, 6.0  # first rise of the goal; it is doubled while boxes grow less than this many times


@dataclass(frozen=True, slots=True)
class Bucket:
    """A store that a level keeps apart: place in the box, how it is read, width of its buckets."""

    at: int
    kind: int
    width: float

    def scaled(self, factor: float) -> Bucket:
        """The same with buckets so many times as wide."""
        return replace(self, width=factor * self.width)


@dataclass(frozen=True, slots=True)
class Level:
    """One level of refinement: its goal, boxes, least cost, seconds."""

    goal_j: float
    boxes: int
    least_j: float
    seconds: float


def buckets(case: Posed) -> tuple[Bucket, ...]:
    """What can be kept apart: each store by its best side, for that is the side that joins give away."""
    frame, found = case.frame, []
    if frame.par[b.F_HOUSE] != 0.0:
        found.append(Bucket(b.Z_MH, BY_FIELD, 0.5))
    at = b.Z_FIRST
    for row in frame.cold:
        found.append(Bucket(at, BY_LEAST, 0.5) if row[b.C_ONE] != 0.0 else Bucket(at, BY_SUM, 2.0))
        at += b.ZC_COUNT
    if frame.par[b.F_TANK] != 0.0:
        found.append(Bucket(b.Z_TCL, BY_MOST, 5.0))
    if frame.par[b.F_TANK_M3] < 1e9:
        found.append(Bucket(b.Z_BURN, BY_FIELD, 0.5 * frame.par[b.F_REFILL_M3]))
    return tuple(found)


class Levels:
    """The levels done so far, in one room; each stands on the one before, so that a level never falls behind it."""

    def __init__(self, case: Posed, most_j: float, seconds: float, room: Room) -> None:
        """`most_j`: what the plan in hand costs; `seconds`: for all levels together."""
        from hearthold.plan.bound.kernels.search import TOTAL

        self.case, self.most_j, self.seconds, self.room = case, most_j, seconds, room
        self.begun = time.perf_counter()
        self.done: list[Level] = []
        self._old = -1
        room.place[TOTAL] = 0

    @property
    def left_s(self) -> float:
        """Seconds that are left."""
        return self.seconds - (time.perf_counter() - self.begun)

    @property
    def value_j(self) -> float:
        """What is proven so far; -inf before the first level."""
        return max((level.least_j for level in self.done), default=-inf)

    @property
    def met(self) -> bool:
        """Whether the bound has met the plan in hand, so that nothing is left to prove."""
        return self.value_j >= self.most_j

    def tried(self, apart: tuple[Bucket, ...], goal_j: float = inf, share: float = 1.0) -> Level | None:
        """A level within a share of the time, left in the room; None where it did not end: nothing of it counts."""
        from hearthold.plan.bound.kernels.search import TOTAL, sweep

        case, room, begun = self.case, self.room, time.perf_counter()
        kinds = np.array([(x.at, x.kind) for x in apart], dtype=np.int64).reshape(-1, 2)
        scale = np.array([1.0 / x.width for x in apart])
        goal_j, first, stop = min(goal_j, self.most_j), int(room.place[TOTAL]), np.zeros(1)
        timer = Timer(max(min(self.left_s, share * self.seconds), SHORTEST_S), stop.__setitem__, (0, 1.0))
        timer.daemon = True
        timer.start()
        least_j, failed = sweep(
            case.frame, case.rules, case.z0, case.c0, goal_j, kinds, scale, self._old, room, stop
        )
        timer.cancel()
        if failed:
            return None
        boxes = int(room.place[TOTAL]) - first
        return Level(goal_j, boxes, min(float(least_j), self.most_j), time.perf_counter() - begun)

    def add(self, apart: tuple[Bucket, ...], goal_j: float = inf, share: float = 1.0) -> bool:
        """Do a level and stand on it from now on; False where it did not end."""
        from hearthold.plan.bound.kernels.search import TOTAL

        first = int(self.room.place[TOTAL])
        level = self.tried(apart, goal_j, share)
        if level is None:
            return False
        self.done.append(level)
        self._old = first
        return True

    def forget(self, level: Level | None) -> None:
        """Take a level that was tried out of the room again."""
        from hearthold.plan.bound.kernels.search import TOTAL

        self.room.place[TOTAL] -= level.boxes if level is not None else 0


def refine(case: Posed, most_j: float, seconds: float) -> tuple[Level, ...]:
    """Levels until the time is up, the bound meets the incumbent, or room runs out.

    First nothing is kept apart but the machine; then the store that tells most; then all of them, where only what
    stays below a goal a little above the bound is refined.
    """
    from hearthold.plan.bound.kernels.search import new_room

    levels, stores = Levels(case, most_j, seconds, new_room(BOXES, LAYER, len(case.z0))), buckets(case)
    if not levels.add(()) or not stores or levels.met:
        return tuple(levels.done)
    usual = _most_telling(levels, stores)
    best = usual.scaled(COARSE)
    while levels.add((best,), inf, ALONE_FRAC) and not levels.met:
        stuck = best.width < usual.width and levels.done[-1].least_j < levels.done[-2].least_j * (1.0 + STEP)
        if stuck or MORE * levels.done[-1].seconds > ALONE_FRAC * levels.left_s:
            break
        best = best.scaled(0.5)
    _raise_goal(levels, tuple(best if best.at == store.at else store for store in stores))
    return tuple(levels.done)


def _raise_goal(levels: Levels, apart: tuple[Bucket, ...]) -> None:
    """Level by level a goal a little above the bound, finer where the goal was missed, in larger steps where it
    was cheap."""
    step, idle = STEP, 0
    while not levels.met and levels.left_s > 0.0:
        before, known_j = levels.done[-1].boxes, levels.value_j
        goal_j = known_j * (1.0 + step)
        if not levels.add(apart, goal_j):
            return
        idle = idle + 1 if levels.value_j < known_j * (1.0 + LEAST_RISE) else 0
        if idle >= IDLE_LEVELS:
            return
        if levels.value_j < goal_j * (1.0 - 0.2 * step):
            apart = tuple(store.scaled(0.5) for store in apart)
        elif levels.done[-1].boxes < GROWTH * before:
            step = min(2.0 * step, 4.0 * STEP)


def _most_telling(levels: Levels, stores: tuple[Bucket, ...]) -> Bucket:
    """The store that alone comes nearest to a goal, with the fewest boxes where several reach it."""
    goal_j, tries = levels.value_j * (1.0 + PROBE_RISE), []
    for store in stores:
        level = levels.tried((store,), goal_j, PROBE_FRAC)
        levels.forget(level)
        if level is not None:
            tries.append((-min(level.least_j, goal_j), level.boxes, store))
    return min(tries, key=lambda x: x[:2])[2] if tries else stores[0]
