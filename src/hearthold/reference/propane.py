"""Propane: what a cylinder or a tank can vaporise in cold air, and low-pressure gas pipe."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.errors import TableError
from hearthold.quantities.units import in_unit
from hearthold.reference.between import between
from hearthold.reference.reader import table
from hearthold.reference.shape import Row


@dataclass(frozen=True, slots=True)
class TankShape:
    """Outside size of an ASME tank."""

    capacity_m3: float
    diameter_m: float
    length_m: float


@dataclass(frozen=True, slots=True)
class PipeGas:
    """A gas in the low-pressure sizing equation: coefficient and gravity against air."""

    gas: str
    sizing_ratio: float
    gravity_ratio: float


@dataclass(frozen=True, slots=True)
class PrintedPipe:
    """A printed capacity to test a sizing equation with: volume or heat, whichever the table prints."""

    gas: str
    size: str
    length_m: float
    drop_pa: float
    capacity_m3_per_s: float | None
    capacity_w: float | None


def cylinder_draw_w(content_kg: float, air_c: float) -> float:
    """Largest continuous draw (higher heating value) of a 100 lb cylinder, between the printed rows.

    For an engine that needs regulator pressure scale it down (see the note of the table).
    Raises: TableError outside 10-100 lb or 0-70 F.
    Source: widely reprinted industry table.
    """
    rows = table("cylinder_vaporisation")
    by_air = []
    for air_f in rows.names("air_f"):
        points = [(r.si("content_lb"), r.si("draw_btu_per_h")) for r in rows.where(air_f=air_f)]
        at_c = rows.where(air_f=air_f)[0].si("air_f")
        by_air.append((at_c, between(content_kg, points, "propane in the cylinder, kg,")))
    return between(air_c, by_air, "air temperature, degC,")


def cylinder_content_kg(name: str) -> float:
    """Propane in a full cylinder, such as 100_lb. Raises TableError."""
    return table("propane_cylinders").row(name).si("content_lb")


def tank_fill_factor(fill_frac: float) -> float:
    """Factor K of the tank formula (Btu/h per square inch of D x L at 0 F), between the printed rows.

    Raises: TableError outside 10-60 per cent.
    Source: gas appendix of a farm-heater installation manual.
    """
    points = [(r.si("fill_pct"), r.number("fill_factor")) for r in table("propane_tank_fill")]
    return between(fill_frac, points, "fill, of 1,")


def tank_shape(capacity_gal: float) -> TankShape:
    """Outside size of a tank by its trade size (120, 250, 500, 1000 gal). Raises TableError. From memory."""
    row = table("propane_tanks").row(capacity_gal)
    return TankShape(row.si("capacity_gal"), row.si("diameter_in"), row.si("tank_length_in"))


def tank_chart_m3(draw_m3_per_s: float, air_c: float) -> float:
    """Smallest tank of the strict trade chart for a steady draw: next draw and next colder air printed.

    Raises: TableError beyond 300 ft3/h or below -40 F.
    Source: trade chart, 1.4-2 times stricter than the tank formula.
    """
    rows = table("propane_tank_chart")
    air_f = round(in_unit(air_c, "F", "temperature"), 6)
    for row in rows:
        if draw_m3_per_s <= row.si("draw_ft3_per_h") * (1 + 1e-9) and row.number("air_f") <= air_f:
            return row.si("capacity_gal")
    raise TableError(f"the tank chart has no row for {draw_m3_per_s:.3g} m3/s at {air_c:.0f} degC")


def saturated_propane() -> tuple[tuple[float, float, float, float], ...]:
    """Saturated propane: degC, gauge Pa, J/kg of vaporisation, kg/m3 of liquid. Source: CoolProp 8.0.0."""
    names = ("liquid_f", "gauge_psi", "vaporisation_btu_per_lb", "liquid_lb_per_gal")
    return tuple((r.si(names[0]), r.si(names[1]), r.si(names[2]), r.si(names[3])) for r in _saturation())


def pipe_inside_m(size: str) -> float:
    """Inside diameter of schedule 40 pipe by nominal size ("3/4"). Raises TableError. From memory."""
    return table("gas_pipe_sizes").row(size).si("inside_in")


def pipe_sizes() -> tuple[str, ...]:
    """Nominal sizes of gas pipe, smallest first."""
    return tuple(str(n) for n in table("gas_pipe_sizes").names())


def pipe_gas(gas: str) -> PipeGas:
    """Coefficient and gravity of natural_gas or propane. Raises TableError. NFPA 54, from memory."""
    row = table("gas_pipe_gases").row(gas)
    return PipeGas(gas, row.number("sizing_ratio"), row.number("gravity_ratio"))


def printed_pipe(gas: str, size: str, run_ft: float) -> PrintedPipe:
    """A printed capacity by gas, nominal size and run in feet. Raises TableError. NFPA 54."""
    row = table("gas_pipe_printed").row(gas, size, run_ft)
    return PrintedPipe(
        gas,
        size,
        row.si("run_ft"),
        row.si("drop_in_wc"),
        row.si_or_none("capacity_ft3_per_h"),
        row.si_or_none("capacity_kbtu_per_h"),
    )


def _saturation() -> tuple[Row, ...]:
    return table("propane_saturation").rows
