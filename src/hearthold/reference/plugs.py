"""How loads are usually connected, and what extension cords from a set can do for those with a plug."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from hearthold.reference.reader import table


class Connection(StrEnum):
    """How a kind usually gets its power."""

    PLUG = "plug"  # for any outlet
    OWN_OUTLET = "own_outlet"  # of another form or voltage
    WIRED = "wired"
    STAND_IN = "stand_in"  # wired in, and a lamp with a plug can stand in
    NONE = "none"  # takes no power

    @property
    def plugs_in(self) -> bool:
        """Whether an extension cord can serve it, or what stands in for it."""
        return self in (Connection.PLUG, Connection.STAND_IN)


@dataclass(frozen=True, slots=True)
class ExtensionCords:
    """What is planned on where cords are the only way; see the table."""

    plug_a: float
    most_count: int
    planned_frac: float
    alone_w: float
    wire: str
    breaker_a: float
    length_m: float


def connection(kind: str | None, system: str) -> Connection:
    """How a kind is usually connected in a voltage system; what has no kind is taken to have a plug.

    Common practice, no source. Raises TableError for an unknown kind.
    """
    if kind is None:
        return Connection.PLUG
    row = table("connections").row(kind)
    differs = system == "single_230" and "connection_230" in row
    return Connection(row.text("connection_230" if differs else "connection"))


@cache
def extension_cords(system: str) -> ExtensionCords:
    """Cords of a voltage system. Common practice, no source; plugs from memory. Raises TableError."""
    row = table("extension_cords").row(system)
    return ExtensionCords(
        plug_a=row.si("plug_a"), most_count=int(row.number("most_count")), planned_frac=row.si("planned_frac"),
        alone_w=row.si("alone_w"), wire=row.text("wire"), breaker_a=row.si("breaker_a"),
        length_m=row.si("length_ft"),
    )  # fmt: skip
