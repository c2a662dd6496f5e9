"""What the household is taken to do in an outage.

The planner's routine, or its way to keep the panel on a battery, one for the cold months and one for the warm; or a
machine that starts by itself; or nothing.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.engine.control import Control, Off, Standby
from hearthold.plan.panel import find_panel, has_panel_alone
from hearthold.plan.routine import find_routine
from hearthold.sizing.conditions import conditions, harshest_month

if TYPE_CHECKING:
    from hearthold.house.house import House

Progress = Callable[[str], None]
SEASONS = ("Cold months", "Warm months")


@dataclass(frozen=True, slots=True)
class Habit:
    """One control a month, January first, and what it says in words."""

    controls: tuple[Control, ...]
    words: tuple[str, ...]


def usual_habit(
    house: House, *, month: int | None = None, fuel: str | None = None, progress: Progress | None = None
) -> Habit:
    """The routine that the planner finds for the coldest month and, where months differ, for the warmest one.

    Asked about one month, the routine for that month. Raises InputError for a fuel the machine does not burn.
    """
    if house.generator is None and house.battery is None:
        return Habit((Off(),) * 12, ("Nothing runs: the house file names no machine.",))
    if house.takes_over:
        return Habit((Standby(),) * 12, ("The machine starts by itself and runs until the grid is back.",))
    if month is not None:
        return _one(house, month, fuel, progress)
    months, heated = seasons(house)
    found = [_one(house, m, fuel, progress) for m in months]
    if len(found) == 1:
        return found[0]
    first, second = found
    controls = tuple((first if h else second).controls[0] for h in heated)
    return Habit(controls, tuple(f"{s}: {x.words[0]}" for s, x in zip(SEASONS, found, strict=True)))


def seasons(house: House) -> tuple[tuple[int, ...], tuple[bool, ...]]:
    """Months to find a routine for, the coldest and where months differ the warmest; and which of twelve are heated."""
    cold, heated = harshest_month(house), tuple(conditions(house, m).heating_season for m in range(1, 13))
    if all(heated) or not any(heated):
        return (cold,), heated
    return (cold, max(range(1, 13), key=lambda m: conditions(house, m, harsh=False).outdoor_mean_c)), heated


def _one(house: House, month: int, fuel: str | None, progress: Progress | None) -> Habit:
    if progress is not None:
        progress("finding the routine to follow")
    if has_panel_alone(house):
        kept = find_panel(house, conditions(house, month))
        return Habit((kept.control,) * 12, (kept.sentence,))
    found = find_routine(house, conditions(house, month), fuel=fuel)
    return Habit((found.control,) * 12, (found.sentence,))
