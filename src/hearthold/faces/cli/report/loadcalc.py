"""The load calculation that a permit office asks for, line by line."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.faces.cli.report.say import whole
from hearthold.papers.words.say import names
from hearthold.sizing.gridside import grid_parts_below

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.sizing.calculation import LoadCalculation, LoadLine


_DECIDES = {True: "the inspector", False: "the electrician who certifies the work"}


def loadcalc_section(sheet: Sheet, found: LoadCalculation) -> Iterator[RenderableType]:
    """Every load with its factor, and the sum in VA and A."""
    yield heading("Load calculation", sheet.page)
    yield sentence(loadcalc_words(sheet, found))
    if sheet.every:
        columns = (Column("load"), Column("VA", True), Column("counted", True), Column("because"))
        yield table(columns, (_row(line) for line in (*found.lines, *found.steps)))
    yield from sheet.remarks(found.notes)


def loadcalc_words(sheet: Sheet, found: LoadCalculation) -> str:
    """The sum, and by which method."""
    return (
        f"{found.method[:1].upper()}{found.method[1:]}: "
        f"{whole(found.total_va)} VA, {found.current_a:.1f} A at {found.voltage_v:g} V"
        f"{_leg_words(sheet, found)}. "
        f"By {found.source}; {_DECIDES[sheet.two_legs]} decides which method counts."
    )


def _leg_words(sheet: Sheet, found: LoadCalculation) -> str:
    """The worse leg, and what ahead of the panel is rated for less."""
    if found.worst_leg is None:
        return ""
    below = [f"{name} ({rated_a:g} A)" for name, rated_a in grid_parts_below(sheet.house)]
    over = f", above {names(below)}" if below else ""
    return f", leg {found.worst_leg.leg} {found.worst_leg.current_a:.1f} A{over}"


def _row(line: LoadLine) -> tuple[str, ...]:
    return (line.name, whole(line.rated_va), f"{100 * line.factor:.0f} %", line.why)
