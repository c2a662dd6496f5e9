"""Cautions: what to say at the moment work can hurt. Advice; local code and a licensed electrician decide."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.errors import TableError
from hearthold.quantities.source import Source
from hearthold.reference.reader import table
from hearthold.reference.shape import Row


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: what hurts, when to say it, what to say."""

    id: str
    topic: str
    moment: str
    text: str
    distance_m: float | None
    wait_s: float | None
    systems: tuple[str, ...]
    source: Source
    note: str


def caution(name: str) -> Caution:
    """A caution by id, such as co_distance. Raises TableError with near names."""
    return _caution(table("cautions").row(name))


def cautions(moment: str = "", topic: str = "", system: str = "") -> tuple[Caution, ...]:
    """Cautions of a moment, topic and voltage system; each may be left open.

    Raises: TableError for a moment or topic the table does not know.
    """
    columns = table("cautions").columns
    for name, asked in (("moment", moment), ("topic", topic)):
        if asked and asked not in columns[name].choices:
            raise TableError(f"{name} {asked!r} is not one of {', '.join(columns[name].choices)}")
    rows = table("cautions").where(**{k: v for k, v in (("moment", moment), ("topic", topic)) if v})
    return tuple(_caution(r) for r in rows if not system or system in r.systems)


def moments() -> tuple[str, ...]:
    """Moments at which a caution may be due."""
    return table("cautions").columns["moment"].choices


def _caution(row: Row) -> Caution:
    return Caution(
        id=row.text("id"),
        topic=row.text("topic"),
        moment=row.text("moment"),
        text=row.text("caution"),
        distance_m=row.si_or_none("distance_ft"),
        wait_s=row.si_or_none("wait_min"),
        systems=row.systems,
        source=row.source(),
        note=row.note,
    )
