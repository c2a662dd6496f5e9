"""The page of `outage` on a battery alone: what to have on now, what to switch when, how long it lasts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.kept import harm, kept_table
from hearthold.faces.cli.report.onbattery import ways_table
from hearthold.faces.cli.report.parts import Column, heading, sentence, table, title
from hearthold.faces.cli.report.say import Say, clock, duration, names
from hearthold.faces.cli.report.sheet import Sheet
from hearthold.faces.cli.report.unread import unread_words
from hearthold.papers.words.kept import broken, drain_words
from hearthold.papers.words.onbattery import (
    lasts_sentence,
    reserve_words,
    spared_words,
    standing_words,
    unstartable_words,
)
from hearthold.quantities.spans import day_number

if TYPE_CHECKING:
    from hearthold.faces.panel_outage import PlannedPanel
    from hearthold.plan.panel import PanelPlan


def panel_outage_report(found: PlannedPanel, say: Say, page: Console) -> Iterator[RenderableType]:
    """Everything `outage` prints, in order."""
    sheet, planned, plan = Sheet(page, say, found.house), found.planned, found.planned.plan
    yield title(_title(found), page)
    yield sentence(planned.sentence)
    yield sentence(_verdict(plan))
    if drain_words(plan.stores):
        yield sentence(drain_words(plan.stores))
    for told in unread_words(found.house, planned.now.elapsed_s, found.unread):
        yield sentence(told)
    if plan.feeds_nothing:
        yield kept_table(plan.stores, say)
        yield from cautions_of(sheet, "food_doubt", "medical" if found.house.vital_loads else "cold_house")
        return
    yield sentence(lasts_sentence(plan, f"{_charge(found, say)} Kept so, from now on, "))
    if found.asked.sure_frac is not None:
        yield sentence(
            f"Nobody knows how long it lasts. The charge is rationed over {duration(plan.tested_s)} from now on: "
            f"{100.0 * found.asked.sure_frac:.0f} of 100 outages like this one are over by then, and a day is the "
            "least that is planned."
        )
    yield heading("What to switch when", page)
    yield sentence(f"{plan.sentence} {standing_words(plan)}")
    if planned.switches:
        yield table((Column("day", True), Column("time", True), Column("switch")), _switches(found))
    stands, spared = unstartable_words(found.house, plan, say), spared_words(found.house, plan, say)
    for told in (stands, reserve_words(plan), spared):
        if told:
            yield sentence(told)
    yield heading("How long it lasts", page)
    yield ways_table(sheet, plan)
    yield heading("What is kept", page)
    yield kept_table(plan.stores, say)
    yield sentence(
        "Times count from now, as the simulation plays the plan in the weather of the month's bad spell. Read the "
        "gauge again in some hours and ask anew: sun and use are never as reckoned."
    )
    yield from cautions_of(sheet, "food_doubt", "medical" if found.house.vital_loads else "cold_house")


def _title(found: PlannedPanel) -> str:
    down = found.planned.now.elapsed_s
    since = f"the grid down for {duration(down)}" if down > 0.0 else "the grid has just failed"
    return f"{found.house.name}: {found.asked.start}, {since}"


def _verdict(plan: PanelPlan) -> str:
    if plan.kept:
        return f"Every limit is kept for {duration(plan.tested_s)}."
    told = names([f"{s.name} ({harm(s)})" for s in broken(plan.stores)])
    if plan.feeds_nothing:
        return f"Not kept for {duration(plan.tested_s)}: {told}."
    return f"No way was found that keeps every limit for {duration(plan.tested_s)}. Not kept: {told}."


def _charge(found: PlannedPanel, say: Say) -> str:
    """What the battery is taken to hold, and whether anybody read it."""
    now = found.planned.now
    told = f"The battery has {say.energy(found.planned.battery_now_j)} to give"
    if now.battery_j is not None:
        return f"{told}, as read."
    return f"{told}, taken as full" + (
        ": look, and give its charge with --reading 'battery=60 %'." if now.elapsed_s > 0.0 else "."
    )


def _switches(found: PlannedPanel) -> Iterator[tuple[str, ...]]:
    planned = found.planned
    circuits = names([found.house.circuit_by_id[c].name for c in planned.plan.in_hours], 20)
    for switch in planned.switches:
        at_s = planned.plan.fails_at_s + switch.at_s
        yield str(day_number(at_s)), clock(at_s), f"{'on' if switch.on else 'off'}: {circuits}"
