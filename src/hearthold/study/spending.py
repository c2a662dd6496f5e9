"""What a design costs to have and to keep, and the work it leaves to people."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from math import ceil
from typing import TYPE_CHECKING

from hearthold.engine.compile import compile_house
from hearthold.engine.control import Standby, self_tests_m3
from hearthold.house.site import VoltageSystem
from hearthold.house.supply import FuelKind, HookupKind
from hearthold.plan.cost import CostLine, exercise_m3, fuel_band, fuel_price, hookup_cost, priced
from hearthold.quantities.units import si
from hearthold.reference.costs import cost
from hearthold.reference.hookups import hands_on, part_life_s
from hearthold.reference.upkeep import set_life_s
from hearthold.sizing.burn import burn
from hearthold.sizing.fuel import stock_m3
from hearthold.study.design import CAN_M3, Design, added_stock_m3, in_place
from hearthold.study.hookups import Way
from hearthold.study.money import Range
from hearthold.study.sunlight import year_panel_w

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.reference.motors import Spread

YEAR_S = 365.25 * 86400.0
# The part whose life counts for each item of the cost table; a job or a permit lasts as long as the wiring.
_PARTS = {
    "portable": ("portable_5_kw", "portable_7_5_kw", "portable_10_kw_dual_fuel", "inverter_3_5_kw"),
    "standby": ("standby_installed",),
    "battery": ("battery_inverter_installed",),
    "panels": ("pv_installed_kw",),
    "tank": ("propane_tank_500_gal",),
    "cords": ("cord_30_a_25_ft", "cord_50_a_25_ft", "extension_cord_12_awg_50_ft", "fuel_can_5_gal"),
}
_INLETS = ("inlet_30_a", "inlet_50_a", "cord_30_a_25_ft", "cord_50_a_25_ft")
_WAY_ROW = {Way.STANDBY_PROPANE: "automatic_standby", Way.STANDBY_MAINS: "automatic_standby"}
_ENGINE_ROW = {"standby": "standby_air_cooled"}


@dataclass(frozen=True, slots=True)
class Part:
    """One thing to buy or have done, with its range of price and how long it lasts."""

    item: str
    price: Range
    life_years: Range
    in_place: bool


@dataclass(frozen=True, slots=True)
class Spending:
    """Money and work of a design, apart from what outages bring. Fuel is priced by its volume."""

    parts: tuple[Part, ...]
    upkeep_per_year: Range
    test_fuel_m3_per_year: Range
    fuel_per_m3: Range
    setup_s: float
    start_s: float
    refill_s: float
    trip_s: float
    hands_yearly_s: float
    credit_per_year: float  # power from panels on ordinary days, where the household gave its price

    @property
    def first(self) -> Range:
        """Everything that the design is made of."""
        return _sum(part.price for part in self.parts)

    @property
    def to_buy(self) -> tuple[Part, ...]:
        """What of it is still to be bought or done."""
        return tuple(part for part in self.parts if not part.in_place)

    @property
    def to_spend(self) -> Range:
        """What that costs."""
        return _sum(part.price for part in self.to_buy)


def spending(design: Design, house: House) -> Spending:
    """Prices, lives and minutes of a design for the house as it is now.

    Prices that the household gives come first, then the cost table (nearly all of it from memory).
    """
    lines = list(_lines(design, house))
    kept = design.house.generator
    fuel = Range(0.0, 0.0, 0.0)
    test = Range(0.0, 0.0, 0.0)
    if kept is not None:
        fuel, test = _fuel_range(design.house), _test_fuel(design)
    work = hands_on(_WAY_ROW.get(design.way, design.way.value))
    trip = design.house.fuel.trip if design.house.fuel is not None else None
    return Spending(
        tuple(_part(line, design) for line in lines),
        _upkeep(design),
        test,
        fuel,
        work.setup_s,
        work.start_s,
        work.refill_s,
        trip.time_s if trip is not None and trip.works_in_outage else 0.0,
        work.yearly_s,
        _credit(design, house),
    )


def _lines(design: Design, house: House) -> Iterator[CostLine]:
    """Everything to buy or have done, as priced by the cost table and the household."""
    made = design.house
    if made.hookup is None:
        return
    there = in_place(house, design.traits.kind)
    marked = replace(made, hookup=made.hookup.model_copy(update={"installed": there}))
    reuse = _reusable(house)
    for line in hookup_cost(marked, None).first:
        yield replace(line, in_place=True) if line.item in reuse else line
    if made.hookup.kind is HookupKind.CORDS:
        yield priced(house, "extension_cord_12_awg_50_ft", there, len(design.cords))
    if design.traits.kind is HookupKind.AUTOMATIC_STANDBY:
        yield priced(house, "gas_line", there)
    if design.has_tank:
        yield priced(house, "propane_tank_500_gal", _has_tank(house))
    if made.solar is not None:
        yield priced(house, "pv_installed_kw", False, made.solar.peak_w / 1000.0)
    yield from _stock_lines(design, house)


def _stock_lines(design: Design, house: House) -> Iterator[CostLine]:
    """Cans and the first filling of what is kept beyond today's stock."""
    more_m3 = added_stock_m3(house, design)
    if more_m3 <= 0.0 or design.house.fuel is None:
        return
    if design.house.fuel.preferred is not FuelKind.PROPANE:
        yield priced(house, "fuel_can_5_gal", False, ceil(more_m3 / CAN_M3 - 1e-6))
    per_m3 = _fuel_range(design.house)
    _, source = fuel_price(design.house, burn(design.house))
    low, typical, high = (more_m3 * x for x in (per_m3.low, per_m3.typical, per_m3.high))
    yield CostLine("first filling of fuel", low, typical, high, False, source)


