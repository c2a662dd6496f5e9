"""The page of `check`: what the file says in a few lines, then findings, then assumed values."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.assumptions import assumptions_section
from hearthold.faces.cli.report.findings import count_words, findings_section
from hearthold.faces.cli.report.parts import pairs, sentence, title
from hearthold.faces.cli.report.say import Say, duration
from hearthold.papers.words.circuits import fed
from hearthold.rules.words import fuel_words

if TYPE_CHECKING:
    from hearthold.faces.service import Checked
    from hearthold.house.house import House


def checked_report(checked: Checked, say: Say, page: Console, *, every: bool) -> Iterator[RenderableType]:
    """Everything `check` prints, in order."""
    house = checked.house
    yield title(f"{house.name}, {house.site.place}", page)
    yield sentence(f"The file can be used. The rules found {count_words(checked.findings)}.")
    yield sentence("")
    yield pairs(read_lines(house, say))
    yield from findings_section(checked.findings, page, house.system, every=every)
    yield from assumptions_section(house, say, page, every=every)


def read_lines(house: House, say: Say) -> Iterator[tuple[str, str]]:
    """What was read, a line each: what is missing is said too."""
    volts = "120/240 V, two legs" if len(house.system.legs) == 2 else "230 V, one phase"
    yield "supply", f"{volts}; {house.site.country}, {say.length(house.site.altitude_m)} above the sea"
    yield "people", f"{house.people.count}; vital: {_vital(house)}"
    yield (
        "loads",
        f"{len(house.loads)} on {len(house.circuits)} circuits, {fed(house)}",
    )
    yield "machine", _machine(house, say)
    yield (
        "hookup",
        house.hookup.kind.replace("_", " ") if house.hookup else "none: nothing feeds the house yet",
    )
    yield "stores", _stores(house)
    yield "to last", f"{duration(house.outages.plan_for_s)} without the grid"


def _vital(house: House) -> str:
    return ", ".join(load.name for load in house.vital_loads) or "no load is marked so"


def _machine(house: House, say: Say) -> str:
    if house.generator is None:
        return "none: what must be carried can be told, not what carries it"
    ratings = ", ".join(
        f"{say.power(r.running_w)} on {fuel_words([r.fuel], house.system)}" for r in house.generator.on
    )
    return f"{house.generator.name}: {ratings}"


def _stores(house: House) -> str:
    found = [store.name for store in house.cold]
    found += ["house warmth"] if house.heat else []
    found += ["well and pressure tank"] if house.water else []
    found += ["hot water"] if house.hot_water else []
    found += [pit.name for pit in house.pits]
    return ", ".join(found) or "none given: no hold can be told"
