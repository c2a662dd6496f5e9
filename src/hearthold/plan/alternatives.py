"""What another rule would change where a routine breaks a limit: one more spell, one at night, or food given up."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hearthold.engine.habits import USUAL
from hearthold.engine.trace import Trace
from hearthold.plan import rule_search, words
from hearthold.plan.kept import StoreKept, stores_kept
from hearthold.plan.objective import COLD_W_PER_K, DAY_S, KEPT_M3
from hearthold.plan.problem import Problem
from hearthold.plan.rule_play import DailyRun, judge_of, replay, replay_with_fuel, runs_of
from hearthold.plan.rule_search import Rule

WORTH_SAVING_FRAC = 0.25  # of the fuel, from which a rule is told that gives lost food up (judgement)
NOTICED_S = 900.0  # and nobody minds a quarter of an hour more in all
NOTICED_FRAC = 0.02  # another rule that loses less by no more than this changes nothing (judgement)


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


def alternatives_to(
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
    judge = judge_of(problem)
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
    fuel = float(replay_with_fuel(problem, rule, trace).outcomes.fuel_m3[0]) / days
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
    best = rule_search.search(
        careless, judge_of(careless), rule_search.COARSE_RULES, pool_of=rule_search.FEW
    )[0]
    trace, now = replay(problem, best), replay(problem, rule)
    after = stores_kept(problem.house, trace)
    given_up = {s.store for s in lost}
    burned, saved = (
        float(replay_with_fuel(problem, r, t).outcomes.fuel_m3[0]) for r, t in ((rule, now), (best, trace))
    )
    others = [s for _, s in _worse(stores, after) if s.store not in given_up]
    if others or saved > (1.0 - WORTH_SAVING_FRAC) * burned:
        return ()
    warmer = [(s, next(a for a in after if a.store == s.store)) for s in lost]
    told = words.given_up_sentence(runs_of(best), warmer)
    same = next(s for s in after if s.store == broken.store)
    return (_as_told(problem, best, trace, same, "food given up", told),)
