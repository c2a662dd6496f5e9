"""Plugs and inlets: rating, voltages, and the power each lets through."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from hearthold.quantities.source import Source
from hearthold.reference.reader import table
from hearthold.reference.shape import Row


@dataclass(frozen=True, slots=True)
class Connector:
    """One plug and inlet configuration. `working_v` is between the two live conductors."""

    id: str
    also: tuple[str, ...]  # other names of the trade
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

    @property
    def wire_words(self) -> str:
        """The wires that a cord to it must have, such as "four wires (two hot, neutral, ground)".

        Source: ANSI/NEMA WD 6 (2 poles 3 wires, 3 poles 4 wires); IEC 60309-2 (2P+E).
        """
        if "single_230" in self.systems:
            return "three wires (line, neutral, earth)"
        names = ["two hot" if self.has_240_v else "hot", "neutral" if self.has_neutral else "", "ground"]
        count = {3: "three", 4: "four"}[self.wires]
        return f"{count} wires ({', '.join(n for n in names if n)})"


def connector(name: str) -> Connector:
    """A connector by configuration, such as L14-30, 14-50 or CEE-32. Raises TableError with near names.

    Source: ANSI/NEMA WD 6; IEC 60309-2.
    """
    return _connector(table("connectors").row(name))


def connector_id(word: str) -> str | None:
    """The configuration that a name of the trade stands for, such as "NEMA L14-30R" or CS6365; None for no known one.

    Source: ANSI/NEMA WD 6, whose designations end in R for a receptacle and P for a plug, from memory.
    """
    names = _names()
    asked = _bare(word)
    return names.get(asked) or names.get(asked.removesuffix("R").removesuffix("P"))


def connectors() -> tuple[Connector, ...]:
    """Every connector of the table."""
    return tuple(_connector(r) for r in table("connectors"))


def connector_through_w(name: str) -> float:
    """Power a connector lets through at unity power factor. Raises TableError."""
    return connector(name).through_w


def connector_continuous_w(name: str) -> float:
    """Power a connector lets through for hours. Raises TableError."""
    return connector(name).through_continuous_w


@cache
def _names() -> dict[str, str]:
    return {
        _bare(name): row.text("id") for row in table("connectors") for name in (row.text("id"), *_also(row))
    }


def _bare(name: str) -> str:
    """A name without what people write in more than one way."""
    return "".join(c for c in name.upper().removeprefix("NEMA") if c.isalnum())


def _also(row: Row) -> tuple[str, ...]:
    return tuple(row.text("also").split(", ")) if "also" in row else ()


def _connector(row: Row) -> Connector:
    return Connector(
        id=row.text("id"),
        also=_also(row),
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
