"""`sweep`: what-if over machine, fuel stock, battery, tanks and running, hundreds of designs over the same outages.

Designs that differ in their fuel alone share every track until it runs dry (see kernels.stocks). All meet the same
outages, so that differences are not noise. A sweep ranks; `risk` and `compare` give the last word on what it finds.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil, inf
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.compile import compile_house
from hearthold.engine.compile_machine import set_fuel
from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.control import AlwaysOn, Control, Watchful, compile_control
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Weather
from hearthold.engine.outcomes import Outcomes, row_width
from hearthold.engine.packing import Packed, pack
from hearthold.engine.trace import empty_tape
from hearthold.house.supply import HookupKind
from hearthold.plan.cost import hookup_cost, priced
from hearthold.study.design import CAN_M3
from hearthold.study.draws import Scenarios, draw
from hearthold.study.estimate import Estimate, estimate
from hearthold.study.grid import Base, Grid, Running, usual_grid
from hearthold.study.habit import usual_habit
from hearthold.study.losses import Loss, accounts_of, losses_of
from hearthold.study.risk import longest_s
from hearthold.study.sunlight import with_sun
from hearthold.study.tracks import stand_still
from hearthold.study.weather import climate_of
from hearthold.study.weigh import loss_counts

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.study.outages import Outages

Array = NDArray[np.float64]
Progress = Callable[[str], None]
ROUNDS, EACH = 4, 16
BLOCK = 4  # outages a thread takes at a time
HOUR_S = 3600.0
ACCOUNTS = ("fuel_m3", "run_s", "starts", "refills", "air_below_s", "unmet_water_m3", "medical_unpowered_s")
Read = tuple[Array, Array, tuple[Loss, ...]]  # first times, courses, losses
Job = tuple[Packed, NDArray[np.int64], int]


@dataclass(frozen=True, slots=True)
class Swept:
    """One design and what a year of outages brings it. Chances are of once or more in a usual year."""

    machine_w: float
    fuel_m3: float
    battery_j: float
    fuel_tank_m3: float
    water_tank_ratio: float
    running: str
    to_spend: float  # typical, of what is not in place
    losses: tuple[tuple[str, Estimate], ...]
    amounts: tuple[tuple[str, Estimate], ...]

    def loss(self, ident: str) -> Estimate:
        """Chance of one loss by id. Raises KeyError."""
        return dict(self.losses)[ident]

    def amount(self, ident: str) -> Estimate:
        """One expected amount by the id of its account. Raises KeyError."""
        return dict(self.amounts)[ident]

    @property
    def any_loss_frac(self) -> Estimate:
        """Chance of any loss at all; 0 where there is nothing to lose."""
        return dict(self.losses).get("anything", Estimate(0.0, 0.0, 0.0))


@dataclass(frozen=True, slots=True, eq=False)
class Lot:
    """Rounds of one stream as one batch: arrays of shape (n,), the hours end to end."""

    scenarios: tuple[Scenarios, ...]
    start_s: Array
    month: NDArray[np.int64]
    level: NDArray[np.int64]  # to the end of which an outage is followed
    weather: Weather
    until_s: Array


def sweep(
    house: House,
    outages: Outages,
    grid: Grid | None = None,
    *,
    seed: int = 0,
    rounds: int = ROUNDS,
    each: int = EACH,
    threads: int | None = None,
    progress: Progress | None = None,
) -> tuple[Swept, ...]:
    """Every design of a grid (about two hundred around the house if none is given). Same seed, same answer.

    Raises: InputError for a grid that cannot be tried, or a house without a machine.
    Source: tracks to the longest length weighed by the survival of outage length, at the mean of its versions.
    """
    asked = usual_grid(house) if grid is None else grid
    if house.generator is None:
        usual_grid(house)  # says what is missing
    habit = _habit(house, asked, progress)
    climate = climate_of(house)
    drawn = [
        tuple(draw(climate, s, seed=seed, number=i, longest_s=longest_s(s), each=each) for i in range(rounds))
        for s in outages.streams
    ]
    found: list[Swept] = []
    for base in asked.bases():
        if progress is not None:
            progress(f"{len(found)} of {len(asked)} designs")
        made = base.house(house)
        runner = _Runner(made, base, _control(base, habit), asked.fuel_m3, threads or os.cpu_count() or 1)
        lots = [_lot(tuple(with_sun(x, made, seed) for x in some)) for some in drawn]
        found += runner.designs(lots, outages)
    return tuple(found)


def _habit(house: House, grid: Grid, progress: Progress | None) -> Sequence[Control]:
    if Running.ROUTINE not in grid.running:
        return ()
    return usual_habit(house, progress=progress).controls


def _control(base: Base, habit: Sequence[Control]) -> Sequence[Control]:
    if base.running is Running.ROUTINE:
        return habit
    return (Watchful(not_at_night=True) if base.running is Running.BY_NEED else AlwaysOn(),) * 12


def checkpoints_s(longest_s: float) -> Array:
    """Few checkpoints: dense where most outages end, a day apart later."""
    early = [1.0, 2.0, 4.0, 6.0, 9.0, 12.0, 18.0, 24.0, 36.0, 48.0, 60.0, 72.0]
    hours = np.array([*early, 96.0, 120.0, 144.0, 168.0, 192.0, 216.0, 240.0, 264.0, 288.0, 312.0])
    inside = hours[hours * HOUR_S < longest_s] * HOUR_S
    return np.append(inside, longest_s)


def _lot(scenarios: tuple[Scenarios, ...]) -> Lot:
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


@dataclass(frozen=True, eq=False)
class _Runner:
    """One base under all its stocks."""

    house: House
    base: Base
    controls: Sequence[Control]
    fuel_m3: tuple[float, ...]
    threads: int

    @cached_property
    def compiled(self) -> CompiledHouse:
        """The house with nobody fetching fuel: a sweep asks what the stock alone does."""
        made = compile_house(self.house)
        par = made.world.par.copy()
        par[c.P_TRIPS_MOST] = 0.0
        return replace(made, world=made.world._replace(par=par))

    @cached_property
    def totals_m3(self) -> Array:
        """Fuel in tank and stock of each design, rising."""
        return np.array(sorted(self.fuel_m3) if self.fuel_m3 else [self.compiled.start_fuel_m3])

    def designs(self, lots: Sequence[Lot], outages: Outages) -> Iterator[Swept]:
        """One row a stock."""
        runs = [self._run(lot) for lot in lots]
        chances, amounts, losses = [], [], runs[0][2]
        for (first, course, _), lot, stream in zip(runs, lots, outages.streams, strict=True):
            grid_s = np.unique(np.concatenate([[0.0], np.geomspace(60.0, lot.until_s[-1], 400)]))
            survival = stream.survival_frac(grid_s)
            chances.append(stream.usual_per_year * _chances(first, lot, grid_s, survival))
            amounts.append(stream.usual_per_year * _amounts(course, lot, grid_s, survival))
        count, amount = (
            chances[0] + chances[1],
            amounts[0] + amounts[1],
        )  # (stocks, rounds, losses or accounts)
        for j, total in enumerate(self.totals_m3):
            yield Swept(
                self._machine_w,
                float(total),
                self.house.battery.capacity_j if self.house.battery is not None else 0.0,
                self._tank_m3,
                1.0 if self.base.water_tank_ratio is None else self.base.water_tank_ratio,
                self.base.running.value,
                self._to_spend(float(total)),
                tuple(
                    (x.id, estimate(-np.expm1(-count[j, :, i]), least=0.0, most=1.0))
                    for i, x in enumerate(losses)
                ),
                tuple((name, estimate(amount[j, :, i], least=0.0)) for i, name in enumerate(ACCOUNTS)),
            )

    @property
    def _machine_w(self) -> float:
        return (
            max((r.running_w for r in self.house.generator.on), default=0.0) if self.house.generator else 0.0
        )

    @property
    def _tank_m3(self) -> float:
        tank = float(self.compiled.world.par[c.P_FUEL_TANK])
        return tank if tank < c.FAR else inf

    def _to_spend(self, total_m3: float) -> float:
        """Typical price of what is not in place: machine, battery, cans beyond today's stock."""
        found = sum(x.typical for x in hookup_cost(self.house, None).first if not x.in_place)
        kind = self.house.hookup.kind if self.house.hookup is not None else None
        if self.house.battery is not None and kind is not HookupKind.BATTERY_INVERTER and self.base.battery_j:
            found += priced(
                self.house, "battery_inverter_installed", False, self.house.battery.capacity_j / 3.6e6
            ).typical
        more_m3 = max(0.0, total_m3 - self.compiled.start_fuel_m3)
        return found + priced(self.house, "fuel_can_5_gal", False, ceil(more_m3 / CAN_M3 - 1e-6)).typical

    def _run(self, lot: Lot) -> Read:
        """First times (stocks, losses, n), courses (stocks, accounts, n, k), and the losses."""
        tank_m3 = float(self.compiled.world.par[c.P_FUEL_TANK])
        shared = [float(x) for x in self.totals_m3 if x >= tank_m3]
        single = [float(x) for x in self.totals_m3 if x < tank_m3]
        parts = [self._read(lot, [x]) for x in single] + ([self._read(lot, shared)] if shared else [])
        first = np.concatenate([p[0] for p in parts])
        course = np.concatenate([p[1] for p in parts])
        return first, course, parts[0][2]

    def _read(self, lot: Lot, totals: list[float]) -> Read:
        from hearthold.study.kernels.stocks import stocks_block

        n, k, many = len(lot.start_s), len(lot.until_s), len(totals)
        rows = np.zeros((n * many * k, row_width(self.compiled)))
        stocks, house = self._stocked(totals)
        tape = empty_tape(house)

        def work(job: Job) -> None:
            packed, which, checkpoints = job
            size = packed.state_size
            state, spare, kept = (np.zeros(size) for _ in range(3))
            until_s = lot.until_s[:checkpoints]
            stocks_block(
                packed.w.copy(),
                packed.at,
                state,
                spare,
                kept,
                tape,
                lot.start_s,
                until_s,
                stocks,
                k,
                rows,
                which,
            )

        jobs = list(self._jobs(house, lot))
        work(jobs[0])
        with ThreadPoolExecutor(self.threads) as pool:
            list(pool.map(work, jobs[1:]))
        shaped = rows.reshape(many, n, k, -1)
        stand_still(shaped, lot.level, lot.scenarios[0].seen(lot.until_s))
        return _outcomes(house, lot, shaped)

    def _stocked(self, totals: list[float]) -> tuple[Array, CompiledHouse]:
        """Stocks beyond the tank, and the house with the smallest total."""
        par = self.compiled.world.par.copy()
        tank = float(par[c.P_FUEL_TANK])
        set_fuel(par, inf if tank >= c.FAR else tank, totals[0])
        house = replace(self.compiled, world=self.compiled.world._replace(par=par), start_fuel_m3=totals[0])
        return np.array([max(0.0, t - min(tank, t)) for t in totals]), house

    def _jobs(self, house: CompiledHouse, lot: Lot) -> Iterator[Job]:
        controls = self.controls
        for m in (m for m, control in enumerate(controls) if controls.index(control) == m):
            mine = np.array([other == controls[m] for other in controls])[lot.month]
            packed = pack(house.world, compile_control(house, controls[m]), lot.weather)
            for j, many in enumerate(lot.scenarios[0].seen(lot.until_s)):
                which = np.flatnonzero(mine & (lot.level == j))
                for i in range(0, len(which), BLOCK):
                    yield packed, which[i : i + BLOCK], many


