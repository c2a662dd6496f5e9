"""Cost: what is still to be bought or done, and what a year takes, as ranges."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.faces.cli.report.say import whole

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.plan.cost import Cost, CostLine


def cost_section(sheet: Sheet, found: Cost) -> Iterator[RenderableType]:
    """First cost and yearly cost."""
    yield heading("What it costs", sheet.page)
    yield sentence(_words(found))
    for head, lines in (("once", found.first), ("each year", found.yearly)):
        if lines:
            columns = (
                Column(head),
                Column("low", True),
                Column("usual", True),
                Column("high", True),
                Column(""),
            )
            yield table(columns, (_row(line) for line in lines))
    if found.first or found.yearly:
        yield sentence("Prices differ by place and year: ask for quotes before deciding.")
    yield from sheet.remarks(found.notes)


def _words(found: Cost) -> str:
    to_buy = [line for line in found.first if not line.in_place]
    if not to_buy:
        return "Nothing is left to buy for this hookup."
    low, high = sum(x.low for x in to_buy), sum(x.high for x in to_buy)
    return f"Still to buy or have done: {whole(low)} to {whole(high)} {to_buy[0].currency}."


def _row(line: CostLine) -> tuple[str, ...]:
    mark = "in place" if line.in_place else line.currency
    return (line.item, whole(line.low), whole(line.typical), whole(line.high), mark)
