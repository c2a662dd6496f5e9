"""What circuits get, in the words that pages and papers share."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.papers.words.say import names

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.plan.choice import Choice


def fed(house: House) -> str:
    """How many circuits power reaches while the grid is down."""
    if house.hookup is None:
        return "nothing feeds them yet"
    return "cords feed none of them" if house.on_cords else f"the hookup feeds {len(house.fed_circuits)}"


def stay_off(choice: Choice) -> tuple[tuple[str, str], ...]:
    """Circuits that are never carried and why, those of one reason together."""
    found: dict[str, list[str]] = {}
    for circuit in choice.circuits:
        if circuit.circuit in choice.never:
            found.setdefault(circuit.reason, []).append(circuit.name)
    return tuple((names(circuits, 60), reason) for reason, circuits in found.items())
