"""The house file as one document: every section, in the order in which a person fills it in."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from hearthold.house.fields import Section
from hearthold.house.loads import Circuit, LoadEntry
from hearthold.house.site import (
    Budget,
    Climate,
    HouseTitle,
    Medical,
    OutageStatistics,
    PastOutage,
    People,
    Site,
    Wishes,
)
from hearthold.house.stores import ColdEntry, HeatEntry, HotWaterEntry, PitEntry, Reading, WaterEntry
from hearthold.house.supply import Battery, Fuel, Generator, Hookup, Prices, Safety, Solar

FORMAT: Literal[1] = 1


class HouseDocument(Section):
    """One household: the single input of every computation."""

    format: Literal[1] = Field(FORMAT, description="version of the house file's format")
    house: HouseTitle
    site: Site
    people: People
    medical: tuple[Medical, ...] = ()
    climate: Climate
    outages: OutageStatistics = OutageStatistics()
    past_outage: tuple[PastOutage, ...] = ()
    load: Annotated[tuple[LoadEntry, ...], Field(min_length=1, max_length=400)]
    circuit: Annotated[tuple[Circuit, ...], Field(min_length=1, max_length=200)]
    generator: Generator | None = None
    fuel: Fuel | None = None
    hookup: Hookup | None = None
    battery: Battery | None = None
    solar: Solar | None = None
    cold: tuple[ColdEntry, ...] = ()
    heat: HeatEntry | None = None
    water: WaterEntry | None = None
    hot_water: HotWaterEntry | None = None
    pit: tuple[PitEntry, ...] = ()
    reading: tuple[Reading, ...] = ()
    safety: Safety = Safety()
    wishes: Wishes = Wishes()
    budget: Budget = Budget()
    prices: Prices = Prices()
