"""One simulated outage as faces show it: what was asked, the trace, an account of every limit."""

from __future__ import annotations

import csv
from dataclasses import dataclass, replace
from io import StringIO
from math import isfinite
from typing import TYPE_CHECKING

from hearthold.engine.control import AlwaysOn, Control, DailySpell, Off, Routine, Standby, Watchful
from hearthold.engine.kernels.layout import O_LOAD_J
from hearthold.errors import InputError
from hearthold.house.site import VoltageSystem
from hearthold.plan.kept import StoreKept, stores_kept
from hearthold.plan.panel import find_panel, has_panel_alone
from hearthold.plan.routine import Routine as Found
from hearthold.plan.routine import find_routine
from hearthold.plan.turns import Turns, one_turn, usual_turns
from hearthold.quantities.units import parse
from hearthold.sizing.conditions import conditions
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
BY_ROUTINE = "routine"  # the one that `plan` recommends for the month


@dataclass(frozen=True, slots=True)
class Outage:
    """What to simulate: month, time of day the grid fails, hours it stays down, how the machine is run."""

    month: int | None = None
    start: str = "18:00"
    hours: float = 72.0
    runs: tuple[str, ...] = ()  # "06:30/90min", every day
    machine: str = "watchful"  # where there are no runs: a key of MACHINES, or BY_ROUTINE
    together: bool = False  # all that the hookup feeds in every spell, where a plan would switch in turns


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
    energy_j: float  # from the machine
    used_j: float  # by loads, from machine and battery
    peak_w: float
    stores: tuple[StoreKept, ...]

    @property
    def broken(self) -> tuple[StoreKept, ...]:
        """Every limit that was not kept."""
        return tuple(store for store in self.stores if not store.kept)


@dataclass(frozen=True, slots=True)
class Running:
    """How the machine is run, and which circuits are on when within a spell."""

    control: Control
    turns: Turns
    sentence: str = ""  # of a routine that was looked for


@dataclass(frozen=True, eq=False)
class Simulated:
    """An outage played through, with the house it was played in."""

    house: House
    asked: Outage
    trace: Trace
    account: Account
    running: Running


def running_of(asked: Outage, house: House, month: int) -> Running:
    """The running that the words ask for, in the turns that the routine of the month has.

    An automatic set and one that is off switch no turns. Raises InputError for words that are not understood, and for
    a routine where there is neither machine nor battery. On a battery alone the routine is of circuits.
    """
    if asked.machine == BY_ROUTINE and not asked.runs and has_panel_alone(house):
        kept = find_panel(house, conditions(house, month))
        return Running(kept.control, one_turn(house), kept.sentence)
    if asked.machine == BY_ROUTINE and not asked.runs:
        found = _routine(asked, house, month)
        return Running(found.control, found.turns, found.sentence)
    if asked.runs:
        turns = _turns(asked, house, month)
        return Running(Routine(tuple(replace(_spell(text), steps=turns.steps) for text in asked.runs)), turns)
    control = MACHINES[asked.machine]
    if isinstance(control, AlwaysOn | Watchful):
        turns = _turns(asked, house, month)
        return Running(replace(control, steps=turns.steps), turns)
    return Running(control, one_turn(house))


def _routine(asked: Outage, house: House, month: int) -> Found:
    fed = tuple(circuit.id for circuit in house.fed_circuits) if asked.together else None
    return find_routine(house, conditions(house, month), circuits=fed)


def _turns(asked: Outage, house: House, month: int) -> Turns:
    """Of the routine, where it has any; which circuits they hold is known without it, not how long they last."""
    if asked.together or house.takes_over or house.generator is None:
        return one_turn(house)
    usual = usual_turns(house)
    return _routine(asked, house, month).turns if usual.changes else usual


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
        used_j=_one(outcomes.account(O_LOAD_J)),
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
    """Whether a plan of this house would switch circuits within a spell and this outage did not."""
    if found.house.generator is None or found.running.turns.changes:
        return False
    return usual_turns(found.house).changes > 0


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
