"""A daily rule played through: its runs in seconds, its replay, and its judge over one outage."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

import numpy as np

from hearthold.engine.run import simulate
from hearthold.engine.trace import Trace
from hearthold.plan.objective import HOUR_S
from hearthold.plan.problem import Problem
from hearthold.plan.rule_search import Judge, Rule, control_of

TO_SPARE_M3 = 1000.0  # of fuel: more than any house burns in thirty days


@dataclass(frozen=True, slots=True)
class DailyRun:
    """One run of the machine every day."""

    at_s: float  # time of day
    length_s: float


def runs_of(rule: Rule) -> tuple[DailyRun, ...]:
    """A rule as daily runs, in seconds."""
    return tuple(DailyRun(60.0 * start, 60.0 * length) for start, length in rule)


def judge_of(problem: Problem) -> Judge:
    """Prices rules over the one outage of a problem."""
    return Judge(problem, np.array([problem.start_s]), np.array([problem.length_s]))


def replay(problem: Problem, rule: Rule, fuel_m3: float | None = None) -> Trace:
    """The engine's trace of a rule, in the plain world; with another amount of fuel if one is given."""
    return simulate(
        problem.plain, problem.outside, control_of(problem, rule), start_s=problem.start_s,
        hours=problem.length_s / HOUR_S, fuel_m3=fuel_m3,
    )  # fmt: skip


def replay_with_fuel(problem: Problem, rule: Rule, trace: Trace) -> Trace:
    """The replay, or another where fuel never ends: days on which there was none say nothing of what a day takes."""
    return trace if trace.outcomes.fuel_out_s[0] == inf else replay(problem, rule, TO_SPARE_M3)
