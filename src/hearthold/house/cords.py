"""Cords in place of wiring: which appliances a few of them feed, each cord a circuit of its own.

house.running          # the house itself, unless its hookup is cords
house.reach.no_cord    # what has a plug and is left without a cord

The one answer to what a cord reaches: findings, plans, studies and papers all have it from the house.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import count
from math import inf
from typing import TYPE_CHECKING

from hearthold.house.loads import Circuit, Cord, Load, Priority
from hearthold.reference.plugs import Connection, connection, extension_cords

if TYPE_CHECKING:
    from hearthold.house.house import House

_SMALL_GROUPS = ("light_and_comms", "medical")  # a lamp, a radio and a device at a bedside share a cord


@dataclass(frozen=True, slots=True)
class Reach:
    """What cords do for the loads of a house, each part in file order; what takes no power is in none."""

    on_cords: tuple[Load, ...]
    no_cord: tuple[Load, ...]  # have a plug, and none is left
    too_large: tuple[Load, ...]  # have a plug, and ask more than one cord carries or the machine's plate says
    no_plug: tuple[Load, ...]  # wired in, or on an outlet of another form, voltage or current


def with_cords(house: House) -> House:
    """The house with nothing fed but a few cords, each a circuit of its own, to the most wanted plug-in loads.

    A file says nothing of cords one by one, so they are laid in a hookup that is there as in one designed anew.
    """
    cords = plan_cords(house)
    where = {load: cord.id for cord in cords for load in cord.loads}
    rest = tuple(c.model_copy(update={"panel": "main"}) for c in house.circuits)
    loads = tuple(replace(x, circuit=where.get(x.id, x.circuit)) for x in house.loads)
    circuits = (*rest, *(_circuit(house, cord) for cord in cords))
    return replace(house, circuits=circuits, loads=loads, cords=cords)


def plan_cords(house: House) -> tuple[Cord, ...]:
    """A few cords: the most wanted loads that have a plug; small ones share one as far as it carries.

    Source: number and shares of reference.plugs.extension_cords.
    """
    most = extension_cords(house.system.value)
    most_va = most.plug_a * house.system.leg_voltage_v
    wanted = sorted(
        (x for x in house.loads if has_plug(house, x) and _fits(house, x)), key=lambda x: _rank(house, x)
    )
    alone = [x for x in wanted if x.is_motor or x.running_w > most.alone_w or x.group not in _SMALL_GROUPS]
    shared = _shared([x for x in wanted if x not in alone], most.planned_frac * most_va)
    heads = [[x] for x in alone] + ([shared] if shared else [])
    heads.sort(key=lambda group: _rank(house, group[0]))
    kept = [g for g in heads if g[0].priority is not Priority.DEFER or g[0] in house.vital_loads]
    return tuple(
        Cord(name, tuple(x.id for x in group))
        for name, group in zip(_names(house), kept[: most.most_count], strict=False)
    )


def reach(house: House) -> Reach:
    """What the cords of a house feed, what has a plug and no cord, and what no cord can be plugged into."""
    fed = {load for cord in house.running.cords or () for load in cord.loads}
    asking = [x for x in house.loads if x.running_w > 0.0]
    left = [x for x in asking if x.id not in fed]
    plugs = [x for x in left if has_plug(house, x)]
    return Reach(
        tuple(x for x in asking if x.id in fed),
        tuple(x for x in plugs if _fits(house, x)),
        tuple(x for x in plugs if not _fits(house, x)),
        tuple(x for x in left if x not in plugs),
    )


def has_plug(house: House, load: Load) -> bool:
    """Whether a load, or a lamp in its place, has a plug that an extension cord takes.

    Source: how kinds are connected, and what a plug passes, by reference.plugs.
    """
    fits = load.voltage_v <= 1.1 * house.system.leg_voltage_v
    piece_a = load.running_a / load.count
    plugged = connection(load.kind, house.system.value).plugs_in
    return plugged and fits and 0.0 < piece_a <= extension_cords(house.system.value).plug_a


def on_a_cord(house: House, load: Load) -> str:
    """What is plugged in: the appliance, or a lamp with a plug where the load's own lights are wired in."""
    stands_in = connection(load.kind, house.system.value) is Connection.STAND_IN
    return f"a lamp with a plug, for {load.name}" if stands_in else load.name


def _fits(house: House, load: Load) -> bool:
    """Whether one cord carries all pieces of a load, and the machine by its plate runs and starts it."""
    plates = house.generator.on if house.generator is not None else ()
    runs = not plates or any(
        load.running_w <= p.running_w and load.start_w <= (p.start_w or inf) for p in plates
    )
    return runs and load.running_a <= extension_cords(house.system.value).plug_a


def _rank(house: House, load: Load) -> tuple[int, int, str]:
    """Vital first, then by priority; of one priority what fails first: a pit, a fridge, a freezer, then the rest."""
    vital = load in house.vital_loads
    return (0 if vital else 1 + load.priority.rank, _holds(house, load), load.id)


def _holds(house: House, load: Load) -> int:
    """How long the store behind a load holds, in steps: hours, a day, or nothing to hold.

    Source: FoodSafety.gov: a fridge 4 h, a freezer 24 to 48 h; that pits come first is common practice, no source.
    """
    if any(pit.load == load.id for pit in house.pits):
        return 0
    freezers = {store.is_freezer for store in house.cold if store.load == load.id}
    return 3 if not freezers else 1 if False in freezers else 2


def _shared(small: list[Load], most_va: float) -> list[Load]:
    found: list[Load] = []
    for load in small:
        if sum(x.running_va for x in found) + load.running_va <= most_va:
            found.append(load)
    return found


def _names(house: House) -> Iterator[str]:
    """Ids for cords that no circuit of the house has."""
    taken = house.circuit_by_id
    return (name for number in count(1) if (name := f"cord_{number}") not in taken)


def _circuit(house: House, cord: Cord) -> Circuit:
    made = extension_cords(house.system.value)
    named = ", ".join(on_a_cord(house, house.load_by_id[i]) for i in cord.loads)
    return Circuit.model_validate(
        {"id": cord.id, "name": f"cord to {named}"[:118], "breaker": f"{made.breaker_a:g} A", "wire": made.wire,
         "length": f"{made.length_m:g} m", "panel": "essential"}
    )  # fmt: skip
