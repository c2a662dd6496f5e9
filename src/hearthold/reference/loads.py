"""The catalogue of loads: what a rural house and its homestead run, with ranges and standing."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from hearthold.errors import TableError
from hearthold.quantities.source import Source
from hearthold.reference.parsing import SYSTEMS
from hearthold.reference.reader import table
from hearthold.reference.shape import Row

LOAD_CLASSES = ("life_safety", "essential", "comfort", "defer")


@dataclass(frozen=True, slots=True)
class Load:
    """One kind of load. Mean power is the day's energy over the day, while the load is in use.

    `source` speaks for the running power; `note` says what else was read where.
    """

    id: str
    name: str
    group: str
    load_class: str
    systems: tuple[str, ...]
    voltage_v: float
    running_w: float
    low_w: float
    high_w: float
    start_va: float
    start_kind: str
    power_factor: float
    duty_frac: float
    mean_low_w: float
    mean_high_w: float
    pattern: str
    source: Source
    note: str

    @property
    def running_va(self) -> float:
        """Apparent power when running."""
        return self.running_w / self.power_factor

    def voltage_in_v(self, system: str) -> float:
        """Voltage in a house of this system: a load of both systems takes 230 V in a 230 V house.

        Raises: TableError if the load does not belong to the system.
        """
        if system not in self.systems:
            raise TableError(f"load {self.id} is not of the {system} system")
        return 230.0 if system == "single_230" else self.voltage_v


def load(name: str) -> Load:
    """A load by id, such as well_half_hp_two_wire. Raises TableError with near names."""
    return _load(table("loads").row(name))


def loads(system: str = "", group: str = "", load_class: str = "") -> tuple[Load, ...]:
    """Loads of a voltage system, group and class; each may be left open.

    Raises TableError for an unknown one.
    """
    for asked, known in ((system, SYSTEMS), (group, load_groups()), (load_class, LOAD_CLASSES)):
        if asked and asked not in known:
            raise TableError(f"{asked!r} is not one of {', '.join(known)}")
    equal = {k: v for k, v in (("group", group), ("load_class", load_class)) if v}
    rows = table("loads").where(**equal)
    return tuple(_load(r) for r in rows if not system or system in r.systems)


@cache
def load_ids() -> tuple[str, ...]:
    """Ids of all loads, in the order of the files."""
    return tuple(str(n) for n in table("loads").names())


def load_groups() -> tuple[str, ...]:
    """Groups of the catalogue."""
    return table("loads").columns["group"].choices


def _load(row: Row) -> Load:
    return Load(
        id=row.text("id"),
        name=row.text("name"),
        group=row.text("group"),
        load_class=row.text("load_class"),
        systems=row.systems,
        voltage_v=row.si("voltage_v"),
        running_w=row.si("running_w"),
        low_w=row.si("low_w"),
        high_w=row.si("high_w"),
        start_va=row.si("start_va"),
        start_kind=row.text("start_kind"),
        power_factor=row.si("power_factor"),
        duty_frac=row.si("duty_frac"),
        mean_low_w=row.si("low_kwh_per_day"),
        mean_high_w=row.si("high_kwh_per_day"),
        pattern=row.text("pattern"),
        source=row.source("running_w"),
        note=row.note,
    )
