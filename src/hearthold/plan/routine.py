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
from math import ceil, inf
from typing import TYPE_CHECKING

import numpy as np

from hearthold.engine.compile_machine import fuel_kind
from hearthold.engine.control import Routine as Control
from hearthold.engine.habits import USUAL
from hearthold.engine.run import simulate
from hearthold.engine.sunshine import spell_sun_frac, with_panels
from hearthold.engine.trace import Trace
from hearthold.engine.weather import Hours
from hearthold.engine.weather import steady_hours as weather_hours
from hearthold.house.house import House
from hearthold.plan import rule_search, words
from hearthold.plan.asked import Asked
from hearthold.plan.fuelcourse import FuelTrip, trips_of
from hearthold.plan.kept import StoreKept, first_broken, stores_kept
from hearthold.plan.objective import COLD_W_PER_K, DAY_S, HOUR_S, KEPT_M3, USUAL_OBJECTIVE, Objective
from hearthold.plan.parts import CostParts
from hearthold.plan.problem import Problem, pose
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
COARSE_RULES = 1200  # of the grid; the climb looks at about as many again
TIMED = 8  # rules on which the lengths of turns are tried
SEEDS = 60  # rules that the climb under the best of them begins with
FEW = 6  # rules of each number of spells that the climb goes on from
WORTH_SAVING_FRAC = 0.25  # of the fuel, from which a rule is told that gives lost food up (judgement)
NOTICED_S = 900.0  # and nobody minds a quarter of an hour more in all
NOTICED_FRAC = 0.02  # another rule that loses less by no more than this changes nothing (judgement)
TO_SPARE_M3 = 1000.0  # of fuel: more than any house burns in thirty days
SIMPLER_FRAC = 0.01  # a rule with fewer spells or lengths is preferred if it is no dearer than this


@dataclass(frozen=True, slots=True)
class DailyRun:
    """One run of the machine every day."""

    at_s: float  # time of day
    length_s: float


@dataclass(frozen=True, slots=True)
class Alternative:
    """What another rule would change for the limit that the chosen one breaks."""

    what: str  # "one more spell" | "a spell at night" | "food given up"
    runs: tuple[DailyRun, ...]
    kept: bool
    beyond_s: float  # a day, on average
    worst: float
    fuel_day_m3: float  # while there is fuel
    fuel_lasts_s: float  # as in `Routine`
    sentence: str


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
    judge = _judge(problem)
    ranked = rule_search.search(problem, judge, COARSE_RULES, pool_of=FEW)
    tried = len(judge.known)
    if len(turns) > 1:
        problem = _best_timed(problem, ranked[:TIMED], turns)
        judge = _judge(problem)
        ranked = rule_search.search(problem, judge, pool_of=FEW, seeds=ranked[:SEEDS])
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
    return rule_search.search(problem, judge, pool_of=FEW, seeds=days) if days else ranked


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


def _judge(problem: Problem) -> Judge:
    return Judge(problem, np.array([problem.start_s]), np.array([problem.length_s]))


def _best_timed(problem: Problem, rules: list[Rule], turns: Sequence[Turns]) -> Problem:
    """The problem with the lengths of turns that serve one of these rules best."""
    posed = [replace(problem, turns=t) for t in turns]
    return min(posed, key=lambda p: min(_judge(p).costs_j(rules).values()))


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
    out, fed = trace.outcomes, _with_fuel_to_spare(problem, rule, trace).outcomes
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
        alternatives=_alternatives(problem, rule, stores, broken) if broken is not None else (),
        gave_way=problem.rules.gave_way,
        control=control_of(problem, rule),
    )


def runs_of(rule: Rule) -> tuple[DailyRun, ...]:
    """A rule as daily runs, in seconds."""
    return tuple(DailyRun(60.0 * start, 60.0 * length) for start, length in rule)


def replay(problem: Problem, rule: Rule, fuel_m3: float | None = None) -> Trace:
    """The engine's trace of a rule, in the plain world; with another amount of fuel if one is given."""
    return simulate(
        problem.plain, problem.outside, control_of(problem, rule), start_s=problem.start_s,
        hours=problem.length_s / HOUR_S, fuel_m3=fuel_m3,
    )  # fmt: skip


def _with_fuel_to_spare(problem: Problem, rule: Rule, trace: Trace) -> Trace:
    """The same rule where fuel never ends: days on which there was none say nothing of what a day takes."""
    return trace if trace.outcomes.fuel_out_s[0] == inf else replay(problem, rule, TO_SPARE_M3)


