"""Readings of the moment, as people write them: "fridge=41 F", "fuel_tank=1.5 gal", "battery=60 %"."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.faces.fuel_now import STOCK, TANK, FuelNow, fuel_now
from hearthold.house.near import did_you_mean
from hearthold.plan.now import Now
from hearthold.quantities.units import in_unit, parse

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.supply import Battery

LONGEST_DOWN_S = 365.0 * 86400.0


@dataclass(frozen=True, slots=True)
class Gauge:
    """What one reading measures, and beyond what the thermometer, the gauge or its reader errs (judgement)."""

    dimension: str
    low: float
    high: float
    such_as: str


ROOM = Gauge("temperature", -30.0, 50.0, "52 F")
WATER = Gauge("temperature", 0.0, 100.0, "110 F")
COLD_STORE = Gauge("temperature", -45.0, 45.0, "41 F")
FUEL = Gauge("volume", 0.0, 500.0, "1.5 gal")
CHARGE = Gauge("fraction", 0.0, 1.0, "60 %")


def readable(house: House, fuel: str | None = None) -> dict[str, Gauge]:
    """What can be read in this house, run on a fuel (the preferred one if none is named)."""
    found = {store.id: COLD_STORE for store in house.cold}
    if house.heat is not None:
        found["house"] = ROOM
    if house.hot_water is not None:
        found["hot_water"] = WATER
    if house.battery is not None:
        found["battery"] = CHARGE
    if fuel_now(house, {}, fuel) is not None:
        found |= {TANK: FUEL, STOCK: FUEL}
    return found


@dataclass(frozen=True, slots=True)
class ReadNow:
    """What is known at this moment, the fuel it is reckoned with (None where fuel has no end), and what nobody read."""

    now: Now
    fuel: FuelNow | None
    unread: dict[
        str, str
    ]  # names of the stores that could have been read and were not, by what a reading calls them


def read_now(
    house: House,
    texts: Iterable[str],
    *,
    at_s: float,
    elapsed_s: float = 0.0,
    running: bool = False,
    fuel: str | None = None,
) -> ReadNow:
    """What is known now. Raises InputError that names the reading, its value, and what may be written."""
    values = _values(texts, readable(house, fuel))
    battery, store = values.get("battery"), fuel_now(house, values, fuel)
    read = store if store is not None and store.read else None
    now = Now(
        at_s,
        elapsed_s,
        air_c=values.get("house"),
        tank_c=values.get("hot_water"),
        cold_c={store.id: values[store.id] for store in house.cold if store.id in values},
        fuel_tank_m3=read.tank_m3 if read is not None else None,
        fuel_stock_m3=read.stock_m3 if read is not None else None,
        battery_j=None if battery is None or house.battery is None else _charge_j(house.battery, battery),
        running=running,
    )
    names = _store_names(house)
    return ReadNow(now, store, {name: told for name, told in names.items() if name not in values})


def _store_names(house: House) -> dict[str, str]:
    """Names of what can be read, by what a reading calls it; fuel, which is told of apart, left out."""
    found = {store.id: store.name for store in house.cold}
    found |= {"house": "house"} if house.heat is not None else {}
    found |= {"hot_water": "hot water"} if house.hot_water is not None else {}
    return found | ({"battery": "house battery"} if house.battery is not None else {})


def not_readable(house: House) -> tuple[str, ...]:
    """Stores of the house that no reading can tell of."""
    found = [pit.name for pit in house.pits]
    found += ["pressure tank and jugs"] if house.water is not None else []
    own = [house.load_by_id[need.load].name for need in house.medical if need.own_battery_s > 0.0]
    return (*found, *(f"own battery of {name}" for name in own))


def _charge_j(battery: Battery, shown_frac: float) -> float:
    """What can still be taken out at what the gauge shows of the whole: what is not usable is the last of it."""
    return max(0.0, shown_frac - (1.0 - battery.usable)) * battery.capacity_j


def down_for_s(text: str) -> float:
    """How long the grid has been down. Raises InputError that names the option."""
    try:
        found = parse(text, "time")
    except InputError as problem:
        raise InputError(f"--down {text!r}: {problem}", code="bad_length") from None
    if not 0.0 <= found <= LONGEST_DOWN_S:
        told = 'write how long ago the grid failed, from "0 h" to "365 days".'
        raise InputError(f"--down {text!r} is no time that it can have been down; {told}", code="bad_length")
    return found


def _values(texts: Iterable[str], known: dict[str, Gauge]) -> dict[str, float]:
    values: dict[str, float] = {}
    for text in texts:
        name, mark, value = (part.strip() for part in text.partition("="))
        if name not in known:
            hint = f"{did_you_mean(name, known)} Write NAME=VALUE with one of: {', '.join(known)}.".strip()
            raise InputError(
                f"reading {text!r}: {name!r} is nothing that can be read here. {hint}", code="unknown_reading"
            )
        if not mark or not value:
            told = f'says no value; write for example "{name}={known[name].such_as}".'
            raise InputError(f"reading {text!r} {told}", code="bad_reading")
        if name in values:
            raise InputError(
                f"reading {text!r} is the second of {name}; give the one that holds now.", code="bad_reading"
            )
        values[name] = _value(text, value, known[name])
    return values


def _value(text: str, value: str, gauge: Gauge) -> float:
    try:
        found = parse(value, gauge.dimension)
    except InputError as problem:
        raise InputError(f"reading {text!r}: {problem}", code="bad_reading") from None
    if not gauge.low <= found <= gauge.high:
        raise InputError(
            f"reading {text!r}: {value} cannot be{_span(gauge)}; look again, and write what it shows.",
            code="bad_reading",
        )
    return found


def _span(gauge: Gauge) -> str:
    """What can be, in both systems of units; nothing where it is plain."""
    if gauge.dimension != "temperature":
        return ""
    low, high = (f"{in_unit(x, 'F', 'temperature'):.0f} F ({x:.0f} C)" for x in (gauge.low, gauge.high))
    return f", only {low} to {high}"
