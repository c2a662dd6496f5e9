"""A house with a battery and no machine: which circuits to have on when, how long that lasts, and what fails first.

    found = find_panel(house, conditions(house, 1))
    found.sentence        # "Leave on at all hours: Boiler and Freezer. On only from 07:00 to 21:00: Well pump. ..."
    found.lasts.empties_s, found.breaks_first, found.cases, found.months

Each circuit is on at all hours, in hours that are the same for all that have any, or off. Some thousand such ways
are played through in the engine, with the grid failing at four times of day; limits and prices are those of the
planner's objective. What is reported is the replay of the chosen one, with the battery full at the start.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from math import ceil, inf, nan
from typing import TYPE_CHECKING

import numpy as np

from hearthold.engine.control import PanelHours
from hearthold.engine.habits import USUAL
from hearthold.engine.kernels import layout as c
from hearthold.engine.rows import inside
from hearthold.engine.run import simulate
from hearthold.engine.trace import Trace
from hearthold.engine.weather import Hours
from hearthold.house.house import House
from hearthold.house.loads import Load, Pattern
from hearthold.plan.asked import Asked
from hearthold.plan.kept import StoreKept, first_broken, stores_kept
from hearthold.plan.objective import DAY_S, HOUR_S, SLOT_S, VITAL_KEPT_S
from hearthold.plan.panel_rules import (
    VITAL_PART,
    Duty,
    Panel,
    PanelJudge,
    PanelRule,
    barred,
    control_of,
    panel_of,
    price_rules,
    vital_needs,
)
from hearthold.plan.panel_search import search
from hearthold.plan.parts import CostParts
from hearthold.plan.problem import Problem, pose_battery, with_reserve
from hearthold.plan.routine import ALSO_AT_S, FAILS_AT_S, steady_hours
from hearthold.plan.rule_play import DailyRun, runs_of
from hearthold.plan.season import BREACH_PARTS
from hearthold.plan.status import Standing, Status
from hearthold.plan.words import panel_sentence
from hearthold.sizing.conditions import conditions
from hearthold.sizing.inverter import unstartable

if TYPE_CHECKING:
    from hearthold.engine.kernels.layout import Array
    from hearthold.sizing.conditions import Conditions

EVERYTHING, NEEDED, VITAL = "everything on", "what is vital or essential", "what is vital alone"
UNRESERVED = "with no reserve"
LASTS_DAYS = 10  # how far it is followed where the grid stays away
MONTHS = (1, 7)  # the darkest and the lightest, wherever the house stands


@dataclass(frozen=True, slots=True)
class PanelCase:
    """One way to keep the panel, as its replays show it. Times count from the failure of the grid."""

    what: str
    circuits: tuple[str, ...]  # on at any time
    used_day_j: float  # by loads, a day with power
    left_j: float  # in the battery at the end of that
    dark_s: float  # how long the battery gives nothing within it
    kept: bool  # whether it keeps every limit within it
    empties_s: (
        float  # when the battery first gives nothing, were the grid to stay away; inf: not in `LASTS_DAYS`
    )
    holds_s: float  # how long every limit is kept then; inf: for all of that
    fails_first: StoreKept | None  # what breaks when that is over


@dataclass(frozen=True, slots=True)
class PanelMonth:
    """What the panels on the roof bring in a month, and how far that carries."""

    month: int
    harsh: bool  # a bad spell of it, else its usual weather
    sun_day_j: float
    chosen: PanelCase
    everything: PanelCase


@dataclass(frozen=True, slots=True)
class PanelPlan:
    """The way to keep the panel, with its replay and what other ways come to."""

    always: tuple[str, ...]  # circuits on at all hours
    in_hours: tuple[str, ...]
    off: tuple[str, ...]
    hours: tuple[DailyRun, ...]
    sentence: str
    spared: tuple[str, ...]  # loads too heavy for a battery, which nobody switches on
    unstartable: tuple[str, ...]  # motors whose start is beyond the inverter; circuits of these alone are off
    reserve_kept: (
        bool | None
    )  # whether what is vital is kept with `VITAL_RESERVE_FRAC` less; None: nothing is
    standing: Standing
    tested_s: float
    fails_at_s: float  # time of day
    starts_tried: int  # times of day of the failure
    starts_kept: int  # at which every limit is kept
    tried: int
    lasts: PanelCase
    stores: tuple[StoreKept, ...]
    breaks_first: StoreKept | None
    cost: CostParts
    cases: tuple[PanelCase, ...]
    months: tuple[PanelMonth, ...]
    control: PanelHours
    unreserved: str = ""  # a way that keeps every limit, were no charge held back for what is vital

    @property
    def feeds_nothing(self) -> bool:
        """Whether there is no circuit with a load on it that the battery feeds."""
        return not (self.always or self.in_hours or self.off)

    @property
    def kept(self) -> bool:
        """Whether every limit is kept in the replay."""
        return self.breaks_first is None


def has_panel_alone(house: House) -> bool:
    """Whether a battery is all that a house has: what this module plans for."""
    return house.generator is None and house.battery is not None


def find_panel(house: House, weather: Conditions, hours: float | None = None) -> PanelPlan:
    """The best way to keep the panel in this weather, for an outage of `hours` (if left out, as the house plans for).

    Raises: InputError for a house without a battery.

    Source: full simulation of every candidate; order of preference as in the objective (judgement).
    """
    hours = house.outages.plan_for_s / HOUR_S if hours is None else hours
    return _found(house, weather, hours)


@lru_cache(maxsize=16)
def _found(house: House, weather: Conditions, hours: float) -> PanelPlan:
    """Searched once for the same question: a plan and its risk ask it alike."""
    outside = _outside(house, weather, hours)
    problem = pose_battery(house, outside, Asked(FAILS_AT_S, hours))
    found = planned(problem, np.array([FAILS_AT_S, *ALSO_AT_S]))
    return found if house.solar is None else _with_months(problem, found, weather, hours)


def _outside(house: House, weather: Conditions, hours: float) -> Hours:
    return steady_hours(weather, days=max(LASTS_DAYS, ceil(hours / 24.0)) + 3, house=house)


def planned(problem: Problem, starts: Array) -> PanelPlan:
    """The best way found for outages of the problem's length that begin at some times; the first is the one shown."""
    panel = panel_of(problem.house, problem.rules)
    judge = PanelJudge(problem, panel, starts, np.full(len(starts), problem.length_s))
    found = _described(problem, panel, search(judge)[0], starts, len(judge.known))
    return found if found.kept or judge.reserved is None else _beside_whole_charge(judge, found)


