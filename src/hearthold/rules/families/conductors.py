"""Circuits and conductors: breakers against wires, voltage drop, multi-wire circuits."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.house.loads import Circuit
from hearthold.house.motorcircuit import MotorDevice
from hearthold.rules.case import Case
from hearthold.rules.finding import Hit, Severity, Value, Values
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow
from hearthold.rules.words import listed
from hearthold.sizing.gridside import (
    GridFeeder,
    device_at_least_a,
    even_grid_load_a,
    grid_load_a,
    grid_parts_below,
)
from hearthold.sizing.wiring import CircuitWiring

_LOAD = {
    True: "by the optional dwelling method",
    False: "on its busier leg, all on",
}
_MOVING = frozenset({"gfci", "afci"})


@rule("breaker-over-conductor", "device-over-conductor")
def breaker_over_conductor(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A breaker above what its wire may have, on a circuit that is not of motors alone."""
    for item in case.wiring.circuits:
        if item.device_over_conductor and not item.motor_circuit:
            yield _over(case, item)


@rule("motor-circuit-exception", "motor-device-exception")
def motor_exception(case: Case, row: RuleRow) -> Iterator[Hit]:
    """The same on a circuit of motors alone, within what a motor's start usually needs."""
    for item, device in _motor_circuits(case):
        if item.breaker_a <= device.usual_a:
            yield _over(case, item)


@rule("motor-breaker-large", "motor-device-large")
def motor_breaker_large(case: Case, row: RuleRow) -> Iterator[Hit]:
    """The same, beyond what a motor's start usually needs."""
    for item, device in _motor_circuits(case):
        if item.breaker_a > device.usual_a:
            hit = _over(case, item)
            yield Hit(hit.where, {**hit.values, "usual_a": device.usual_a, "most_a": device.most_a})


