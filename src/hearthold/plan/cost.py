"""What the hookup in hand costs: first cost by part, what of it is still to be spent, and cost by year."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from hearthold.house.supply import FuelKind, HookupKind
from hearthold.quantities.source import Source, Standing
from hearthold.reference.costs import Cost as PriceRow
from hearthold.reference.costs import cost
from hearthold.reference.fuels import lower_heat_j_per_m3
from hearthold.reference.outages import outage_model
from hearthold.reference.upkeep import upkeep_task

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.sizing.burn import Burn

_YEAR_S = 365.2425 * 86400.0
_RUNNING_SHARE = 0.35  # of an outage that a machine run in spells is on; common practice, no source
_RUNNING_LOAD = 0.35  # of its rating, on average while it runs; common practice, no source
# Sizes from which the table's rows count: a portable up to 6 kW, up to 9 kW, and above.
_PORTABLE = (
    (6000.0, "portable_5_kw"),
    (9000.0, "portable_7_5_kw"),
    (float("inf"), "portable_10_kw_dual_fuel"),
)
_SMALL_PLUG_A = 32.0
_CORD_M = 7.62  # 25 ft, the length that the table prices; a longer cord costs by its length
_PRICE_ITEM = {
    FuelKind.GASOLINE: "gasoline_gal",
    FuelKind.PROPANE: "propane_gal",
    FuelKind.DIESEL: "diesel_gal",
}
Band = tuple[float, float, float]  # low, typical, high


@dataclass(frozen=True, slots=True)
class CostLine:
    """One part of the cost, as a range in the household's money."""

    item: str
    low: float
    typical: float
    high: float
    in_place: bool  # already bought or done
    source: Source


@dataclass(frozen=True, slots=True)
class Cost:
    """First cost and yearly cost of the hookup, in the household's money."""

    currency: str
    first: tuple[CostLine, ...]
    yearly: tuple[CostLine, ...]
    notes: tuple[str, ...]

    def total(self, yearly: bool = False, still_to_spend: bool = False) -> Band | None:
        """Low, typical and high sum of all lines, or of those not yet in place; None where there are none."""
        lines = [x for x in (self.yearly if yearly else self.first) if not (still_to_spend and x.in_place)]
        if not lines:
            return None
        return sum(x.low for x in lines), sum(x.typical for x in lines), sum(x.high for x in lines)


def hookup_cost(house: House, burn: Burn | None) -> Cost:
    """First and yearly cost of the house's own hookup; empty where it has none.

    Prices the household gives come first, then the cost table, nearly all of it from memory: editable
    defaults, shown as ranges. Source: cost table; outage rates by region for the fuel of a usual year.
    """
    prices = house.prices
    if house.hookup is None:
        return Cost(prices.currency, (), (), ("No hookup is described, so nothing is priced.",))
    notes = ["table prices are US dollars of 2024, mostly from memory"]
    if prices.currency != "USD":
        notes.append(
            f"a dollar is taken as {prices.of_usd(1.0):g} {prices.currency}; what things cost there may differ more"
        )
    return Cost(prices.currency, tuple(_first(house)), tuple(_yearly(house, burn, notes)), tuple(notes))


def _first(house: House) -> list[CostLine]:
    hookup, machine = house.hookup, house.generator
    if hookup is None:
        return []
    done, part = hookup.installed, partial(priced, house)
    lines = [] if machine is None else [part(_machine_item(house), machine.owned)]
    if hookup.kind is HookupKind.AUTOMATIC_STANDBY:
        return [part("standby_installed", done)]
    if hookup.kind is HookupKind.BATTERY_INVERTER and house.battery is not None:
        lines.append(part("battery_inverter_installed", done, house.battery.capacity_j / 3.6e6))
    large = (hookup.inlet_breaker_a or _SMALL_PLUG_A) > _SMALL_PLUG_A
    if hookup.cord is not None:
        lengths = max(1.0, hookup.cord.length_m / _CORD_M)
        lines.append(part("cord_50_a_25_ft" if large else "cord_30_a_25_ft", done, lengths))
    if hookup.inlet is not None:
        lines.append(part("inlet_50_a" if large else "inlet_30_a", done))
    if hookup.kind is HookupKind.INTERLOCK:
        lines += [part("interlock", done), _labour(house, "labour_interlock", done), part("permit", done)]
    if hookup.kind is HookupKind.MANUAL_TRANSFER:
        lines += [part("sub_panel_parts", done), part("transfer_switch_manual", done)]
        lines += [_labour(house, "labour_transfer_switch", done), part("permit", done)]
    return lines


