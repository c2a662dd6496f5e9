"""Cost: what is still to be bought or done, and what a year takes, as ranges."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.faces.cli.report.say import whole

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.plan.cost import Band, Cost, CostLine


def cost_section(sheet: Sheet, found: Cost) -> Iterator[RenderableType]:
    """First cost and yearly cost."""
    yield heading("What it costs", sheet.page)
    yield sentence(cost_words(found))
    for head, lines in (("once", found.first), ("each year", found.yearly)):
        if lines:
            columns = (
                Column(head),
                Column("low", True),
                Column("usual", True),
                Column("high", True),
                Column(""),
            )
            yield table(columns, (_row(line, found.currency) for line in lines))
    if found.first or found.yearly:
        yield sentence("Prices differ by place and year: ask for quotes before deciding.")
    yield from sheet.remarks(found.notes)


def cost_words(found: Cost) -> str:
    """What is still to be spent, what is in place, and what a year takes."""
    if not found.first and not found.yearly:
        return "No hookup is described, so nothing is priced."
    left, whole_sum = found.total(still_to_spend=True), found.total()
    still = (
        f"Still to buy or have done: {_range(left, found)}."
        if left
        else "Nothing is left to buy for this hookup"
    )
    if not left:
        still += f"; new, it costs {_range(whole_sum, found)}." if whole_sum else "."
    yearly = found.total(yearly=True)
    return f"{still} Each year {_range(yearly, found)}." if yearly else still


def _range(sums: Band, found: Cost) -> str:
    return f"{whole(sums[0])} to {whole(sums[2])} {found.currency}"


def _row(line: CostLine, currency: str) -> tuple[str, ...]:
    mark = f"{currency}, in place" if line.in_place else currency
    return (line.item, whole(line.low), whole(line.typical), whole(line.high), mark)
