"""A house on its battery alone: what lasts how long, in words."""

from __future__ import annotations

from calendar import month_name
from math import isinf
from typing import TYPE_CHECKING

from hearthold.papers.words.kept import harm
from hearthold.papers.words.say import Say, duration, names, share
from hearthold.plan.panel import EVERYTHING, LASTS_DAYS
from hearthold.plan.problem import VITAL_RESERVE_FRAC
from hearthold.quantities.spans import DAY_S, HOUR_S

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.loads import Load
    from hearthold.plan.panel import PanelCase, PanelMonth, PanelPlan


def lasts(seconds: float) -> str:
    """How long something lasts, hours as full ones, as far as it was followed."""
    if isinf(seconds):
        return f"{LASTS_DAYS} days or more"
    return f"{int(seconds / HOUR_S)} h" if 2 * HOUR_S <= seconds < 2 * DAY_S else duration(seconds)


def empty_words(case: PanelCase) -> str:
    """When the battery gives nothing any more."""
    if isinf(case.empties_s):
        return f"the battery does not run out in {LASTS_DAYS} days"
    return f"the battery is empty {'at once' if case.empties_s <= 0.0 else 'after ' + lasts(case.empties_s)}"


def fails_words(case: PanelCase) -> str:
    """What fails first, and how."""
    store = case.fails_first
    return "nothing" if store is None else f"{store.name} ({harm(store)})"


def _after(seconds: float) -> str:
    return "at once" if seconds <= 0.0 else f"after {lasts(seconds)}"


def lasts_sentence(found: PanelPlan, begin: str = "Kept so, from full, ") -> str:
    """How long the chosen way lasts, and everything on; empty where nothing is fed."""
    if found.feeds_nothing:
        return ""
    case = found.lasts
    told = f"{begin}{empty_words(case)}"
    if case.fails_first is not None:
        told += f" and {case.fails_first.name} is the first to fail, {_after(case.holds_s)}"
    every = next((c for c in found.cases if c.what == EVERYTHING), None)
    return f"{told}; with everything on {empty_words(every)}." if every is not None else f"{told}."


def sun_sentence(found: PanelPlan, say: Say) -> str:
    """What the panels bring, where there are any: of what is used in a day."""
    usual = [month for month in found.months if not month.harsh]
    if not usual or found.feeds_nothing:
        return ""
    parts = [f"{say.energy(m.sun_day_j)} a day in a usual {month_name[m.month]}" for m in usual]
    worst = next((m for m in found.months if m.harsh), None)
    bad = f", {say.energy(worst.sun_day_j)} in the bad spell planned for" if worst is not None else ""
    used = say.energy(found.lasts.used_day_j)
    return (
        f"The sun brings {names(parts)}{bad}; kept so the house uses {used} a day beside the inverter's own."
    )


def way_cells(case: PanelCase, say: Say) -> tuple[str, ...]:
    """One way to keep the panel as a row: which, used a day, battery and limits last, what fails first."""
    used = say.energy(case.used_day_j)
    return case.what, used, lasts(case.empties_s), lasts(case.holds_s), fails_words(case)


def month_cells(month: PanelMonth, say: Say) -> tuple[str, ...]:
    """What the sun of a month brings as a row: which, brought a day, the battery so and with everything on."""
    brought = say.energy(month.sun_day_j)
    return month_words(month), brought, lasts(month.chosen.empties_s), lasts(month.everything.empties_s)


def month_words(month: PanelMonth) -> str:
    """Which weather it is."""
    return f"{month_name[month.month]}, {'bad spell' if month.harsh else 'as usual'}"


def spared_words(house: House, found: PanelPlan, say: Say) -> str:
    """Loads that are left alone; empty where there are none."""
    if not found.spared:
        return ""
    loads = [house.load_by_id[ident] for ident in found.spared]
    listed = names([f"{load.name} ({say.power(load.running_w)})" for load in loads], 20)
    return f"Do not switch on while the battery carries the house: {listed}. All of this reckons without."


def unstartable_words(house: House, found: PanelPlan, say: Say) -> str:
    """Motors that stay off since the inverter cannot start them, and what comes of that; empty where there are none."""
    if not found.unstartable:
        return ""
    loads = [house.load_by_id[ident] for ident in found.unstartable]
    told = names([f"{load.name} ({say.volt_amps(load.start_va)} to start)" for load in loads], 20)
    shared = any(load.circuit not in found.off for load in loads)
    off = "Breaker OFF, or unplugged where others share it," if shared else "Breaker OFF"
    return (
        f"The inverter cannot start {told}. {off} as long as the battery carries the house: "
        f"{_without(house, loads)}."
    )


def _without(house: House, loads: list[Load]) -> str:
    """What motors that cannot start leave undone."""
    idle, told = {load.id for load in loads}, []
    if house.water is not None and house.water.pump_load in idle:
        told.append("no water is pumped, what is stored is all there is")
    told += [f"{pit.name} is not pumped out" for pit in house.pits if pit.load in idle]
    told += [f"{store.name} warms up" for store in house.cold if store.load in idle]
    if house.heat is not None and house.heat.heater_load in idle:
        told.append("the heating does not run")
    return "; ".join(told or ["nobody uses them"])


def starts_words(found: PanelPlan) -> str:
    """How the other times of day at which the grid may fail came out."""
    if found.starts_tried < 2 or found.feeds_nothing:
        return ""
    return f"Of {found.starts_tried} times of day at which it may fail, it keeps every limit at {found.starts_kept}."


def standing_words(found: PanelPlan) -> str:
    """What may be said of it; empty where there is nothing to choose."""
    if found.feeds_nothing:
        return ""
    if found.kept:
        return f"It keeps every limit: {found.standing.words}, of {found.tried:,} ways tried."
    reserve = " with a reserve of charge for what is vital" if found.unreserved else ""
    return f"None of {found.tried:,} ways tried keeps every limit{reserve}; this one comes nearest."


def reserve_words(found: PanelPlan) -> str:
    """How what is vital is judged, and whether it is kept so; empty where nothing is."""
    if found.reserve_kept is None:
        return ""
    less = f"as if there were {share(VITAL_RESERVE_FRAC)} less charge than shown here, since gauges err and cells age"
    kept = "It is kept even so." if found.reserve_kept else "With so little it is not kept at all times."
    told = f"What is vital was judged {less}; all else with the whole. {kept}"
    if not found.unreserved:
        return told
    return (
        f"{told} If the gauge is right to the last, this keeps every limit, but leaves no such reserve for what is "
        f"vital: {found.unreserved}"
    )
