"""Upkeep: exercise, oil, battery, alarms, extinguisher."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.rules.case import Case
from hearthold.rules.finding import Hit, Severity, Values
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow

_DAY_S = 86400.0


@rule("not-exercised")
def not_exercised(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Last run longer ago than the interval."""
    set_ = case.generator
    if set_ is None or set_.last_exercised is None:
        return
    ago_s = case.days_since(set_.last_exercised) * _DAY_S
    if ago_s > row.number("every_s"):
        last = set_.last_exercised.isoformat()
        yield Hit(set_.name, {"machine": set_.name, "last": last, "ago_s": ago_s})


@rule("exercise-unknown")
def exercise_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """No date of the last run."""
    set_ = case.owned
    if set_ is not None and set_.last_exercised is None:
        yield Hit(set_.name, {"machine": set_.name})


@rule("oil-due-by-hours")
def oil_hours(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Hours on the oil beyond the interval."""
    set_ = case.generator
    if set_ is not None and set_.oil_hours_s is not None and set_.oil_hours_s >= row.number("every_engine_s"):
        yield Hit(set_.name, {"machine": set_.name, "run_engine_s": set_.oil_hours_s})


@rule("oil-runs-out-in-outage")
def oil_within_outage(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Hours on the oil that pass the interval before the planned outage ends."""
    set_ = case.generator
    if set_ is None or set_.oil_hours_s is None:
        return
    every_s, run_s = row.number("every_engine_s"), row.number("share_frac") * case.planned_s
    if set_.oil_hours_s < every_s <= set_.oil_hours_s + run_s:
        yield Hit(
            set_.name,
            {"machine": set_.name, "run_engine_s": set_.oil_hours_s, "planned_s": case.planned_s},
        )


@rule("oil-due-by-date")
def oil_date(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Oil older than a year."""
    set_ = case.generator
    if set_ is None or set_.last_oil is None:
        return
    ago_s = case.days_since(set_.last_oil) * _DAY_S
    if ago_s > row.number("every_s"):
        yield Hit(set_.name, {"machine": set_.name, "last": set_.last_oil.isoformat(), "ago_s": ago_s})


@rule("oil-unknown")
def oil_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Neither a date nor hours."""
    set_ = case.owned
    if set_ is not None and set_.last_oil is None and set_.oil_hours_s is None:
        yield Hit(set_.name, {"machine": set_.name})


@rule("start-battery")
def start_battery(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An electric start, and nobody wrote how old its battery is."""
    set_ = case.generator
    if set_ is not None and set_.electric_start is True and set_.start_battery_bought is None:
        yield Hit(set_.name, {"machine": set_.name})


@rule("start-battery-old")
def start_battery_old(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A starting battery as old as such batteries get; graver beyond the longest usual life."""
    set_ = case.generator
    if set_ is None or set_.start_battery_bought is None:
        return
    ago_s = case.days_since(set_.start_battery_bought) * _DAY_S
    if ago_s > row.number("low_s"):
        values: Values = {
            "machine": set_.name,
            "bought": set_.start_battery_bought.isoformat(),
            "ago_s": ago_s,
        }
        yield Hit(set_.name, values, Severity.ACT if ago_s > row.number("high_s") else None)


@rule("test-alarms")
def test_alarms(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Alarms beside an engine."""
    if case.generator is not None and case.house.safety.co_alarms:
        yield Hit("the carbon monoxide alarms", {"alarms": case.house.safety.co_alarms})


@rule("no-extinguisher")
def no_extinguisher(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An engine, and no extinguisher as far as anybody knows."""
    known = case.house.safety.extinguisher
    if case.generator is not None and known is not True:
        yield Hit("the whole house", {"state": "no" if known is False else "no word of a"})
