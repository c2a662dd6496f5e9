"""The rule book as a list, a family at a time."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.parts import heading, listing, sentence
from hearthold.house.site import VoltageSystem
from hearthold.rules.rows import families
from hearthold.rules.words import blanked

if TYPE_CHECKING:
    from hearthold.rules.rows import RuleRow


def rule_list(book: tuple[RuleRow, ...], page: Console) -> Iterator[RenderableType]:
    """Every rule: its id, its title, its severity, and its voltage system where it has only one."""
    for family, rows in groupby(book, key=lambda row: row.family):
        yield heading(families()[family].title, page)
        for row in rows:
            system = row.systems[0]
            where = f", {_SYSTEM[system]} only" if len(row.systems) == 1 else ""
            yield listing(row.id, blanked(row.title, row.limits, system), f"{row.severity}{where}")
    yield sentence("\nOne rule in full: hearthold rules ID")


_SYSTEM = {VoltageSystem.SPLIT_120_240: "120/240 V", VoltageSystem.SINGLE_230: "230 V"}
