"""The actions every face offers: the table of contents of the program, where the layers are joined.

Those over many random outages stand in studies.py. Each action takes plain values and returns frozen results;
faces render them. Imports stand inside the actions, so that asking for help never loads the solver.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass, is_dataclass, replace
from datetime import date
from enum import Enum
from importlib.resources import files as package_files
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hearthold.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from hearthold.faces.outage import AskedOutage, PlannedOutage
    from hearthold.faces.panel_outage import PlannedPanel
    from hearthold.faces.simulation import Outage, Simulated
    from hearthold.house.house import House
    from hearthold.house.starter import Answers
    from hearthold.papers.job import Outlook
    from hearthold.plan.result import Plan
    from hearthold.quantities.glossary import Term
    from hearthold.reference.loads import Load
    from hearthold.rules.finding import Finding
    from hearthold.rules.rows import RuleRow

EXAMPLES = {"split_120_240": "tarn_hollow", "single_230": "skerrow_croft"}
STDIN = "-"


@dataclass(frozen=True, slots=True)
class Checked:
    """A house file that can be used, and what the rules found in it."""

    house: House
    findings: tuple[Finding, ...]

    @property
    def needs_action(self) -> bool:
        """True where something must be mended before anybody relies on the power."""
        return any(f.needs_action for f in self.findings)


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan with the house it is for: the plan alone is what leaves the program as data."""

    house: House
    plan: Plan


def read(path: str | Path, today: date | None = None) -> House:
    """The household in a house file, or on standard input for "-"; with a day, its past outages must be past.

    Raises HouseFileError.
    """
    from hearthold.house import reader

    if str(path) == STDIN:
        return reader.house_from_bytes(
            sys.stdin.buffer.read(reader.LARGEST_BYTES + 1), "standard input", today
        )
    return reader.read_house(path, today)


def check(path: str | Path, today: date) -> Checked:
    """Read a house file and hold it against every rule. Raises HouseFileError."""
    from hearthold.rules.case import Case
    from hearthold.rules.check import check as check_case
    from hearthold.sizing.conditions import conditions, harshest_month

    house = read(path, today)
    weather = conditions(house, harshest_month(house))
    return Checked(house, check_case(Case(house, weather, today)))


def plan(
    path: str | Path,
    today: date,
    month: int | None = None,
    fuel: str | None = None,
    progress: Callable[[str], None] | None = None,
) -> Planned:
    """The whole plan of a house file. Raises HouseFileError, InputError, CannotMeetError."""
    from hearthold.plan.house import plan_house

    house = read(path, today)
    return Planned(house, plan_house(house, today=today, month=month, fuel=fuel, progress=progress))


