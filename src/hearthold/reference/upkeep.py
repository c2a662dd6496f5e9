"""Upkeep of a set: tasks by running hours or months, and how long sets last. From memory; the manual wins."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.quantities.source import Source
from hearthold.reference.reader import table
from hearthold.reference.shape import Row


@dataclass(frozen=True, slots=True)
class UpkeepTask:
    """One task, by running time or calendar time; None where it does not go by that measure."""

    task: str
    meaning: str
    running_low_s: float | None
    running_high_s: float | None
    calendar_s: float | None
    exercise_s: float | None
    load_low_frac: float | None
    load_high_frac: float | None
    life_low_s: float | None
    life_high_s: float | None
    source: Source
    note: str


def upkeep_task(task: str) -> UpkeepTask:
    """A task by name, such as oil_change. Raises TableError with near names."""
    return _task(table("maintenance").row(task))


def upkeep_tasks() -> tuple[UpkeepTask, ...]:
    """Every task, in the order of the table."""
    return tuple(_task(r) for r in table("maintenance"))


def set_life_s(kind: str) -> tuple[float, float]:
    """Running time to wear-out, low and high: portable_gasoline, standby_air_cooled. Raises TableError."""
    row = table("set_life").row(kind)
    return row.si("low_h"), row.si("high_h")


def _task(row: Row) -> UpkeepTask:
    months, days = row.si_or_none("or_month"), row.si_or_none("every_day")
    return UpkeepTask(
        task=row.text("task"),
        meaning=row.text("meaning"),
        running_low_s=row.si_or_none("low_h"),
        running_high_s=row.si_or_none("high_h"),
        calendar_s=days if months is None else months,
        exercise_s=row.si_or_none("exercise_min"),
        load_low_frac=row.si_or_none("low_load_frac"),
        load_high_frac=row.si_or_none("high_load_frac"),
        life_low_s=row.si_or_none("low_life_yr"),
        life_high_s=row.si_or_none("high_life_yr"),
        source=row.source(),
        note=row.note,
    )
