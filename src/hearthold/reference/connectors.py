"""Plugs and inlets: rating, voltages, and the power each lets through."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.quantities.source import Source
from hearthold.reference.reader import table
from hearthold.reference.shape import Row


@dataclass(frozen=True, slots=True)
class Connector:
    """One plug and inlet configuration. `working_v` is between the two live conductors."""

    id: str
    meaning: str
    style: str
    rating_a: float
    working_v: float
    poles: int
    wires: int
    has_240_v: bool
    has_neutral: bool
    continuous_frac: float
    cord_awg: str
    systems: tuple[str, ...]
    source: Source
    note: str

    @property
    def through_w(self) -> float:
        """Power let through at unity power factor."""
        return self.rating_a * self.working_v

    @property
    def through_continuous_w(self) -> float:
        """Power that may be held for hours."""
        return self.through_w * self.continuous_frac

    @property
    def leg_w(self) -> float:
        """Power of one leg: half the through power where there are two legs and a neutral."""
        return self.through_w / 2.0 if self.has_240_v and self.has_neutral else self.through_w


def connector(name: str) -> Connector:
    """A connector by configuration, such as L14-30, 14-50 or CEE-32. Raises TableError with near names.

    Source: ANSI/NEMA WD 6; IEC 60309-2.
    """
    return _connector(table("connectors").row(name))


def connectors() -> tuple[Connector, ...]:
    """Every connector of the table."""
    return tuple(_connector(r) for r in table("connectors"))


def connector_through_w(name: str) -> float:
    """Power a connector lets through at unity power factor. Raises TableError."""
    return connector(name).through_w


def connector_continuous_w(name: str) -> float:
    """Power a connector lets through for hours. Raises TableError."""
    return connector(name).through_continuous_w


def _connector(row: Row) -> Connector:
    return Connector(
        id=row.text("id"),
        meaning=row.text("meaning"),
        style=row.text("style"),
        rating_a=row.si("rating_a"),
        working_v=row.si("working_v"),
        poles=int(row.number("poles")),
        wires=int(row.number("wires")),
        has_240_v=row.flag("has_240_v"),
        has_neutral=row.flag("has_neutral"),
        continuous_frac=row.si("continuous_frac"),
        cord_awg=row.text("cord_awg") if "cord_awg" in row else "",
        systems=row.systems,
        source=row.source(),
        note=row.note,
    )
