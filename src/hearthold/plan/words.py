"""Sentences of the planner: rules as a person says them, and what happens where a limit is not kept."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Protocol

from hearthold.plan.kept import StoreKept
from hearthold.plan.objective import HOUR_S
from hearthold.quantities.spans import clock, day_clock, day_number

FEEDS_NOTHING = "The battery feeds nothing: no circuit with a load on it is behind its hookup."
NEAR_S = 8 * HOUR_S  # a time of day that comes so soon needs no day beside it (judgement)


class Run(Protocol):
    """A run of the machine every day."""

    @property
    def at_s(self) -> float:
        """Time of day."""

    @property
    def length_s(self) -> float:
        """How long."""


def moment(now_s: float, at_s: float) -> str:
    """A time to come as a person says it: "at 20:30" within hours, else with its day, counted as plans count them
    (today is day 1). Both since midnight of one day.
    """
    days = day_number(at_s) - day_number(now_s)
    if days <= 0 or at_s - now_s < NEAR_S:
        return f"at {clock(at_s)}"
    when = "tomorrow" if days == 1 else f"in {days} days, on day {days + 1},"
    return f"{when} at {clock(at_s)}"


def length(length_s: float) -> str:
    """A length as a person says it: minutes up to two hours, then hours."""
    minutes = round(length_s / 60.0)
    if minutes <= 120 and minutes % 60:
        return f"{minutes} minutes"
    hours = minutes / 60.0
    return "1 hour" if minutes == 60 else f"{hours:g} hours" if minutes % 15 == 0 else f"{minutes} minutes"


def listed(items: Sequence[str]) -> str:
    """ "a", "a and b", "a, b and c"; with semicolons where a name has a comma of its own."""
    if any("," in item for item in items):
        return "; ".join(items)
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}"


def rule_sentence(runs: Sequence[Run], *, has_fuel: bool = True) -> str:
    """A daily rule in one sentence."""
    if not runs:
        return "Leave it off." if has_fuel else "It cannot run: there is no fuel at home."
    if len({run.length_s for run in runs}) == 1:
        each = " each" if len(runs) > 1 else ""
        return f"Run it at {listed([clock(r.at_s) for r in runs])} for {length(runs[0].length_s)}{each}."
    groups = [
        (n, list(same)) for n, same in groupby(sorted(runs, key=lambda r: r.length_s), lambda r: r.length_s)
    ]
    told = [f"at {listed([clock(r.at_s) for r in same])} for {length(n)}" for n, same in groups]
    return f"Run it {'; '.join(sorted(told))}."


def panel_sentence(
    always: Sequence[str], in_hours: Sequence[str], off: Sequence[str], runs: Sequence[Run]
) -> str:
    """How to keep a panel on a house battery, by names of circuits."""
    told = []
    if always and not in_hours and not off:
        return "Leave every circuit on."
    if always:
        told.append(f"Leave on at all hours: {listed(always)}.")
    if in_hours:
        spans = listed([f"from {clock(r.at_s)} to {clock(r.at_s + r.length_s)}" for r in runs])
        told.append(f"On only {spans}: {listed(in_hours)}.")
    if off:
        told.append(f"Keep off: {listed(off)}.")
    return " ".join(told) or FEEDS_NOTHING


def value(store: StoreKept, what: float) -> str:
    """A value of a store with its unit."""
    return f"{what:.1f} degC" if store.unit == "degC" else f"{1000.0 * what:.0f} L"


def fails_sentence(store: StoreKept, fails_at_s: float | None = None, *, begun: bool = False) -> str:
    """What happens to a store at the moment its limit breaks; with the time of day the grid failed at, when. `begun`:
    it is beyond the limit as things stand.
    """
    sides = ("is above", "is below") if begun else ("rises above", "falls below")
    side = sides[store.kind != "food"]
    verbs = {"vital": "is without power", "pit": "runs over", "water": "runs dry"}
    told = f"{store.name} {verbs.get(store.kind) or f'{side} {value(store, store.limit)}'}"
    if fails_at_s is None:
        return told
    return f"{told}, on {day_clock(fails_at_s + store.first_s)}"


def alternative_sentence(
    what: str,
    runs: Sequence[Run],
    before: StoreKept,
    after: StoreKept,
    days: float,
    worse: Sequence[tuple[StoreKept, StoreKept]] = (),
) -> str:
    """What an added spell changes for the limit that breaks, and what gets `worse` by it, before and after."""
    better = f"{after.name} keeps its limit" if after.kept else _changed(before, after, days)
    others = [_changed(was, now, days) for was, now in worse if now.store != after.store]
    but = f", but {listed(others)}" if others else ""
    return f"With {what} {better}{but}. {rule_sentence(runs)}"


def _changed(before: StoreKept, after: StoreKept, days: float) -> str:
    """How far a limit is left, instead of how far before."""
    if after.unit == "m3":
        verb = "runs over by" if after.kind == "pit" else "is short of"
        return f"{after.name} {verb} {1000.0 * after.missed:.0f} L instead of {1000.0 * before.missed:.0f} L"
    old, new = before.beyond_s / HOUR_S / days, after.beyond_s / HOUR_S / days
    if before.kept:
        return f"{after.name}, kept now, is beyond its limit {new:.1f} h a day"
    return f"{after.name} is beyond its limit {new:.1f} h a day instead of {old:.1f} h"


def given_up_sentence(runs: Sequence[Run], warmer: Sequence[tuple[StoreKept, StoreKept]]) -> str:
    """A rule that does as well for all but food that is lost in any case; each such store before and after."""
    lost = listed([was.name for was, _ in warmer])
    hours = listed(
        [f"{now.beyond_s / HOUR_S:.0f} h instead of {was.beyond_s / HOUR_S:.0f} h" for was, now in warmer]
    )
    return (
        f"The food of {lost} is lost either way. Where it is given up (too warm for {hours} in all), this does as "
        f"well for the rest: {rule_sentence(runs)}"
    )
