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


NO_NUMBER = "your emergency number"


def emergency_number(country: str) -> str:
    """The number to call when life is in danger; words that ask for it where the table has no such country."""
    found = table("emergency_numbers").where(country=country)
    return found[0].text("call") if found else NO_NUMBER


def caution(name: str) -> Caution:
    """A caution by id, such as co_distance. Raises TableError with near names."""
    return _caution(table("cautions").row(name))


def local_caution(name: str, system: str, country: str = "") -> Caution:
    """The caution as it is said on this voltage system, with the emergency number of this country.

    Raises: TableError with near names.
    """
    stands = table("cautions").row(name)
    own = [r for r in table("cautions").where(instead_of=name) if system in r.systems]
    return _caution(next(iter(own), stands), country)


def cautions(moment: str = "", topic: str = "", system: str = "") -> tuple[Caution, ...]:
    """Cautions of a moment, topic and voltage system; each may be left open.

    Raises: TableError for a moment or topic the table does not know.
    """
    columns = table("cautions").columns
    for name, asked in (("moment", moment), ("topic", topic)):
        if asked and asked not in columns[name].choices:
            raise TableError(f"{name} {asked!r} is not one of {', '.join(columns[name].choices)}")
    rows = table("cautions").where(**{k: v for k, v in (("moment", moment), ("topic", topic)) if v})
    replaced = {r.text("instead_of") for r in table("cautions") if "instead_of" in r and system in r.systems}
    if not system:
        return tuple(_caution(r) for r in rows)
    return tuple(_caution(r) for r in rows if system in r.systems and r.text("id") not in replaced)


def moments() -> tuple[str, ...]:
    """Moments at which a caution may be due."""
    return table("cautions").columns["moment"].choices


def _caution(row: Row, country: str = "") -> Caution:
    return Caution(
        id=row.text("id"),
        topic=row.text("topic"),
        moment=row.text("moment"),
        text=row.text("caution").replace("{emergency}", emergency_number(country)),
        distance_m=row.si_or_none("distance_ft"),
        wait_s=row.si_or_none("wait_min"),
        systems=row.systems,
        source=row.source(),
        note=row.note,
    )
