"""Fuel gas: what propane cylinders or a tank can give in the cold, and what the gas pipe can carry."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.house.supply import FuelKind
from hearthold.physics import gaspipe, propane, willans
from hearthold.physics.pressuretank import STANDARD_ATMOSPHERE_PA
from hearthold.quantities.units import parse, si
from hearthold.reference import fuels
from hearthold.reference import propane as propane_tables
from hearthold.reference.reader import table
from hearthold.sizing.burn import TABLE_FUEL, Burn
from hearthold.sizing.fuel import amount_m3, lots
from hearthold.sizing.supply import machine_of, rating_on

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.supply import FuelStock
    from hearthold.reference.propane import TankShape

_PIPE = re.compile(r"\s*([0-9]+(?:-[0-9]+/[0-9]+|/[0-9]+)?)\s*(?:in|inch|\")?\s*(?:,\s*(.+))?$")


@dataclass(frozen=True, slots=True)
class Vapour:
    """What joined cylinders, or a tank, give in the cold, counted on the higher heating value."""

    held_in: str  # "cylinders" or "tank"
    outdoor_c: float
    joined: int
    limit_w: float  # steadily, as filled now
    half_limit_w: float  # steadily, half empty (a tank: at 30 %)
    asked_w: float  # what the machine burns at half its rated load
    output_limit_w: float  # electrical load that can be kept up half empty
    spell_s: float | None  # a run at half load from full cylinders until empty or too cold; None for a tank
    ends: str  # "empty", "cold" or ""
    cylinders_for_half: int | None  # joined for half load without end; None: a tank, or too cold for any
    note: str


@dataclass(frozen=True, slots=True)
class GasPipe:
    """The gas pipe's flow against what the machine burns at rated load."""

    size: str
    run_m: float
    carries_w: float
    asked_w: float
    next_size: str | None  # smallest size that carries it; None where the pipe is large enough
    notes: tuple[str, ...]


def vapour(house: House, line: Burn, outdoor_c: float) -> Vapour | None:
    """What cylinders or the tank give in the cold; None where the machine does not burn stored propane.

    The printed table of a 100 lb cylinder is fitted by air temperature and fill, and held to liquid that
    still has pressure for a regulator. Smaller cylinders are taken by the mass in them, a rough reading.
    A spell may be run on the heat in liquid and steel: it ends when the liquid is too cold.

    Source: widely reprinted industry table; regulator floor of 10 psi gauge, our reading of its note; tanks
    by the trade formula D L K.
    """
    if line.fuel != FuelKind.PROPANE:
        return None
    rating, _ = rating_on(machine_of(house), line.fuel)
    if rating.cylinder_kg is not None:
        return _cylinder_vapour(line, float(rating.cylinder_kg), rating.cylinders_joined, outdoor_c)
    tanks = [x for x in lots(house) if x.fuel == line.fuel and x.place == "tank" and x.container_m3]
    return _tank_vapour(line, tanks[0], outdoor_c) if tanks else None


def gas_pipe(house: House, line: Burn) -> GasPipe | None:
    """The pipe that feeds the machine, written as "3/4 in" or "3/4 in, 40 ft"; None where none is given.

    Raises: InputError for a pipe that cannot be read.
    Source: NFPA 54 / IFGC low-pressure equation at 0.5 in of water column; the gas fitter decides.
    """
    rating, _ = rating_on(machine_of(house), line.fuel)
    if rating.gas_pipe is None or line.fuel not in (FuelKind.NATURAL_GAS, FuelKind.PROPANE):
        return None
    size, run_m, notes = _read_pipe(rating.gas_pipe, machine_of(house).distance_m)
    gas = propane_tables.pipe_gas(line.fuel.value)
    vapour_j_per_m3 = _vapour_hhv_j_per_m3(line)
    asked_w = _asked_hhv_w(line, line.rated_w)
    drop_pa = _gas_rule("pipe_drop", "drop_in_wc")
    flows = {
        s: gaspipe.code_flow_m3_per_s(propane_tables.pipe_inside_m(s), run_m, drop_pa, gas.sizing_ratio)
        for s in propane_tables.pipe_sizes()
    }
    carries_w = flows[size] * vapour_j_per_m3
    enough = (s for s, flow in flows.items() if flow * vapour_j_per_m3 >= asked_w)
    return GasPipe(
        size, run_m, carries_w, asked_w, None if carries_w >= asked_w else next(enough, None), notes
    )


def _cylinder_vapour(line: Burn, each_kg: float, joined: int, outdoor_c: float) -> Vapour:
    floor_c = _regulator_floor_c()
    full_w, half_w = (_cylinder_w(each_kg * share, outdoor_c, floor_c) for share in (1.0, 0.5))
    asked_w = _asked_hhv_w(line, line.rated_w / 2.0)
    hhv_j_per_kg = fuels.higher_heat_j_per_m3("propane") / fuels.density_kg_per_m3("propane")
    wall_w_per_k = _wall_w_per_k(each_kg, hhv_j_per_kg)
    draw_kg_per_s = asked_w / hhv_j_per_kg / joined
    steel_kg = _gas_rule("steel", "share_ratio") * each_kg
    run = propane.cylinder_run(each_kg, steel_kg, wall_w_per_k, draw_kg_per_s, outdoor_c, floor_c)
    return Vapour(
        "cylinders",
        outdoor_c,
        joined,
        joined * full_w,
        joined * half_w,
        asked_w,
        _output_for_w(line, joined * half_w),
        run.duration_s,
        run.ends,
        propane.cylinders_needed(asked_w, half_w) if half_w > 0.0 else None,
        "cylinders other than 100 lb are taken by the mass in them; never warm a cylinder with a heater",
    )


