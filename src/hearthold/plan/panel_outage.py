"""One outage on a battery alone: which circuits to have on now, what to switch next, and how long that lasts.

found = plan_panel_outage(house, outside, Now(at_s=18 * 3600.0, battery_j=...), Span(hours=48.0))
found.sentence            # "On now: Boiler and Freezer; all others off. Next, at 07:00: Well pump on."
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

import numpy as np

from hearthold.engine.kernels.layout import P_BAT0
from hearthold.engine.rows import inside, unwrapped
from hearthold.plan.asked import Asked
from hearthold.plan.now import Now, compile_now
from hearthold.plan.objective import DAY_S
from hearthold.plan.outage import Span
from hearthold.plan.panel import PanelPlan, planned
from hearthold.plan.problem import pose_battery
from hearthold.plan.replan import hours_ahead
from hearthold.plan.words import listed
from hearthold.quantities.spans import clock

if TYPE_CHECKING:
    from hearthold.engine.weather import Hours
    from hearthold.house.house import House


@dataclass(frozen=True, slots=True)
class Switch:
    """The circuits that have hours, switched on or off."""

    at_s: float  # from now
    on: bool


@dataclass(frozen=True, slots=True, eq=False)
class PanelOutage:
    """What there is to do in one outage from now on. Times of the plan count from now."""

    now: Now
    plan: PanelPlan
    on_now: tuple[str, ...]
    switches: tuple[Switch, ...]  # within the time planned for
    battery_now_j: float  # that may be used
    sentence: str


def plan_panel_outage(house: House, outside: Hours, now: Now, span: Span) -> PanelOutage:
    """Plan from now on, for so many hours or for a share of what the outage may still last.

    Raises: InputError for a house without a battery, readings of what the house has not, or too little weather.
    """
    house = house.running
    hours = (
        float(ceil(span.hours))
        if span.hours is not None
        else hours_ahead(outside, now, span.lengths_s, span.sure_frac)
    )
    problem = pose_battery(house, outside, Asked(now.at_s, hours), compiled=compile_now(house, now))
    plan = planned(problem, np.array([problem.start_s]))
    switches = tuple(sorted(_switches(plan, now.at_s), key=lambda s: s.at_s))
    on_now = plan.always + (plan.in_hours if _in_hours(plan, now.at_s) else ())
    charge_j = float(problem.plain.world.par[P_BAT0])
    return PanelOutage(
        now, plan, on_now, switches, charge_j, _sentence(house, plan, on_now, switches, now.at_s)
    )


def _in_hours(plan: PanelPlan, at_s: float) -> bool:
    hours = unwrapped((run.at_s, run.at_s + run.length_s) for run in plan.hours)
    return inside(hours, at_s % DAY_S)


def _switches(plan: PanelPlan, at_s: float) -> Iterator[Switch]:
    for run in plan.hours:
        for edge_s, on in ((run.at_s, True), (run.at_s + run.length_s, False)):
            first_s = (edge_s - at_s) % DAY_S
            for day in range(ceil(plan.tested_s / DAY_S) + 1):
                if 0.0 < first_s + day * DAY_S < plan.tested_s:
                    yield Switch(first_s + day * DAY_S, on)


def _sentence(
    house: House, plan: PanelPlan, on_now: tuple[str, ...], switches: tuple[Switch, ...], at_s: float
) -> str:
    """What to have on now, and the next thing to do."""
    names = [house.circuit_by_id[name].name for name in on_now]
    every = len(on_now) == len(plan.always) + len(plan.in_hours) + len(plan.off)
    if plan.feeds_nothing:
        return plan.sentence
    told = "Have every circuit off now."
    if names:
        told = "Have every circuit on now." if every else f"On now: {listed(names)}; all others off."
    if not switches:
        return told
    given = [house.circuit_by_id[name].name for name in plan.in_hours]
    state = "on" if switches[0].on else "off"
    return f"{told} Next, at {clock(at_s + switches[0].at_s)}, switch {state}: {listed(given)}."