def _outcomes(house: CompiledHouse, lot: Lot, rows: Array) -> Read:
    """Accounts and losses of every stock, as if each were a batch of its own."""
    many, n, k, width = rows.shape
    start = np.tile(np.repeat(lot.start_s, k), many)
    outcomes = Outcomes(house, start, np.tile(lot.until_s, many * n), rows.reshape(many * n * k, width))
    accounts, course = accounts_of(outcomes, np.zeros((many * n, k)))
    losses, first = losses_of(outcomes, lot.until_s)
    wanted = [[a.id for a in accounts].index(name) for name in ACCOUNTS]
    return (
        first.reshape(len(losses), many, n).transpose(1, 0, 2),
        course[wanted].reshape(len(wanted), many, n, k).transpose(1, 0, 2, 3),
        losses,
    )


def _chances(first: Array, lot: Lot, grid_s: Array, survival: Array) -> Array:
    """(stocks, rounds, losses) chance in one outage: the mean of survival over the first times."""
    drawn = lot.scenarios[0]  # every round is as large, and followed alike
    by_round = first.reshape(*first.shape[:2], -1, len(drawn))
    outlasts = np.interp(by_round, grid_s, survival, right=0.0) * np.isfinite(by_round)
    return np.asarray(
        (outlasts * loss_counts(by_round, drawn, np.ones(len(drawn)))).mean(axis=3).transpose(0, 2, 1)
    )


