"""Which circuits a panel hookup feeds: as the file marks them, or those with anything that does not wait."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hearthold.house.loads import Priority

if TYPE_CHECKING:
    from hearthold.house.house import House


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
