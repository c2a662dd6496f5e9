"""A house on its battery alone, as blocks: which circuits are on when, how long that lasts, what the sun brings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import BOLD, Block, Cell, Column, Heading, Points, Words, table
from hearthold.papers.sections.household import kept_blocks
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
from hearthold.papers.words.say import clock, duration

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.plan.panel import PanelPlan


def panel_blocks(job: Job, found: PanelPlan) -> Iterator[Block]:
    """The way to keep the panel, other ways beside it, and every limit in the replay."""
    yield Heading("Which circuits are on when")
    if found.feeds_nothing:
        yield Words(found.sentence, "lead")
        yield from kept_blocks(job, found.stores)
        return
    yield Words(f"{found.sentence} Every day, by the clock. {standing_words(found)}", "lead")
    stands = unstartable_words(job.house, found, job.say)
    said = (stands, lasts_sentence(found), reserve_words(found), spared_words(job.house, found, job.say))
    yield Points(tuple(text for text in said if text))
    yield _ways(job, found)
    if found.months:
        yield _sun(job, found)
    yield Words(
        f"Played through minute by minute: the grid fails at {clock(found.fails_at_s)} with the battery full and "
        f"stays down for {duration(found.tested_s)}. {starts_words(found)}"
    )
    yield from kept_blocks(job, found.stores)


def _ways(job: Job, found: PanelPlan) -> Block:
    columns = (
        Column("Circuits", share=2.0),
        Column("Uses a day", True),
        Column("Battery lasts", True),
        Column("Limits kept for", True),
        Column("Fails first", share=2.0),
    )
    cases = (found.lasts, *found.cases)
    return table(columns, (_row(way_cells(case, job.say)) for case in cases))


def _sun(job: Job, found: PanelPlan) -> Block:
    columns = (
        Column("Sun", share=2.0),
        Column("Brings a day", True),
        Column("As above lasts", True),
        Column("Everything on lasts", True),
    )
    return table(columns, (_row(month_cells(month, job.say)) for month in found.months))


def _row(cells: tuple[str, ...]) -> tuple[Cell, ...]:
    return (Cell(cells[0], BOLD), *map(Cell, cells[1:]))
