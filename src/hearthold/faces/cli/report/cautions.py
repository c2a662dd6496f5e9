"""Cautions, printed where the danger is; the words are the reference table's."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType
from rich.text import Text

from hearthold.faces.cli.report.parts import caution
from hearthold.reference import cautions as table

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet


def cautions_of(sheet: Sheet, *idents: str) -> Iterator[RenderableType]:
    """Cautions by id, in order, in the words of the house's supply and country."""
    yield Text("")
    for ident in idents:
        found = table.local_caution(ident, sheet.house.system.value, sheet.house.site.country)
        yield caution(found.text[:1].upper() + found.text[1:].rstrip(".") + ".")
