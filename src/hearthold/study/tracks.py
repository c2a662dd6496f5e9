"""Outages followed to their longest length, once: when each loss first happens, and every account on the way.

An outage that lasts t is the beginning of a longer one, as long as nobody knows beforehand how long it will
be. So one track tells what an outage of any length would have come to.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.control import Control, Off, RunPlan, Standby, compile_control
from hearthold.engine.kernels.layout import Weather
from hearthold.engine.outcomes import Outcomes, row_width
from hearthold.engine.packing import Packed, pack
from hearthold.engine.trace import empty_tape
from hearthold.errors import InputError
from hearthold.study.draws import Scenarios
from hearthold.study.losses import Account, Loss, accounts_of, losses_of

Array = NDArray[np.float64]
HOUR_S = 3600.0
BLOCK = 8  # outages a thread takes at a time


@dataclass(frozen=True, eq=False)
class Tracks:
    """What came of the outages of one round of one stream.

    `first_s` is inf where a loss never came while the outage was followed; beyond its end a course stands
    still. `Scenarios.counts` says how much each counts.
    """

    scenarios: Scenarios
    until_s: Array  # (k,) checkpoints
    losses: tuple[Loss, ...]
    first_s: Array  # (losses, n) since the grid failed
    accounts: tuple[Account, ...]
    course: Array  # (accounts, n, k) what had added up at each checkpoint

    def __len__(self) -> int:
        return len(self.scenarios)

    def first_of(self, loss: str) -> Array:
        """(n,) first times of a loss by id."""
        return np.asarray(self.first_s[[x.id for x in self.losses].index(loss)])

    def course_of(self, account: str) -> Array:
        """(n, k) an account by id."""
        return np.asarray(self.course[[x.id for x in self.accounts].index(account)])


def checkpoints_s(longest_s: float) -> Array:
    """Times at which accounts are read: close together at first, hours apart later, the longest last."""
    spans = ((0.25, 2.0, 0.25), (2.0, 24.0, 1.0), (24.0, 72.0, 2.0), (72.0, 168.0, 4.0), (168.0, 2160.0, 8.0))
    hours = np.concatenate([np.arange(*span) for span in spans])
    inside = hours[hours * HOUR_S < longest_s] * HOUR_S
    return np.append(inside, longest_s)


def follow(
    house: CompiledHouse,
    control: Control | Sequence[Control],
    scenarios: Scenarios,
    *,
    threads: int | None = None,
) -> Tracks:
    """Every outage under one control, or under one a month (twelve, January first).

    Raises InputError for another number of controls or one that knows the length of the outage;
    ArithmeticError if a balance does not close (a fault of the program).
    """
    until = checkpoints_s(scenarios.longest_s)
    jobs, tended = _jobs(house, _by_month(control), scenarios, until)
    n, k = len(scenarios), len(until)
    rows, woken = np.zeros((n * k, row_width(house))), np.zeros(n * k)
    _run(jobs, house, scenarios.start_s, until, rows, woken, threads or os.cpu_count() or 1)
    for kept in (rows.reshape(n, k, -1), woken.reshape(n, k, 1)):
        stand_still(kept, scenarios.level, scenarios.seen(until))
    Outcomes(house, scenarios.start_s, np.full(n, until[-1]), rows[k - 1 :: k]).check()
    outcomes = Outcomes(house, np.repeat(scenarios.start_s, k), np.tile(until, n), rows)
    accounts, course = accounts_of(outcomes, np.where(tended[:, None], woken.reshape(n, k), 0.0))
    losses, first = losses_of(outcomes, until)
    return Tracks(scenarios, until, losses, first, accounts, course)


def _by_month(control: Control | Sequence[Control]) -> tuple[Control, ...]:
    given = tuple(control) if isinstance(control, Sequence) else (control,) * 12
    if len(given) != 12:
        raise InputError(
            f"{len(given)} controls; give one, or twelve from January to December.", code="controls"
        )
    if any(isinstance(x, RunPlan) for x in given):
        raise InputError(
            "a run plan is made for one outage; chances need a rule that can be followed in any: a routine, "
            "a watchful hand, or a machine that starts by itself.",
            code="controls",
        )
    return given


@dataclass(frozen=True, slots=True, eq=False)
class _Job:
    """Outages that one thread runs at a time: under one control, to one length."""

    packed: Packed
    which: NDArray[np.int64]
    checkpoints: int


def _jobs(
    house: CompiledHouse, controls: tuple[Control, ...], scenarios: Scenarios, until: Array
) -> tuple[list[_Job], NDArray[np.bool_]]:
    """The work in pieces, the longest first; and for each outage whether somebody has to tend the machine."""
    weather = Weather(scenarios.hours.outdoor_c, scenarios.hours.solar_w)
    tended = np.zeros(len(scenarios), dtype=bool)
    jobs = []
    for control, mine in by_control(controls, scenarios.month):
        tended[mine] = not isinstance(control, Off | Standby)
        packed = pack(house.world, compile_control(house, control), weather)
        for j, many in enumerate(scenarios.seen(until)):
            which = np.flatnonzero(mine & (scenarios.level == j))
            jobs += [_Job(packed, which[i : i + BLOCK], many) for i in range(0, len(which), BLOCK)]
    return sorted(jobs, key=lambda job: -job.checkpoints), tended


def by_control(
    controls: Sequence[Control], month: NDArray[np.int64]
) -> Iterator[tuple[Control, NDArray[np.bool_]]]:
    """Each control of the twelve months once, with which outages, by their month, have it."""
    for m, control in enumerate(controls):
        if controls.index(control) == m:
            yield control, np.array([other == control for other in controls])[month]


def _run(
    jobs: list[_Job],
    house: CompiledHouse,
    start_s: Array,
    until: Array,
    rows: Array,
    woken: Array,
    threads: int,
) -> None:
    """Fill rows and woken; k checkpoints an outage."""
    from hearthold.study.kernels.course import follow_block

    tape = empty_tape(house)

    def work(job: _Job) -> None:
        size = job.packed.state_size + 2
        p, some = job.packed, until[: job.checkpoints]
        follow_block(
            p.w, p.at, np.zeros(size), np.zeros(size), tape, start_s, some, len(until), rows, woken, job.which
        )

    work(jobs[-1])  # the shortest: compiles, or loads from the cache, before the threads need it
    if threads == 1:
        for job in jobs[:-1]:
            work(job)
        return
    with ThreadPoolExecutor(max(1, min(threads, len(jobs) - 1))) as pool:
        list(pool.map(work, jobs[:-1]))


def stand_still(rows: Array, level: NDArray[np.int64], seen: Sequence[int]) -> None:
    """Beyond its end an outage keeps the accounts it ended with. rows: (..., n, checkpoints, accounts)."""
    for j, count in enumerate(seen[:-1]):
        mine = level == j
        rows[..., mine, count:, :] = rows[..., mine, count - 1 : count, :]
