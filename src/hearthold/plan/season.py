"""The routine of a season: the best simple rule over many outages at once, and what its simplicity costs.

    found = season_routine(house, year_hours(house, seed=1), start_s, length_s)
    found.sentence

All rules meet the same outages and the same weather, so that differences are not noise. The price of
simplicity is told against plans made with the length and the weather of each outage known in advance, on some
of the outages.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from hearthold.engine.kernels.layout import Array
from hearthold.engine.weather import Hours
from hearthold.errors import InputError
from hearthold.house.house import House
from hearthold.plan import rule_search, words
from hearthold.plan.asked import Asked
from hearthold.plan.objective import DAY_S, HOUR_S, LITRE_J, SLOT_S, Objective
from hearthold.plan.problem import Problem, pose
from hearthold.plan.rule_play import DailyRun, runs_of
from hearthold.plan.rule_search import Judge, Rule, habit_j_per_day, simulate_rules
from hearthold.plan.solve import QUICK, Effort, solve
from hearthold.plan.threads import side_by_side
from hearthold.plan.turns import Turns

# Over a season a limit is not a wall but a loss: running day and night against a rare one would be no good
# advice. About what food, a flooded floor or a burst pipe are worth in fuel (judgement, open to change);
# vital stays vital.
SEASON_OBJECTIVE = Objective(
    breach_j=30.0 * LITRE_J,
    cold_w_per_k=5.0 * LITRE_J / HOUR_S,
    food_lost_j=100.0 * LITRE_J,
    lowest_j_per_k=20.0 * LITRE_J,
    pipe_w=20.0 * LITRE_J / HOUR_S,
    pit_j_per_m3=1000.0 * LITRE_J,
    dry_j_per_m3=200.0 * LITRE_J,
)
SCOUTS = 8  # outages, spread over their lengths, on which the whole search runs
FINALISTS = 24
COMPARED = 40


@dataclass(frozen=True, slots=True)
class SeasonRoutine:
    """The best rule over a season's outages, and its distance from plans that know the future."""

    runs: tuple[DailyRun, ...]
    outages: int
    tried: int
    cost_day_j: float  # mean over the outages, each weighed by its length
    kept_frac: float  # share of the outages in which every limit is kept
    compared: int  # outages planned with everything known
    both_kept: int  # of these, outages in which plan and rule keep every limit (all of them if there is none)
    known_day_j: float  # what those plans cost a day, where both keep every limit
    same_day_j: float  # what the rule costs a day on the same outages
    known_kept_frac: float
    sentence: str

    @property
    def shortfall_frac(self) -> float:
        """How much dearer the rule is than plans that know the future, on the same outages."""
        return self.same_day_j / self.known_day_j - 1.0 if self.known_day_j > 0.0 else 0.0


def season_routine(
    house: House,
    outside: Hours,
    start_s: ArrayLike,
    length_s: ArrayLike,
    *,
    fuel: str | None = None,
    turns: Turns | None = None,
    objective: Objective = SEASON_OBJECTIVE,
    compared: int = COMPARED,
    effort: Effort = QUICK,
) -> SeasonRoutine:
    """The best rule over outages that begin and last so long, in the hours outside.

    Lengths are rounded up to quarter hours. The search runs on a few of the outages, the best rules on all.
    Raises: InputError for lengths that differ, or outages outside the weather.

    Source: common random numbers; full simulation (docs/method/planner.md).
    """
    starts, lengths = _checked(outside, start_s, length_s)
    order = np.argsort(lengths, kind="stable")
    scouts = order[np.linspace(0, len(order) - 1, min(SCOUTS, len(order))).astype(int)]
    longest_h = float(lengths.max()) / HOUR_S
    at = int(order[-1])
    asked = Asked(float(starts[at]), longest_h, fuel, None, turns, objective).settled(house)
    problem = pose(house, outside, asked)
    judge = Judge(problem, starts[scouts], lengths[scouts])
    ranked = rule_search.search(problem, judge, 1000, 3, 8)
    best, cost_j, kept_frac = _final(problem, ranked[:FINALISTS], starts, lengths)
    some = order[np.linspace(0, len(order) - 1, min(compared, len(order))).astype(int)]
    known = _known(problem, asked, starts[some], lengths[some], effort)
    same, same_kept = (x[0] for x in _costs(problem, [best], starts[some], lengths[some]))
    both = (known[:, 1] > 0.0) & same_kept
    if not both.any():
        both = np.ones(len(some), dtype=bool)
    days = float(lengths[some][both].sum()) / DAY_S
    return _described(
        SeasonRoutine(
            runs_of(best),
            len(starts),
            len(judge.known),
            cost_j,
            kept_frac,
            len(some),
            int(both.sum()),
            float(known[both, 0].sum()) / days,
            float(same[both].sum()) / days,
            float(known[:, 1].mean()),
            "",
        )
    )