def _alternatives(
    problem: Problem, rule: Rule, stores: tuple[StoreKept, ...], broken: StoreKept
) -> tuple[Alternative, ...]:
    """The best spell that could be added while people are up, and the best at night, whatever the wishes say; and what
    is enough where food that is lost in any case is given up. Only what comes cheaper, all that it breaks counted.
    """
    length = round(problem.rules.shortest_s / 60.0)
    extra = [(m, n) for m in range(0, 1440, 30) for n in (length, 2 * length)]
    freed = replace(rule_search.rule_set(problem), rules=replace(problem.rules, night=True))
    longer = [tuple(sorted((*rule, spell))) for spell in extra]
    allowed = [(r, e) for r, e in zip(longer, extra, strict=True) if freed.allows(r)]
    judge = _judge(problem)
    costs = judge.costs_j([rule, *(r for r, _ in allowed)])
    found = []
    for what, asleep in (("one more spell", False), ("a spell at night", True)):
        fitting = [r for r, (start, _) in allowed if problem.rules.is_awake(60.0 * start) is not asleep]
        best = min(fitting, key=lambda r: (costs[r], r), default=rule)
        if costs[best] < costs[rule]:
            found.append(_alternative(problem, best, stores, broken, what))
    added = tuple(other for other, store in found if _helps(broken, store))
    return added + _food_given_up(problem, rule, stores, broken)


def _helps(before: StoreKept, after: StoreKept) -> bool:
    """Whether a change loses less than before, by more than nobody would notice."""
    less = (1.0 - NOTICED_FRAC) * before.beyond_s, (1.0 - NOTICED_FRAC) * before.missed
    return after.kept or after.beyond_s < less[0] or after.missed < less[1]


def _worse(
    before: tuple[StoreKept, ...], after: tuple[StoreKept, ...]
) -> tuple[tuple[StoreKept, StoreKept], ...]:
    """Limits that lose more than before, by more than nobody would notice; before and after."""
    old = {s.store: s for s in before}
    pairs = [(old[s.store], s) for s in after if s.hard]
    more = 1.0 + NOTICED_FRAC
    return tuple(
        (was, now)
        for was, now in pairs
        if (now.beyond_s > was.beyond_s * more and now.beyond_s - was.beyond_s > NOTICED_S)
        or now.missed > was.missed * more + KEPT_M3
    )


def _alternative(
    problem: Problem, rule: Rule, stores: tuple[StoreKept, ...], broken: StoreKept, what: str
) -> tuple[Alternative, StoreKept]:
    """What a rule with a spell more changes for the limit that breaks, and what it makes worse."""
    trace = replay(problem, rule)
    after = stores_kept(problem.house, trace)
    same = next(s for s in after if s.store == broken.store)
    days = problem.length_s / DAY_S
    told = words.alternative_sentence(what, runs_of(rule), broken, same, days, _worse(stores, after))
    return _as_told(problem, rule, trace, same, what, told), same


def _as_told(
    problem: Problem, rule: Rule, trace: Trace, same: StoreKept, what: str, told: str
) -> Alternative:
    days = problem.length_s / DAY_S
    fuel = float(_with_fuel_to_spare(problem, rule, trace).outcomes.fuel_m3[0]) / days
    lasts_s = float(trace.outcomes.fuel_out_s[0])
    worst = same.high if same.kind in ("food", "pit") else same.low
    return Alternative(what, runs_of(rule), same.kept, same.beyond_s / days, worst, fuel, lasts_s, told)


def _food_given_up(
    problem: Problem, rule: Rule, stores: tuple[StoreKept, ...], broken: StoreKept
) -> tuple[Alternative, ...]:
    """The rule that is enough where food that is lost in any case may warm as it will; none where it hardly saves."""
    lost = [s for s in stores if s.kind == "food" and s.beyond_s > USUAL.food_lost_s]
    if not lost:
        return ()
    prices = problem.prices.copy()
    prices[COLD_W_PER_K] = 0.0  # that a store breaks its limit and loses its food still counts
    careless = replace(problem, prices=prices)
    best = rule_search.search(careless, _judge(careless), COARSE_RULES, pool_of=FEW)[0]
    trace, now = replay(problem, best), replay(problem, rule)
    after = stores_kept(problem.house, trace)
    given_up = {s.store for s in lost}
    burned, saved = (
        float(_with_fuel_to_spare(problem, r, t).outcomes.fuel_m3[0]) for r, t in ((rule, now), (best, trace))
    )
    others = [s for _, s in _worse(stores, after) if s.store not in given_up]
    if others or saved > (1.0 - WORTH_SAVING_FRAC) * burned:
        return ()
    warmer = [(s, next(a for a in after if a.store == s.store)) for s in lost]
    told = words.given_up_sentence(runs_of(best), warmer)
    same = next(s for s in after if s.store == broken.store)
    return (_as_told(problem, best, trace, same, "food given up", told),)
