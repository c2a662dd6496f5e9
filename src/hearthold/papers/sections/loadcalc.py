"""The load calculation as a table: every line, the demand steps, the sum, and what each leg carries."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import BOLD, Block, Cell, Column, Heading, Words, table
from hearthold.papers.words.phrases import sentence
from hearthold.papers.words.say import names, whole
from hearthold.sizing.gridside import grid_parts_below

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.sizing.calculation import LoadCalculation, LoadLine

_WHO = {True: "the inspector", False: "whoever certifies the work"}


def load_calculation_blocks(job: Job) -> Iterator[Block]:
    """The calculation line by line, with its method."""
    found = job.plan.load_calculation
    if found is None:
        return
    yield Heading("Load calculation")
    yield Words(
        f"{sentence(found.method)[:-1]}: {whole(found.total_va)} VA, {found.current_a:.1f} A at "
        f"{found.voltage_v:g} V. {_legs_words(job, found)}"
        f"By {found.source}; {_WHO[job.nec]} decides which method counts."
    )
    columns = [
        Column("Load", share=3.0),
        Column("Rated VA", True),
        Column("Counts", True),
        Column("Adds VA", True),
    ]
    rows = [*(_line(line) for line in found.lines)]
    if found.steps:
        rows.append(_sum("General load, before demand factors", found.general_va))
        rows += [_line(line) for line in found.steps]
    rows.append(_sum("Sum", found.total_va))
    yield table([*columns, Column("Because", share=2.0)], rows, " ".join(sentence(n) for n in found.notes))


def _legs_words(job: Job, found: LoadCalculation) -> str:
    """What each leg of the panel carries, and which parts ahead of it are rated for less."""
    worst = found.worst_leg
    if worst is None:
        return ""
    each = "; ".join(f"leg {x.leg} {whole(x.va)} VA, {x.current_a:.1f} A" for x in found.legs)
    below = grid_parts_below(job.house)
    small = [f"{name} ({rated_a:g} A)" for name, rated_a in below]
    over = f" Leg {worst.leg} is above {names(small)}." if small else ""
    where = "By leg, on the grid" if found.voltage_v < job.house.system.full_voltage_v else "By leg"
    return f"{where}: {each}.{over} "


def _sum(name: str, va: float) -> tuple[Cell, ...]:
    return (Cell(name, BOLD), Cell(""), Cell(""), Cell(whole(va), BOLD), Cell(""))


def _line(line: LoadLine) -> tuple[Cell, ...]:
    counts = f"{100 * line.factor:.0f} %"
    return (
        Cell(line.name),
        Cell(whole(line.rated_va)),
        Cell(counts),
        Cell(whole(line.counted_va)),
        Cell(line.why),
    )
