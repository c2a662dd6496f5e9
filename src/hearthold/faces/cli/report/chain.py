"""The limit chain: what each part on the way lets through, and which one decides."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType
from rich.text import Text

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.faces.cli.report.say import names, whole

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.sizing.chain import Chain, Link


def chain_section(sheet: Sheet, found: Chain) -> Iterator[RenderableType]:
    """Links in order, the weakest marked."""
    yield heading(f"From the machine to {found.end}", sheet.page)
    yield sentence(chain_words(sheet, found))
    lasting = any(link.continuous_a < link.rated_a for link in found.links)
    columns = [Column("part"), Column("size"), Column("A", True)]
    columns += [Column("A for 3 h", True)] if lasting else []
    columns += [Column("W", True), Column("")]
    yield table(columns, (_row(found, link, lasting=lasting) for link in found.links))
    if lasting:
        yield sentence("A part passes the first figure for up to three hours and the second for longer.")
    if found.unknown:
        yield sentence(f"Not in the house file, so not counted: {names(found.unknown)}.")
    yield from sheet.remarks(found.notes)
    yield from cautions_of(sheet, "no_backfeed")


def chain_words(sheet: Sheet, found: Chain) -> str:
    """What arrives at the panel, and which part decides."""
    power = sheet.say.power
    parts = names([f"{link.kind} ({link.name})" for link in found.weakest])
    longer = f", {power(found.continuous_w)} for three hours or more"
    same = power(found.continuous_w) == power(found.delivered_w)
    text = f"{power(found.delivered_w)} arrive at {found.end}{'' if same else longer}; the {parts} decides. "
    if found.with_next_w > found.delivered_w * 1.005:
        bigger = names([f"{x.kind} {x.next_name}" for x in found.weakest if x.next_a])
        text += f"With {bigger} it would be {power(found.with_next_w)}."
    return text.strip()


def _row(found: Chain, link: Link, *, lasting: bool) -> tuple[str | Text, ...]:
    mark = Text("<- decides", style="bold") if link in found.weakest else Text("")
    longer = (f"{link.continuous_a:.1f}",) if lasting else ()
    return (link.kind, link.name, f"{link.rated_a:.1f}", *longer, whole(link.rated_w), mark)
