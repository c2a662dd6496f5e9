"""The catalogue of loads as tables, a group at a time."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.faces.cli.report.say import whole

if TYPE_CHECKING:
    from hearthold.reference.loads import Load


def catalogue_report(found: tuple[Load, ...], page: Console) -> Iterator[RenderableType]:
    """Every kind found, by group, and what to do with it."""
    for group, kinds in groupby(found, key=lambda kind: kind.group):
        yield heading(group.capitalize(), page)
        yield load_table(tuple(kinds))
    yield sentence(
        '\nFigures are usual values; a nameplate is better. In the house file: [[load]] kind = "..."'
    )


def load_table(kinds: tuple[Load, ...]) -> RenderableType:
    """Kind, name, volts, running watts and starting VA of some loads."""
    columns = (
        Column("kind"),
        Column("what it is"),
        Column("V", figures=True),
        Column("runs W", figures=True),
        Column("starts VA", figures=True),
    )
    rows = ((k.id, k.name, whole(k.voltage_v), whole(k.running_w), whole(k.start_va)) for k in kinds)
    return table(columns, rows)
