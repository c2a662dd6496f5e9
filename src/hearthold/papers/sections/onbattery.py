"""A house on its battery alone, as blocks: which circuits are on when, how long that lasts, what the sun brings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import BOLD, Block, Cell, Column, Heading, Points, Words, table
from hearthold.papers.sections.household import kept_blocks
from hearthold.papers.words.onbattery import (
    fails_words,
    lasts,
    lasts_sentence,
    month_words,
    spared_words,
    standing_words,
    starts_words,
)
from hearthold.papers.words.say import clock, duration

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.plan.panel import PanelPlan


def panel_blocks(job: Job, found: PanelPlan) -> Iterator[Block]:
    """The way to keep the panel, other ways beside it, and every limit in the replay."""
    yield Heading("Which circuits are on when")
    yield Words(f"{found.sentence} Every day, by the clock. {standing_words(found)}", "lead")
    said = (lasts_sentence(found), spared_words(job.house, found, job.say))
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
    return table(
        columns,
        (
            (
                Cell(case.what, BOLD),
                Cell(job.say.energy(case.used_day_j)),
                Cell(lasts(case.empties_s)),
                Cell(lasts(case.holds_s)),
                Cell(fails_words(case)),
            )
            for case in cases
        ),
    )


def _sun(job: Job, found: PanelPlan) -> Block:
    columns = (
        Column("Sun", share=2.0),
        Column("Brings a day", True),
        Column("As above lasts", True),
        Column("Everything on lasts", True),
    )
    return table(
        columns,
        (
            (
                Cell(month_words(month), BOLD),
                Cell(job.say.energy(month.sun_day_j)),
                Cell(lasts(month.chosen.empties_s)),
                Cell(lasts(month.everything.empties_s)),
            )
            for month in found.months
        ),
    )
