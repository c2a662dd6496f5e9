"""Readings of the moment, as people write them: "fridge=41 F", "fuel_tank=1.5 gal", "battery=60 %"."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.house.near import did_you_mean
from hearthold.plan.replan import Now
from hearthold.quantities.units import parse

if TYPE_CHECKING:
    from hearthold.house.house import House

TEMPERATURE, VOLUME, SHARE = "temperature", "volume", "fraction"
ABSURD_C = (-60.0, 110.0)  # beyond this a thermometer or its reader errs


def readable(house: House) -> dict[str, str]:
    """What can be read in this house, with the dimension of its reading."""
    found = {store.id: TEMPERATURE for store in house.cold}
    if house.heat is not None:
        found["house"] = TEMPERATURE
    if house.hot_water is not None:
        found["hot_water"] = TEMPERATURE
    if house.battery is not None:
        found["battery"] = SHARE
    if house.generator is not None:
        found |= {"fuel_tank": VOLUME, "fuel_stock": VOLUME}
    return found


def read_now(
    house: House, texts: Iterable[str], *, at_s: float, elapsed_s: float = 0.0, running: bool = False
) -> Now:
    """What is known now. Raises InputError that names the reading, its value, and what may be written."""
    known, values = readable(house), dict[str, float]()
    for text in texts:
        name, mark, value = (part.strip() for part in text.partition("="))
        if not mark or name not in known:
            raise InputError(
                f"reading {text!r}: {name!r} is nothing that can be read here{did_you_mean(name, known)} "
                f"Write NAME=VALUE with one of: {', '.join(known)}.",
                code="unknown_reading",
            )
        values[name] = _value(text, value, known[name])
    battery = values.get("battery")
    return Now(
        at_s,
        elapsed_s,
        air_c=values.get("house"),
        tank_c=values.get("hot_water"),
        cold_c={store.id: values[store.id] for store in house.cold if store.id in values},
        fuel_tank_m3=values.get("fuel_tank"),
        fuel_stock_m3=values.get("fuel_stock"),
        battery_j=None if battery is None or house.battery is None else battery * house.battery.capacity_j,
        running=running,
    )


def _value(text: str, value: str, dimension: str) -> float:
    low, high = {TEMPERATURE: ABSURD_C, VOLUME: (0.0, 100.0), SHARE: (0.0, 1.0)}[dimension]
    try:
        found = parse(value, dimension)
    except InputError as problem:
        raise InputError(f"reading {text!r}: {problem}", code="bad_reading") from None
    if not low <= found <= high:
        raise InputError(
            f"reading {text!r}: {value} cannot be; look again, and write what it shows.", code="bad_reading"
        )
    return found