@rule("circuit-load-over-breaker")
def load_over_breaker(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Everything on a fed circuit together is beyond its breaker."""
    for item in _fed(case):
        if item.load_a > item.breaker_a:
            names = listed(
                x.name for x in sorted(case.house.loads_on(item.circuit), key=lambda x: -x.running_w)[:3]
            )
            yield Hit(item.name, {**_name(item), "load_a": item.load_a, "loads": names})


@rule("continuous-load-125")
def continuous_load(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A fed circuit within its breaker, and not with continuous load at 125 per cent."""
    for item in _fed(case):
        if item.load_a <= item.breaker_a < item.required_a:
            yield Hit(item.name, {**_name(item), "load_a": item.load_a, "required_a": item.required_a})


@rule("branch-drop", "final-circuit-drop")
def branch_drop(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A fed circuit that loses more than advised."""
    for item in _fed(case):
        if item.drop.is_over:
            size = f"{item.suggested_size} would keep within it." if item.suggested_size else ""
            words: Values = {
                "size_words": size or "No size in the table keeps within it.",
                "wire": item.carrying.size,
            }
            yield _drop_hit(case, item, item.drop.running_frac, item.drop.limit_frac, **words)


@rule("whole-path-drop", "whole-way-drop")
def whole_path_drop(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A fed circuit that loses more than advised from the machine on, though not on its branch alone."""
    for item in _fed(case):
        path = item.whole_path
        if path is None or item.drop.is_over:
            continue
        if path.is_over:
            yield _drop_hit(case, item, path.running_frac, path.limit_frac)


@rule("starting-drop")
def starting_drop(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A motor whose start loses much in the wires."""
    for item in _fed(case):
        start = None if item.whole_path is None else item.whole_path.start_frac
        if start is not None and start > row.number("limit_frac"):
            yield Hit(item.name, {"circuit": item.name, "drop_frac": start})


@rule("cord-drop")
def cord_drop(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A cord that loses more than its share."""
    for run in case.wiring.runs:
        if run.kind == "cord" and round(run.running_frac, 3) > row.number("limit_frac"):
            values: Values = {"wire": run.wire, "length_m": run.length_m, "drop_frac": run.running_frac}
            yield Hit("cord between set and inlet", values | {"leg_a": run.leg_a})


@rule("feeder-below-breaker", "cable-below-device")
def feeder_below_breaker(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A feeder behind a breaker larger than it may have."""
    hookup = case.panel_hookup
    if hookup is None or hookup.inlet_breaker_a is None:
        return
    for run in case.wiring.runs:
        if run.kind == "feeder" and hookup.inlet_breaker_a > run.carrying.largest_device_a:
            values: Values = {"wire": run.wire, "largest_a": run.carrying.largest_device_a}
            yield Hit("feeder", values | {"breaker_a": hookup.inlet_breaker_a})


@rule("grid-breaker-over-feeder", "grid-device-over-feeder")
def grid_breaker_over(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A breaker on the grid side that is larger than the feeder behind it may have."""
    feeder = case.grid_feeder
    if feeder is not None and feeder.breaker_over:
        yield Hit("feeder", _feeder(feeder) | {"breaker_a": feeder.breaker_a or 0.0})


@rule("grid-breaker-unknown", "grid-device-unknown")
def grid_breaker_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Nobody wrote what protects the feeder on grid power; graver where the panel's main is larger than it may be."""
    feeder = case.grid_feeder
    if feeder is None or feeder.breaker_a is not None:
        return
    over = feeder.main_a is not None and feeder.main_a > feeder.most_a
    main = f"The main of the panel, {feeder.main_a:g} A, is too large for it." if over else ""
    yield Hit("feeder", _feeder(feeder) | {"main_words": main}, Severity.ACT if over else None)


@rule("feeder-below-grid-load", "cable-below-grid-load")
def feeder_below_grid_load(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A feeder that carries less than its panel may draw from the grid."""
    feeder = case.grid_feeder
    if feeder is None:
        return
    load_a = grid_load_a(case.house)
    if load_a > feeder.holds_a:
        wanted = feeder.thicker(load_a) or "a size beyond the tables"
        values: Values = {"load_a": load_a, "load_words": _LOAD[case.is_automatic], "next_wire": wanted}
        yield Hit("feeder", _feeder(feeder) | values)


@rule("grid-load-over-breakers", "grid-load-over-devices")
def grid_load_over_parts(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Breakers, transfer equipment or a panel that carry less than the panel may draw from the grid."""
    below = grid_parts_below(case.house)
    if not below:
        return
    load_a, even_a = grid_load_a(case.house), even_grid_load_a(case.house)
    is_lopsided = even_a is not None and even_a < 0.98 * load_a
    even = f"With both legs even it would be {even_a:.1f} A." if is_lopsided else ""
    big = sorted(case.fed_loads, key=lambda x: -x.running_w)[:3]
    next_a = device_at_least_a(case.house.system, load_a)
    values: Values = {
        "load_a": load_a,
        "load_words": _LOAD[case.is_automatic],
        "parts": listed(f"{name} ({rated_a:g} A)" for name, rated_a in below),
        "even_words": even,
        "next_words": f"{next_a:g} A" if next_a >= load_a else f"{load_a:.0f} A",
        "big": listed(x.name for x in big),
    }
    yield Hit(case.fed_panel, values)


@rule("aluminium-branch")
def aluminium_branch(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Fed branch circuits of aluminium."""
    for circuit in case.house.circuits:
        if circuit.id in case.fed_ids and circuit.material == "aluminium":
            yield Hit(circuit.name, {"circuit": circuit.name, "wire": circuit.wire})


@rule("multiwire-same-leg")
def multiwire_same_leg(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A pair that the house file puts on one leg."""
    for one, other in _pairs(case):
        if one.leg is not None and one.leg == other.leg:
            sum_a = one.breaker_a + other.breaker_a
            yield _pair_hit(one, other, leg=one.leg, sum_a=sum_a, breaker_a=one.breaker_a)


@rule("multiwire-split-panels")
def multiwire_split(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A pair of which the hookup feeds one half."""
    for one, other in _pairs(case):
        if (one.id in case.fed_ids) is not (other.id in case.fed_ids):
            yield _pair_hit(one, other)


@rule("protection-must-move")
def protection_moves(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Protected circuits that move to a panel for essentials."""
    names = [c.name for c in case.house.circuits if c.panel == "essential" and _MOVING & set(c.protection)]
    if names and case.panel_hookup is not None and not case.house.main_panel_fed:
        yield Hit(listed(names), {"circuits": listed(names)})


def _motor_circuits(case: Case) -> list[tuple[CircuitWiring, MotorDevice]]:
    """Circuits of motors alone whose breaker is larger than the wire would have, with their bounds."""
    return [
        (item, item.motor_device)
        for item in case.wiring.circuits
        if item.device_over_conductor and item.motor_device is not None
    ]


def _fed(case: Case) -> list[CircuitWiring]:
    return [item for item in case.wiring.circuits if item.circuit in case.fed_ids]


def _pairs(case: Case) -> list[tuple[Circuit, Circuit]]:
    """Each multi-wire pair once, whichever half names the other."""
    found: dict[frozenset[str], tuple[Circuit, Circuit]] = {}
    for circuit in case.house.circuits:
        partner = case.house.circuit_by_id.get(circuit.multiwire_with or "")
        if partner is not None:
            found.setdefault(frozenset({circuit.id, partner.id}), (circuit, partner))
    return list(found.values())


def _pair_hit(one: Circuit, other: Circuit, **more: Value) -> Hit:
    return Hit(f"{one.name} and {other.name}", {"one": one.name, "other": other.name, **more})


def _name(item: CircuitWiring) -> Values:
    return {"circuit": item.name, "breaker_a": item.breaker_a}


def _over(case: Case, item: CircuitWiring) -> Hit:
    found = item.carrying
    wire: Values = {"wire": found.size, "material": found.material, "cable": found.cable}
    return Hit(item.name, {**_name(item), **wire, "largest_a": found.largest_device_a})


def _feeder(feeder: GridFeeder) -> Values:
    """What the feeder may carry and have ahead of it."""
    ampacity: Values = {"wire": feeder.carrying.size, "allowed_a": feeder.carrying.allowed_a}
    return ampacity | {"largest_a": feeder.largest_device_a, "most_a": feeder.most_a}


def _drop_hit(case: Case, item: CircuitWiring, drop_frac: float, limit_frac: float, **more: Value) -> Hit:
    length_m = case.house.circuit_by_id[item.circuit].length_m
    figures: Values = {"length_m": length_m, "drop_frac": drop_frac, "limit_frac": limit_frac}
    return Hit(item.name, {"circuit": item.name, **figures, **more})
