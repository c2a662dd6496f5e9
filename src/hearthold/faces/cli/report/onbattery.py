"""A house on its battery alone: which circuits are on when, how long that lasts, what the sun brings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.kept import kept_table
from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.faces.cli.report.say import clock, duration
from hearthold.papers.words.onbattery import (
    lasts_sentence,
    month_cells,
    reserve_words,
    spared_words,
    standing_words,
    starts_words,
    unstartable_words,
    way_cells,
)

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.plan.panel import PanelPlan


def battery_section(sheet: Sheet, found: PanelPlan) -> Iterator[RenderableType]:
    """The way to keep the panel, and every limit in the replay."""
    yield heading("Which circuits are on when", sheet.page)
    if found.feeds_nothing:
        yield sentence(found.sentence)
        yield kept_table(found.stores, sheet.say)
        return
    yield sentence(f"{found.sentence} Every day, by the clock. {standing_words(found)}")
    for words in (
        unstartable_words(sheet.house, found, sheet.say),
        lasts_sentence(found),
        reserve_words(found),
        spared_words(sheet.house, found, sheet.say),
    ):
        if words:
            yield sentence(words)
    yield ways_table(sheet, found)
    yield from sun_section(sheet, found)
    yield sentence(
        f"Played through minute by minute: the grid fails at {clock(found.fails_at_s)} with the battery full and "
        f"stays down for {duration(found.tested_s)}. {starts_words(found)}"
    )
    yield kept_table(found.stores, sheet.say)
    yield from cautions_of(sheet, *(("medical",) if sheet.house.vital_loads else ()))


def ways_table(sheet: Sheet, found: PanelPlan) -> RenderableType:
    """The chosen way beside others: what each uses, and how long it lasts."""
    columns = [Column("circuits"), Column("uses a day", True), Column("battery lasts", True)]
    columns += [Column("limits kept for", True), Column("fails first")]
    return table(columns, (way_cells(case, sheet.say) for case in (found.lasts, *found.cases)))


def sun_section(sheet: Sheet, found: PanelPlan) -> Iterator[RenderableType]:
    """What the panels on the roof bring, month by month, and how long the battery then lasts."""
    if not found.months:
        return
    columns = [Column("sun"), Column("brings a day", True), Column("as above lasts", True)]
    columns += [Column("everything on lasts", True)]
    yield table(columns, (month_cells(month, sheet.say) for month in found.months))
