"""Everything the page says, gathered from a house and its plan: turns, steps, food, fuel, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256
from math import isfinite
from typing import TYPE_CHECKING

from hearthold.house.site import VoltageSystem
from hearthold.house.supply import FuelKind
from hearthold.papers.changes import changes
from hearthold.papers.pocket.clocks import Clocks, clocks
from hearthold.papers.pocket.steps import Checklist, Warned, checklists, warned
from hearthold.papers.words.circuits import stay_off
from hearthold.papers.words.fuel import outlasted
from hearthold.papers.words.heater import with_heater
from hearthold.papers.words.phrases import month, plain, sentence, words
from hearthold.papers.words.say import duration
from hearthold.quantities.spans import hours
from hearthold.reference import food
from hearthold.reference.fuels import storage_limit_m3

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.papers.changes import Change
    from hearthold.papers.job import Job
    from hearthold.papers.words.say import Say
    from hearthold.plan.result import Plan
    from hearthold.plan.routine import Routine
    from hearthold.sizing.order import Step


@dataclass(frozen=True)
class Facts:
    """What every section of the page is made from."""

    job: Job
    key: str
    clocks: Clocks
    checklists: tuple[Checklist, ...]
    left_off: tuple[tuple[str, str], ...]

    @property
    def house(self) -> House:
        """The house, as the routine plays it."""
        return self.job.running

    @property
    def say(self) -> Say:
        """The reader's units."""
        return self.job.say

    @property
    def turns(self) -> tuple[tuple[Step, ...], ...]:
        """What is switched on for each turn, in order; what stays on from the turn before is not among it."""
        if not self.job.orders or not self.job.orders[0].steps:
            return ()
        later = (change.order.steps for change in self.changes if not change.back)
        return (self.job.orders[0].steps, *later)

    @cached_property
    def changes(self) -> tuple[Change, ...]:
        """Every change of turns within a run."""
        return changes(self.job)

    @property
    def routine(self) -> Routine | None:
        """The daily rule, where the house has a machine."""
        return self.job.plan.routine

    @property
    def month(self) -> str:
        """The month the plan is for."""
        return month(self.job.plan.conditions.month)

    def cautions(self, *ids: str) -> tuple[Warned, ...]:
        """Cautions by id, as they apply here."""
        return warned(self.job, ids)


def gather(job: Job) -> Facts:
    """The facts of a page."""
    return Facts(job, house_key(job.house), clocks(job), checklists(job), left_off(job.plan))


def house_key(house: House) -> str:
    """A short mark of a house: the same while its name and place stay, with nothing to read in it."""
    return sha256(f"{house.name}\n{house.site.place}\n{house.site.country}".encode()).hexdigest()[:12]


def left_off(plan: Plan) -> tuple[tuple[str, str], ...]:
    """Circuits that the machine cannot carry, by reason."""
    if plan.choice is None:
        return ()
    return stay_off(plan.choice)


def food_rules(say: Say) -> Iterator[str]:
    """The clocks of public-health guidance, in words."""
    for rule_id in ("fridge_closed", "freezer_full", "freezer_half_full"):
        rule = food.food_rule(rule_id)
        yield sentence(f"{rule.meaning}: {hours(rule.duration_s or 0.0)}")
    limit = say.temperature(food.food_rule_c("danger_temperature"))
    longest = hours(food.food_rule_s("time_above_danger"))
    yield f"Perishable food above {limit} for more than {longest} is thrown out."
    yield f"Food with ice crystals, or at {limit} or colder, may be frozen again. Judge each piece by itself."


def food_limit(say: Say, limit_s: float | None, limit_c: float | None) -> str:
    """A limit of one food: "after 8 h above 50 °F"."""
    if limit_s is None or limit_c is None:
        return ""
    return f"throw out after {duration(limit_s)} above {say.temperature(limit_c)}"


def fuel_lines(facts: Facts) -> Iterator[str]:
    """What the machine burns, how long tank and stock last, how long the stock keeps."""
    return (plain(line) for line in _fuel_lines(facts))


def _fuel_lines(facts: Facts) -> Iterator[str]:
    plan, say = facts.job.plan.fuel, facts.say
    if plan is None:
        return
    for run in plan.tank_runs:
        if run.load_frac in (0.5, 1.0):
            at = "half load" if run.load_frac == 0.5 else "full load"
            yield f"One filling lasts {duration(run.run_s)} at {at} ({say.fuel_rate(run.burn_m3_per_s)})."
    if plan.day_need_m3 is not None:
        yield f"The routine takes {say.volume(plan.day_need_m3)} a day."
    if plan.stock_days is not None and isfinite(plan.stock_days):
        shared = with_heater(facts.job.plan, plan.burn.fuel, plan.stock_days)
        yield f"The stock at home lasts {duration(plan.stock_days * 86400.0)} of it{', ' + shared if shared else ''}."
    if facts.job.plan.routine is not None and facts.job.plan.routine.outlasts_its_fuel:
        yield outlasted(facts.job.plan.routine)
    for lot in plan.stock:
        until = f"use by {lot.keeps_until.isoformat()}" if lot.keeps_until is not None else lot.note
        place = "" if lot.place == "unknown" else f", {words(lot.place)}"
        yield sentence(f"{facts.job.fuel(lot.fuel)}: {say.volume(lot.amount_m3)}{place}; {until}")
    split = facts.house.system is VoltageSystem.SPLIT_120_240
    if split and any(lot.fuel is FuelKind.GASOLINE for lot in plan.stock):
        most = say.volume(storage_limit_m3("dwelling_total"))
        yield f"Fire codes often allow {most} of gasoline at a dwelling; ask the fire marshal."
