"""`House`: the one frozen type that leaves this layer, with every gap filled and every assumption listed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from hearthold.house.cords import Reach, reach, with_cords
from hearthold.house.loads import Assumption, Circuit, Cord, Load, Priority
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
from hearthold.house.stores import HEAT_BAND_K, ColdStore, HotWater, HouseHeat, Pit, WaterSystem
from hearthold.house.supply import Battery, Fuel, Generator, Hookup, HookupKind, Prices, Safety, Solar
from hearthold.physics.pipes import pipe_c


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
    # Laid for a run, each a circuit. No file can say them: None as a house is read.
    cords: tuple[Cord, ...] | None = None

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
    def coolest_heated_c(self) -> float | None:
        """Rooms with the heating on, at their coolest: set back for the night, the thermostat about to call."""
        if self.heat is None:
            return None
        return self.heat.set_c - self.wishes.night_setback_k - HEAT_BAND_K / 2.0

    def pipe_freezes_heated(self, coldest_c: float) -> bool:
        """Whether at this coldest hour the coldest pipe freezes with the heating on, and so grid or no grid."""
        heat, rooms_c = self.heat, self.coolest_heated_c
        if heat is None or rooms_c is None or heat.pipes_drained or coldest_c >= 0.0:
            return False
        return pipe_c(coldest_c, rooms_c, heat.pipe_ratio) < 0.0

    @property
    def tank_load(self) -> str | None:
        """The load that must run for the tank to be heated: the boiler's, or its own; a pilot flame has none."""
        if self.hot_water is None:
            return None
        if self.hot_water.heated_by == "boiler":
            return self.heat.heater_load if self.heat is not None else None
        return self.hot_water.load

    @property
    def tank_element(self) -> str | None:
        """The tank's own load, if it has one: an element or a compressor, not the boiler that heats the rooms too."""
        own = self.hot_water.load if self.hot_water is not None else None
        return None if self.heat is not None and own == self.heat.heater_load else own

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
        """Circuits that the hookup can feed: the essential panel's, or all where the main panel is fed.

        Cords feed none of the wiring: where they are the only way there is nothing before they are laid.
        """
        if self.on_cords and self.cords is None:
            return ()
        return tuple(c for c in self.circuits if self.main_panel_fed or c.panel == "essential")

    @cached_property
    def running(self) -> House:
        """The house as an outage plays it: itself, or where cords are the way with the cords laid, each a circuit."""
        return with_cords(self) if self.on_cords and self.cords is None else self

    @cached_property
    def reach(self) -> Reach:
        """What extension cords would feed here, and what they leave out."""
        return reach(self)

    def loads_on(self, circuit_id: str) -> tuple[Load, ...]:
        """Loads of one circuit, in file order."""
        return tuple(load for load in self.loads if load.circuit == circuit_id)
