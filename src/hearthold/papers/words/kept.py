"""How far a store was kept within its limit, in words."""

from __future__ import annotations

from collections.abc import Iterable
from math import isfinite
from typing import TYPE_CHECKING

from hearthold.papers.words.say import Say, duration

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
NEAR_K = 1.0  # beyond a limit by less than this, a whole degree would hide it
# What a household loses first in weight: people, warmth and pipes, water, food, comfort.
_WEIGHT = ("vital", "pipes", "house", "water", "pit", "food", "hot_water", "battery")


def harm(store: StoreKept) -> str:
    """What became of a store that did not keep its limit."""
    if store.kind == "pipes" and not store.hard:
        return "may freeze, grid or no grid"
    return _HARM.get(store.kind, "not kept")


def weightiest(stores: Iterable[StoreKept]) -> tuple[StoreKept, ...]:
    """Stores by what hangs on them: what is vital first, then what breaks earliest."""
    return tuple(sorted(stores, key=lambda s: (_WEIGHT.index(s.kind), s.first_s, s.store)))


def broken(stores: Iterable[StoreKept]) -> tuple[StoreKept, ...]:
    """Hard limits that are not kept, the weightiest first."""
    return weightiest(s for s in stores if s.hard and not s.kept)


def short(stores: Iterable[StoreKept]) -> tuple[StoreKept, ...]:
    """Comforts that go short."""
    return tuple(s for s in stores if not s.hard and not s.kept and s.kind != "pipes")


def given_up_words(stores: Iterable[StoreKept]) -> str:
    """Of pipes that no running keeps, since they freeze with the heating on as well; empty where there are none."""
    if not any(s.kind == "pipes" and not s.hard and not s.kept for s in stores):
        return ""
    return (
        "By heat.pipe_ratio of the house file the coldest pipe freezes in such cold with the heating on as well, grid "
        "or no grid: no running keeps it, and none is planned for it. Correct the figure, or mend that run of pipe."
    )


def drain_words(stores: Iterable[StoreKept]) -> str:
    """What saves pipes that may freeze, and by when; empty where none may."""
    pipes = next((s for s in stores if s.kind == "pipes" and not s.kept), None)
    if pipes is None:
        return ""
    by = "at once" if pipes.first_s <= 0.0 else f"within {duration(pipes.first_s)}"
    return f"Pipes may freeze: shut off and drain those at risk {by}."


def verdict(store: StoreKept) -> str:
    """Kept, or what became of it."""
    return "kept" if store.kept else harm(store)


def first_left(store: StoreKept) -> str:
    """When it first left its limit."""
    if not isfinite(store.first_s):
        return "never" if store.kept else "-"  # of a battery that ran down at the very end
    return duration(store.first_s) if store.first_s > 0 else "the start"


def beyond(store: StoreKept) -> str:
    """For how long; empty where it never was."""
    return duration(store.beyond_s) if store.beyond_s > 0 else ""


def worst(store: StoreKept, say: Say) -> str:
    """The value nearest to the limit, or beyond it."""
    if store.kind in ("water", "pit"):
        words = "short" if store.kind == "water" else "over"
        return f"{say.volume(store.missed)} {words}" if store.missed > 0 else ""
    if store.unit == "degC":
        reached = store.high if store.kind == "food" else store.low
        near = abs(reached - store.limit) < NEAR_K and not store.kept
        return say.temperature(reached, fine=near)
    return say.energy(store.low) if store.unit == "J" else ""


def limit(store: StoreKept, say: Say) -> str:
    """Its limit; empty where it has none that can be read off."""
    if store.unit == "degC":
        return say.temperature(store.limit)
    return say.energy(store.limit) if store.unit == "J" else ""
