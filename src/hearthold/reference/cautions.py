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


def local_caution(name: str, system: str, country: str = "") -> Caution:
    """The caution as it is said on this voltage system and in this country, where either has its own words.

    Raises: TableError with near names.
    """
    stands = table("cautions").row(name)
    own = [r for r in table("cautions").where(instead_of=name) if system in r.systems]
    of_country = [r for r in own if "country" in r and r.text("country") == country]
    of_system = [r for r in own if "country" not in r]
    return _caution(next(iter(of_country + of_system), stands))


def cautions(moment: str = "", topic: str = "", system: str = "") -> tuple[Caution, ...]:
    """Cautions of a moment, topic and voltage system; each may be left open. Those of one country are left out.

    Raises: TableError for a moment or topic the table does not know.
    """
    columns = table("cautions").columns
    for name, asked in (("moment", moment), ("topic", topic)):
        if asked and asked not in columns[name].choices:
            raise TableError(f"{name} {asked!r} is not one of {', '.join(columns[name].choices)}")
    rows = table("cautions").where(**{k: v for k, v in (("moment", moment), ("topic", topic)) if v})
    replaced = {r.text("instead_of") for r in table("cautions") if "instead_of" in r and system in r.systems}
    plain = (r for r in rows if "country" not in r)
    if not system:
        return tuple(_caution(r) for r in plain)
    return tuple(_caution(r) for r in plain if system in r.systems and r.text("id") not in replaced)


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
