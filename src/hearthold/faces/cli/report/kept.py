"""How far every limit was kept in an outage that was played through: one table for plan and simulate."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from rich.console import RenderableType
from rich.text import Text

from hearthold.faces.cli.report.parts import STYLES, Column, table
from hearthold.papers.words.kept import beyond, first_left, harm, limit, verdict, worst
from hearthold.papers.words.say import Say

if TYPE_CHECKING:
    from hearthold.plan.kept import StoreKept

__all__ = ["harm", "kept_table"]


def kept_table(stores: Iterable[StoreKept], say: Say) -> RenderableType:
    """Every store: worst value, limit, when it first left it, for how long, and what that means."""
    columns = [Column("what"), Column("worst", True), Column("limit", True), Column("first left after", True)]
    columns += [Column("for", True), Column("")]
    return table(columns, (_row(store, say) for store in stores))


def _row(store: StoreKept, say: Say) -> tuple[str | Text, ...]:
    style = "" if store.kept else STYLES["danger" if store.hard else "consider"]
    told = Text(verdict(store), style=style)
    first = "-" if store.kept and not store.beyond_s else first_left(store)
    return (store.name, worst(store, say), limit(store, say), first, beyond(store), told)
