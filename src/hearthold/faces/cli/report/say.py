"""Quantities in the reader's units. The words are those of the papers; the choice of units is ours."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.faces.settings import setting
from hearthold.house.site import VoltageSystem
from hearthold.papers.words.say import (
    Say,
    after,
    clock,
    counted,
    duration,
    figure,
    names,
    share,
    times,
    whole,
)

if TYPE_CHECKING:
    from hearthold.house.house import House

__all__ = [
    "Say",
    "after",
    "clock",
    "counted",
    "duration",
    "figure",
    "names",
    "say_for",
    "share",
    "times",
    "whole",
]


def say_for(house: House, asked: str | None) -> Say:
    """The reader's units: as asked, as the settings say, else those usual where the house stands."""
    wanted = asked or setting("units")
    at_home = house.system is VoltageSystem.SPLIT_120_240 and house.site.country == "US"
    return Say(us=at_home if wanted == "auto" else wanted == "us", currency=house.prices.currency)
