"""Which circuits a hookup feeds: the panel as the file marks it, or cords to what has a plug."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from hearthold.house.loads import Circuit, Load, Priority
from hearthold.house.site import VoltageSystem
from hearthold.reference.hookups import plugs_in
from hearthold.sizing.chain import cord_plug_a

if TYPE_CHECKING:
    from hearthold.house.house import House

MOST_CORDS = 4  # two to four outlets are the limit of the cord-only way: common practice, no source
_ALONE_W = 300.0  # what draws more, or is a motor, gets a cord of its own: common practice, no source
_CORD_FRAC = 0.8  # of a cord's rating that is planned on: common practice, no source
_SMALL_GROUPS = ("light_and_comms", "medical")  # a lamp, a radio and a device at a bedside share a cord


@dataclass(frozen=True, slots=True)
class Cord:
    """One cord and what is plugged into it."""

    id: str
    loads: tuple[str, ...]


def wanted_circuits(house: House) -> tuple[str, ...]:
    """Circuits that a panel hookup is to feed: those the file marks essential, else all that do not wait."""
    marked = tuple(c.id for c in house.circuits if c.panel == "essential")
    if marked:
        return marked
    vital = {x.id for x in house.vital_loads}
    return tuple(
        c.id
        for c in house.circuits
        if any(x.id in vital or x.priority is not Priority.DEFER for x in house.loads_on(c.id))
    )


def must_carry(house: House, circuits: tuple[str, ...]) -> tuple[str, ...]:
    """Of some circuits, those with a vital or essential load."""
    vital = {x.id for x in house.vital_loads}
    worth = (Priority.VITAL, Priority.ESSENTIAL)
    return tuple(c for c in circuits if any(x.id in vital or x.priority in worth for x in house.loads_on(c)))


def with_panel(house: House, circuits: tuple[str, ...]) -> House:
    """The house with exactly these circuits on the essential panel."""
    chosen = set(circuits)
    moved = tuple(
        c.model_copy(update={"panel": "essential" if c.id in chosen else "main"}) for c in house.circuits
    )
    return replace(house, circuits=moved)


def with_cords(house: House, volts: float) -> tuple[House, tuple[Cord, ...]]:
    """The house with nothing fed but a few cords, each a circuit of its own, to the most wanted plug-in loads."""
    cords = plan_cords(house, volts)
    where = {load: cord.id for cord in cords for load in cord.loads}
    rest = tuple(c.model_copy(update={"panel": "main"}) for c in house.circuits)
    loads = tuple(replace(x, circuit=where.get(x.id, x.circuit)) for x in house.loads)
    return replace(house, circuits=(*rest, *(_circuit(house, cord) for cord in cords)), loads=loads), cords


def plan_cords(house: House, volts: float) -> tuple[Cord, ...]:
    """At most four cords: the most wanted loads that have a plug; small ones share one as far as it carries."""
    reach = sorted((x for x in house.loads if _reachable(x, volts)), key=lambda x: _rank(house, x))
    small = [x for x in reach if not _alone(x)]
    shared = _shared(small, _CORD_FRAC * cord_plug_a(house.system) * house.system.leg_voltage_v)
    heads = [[x] for x in reach if _alone(x)] + ([shared] if shared else [])
    heads.sort(key=lambda group: _rank(house, group[0]))
    wanted = [g for g in heads if g[0].priority is not Priority.DEFER or g[0] in house.vital_loads]
    return tuple(
        Cord(f"cord_{i}", tuple(x.id for x in g)) for i, g in enumerate(wanted[:MOST_CORDS], start=1)
    )


def _reachable(load: Load, volts: float) -> bool:
    """A plug of the machine's outlet voltage; nothing wired in."""
    return load.running_w > 0.0 and load.voltage_v <= 1.1 * volts and plugs_in(load.kind, load.group)


def _alone(load: Load) -> bool:
    return load.is_motor or load.running_w > _ALONE_W or load.group not in _SMALL_GROUPS


def _rank(house: House, load: Load) -> tuple[int, bool, str]:
    """Vital first, then by priority, stores before the rest."""
    vital = load in house.vital_loads
    stores = {s.load for s in house.cold} | {p.load for p in house.pits}
    return (0 if vital else 1 + load.priority.rank, load.id not in stores, load.id)


def _shared(small: list[Load], most_va: float) -> list[Load]:
    found: list[Load] = []
    for load in small:
        if sum(x.running_va for x in found) + load.running_va <= most_va:
            found.append(load)
    return found


def _circuit(house: House, cord: Cord) -> Circuit:
    split = house.system is VoltageSystem.SPLIT_120_240
    named = ", ".join(house.load_by_id[i].name for i in cord.loads)
    wire = {"wire": "12 AWG"} if split else {"wire": "2.5 mm2"}
    return Circuit.model_validate(
        {"id": cord.id, "name": f"cord to {named}"[:118], "breaker": "15 A" if split else "16 A",
         "length": "50 ft", "panel": "essential", **wire}
    )  # fmt: skip
