"""One simulated outage as faces show it: what was asked, the trace, an account of every limit."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO
from math import isfinite
from typing import TYPE_CHECKING

from hearthold.engine.control import AlwaysOn, Control, DailySpell, Off, Routine, Standby, Watchful
from hearthold.errors import InputError
from hearthold.quantities.units import parse

if TYPE_CHECKING:
    from hearthold.engine.outcomes import Outcomes
    from hearthold.engine.trace import Trace
    from hearthold.house.house import House

MACHINES: dict[str, Control] = {
    "off": Off(),
    "always": AlwaysOn(),
    "watchful": Watchful(),
    "standby": Standby(),
}


@dataclass(frozen=True, slots=True)
class Outage:
    """What to simulate: month, time of day the grid fails, hours it stays down, how the machine is run."""

    month: int | None = None
    start: str = "18:00"
    hours: float = 72.0
    runs: tuple[str, ...] = ()  # "06:30/90min", every day
    machine: str = "watchful"  # where there are no runs: a key of MACHINES


@dataclass(frozen=True, slots=True)
class Kept:
    """How one limit was kept: the worst value, when it first broke (None: never) and for how long."""

    name: str
    worst: str
    first_s: float | None
    broken_s: float | None
    harm: str  # what came of it; empty where nothing did


@dataclass(frozen=True, slots=True)
class Account:
    """One outage in a few figures."""

    hours: float
    run_s: float
    night_run_s: float
    starts: int
    fuel_m3: float
    fuel_left_m3: float | None  # None: from a main, no end
    fuel_out_s: float | None
    refills: int
    fuel_trips: int
    overload_trips: int
    energy_j: float
    peak_w: float
    kept: tuple[Kept, ...]

    @property
    def broken(self) -> tuple[Kept, ...]:
        """Every limit that broke."""
        return tuple(k for k in self.kept if k.first_s is not None)


@dataclass(frozen=True, eq=False)
class Simulated:
    """An outage played through, with the house it was played in."""

    house: House
    asked: Outage
    trace: Trace
    account: Account


def control_of(asked: Outage) -> Control:
    """The control that the words ask for. Raises InputError for words that are not understood."""
    return Routine(tuple(_spell(text) for text in asked.runs)) if asked.runs else MACHINES[asked.machine]


def clock_s(text: str) -> float:
    """Seconds of day of "HH:MM". Raises InputError."""
    hours, mark, minutes = text.partition(":")
    if not (mark and hours.isdecimal() and minutes.isdecimal() and int(hours) < 24 and int(minutes) < 60):
        raise InputError(f'{text!r} is not a time of day such as "06:30".', code="no_clock")
    return int(hours) * 3600.0 + int(minutes) * 60.0


def account_of(house: House, outcomes: Outcomes) -> Account:
    """The account of one outage; what is infinite becomes None, so that it can be JSON."""
    left_m3 = _one(outcomes.fuel_left_m3)
    return Account(
        hours=_one(outcomes.length_s) / 3600.0,
        run_s=_one(outcomes.run_s),
        night_run_s=_one(outcomes.night_run_s),
        starts=int(_one(outcomes.starts)),
        fuel_m3=_one(outcomes.fuel_m3),
        fuel_left_m3=_finite(left_m3),
        fuel_out_s=_finite(_one(outcomes.fuel_out_s)),
        refills=int(_one(outcomes.refills)),
        fuel_trips=int(_one(outcomes.fuel_trips)),
        overload_trips=int(_one(outcomes.overload_trips)),
        energy_j=_one(outcomes.energy_j),
        peak_w=_one(outcomes.peak_w),
        kept=tuple(_kept(house, outcomes)),
    )


def trace_csv(trace: Trace) -> str:
    """The course minute by minute: one row a minute, units in the heads."""
    columns = trace.to_columns()
    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows([f"{float(value):.6g}" for value in row] for row in zip(*columns.values(), strict=True))
    return text.getvalue()


def _kept(house: House, found: Outcomes) -> Iterator[Kept]:
    """People first, then food, warmth, water."""
    for i, need in enumerate(found.house.medical_ids):
        first_s, over_s = _one(found.medical_first_s[:, i]), _one(found.medical_unpowered_s[:, i])
        name = house.load_by_id[need].name if need in house.load_by_id else need
        yield Kept(name, "", _finite(first_s), over_s, "unpowered" if over_s > 0.0 else "")
    for i, store in enumerate(house.cold):
        first_s, over_s = _one(found.cold_first_s[:, i]), _one(found.cold_over_s[:, i])
        worst = f"{_one(found.cold_max_c[:, i]):.1f} degC"
        yield Kept(store.name, worst, _finite(first_s), over_s, "discard" if found.food_lost[0, i] else "")
    if house.heat is not None:
        first_s, over_s = _one(found.air_first_s), _one(found.air_below_s)
        yield Kept("house", f"{_one(found.air_min_c):.1f} degC", _finite(first_s), over_s, "")
        risk = "may burst" if found.pipes_at_risk[0] else ""
        pipe_s = _one(found.pipe_first_s)
        yield Kept(
            "pipes", f"{_one(found.pipe_min_c):.1f} degC", _finite(pipe_s), _one(found.pipe_below_s), risk
        )
    if house.water is not None:
        dry_m3 = _one(found.unmet_water_m3)
        worst = f"{1000.0 * dry_m3:.0f} L short of water"
        yield Kept(
            "running water", worst, _finite(_one(found.tap_first_s)), None, "short" if dry_m3 > 0.0 else ""
        )
    for i, pit in enumerate(house.pits):
        over_m3 = _one(found.pit_over_m3[:, i])
        begins_s = _finite(_one(found.pit_first_s[:, i]))
        yield Kept(
            pit.name, f"{1000.0 * over_m3:.0f} L over", begins_s, None, "flooded" if over_m3 > 0.0 else ""
        )


def _spell(text: str) -> DailySpell:
    at, mark, length = text.partition("/")
    if not mark:
        raise InputError(
            f'--run {text!r} is not understood; write for example "06:30/90min".', code="no_spell"
        )
    return DailySpell(clock_s(at), parse(length, "time"))


def _one(values: object) -> float:
    return float(values[0])  # type: ignore[index]


def _finite(value: float) -> float | None:
    return value if isfinite(value) else None
