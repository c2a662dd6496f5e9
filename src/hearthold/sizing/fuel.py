"""Fuel in tank and stock: hours a filling gives, a day's need, days of stock, how long the stock keeps."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from hearthold.house.supply import FuelKind
from hearthold.physics import fuelstore, willans
from hearthold.reference import fuels
from hearthold.sizing.burn import TABLE_FUEL, Burn, container_m3
from hearthold.sizing.supply import machine_of, rating_on

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.supply import FuelStock
    from hearthold.sizing.conditions import Conditions

DAY_S = 86400.0


@dataclass(frozen=True, slots=True)
class TankRun:
    """How long the machine's own tank (or its joined cylinders) lasts at a load."""

    load_frac: float
    output_w: float
    burn_m3_per_s: float
    run_s: float


@dataclass(frozen=True, slots=True)
class StockItem:
    """One lot of fuel at home, as liquid volume."""

    fuel: FuelKind
    amount_m3: float
    place: str
    keeps_until: date | None  # None: no limit known, or the day of purchase is not given
    stale: bool | None  # None where that cannot be said
    note: str


def tank_runs(
    house: House, line: Burn, load_fracs: Sequence[float] = (0.25, 0.5, 0.75, 1.0)
) -> tuple[TankRun, ...]:
    """Hours from one filling at shares of the running rating; empty where no tank or cylinder is given.

    Source: planning line of `burn`; energy balance.
    """
    rating, _ = rating_on(machine_of(house), line.fuel)
    held_m3 = container_m3(rating) if rating.fuel == line.fuel else None
    if held_m3 is None:
        return ()
    filling_m3 = held_m3 * (rating.cylinders_joined if rating.tank_m3 is None else 1)
    loads_w = [(share, share * line.rated_w) for share in load_fracs]
    return tuple(TankRun(s, w, line.m3_per_s(w), line.run_s(w, filling_m3)) for s, w in loads_w)


def need_m3(line: Burn, spells: Iterable[tuple[float, float]]) -> float:
    """Fuel for spells of running, each (mean load in W, length in s).

    Source: exact on a straight line with the mean load.
    """
    return sum(willans.spell_fuel_m3(line.line, w, s, line.lhv_j_per_m3) for w, s in spells)


def stock(house: House, today: date, weather: Conditions | None = None) -> tuple[StockItem, ...]:
    """Every lot of fuel at home, with the day until which it keeps. Mains gas is left out.

    Gasoline keeps its planning life from the day it was bought, shorter where it is stored above 20 degC.
    Source: shelf lives of the reference table; ageing doubles every 10 K, rule of thumb (from memory).
    """
    return tuple(_stock_item(lot, today, weather) for lot in lots(house) if not lot.mains)


def stock_m3(house: House, fuel: FuelKind) -> float:
    """All fuel of one kind at home, as liquid; infinite where it comes by a main."""
    kept = [x for x in lots(house) if x.fuel == fuel]
    if any(x.mains for x in kept):
        return float("inf")
    return sum(amount_m3(x) for x in kept)


def days_for_two(days: float, others_days: float) -> float:
    """How long a stock lasts two that draw on it, of which each alone would use it up in so many days."""
    return 1.0 / (1.0 / days + 1.0 / others_days)


def stock_days(house: House, line: Burn, need_m3_per_day: float) -> float:
    """Days that the stock and nothing else covers at a daily need."""
    held_m3 = stock_m3(house, line.fuel)
    if held_m3 == float("inf"):
        return held_m3
    return fuelstore.stock_lasts_s(held_m3, need_m3_per_day / DAY_S) / DAY_S


def lots(house: House) -> tuple[FuelStock, ...]:
    """Every lot of fuel in the house file."""
    return house.fuel.stock if house.fuel is not None else ()


def _stock_item(lot: FuelStock, today: date, weather: Conditions | None) -> StockItem:
    shelf_s = _shelf_s(lot)
    until, note = None, ""
    if shelf_s is None:
        note = "keeps without a known limit"
    elif lot.bought is None:
        note = "day of purchase not given: how long it keeps cannot be said"
    else:
        store_c = max(20.0, weather.room_c("unheated")) if weather is not None else 20.0
        # cold storage is not credited: no maker promises more than the stated life
        life_s = fuelstore.usable_life_s(shelf_s, store_c)
        until = lot.bought + timedelta(seconds=life_s)
        note = "stabilised" if lot.stabilised else "not stabilised"
    stale = None if until is None and shelf_s is not None else until is not None and today > until
    return StockItem(lot.fuel, amount_m3(lot), lot.place, until, stale, note)


def _shelf_s(lot: FuelStock) -> float | None:
    if lot.fuel == FuelKind.GASOLINE:
        return fuels.shelf_life("gasoline", "stabilised" if lot.stabilised else "untreated").plan_s
    if lot.fuel == FuelKind.DIESEL:
        return fuels.shelf_life("diesel").plan_s
    return None


def amount_m3(lot: FuelStock) -> float:
    """Fuel in a lot, as liquid volume."""
    volume_m3 = float(lot.amount_m3) if lot.amount_m3 is not None else 0.0
    if lot.mass_kg is None:
        return volume_m3
    return volume_m3 + float(lot.mass_kg) / fuels.density_kg_per_m3(TABLE_FUEL[lot.fuel])
