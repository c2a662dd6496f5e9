"""The ways to get power into a house that are compared, and whether a house can have each."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from hearthold.house.supply import FuelKind, HookupKind

if TYPE_CHECKING:
    from hearthold.house.house import House


class Way(StrEnum):
    """Ways to get power into a house, by how much they ask and give."""

    NOTHING = "nothing"
    CORDS = "cords"
    INTERLOCK = "interlock"
    MANUAL_TRANSFER = "manual_transfer"
    STANDBY_PROPANE = "standby_propane"
    STANDBY_MAINS = "standby_mains"
    BATTERY_PORTABLE = "battery_portable"
    BATTERY_PV = "battery_pv"


COMPARED = tuple(way for way in Way if way is not Way.NOTHING)


@dataclass(frozen=True, slots=True)
class Traits:
    """What a way is made of."""

    name: str
    kind: HookupKind | None
    sets: tuple[str, ...]  # kinds of machine, as the table of sizes has them
    has_battery: bool = False
    has_panels: bool = False
    by_itself: bool = False  # nobody has to be at home


TRAITS = {
    Way.NOTHING: Traits("no machine", None, ()),
    Way.CORDS: Traits("cords from a portable", HookupKind.CORDS, ("portable", "inverter")),
    Way.INTERLOCK: Traits("interlock and inlet", HookupKind.INTERLOCK, ("portable",)),
    Way.MANUAL_TRANSFER: Traits("manual transfer and sub-panel", HookupKind.MANUAL_TRANSFER, ("portable",)),
    Way.STANDBY_PROPANE: Traits(
        "automatic standby, propane tank", HookupKind.AUTOMATIC_STANDBY, ("standby",), by_itself=True
    ),
    Way.STANDBY_MAINS: Traits(
        "automatic standby, mains gas", HookupKind.AUTOMATIC_STANDBY, ("standby",), by_itself=True
    ),
    Way.BATTERY_PORTABLE: Traits(
        "battery, charged by a portable", HookupKind.BATTERY_INVERTER, ("portable",), has_battery=True
    ),
    Way.BATTERY_PV: Traits(
        "battery and solar panels", HookupKind.BATTERY_INVERTER, (), has_battery=True, has_panels=True, by_itself=True
    ),
}  # fmt: skip


def hindrance(house: House, way: Way) -> str:
    """Why a house cannot have a way at all; empty where it can be designed."""
    if way is Way.STANDBY_MAINS and not has_gas_main(house):
        return "no gas main is named in the house file"
    return ""


def has_gas_main(house: House) -> bool:
    """Whether natural gas comes to the house by pipe, as stock or as the heater's fuel says."""
    lots = house.fuel.stock if house.fuel is not None else ()
    by_stock = any(lot.mains and lot.fuel is FuelKind.NATURAL_GAS for lot in lots)
    return by_stock or (house.heat is not None and house.heat.heater_fuel == "natural_gas")
