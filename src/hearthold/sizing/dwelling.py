"""The optional load calculation of a dwelling, NEC 220.82: every line of it, the demand factors, heating or cooling."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.physics.loadcalc import DemandRule, dwelling_demand, general_load_va, largest_entry_va
from hearthold.quantities.source import Source, Standing
from hearthold.quantities.units import in_unit, si
from hearthold.reference.reader import table
from hearthold.sizing.calculation import LoadCalculation, LoadLine, plain_sum
from hearthold.sizing.demand import is_lighting

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.loads import Load

# Kinds of the catalogue that heat or cool the house, and the row of the dwelling table that counts them.
_COOLING = ("central_ac", "window_ac")
_HEAT_PUMPS = ("heat_pump_2", "ground_heat_pump", "mini_split", "heat_pump_8")
_SPACE_HEAT = ("baseboard", "space_heater", "oil_filled_radiator")
_STORAGE_HEAT = ("storage_heater",)
# What the laundry circuit's 1500 VA stand for; Annex D lists none beside it.
_ON_LAUNDRY = ("clothes_washer",)
# The smallest number of circuits the method counts: two small-appliance and one laundry (220.82(B)(2)).
_LEAST_CIRCUITS = 3
_OPTIONAL_NOTES = (
    "two small-appliance circuits and one laundry circuit counted, the least of the method",
    "loads alone on their circuit counted as fixed appliances; the nameplates decide",
    "for a service of 100 A or more: a smaller result still needs 100 A",
)


def optional_method(house: House) -> LoadCalculation:
    """NEC 220.82: floor area, circuits, nameplates, then the largest of heating and cooling.

    Source: NFPA 70 (NEC) 220.82; checked against Annex D, Example D2(a) of 2005.
    """
    if house.heat is None:
        raise InputError(
            "the dwelling calculation starts from the floor area; give floor_area in [heat].",
            code="no_floor_area",
        )
    lines = tuple(_general_lines(house, house.heat.floor_area_m2))
    nameplates_va = [x.rated_va for x in lines[_GENERAL_LINES:]]
    general_va = general_load_va(
        house.heat.floor_area_m2,
        _va_per_m2(),
        _LEAST_CIRCUITS,
        _row_va("per_circuit"),
        nameplates_va,
    )
    air, rule = _air_line(house), _rule()
    found = dwelling_demand(general_va, sum(x.counted_va for x in air), rule, house.system.full_voltage_v)
    method, source = "optional dwelling method", Source("NFPA 70 (NEC) 220.82", Standing.SEEN)
    steps = (*_demand_lines(general_va, rule), *air)
    return replace(
        plain_sum(house, method, lines, found.total_va, _OPTIONAL_NOTES, source),
        steps=steps,
        general_va=general_va,
        general_demand_va=found.general_demand_va,
        hvac_va=found.hvac_va,
    )


_GENERAL_LINES = 2  # floor area and circuits stand before the nameplates


def _general_lines(house: House, floor_area_m2: float) -> Iterator[LoadLine]:
    """Everything that goes into the general load, before demand factors."""
    area_sqft, per_va = in_unit(floor_area_m2, "sq ft", "area"), _row_va("per_square_foot")
    lighting_va = floor_area_m2 * _va_per_m2()
    name = "General lighting and outlets"
    yield LoadLine("", name, lighting_va, 1.0, f"{area_sqft:,.0f} sq ft at {per_va:g} VA, 220.82(B)(1)")
    name = "Two small-appliance circuits, one laundry circuit"
    per_va = _row_va("per_circuit")
    yield LoadLine(
        "", name, _LEAST_CIRCUITS * per_va, 1.0, f"{_LEAST_CIRCUITS} of {per_va:,.0f} VA, 220.82(B)(2)"
    )
    for x in house.loads:
        if not _conditions_air(x) and not _is_kind(x, _ON_LAUNDRY) and _is_fixed(house, x):
            yield LoadLine(x.id, x.name, x.running_va, 1.0, "nameplate, 220.82(B)(3)")


def _demand_lines(general_va: float, rule: DemandRule) -> Iterator[LoadLine]:
    """The general load with its demand factors: the first block, then the rest."""
    first_va, rest_va = min(general_va, rule.block_va[0]), general_va - rule.block_va[0]
    name = f"General load, first {rule.block_va[0] / 1e3:g} kVA"
    yield LoadLine("", name, first_va, rule.block_frac[0], "220.82(B)")
    if rest_va > 0.0:
        yield LoadLine("", "General load, the rest", rest_va, rule.rest_frac, "220.82(B)")


def _va_per_m2() -> float:
    return _row_va("per_square_foot") / si(1.0, "sq ft", "area")


def _is_fixed(house: House, load: Load) -> bool:
    """Fastened in place, as far as the house file shows it: alone on its circuit."""
    return len(house.loads_on(load.circuit)) == 1 and not is_lighting(load)


def _conditions_air(load: Load) -> bool:
    return _is_kind(load, (*_COOLING, *_HEAT_PUMPS, *_SPACE_HEAT, *_STORAGE_HEAT))


def _air_line(house: House) -> tuple[LoadLine, ...]:
    """The largest entry of heating or cooling with its factor, if there is any."""
    units = sum(x.count for x in house.loads if _is_kind(x, _SPACE_HEAT))
    heat_row = "heat_many_units" if units >= 4 else "heat_few_units"
    entries = [
        ("Cooling", _COOLING, "cooling"),
        ("Heat pump", _HEAT_PUMPS, "heat_pump"),
        (f"Electric space heat, units: {units}", _SPACE_HEAT, heat_row),
        ("Storage heat", _STORAGE_HEAT, "thermal_storage"),
    ]
    lines = [
        LoadLine("", name, _va_of(house, kinds), _factor(row), "220.82(C)") for name, kinds, row in entries
    ]
    largest_va = largest_entry_va([x.rated_va for x in lines], [x.factor for x in lines])
    return tuple(x for x in lines if x.counted_va == largest_va)[:1] if largest_va else ()


def _va_of(house: House, kinds: tuple[str, ...]) -> float:
    return sum(x.running_va for x in house.loads if _is_kind(x, kinds))


def _is_kind(load: Load, kinds: tuple[str, ...]) -> bool:
    return load.kind is not None and load.kind.startswith(kinds)


def _rule() -> DemandRule:
    first = table("dwelling_load").row("first_block")
    return DemandRule((first.si("general_va"),), (first.number("demand_factor"),), _factor("rest"))


def _factor(name: str) -> float:
    return table("dwelling_load").row(name).number("demand_factor")


def _row_va(name: str) -> float:
    return table("dwelling_load").row(name).si("general_va")
