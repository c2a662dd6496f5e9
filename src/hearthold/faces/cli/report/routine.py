"""The routine: when to run every day, what that costs, and what it keeps, as the replay shows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.kept import harm, kept_table
from hearthold.faces.cli.report.parts import heading, pairs, sentence
from hearthold.faces.cli.report.ran import gave_way
from hearthold.faces.cli.report.say import Say, after, clock, duration, times
from hearthold.papers.words.fuel import outlasted, trips_words
from hearthold.papers.words.kept import given_up_words

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.plan.alternatives import Alternative
    from hearthold.plan.routine import Routine


def routine_section(sheet: Sheet, found: Routine) -> Iterator[RenderableType]:
    """The rule, its price a day, and every limit in the replay."""
    yield heading("When to run", sheet.page)
    daily = " Every day, by the clock." if found.runs else ""
    yield sentence(f"{found.sentence}{daily} {_standing(found)}")
    if found.outlasts_its_fuel:
        yield sentence(outlasted(found))
    yield from (sentence(text) for text in _what_breaks(sheet.say, found))
    yield pairs(_figures(sheet, found))
    yield sentence(
        f"Played through minute by minute: the grid fails at {clock(found.fails_at_s)} and stays down for "
        f"{duration(found.tested_s)}."
    )
    yield kept_table(found.stores, sheet.say)
    yield from gave_way(found.gave_way)


def _standing(found: Routine) -> str:
    """What may be said of the rule, in the plan's own words."""
    if found.kept:
        every = "every other limit" if given_up_words(found.stores) else "every limit"
        return f"It keeps {every}: {found.standing.words}, of {found.tried} rules tried."
    tried = f"within these wishes: {found.tried:,} rules were tried, and this one comes nearest"
    return f"Keeping every limit {found.standing.words} {tried}."


def _what_breaks(say: Say, found: Routine) -> Iterator[str]:
    """Where the limits cannot all be kept: which breaks first, and what another spell would change."""
    broken = found.breaks_first
    if broken is None:
        return
    yield f"First to break: {broken.name} ({harm(broken)}), {after(broken.first_s)}."
    for other in found.alternatives:
        fuel = f"{say.volume(other.fuel_day_m3)} of fuel a day instead of {say.volume(found.fuel_day_m3)}"
        yield f"{say.retold(other.sentence)} It takes {fuel}{_dry_words(found, other)}."


def _dry_words(found: Routine, other: Alternative) -> str:
    """When another rule first stands without fuel, where that comes before the outage is over."""
    return f", and stands dry {after(other.fuel_lasts_s)}" if other.fuel_lasts_s < found.tested_s else ""


def _figures(sheet: Sheet, found: Routine) -> Iterator[tuple[str, str]]:
    say = sheet.say
    ran = f"{duration(found.run_day_s)} of running, {say.volume(found.fuel_day_m3)} of fuel"
    yield "a day", ran if found.run_day_s > 0.0 else "no running, no fuel"
    work = f"{times(found.starts_day, 'start')}, {times(found.refills_day, 'refill')}"
    yield "work", f"{work} a day; {trips_words(found)}"
    yield "fuel left", f"{say.volume(found.fuel_left_m3)} after {duration(found.tested_s)}"
