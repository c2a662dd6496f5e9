"""`House`: the one frozen type that leaves this layer, with every gap filled and every assumption listed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from hearthold.house.loads import Assumption, Circuit, Load, Priority
from hearthold.house.site import (
    Budget,
    Climate,
    Medical,
    OutageStatistics,
    PastOutage,
    People,
    Site,
    VoltageSystem,
    Wishes,
)
from hearthold.house.stores import ColdStore, HotWater, HouseHeat, Pit, WaterSystem
from hearthold.house.supply import Battery, Fuel, Generator, Hookup, HookupKind, Prices, Safety, Solar


@dataclass(frozen=True)
class House:
    """A household, resolved: SI throughout, catalogue figures filled in and listed in `assumptions`."""

    name: str
    note: str
    site: Site
    people: People
    medical: tuple[Medical, ...]
    climate: Climate
    outages: OutageStatistics
    past_outages: tuple[PastOutage, ...]
    loads: tuple[Load, ...]
    circuits: tuple[Circuit, ...]
    generator: Generator | None
    fuel: Fuel | None
    hookup: Hookup | None
    battery: Battery | None
    solar: Solar | None
    cold: tuple[ColdStore, ...]
    heat: HouseHeat | None
    water: WaterSystem | None
    hot_water: HotWater | None
    pits: tuple[Pit, ...]
    safety: Safety
    wishes: Wishes
    budget: Budget
    prices: Prices
    assumptions: tuple[Assumption, ...]

    @property
    def system(self) -> VoltageSystem:
        """The voltage system of the place."""
        return self.site.system

    @cached_property
    def load_by_id(self) -> dict[str, Load]:
        """Loads by id."""
        return {load.id: load for load in self.loads}

    @cached_property
    def circuit_by_id(self) -> dict[str, Circuit]:
        """Circuits by id."""
        return {circuit.id: circuit for circuit in self.circuits}

    @cached_property
    def name_by_place(self) -> dict[str, str]:
        """Names of loads and cold stores by their place in the file, as assumptions tell it: "load well"."""
        return {f"load {x.id}": x.name for x in self.loads} | {f"cold {x.id}": x.name for x in self.cold}

    @cached_property
    def vital_loads(self) -> tuple[Load, ...]:
        """Loads that are never traded away: medical ones and those marked vital."""
        medical = {need.load for need in self.medical}
        return tuple(x for x in self.loads if x.priority is Priority.VITAL or x.id in medical)

    @property
    def on_cords(self) -> bool:
        """True where extension cords are the only way: nothing of the wiring is fed."""
        return self.hookup is not None and self.hookup.kind is HookupKind.CORDS

    @property
    def takes_over(self) -> bool:
        """True where a switch hands the house to the machine by itself, with nobody at the panel."""
        return self.hookup is not None and self.hookup.kind is HookupKind.AUTOMATIC_STANDBY

    @property
    def main_panel_fed(self) -> bool:
        """True where the hookup feeds the main panel, with no panel for essentials beside it."""
        return self.takes_over or (self.hookup is not None and self.hookup.kind is HookupKind.INTERLOCK)

    @cached_property
    def fed_circuits(self) -> tuple[Circuit, ...]:
        """Circuits that the hookup can feed: the essential panel's, or all where the main panel is fed."""
        return tuple(c for c in self.circuits if self.main_panel_fed or c.panel == "essential")

    def loads_on(self, circuit_id: str) -> tuple[Load, ...]:
        """Loads of one circuit, in file order."""
        return tuple(load for load in self.loads if load.circuit == circuit_id)
