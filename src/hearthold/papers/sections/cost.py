"""Cost as blocks: once and each year, as ranges, with where each price comes from."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import BOLD, QUIET, Block, Cell, Column, Heading, Words, table
from hearthold.papers.words.phrases import sentence
from hearthold.papers.words.say import whole

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.plan.cost import CostLine


def cost_blocks(job: Job) -> Iterator[Block]:
    """First cost, yearly cost, sums, sources and notes."""
    found = job.plan.cost
    yield Heading("What it costs")
    if not found.first and not found.yearly:
        yield Words(" ".join(found.notes) or "Nothing is priced.")
        return
    sources = list(dict.fromkeys(str(line.source) for line in (*found.first, *found.yearly)))
    for head, lines, yearly in (("Once", found.first, False), ("Each year", found.yearly, True)):
        if lines:
            columns = [Column(head, share=3.0), Column("Low", True), Column("Usual", True)]
            columns += [Column("High", True), Column("", share=0.8), Column("Price from", True)]
            rows = [*(_line(job, line, sources) for line in lines), *_sums(job, yearly)]
            yield table(columns, rows)
    told = [f"[{n}] {job.source_words(source)}." for n, source in enumerate(sources, start=1)]
    yield Words(" ".join([*told, *(sentence(job.told(n)) for n in found.notes)]), "quiet")


def _line(job: Job, line: CostLine, sources: list[str]) -> tuple[Cell, ...]:
    state = "in place" if line.in_place else job.plan.cost.currency
    mark = QUIET if line.in_place else ""
    figures = (Cell(whole(x), mark) for x in (line.low, line.typical, line.high))
    number = sources.index(str(line.source)) + 1
    return (Cell(job.told(line.item), mark), *figures, Cell(state, mark), Cell(f"[{number}]", QUIET))


def _sums(job: Job, yearly: bool) -> Iterator[tuple[Cell, ...]]:
    head = "Sum of a year" if yearly else "Still to spend"
    sums = job.plan.cost.total(yearly=yearly, still_to_spend=not yearly)
    if sums is not None:
        unit = Cell(job.plan.cost.currency, BOLD)
        yield (Cell(head, BOLD), *(Cell(whole(x), BOLD) for x in sums), unit, Cell(""))
