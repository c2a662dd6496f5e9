"""Assumed values: what the household did not say, the value used, its usual range, and its source."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.parts import ASSUMED, Column, heading, sentence, table
from hearthold.faces.cli.report.say import Say

if TYPE_CHECKING:
    from hearthold.house.loads import Assumption

SHORT = 12  # lines of the short list


def assumptions_section(
    assumptions: tuple[Assumption, ...], say: Say, page: Console, *, every: bool = True
) -> Iterator[RenderableType]:
    """The section; long lists are cut unless asked for in full."""
    yield heading("Assumed values", page)
    if not assumptions:
        yield sentence("None: the house file gives every value that was used.")
        return
    yield sentence(
        f"{len(assumptions)} values are not in the house file. What is marked {ASSUMED} rests on them; "
        "the nearer the truth, the better the plan. Put in what a nameplate or label says."
    )
    shown = assumptions if every else assumptions[:SHORT]
    columns = (Column("what"), Column("used", True), Column("usual range", True), Column("from"))
    yield table(columns, (_row(a, say) for a in shown))
    if len(shown) < len(assumptions):
        yield sentence(f"{len(assumptions) - len(shown)} more: add --all.")


def _row(assumption: Assumption, say: Say) -> tuple[str, str, str, str]:
    low, used, high = (
        say.in_words(v, assumption.unit) for v in (assumption.low, assumption.value, assumption.high)
    )
    span = "" if assumption.low == assumption.high else f"{low.split(' ')[0]} to {high}"
    return (assumption.item, used, span, str(assumption.source))
