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


def catalogue_report(
    found: tuple[Load, ...], page: Console, *, one_system: bool = False
) -> Iterator[RenderableType]:
    """Every kind found, by group, and what to do with it."""
    for group, kinds in groupby(found, key=lambda kind: kind.group):
        yield heading(group.capitalize(), page)
        yield load_table(tuple(kinds), one_system=one_system)
    yield sentence(
        '\nFigures are usual values; a nameplate is better. In the house file: [[load]] kind = "..."'
    )


def load_table(kinds: tuple[Load, ...], *, one_system: bool = False) -> RenderableType:
    """Kind, name, volts, running watts and starting VA of some loads; both voltages where both may be."""
    columns = (
        Column("kind", copied=True),
        Column("what it is"),
        Column("V", figures=True),
        Column("runs W", figures=True),
        Column("starts VA", figures=True),
    )
    rows = ((k.id, k.name, _volts(k, one_system), whole(k.running_w), whole(k.start_va)) for k in kinds)
    return table(columns, rows)


def _volts(kind: Load, one_system: bool) -> str:
    """The voltage of the system asked for, or of every system the kind is made for."""
    if one_system:
        return whole(kind.voltage_v)
    return "/".join(whole(volts) for volts in dict.fromkeys(kind.voltage_in_v(s) for s in kind.systems))
