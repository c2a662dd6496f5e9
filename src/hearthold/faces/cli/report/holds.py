"""Holds: how long each store lasts with no power at all, the first to fail first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.faces.cli.report.say import Say, after, duration
from hearthold.papers.words.short import stove_words

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.sizing.hold import Hold

_CAUTIONS = {
    "fridge": ("food_doubt",),
    "freezer": ("food_doubt",),
    "cold": ("food_doubt",),
    "house": ("cold_house", "unvented_heat"),
    "medical": ("medical",),
}


def holds_section(sheet: Sheet, found: tuple[Hold, ...]) -> Iterator[RenderableType]:
    """Every store, with the three answers and the limit they are counted to."""
    yield heading("How long things last without power", sheet.page)
    if not found:
        yield sentence("The house file names no store: no fridge, no heat, no water.")
        return
    stores = [hold for hold in found if hold.kind != "fuel"]  # fuel lasts by hours of running
    if stores:
        yield sentence(f"First to fail: {stores[0].name}, {after(stores[0].strictest_s)}.")
    columns = [Column("what"), Column("plan on", True), Column("likely", True), Column("public rule", True)]
    yield table([*columns, Column("until")], (_row(sheet.say, hold) for hold in found))
    yield sentence(
        "Doors stay shut and nothing runs; fuel is in hours of running. Plan on the first column, the strictest; the "
        "public rule is the clock that food guidance gives. A thermometer in the box beats them all."
    )
    yield from (sentence(sheet.say.retold(text)) for text in stove_words(found))
    yield from sheet.remarks(note for hold in found for note in hold.notes) if sheet.every else ()
    yield from cautions_of(sheet, *dict.fromkeys(c for h in found for c in _CAUTIONS.get(h.kind, ())))


def _row(say: Say, hold: Hold) -> tuple[str, ...]:
    rule = "" if hold.rule_s is None else duration(hold.rule_s)
    return (hold.name, duration(hold.strictest_s), duration(hold.likely_s), rule, say.retold(hold.limit))
