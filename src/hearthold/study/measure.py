"""A design run through the same random outages as every other: what it loses, burns and asks of people."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.control import Control, Handling, Off, Standby, Step
from hearthold.engine.control import Routine as RoutineControl
from hearthold.house.loads import Priority
from hearthold.house.supply import HookupKind
from hearthold.plan.routine import Routine, find_routine
from hearthold.sizing.conditions import conditions
from hearthold.study.draws import Scenarios, draw
from hearthold.study.gathering import unseen_fracs
from hearthold.study.habit import seasons
from hearthold.study.losses import Account, Kind, Loss, crossing_s, watched
from hearthold.study.outages import Outages
from hearthold.study.rewire import with_panel
from hearthold.study.risk import longest_s
from hearthold.study.sunlight import with_sun
from hearthold.study.tracks import Tracks, follow
from hearthold.study.weather import climate_of
from hearthold.study.weigh import Gathered, gather_both, year_chances

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.weatherfile import WeatherHours
    from hearthold.study.design import Design

Array = NDArray[np.float64]
Survivals = tuple[Array, Array]
ROUNDS, EACH = 6, 64
_WHOLE_PANEL = (HookupKind.INTERLOCK, HookupKind.AUTOMATIC_STANDBY)
MACHINE_OUT = Loss("machine_out", Kind.FUEL, "somebody sets the machine up")


@dataclass(frozen=True, eq=False)
class Course:
    """The outages that every design meets: rounds of both streams, drawn once."""

    outages: Outages
    rounds: tuple[tuple[Scenarios, Scenarios], ...]
    seed: int


@dataclass(frozen=True, eq=False)
class Measured:
    """What came of one design. Arrays have a row a round; a year is a usual one."""

    design: Design
    routines: tuple[Routine, ...]  # heating season, then the rest; empty where nobody tends a machine
    losses: tuple[Loss, ...]
    accounts: tuple[Account, ...]
    parts: tuple[Gathered, Gathered]
    outages: Outages
    unseen_year_frac: float  # highest chance in a year of what no outage tried showed

    @cached_property
    def year_frac(self) -> Array:
        """(r, losses) chance of each loss once or more in a year."""
        return np.asarray(year_chances(self.parts, self.outages).mean(axis=0))

    def usual_year(self, survivals: Survivals) -> Year:
        """Expected counts and amounts of a usual year, by round."""
        rates = [stream.usual_per_year for stream in self.outages.streams]
        count = [r * p.chances(s) for r, p, s in zip(rates, self.parts, survivals, strict=True)]
        amount = [r * p.amounts(s) for r, p, s in zip(rates, self.parts, survivals, strict=True)]
        return Year(self, np.asarray(count[0] + count[1]), np.asarray(amount[0] + amount[1]))

    def survivals(self, factor: float = 1.0) -> Survivals:
        """Chances of both streams to last beyond each time of the grid, were every outage `factor` times as long."""
        routine, major = (
            np.asarray(s.survival_frac(p.time_s / factor))
            for s, p in zip(self.outages.streams, self.parts, strict=True)
        )
        return routine, major

    def loss_index(self, ident: str) -> int:
        """Column of a loss; raises ValueError where the design cannot have it."""
        return [x.id for x in self.losses].index(ident)

    def account_index(self, ident: str) -> int:
        """Column of an account."""
        return [x.id for x in self.accounts].index(ident)


@dataclass(frozen=True, eq=False)
class Year:
    """A usual year of one design: (r, losses) counts and (r, accounts) amounts, read by their ids."""

    of: Measured
    count: Array
    amount: Array

    def times(self, loss: str) -> Array:
        """(r,) expected times in a year."""
        return np.asarray(self.count[:, self.of.loss_index(loss)])

    def sum(self, account: str) -> Array:
        """(r,) expected amount in a year."""
        return np.asarray(self.amount[:, self.of.account_index(account)])

    def has(self, loss: str) -> bool:
        """Whether the design can meet a loss."""
        return any(x.id == loss for x in self.of.losses)


def course_of(
    house: House,
    outages: Outages,
    *,
    seed: int,
    rounds: int = ROUNDS,
    each: int = EACH,
    file: WeatherHours | None = None,
) -> Course:
    """The outages of a comparison. Same seed, the same outages for every design. Raises InputError without normals."""
    climate = climate_of(house, file)
    return Course(
        outages,
        tuple(
            tuple(
                draw(climate, s, seed=seed, number=i, longest_s=longest_s(s), each=each)
                for s in outages.streams
            )  # type: ignore[misc]
            for i in range(rounds)
        ),
        seed,
    )


def measure(design: Design, course: Course, *, threads: int | None = None) -> Measured:
    """One design through all the outages, run by the routine found for it (a season each) or by itself.

    Source: tracks to the longest length, weighed by outage statistics; see study.tracks and study.weigh.
    """
    house = accounted(design)
    control, routines = controls_of(design, house)
    compiled = watched(house)
    tracks = []
    for pair in course.rounds:
        routine, major = (
            _noting(follow(compiled, control, with_sun(s, house, course.seed), threads=threads)) for s in pair
        )
        tracks.append((routine, major))
    parts = gather_both(tracks, course.outages)
    return Measured(
        design,
        routines,
        tracks[0][1].losses,
        tracks[0][1].accounts,
        parts,
        course.outages,
        unseen_fracs(tracks, course.outages).year,
    )


def accounted(design: Design) -> House:
    """The design's house with the loads of stores and of medical needs on the panel even where nothing switches them
    on: what has no power is then counted as such.
    """
    house = design.house
    if design.traits.kind in _WHOLE_PANEL:
        return house
    spoken = (
        {need.load for need in house.medical} | {x.load for x in house.cold} | {x.load for x in house.pits}
    )
    spoken |= {house.water.pump_load} if house.water is not None else set()
    circuits = {x.circuit for x in house.loads if x.id in spoken} | set(design.circuits)
    return with_panel(house, tuple(c.id for c in house.circuits if c.id in circuits))


def controls_of(design: Design, house: House) -> tuple[Control | list[Control], tuple[Routine, ...]]:
    """How a design is run: by itself, or by the best simple rule of each season, as `usual_habit` has it."""
    fed = switched(design)
    if house.generator is None:
        return Off(Handling(battery_circuits=fed)), ()
    if design.traits.by_itself:
        return Standby(steps=tuple(Step(c) for c in fed), battery_circuits=fed), ()
    # What a battery feeds stays on; what a machine feeds by itself takes turns where it cannot carry all.
    choice = None if house.battery is not None else design.choice
    circuits = fed if choice is None else None
    months, heated = seasons(house)
    found = [find_routine(house, conditions(house, m), circuits=circuits, choice=choice) for m in months]
    made = [_with_battery(r.control, fed) if house.battery is not None else r.control for r in found]
    return [made[0] if cold else made[-1] for cold in heated], tuple(found)


def switched(design: Design) -> tuple[str, ...]:
    """Circuits that are switched on: what the design feeds less what it can never carry and what only waits."""
    never = set(design.choice.never) if design.choice is not None else set()
    kept = [c for c in design.circuits if c not in never]
    if design.traits.by_itself:
        return tuple(kept)
    house = design.house
    hot = {house.tank_load}
    return tuple(
        c
        for c in kept
        if any(
            x.priority is not Priority.DEFER or x.id in hot or x in house.vital_loads
            for x in house.loads_on(c)
        )
    )


def _with_battery(control: RoutineControl, fed: tuple[str, ...]) -> RoutineControl:
    return replace(control, handling=replace(control.handling, battery_circuits=fed))


def _noting(tracks: Tracks) -> Tracks:
    """The tracks with one more thing that happens once or not at all: the first start of the machine."""
    first = crossing_s(tracks.until_s, tracks.course_of("starts"), 0.5)
    return replace(
        tracks, losses=(*tracks.losses, MACHINE_OUT), first_s=np.vstack([tracks.first_s, first[None, :]])
    )


def names_of(measured: Sequence[Measured]) -> tuple[str, ...]:
    """Every loss that any of the designs can have, in order."""
    return tuple(dict.fromkeys(x.id for m in measured for x in m.losses))
