"""What days of propane leave unsaid: a heater that draws on it too, and the cold, in which it boils slowly."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.house.supply import FuelKind
from hearthold.papers.words.say import duration
from hearthold.quantities.spans import DAY_S
from hearthold.sizing.fuel import days_for_two

if TYPE_CHECKING:
    from hearthold.plan.result import Plan

_RULE = "heater-on-the-same-propane"
_SLOW = "propane-too-cold"


def reach(plan: Plan, kind: FuelKind, days: float) -> str:
    """How long days of a stock are, and what is left of them with the heater on it too."""
    shared = with_heater(plan, kind, days)
    return f"{duration(days * DAY_S)}{', ' + shared if shared else ''}"


def with_heater(plan: Plan, kind: FuelKind, days: float) -> str:
    """What is left of the days of a stock with the heater on it too; empty where none draws on it."""
    found = next((f for f in plan.findings if f.rule == _RULE), None)
    if found is None or kind is not FuelKind.PROPANE or not 0.0 < days < float("inf"):
        return ""
    both = days_for_two(days, float(found.values["lasts_s"]) / DAY_S)
    return f"{duration(both * DAY_S)} with the heater on it all day"


def in_the_cold(plan: Plan, kind: FuelKind) -> str:
    """That the cold keeps the stock from giving what half load burns; empty where it does not."""
    slow = kind is FuelKind.PROPANE and any(f.rule == _SLOW for f in plan.findings)
    return "in the cold too little gas for half load on end" if slow else ""
