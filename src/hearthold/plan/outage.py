"""One outage planned whole: the spells, what to do now, what may be said of the plan, and what helps where it fails.

planned = plan_outage(house, outside, Now(at_s=18 * 3600.0), Span(hours=72.0), prove_s=2.0)
planned.answer.sentence, planned.plan.spells, planned.bound.statement, planned.trouble
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from math import ceil
from typing import TYPE_CHECKING

from hearthold.plan.asked import NEXT_DAYS, Asked
from hearthold.plan.beyond import cannot_beyond_s
from hearthold.plan.bound.counts import fewest_starts
from hearthold.plan.bound.lower import Bound, lower_bound
from hearthold.plan.infeasible import Beyond, Infeasible, Start, explain
from hearthold.plan.now import Now
from hearthold.plan.objective import GAIN_FRAC
from hearthold.plan.replan import Answer, Prove, Sought, answered, hours_ahead, if_sooner, posed_now, sought
from hearthold.plan.routine import best_rules
from hearthold.plan.runplan import RunPlan, described
from hearthold.plan.saynow import other_fuel_first
from hearthold.plan.solve import USUAL
from hearthold.plan.turns import choices_of_time, usual_choice
from hearthold.plan.unknown import Weighed, weigh

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from hearthold.engine.weather import Hours
    from hearthold.house.house import House
    from hearthold.plan.problem import Problem
    from hearthold.plan.turns import Turns

# Of the time planned for: would the first act differ if the grid came back so soon?
SHORTER = (0.25, 0.5, 0.75)
COUNT_FRAC = 0.3  # of the time for a proof, that is given to counting starts
RULES = 3  # daily rules that the search may begin with
Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Span:
    """How long to plan for: so many hours, or, where nobody knows, a sure share of what it may still last."""

    hours: float | None = 72.0
    lengths_s: ArrayLike = ()  # equally likely lengths of the whole outage, where `hours` is None
    sure_frac: float = 0.8


@dataclass(frozen=True, slots=True, eq=False)
class OutagePlan:
    """What there is to say of one outage, from now on."""

    now: Now
    answer: Answer
    trouble: Infeasible | None  # None: every limit is kept
    fewest_starts: int = 0  # proven of any plan that keeps every limit; 0: nothing is
    weighed: Weighed | None = (
        None  # against plans for shorter times, where nobody knows how long and limits break
    )

    @property
    def bound(self) -> Bound | None:
        """What was proved of any plan; None where it was not asked for."""
        return self.answer.bound

    @property
    def plan(self) -> RunPlan:
        """The spells; times count from now."""
        return self.answer.plan


def plan_outage(
    house: House,
    outside: Hours,
    now: Now,
    span: Span,
    *,
    asked: Asked = NEXT_DAYS,
    prove_s: float | None = None,
    progress: Progress | None = None,
) -> OutagePlan:
    """Plan from now on. With `prove_s` look so many seconds for a lower bound; before an outage, for remedies too.

    Raises: InputError for a house without a machine, readings of what the house has not, or too little weather.
    """
    tell = progress or (lambda _: None)
    shorter: tuple[float, ...] = ()
    if span.hours is not None:
        hours, sure_frac = float(ceil(span.hours)), 1.0
    else:
        hours, sure_frac = hours_ahead(outside, now, span.lengths_s, span.sure_frac), span.sure_frac
        shorter = SHORTER
    tell("searching for spells")
    search = partial(sought, house, outside, now, hours, effort=USUAL)
    found = search(asked=asked)
    if not found.parts.kept:
        tell("searching with other lengths of turns, and about daily rules")
        here = replace(asked, start_s=now.at_s, hours=hours)
        found = min((found, *_other_starts(house, outside, here, search)), key=lambda s: s.parts.total_j)
    sooner = if_sooner(found, shorter)
    weighed = None
    if sooner and not found.parts.kept:
        tell("weighing early hours against late ones")
        weighed = weigh(found, sooner, span.lengths_s, now.elapsed_s)
        found = weighed.found
    # Weighed, the plan is not what the search alone comes to, and neither would one for a shorter time be: of its
    # first act nothing is known.
    known = sooner if weighed is None else ()
    answer = answered(found, sure_frac, known, None if prove_s is None else _prover(prove_s, tell))
    trouble, fewest = None, 0
    if prove_s is not None and answer.plan.kept and answer.bound is not None and answer.bound.proven:
        fewest, _ = fewest_starts(found.problem, answer.plan.starts, COUNT_FRAC * prove_s)
    if not answer.plan.kept:
        tell("comparing what would help")
        here = replace(found.asked, start_s=now.at_s, hours=hours, fuel_m3=None)
        beyond = None if now.running else _beyond(prove_s, tell)
        trouble = explain(
            house,
            outside,
            here,
            planned=_over_all(weighed, answer),
            beyond=beyond,
            start=_under_way(outside, found, now),
        )
        answer = _led_by_fuel(found.problem, answer, trouble)
    return OutagePlan(now, answer, trouble, fewest, weighed)


def _led_by_fuel(problem: Problem, answer: Answer, trouble: Infeasible | None) -> Answer:
    """The answer begins with another fuel that is at home, where its own ends early and the other loses less."""
    ends_s = answer.plan.fuel_ends_s
    if trouble is None or not 0.0 < ends_s < answer.plan.horizon_s:
        return answer
    least_j = GAIN_FRAC * trouble.plan.cost.total_j
    better = [r for r in trouble.remedies if r.kind is not None and len(r.keys) == 1 and r.cost_j < least_j]
    if not better:
        return answer
    kind = min(better, key=lambda r: r.cost_j).kind or ""
    return replace(answer, sentence=other_fuel_first(problem, ends_s, kind, answer.sentence))


def _over_all(weighed: Weighed | None, answer: Answer) -> RunPlan:
    """What remedies are held against: the plan that is best over all of the time, as each of them is planned."""
    if weighed is None or not weighed.saves_less:
        return answer.plan
    return described(weighed.whole.problem, weighed.whole.on, weighed.whole.parts)


def _other_starts(
    house: House, outside: Hours, asked: Asked, search: Callable[..., Sought]
) -> Iterator[Sought]:
    """Where limits break: the search with other lengths of turns, and with the best daily rules to begin with."""
    if asked.turns is not None:
        turns: tuple[Turns, ...] = (asked.turns,)
    else:
        chosen = usual_choice(house, asked.fuel)
        turns = choices_of_time(house, chosen) if chosen is not None else ()
    for each in turns[1:]:  # the first are the usual ones, with which it was searched already
        yield search(asked=replace(asked, turns=each))
    problem, ranked, _ = best_rules(house, outside, asked, turns)
    yield search(asked=replace(asked, turns=problem.turns), rules=ranked[:RULES])


def _under_way(outside: Hours, found: Sought, now: Now) -> Start | None:
    """Where remedies begin in the middle of an outage: from what is read, and after what ran before."""
    if now == Now(now.at_s):
        return None
    has_m3 = found.problem.compiled.start_fuel_m3

    def posed(of: House, asked: Asked) -> Problem:
        if asked.fuel not in (None, found.problem.fuel):  # what was read is of the other fuel
            return posed_now(of, outside, replace(now, fuel_tank_m3=None, fuel_stock_m3=None), asked)
        return posed_now(of, outside, now, replace(asked, fuel_m3=None) if asked.fuel_m3 == has_m3 else asked)

    return Start(posed, found.before)


def _beyond(seconds: float | None, tell: Progress) -> Beyond | None:
    def beyond(problem: Problem, until_s: float) -> float | None:
        tell("looking for a time that no plan can keep the limits beyond")
        return cannot_beyond_s(problem, until_s, seconds or 0.0)

    return None if seconds is None else beyond


def _prover(seconds: float, tell: Progress) -> Prove:
    def prove(problem: Problem, cost_j: float) -> Bound:
        tell(f"looking {seconds:g} s for a proof")
        return lower_bound(problem, cost_j, (1.0 - COUNT_FRAC) * seconds)

    return prove
