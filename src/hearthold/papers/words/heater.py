"""A heater that burns of the machine's propane: how long the stock lasts two that draw on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.house.supply import FuelKind
from hearthold.papers.words.say import duration
from hearthold.sizing.fuel import days_for_two

if TYPE_CHECKING:
    from hearthold.plan.result import Plan

_RULE = "heater-on-the-same-propane"
_DAY_S = 86400.0


def with_heater(plan: Plan, kind: FuelKind, days: float) -> str:
    """What is left of the days of a stock with the heater on it too; empty where none draws on it."""
    found = next((f for f in plan.findings if f.rule == _RULE), None)
    if found is None or kind is not FuelKind.PROPANE or not 0.0 < days < float("inf"):
        return ""
    both = days_for_two(days, float(found.values["lasts_s"]) / _DAY_S)
    return f"{duration(both * _DAY_S)} with the heater on it all day"
