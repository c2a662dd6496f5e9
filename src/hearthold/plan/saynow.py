"""What to do now and next, in a sentence: start, stop or leave it off, until when, and who has to drive for fuel."""

from __future__ import annotations

from collections.abc import Sequence

from hearthold.plan.fuelcourse import FuelTrip, PlannedSpell
from hearthold.plan.objective import SLOT_S
from hearthold.plan.problem import Problem
from hearthold.plan.remedies import other_fuels
from hearthold.plan.words import length, moment
from hearthold.rules.words import fuel_words


def sentence(problem: Problem, run_now: bool, was_on: bool, ahead: Sequence[PlannedSpell]) -> str:
    """What to do now and next."""
    stop = "Stop it now" if problem.patterns.may_run[0] else "Stop it now, these are quiet hours"
    if not ahead:
        never = "Leave it off." if problem.compiled.start_fuel_m3 > 0.0 else _without_fuel(problem)
        return f"{stop}, and leave it off." if was_on else never
    first, now_s = ahead[0], problem.start_s
    if run_now:
        word = "Keep it running" if was_on else "Start it now and run it"
        if first.runs_dry:
            return f"{word} until the fuel ends, {_about(now_s, first.end_s)}."
        until = moment(now_s, now_s + first.end_s).removeprefix("at ")
        return f"{word} until {until}."
    word = stop if was_on else "Leave it off"
    start = f"{word}; start {moment(now_s, now_s + first.start_s)}"
    if first.runs_dry:
        return f"{start} and run it until the fuel ends, {_about(now_s, first.end_s)}."
    return f"{start} for {length(first.length_s)}."


def _without_fuel(problem: Problem) -> str:
    """What there is to do first where nothing is left to burn."""
    system = problem.house.system
    name, others = fuel_words([problem.fuel], system), other_fuels(problem)
    fetch = f"fetch {name} where a station has power"
    if not others:
        return f"There is no {name} to run it on: {fetch}."
    has = f"run it on {fuel_words(others, system)}, which is at hand (--fuel {others[0].value})"
    return f"There is no {name} to run it on: {has}, or {fetch}."


def other_fuel_first(problem: Problem, fuel_ends_s: float, other: str, told: str) -> str:
    """What to do, led by another fuel that is at hand: a plan on it does better than one whose fuel ends."""
    system = problem.house.system
    name, instead = fuel_words([problem.fuel], system), fuel_words([other], system)
    return (
        f"Run it on {instead}, which is at hand (--fuel {other}): a plan on that does better than this one, whose "
        f"{name} ends {_about(problem.start_s, fuel_ends_s)}. On {name}: {told[:1].lower()}{told[1:]}"
    )


def _about(now_s: float, from_now_s: float) -> str:
    """A moment that nobody can tell to the minute."""
    rounded_s = SLOT_S * round((now_s + from_now_s) / SLOT_S)
    told = moment(now_s, rounded_s)
    return (
        f"about {told.removeprefix('at ')}"
        if told.startswith("at ")
        else f"{told.replace(' at ', ' about ')}"
    )


def errand(problem: Problem, trips: Sequence[FuelTrip], ahead: Sequence[PlannedSpell]) -> str:
    """That somebody has to drive for fuel at once, where the plan counts on it."""
    if not trips or trips[0].leave_s > SLOT_S:
        return ""
    needed = problem.compiled.start_fuel_m3 <= 0.0 and ahead
    without = ": without it there is nothing to run on" if needed else ""
    back = moment(problem.start_s, problem.start_s + trips[0].back_s)
    return f" Somebody leaves for fuel now, to be back {back}{without}."
