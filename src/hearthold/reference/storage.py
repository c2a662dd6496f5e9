"""Batteries, inverters and solar panels: shares, limits and losses to assume. Mostly from memory."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.quantities.source import Source
from hearthold.reference.reader import table


@dataclass(frozen=True, slots=True)
class BatteryKind:
    """One chemistry; None where the table is silent. `charge_rate_per_h` is largest power over capacity."""

    chemistry: str
    usable_low_frac: float
    usable_plan_frac: float
    usable_high_frac: float
    coldest_charge_c: float | None
    hottest_charge_c: float | None
    coldest_discharge_c: float | None
    cold_capacity_frac: float
    round_trip_low_frac: float
    round_trip_high_frac: float
    charge_rate_per_h: float
    source: Source


@dataclass(frozen=True, slots=True)
class PvSite:
    """Solar yield of one site at latitude tilt: energy and mean power per W of panel."""

    site: str
    annual_j_per_w: float
    worst_month: str
    worst_w_per_w: float
    december_w_per_w: float
    june_w_per_w: float
    source: Source


def battery_kind(chemistry: str) -> BatteryKind:
    """A chemistry: lithium_iron_phosphate or lead_acid; cautious ends of ranges for temperature limits.

    Raises: TableError with near names.
    """
    row = table("battery_kinds").row(chemistry)
    return BatteryKind(
        chemistry=chemistry,
        usable_low_frac=row.si("low_usable_frac"),
        usable_plan_frac=row.si("plan_usable_frac"),
        usable_high_frac=row.si("high_usable_frac"),
        coldest_charge_c=row.si_or_none("coldest_charge_c"),
        hottest_charge_c=row.si_or_none("low_hottest_charge_c"),
        coldest_discharge_c=row.si_or_none("high_coldest_discharge_c"),
        cold_capacity_frac=row.si("cold_capacity_frac"),
        round_trip_low_frac=row.si("low_round_trip_frac"),
        round_trip_high_frac=row.si("high_round_trip_frac"),
        charge_rate_per_h=row.number("charge_rate_ratio"),
        source=row.source(),
    )


def conversion_frac(name: str) -> tuple[float, float]:
    """Efficiency, low and high: inverter, charger, ac_round_trip. Raises TableError. From memory."""
    row = table("inverters").row(name)
    return row.si("low_frac"), row.si("high_frac")


def inverter_idle_frac() -> tuple[float, float]:
    """Idle draw of an inverter over its rating, low and high. From memory."""
    row = table("inverters").row("inverter")
    return row.number("low_idle_ratio") / 1000.0, row.number("high_idle_ratio") / 1000.0


def pv_constant(name: str) -> float:
    """A ratio: performance_ratio, temperature_ratio, storm_low_ratio, storm_high_ratio. Raises TableError."""
    return table("pv_constants").row(name).number("value_ratio")


def pv_site(site: str) -> PvSite:
    """Solar yield at greensboro_nc or sand_point_ak. Raises TableError. Computed with pvlib from TMY3."""
    row = table("pv_sites").row(site)
    per_kw = 1000.0  # the table is per kW of panel
    return PvSite(
        site=site,
        annual_j_per_w=row.si("annual_kwh") / per_kw,
        worst_month=row.text("worst_month"),
        worst_w_per_w=row.si("worst_kwh_per_day") / per_kw,
        december_w_per_w=row.si("december_kwh_per_day") / per_kw,
        june_w_per_w=row.si("june_kwh_per_day") / per_kw,
        source=row.source(),
    )
