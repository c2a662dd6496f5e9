"""Impossible pairs of the electrical part: voltages and poles, breakers and wires, ratings of the machine."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.house import wire
from hearthold.house.document import HouseDocument
from hearthold.house.loads import Circuit, LoadEntry
from hearthold.house.motorcircuit import motor_device
from hearthold.house.nameplate import full_load_a, kind_of, known_voltage
from hearthold.house.site import VoltageSystem
from hearthold.reference import motors

Where = tuple[str | int, ...]
Problem = tuple[Where, str, str]  # place, problem, remedy; the value is shown as the file has it


def voltage_problems(document: HouseDocument) -> Iterator[Problem]:
    """Loads, circuits and the machine against the supply's voltages."""
    system = document.site.system
    circuits = {c.id: c for c in document.circuit}
    volts = [f"{v:g}" for v in sorted({system.leg_voltage_v, system.full_voltage_v})]
    for i, load in enumerate(document.load):
        circuit = circuits.get(load.circuit)
        voltage = known_voltage(load, document.site.system)
        if circuit is None or voltage is None:
            continue
        if not 0.8 * system.leg_voltage_v <= voltage <= 1.2 * system.full_voltage_v:
            yield (
                ("load", i, "volts"),
                f"is {voltage:g} V, which is not a voltage of {system.value}.",
                f"Use {' or '.join(volts)}.",
            )
        elif voltage > 1.2 * system.leg_voltage_v and circuit.poles == 1:
            yield (
                ("load", i, "volts" if load.volts_v is not None else "circuit"),
                (
                    f'hangs a load of {voltage:g} V on circuit "{circuit.id}", which has one pole '
                    f"({system.leg_voltage_v:g} V)."
                ),
                "Give the circuit poles = 2, or correct the load's voltage.",
            )
    for i, circuit in enumerate(document.circuit):
        yield from _poles_and_legs(i, circuit, system)


def _poles_and_legs(i: int, circuit: Circuit, system: VoltageSystem) -> Iterator[Problem]:
    if system is VoltageSystem.SINGLE_230 and circuit.poles == 2:
        yield (
            ("circuit", i, "poles"),
            "means 240 V across two legs, which this supply does not have.",
            "Use poles = 1.",
        )
    if circuit.poles == 1 and circuit.leg == "AB":
        yield ("circuit", i, "leg"), "needs two poles.", 'Use leg = "A" or "B", or poles = 2.'
    if circuit.poles == 2 and circuit.leg in ("A", "B"):
        yield (
            ("circuit", i, "leg"),
            "is one leg, and the circuit has two poles.",
            'Use leg = "AB".',
        )
    if system is VoltageSystem.SINGLE_230 and circuit.leg == "B":
        yield (
            ("circuit", i, "leg"),
            "does not exist on a single-phase supply.",
            'Leave leg out, or use "A".',
        )


def wire_problems(document: HouseDocument) -> Iterator[Problem]:
    """Conductors too thin for their breaker; motor circuits may have a larger one: see the rules."""
    for i, circuit in enumerate(document.circuit):
        if not wire.known(circuit.wire, circuit.material):
            yield _no_such_size(("circuit", i), circuit.material)
            continue
        if wire.is_metric(circuit.wire) != (document.site.system is VoltageSystem.SINGLE_230):
            yield (
                ("circuit", i, "wire"),
                f"is not how sizes are told on {document.site.system.value}.",
                wire.sizes_hint(),
            )
            continue
        limit_a = wire.largest_breaker_a(circuit)
        motors_a = _motors_alone_a(document, circuit.id)
        if circuit.breaker_a > limit_a and motors_a:
            yield from _motor_breaker(i, circuit, motor_device(motors_a).most_a)
        elif circuit.breaker_a > limit_a:
            yield (
                ("circuit", i, "breaker"),
                (
                    f"is too large for {circuit.wire} {circuit.material}: at most {limit_a:g} A "
                    f"({wire.limit_source(circuit)})."
                ),
                "If the house is really wired so, switch the circuit off and call an electrician.",
            )
    yield from _supply_wires(document)


def _supply_wires(document: HouseDocument) -> Iterator[Problem]:
    if document.hookup is None:
        return
    for part in ("cord", "feeder"):
        run = getattr(document.hookup, part)
        if run is not None and not wire.known(run.wire, run.material):
            yield _no_such_size(("hookup", part), run.material)


def _no_such_size(where: Where, material: str) -> Problem:
    told = f"is not among the {material} sizes of the tables."
    return (*where, "wire"), told, wire.sizes_hint()


def _motor_breaker(i: int, circuit: Circuit, most_a: float) -> Iterator[Problem]:
    """A breaker beyond what any motor's start is a reason for."""
    if circuit.breaker_a > most_a:
        yield (
            ("circuit", i, "breaker"),
            (
                f"is more than the motors on it ever need: at most {most_a:.3g} A, about four times what they draw "
                f"({wire.motor_source(circuit)})."
            ),
            "If the house is really wired so, switch the circuit off and call an electrician.",
        )


def _motors_alone_a(document: HouseDocument, circuit_id: str) -> list[float]:
    """Full-load currents of the motors of a circuit that has motors alone; else none."""
    on = [x for x in document.load if x.circuit == circuit_id]
    plugged = {store.load for store in document.cold}
    if not all(_is_motor(x) and x.id not in plugged for x in on):
        return []
    currents_a = [full_load_a(x, document.site.system) for x in on]
    return [a for a in currents_a if a is not None]


def _is_motor(load: LoadEntry) -> bool:
    """True for a load whose start draws clearly more than its running; not for what only plugs in."""
    kind = kind_of(load)
    if kind is not None and kind.group == "cold":
        return False
    return bool(load.horsepower or load.lra_a) or (
        kind is not None and kind.start_va > motors.start_ratio(surely=True) * kind.running_va
    )


def machine_problems(document: HouseDocument) -> Iterator[Problem]:
    """A starting rating below the running one. A load above both is told by the rules: it may stay off."""
    if document.generator is None:
        return
    for i, rating in enumerate(document.generator.on):
        if rating.start_w is not None and rating.start_w < rating.running_w:
            yield (
                ("generator", "on", i, "start"),
                f"is {rating.start_w:g} W, below running ({rating.running_w:g} W).",
                "The starting (surge) figure is the larger one.",
            )
