"""The routine: the best simple daily rule for one house in one season, found by running all of them in the
engine.

    found = find_routine(house, conditions(house, 1))
    found.sentence        # "Run it at 06:30 and 18:00 for 90 minutes each."

Several hundred to a few thousand rules are simulated over some days, in all: first those that lose no vital
load, of these the ones that keep every limit, of these the cheapest. What is reported is the replay of the
chosen one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import ceil
from typing import TYPE_CHECKING

import numpy as np

from hearthold.engine.compile_machine import fuel_kind
from hearthold.engine.control import Routine as Control
from hearthold.engine.sunshine import spell_sun_frac, with_panels
from hearthold.engine.weather import Hours
from hearthold.engine.weather import steady_hours as weather_hours
from hearthold.house.house import House
from hearthold.plan import rule_search, words
from hearthold.plan.alternatives import Alternative, alternatives_to
from hearthold.plan.asked import Asked
from hearthold.plan.fuelcourse import FuelTrip, trips_of
from hearthold.plan.kept import StoreKept, first_broken, stores_kept
from hearthold.plan.objective import DAY_S, HOUR_S, USUAL_OBJECTIVE, Objective
from hearthold.plan.parts import CostParts
from hearthold.plan.problem import Problem, pose
from hearthold.plan.rule_play import DailyRun, judge_of, replay, replay_with_fuel, runs_of
from hearthold.plan.rule_search import Judge, Rule, control_of, habit_j_per_day, simulate_rules
from hearthold.plan.solve import QUICK, solve
from hearthold.plan.status import Standing, Status
from hearthold.plan.turns import Turns, choices_of_time, one_turn, usual_choice

if TYPE_CHECKING:
    from hearthold.plan.choice import Choice
    from hearthold.sizing.conditions import Conditions

FAILS_AT_S = 18 * HOUR_S  # time of day at which the grid fails in the search and in the replay shown
ALSO_AT_S = (0.0, 6 * HOUR_S, 12 * HOUR_S)  # other times that the best few are tried at
FINALISTS = 16
TIMED = 8  # rules on which the lengths of turns are tried
SEEDS = 60  # rules that the climb under the best of them begins with
SIMPLER_FRAC = 0.01  # a rule with fewer spells or lengths is preferred if it is no dearer than this


@dataclass(frozen=True, slots=True)
class Routine:
    """A daily rule with its replay. Figures a day are means over the days replayed, with fuel on all of them."""

    runs: tuple[DailyRun, ...]
    circuits: tuple[str, ...]  # of the first turn, in the order in which they are switched on
    turns: Turns
    sentence: str
    switching: str  # what to do at the panel during a spell; empty where one set serves
    standing: Standing
    tested_s: float  # length of the outage replayed
    fails_at_s: float  # time of day at which the grid fails in it
    tried: int  # rules simulated
    fuel_day_m3: float
    run_day_s: float
    starts_day: float
    refills_day: float
    trips: tuple[FuelTrip, ...]  # with the fuel that is at home
    fuel_left_m3: float
    fuel_lasts_s: float  # until it first wants to run and no fuel is left; inf where that never comes
    cost: CostParts
    stores: tuple[StoreKept, ...]
    breaks_first: StoreKept | None
    alternatives: tuple[Alternative, ...]
    gave_way: tuple[str, ...]
    control: Control

    @property
    def kept(self) -> bool:
        """Whether every limit is kept in the replay."""
        return self.cost.kept

    @property
    def outlasts_its_fuel(self) -> bool:
        """Whether it has to stand for want of fuel before the outage is over."""
        return self.fuel_lasts_s < self.tested_s


def find_routine(
    house: House,
    weather: Conditions,
    hours: float | None = None,
    *,
    fuel: str | None = None,
    fuel_m3: float | None = None,
    circuits: tuple[str, ...] | None = None,
    choice: Choice | None = None,
    objective: Objective = USUAL_OBJECTIVE,
) -> Routine:
    """The best simple daily rule in this weather: one the engine has run for `hours`, of all that were tried.

    `hours`: how long the outage lasts that they are tried in (if left out, what the house plans for).
    Rules have 1 to `spells_per_day` spells (at most six) at half-hour times within awake and permitted
    hours, of one or two lengths between shortest and longest spell. Night only where the wishes or a vital
    load call for it. `circuits`: those switched on, in every spell together; else those of `choice`, in turns
    where it has turns (the house's own choice if none is given). `fuel_m3` replaces all fuel at home.
    Raises: InputError for a house without a machine, or an unknown fuel or circuit.

    Source: full simulation of every candidate; order of preference as in the objective (judgement).
    """
    hours = house.outages.plan_for_s / 3600.0 if hours is None else hours
    kind = fuel_kind(house, fuel).value if house.generator is not None else fuel
    asked = Asked(FAILS_AT_S, hours, kind, fuel_m3, objective=objective)
    return _found(house, weather, asked, _turns(house, fuel, circuits, choice))


@lru_cache(maxsize=16)
def _found(house: House, weather: Conditions, asked: Asked, turns: tuple[Turns, ...]) -> Routine:
    """Searched once for the same question: a plan, its risk and the hookup in place, compared, ask it alike."""
    outside = steady_hours(weather, days=ceil(asked.hours / 24.0) + 3, house=house)
    problem, ranked, tried = best_rules(house, outside, asked, turns)
    return described(problem, _final(problem, ranked), tried)


def best_rules(
    house: House, outside: Hours, asked: Asked, turns: Sequence[Turns] = ()
) -> tuple[Problem, list[Rule], int]:
    """Daily rules for one outage, best first; the problem, with the lengths of turns that serve them; how many
    were tried.

    `turns` to choose among; those of the house's own choice of circuits if none are given.
    """
    turns = turns or _turns(house, asked.fuel, None, None)
    problem = pose(house, outside, replace(asked, turns=turns[0]))
    judge = judge_of(problem)
    ranked = rule_search.search(problem, judge, rule_search.COARSE_RULES, pool_of=rule_search.FEW)
    tried = len(judge.known)
    if len(turns) > 1:
        problem = _best_timed(problem, ranked[:TIMED], turns)
        judge = judge_of(problem)
        ranked = rule_search.search(problem, judge, pool_of=rule_search.FEW, seeds=ranked[:SEEDS])
        tried += len(judge.known)
    if judge.known[ranked[0]] >= problem.objective.breach_j:
        before = len(judge.known)
        ranked = _about_a_plan(problem, judge, ranked)
        tried += len(judge.known) - before
    return problem, ranked, tried


def _about_a_plan(problem: Problem, judge: Judge, ranked: list[Rule]) -> list[Rule]:
    """Where limits break and a run plan does better, rules like its days are tried too, and climbed from: there a
    limit is lost by hours at a step, and small changes of what the grid has may not lead to them.
    """
    on, parts = solve(problem, QUICK)
    if parts.total_j >= judge.known[ranked[0]]:
        return ranked
    days = list(rule_search.day_rules(problem, on))
    return rule_search.search(problem, judge, pool_of=rule_search.FEW, seeds=days) if days else ranked


def _turns(
    house: House, fuel: str | None, circuits: tuple[str, ...] | None, choice: Choice | None
) -> tuple[Turns, ...]:
    """What may be switched within a spell: one set, or the turns of a choice with several lengths.

    Behind an automatic switch nobody stands at the panel: all that it feeds is on.
    """
    if circuits is not None:
        return (one_turn(house, circuits),)
    if house.takes_over:
        return (one_turn(house),)
    chosen = choice if choice is not None else usual_choice(house, fuel)
    return (one_turn(house),) if chosen is None else choices_of_time(house, chosen)


def _best_timed(problem: Problem, rules: list[Rule], turns: Sequence[Turns]) -> Problem:
    """The problem with the lengths of turns that serve one of these rules best."""
    posed = [replace(problem, turns=t) for t in turns]
    return min(posed, key=lambda p: min(judge_of(p).costs_j(rules).values()))


def steady_hours(weather: Conditions, days: int, house: House | None = None) -> Hours:
    """The same day over and over, as the conditions have it; with power from the panels of a house."""
    outside = weather_hours(weather, days)
    return outside if house is None else with_panels(outside, house, spell_sun_frac(weather))


def _final(problem: Problem, ranked: list[Rule]) -> Rule:
    """Of the best few, the cheapest over failures at several times of day; simpler ones where it hardly
    matters.
    """
    few = ranked[:FINALISTS]
    starts = np.array([problem.start_s, *ALSO_AT_S])
    judge = Judge(problem, starts, np.full(len(starts), problem.length_s))
    costs = judge.costs_j(few)
    best = min(costs.values())
    good = [rule for rule in few if costs[rule] <= best * (1.0 + SIMPLER_FRAC)]
    return min(good, key=lambda rule: (len(rule), len({n for _, n in rule}), costs[rule], rule))


def described(problem: Problem, rule: Rule, tried: int) -> Routine:
    """A rule with its replay, in words and figures."""
    trace = replay(problem, rule)
    stores = stores_kept(problem.house, trace)
    broken = first_broken(stores)
    parts = simulate_rules(problem, [rule], np.array([problem.start_s]), np.array([problem.length_s]))[0, 0]
    days = problem.length_s / DAY_S
    out, fed = trace.outcomes, replay_with_fuel(problem, rule, trace).outcomes
    runs = runs_of(rule)
    return Routine(
        runs=runs,
        circuits=problem.turns.order,
        turns=problem.turns,
        sentence=words.rule_sentence(runs, has_fuel=problem.compiled.start_fuel_m3 > 0.0),
        switching=problem.turns.sentence(problem.house),
        standing=Standing(Status.IN_TIME if broken is None else Status.CANNOT),
        tested_s=problem.length_s,
        fails_at_s=problem.start_s % DAY_S,
        tried=tried,
        fuel_day_m3=float(fed.fuel_m3[0]) / days,
        run_day_s=float(fed.run_s[0]) / days,
        starts_day=float(fed.starts[0]) / days,
        refills_day=float(fed.refills[0]) / days,
        trips=trips_of(trace),
        fuel_left_m3=float(out.fuel_left_m3[0]),
        fuel_lasts_s=float(out.fuel_out_s[0]),
        cost=CostParts.of(parts, days * habit_j_per_day(problem, rule)),
        stores=stores,
        breaks_first=broken,
        alternatives=alternatives_to(problem, rule, stores, broken) if broken is not None else (),
        gave_way=problem.rules.gave_way,
        control=control_of(problem, rule),
    )
