"""Load calculations: the essential panel's own list, and the whole house by the method of its code.

North America: a manual transfer carries what its user means to run, so its panel has its own list; an
automatic switch for the whole house takes the optional dwelling calculation. IEC: rated loads, with diversity
that is said. The calculation that counts is the electrician's, under local code.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from hearthold.house.loads import Load, Pattern
from hearthold.house.site import VoltageSystem
from hearthold.house.supply import HookupKind
from hearthold.physics.legs import Connection
from hearthold.physics.loadcalc import diversified_w, service_current_a
from hearthold.quantities.source import Source, Standing
from hearthold.reference.ampacity import continuous_factor
from hearthold.reference.local_words import in_local_words
from hearthold.reference.reader import table
from hearthold.sizing.calculation import LegLoad, LoadCalculation, LoadLine, plain_sum
from hearthold.sizing.chain import chain_voltage_v
from hearthold.sizing.demand import SELF_STARTING, chosen_circuits, is_lighting
from hearthold.sizing.dwelling import optional_method
from hearthold.sizing.placement import Placement, placement

if TYPE_CHECKING:
    from hearthold.house.house import House

_ALL_ON = "every load at one time; leave off what never runs together"


def essential_panel(house: House, circuit_ids: Iterable[str] | None = None) -> LoadCalculation:
    """The list of what the essential panel carries at one time (all fed circuits if none are named).

    North America: continuous loads at 125 %, the largest motor with a quarter more, all at once with no
    diversity. IEC: rated loads, no factors. Raises KeyError on an unknown circuit.

    Source: NFPA 70 (NEC) 702.4(B)(1), in 2023 702.4(A)(1) (the user's own list), 215.2(A)(1), 430.24; IEC: plain sum.
    """
    chosen = chosen_circuits(house, circuit_ids)
    loads = [x for x in house.loads if x.circuit in chosen]
    locked = house.hookup is not None and house.hookup.kind is HookupKind.INTERLOCK
    method = in_local_words("main panel" if locked else "essential panel", house.system)
    if house.system is not VoltageSystem.SPLIT_120_240:
        lines = tuple(LoadLine(x.id, x.name, x.running_va, 1.0, "rated") for x in loads)
        source = Source("sum of rated loads", Standing.PRACTICE)
        return plain_sum(house, method, lines, sum(x.counted_va for x in lines), (_ALL_ON,), source)
    source = Source(
        "NFPA 70 (NEC) 702.4 (capacity for what runs at one time), 215.2(A)(1), 430.24", Standing.SEEN
    )
    return _by_leg(house, plain_sum(house, method, _panel_lines(house, loads), 0.0, (_ALL_ON,), source))


def _by_leg(house: House, found: LoadCalculation) -> LoadCalculation:
    """The calculation with what each leg carries, and its current at the voltage that arrives.

    Amperes of a leg: its own loads and half of those across both, VA summed as by hand, which is never less than the
    sum of phasors. A set of 120 V carries all loads of one leg on its one hot wire, and none across both.
    """
    seats = placement(house)
    volts, leg_v = chain_voltage_v(house), house.system.leg_voltage_v
    where = {line.load: seats.leg_of[house.load_by_id[line.load].circuit] for line in found.lines}
    on_va = {leg: sum(x.counted_va for x in found.lines if where[x.load] is leg) for leg in Connection}
    both_va, total_va = on_va[Connection.BOTH], sum(on_va.values())
    pairs = [("A", Connection.A), ("B", Connection.B)]
    legs = tuple(
        LegLoad(name, on_va[leg] + both_va / 2.0, (on_va[leg] + both_va / 2.0) / leg_v) for name, leg in pairs
    )
    one_hot = volts < house.system.full_voltage_v
    arriving_va = total_va - both_va if one_hot else total_va
    return replace(
        found,
        general_va=total_va,
        general_demand_va=total_va,
        total_va=total_va,
        voltage_v=volts,
        current_a=float(service_current_a(arriving_va, volts)),
        legs=legs,
        notes=(*found.notes, *_leg_notes(house, seats, where, both_va if one_hot else 0.0)),
    )


def _leg_notes(
    house: House, seats: Placement, where: Mapping[str, Connection], left_out_va: float
) -> Iterator[str]:
    """What was assumed of the legs, and what a set of one hot wire cannot carry."""
    circuits = {house.load_by_id[x].circuit for x in where}
    assumed = [c.name for c in seats.assumed if c.id in circuits]
    if assumed:
        yield f"leg not given, assumed for an even split: {', '.join(assumed)}"
    if left_out_va:
        yield f"the {left_out_va:.0f} VA of loads across both legs run on the grid alone, and are not in the amperes"


def whole_house(house: House) -> LoadCalculation:
    """The whole house behind one automatic switch: 220.82 in North America, diversified rated load under IEC.

    Raises: InputError where the floor area that the optional method starts from is not known.
    """
    if house.system is VoltageSystem.SPLIT_120_240:
        return optional_method(house)
    return _diversified(house)


def _diversified(house: House) -> LoadCalculation:
    """Rated loads of a single-phase house with the diversity that guides suggest, each said.

    Source: guides to BS 7671, from memory; no standard fixes diversity for a household.
    """
    lines = tuple(_diverse_line(house, x) for x in house.loads)
    rated = [x.rated_va for x in lines]
    total_va = diversified_w(rated, [x.factor for x in lines])
    notes = ("diversity is a judgement; the designer of the installation decides",)
    source = table("diversity").source
    return replace(
        plain_sum(house, "rated load with diversity", lines, total_va, notes, source),
        general_va=sum(rated),
    )


def _panel_lines(house: House, loads: Sequence[Load]) -> tuple[LoadLine, ...]:
    tank = house.tank_element
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