def simulate(path: str | Path, asked: Outage, progress: Callable[[str], None] | None = None) -> Simulated:
    """One outage played through a house. Raises HouseFileError, InputError."""
    from hearthold.engine.run import simulate as play
    from hearthold.engine.sunshine import month_with_sun
    from hearthold.faces.simulation import Simulated, account_of, clock_s, running_of
    from hearthold.sizing.conditions import harshest_month

    house = read(path).running
    month = asked.month or harshest_month(house)
    outside = month_with_sun(house, month, days=int(asked.hours // 24) + 3)
    start_s = clock_s(asked.start)
    running = running_of(asked, house, month)
    trace = play(house, outside, running.control, start_s=start_s, hours=asked.hours, progress=progress)
    return Simulated(house, asked, trace, account_of(house, trace), running)


def outage(
    path: str | Path, asked: AskedOutage, today: date, progress: Callable[[str], None] | None = None
) -> PlannedOutage | PlannedPanel:
    """The spells of one outage, or its circuits on a battery alone, before it or in the middle of it.

    Raises HouseFileError, InputError.
    """
    from hearthold.engine.sunshine import month_with_sun
    from hearthold.faces.outage import PlannedOutage
    from hearthold.faces.panel_outage import planned_panel
    from hearthold.faces.readings import down_for_s, read_now
    from hearthold.faces.simulation import clock_s
    from hearthold.plan.asked import Asked
    from hearthold.plan.outage import Span, plan_outage
    from hearthold.plan.panel import has_panel_alone
    from hearthold.sizing.conditions import harshest_month
    from hearthold.study.chosen import outages_of
    from hearthold.study.lengths import lengths_s

    house = read(path, today).running
    down_s = down_for_s(asked.down)
    read_in = read_now(
        house,
        asked.readings,
        at_s=clock_s(asked.start),
        elapsed_s=down_s,
        running=asked.running,
        fuel=asked.fuel,
    )
    if asked.sure_frac is None:
        span = Span(asked.hours or house.outages.plan_for_s / 3600.0)
    else:
        span = Span(None, lengths_s(outages_of(house, today, file=str(path)), down_s), asked.sure_frac)
    outside = month_with_sun(house, asked.month or harshest_month(house))
    if has_panel_alone(house):
        return planned_panel(house, asked, outside, read_in, span, progress)
    wanted = Asked(fuel=asked.fuel)
    planned = plan_outage(
        house, outside, read_in.now, span, asked=wanted, prove_s=asked.prove_s, progress=progress
    )
    return PlannedOutage(house, asked, planned, read_in.fuel, read_in.unread)


def papers(
    found: Planned,
    out: Path,
    today: date,
    paper: str | None = None,
    only: tuple[str, ...] = (),
    us: bool | None = None,
    url: str = "",
    outlook: Callable[[], Outlook] | None = None,
) -> tuple[Path, ...]:
    """Write the papers of a plan into a folder, all if none are named. Raises InputError.

    With an outlook, asked for when the other papers are made, the report has risk and comparison too.
    """
    from hearthold.papers.make import papers as write

    return write(
        found.plan, found.house, out, today=today, paper=paper, only=only, us=us, url=url, outlook=outlook
    )


def example_path(system: str = "split_120_240") -> Path:
    """Where the bundled example for a voltage system lies. Raises InputError if it is not installed."""
    name = f"{EXAMPLES[system]}.toml"
    beside = Path(str(package_files("hearthold"))) / "examples" / name
    checkout = Path(str(package_files("hearthold"))).parents[1] / "examples" / name
    found = next((p for p in (beside, checkout) if p.is_file()), None)
    if found is None:
        raise InputError(f"the example {name} is not installed; reinstall hearthold.", code="no_example")
    return found


def starter(answers: Answers | None = None) -> str:
    """The text of a new house file, from answers or from plain defaults; it passes `check`."""
    from hearthold.house.starter import Answers, starter_text

    return starter_text(answers or Answers())


def house_schema() -> dict[str, Any]:
    """JSON Schema of the house file."""
    from hearthold.house.schema import house_schema

    return house_schema()


def plan_schema() -> dict[str, Any]:
    """JSON Schema of a plan as `plan --json` prints it."""
    from hearthold.faces.plan_json import plan_schema

    return plan_schema()


def load_catalogue(word: str | None = None, system: str = "") -> tuple[Load, ...]:
    """Kinds of the load catalogue by group, or those that contain a word; of one voltage system if asked.

    With a system each kind has the voltage it takes there. Raises InputError if nothing is found.
    """
    from hearthold.reference.loads import load_groups, loads

    found = [kind for kind in loads(system) if _contains(word, kind.id, kind.name, kind.group)]
    if system:
        found = [replace(kind, voltage_v=kind.voltage_in_v(system)) for kind in found]
    if not found:
        raise InputError(
            f'no load of the catalogue contains "{word}". Try a shorter word: pump, freez, light.',
            code="no_such_load",
        )
    return tuple(sorted(found, key=lambda kind: load_groups().index(kind.group)))


def rule_list() -> tuple[RuleRow, ...]:
    """Every rule, a family at a time, what can kill first."""
    from hearthold.rules.rows import families, rule_book

    order = list(families())
    return tuple(sorted(rule_book().values(), key=lambda row: order.index(row.family)))


def explain_rule(rule_id: str) -> str:
    """One rule in words. Raises InputError with the nearest ids if there is none."""
    from hearthold.rules.check import explain

    return explain(rule_id)


def glossary(word: str | None = None) -> tuple[Term, ...]:
    """Names of quantities, all or those that contain a word, by name. Raises InputError if none does."""
    from hearthold.quantities.glossary import terms

    found = tuple(t for _, t in sorted(terms().items()) if _contains(word, t.name, t.meaning))
    if not found:
        raise InputError(
            f'no name or meaning contains "{word}". Without a word, all are listed.', code="no_such_term"
        )
    return found


def plain(value: Any) -> Any:
    """A frozen result as plain JSON values; a number that has no end, or is none, becomes None."""
    if isinstance(value, float):
        return value if isfinite(value) else None
    if is_dataclass(value) and not isinstance(value, type):
        return {key: plain(item) for key, item in _fields(value).items()}
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, dict) or hasattr(value, "items"):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, tuple | list | frozenset | set):
        return [plain(item) for item in value]
    return value


def _fields(value: Any) -> Mapping[str, Any]:
    return {name: getattr(value, name) for name in value.__dataclass_fields__}


def _contains(word: str | None, *texts: str) -> bool:
    return word is None or any(word.casefold() in text.casefold() for text in texts)
