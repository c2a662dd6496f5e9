"""Assumed values in words: what the place is called, the value used, its usual range."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.papers.words.phrases import plain
from hearthold.papers.words.say import Say

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.loads import Assumption

_FIGURES = {
    "running_w": "while running",
    "pipe_ratio": "warmth of the coldest pipe, from outdoors to indoors",
    "start_va": "starting",
    "energy_day": "in a day",
    "duty": "share of the day on",
    "ua_w_per_k": "heat it lets through",
    "cooling_w": "heat the compressor takes out",
    "set": "thermostat",
    "capacity": "heat it stores",
    "gains": "heat from people and appliances",
    "precharge": "air pressure in the empty tank",
    "standby": "heat the tank loses",
    "output": "heat from boiler, flame or heat pump",
    "for_a_dollar": "what a US dollar is taken for",
}
_PLACES = {"heat": "House", "water": "Pressure tank", "hot_water": "Water heater", "prices": "Prices"}


def assumed_place(item: str, house: House) -> str:
    """ "load well: start_va" as people read it: "Well pump, starting"; places without a name as they are."""
    place, _, figure = item.partition(": ")
    named = _PLACES.get(place) or house.name_by_place.get(place)
    if named is None:
        return item.replace("_", " ")
    return f"{named}, {_FIGURES.get(figure, figure.replace('_', ' '))}"


def used(assumption: Assumption, say: Say) -> str:
    """The value used, in the reader's unit."""
    return plain(say.in_words(assumption.value, assumption.unit))


def usual_range(assumption: Assumption, say: Say) -> str:
    """Low to high; empty where they are the same."""
    if assumption.low == assumption.high:
        return ""
    low, high = (plain(say.in_words(v, assumption.unit)) for v in (assumption.low, assumption.high))
    return f"{low.split(' ')[0]} to {high}"
