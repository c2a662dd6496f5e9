"""Small judgements about parts: which sign stands for a circuit's loads, which receptacle takes a cord."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.reference import connectors as plugs
from hearthold.sizing.demand import is_lighting

if TYPE_CHECKING:
    from hearthold.house.loads import Load
    from hearthold.house.supply import Generator


def takes_cords(machine: Generator) -> bool:
    """Whether the receptacle of the house file is one for the cord of an appliance.

    Source: configurations 5-15 and 5-20 of ANSI/NEMA WD 6; of IEC 60309-2 none is.
    """
    plug = plugs.connector(machine.receptacle)
    return plug.id in ("5-15", "5-20")


def sign_of(loads: tuple[Load, ...]) -> str:
    """Which symbol stands for a circuit's loads: motor, lamp, heater; plain where they are mixed."""
    if loads and all(is_lighting(x) for x in loads):
        return "lamp"
    if loads and all(x.is_motor and not is_lighting(x) for x in loads):
        return "motor"
    if loads and all(x.power_factor > 0.99 and x.running_w / x.count > 900.0 for x in loads):
        return "heater"
    return "plain"
