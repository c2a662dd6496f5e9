"""Changes that may save a home from a long outage, each with what it costs; which pays is for the study to say."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from hearthold.house.supply import FuelKind, FuelStock, HookupKind
from hearthold.plan.cost import fuel_price, priced
from hearthold.quantities.units import si
from hearthold.sizing.burn import burn
from hearthold.study.design import NotPossible, design
from hearthold.study.hookups import Way
from hearthold.study.measure import accounted, switched
from hearthold.study.spending import spending

if TYPE_CHECKING:
    from hearthold.house.house import House

CAN_M3 = si(5.0, "gal", "volume")
WATER_M3 = si(275.0, "gal", "volume")
FUEL_CANS = 2
MOST_AT_HOME_M3 = si(
    25.0, "gal", "volume"
)  # what a dwelling may keep by many fire codes; ask the fire marshal


@dataclass(frozen=True, slots=True)
class Remedy:
    """One change: the house with it, and its typical first cost."""

    id: str
    house: House
    first_cost: float
    circuits: tuple[str, ...] = ()  # switched on, where the design says so; else all that is fed


NAMES = {
    "water_tank": "275 gal of water kept in the house",
    "two_cans": "two more cans of fuel",
    "cords": "a portable with cords",
    "interlock": "an interlock, with a portable where none is there",
    "battery": "a battery charged by a portable",
}


def remedies(house: House) -> tuple[Remedy, ...]:
    """The changes that make sense for a house: what it has already is not offered."""
    makers: tuple[Callable[[House], Remedy | None], ...] = (_water, _cans, _cords, _interlock, _battery)
    return tuple(found for maker in makers if (found := maker(house)) is not None)


def _water(house: House) -> Remedy | None:
    if house.water is None or house.water.stored_m3 >= WATER_M3:
        return None
    water = replace(house.water, stored_m3=house.water.stored_m3 + WATER_M3)
    return Remedy("water_tank", replace(house, water=water), priced(house, "storage_275_gal", False).typical)


def _cans(house: House) -> Remedy | None:
    """Two cans of gasoline, within what a home may keep."""
    if house.generator is None or house.fuel is None or house.fuel.preferred is not FuelKind.GASOLINE:
        return None
    kept_m3 = sum(lot.amount_m3 or 0.0 for lot in house.fuel.stock if lot.fuel is FuelKind.GASOLINE)
    more_m3 = min(FUEL_CANS * CAN_M3, MOST_AT_HOME_M3 - kept_m3)
    if more_m3 < 0.5 * CAN_M3:
        return None
    lot = FuelStock.model_construct(
        fuel=FuelKind.GASOLINE, amount_m3=more_m3, mass_kg=None, container_m3=CAN_M3, container_mass_kg=None,
        stabilised=True, bought=None, place="detached_shed", mains=False,
    )  # fmt: skip
    fuel = house.fuel.model_copy(update={"stock": (*house.fuel.stock, lot)})
    price = fuel_price(house, burn(house))[0]
    cost = priced(house, "fuel_can_5_gal", False, FUEL_CANS).typical + more_m3 * price
    return Remedy("two_cans", replace(house, fuel=fuel), cost)


def _cords(house: House) -> Remedy | None:
    return _designed(house, Way.CORDS, "cords") if house.generator is None else None


def _interlock(house: House) -> Remedy | None:
    has = house.hookup is not None and house.hookup.kind is not HookupKind.CORDS
    return None if has else _designed(house, Way.INTERLOCK, "interlock")


def _battery(house: House) -> Remedy | None:
    return None if house.battery is not None else _designed(house, Way.BATTERY_PORTABLE, "battery")


def _designed(house: House, way: Way, name: str) -> Remedy | None:
    made = design(house, way)
    if isinstance(made, NotPossible):
        return None
    cost = spending(made, house).to_spend.typical
    return Remedy(name, accounted(made), cost, switched(made))
