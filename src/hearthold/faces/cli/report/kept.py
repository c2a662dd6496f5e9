"""How far every limit was kept in an outage that was played through: one table for plan and simulate."""

from __future__ import annotations

from collections.abc import Iterable
from math import isfinite
from typing import TYPE_CHECKING

from rich.console import RenderableType
from rich.text import Text

from hearthold.faces.cli.report.parts import STYLES, Column, table
from hearthold.faces.cli.report.say import Say, duration

if TYPE_CHECKING:
    from hearthold.plan.kept import StoreKept

_HARM = {
    "food": "too warm",
    "house": "too cold",
    "pipes": "may freeze",
    "pit": "floods",
    "water": "runs dry",
    "vital": "no power",
    "hot_water": "not hot",
    "battery": "empty",
}


def kept_table(stores: Iterable[StoreKept], say: Say) -> RenderableType:
    """Every store: worst value, limit, when it first left it, for how long, and what that means."""
    columns = [Column("what"), Column("worst", True), Column("limit", True), Column("first left after", True)]
    columns += [Column("for", True), Column("")]
    return table(columns, (_row(store, say) for store in stores))


def harm(store: StoreKept) -> str:
    """What became of a store that did not keep its limit."""
    return _HARM.get(store.kind, "not kept")


def _row(store: StoreKept, say: Say) -> tuple[str | Text, ...]:
    left = isfinite(store.first_s)
    first = duration(store.first_s) if left and store.first_s > 0 else "the start" if left else "never"
    span = duration(store.beyond_s) if store.beyond_s > 0 else ""
    if store.kept:
        verdict = Text("kept")
    else:
        verdict = Text(harm(store), style=STYLES["danger" if store.hard else "consider"])
    return (store.name, _worst(store, say), _limit(store, say), first, span, verdict)


def _worst(store: StoreKept, say: Say) -> str:
    """The value nearest to the limit, or beyond it."""
    if store.kind in ("water", "pit"):
        words = "missed" if store.kind == "water" else "over"
        return f"{say.volume(store.missed)} {words}" if store.missed > 0 else "none"
    if store.unit == "degC":
        return say.temperature(store.high if store.kind == "food" else store.low)
    return say.energy(store.low) if store.unit == "J" else ""


def _limit(store: StoreKept, say: Say) -> str:
    if store.unit == "degC":
        return say.temperature(store.limit)
    return say.energy(store.limit) if store.unit == "J" else ""
