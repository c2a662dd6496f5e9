"""A plausible panel for the loads of a new file: big ones alone, small ones together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hearthold.house import wire
from hearthold.house.loads import Circuit, Priority
from hearthold.house.site import VoltageSystem
from hearthold.house.starter_page import system_data
from hearthold.reference import motors
from hearthold.reference.loads import Load

_ALONE_W = (
    300.0  # a load of more than this, or a motor, gets a circuit of its own; common practice, no source
)
_HELD_FRAC = 0.8  # a breaker is chosen so that the load takes at most this share; common practice, no source
_FED = (Priority.VITAL, Priority.ESSENTIAL)


@dataclass(frozen=True, slots=True)
class Planned:
    """One circuit and the loads on it."""

    circuit: Circuit
    kinds: tuple[Load, ...]


def planned_circuits(chosen: Iterable[Load], system: VoltageSystem, most_w: float) -> tuple[Planned, ...]:
    """Circuits for some kinds of load; none above `most_w` goes on the panel that the machine feeds."""
    alone: list[Load] = []
    together: list[Load] = []
    for kind in dict.fromkeys(chosen):
        (alone if kind.running_w > _ALONE_W or is_motor(kind) else together).append(kind)
    planned = [Planned(_own(kind, system, most_w), (kind,)) for kind in alone]
    if together:
        planned.append(Planned(_shared(together, system), tuple(together)))
    return tuple(planned)


def is_motor(kind: Load) -> bool:
    """True where a start draws clearly more than running: the rule of `house.loads.Load.is_motor`."""
    return kind.start_va > motors.start_ratio() * kind.running_va


def priority(kind: Load) -> Priority:
    """The catalogue's class as the house file words it."""
    return Priority.VITAL if kind.load_class == "life_safety" else Priority(kind.load_class)


def _own(kind: Load, system: VoltageSystem, most_w: float) -> Circuit:
    fed = priority(kind) in _FED and kind.running_w <= most_w
    two_poles = (
        system is VoltageSystem.SPLIT_120_240 and kind.voltage_in_v(system.value) > 1.2 * system.leg_voltage_v
    )
    current_a = kind.running_va / kind.voltage_in_v(system.value)
    return _circuit(
        f"{kind.id}"[:38], kind.name, current_a, system, 2 if two_poles else 1, "essential" if fed else "main"
    )


def _shared(together: list[Load], system: VoltageSystem) -> Circuit:
    current_a = sum(kind.running_va for kind in together) / system.leg_voltage_v
    return _circuit("lights_and_small", "Lights and small things", current_a, system, 1, "essential")


def _circuit(
    ident: str, name: str, current_a: float, system: VoltageSystem, poles: int, panel: str
) -> Circuit:
    wiring = system_data(system)["wiring"]
    breakers = wiring["breakers_a"]
    breaker_a = next((a for a in breakers if current_a <= _HELD_FRAC * a), breakers[-1])
    draft = {
        "id": ident, "name": name, "breaker": breaker_a, "poles": poles, "cable": wiring["cable"],
        "length": wiring["run"], "panel": panel,
    }  # fmt: skip
    tries = [Circuit.model_validate({**draft, "wire": size}) for size in wiring["wires"]]
    return next((c for c in tries if wire.largest_breaker_a(c) >= breaker_a), tries[-1])
