"""One simulated outage as faces show it: what was asked, the trace, an account of every limit."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from io import StringIO
from math import isfinite
from typing import TYPE_CHECKING

from hearthold.engine.control import AlwaysOn, Control, DailySpell, Off, Routine, Standby, Watchful
from hearthold.errors import InputError
from hearthold.house.site import VoltageSystem
from hearthold.plan.kept import StoreKept, stores_kept
from hearthold.quantities.units import parse
from hearthold.study.tablefile import parquet_bytes

if TYPE_CHECKING:
    from pathlib import Path

    from hearthold.engine.trace import Trace
    from hearthold.house.house import House
    from hearthold.papers.words.say import Say

MINUTE_S, DAY_S = 60.0, 86400.0
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
    stores: tuple[StoreKept, ...]

    @property
    def broken(self) -> tuple[StoreKept, ...]:
        """Every limit that was not kept."""
        return tuple(store for store in self.stores if not store.kept)


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


def account_of(house: House, trace: Trace) -> Account:
    """The account of one outage; what is infinite becomes None, so that it can be JSON."""
    outcomes = trace.outcomes
    left_m3 = _one(outcomes.fuel_left_m3)
    return Account(
        hours=_one(outcomes.length_s) / 3600.0,
        run_s=_one(outcomes.run_s),
        night_run_s=_one(outcomes.night_run_s),
        starts=int(_one(outcomes.starts)),
        fuel_m3=_one(outcomes.fuel_m3),
        fuel_left_m3=finite(left_m3),
        fuel_out_s=finite(_one(outcomes.fuel_out_s)),
        refills=int(_one(outcomes.refills)),
        fuel_trips=int(_one(outcomes.fuel_trips)),
        overload_trips=int(_one(outcomes.overload_trips)),
        energy_j=_one(outcomes.energy_j),
        peak_w=_one(outcomes.peak_w),
        stores=stores_kept(house, trace),
    )


TABLES, PICTURES = (".csv", ".parquet"), (".svg", ".png")


def check_ending(path: Path, endings: tuple[str, ...]) -> None:
    """Raise InputError for a file whose ending none of the writers knows."""
    if path.suffix not in endings:
        raise InputError(
            f"{path} ends in {path.suffix or 'nothing'}; write {' or '.join(endings)}.", code="bad_ending"
        )


def trace_bytes(trace: Trace, ending: str) -> bytes:
    """The course minute by minute as CSV or Parquet. Raises MissingExtraError without pyarrow."""
    if ending == ".csv":
        return trace_csv(trace).encode()
    return parquet_bytes(trace.to_columns())


def chart_bytes(found: Simulated, say: Say, ending: str) -> bytes:
    """The course as a chart over time, SVG or PNG."""
    from hearthold.papers.charts.timeline import timeline
    from hearthold.papers.course import course_of_trace
    from hearthold.papers.setting import set_png

    whole = course_of_trace(Scene(found.house, say), found.trace).whole
    figure = timeline(whole, f"{found.house.name}: {whole.length_s / 3600.0:g} hours without the grid")
    return figure.svg.encode() if ending == ".svg" else set_png(figure)


@dataclass(frozen=True, slots=True)
class Scene:
    """A house with the reader's units, as charts need it."""

    house: House
    say: Say

    @property
    def nec(self) -> bool:
        """True where there are two legs."""
        return self.house.system is VoltageSystem.SPLIT_120_240

    def circuit(self, ident: str) -> str:
        """A circuit's name."""
        return self.house.circuit_by_id[ident].name


def trace_csv(trace: Trace) -> str:
    """The course minute by minute: one row a minute, units in the heads."""
    columns = trace.to_columns()
    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows([f"{float(value):.6g}" for value in row] for row in zip(*columns.values(), strict=True))
    return text.getvalue()


def turns_left_out(found: Simulated) -> bool:
    """Whether a plan of this house would switch circuits within a spell, which no run given by hand does."""
    from hearthold.plan.turns import usual_turns

    return found.house.generator is not None and usual_turns(found.house, None).changes > 0


def _spell(text: str) -> DailySpell:
    at, mark, length = text.partition("/")
    if not mark:
        raise InputError(
            f'--run {text!r} is not understood; write for example "06:30/90min".', code="no_spell"
        )
    try:
        at_s, length_s = clock_s(at), parse(length, "time")
    except InputError as problem:
        raise InputError(f"--run {text!r}: {problem}", code=problem.code) from None
    if not MINUTE_S <= length_s <= DAY_S:
        raise InputError(f"--run {text!r}: a daily spell lasts from a minute to 24 h.", code="no_spell")
    return DailySpell(at_s, length_s)


def _one(values: object) -> float:
    return float(values[0])  # type: ignore[index]


def finite(value: float) -> float | None:
    """The value, or None for what has no end, so that it can be JSON."""
    return value if isfinite(value) else None