def _reusable(house: House) -> frozenset[str]:
    """What the lines are called that an inlet in place already serves."""
    if house.hookup is None or not house.hookup.installed or house.hookup.inlet is None:
        return frozenset()
    return frozenset(cost(item).called(house.system.value) for item in _INLETS)


def _has_tank(house: House) -> bool:
    lots = house.fuel.stock if house.fuel is not None else ()
    return any(lot.fuel is FuelKind.PROPANE and lot.place == "tank" for lot in lots)


def _fuel_range(house: House) -> Range:
    """Price of a cubic metre: the household's own, or the table's with its range."""
    return Range(*fuel_band(house, burn(house)))


def _test_fuel(design: Design) -> Range:
    """Fuel a year for exercise: a standby set tests itself, a portable is run under load by hand."""
    if design.traits.by_itself:
        volume_m3 = self_tests_m3(compile_house(design.house), Standby(), YEAR_S)
        return Range(0.8 * volume_m3, volume_m3, 1.2 * volume_m3)
    low, typical, high = exercise_m3(burn(design.house))
    return Range(low, typical, high)


def _credit(design: Design, house: House) -> float:
    """What the panels' power saves in a year, every joule at the price that the household gave; else nothing."""
    per_j = house.prices.electricity_per_j
    if design.house.solar is None or per_j is None:
        return 0.0
    return float(year_panel_w(design.house, design.house.solar).sum() * 3600.0 * per_j)


def _upkeep(design: Design) -> Range:
    """Money a year for service, oil and stabiliser."""
    if design.house.generator is None:
        return Range(0.0, 0.0, 0.0)
    lines = hookup_cost(design.house, None).yearly
    total = _sum(Range(x.low, x.typical, x.high) for x in lines)
    if design.house.fuel is not None and design.house.fuel.preferred is FuelKind.GASOLINE:
        gallons = stock_m3(design.house, FuelKind.GASOLINE) / si(1.0, "gal", "volume")
        line = priced(design.house, "stabiliser_gal", False, gallons)
        total = total + Range(line.low, line.typical, line.high)
    return total


def _part(line: CostLine, design: Design) -> Part:
    name = _part_of().get(line.item, "wiring")
    life = _years(part_life_s(name))
    if name in ("portable", "standby"):
        life = _worn(life, _ENGINE_ROW.get(name, "portable_gasoline"), design)
    return Part(line.item, Range(line.low, line.typical, line.high), life, line.in_place)


def _worn(life: Range, row: str, design: Design) -> Range:
    """Life in years, no longer than the engine's hours allow at half an hour of exercise a month."""
    least_s, most_s = set_life_s(row)
    yearly_s = 12.0 * 1800.0
    hours = Range(least_s / yearly_s, 0.5 * (least_s + most_s) / yearly_s, most_s / yearly_s)
    return Range(min(life.low, hours.low), min(life.typical, hours.typical), min(life.high, hours.high))


@cache
def _part_of() -> dict[str, str]:
    """By what it is called, in North America and where the supply is 230 V."""
    return {
        cost(item).called(system): part
        for part, items in _PARTS.items()
        for item in items
        for system in VoltageSystem
    }


def _years(spread: Spread) -> Range:
    return Range(spread.low / YEAR_S, spread.typical / YEAR_S, spread.high / YEAR_S)


def _sum(ranges: Iterator[Range] | tuple[Range, ...]) -> Range:
    total = Range(0.0, 0.0, 0.0)
    for one in ranges:
        total = total + one
    return total