def _described(found: SeasonRoutine) -> SeasonRoutine:
    more = (found.same_day_j - found.known_day_j) / LITRE_J
    told = (
        f"{words.rule_sentence(found.runs)} It keeps every limit in {100.0 * found.kept_frac:.0f} % of "
        f"{found.outages} outages; plans that know the length and the weather of each do in "
        f"{100.0 * found.known_kept_frac:.0f} % of {found.compared}. Where both do, it costs as much as "
        f"{more:.1f} L of fuel a day more ({100.0 * found.shortfall_frac:.0f} %)."
    )
    return replace(found, sentence=told)


def _checked(outside: Hours, start_s: ArrayLike, length_s: ArrayLike) -> tuple[Array, Array]:
    starts = np.atleast_1d(np.asarray(start_s, dtype=float))
    lengths = np.ceil(np.atleast_1d(np.asarray(length_s, dtype=float)) / SLOT_S) * SLOT_S
    if starts.shape != lengths.shape or starts.size == 0 or np.any(lengths <= 0.0):
        raise InputError("give one start and one length above 0 for every outage.", code="lengths")
    if np.any(starts < 0.0) or np.any(starts + lengths + DAY_S > outside.length_s):
        raise InputError(
            "an outage and the day after it must lie within the weather given.", code="weather_too_short"
        )
    return starts, lengths


def _costs(problem: Problem, rules: list[Rule], starts: Array, lengths: Array) -> tuple[Array, Array]:
    """Cost (rules, outages) of every rule in every outage, and whether all limits are kept."""
    parts = simulate_rules(problem, rules, starts, lengths)
    habit = np.array([habit_j_per_day(problem, rule) for rule in rules])
    costs = parts.sum(axis=2) + habit[:, None] * lengths[None, :] / DAY_S
    return costs, parts[:, :, BREACH_PARTS].sum(axis=2) == 0.0


BREACH_PARTS = slice(
    9, 15
)  # of a cost's parts: food, house, pipes, pits, water, vital (see `parts.CostParts`)


def _final(problem: Problem, rules: list[Rule], starts: Array, lengths: Array) -> tuple[Rule, float, float]:
    """The cheapest of some rules over all outages, its cost a day and the share of outages in which limits
    are kept.
    """
    costs, kept = _costs(problem, rules, starts, lengths)
    a_day = costs.sum(axis=1) / (lengths.sum() / DAY_S)
    best = int(np.argmin(a_day))
    return rules[best], float(a_day[best]), float(kept[best].mean())


def _known(problem: Problem, asked: Asked, starts: Array, lengths: Array, effort: Effort) -> Array:
    """Cost of a plan of each outage with everything known, and whether it keeps all limits: (outages, 2)."""

    def one(i: int) -> tuple[float, float]:
        this = replace(asked, start_s=float(starts[i]), hours=float(lengths[i]) / HOUR_S)
        _, parts = solve(pose(problem.house, problem.outside, this), effort)
        return parts.total_j, float(parts.kept)

    return np.array(side_by_side(one, range(len(starts))))
