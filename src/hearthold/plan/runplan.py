"""The run plan: the best spells for one outage, found with the engine inside the search and reported as
its replay.

    plan = plan_running(house, month_hours(house, 1), Asked(start_s=18 * 3600.0, hours=72.0))
    plan.spells, plan.cost.litres, plan.standing.words

The search is in `solve`; whatever it says, every figure here is of the replay.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import inf

from hearthold.engine.control import RunPlan as Control
from hearthold.engine.run import simulate
from hearthold.engine.trace import Happening, Trace
from hearthold.engine.weather import Hours
from hearthold.house.house import House
from hearthold.plan import objective as o
from hearthold.plan.asked import NEXT_DAYS, Asked
from hearthold.plan.fuelcourse import FuelTrip, PlannedSpell, covered, fuel_ends_s, trips_of
from hearthold.plan.kept import StoreKept, first_broken, stores_kept
from hearthold.plan.objective import HOUR_S
from hearthold.plan.parts import CostParts
from hearthold.plan.polish import Pattern
from hearthold.plan.problem import Problem, pose
from hearthold.plan.solve import USUAL, Effort, solve
from hearthold.plan.status import Standing, standing
from hearthold.plan.turns import Turns


@dataclass(frozen=True, slots=True)
class Refuel:
    """One filling of the machine's tank in the replay. It cools down first where it ran; at the start of a spell the
    machine is cold.
    """

    at_s: float
    poured_m3: float
    within_spell: bool  # the tank ran dry under way


@dataclass(frozen=True, slots=True, eq=False)
class RunPlan:
    """The spells of one outage, with the replay that every figure comes from."""

    # As far as there is fuel for them; pattern and control are what was wanted.
    spells: tuple[PlannedSpell, ...]
    circuits: tuple[str, ...]  # of the first turn, in the order in which each spell switches them on
    turns: Turns
    switching: str  # what to do at the panel during a spell; empty where one set serves
    refuels: tuple[Refuel, ...]
    cost: CostParts
    standing: Standing
    lower_bound_j: float | None
    fails_at_s: float  # time of day at which the grid fails
    horizon_s: float
    fuel_m3: float
    fuel_left_m3: float
    run_s: float
    night_run_s: float
    starts: int
    trips: tuple[FuelTrip, ...]
    fuel_ends_s: float  # since the grid failed; inf where some is left at the end
    stores: tuple[StoreKept, ...]
    breaks_first: StoreKept | None
    gave_way: tuple[str, ...]
    pattern: Pattern  # (slots,) the machine wanted on
    control: Control
    trace: Trace

    @property
    def kept(self) -> bool:
        """Whether every limit is kept in the replay."""
        return self.cost.kept


Bound = Callable[[Problem], float]


def plan_running(
    house: House,
    outside: Hours,
    asked: Asked = NEXT_DAYS,
    *,
    effort: Effort = USUAL,
    bound: Bound | None = None,
) -> RunPlan:
    """The best spells found for an outage, with the circuits of the house's own choice if no turns are given.

    `bound` gives a lower bound in joules for the very problem, so that the gap can be told. Raises:
    InputError for a house without a machine, an unknown fuel or circuit, or a horizon that the weather does
    not cover.

    Source: label setting with the engine inside (docs/method/planner.md); the figures are those of the
    replay.
    """
    problem = pose(house, outside, asked.settled(house))
    on, parts = solve(problem, effort)
    return described(problem, on, parts, bound(problem) if bound is not None else None)


def described(problem: Problem, on: Pattern, parts: CostParts, bound_j: float | None = None) -> RunPlan:
    """A pattern with its replay in the plain world."""
    control = Control(problem.spells_of(on), problem.handling)
    trace = simulate(
        problem.plain, problem.outside, control, start_s=problem.start_s, hours=problem.length_s / HOUR_S
    )
    out, stores = trace.outcomes, stores_kept(problem.house, trace)
    spells = covered(trace, [(s.start_s, s.end_s) for s in control.spells])
    left = float(out.fuel_left_m3[0])
    return RunPlan(
        spells=spells,
        circuits=problem.turns.order,
        turns=problem.turns,
        switching=problem.turns.sentence(problem.house),
        refuels=_refuels(problem, trace, spells),
        cost=parts,
        standing=standing(parts.total_j, bound_j, parts.kept),
        lower_bound_j=bound_j,
        fails_at_s=problem.start_s % o.DAY_S,
        horizon_s=problem.length_s,
        fuel_m3=float(out.fuel_m3[0]),
        fuel_left_m3=left if left < inf else inf,
        run_s=float(out.run_s[0]),
        night_run_s=float(out.night_run_s[0]),
        starts=int(out.starts[0]),
        trips=trips_of(trace),
        fuel_ends_s=fuel_ends_s(trace),
        stores=stores,
        breaks_first=first_broken(stores),
        gave_way=problem.rules.gave_way,
        pattern=on,
        control=control,
        trace=trace,
    )


def _refuels(problem: Problem, trace: Trace, spells: Sequence[PlannedSpell]) -> tuple[Refuel, ...]:
    """Fillings as the engine's log has them; what was poured is what the stock lost in that minute.

    The engine fills a machine as soon as it has cooled. Where everybody is asleep by then it is told for the next
    start, and nothing else changes: nobody needs the fuel before.
    """
    made = []
    for line in trace.log:
        if line.what is Happening.REFILL:
            minute = int(line.at_s // 60.0)
            after = min(minute + 1, len(trace.stock_m3) - 1)
            poured = float(trace.stock_m3[minute] - trace.stock_m3[after])
            within = any(s.start_s < line.at_s < s.end_s for s in spells)
            asleep = not within and not problem.rules.is_awake(problem.start_s + line.at_s)
            then_s = next((s.start_s for s in spells if s.start_s > line.at_s), line.at_s)
            made.append(Refuel(then_s if asleep else line.at_s, poured, within))
    return tuple(made)