def _machine_item(house: House) -> str:
    machine = house.generator
    if machine is None or machine.kind == "inverter":
        return "inverter_3_5_kw"
    if machine.kind == "pto":
        return "pto_10_25_kw"
    largest_w = max(rating.running_w for rating in machine.on)
    return next(item for limit_w, item in _PORTABLE if largest_w <= limit_w)


def _labour(house: House, item: str, done: bool) -> CostLine:
    """The electrician: the table's job price, or its hours at the household's own hourly price."""
    own = house.prices.electrician_per_hour
    if own is None:
        return priced(house, item, done)
    job, hour = cost(item), cost("electrician_billed")
    hours = (job.low_usd / hour.high_usd, job.typical_usd / hour.typical_usd, job.high_usd / hour.low_usd)
    source = Source(f"your hourly price; hours from {job.source.text}", Standing.COMPUTED)
    low, typical, high = (h * own for h in hours)
    return CostLine(job.called(house.system), low, typical, high, done, source)


def _yearly(house: House, burn: Burn | None, notes: list[str]) -> list[CostLine]:
    lines: list[CostLine] = []
    if house.takes_over:
        lines.append(priced(house, "standby_service", False))
    elif house.generator is not None:
        lines.append(priced(house, "portable_upkeep", False))
    if burn is None:
        return lines
    price, source = fuel_price(house, burn)
    for what, volume_m3 in (
        ("fuel for exercise under load", exercise_m3(burn)),
        ("fuel in the outages of a usual year", _outage_m3(house, burn, notes)),
    ):
        low, typical, high = (v * price for v in volume_m3)
        lines.append(CostLine(what, low, typical, high, False, source))
    return lines


def exercise_m3(burn: Burn) -> Band:
    """Fuel a year for running under load as often and as long as the upkeep table asks."""
    task = upkeep_task("exercise")
    running_s = (task.exercise_s or 0.0) * _YEAR_S / (task.calendar_s or _YEAR_S)
    low, high = task.load_low_frac or 0.0, task.load_high_frac or 0.0
    shares = (low, 0.5 * (low + high), high)
    least, middle, most = (running_s * burn.m3_per_s(share * burn.rated_w) for share in shares)
    return least, middle, most


def _outage_m3(house: House, burn: Burn, notes: list[str]) -> Band:
    """Fuel for the hours without grid of a usual year, as reported or of the region."""
    stats = house.outages
    if stats.saidi_s is not None:
        outage_s, low, high = stats.saidi_s, 0.5, 2.0
    else:
        outage_s, low, high = outage_model(stats.region or "us_average").saidi_s, 0.4, 2.5
        if stats.region is None:
            notes.append(
                "Outage hours a year: national average, since the file names no region and no SAIDI."
            )
    typical = outage_s * _RUNNING_SHARE * burn.m3_per_s(_RUNNING_LOAD * burn.rated_w)
    return low * typical, typical, high * typical


def fuel_price(house: House, burn: Burn) -> tuple[float, Source]:
    """Price of a cubic metre of what is burned, and its source; mains gas by energy, as propane."""
    prices, fuel = house.prices, burn.fuel
    given = {
        FuelKind.GASOLINE: prices.gasoline_per_m3,
        FuelKind.PROPANE: prices.propane_per_m3,
        FuelKind.DIESEL: prices.diesel_per_m3,
    }.get(fuel)
    if given is not None:
        return given, Source("your price", Standing.GIVEN)
    row = _fuel_row(fuel)
    if fuel in _PRICE_ITEM:
        return prices.of_usd(row.typical_usd_per_si), row.source
    energy = burn.lhv_j_per_m3 / lower_heat_j_per_m3("propane")
    source = Source(f"as much energy as propane: {row.source.text}", Standing.ASSUMED)
    return energy * prices.of_usd(row.typical_usd_per_si), source


def fuel_band(house: House, burn: Burn) -> Band:
    """Low, typical and high price of a cubic metre of what is burned; the household's own price is all three."""
    typical, source = fuel_price(house, burn)
    if source.standing is Standing.GIVEN:
        return typical, typical, typical
    row = _fuel_row(burn.fuel)
    return row.low_usd / row.typical_usd * typical, typical, row.high_usd / row.typical_usd * typical


def _fuel_row(fuel: FuelKind) -> PriceRow:
    """The row of the cost table; mains gas has none, and propane stands for it."""
    return cost(_PRICE_ITEM.get(fuel, "propane_gal"))


def priced(house: House, item: str, in_place: bool, count: float = 1.0) -> CostLine:
    """So many of one item of the cost table, as it is called and paid for where the house stands.

    Raises: TableError for an unknown item.
    """
    row = cost(item)
    low, typical, high = (
        count * house.prices.of_usd(usd) for usd in (row.low_usd, row.typical_usd, row.high_usd)
    )
    return CostLine(row.called(house.system.value), low, typical, high, in_place, row.source)
