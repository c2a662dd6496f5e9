"""Assumed values: what the household did not say, the value used, its usual range, and its source."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.parts import ASSUMED, Column, heading, sentence, table
from hearthold.papers.words.assumed import assumed_place, used, usual_range
from hearthold.papers.words.say import Say

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.loads import Assumption

SHORT = 12  # lines of the short list


def assumptions_section(
    house: House, say: Say, page: Console, *, every: bool = True
) -> Iterator[RenderableType]:
    """The section; long lists are cut unless asked for in full."""
    assumptions = house.assumptions
    yield heading("Assumed values", page)
    if not assumptions:
        yield sentence("None: the house file gives every value that was used.")
        return
    yield sentence(assumed_words(house))
    shown = assumptions if every else assumptions[:SHORT]
    sources = list(dict.fromkeys(str(a.source) for a in shown))
    columns = (Column("what"), Column("used", True), Column("usual range", True), Column("source", True))
    yield table(columns, (_row(a, house, say, sources) for a in shown))
    for number, source in enumerate(sources, start=1):
        yield sentence(f"[{number}] {source}.", indent=2)
    if len(shown) < len(assumptions):
        yield sentence(f"{len(assumptions) - len(shown)} more values: add --all.")


def assumed_words(house: House) -> str:
    """How many values the household did not give, and what to do about it."""
    count = len(house.assumptions)
    several = (
        f"{count} values are not in the house file" if count > 1 else "One value is not in the house file"
    )
    return (
        f"{several}; usual ones were taken, and what is marked {ASSUMED} rests on them. "
        "Put in what a nameplate or label says."
    )


def _row(assumption: Assumption, house: House, say: Say, sources: list[str]) -> tuple[str, ...]:
    number = sources.index(str(assumption.source)) + 1
    place, span = assumed_place(assumption.item, house), usual_range(assumption, say)
    return (place, used(assumption, say), span, f"[{number}]")
