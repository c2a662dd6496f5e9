"""Fuels: heating values, density, shelf life, storage limits, and how sets burn them."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.quantities.source import Source
from hearthold.reference.reader import table


@dataclass(frozen=True, slots=True)
class Fuel:
    """One fuel. A liquid is counted by its liquid volume, natural gas by its gas volume.

    `lower_j_per_m3` is what sets are compared on; None where no figure is known.
    """

    name: str
    phase: str
    lower_j_per_m3: float | None
    higher_j_per_m3: float | None
    higher_vapour_j_per_m3: float | None
    density_kg_per_m3: float | None
    source: Source
    note: str


@dataclass(frozen=True, slots=True)
class ShelfLife:
    """How long a fuel keeps; None means no limit is known."""

    fuel: str
    treatment: str
    low_s: float | None
    high_s: float | None
    plan_s: float | None
    source: Source


@dataclass(frozen=True, slots=True)
class FuelLine:
    """Fuel use of a kind of set: full-load efficiency (lower heating value), no-load over full-load fuel."""

    id: str
    rated_w: float
    full_load_frac: float
    no_load_frac: float
    source: Source


def fuel(name: str) -> Fuel:
    """A fuel by name: gasoline_e10, gasoline_e0, propane, diesel, heating_oil, natural_gas.

    Raises: TableError with near names.

    Source: EIA Energy Explained; US DOE AFDC.
    """
    row = table("fuels").row(name)
    volume = "gal" if row.text("phase") == "liquid" else "ft3"
    return Fuel(
        name=name,
        phase=row.text("phase"),
        lower_j_per_m3=row.si_or_none(f"lower_btu_per_{volume}"),
        higher_j_per_m3=row.si_or_none(f"higher_btu_per_{volume}"),
        higher_vapour_j_per_m3=row.si_or_none("higher_btu_per_ft3"),
        density_kg_per_m3=row.si_or_none("density_lb_per_gal"),
        source=row.source(),
        note=row.note,
    )


def fuel_names() -> tuple[str, ...]:
    """Names of the fuels."""
    return tuple(str(n) for n in table("fuels").names())


def lower_heat_j_per_m3(name: str) -> float:
    """Lower heating value by volume as sold. Raises TableError where none is known. Source: AFDC."""
    row = table("fuels").row(name)
    return row.si(f"lower_btu_per_{_volume(name)}")


def higher_heat_j_per_m3(name: str) -> float:
    """Higher heating value by volume as sold. Raises TableError where none is known. Source: EIA."""
    row = table("fuels").row(name)
    return row.si(f"higher_btu_per_{_volume(name)}")


def lower_heat_j_per_kg(name: str) -> float:
    """Lower heating value of a liquid fuel by mass. Raises TableError for a gas or where none is known."""
    return lower_heat_j_per_m3(name) / density_kg_per_m3(name)


def higher_heat_j_per_kg(name: str) -> float:
    """Higher heating value of a liquid fuel by mass. Raises TableError for a gas or where none is known."""
    return higher_heat_j_per_m3(name) / density_kg_per_m3(name)


def heat_source(name: str, kind: str = "lower") -> Source:
    """Where a heating value ("lower" or "higher") comes from, with its own standing. Raises TableError."""
    return table("fuels").row(name).source(f"{kind}_btu_per_{_volume(name)}")


def density_kg_per_m3(name: str) -> float:
    """Density of a liquid fuel. Raises TableError for a gas."""
    return table("fuels").row(name).si("density_lb_per_gal")


def shelf_life(name: str, treatment: str = "untreated") -> ShelfLife:
    """How long a fuel keeps, such as ("gasoline", "stabilised"). Raises TableError."""
    row = table("fuel_storage").row(name, treatment)
    return ShelfLife(
        name,
        treatment,
        row.si_or_none("low_month"),
        row.si_or_none("high_month"),
        row.si_or_none("plan_month"),
        row.source(),
    )


def storage_limit_m3(place: str) -> float:
    """Most petrol to keep: dwelling_total, attached_garage or one_container; the local fire marshal decides.

    Raises: TableError for an unknown place.
    Source: articles quoting NFPA 30 and IFC practice; the code text was not seen.
    """
    return table("fuel_storage_limits").row(place).si("limit_gal")


def fuel_line(name: str) -> FuelLine:
    """Fuel use of a kind of set by id, such as portable_7_5_kw. Raises TableError. From memory."""
    row = table("willans").row(name)
    return FuelLine(name, row.si("rated_kw"), row.si("full_load_frac"), row.si("no_load_frac"), row.source())


def fuel_lines() -> tuple[str, ...]:
    """Ids of the kinds of set with a fuel line."""
    return tuple(str(n) for n in table("willans").names())


def _volume(name: str) -> str:
    return "gal" if table("fuels").row(name).text("phase") == "liquid" else "ft3"
