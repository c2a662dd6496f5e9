"""Where the limits cannot all be kept: which fails first and when, for how long they hold, and what would
help.

    told = explain(house, month_hours(house, 1), Asked(start_s=18 * 3600.0, hours=72.0))
    told.statement, [r.sentence for r in told.remedies]

The longest hold is found by a search in which a label dies the moment a limit breaks: the layer in which the
last one dies is a time that some plan reaches, shown by its replay. Where quiet hours leave so few patterns that all
of them can be run, that is as far as any goes. Else that none can go beyond needs a bound; without one the weaker
thing is said: what breaks, and when, even if the machine never stops and fuel never ends.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from math import inf

from hearthold.engine.control import AlwaysOn
from hearthold.engine.run import simulate, with_fuel
from hearthold.engine.weather import Hours
from hearthold.house.house import House
from hearthold.plan import objective as o
from hearthold.plan.ahead import outlook
from hearthold.plan.asked import NEXT_DAYS, Asked
from hearthold.plan.hold import DEAR, Hold, longest_hold, stores_of
from hearthold.plan.kept import StoreKept, first_broken, stores_kept
from hearthold.plan.labels import FRESH, Before, View, even_layers, find_pattern
from hearthold.plan.objective import HOUR_S, SLOTS_A_DAY
from hearthold.plan.polish import Pattern
from hearthold.plan.problem import Problem, pose
from hearthold.plan.remedies import Change, changes_for, go_together, joined
from hearthold.plan.runplan import RunPlan, described
from hearthold.plan.solve import QUICK, solve
from hearthold.plan.words import fails_sentence
from hearthold.quantities.spans import clock

TRY_WIDTH = 30  # of the passes that compare remedies; half hours on the first day, hours later
JOINED_FROM = 6  # single remedies, the best, from which joined ones are made
JOINED_MOST = 3  # remedies taken together, where none alone is enough


Beyond = Callable[[Problem, float], float | None]
Posed = Callable[[Change], Problem]


@dataclass(frozen=True, slots=True)
class Start:
    """Where an outage under way is planned from: how its problems are posed, and what ran before."""

    posed: Callable[[House, Asked], Problem]
    before: Before


@dataclass(frozen=True, slots=True, eq=False)
class Remedy:
    """One change, or a few together, as simulated."""

    what: str
    outlay: str  # "nothing to buy" | "a little" | "fuel" | "a purchase"
    kept: bool
    holds_s: float  # until when every limit holds in the plan found; inf: to the end
    fuel_m3: float
    cost_j: float
    breaks_first: str | None  # name of the store that still breaks first
    sentence: str
    breaks: tuple[str, ...]  # names of all that still break
    keys: tuple[str, ...]  # of the single changes it is made of
    house: House  # the changed house, to be planned in full
    start_fuel_m3: float | None  # and the fuel it starts with
    kind: str | None  # of fuel, where it is to run on another


@dataclass(frozen=True, slots=True, eq=False)
class Infeasible:
    """Why the limits cannot all be kept, as far as the search and the engine know."""

    plan: RunPlan  # the least breach found
    fails_first: StoreKept  # in the plan that holds longest
    holds_until_s: float  # some plan keeps every limit at least so long, since the grid failed
    holding: Pattern  # that plan
    cannot_beyond_s: float | None  # none can keep them longer: all were run, or by a bound where one is given
    always_on: (
        StoreKept | None
    )  # what breaks first if the machine never stops and fuel never ends; None: nothing
    remedies: tuple[Remedy, ...]  # what keeps all limits first, of these the least outlay and cost
    statement: str


def explain(
    house: House,
    outside: Hours,
    asked: Asked = NEXT_DAYS,
    *,
    beyond: Beyond | None = None,
    planned: RunPlan | None = None,
    start: Start | None = None,
) -> Infeasible | None:
    """Why the limits of a house cannot all be kept in this outage, or None where a plan that keeps them is
    found.

    `beyond`: a time that no plan can hold beyond, in seconds since the failure, given for how long one does
    (`beyond.cannot_beyond_s`). `planned`: the plan of this very outage, where there is one; else a quick one is
    made. `start`: where the outage is under way; what had to be done before it is then no remedy.
    Raises: as `runplan.plan_running`.

    Source: search and simulation as docs/method/planner.md has it; remedies are common practice, no source.
    """
    settled = asked.settled(house)

    def posed(change: Change) -> Problem:
        wanted = replace(settled, fuel_m3=change.fuel_m3)
        if change.kind is not None:  # what can be carried on it is another choice
            wanted = replace(asked, fuel=change.kind, fuel_m3=None, turns=None).settled(change.house)
        return start.posed(change.house, wanted) if start is not None else pose(change.house, outside, wanted)

    before = start.before if start is not None else FRESH
    problem = posed(Change("", "", house, asked.fuel_m3))
    plan = planned if planned is not None else described(problem, *solve(problem, QUICK, before))
    if plan.kept:
        return None
    hold = longest_hold(problem, before)
    always = _always_on(problem)
    beyond_s = hold.none_beyond_s
    if beyond_s is None and beyond is not None:
        beyond_s = beyond(problem, hold.until_s)
    kinds = {s.kind for s in plan.stores if s.hard and not s.kept} | {hold.fails.kind}
    changes = changes_for(problem, kinds, begun=start is not None)
    remedies = compared(problem, posed, changes, before)
    told = _statement(problem, hold, beyond_s, always)
    return Infeasible(plan, hold.fails, hold.until_s, hold.pattern, beyond_s, always, remedies, told)


def _always_on(problem: Problem) -> StoreKept | None:
    """What breaks first if the machine runs from the first moment on with fuel that never ends.

    Nothing is said where circuits go in turns: a spell without end has each turn but once. Nor of water, which jugs
    stand in for nobody knows how long.
    """
    if problem.turns.changes > 0:
        return None
    control = AlwaysOn(0.0, problem.steps, problem.handling)
    endless = with_fuel(problem.plain, inf)
    trace = simulate(
        endless, problem.outside, control, start_s=problem.start_s, hours=problem.length_s / HOUR_S
    )
    return first_broken(stores_kept(problem.house, trace), but="water")


def compared(
    problem: Problem, posed: Posed, changes: list[Change], before: Before = FRESH
) -> tuple[Remedy, ...]:
    """Every remedy that bears on what breaks, planned and replayed; then a few together where none alone
    is enough.
    """
    found = _tried(problem, posed, changes, before)
    singles = [c for c, _ in sorted(found, key=lambda x: _rank(x[1]))][:JOINED_FROM]
    for _ in range(JOINED_MOST - 1):
        if not found or any(remedy.kept for _, remedy in found):
            break
        base = _parts(min(found, key=lambda x: _rank(x[1]))[0])
        more = [joined([*base, c]) for c in singles if go_together([*base, c])]
        found = [*found, *_tried(problem, posed, more, before)]
    return tuple(sorted((remedy for _, remedy in found), key=_rank))


def _parts(change: Change) -> tuple[Change, ...]:
    return change.of or (change,)


def _tried(
    problem: Problem, posed: Posed, changes: list[Change], before: Before
) -> list[tuple[Change, Remedy]]:
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        return list(zip(changes, pool.map(lambda c: _try(problem, posed, c, before), changes), strict=True))


def _try(problem: Problem, posed: Posed, change: Change, before: Before) -> Remedy:
    """One pass of labels on the changed house, and the replay of what it found."""
    changed = posed(change)
    layers = even_layers(changed, 2, 4, SLOTS_A_DAY)
    foreseen = outlook(changed)
    best = find_pattern(changed, layers, width=TRY_WIDTH, before=before, view=View(outlook=foreseen))
    if best.value_j >= problem.objective.breach_j:
        other = find_pattern(changed, layers, width=TRY_WIDTH, before=before, view=View(shadow=DEAR[0]))
        best = min((best, other), key=lambda f: (f.reached < changed.slots, f.value_j))
    stores = stores_of(changed, best.on)
    broken = first_broken(stores)
    fuel = _fuel_of(changed, best.on, before)
    holds = inf if broken is None else broken.first_s
    told = f"{change.what}: every limit is kept." if broken is None else _still(change, broken, problem)
    return Remedy(
        change.what,
        change.outlay,
        broken is None,
        holds,
        fuel,
        best.value_j,
        broken.name if broken is not None else None,
        told,
        tuple(s.name for s in stores if s.hard and not s.kept),
        tuple(part.key for part in _parts(change)),
        change.house,
        change.fuel_m3,
        change.kind,
    )


def _fuel_of(problem: Problem, on: Pattern, before: Before) -> float:
    from hearthold.plan.polish import price_patterns

    parts, _ = price_patterns(problem, [on], before)
    return float(parts[0, 0] / problem.lhv_j_per_m3)


def _still(change: Change, broken: StoreKept, problem: Problem) -> str:
    at_s = problem.start_s + broken.first_s
    return f"{change.what}: {broken.name} still fails first, on day {_day(problem, broken)} at {clock(at_s)}."


def _day(problem: Problem, broken: StoreKept) -> int:
    return int((problem.start_s % o.DAY_S + broken.first_s) // o.DAY_S) + 1


_OUTLAYS = ("nothing to buy", "a little", "fuel", "a purchase")


def _rank(remedy: Remedy) -> tuple[bool, int, float]:
    """Kept first; of these the least outlay, then the cheapest; of the others the cheapest, breaches
    counted.
    """
    return not remedy.kept, _OUTLAYS.index(remedy.outlay) if remedy.kept else 0, remedy.cost_j


def _statement(problem: Problem, hold: Hold, beyond_s: float | None, always: StoreKept | None) -> str:
    hours, fails_so = hold.until_s / HOUR_S, fails_sentence(hold.fails, problem.start_s % o.DAY_S)
    told = f"A plan made for that alone keeps every limit for {hours:.1f} h; then {fails_so}."
    if hold.until_s <= 0.0:
        return f"From the start {fails_sentence(hold.fails, begun=True)}. No running can undo that."
    if beyond_s is not None:
        # All patterns were run with the turns in hand; the bound knows of no turns and so holds for all.
        these = " in these turns" if hold.none_beyond_s is not None and problem.turns.changes else ""
        told += f" No plan{these} can keep them beyond {beyond_s / HOUR_S:.1f} h."
    if always is not None:
        told += (
            f" Even if the machine never stopped and fuel never ended, after {always.first_s / HOUR_S:.1f} h "
            f"{fails_sentence(always)}."
        )
    return told
