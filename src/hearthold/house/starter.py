"""A new house file: a short, commented one from a few answers or from none, that can be read at once.

Values nobody gave are plain guesses and say so beside them. What a rule about danger reads is never guessed:
where the machine stands and what guards it must stay unknown until somebody says it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi
from typing import Any

from hearthold.house.loads import Circuit
from hearthold.house.site import VoltageSystem
from hearthold.house.starter_page import explained_once, inline, quoted, section, system_data
from hearthold.house.starter_stores import store_sections
from hearthold.house.starter_wiring import Planned, is_motor, planned_circuits, priority
from hearthold.quantities import units
from hearthold.reference.loads import Load, load

_NORTH_WARMEST = 7  # July; January south of the equator


@dataclass(frozen=True, slots=True)
class Machine:
    """The generator as a person tells it; quantities as text with their unit."""

    fuel: str
    running: str
    start: str
    receptacle: str
    tank: str
    stock: str
    owned: bool = True


@dataclass(frozen=True, slots=True)
class Answers:
    """What `new` asks; an empty text means "not said", and the usual value of the system is written."""

    name: str = "My house"
    system: VoltageSystem = VoltageSystem.SPLIT_120_240
    place: str = ""
    country: str = ""
    latitude: str = ""
    longitude: str = ""
    altitude: str = ""
    time_zone: str = ""
    people: str = ""
    coldest: str = ""
    warmest: str = ""
    floor_area: str = ""
    loads: tuple[str, ...] | None = None  # kinds of the catalogue; None for the usual ones
    machine: Machine | None = None
    machine_asked: bool = False  # True: machine is None because there is none
    hookup: str = "manual_transfer"  # "" where there is none

    def said(self, key: str) -> str:
        """The answer, or the usual value of the system."""
        return str(getattr(self, key) or usual(self.system)[key])


def usual(system: VoltageSystem) -> dict[str, Any]:
    """Answers offered for a voltage system."""
    found: dict[str, Any] = system_data(system)["usual"]
    return found


def starter_text(answers: Answers) -> str:
    """The house file. Raises InputError for a quantity or a kind of load that is not known."""
    chosen = [load(k) for k in (usual(answers.system)["loads"] if answers.loads is None else answers.loads)]
    machine = _machine(answers)
    most_w = units.parse(machine.running, "power") if machine is not None else float("inf")
    wiring = planned_circuits(chosen, answers.system, most_w)
    parts = [
        _head(),
        *_place(answers),
        *_circuits(wiring),
        *_loads(wiring),
        *(_supply(answers, machine) if machine is not None else [_no_machine()]),
        *store_sections(wiring, answers.system, (answers.said("floor_area"), not answers.floor_area)),
    ]
    return "\n".join(parts)


def _head() -> str:
    lines = [
        "# The house file: everything Hearthold knows about this house.",
        "# Put right what is marked (guess); nobody was asked, or nobody knew. Quantities carry their unit.",
        "# Read it back with: hearthold check FILE        Every key: hearthold schema",
        "",
        "format = 1",
        "",
    ]
    return "\n".join(lines)


def _place(answers: Answers) -> list[str]:
    low, high = answers.said("coldest"), answers.said("warmest")
    unit, means = _means(low, high, southern=float(answers.said("latitude")) < 0)
    site = {k: (quoted(answers.said(k)), not getattr(answers, k)) for k in ("place", "country")}
    site |= {k: (answers.said(k), not getattr(answers, k)) for k in ("latitude", "longitude")}
    site |= {k: (quoted(answers.said(k)), not getattr(answers, k)) for k in ("altitude", "time_zone")}
    climate = {
        "unit": (quoted(unit), False),
        "mean": (f"[{', '.join(f'{m:.0f}' for m in means)}]", True),
        "daily_range": ("18" if unit == "F" else "8", True),
        "cold_spell": ("14" if unit == "F" else "8", True),
        "source": (quoted("coldest and warmest month, the rest on a smooth curve between them"), False),
    }
    return [
        section("[house]", "house", {"name": (quoted(answers.name), False)}),
        section("[site]", "site", site | {"system": (quoted(answers.system.value), False)}),
        section("[people]", "people", {"count": (answers.said("people"), not answers.people)}),
        section("[climate]", "climate", climate),
        section("[outages]", "outages", {"plan_for": ('"72 h"', True)}),
    ]


def _circuits(wiring: tuple[Planned, ...]) -> list[str]:
    rule = "# The panel. Breaker sizes stand on the breakers, wire sizes on the cable; open nothing for it."
    return [rule + "\n", *explained_once([_circuit(planned.circuit) for planned in wiring])]


def _circuit(circuit: Circuit) -> str:
    run = system_data(VoltageSystem.SPLIT_120_240 if "AWG" in circuit.wire else VoltageSystem.SINGLE_230)[
        "wiring"
    ]["run"]
    keys = {
        "id": (quoted(circuit.id), False),
        "name": (quoted(circuit.name), False),
        "breaker": (f"{circuit.breaker_a:g}", True),
        "poles": (str(circuit.poles), True),
        "wire": (quoted(circuit.wire), True),
        "cable": (quoted(circuit.cable or ""), True),
        "length": (quoted(run), True),
        "panel": (quoted(circuit.panel), True),
    }
    if circuit.poles == 1:
        del keys["poles"]
    return section("[[circuit]]", "circuit", keys)


def _loads(wiring: tuple[Planned, ...]) -> list[str]:
    rule = (
        "# What uses electricity. A nameplate beats the catalogue: write running, lra or amps with the kind."
    )
    loads = [_load(kind, planned.circuit.id) for planned in wiring for kind in planned.kinds]
    return [rule + "\n", *explained_once(loads)]


def _load(kind: Load, circuit_id: str) -> str:
    keys = {
        "id": (quoted(kind.id), False),
        "kind": (quoted(kind.id), False),
        "circuit": (quoted(circuit_id), False),
        "priority": (quoted(priority(kind).value), True),
    }
    return section("[[load]]", "load", keys, note=kind.name, more=is_motor(kind))


def _machine(answers: Answers) -> Machine | None:
    if answers.machine is not None or answers.machine_asked:
        return answers.machine
    values = usual(answers.system)
    return Machine(
        "gasoline",
        values["running"],
        values["start"],
        values["receptacle"],
        values["tank"],
        values["fuel_stock"],
    )


def _supply(answers: Answers, machine: Machine) -> list[str]:
    guess = answers.machine is None
    values = {
        "name": (quoted("the generator"), False),
        "owned": ("true" if machine.owned else "false", guess),
        "receptacle": (quoted(machine.receptacle), guess),
    }
    on = {
        "fuel": (quoted(machine.fuel), guess),
        "running": (quoted(machine.running), guess),
        "start": (quoted(machine.start), guess),
    }
    if machine.tank:
        on["tank"] = (quoted(machine.tank), guess)
    parts = [
        "# Run a generator outdoors only, far from doors and windows: its exhaust kills without warning.\n",
        section("[generator]", "generator", values),
        section("[[generator.on]]", "generator.on", on),
        section("[fuel]", "fuel", {"preferred": (quoted(machine.fuel), guess)}),
        section("[[fuel.stock]]", "fuel.stock", _stock(machine, guess)),
    ]
    return parts + ([_hookup(answers, machine)] if answers.hookup else [])


def _stock(machine: Machine, guess: bool) -> dict[str, tuple[str, bool]]:
    """Gas comes by pipe, propane by weight, liquids by volume."""
    fuel = {"fuel": (quoted(machine.fuel), guess)}
    if machine.fuel == "natural_gas":
        return fuel | {"mains": ("true", guess)}
    return fuel | {"mass" if machine.fuel == "propane" else "amount": (quoted(machine.stock), guess)}


def _hookup(answers: Answers, machine: Machine) -> str:
    wiring = system_data(answers.system)["wiring"]
    keys = {
        "kind": (quoted(answers.hookup), answers.machine is None),
        "cord": (inline(wire=wiring["cord"], cable="cord", length=wiring["cord_run"]), True),
        "permit": ('"unknown"', True),
        "installed_by": ('"unknown"', True),
    }
    if answers.hookup != "cords":
        keys["inlet"] = (quoted(machine.receptacle), True)
        keys["feeder"] = (
            inline(wire=wiring["feeder"], cable=wiring["cable"], length=wiring["feeder_run"]),
            True,
        )
    head = (
        "# Only transfer equipment that a licensed electrician installs, with a permit, may feed the house.\n"
    )
    return head + "\n" + section("[hookup]", "hookup", keys)


def _no_machine() -> str:
    return (
        "# No generator yet. When one is in mind, add [generator], [[generator.on]], [fuel] and [hookup].\n"
    )


def _means(coldest: str, warmest: str, *, southern: bool) -> tuple[str, list[float]]:
    """Unit and twelve monthly means on a cosine between the coldest and the warmest month."""
    unit = "F" if coldest.strip().upper().endswith("F") else "C"
    ends_c = [units.parse(text, "temperature") for text in (coldest, warmest)]
    low, high = sorted(units.in_unit(end_c, unit, "temperature") for end_c in ends_c)
    peak = 1 if southern else _NORTH_WARMEST
    return unit, [(low + high) / 2 + (high - low) / 2 * cos(2 * pi * (m - peak) / 12) for m in range(1, 13)]
