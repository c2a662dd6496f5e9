"""Assumed values in words: what the place is called, the value used, its usual range."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.papers.words.say import Say

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.loads import Assumption

_FIGURES = {
    "running_w": "while running",
    "start_va": "starting",
    "energy_day": "in a day",
    "duty": "share of the day on",
}


def assumed_place(item: str, house: House) -> str:
    """ "load well: start_va" as people read it: "Well pump, starting"; other places as they are."""
    place, _, name = item.partition(": ")
    kind, _, ident = place.partition(" ")
    if kind != "load" or ident not in house.load_by_id:
        return item.replace("_", " ")
    return f"{house.load_by_id[ident].name}, {_FIGURES.get(name, name.replace('_', ' '))}"


def used(assumption: Assumption, say: Say) -> str:
    """The value used, in the reader's unit."""
    return say.in_words(assumption.value, assumption.unit)


def usual_range(assumption: Assumption, say: Say) -> str:
    """Low to high; empty where they are the same."""
    if assumption.low == assumption.high:
        return ""
    low, high = (say.in_words(v, assumption.unit) for v in (assumption.low, assumption.high))
    return f"{low.split(' ')[0]} to {high}"
