"""Cautions, printed where the danger is, each once a page; the words are the reference table's."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType
from rich.text import Text

from hearthold.faces.cli.report.parts import caution, heading
from hearthold.reference import cautions as table

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet

# What nobody may have missed at the end of a page: gas, line, fire, the open panel.
_MACHINE = ("never_indoors", "co_distance", "co_alarm", "co_symptoms", "keep_dry", "cool_before_refuel")
_HOOKUP = ("no_backfeed", "open_panel", "electrician")


def cautions_of(sheet: Sheet, *idents: str) -> Iterator[RenderableType]:
    """Cautions by id that the page has not printed yet, in the words of the house's supply and country."""
    fresh = _fresh(sheet, idents)
    if fresh:
        yield Text("")
    yield from fresh


def last_cautions(sheet: Sheet) -> Iterator[RenderableType]:
    """The cautions of machine and wiring that the page has not printed where the danger is."""
    due = (*(_MACHINE if sheet.house.generator is not None else ()), *_HOOKUP)
    fresh = _fresh(sheet, due)
    if fresh:
        yield heading("Cautions", sheet.page)
    yield from fresh


def _fresh(sheet: Sheet, idents: tuple[str, ...]) -> list[RenderableType]:
    """Those not printed yet, now counted as printed."""
    fresh = [ident for ident in dict.fromkeys(idents) if ident not in sheet.warned]
    sheet.warned.update(fresh)
    return [caution(_words(sheet, ident)) for ident in fresh]


def _words(sheet: Sheet, ident: str) -> str:
    text = table.local_caution(ident, sheet.house.system.value, sheet.house.site.country).text
    return text[:1].upper() + text[1:].rstrip(".") + "."