def _amounts(course: Array, lot: Lot, grid_s: Array, survival: Array) -> Array:
    """(stocks, rounds, accounts) expected in one outage: what each stretch adds, times the chance of living it."""
    area = np.concatenate([[0.0], np.cumsum(0.5 * (survival[1:] + survival[:-1]) * np.diff(grid_s))])
    edges = np.concatenate([[0.0], lot.until_s])
    mean = np.diff(np.interp(edges, grid_s, area)) / np.diff(edges)
    added = np.diff(course, axis=3, prepend=0.0)
    drawn = lot.scenarios[0]
    each = added @ (mean * drawn.counts(lot.until_s))
    return np.asarray(each.reshape(*each.shape[:2], -1, len(drawn)).mean(axis=3).transpose(0, 2, 1))


def rows_of(found: Sequence[Swept]) -> list[dict[str, float | str]]:
    """One flat row a design, units in the names: what goes into a table file."""
    return [_flat(x) for x in found]


def _flat(x: Swept) -> dict[str, float | str]:
    row: dict[str, float | str] = {
        "machine_w": x.machine_w,
        "fuel_m3": x.fuel_m3,
        "battery_j": x.battery_j,
        "fuel_tank_m3": x.fuel_tank_m3,
        "water_tank_ratio": x.water_tank_ratio,
        "running": x.running,
        "to_spend": x.to_spend,
        "anything_half_frac": x.any_loss_frac.half,
    }
    row |= {f"{name}_year_frac": e.value for name, e in x.losses}
    return row | {f"year_{name}": e.value for name, e in x.amounts}


def front(found: Sequence[Swept]) -> tuple[Swept, ...]:
    """Designs that no other beats in money and in the chance of any loss, cheapest first."""
    best, kept = inf, []
    for x in sorted(found, key=lambda x: (x.to_spend, x.any_loss_frac.value, x.fuel_m3)):
        if x.any_loss_frac.value < best - 1e-9:
            best = x.any_loss_frac.value
            kept.append(x)
    return tuple(kept)
