"""`sweep`: what-if over machine, fuel stock, battery, tanks and running, hundreds of designs over the same outages.

Designs that differ in their fuel alone share every track until it runs dry (see kernels.stocks). All meet the same
outages, so that differences are not noise. A sweep ranks; `risk` and `compare` give the last word on what it finds.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil, inf
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.compile_machine import set_fuel
from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.control import AlwaysOn, Control, Watchful, compile_control
from hearthold.engine.kernels import layout as c
from hearthold.engine.outcomes import Outcomes, row_width
from hearthold.engine.packing import Packed, pack
from hearthold.engine.trace import empty_tape
from hearthold.house.supply import HookupKind
from hearthold.plan.cost import hookup_cost, priced
from hearthold.study.design import CAN_M3
from hearthold.study.draws import Scenarios, draw
from hearthold.study.estimate import estimate
from hearthold.study.gathering import chance, unseen_of
from hearthold.study.grid import Base, Grid, Running, usual_grid
from hearthold.study.habit import usual_habit
from hearthold.study.losses import Kind, Loss, accounts_of, losses_of, watched
from hearthold.study.lots import Lot, lot_amounts, lot_chances, lot_of, year_bands
from hearthold.study.result import Band
from hearthold.study.risk import longest_s
from hearthold.study.sunlight import with_sun
from hearthold.study.swept import Swept
from hearthold.study.tracks import by_control, stand_still
from hearthold.study.weather import climate_of

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.study.outages import Outages

Array = NDArray[np.float64]
Progress = Callable[[str], None]
ROUNDS, EACH = 4, 16
ACCOUNTS = ("fuel_m3", "run_s", "starts", "refills", "air_below_s", "unmet_water_m3", "medical_unpowered_s")
Read = tuple[Array, Array, tuple[Loss, ...]]  # first times, courses, losses
Job = tuple[Packed, NDArray[np.int64], int]


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
    # Once, and before threads are there: importing a kernel sets where it is kept.
    import hearthold.study.kernels.stocks  # noqa: F401

    climate = climate_of(house)
    drawn = [
        tuple(draw(climate, s, seed=seed, number=i, longest_s=longest_s(s), each=each) for i in range(rounds))
        for s in outages.streams
    ]
    met = _Met(house, outages, drawn, asked.fuel_m3, seed)
    bases = list(asked.bases())
    waiting: dict[Base, Future[list[Swept]]] = {}
    pool = ThreadPoolExecutor(threads or os.cpu_count() or 1)
    try:
        # What needs no routine runs while the routine is searched.
        for base in (b for b in bases if b.running is not Running.ROUTINE):
            by_need = base.running is Running.BY_NEED
            control = Watchful(not_at_night=True) if by_need else AlwaysOn()
            waiting[base] = pool.submit(met.designs, base, (control,) * 12)
        if Running.ROUTINE in asked.running:
            habit = usual_habit(house, progress=progress).controls
            for base in (b for b in bases if b.running is Running.ROUTINE):
                waiting[base] = pool.submit(met.designs, base, habit)
        found: list[Swept] = []
        for base in bases:
            found += waiting[base].result()
            if progress is not None:
                progress(f"{len(found)} of {len(asked)} designs")
    finally:
        pool.shutdown(cancel_futures=True)
    return tuple(found)


@dataclass(frozen=True, slots=True, eq=False)
class _Met:
    """What every design meets: the same house to begin with, the same outages, the same stocks."""

    house: House
    outages: Outages
    drawn: Sequence[tuple[Scenarios, ...]]
    fuel_m3: tuple[float, ...]
    seed: int

    def designs(self, base: Base, controls: Sequence[Control]) -> list[Swept]:
        """One base under all stocks; a thread's work."""
        made = base.house(self.house)
        lots = [lot_of(tuple(with_sun(x, made, self.seed) for x in some)) for some in self.drawn]
        return list(_Runner(made, base, controls, self.fuel_m3).designs(lots, self.outages))


@dataclass(frozen=True, eq=False)
class _Runner:
    """One base under all its stocks."""

    house: House
    base: Base
    controls: Sequence[Control]
    fuel_m3: tuple[float, ...]

    @cached_property
    def compiled(self) -> CompiledHouse:
        """The house with nobody fetching fuel: a sweep asks what the stock alone does."""
        made = watched(self.house)
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
        losses = runs[0][2]
        parts = list(zip(runs, lots, outages.streams, strict=True))
        # (stocks, rounds, losses or accounts)
        count = sum(s.usual_per_year * lot_chances(first, lot, s) for (first, _, _), lot, s in parts)
        amount = sum(s.usual_per_year * lot_amounts(course, lot, s) for (_, course, _), lot, s in parts)
        chances = -np.expm1(-np.asarray(count))
        unseen = unseen_of([lot.scenarios for lot in lots], outages).year
        bands = self._bands(runs, lots, outages)
        for j, total in enumerate(self.totals_m3):
            yield Swept(
                self._machine_w,
                float(total),
                self.house.battery.capacity_j if self.house.battery is not None else 0.0,
                self._tank_m3,
                1.0 if self.base.water_tank_ratio is None else self.base.water_tank_ratio,
                self.base.running.value,
                self._to_spend(float(total)),
                tuple((x.id, chance(chances[j, :, i], unseen)) for i, x in enumerate(losses)),
                tuple(
                    (name, estimate(np.asarray(amount)[j, :, i], least=0.0))
                    for i, name in enumerate(ACCOUNTS)
                ),
                bands[j],
            )

    def _bands(self, runs: Sequence[Read], lots: Sequence[Lot], outages: Outages) -> Sequence[Band]:
        """Of any loss, for each stock; nothing to lose leaves nothing open."""
        at = next((i for i, x in enumerate(runs[0][2]) if x.kind is Kind.ANY), None)
        if at is None:
            return [(0.0, 0.0)] * len(self.totals_m3)
        return year_bands([first[:, at] for first, _, _ in runs], lots, outages)

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
        for packed, which, checkpoints in self._jobs(house, lot):
            state, spare, kept = (np.zeros(packed.state_size) for _ in range(3))
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
        for control, mine in by_control(self.controls, lot.month):
            packed = pack(house.world, compile_control(house, control), lot.weather)
            for j, many in enumerate(lot.scenarios[0].seen(lot.until_s)):
                which = np.flatnonzero(mine & (lot.level == j))
                if len(which):
                    yield packed, which, many


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
