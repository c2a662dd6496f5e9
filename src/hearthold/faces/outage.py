"""One planned outage as faces show it: what was asked, and the plan as plain values for other programs."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import inf, isfinite
from typing import TYPE_CHECKING

from hearthold.faces.simulation import finite
from hearthold.plan.objective import GAIN_FRAC, LITRE_J

if TYPE_CHECKING:
    from hearthold.faces.fuel_now import FuelNow
    from hearthold.house.house import House
    from hearthold.plan.infeasible import Infeasible, Remedy
    from hearthold.plan.kept import StoreKept
    from hearthold.plan.outage import OutagePlan


@dataclass(frozen=True, slots=True)
class AskedOutage:
    """What to plan for, in the words of the command line."""

    start: str = "18:00"  # the time of day it is
    down: str = "0 h"  # how long the grid has been down by then
    readings: tuple[str, ...] = ()
    running: bool = False
    hours: float | None = None  # None: what the house plans for
    sure_frac: float | None = None  # plan for an unknown length, to this share of what it may still last
    month: int | None = None
    fuel: str | None = None
    prove_s: float | None = None


@dataclass(frozen=True, eq=False)
class PlannedOutage:
    """A planned outage with the house it is for."""

    house: House
    asked: AskedOutage
    planned: OutagePlan
    fuel_now: FuelNow | None = None  # None: no end, or no machine
    unread: dict[str, str] = field(
        default_factory=dict
    )  # stores that nobody read, by what a reading calls them


@dataclass(frozen=True, slots=True)
class Spell:
    """One run of the machine; seconds from now."""

    start_s: float
    end_s: float
    runs_dry: bool  # it was to last longer: no fuel is left


@dataclass(frozen=True, slots=True)
class Trip:
    """One trip for more fuel; seconds from now."""

    leave_s: float
    back_s: float
    brings_m3: float


@dataclass(frozen=True, slots=True)
class Proof:
    """What is proven of the cost of any plan, in joules of fuel."""

    proven: bool
    at_least_j: float
    gap_frac: float | None
    statement: str


@dataclass(frozen=True, slots=True)
class Help:
    """One remedy where limits cannot all be kept."""

    what: str
    outlay: str
    kept: bool
    fuel_m3: float
    breaks_first: str | None
    breaks: tuple[str, ...]  # all that is still not kept
    holds_s: float | None  # until then every limit holds; None: to the end


@dataclass(frozen=True, slots=True)
class OutageAccount:
    """The plan in plain values. Times are seconds from now; what has no end is None."""

    now_s: float  # time of day
    down_s: float
    planned_for_s: float
    sure_frac: float | None
    fuel_spent_as_for_s: (
        float | None
    )  # shorter than what is planned for where early hours weigh more; None: not weighed
    run_now: bool
    sentence: str
    unread: tuple[str, ...]  # stores that nobody read though the grid has been down for a while
    # None: the same as far as was tried; where limits break, not known
    first_act_differs_before_s: float | None
    spells: tuple[Spell, ...]
    circuits: tuple[str, ...]
    kept: bool
    standing: str
    cost_j: float
    cost_litres: dict[str, float]
    proof: Proof | None
    fuel_tank_m3: float | None  # now, as reckoned with; None: no end
    fuel_stock_m3: float | None
    fuel_m3: float
    fuel_left_m3: float | None
    run_s: float
    night_run_s: float
    starts: int
    refills: int
    fuel_trips: int
    trips: tuple[Trip, ...]
    fuel_ends_s: float | None  # None: some is left at the end
    stores: tuple[StoreKept, ...]
    holds_at_least_s: float | None
    remedies: tuple[Help, ...]


def account_of(found: PlannedOutage) -> OutageAccount:
    """The account of one planned outage."""
    planned, plan = found.planned, found.planned.plan
    answer, trouble = planned.answer, planned.trouble
    return OutageAccount(
        now_s=plan.fails_at_s,
        down_s=planned.now.elapsed_s,
        planned_for_s=plan.horizon_s,
        sure_frac=found.asked.sure_frac,
        fuel_spent_as_for_s=None if planned.weighed is None else planned.weighed.made_for_s,
        run_now=answer.run_now,
        sentence=answer.sentence,
        unread=tuple(found.unread) if planned.now.elapsed_s > 0.0 else (),
        first_act_differs_before_s=answer.changes_if_shorter_s,
        spells=tuple(Spell(s.start_s, s.end_s, s.runs_dry) for s in plan.spells),
        circuits=plan.circuits,
        kept=plan.kept,
        standing=plan.standing.words,
        cost_j=plan.cost.total_j,
        cost_litres=plan.cost.litres,
        proof=_proof(planned),
        fuel_tank_m3=None if found.fuel_now is None else found.fuel_now.tank_m3,
        fuel_stock_m3=None if found.fuel_now is None else found.fuel_now.stock_m3,
        fuel_m3=plan.fuel_m3,
        fuel_left_m3=finite(plan.fuel_left_m3),
        run_s=plan.run_s,
        night_run_s=plan.night_run_s,
        starts=plan.starts,
        refills=len(plan.refuels),
        fuel_trips=len(plan.trips),
        trips=tuple(Trip(t.leave_s, t.back_s, t.brings_m3) for t in plan.trips),
        fuel_ends_s=finite(plan.fuel_ends_s),
        stores=plan.stores,
        holds_at_least_s=None if trouble is None else trouble.holds_until_s,
        remedies=() if trouble is None else _helps(trouble),
    )


def _proof(planned: OutagePlan) -> Proof | None:
    bound = planned.bound
    if bound is None:
        return None
    gap = bound.gap_frac(planned.plan.cost.total_j)
    return Proof(bound.proven, bound.value_j, finite(gap), proof_words(planned))


def _helps(trouble: Infeasible) -> tuple[Help, ...]:
    return tuple(
        Help(r.what, r.outlay, r.kept, r.fuel_m3, r.breaks_first, r.breaks, finite(r.holds_s))
        for r in trouble.remedies
    )


@dataclass(frozen=True, slots=True)
class Sorted:
    """Remedies by what they are worth."""

    enough: tuple[Remedy, ...]
    better: tuple[Remedy, ...]  # lose clearly less than the plan, and than less of the same
    no_help: tuple[Remedy, ...]  # single ones that lose as much as the plan; of fuel the largest amount


def sorted_out(trouble: Infeasible) -> Sorted:
    """What keeps every limit, what makes the loss less, and what does neither."""
    enough = tuple(r for r in trouble.remedies if r.kept)
    others = tuple(r for r in trouble.remedies if not r.kept)
    least_j = GAIN_FRAC * trouble.plan.cost.total_j
    better = tuple(r for r in others if r.cost_j < least_j and _gains(r, others))
    useless = {r.keys: r for r in sorted(others, key=_fuel_m3) if len(r.keys) == 1 and r.cost_j >= least_j}
    return Sorted(enough, better, tuple(useless.values()))


def _gains(remedy: Remedy, others: tuple[Remedy, ...]) -> bool:
    """Whether it clearly gains on every other that does no more than it."""
    within = (
        r.cost_j
        for r in others
        if r is not remedy and set(r.keys) <= set(remedy.keys) and _fuel_m3(r) <= _fuel_m3(remedy)
    )
    return remedy.cost_j < GAIN_FRAC * min(within, default=inf)


def _fuel_m3(remedy: Remedy) -> float:
    return remedy.start_fuel_m3 or 0.0


def proof_words(planned: OutagePlan) -> str:
    """What may be said of the plan, and on what it rests; no more than is proven."""
    bound, plan = planned.bound, planned.plan
    if bound is None:
        return "The best found in the time; nothing is proven of it."
    if not bound.proven:
        return f"The best found in the time; nothing is proven of it. {bound.statement}"
    cost_l, least_l = plan.cost.total_j / LITRE_J, bound.value_j / LITRE_J
    gap = bound.gap_frac(plan.cost.total_j)
    told = f"at most {100.0 * gap:.3g} % above the best possible" if isfinite(gap) else "no nearer than that"
    return (
        f"Proven: under these limits no plan in quarter hours costs less than {least_l:.4g}; this one costs "
        f"{cost_l:.4g}, {told}. Costs are litres of gasoline with the same heat: fuel, and what starts, night "
        "running, lost comfort and broken limits are priced at. The proof is for this house file and this weather, "
        f"as the simulation plays them, and takes rounding for granted.{_starts_words(planned, gap)}"
    )


def _starts_words(planned: OutagePlan, gap: float) -> str:
    """That no plan starts the machine less often, where this says more than the costs do."""
    fewest, starts = planned.fewest_starts, planned.plan.starts
    if fewest == 0 or fewest * (1.0 + gap) <= starts:
        return ""
    return f" Nor does any plan that keeps every limit start the machine fewer than {fewest} times; this one: {starts}."