def _tank_vapour(line: Burn, lot: FuelStock, outdoor_c: float) -> Vapour:
    held_frac = min(0.6, amount_m3(lot) / float(lot.container_m3 or 1.0))
    shapes = [propane_tables.tank_shape(float(n)) for n in table("propane_tanks").names()]
    shape = min(shapes, key=lambda t: abs(t.capacity_m3 - (lot.container_m3 or 0.0)))
    limit_w, low_w = (_tank_w(shape, max(0.1, f), outdoor_c) for f in (held_frac, 0.3))
    asked_w = _asked_hhv_w(line, line.rated_w / 2.0)
    output_w = _output_for_w(line, low_w)
    note = "bare steel in still air; some trade charts are up to twice as strict"
    return Vapour("tank", outdoor_c, 1, limit_w, low_w, asked_w, output_w, None, "", None, note)


def _tank_w(shape: TankShape, fill_frac: float, outdoor_c: float) -> float:
    factor = propane_tables.tank_fill_factor(fill_frac) * _TRADE_K_W_PER_M2_K
    return propane.tank_vapor_w(shape.diameter_m, shape.length_m, factor, outdoor_c)


# Btu/h per square inch for 20 degF, as the trade's tank factor K is printed
_TRADE_K_W_PER_M2_K = si(1.0, "Btu/h", "power") / si(1.0, "in", "length") ** 2 / (20.0 / 1.8)


def _gas_rule(name: str, column: str) -> float:
    return table("fuel_gas_rules").row(name).si(column)


@cache
def _regulator_floor_c() -> float:
    """Liquid temperature below which a regulator is not fed."""
    return propane.saturation_c(STANDARD_ATMOSPHERE_PA + _gas_rule("regulator", "pressure_psi"))


@cache
def _printed_line() -> propane.CylinderLine:
    rows = table("cylinder_vaporisation").rows
    content_kg, air_c, draw_w = ([r.si(c) for r in rows] for c in ("content_lb", "air_f", "draw_btu_per_h"))
    return propane.cylinder_line(content_kg, air_c, draw_w, _gas_rule("printed_zero", "temperature_f"))


def _cylinder_w(content_kg: float, outdoor_c: float, floor_c: float) -> float:
    line = _printed_line()
    return propane.cylinder_vapor_w(
        content_kg, outdoor_c, line.base_w_per_k, line.wetted_w_per_k_per_kg, floor_c
    )


def _wall_w_per_k(content_kg: float, hhv_j_per_kg: float) -> float:
    """Heat through the wetted wall behind the printed draw: vapour times latent over burning heat."""
    line = _printed_line()
    per_k = line.base_w_per_k + line.wetted_w_per_k_per_kg * content_kg
    return per_k * propane.latent_heat_j_per_kg(_regulator_floor_c()) / hhv_j_per_kg


def _hhv_ratio(line: Burn) -> float:
    return fuels.higher_heat_j_per_m3(TABLE_FUEL[line.fuel]) / line.lhv_j_per_m3


def _asked_hhv_w(line: Burn, output_w: float) -> float:
    """Fuel power at a load on the higher heating value, as gas tables have it."""
    return float(willans.fuel_power_w(line.line, output_w)) * _hhv_ratio(line)


def _output_for_w(line: Burn, vapour_w: float) -> float:
    """Electrical load whose fuel is this much vapour; 0 where it does not even cover no load."""
    spare_w = vapour_w / _hhv_ratio(line) - line.line.no_load_fuel_w
    return min(line.rated_w, max(0.0, spare_w / line.line.slope_w_per_w))


def _vapour_hhv_j_per_m3(line: Burn) -> float:
    known = fuels.fuel(TABLE_FUEL[line.fuel])
    as_gas = known.higher_vapour_j_per_m3 or known.higher_j_per_m3
    if as_gas is None:
        raise InputError(f"no heating value of {line.fuel} as gas is known.", code="no_heat_value")
    return as_gas


def _read_pipe(text: str, distance_m: float | None) -> tuple[str, float, tuple[str, ...]]:
    found = _PIPE.match(text)
    if found is None or found[1] not in propane_tables.pipe_sizes():
        sizes = ", ".join(propane_tables.pipe_sizes())
        raise InputError(
            f'gas_pipe is {text!r}; write a size and a run, such as "3/4 in, 40 ft" (sizes {sizes}).',
            code="gas_pipe",
        )
    fittings_ratio = _gas_rule("fittings", "share_ratio")
    if found[2]:
        return found[1], parse(found[2], "length") * fittings_ratio, ("half the run added for fittings",)
    run_m = (distance_m or _gas_rule("gas_run", "length_ft")) * fittings_ratio
    return found[1], run_m, ("length of the gas run not given; the machine's distance is taken",)
