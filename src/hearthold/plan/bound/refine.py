"""Levels of refinement: what is kept apart, how finely, and up to which goal, until so many boxes are used up.

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
from hearthold.plan.bound.kernels.layout import (
    BY_BEGUN,
    BY_COST,
    BY_FIELD,
    BY_HOUSE,
    BY_LEAST,
    BY_MOST,
    BY_SHELL,
)

if TYPE_CHECKING:
    from hearthold.plan.bound.kernels.search import Room

BOXES_A_SECOND, LEAST_BOXES, LAYER = 700_000, 200_000, 300_000
# The clock stops a level after so many times the seconds asked for, and never sooner than the second number.
CAP, SHORTEST_S = 5.0, 0.1
COST_FRAC = 0.002  # width of the buckets of cost, of the first bound
COARSE = 8.0  # buckets of stores beside costs, over their usual ones
ALONE_COARSE, ALONE_FRAC = (
    4.0,
    0.6,
)  # the first buckets of a store alone; share of the boxes left that it may take
MORE = 2.5  # times as many boxes, at most, that a level with buckets half as wide takes
PROBE_RISE, PROBE_FRAC = 0.05, 0.15  # goal of what is tried alone; share of the boxes left that it may take
BEGUN_FRAC = 0.02  # spells begun today are kept apart if the bound rises by more
# First rise of the goal, doubled while boxes grow less than so many times, cut down to no less where there is no room.
STEP, GROWTH, LEAST_STEP = 0.04, 3.0, 0.008
STUCK, LEAST_RISE, IDLE_LEVELS = 0.01, 1e-4, 6  # so many levels in a row without such a rise are the last


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
        found.append(Bucket(b.Z_MH, BY_HOUSE, 0.5 * (frame.par[b.H_C1] + frame.par[b.H_C2])))
    at = b.Z_FIRST
    for row in frame.cold:
        usual = (
            Bucket(at, BY_LEAST, 0.5)
            if row[b.C_ONE] != 0.0
            else Bucket(at, BY_SHELL, row[b.C_COOL_W] * b.SLOT_S)
        )
        found.append(usual)
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
        self.clocked = False  # whether the clock stopped a level: then another run may prove another value
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

    @property
    def left(self) -> int:
        """Boxes that are left."""
        from hearthold.plan.bound.kernels.search import TOTAL

        return len(self.room.to_go) - int(self.room.place[TOTAL])

    def tried(self, apart: tuple[Bucket, ...], goal_j: float = inf, share: float = 1.0) -> Level | None:
        """A level within a share of the boxes, left in the room; None where it did not end: nothing of it counts."""
        from hearthold.plan.bound.kernels.search import TOTAL, sweep

        case, begun = self.case, time.perf_counter()
        most = len(self.room.to_go) - self.left + int(share * self.left)
        room = self.room._replace(to_go=self.room.to_go[:most])
        kinds = np.array([(x.at, x.kind) for x in apart], dtype=np.int64).reshape(-1, 2)
        scale = np.array([1.0 / x.width for x in apart])
        goal_j, first, stop = min(goal_j, self.most_j), int(room.place[TOTAL]), np.zeros(1)
        timer = Timer(max(self.left_s, SHORTEST_S), stop.__setitem__, (0, 1.0))
        timer.daemon = True
        timer.start()
        least_j, failed = sweep(
            case.frame, case.rules, case.z0, case.c0, goal_j, kinds, scale, self._old, room, stop
        )
        timer.cancel()
        if failed:
            self.clocked = self.clocked or bool(stop[0])
            return None
        boxes = int(room.place[TOTAL]) - first
        return Level(goal_j, boxes, min(float(least_j), self.most_j), time.perf_counter() - begun)

    def add(self, apart: tuple[Bucket, ...], goal_j: float = inf, share: float = 1.0) -> bool:
        """Do a level and stand on it from now on; False where it did not end."""
        level = self.tried(apart, goal_j, share)
        if level is None:
            return False
        self.stand(level)
        return True

    def stand(self, level: Level) -> None:
        """Stand on a level that was tried last and is still in the room."""
        from hearthold.plan.bound.kernels.search import TOTAL

        self.done.append(level)
        self._old = int(self.room.place[TOTAL]) - level.boxes

    def forget(self, level: Level | None) -> None:
        """Take a level that was tried out of the room again."""
        from hearthold.plan.bound.kernels.search import TOTAL

        self.room.place[TOTAL] -= level.boxes if level is not None else 0


def refine(case: Posed, most_j: float, seconds: float) -> Levels:
    """Levels until the boxes are used up, the bound meets the incumbent, or the clock runs out.

    First nothing is kept apart but the machine; then spells begun today, where that tells; then the store that tells
    most, unless costs tell more; then costs and all stores, where only what stays below a goal a little above the
    bound is refined.
    """
    from hearthold.plan.bound.kernels.search import new_room

    boxes = max(LEAST_BOXES, int(BOXES_A_SECOND * seconds))
    levels = Levels(case, most_j, CAP * seconds, new_room(boxes, LAYER, len(case.z0)))
    if not levels.add(()) or levels.met:
        return levels
    _tell_begun(levels)
    cost = Bucket(0, BY_COST, max(COST_FRAC * abs(levels.value_j), 1.0))
    stores = buckets(case)
    best = _most_telling(levels, (*stores, cost))
    if best is not cost:
        best = _alone(levels, best)
    others = tuple(store.scaled(COARSE) for store in stores if store.at != best.at or best is cost)
    _raise_goal(levels, (cost, *others) if best is cost else (best, cost, *others))
    return levels


def _most_telling(levels: Levels, those: tuple[Bucket, ...]) -> Bucket:
    """What alone comes nearest to a goal, with the fewest boxes where several reach it; the last where none ends."""
    goal_j, tries = levels.value_j + PROBE_RISE * abs(levels.value_j), []
    for each in those:
        level = levels.tried((each,), goal_j, PROBE_FRAC)
        levels.forget(level)
        if level is not None:
            tries.append((-min(level.least_j, goal_j), level.boxes, each))
    return min(tries, key=lambda x: x[:2])[2] if tries else those[-1]


def _alone(levels: Levels, usual: Bucket) -> Bucket:
    """A store alone, in buckets half as wide each time, while that is cheap and tells; the last width."""
    best = usual.scaled(ALONE_COARSE)
    while levels.add((best,), inf, ALONE_FRAC) and not levels.met:
        stuck = best.width < usual.width and levels.done[-1].least_j <= levels.done[-2].least_j * (
            1.0 + STUCK
        )
        if stuck or MORE * levels.done[-1].boxes > ALONE_FRAC * levels.left:
            break
        best = best.scaled(0.5)
    return best


def _tell_begun(levels: Levels) -> None:
    """Spells begun today are kept apart where the first level rises by that: where the rule on them binds."""
    level = levels.tried((Bucket(0, BY_BEGUN, 1.0),))
    rise_j = BEGUN_FRAC * levels.value_j  # where nothing is proven yet, they always are
    if level is not None and (rise_j <= 0.0 or level.least_j > levels.value_j + rise_j):
        levels.stand(level)
    else:
        levels.forget(level)


def _raise_goal(levels: Levels, apart: tuple[Bucket, ...]) -> None:
    """Level by level a goal a little above the bound, finer where the goal was missed, in larger steps where it
    was cheap; the last, smaller step where a larger one has no room."""
    step, idle = STEP, 0
    while not levels.met and idle < IDLE_LEVELS and step >= LEAST_STEP:
        before, known_j = levels.done[-1].boxes, levels.value_j
        goal_j = known_j * (1.0 + step) if known_j > 0.0 else inf
        if not levels.add(apart, goal_j):
            step *= 0.4
            if levels.left_s <= 0.0:
                return
            continue
        idle = idle + 1 if levels.value_j < known_j + LEAST_RISE * abs(known_j) + 1.0 else 0
        if levels.value_j < goal_j - 0.2 * step * abs(known_j):
            apart = tuple(store.scaled(0.5) for store in apart)
        elif levels.done[-1].boxes < GROWTH * before:
            step = min(2.0 * step, 2.0 * STEP)
