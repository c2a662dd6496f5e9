"""The rule book as a list, a family at a time."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.parts import heading, listing, sentence

if TYPE_CHECKING:
    from hearthold.rules.rows import RuleRow


def rule_list(book: tuple[RuleRow, ...], page: Console) -> Iterator[RenderableType]:
    """Every rule: its id, its title and its severity."""
    for family, rows in groupby(book, key=lambda row: row.family):
        yield heading(family.capitalize(), page)
        for row in rows:
            yield listing(row.id, row.title, str(row.severity))
    yield sentence("\nOne rule in full: hearthold rules ID")