def _beside_whole_charge(judge: PanelJudge, found: PanelPlan) -> PanelPlan:
    """The same beside the best way were no charge held back, where that keeps every limit."""
    whole = PanelJudge(judge.problem, judge.panel, judge.start_s, judge.length_s, reserves=False)
    rule = search(whole)[0]
    case = case_of(judge.problem, UNRESERVED, control_of(judge.panel, rule))
    tried = len(judge.known.keys() | whole.known.keys())
    if not case.kept:
        return replace(found, tried=tried)
    told = _described(judge.problem, judge.panel, rule, judge.start_s, tried).sentence
    return replace(found, tried=tried, cases=(*found.cases, case), unreserved=told)


def _described(problem: Problem, panel: Panel, rule: PanelRule, starts: Array, tried: int) -> PanelPlan:
    house, runs = problem.house, runs_of(rule.hours)
    named = {duty: panel.named(rule, duty) for duty in Duty}
    named[Duty.OFF] = (*named[Duty.OFF], *barred(house))
    lengths, low = np.full(len(starts), problem.length_s), with_reserve(problem)
    parts, _ = price_rules(problem, panel, [rule], starts, lengths)
    reserved = None if low is None else price_rules(low, panel, [rule], starts, lengths)[0][0, :, VITAL_PART]
    trace = replay(problem, control_of(panel, rule))
    stores = panel_stores(problem, trace)
    broken = first_broken(stores)
    told = {duty: [house.circuit_by_id[name].name for name in named[duty]] for duty in Duty}
    return PanelPlan(
        named[Duty.ALWAYS],
        named[Duty.HOURS],
        named[Duty.OFF],
        runs,
        panel_sentence(told[Duty.ALWAYS], told[Duty.HOURS], told[Duty.OFF], runs),
        tuple(load.id for load in spared(house)),
        tuple(load.id for load in unstartable(house)),
        None if reserved is None else bool((reserved == 0.0).all()),
        Standing(Status.IN_TIME if broken is None else Status.CANNOT),
        problem.length_s,
        problem.start_s % DAY_S,
        len(starts),
        int((parts[0, :, BREACH_PARTS].sum(axis=1) == 0.0).sum()),
        tried,
        case_of(problem, "as above", control_of(panel, rule), trace),
        stores,
        broken,
        CostParts.of(parts[0, 0]),
        tuple(_others(problem, panel, rule)),
        (),
        control_of(panel, rule),
    )


def _others(problem: Problem, panel: Panel, chosen: PanelRule) -> Iterator[PanelCase]:
    """Everything on, and less and less: each other than the chosen way and than the one before."""
    seen = {chosen}
    for what, up_to in ((EVERYTHING, 3), (NEEDED, 1), (VITAL, 0)):
        rule = panel.rule(up_to=up_to)
        if rule not in seen and Duty.ALWAYS in rule.duties:
            seen.add(rule)
            yield case_of(problem, what, control_of(panel, rule))


