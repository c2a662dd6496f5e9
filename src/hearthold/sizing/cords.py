"""Cords in place of wiring: which appliances a few of them feed, each cord a circuit of its own.

running = cords_laid(house)    # the house itself, unless its hookup is cords
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
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


@lru_cache(maxsize=8)
def cords_laid(house: House) -> House:
    """What runs in a house whose hookup is cords: nothing of its wiring, only what the cords reach.

    The file says nothing of cords one by one, so the most wanted loads with a plug are taken, as in a hookup designed
    anew. Any other house comes back as it is, and so does one whose cords are laid already.
    """
    if not house.on_cords:
        return house
    laid = any(c.id == "cord_1" for c in house.circuits)
    return house if laid else with_cords(house, house.system.leg_voltage_v)[0]


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


def _circuit(house: House, cord: Cord) -> Circuit:
    split = house.system is VoltageSystem.SPLIT_120_240
    named = ", ".join(house.load_by_id[i].name for i in cord.loads)
    wire = {"wire": "12 AWG"} if split else {"wire": "2.5 mm2"}
    return Circuit.model_validate(
        {"id": cord.id, "name": f"cord to {named}"[:118], "breaker": "15 A" if split else "16 A",
         "length": "50 ft", "panel": "essential", **wire}
    )  # fmt: skip
