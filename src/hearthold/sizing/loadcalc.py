"""Load calculations: the essential panel's own list, and the whole house by the method of its code.

North America: a manual transfer carries what its user means to run, so its panel has its own list; an
automatic switch for the whole house takes the optional dwelling calculation. IEC: rated loads, with diversity
that is said. The calculation that counts is the electrician's, under local code.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.house.loads import Load, Pattern
from hearthold.house.site import VoltageSystem
from hearthold.physics.loadcalc import (
    DemandRule,
    diversified_w,
    dwelling_demand,
    general_load_va,
    largest_entry_va,
    service_current_a,
)
from hearthold.quantities.source import Source, Standing
from hearthold.quantities.units import si
from hearthold.reference.ampacity import continuous_factor
from hearthold.reference.local_words import in_local_words
from hearthold.reference.reader import table
from hearthold.sizing.demand import SELF_STARTING, chosen_circuits, is_lighting

if TYPE_CHECKING:
    from hearthold.house.house import House

# Kinds of the catalogue that heat or cool the house, and the row of the dwelling table that counts them.
_COOLING = ("central_ac", "window_ac")
_HEAT_PUMPS = ("heat_pump_2", "ground_heat_pump", "mini_split", "heat_pump_8")
_SPACE_HEAT = ("baseboard", "space_heater", "oil_filled_radiator")
_STORAGE_HEAT = ("storage_heater",)
# The smallest number of circuits the method counts: two small-appliance and one laundry (220.82(B)(2)).
_LEAST_CIRCUITS = 3
_OPTIONAL_NOTES = (
    "two small-appliance circuits and one laundry circuit counted, the least of the method",
    "loads alone on their circuit counted as fixed appliances; the nameplates decide",
    "for a service of 100 A or more: a smaller result still needs 100 A",
)


@dataclass(frozen=True, slots=True)
class LoadLine:
    """One line of a calculation: a load, its VA, the factor it counts with, and why."""

    load: str
    name: str
    rated_va: float
    factor: float
    why: str

    @property
    def counted_va(self) -> float:
        """What the line adds."""
        return self.rated_va * self.factor


@dataclass(frozen=True, slots=True)
class LoadCalculation:
    """A calculation that can be printed and checked line by line."""

    method: str
    lines: tuple[LoadLine, ...]
    general_va: float
    general_demand_va: float
    hvac_va: float
    total_va: float
    voltage_v: float
    current_a: float
    notes: tuple[str, ...]
    source: Source


def essential_panel(house: House, circuit_ids: Iterable[str] | None = None) -> LoadCalculation:
    """The list of what the essential panel carries at one time (all fed circuits if none are named).

    North America: continuous loads at 125 %, the largest motor with a quarter more, all at once with no
    diversity. IEC: rated loads, no factors. Raises KeyError on an unknown circuit.

    Source: NFPA 70 (NEC) 702.4(B)(1), in 2023 702.4(A)(1) (the user's own list), 215.2(A)(1), 430.24; IEC: plain sum.
    """
    chosen = chosen_circuits(house, circuit_ids)
    loads = [x for x in house.loads if x.circuit in chosen]
    if house.system is VoltageSystem.SPLIT_120_240:
        lines = _panel_lines(house, loads)
        source = Source(
            "NFPA 70 (NEC) 702.4 (capacity for what runs at one time), 215.2(A)(1), 430.24", Standing.SEEN
        )
    else:
        lines = tuple(LoadLine(x.id, x.name, x.running_va, 1.0, "rated") for x in loads)
        source = Source("sum of rated loads", Standing.PRACTICE)
    total_va = sum(line.counted_va for line in lines)
    notes = ("every load at one time; leave off what never runs together",)
    method = in_local_words("essential panel", house.system)
    return _calculation(house, method, lines, total_va, total_va, 0.0, notes, source)


def whole_house(house: House) -> LoadCalculation:
    """The whole house behind one automatic switch: 220.82 in North America, diversified rated load under IEC.

    Raises: InputError where the floor area that the optional method starts from is not known.
    """
    if house.system is VoltageSystem.SPLIT_120_240:
        return _optional_method(house)
    return _diversified(house)


def _optional_method(house: House) -> LoadCalculation:
    """NEC 220.82: floor area, circuits, nameplates, then the largest of heating and cooling.

    Source: NFPA 70 (NEC) 220.82; checked against Annex D, Example D2(a) of 2005.
    """
    if house.heat is None:
        raise InputError(
            "the dwelling calculation starts from the floor area; give floor_area in [heat].",
            code="no_floor_area",
        )
    fixed = [x for x in house.loads if not _conditions_air(x) and _is_fixed(house, x)]
    lines = tuple(LoadLine(x.id, x.name, x.running_va, 1.0, "nameplate, 220.82(B)(3)") for x in fixed)
    general_va = _general_va(house.heat.floor_area_m2, lines)
    found = dwelling_demand(general_va, _hvac_va(house), _rule(), house.system.full_voltage_v)
    method, source = "optional dwelling method", Source("NFPA 70 (NEC) 220.82", Standing.SEEN)
    parts_va = (general_va, found.general_demand_va, found.hvac_va)
    return _calculation(house, method, lines, *parts_va, _OPTIONAL_NOTES, source)


def _general_va(floor_area_m2: float, lines: Sequence[LoadLine]) -> float:
    per_m2_va = _row_va("per_square_foot") / si(1.0, "sq ft", "area")
    rated_va = [x.rated_va for x in lines]
    return general_load_va(floor_area_m2, per_m2_va, _LEAST_CIRCUITS, _row_va("per_circuit"), rated_va)


def _diversified(house: House) -> LoadCalculation:
    """Rated loads of a single-phase house with the diversity that guides suggest, each said.

    Source: guides to BS 7671, from memory; no standard fixes diversity for a household.
    """
    lines = tuple(_diverse_line(house, x) for x in house.loads)
    rated = [x.rated_va for x in lines]
    total_va = diversified_w(rated, [x.factor for x in lines])
    notes = ("diversity is a judgement; the designer of the installation decides",)
    source = table("diversity").source
    return _calculation(house, "rated load with diversity", lines, sum(rated), total_va, 0.0, notes, source)


def _calculation(
    house: House,
    method: str,
    lines: tuple[LoadLine, ...],
    general_va: float,
    demand_va: float,
    hvac_va: float,
    notes: tuple[str, ...],
    source: Source,
) -> LoadCalculation:
    total_va, volts = demand_va + hvac_va, house.system.full_voltage_v
    current_a = float(service_current_a(total_va, volts))
    return LoadCalculation(
        method, lines, general_va, demand_va, hvac_va, total_va, volts, current_a, notes, source
    )


def _panel_lines(house: House, loads: Sequence[Load]) -> tuple[LoadLine, ...]:
    tank = house.hot_water.load if house.hot_water is not None else None
    largest = max((x for x in loads if x.is_motor), key=lambda x: x.running_va, default=None)
    lines = []
    for x in loads:
        factor, why = 1.0, "not continuous"
        if x.pattern is Pattern.CONTINUOUS or x.id == tank:
            factor, why = continuous_factor(), "continuous, three hours or more"
        elif largest is not None and x.id == largest.id:
            factor, why = 1.25, "largest motor, 430.24"
        lines.append(LoadLine(x.id, x.name, x.running_va, factor, why))
    return tuple(lines)


def _diverse_line(house: House, load: Load) -> LoadLine:
    """What runs by itself counts in full, lighting two thirds, the rest less but for the largest."""
    if load.pattern in SELF_STARTING and not is_lighting(load):
        return LoadLine(load.id, load.name, load.running_va, _diversity("runs_by_itself"), "runs by itself")
    if is_lighting(load):
        return LoadLine(load.id, load.name, load.running_va, _diversity("lighting"), "lighting")
    by_hand = [x for x in house.loads if x.pattern not in SELF_STARTING and not is_lighting(x)]
    largest = max(by_hand, key=lambda x: (x.running_va, x.id))
    if load.id == largest.id:
        return LoadLine(
            load.id, load.name, load.running_va, _diversity("largest_by_hand"), "largest switched by hand"
        )
    return LoadLine(load.id, load.name, load.running_va, _diversity("by_hand"), "switched by hand")


def _diversity(use: str) -> float:
    return table("diversity").row(use).number("demand_factor")


def _is_fixed(house: House, load: Load) -> bool:
    """Fastened in place, as far as the house file shows it: alone on its circuit."""
    return len(house.loads_on(load.circuit)) == 1 and not is_lighting(load)


def _conditions_air(load: Load) -> bool:
    return _is_kind(load, (*_COOLING, *_HEAT_PUMPS, *_SPACE_HEAT, *_STORAGE_HEAT))


def _hvac_va(house: House) -> float:
    """The largest entry of heating or cooling, each with its factor."""
    units = sum(x.count for x in house.loads if _is_kind(x, _SPACE_HEAT))
    heat_row = "heat_many_units" if units >= 4 else "heat_few_units"
    entries = [
        (_va_of(house, _COOLING), _factor("cooling")),
        (_va_of(house, _HEAT_PUMPS), _factor("heat_pump")),
        (_va_of(house, _SPACE_HEAT), _factor(heat_row)),
        (_va_of(house, _STORAGE_HEAT), _factor("thermal_storage")),
    ]
    return largest_entry_va([va for va, _ in entries], [factor for _, factor in entries])


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
