"""What hookups are built from and ask of people: sizes of machines, lives of parts, minutes of work."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.quantities.source import Source
from hearthold.reference.motors import Spread
from hearthold.reference.reader import table
from hearthold.reference.shape import Row


@dataclass(frozen=True, slots=True)
class MachineSize:
    """One generic size of machine; `receptacle` is "none" for a set that is wired in, `tank_m3` 0 without a tank."""

    id: str
    kind: str
    running_w: float
    start_w: float
    voltage_v: float
    receptacle: str
    tank_m3: float
    source: Source


@dataclass(frozen=True, slots=True)
class HandsOn:
    """A person's time with one hookup: once an outage, each start, each refill, and in a year without outages."""

    setup_s: float
    start_s: float
    refill_s: float
    yearly_s: float
    source: Source


def machine_sizes(system: str, *kinds: str) -> tuple[MachineSize, ...]:
    """Sizes of these kinds of set for a voltage system, smallest first. From memory."""
    rows = [r for r in table("machine_sizes") if system in r.systems and r.text("kind") in kinds]
    return tuple(sorted((_size(r) for r in rows), key=lambda m: m.running_w))


def hands_on(hookup: str) -> HandsOn:
    """A person's time with a hookup, such as interlock. Raises TableError. Common practice, no source."""
    row = table("hands_on").row(hookup)
    return HandsOn(
        setup_s=row.si("setup_min"),
        start_s=row.si("start_min"),
        refill_s=row.si("refill_min"),
        yearly_s=row.si("yearly_h"),
        source=row.source(),
    )


def part_life_s(part: str) -> Spread:
    """Life of a part: portable, standby, battery, panels, wiring, tank, cords. From memory. Raises TableError."""
    row = table("part_lives").row(part)
    return Spread(*(row.si(f"{end}_life_yr") for end in ("low", "typical", "high")))


def _size(row: Row) -> MachineSize:
    return MachineSize(
        row.text("id"),
        row.text("kind"),
        row.si("running_kw"),
        row.si("starting_kw"),
        row.si("voltage_v"),
        row.text("receptacle"),
        row.si("tank_gal"),
        row.source(),
    )