def replay(problem: Problem, control: PanelHours, length_s: float | None = None) -> Trace:
    """The engine's trace of a control, in the plain world; over the time planned for, or another."""
    hours = (problem.length_s if length_s is None else length_s) / HOUR_S
    return simulate(problem.plain, problem.outside, control, start_s=problem.start_s, hours=hours)


def panel_stores(problem: Problem, trace: Trace) -> tuple[StoreKept, ...]:
    """Every store of a replay, and every vital load that the battery does not feed at all, the first to fail first."""
    house, fed = problem.house, {circuit.id for circuit in problem.house.fed_circuits}
    unfed = [_unfed(problem, load, trace.length_s) for load in house.vital_loads if load.circuit not in fed]
    found = [*stores_kept(house, trace), *unfed]
    return tuple(sorted(found, key=lambda x: (x.kept or not x.hard, x.first_s, x.store)))


def _unfed(problem: Problem, load: Load, length_s: float) -> StoreKept:
    """A vital load that gets nothing, at the times at which it needs power, once its own battery is empty."""
    windows = vital_needs(problem.house, (load,))
    own_s = sum(need.own_battery_s for need in problem.house.medical if need.load == load.id)
    ends = np.arange(SLOT_S, length_s + 1.0, SLOT_S)
    wanted = [inside(windows, (problem.start_s + end - SLOT_S) % DAY_S) for end in ends]
    gone_s = np.cumsum(wanted) * SLOT_S  # of what it needed
    short_s = max(0.0, float(gone_s[-1]) - own_s) if len(gone_s) else 0.0
    first_s = float(ends[np.argmax(gone_s > own_s)]) - SLOT_S if short_s > 0.0 else inf
    return StoreKept(
        load.id, load.name, "vital", "s", nan, nan, 0.0, short_s, first_s, short_s, True,
        short_s <= VITAL_KEPT_S,
    )  # fmt: skip


def case_of(problem: Problem, what: str, control: PanelHours, trace: Trace | None = None) -> PanelCase:
    """One way to keep the panel, played through."""
    trace = trace or replay(problem, control)
    out = trace.outcomes
    dark_s = float(out.battery_empty_s[0])
    lit_days = max(SLOT_S, problem.length_s - dark_s) / DAY_S
    long = replay(problem, control, LASTS_DAYS * DAY_S)
    return PanelCase(
        what,
        (*control.always, *control.in_hours),
        float(out.account(c.O_LOAD_J)[0]) / lit_days,
        float(out.account(c.O_BAT_END)[0]),
        dark_s,
        first_broken(panel_stores(problem, trace)) is None,
        float(long.outcomes.battery_first_s[0]),
        *_holds(problem, control, long),
    )


def _holds(problem: Problem, control: PanelHours, long: Trace) -> tuple[float, StoreKept | None]:
    """How long every limit is kept, to a quarter of an hour, and which is broken then.

    By halving: what is broken stays broken. When a limit was first left does not say it, for stored water.
    """
    kept, over = 0, round(LASTS_DAYS * DAY_S / SLOT_S)
    broken = first_broken(panel_stores(problem, long))
    if broken is None:
        return inf, None
    while over - kept > 1:
        middle = (kept + over) // 2
        found = first_broken(panel_stores(problem, replay(problem, control, middle * SLOT_S)))
        if found is None:
            kept = middle
        else:
            over, broken = middle, found
    return kept * SLOT_S, broken


def spared(house: House) -> tuple[Load, ...]:
    """Loads that people switch, too heavy for a battery: the engine leaves them alone (`compile`)."""
    fed = {circuit.id for circuit in house.fed_circuits}
    vital = {load.id for load in house.vital_loads}
    return tuple(
        x for x in house.loads
        if x.circuit in fed and x.id not in vital and x.pattern is Pattern.ON_DEMAND and x.running_w >= USUAL.heavy_w
    )  # fmt: skip


def _with_months(problem: Problem, found: PanelPlan, weather: Conditions, hours: float) -> PanelPlan:
    """The same with what the sun brings: in the weather planned for, and in January and July as they usually are."""
    house = problem.house
    panel = panel_of(house, problem.rules)
    every = control_of(panel, panel.rule(up_to=3))
    asked = [weather, *(conditions(house, month, harsh=False) for month in MONTHS)]
    months = []
    for one in asked:
        here = pose_battery(house, _outside(house, one, hours), Asked(FAILS_AT_S, hours))
        sun_j = float(here.outside.solar_w[:24].sum()) * HOUR_S
        cases = case_of(here, "as above", found.control), case_of(here, EVERYTHING, every)
        months.append(PanelMonth(one.month, one.harsh, sun_j, *cases))
    return replace(found, months=tuple(months))
