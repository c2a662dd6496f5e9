"""Which clocks the pocket page shows, against figures worked out by hand from the house file."""

from __future__ import annotations

from dataclasses import replace
from math import ceil, inf

import pytest
from tests.papers import houses
from tests.papers.plans import TODAY, plan_of_example

from hearthold.papers.job import LETTER, Job, say_of
from hearthold.papers.pocket.clocks import Clock, circuit_of, clocks
from hearthold.papers.pocket.steps import checklists, cool_s
from hearthold.plan.kept import StoreKept
from hearthold.plan.result import Plan


def job_of(plan: Plan) -> Job:
    house = houses.tarn()
    return Job(plan, house, TODAY, LETTER, say_of(house), "0")


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_of_example("tarn")


def clock(plan: Plan, store: str) -> Clock:
    return next(c for c in clocks(job_of(plan)).clocks if c.id == store)


def kept(store: str, keeps: bool) -> StoreKept:
    return StoreKept(store, store, "food", "degC", 1.0, 4.0, 4.4, 0.0, inf, 0.0, True, keeps)


def test_each_clock_is_the_shortest_answer_and_never_longer_than_the_rule(plan: Plan) -> None:
    """Public-health guidance gives a closed fridge 4 h and a full freezer 48 h."""
    assert clock(plan, "fridge").hold_s <= 4 * 3600.0
    assert clock(plan, "chest_freezer").hold_s <= 48 * 3600.0
    for hold in plan.holds:
        if hold.strictest_s < inf:
            assert clock(plan, hold.store).hold_s == min(hold.planning_s, hold.likely_s, hold.rule_s or inf)


def test_stores_that_last_have_no_clock(plan: Plan) -> None:
    endless = replace(plan.holds[0], planning_s=inf, likely_s=inf, rule_s=None, name="A store that lasts")
    found = clocks(job_of(replace(plan, holds=(endless,))))
    assert found.without_end == ("A store that lasts",)
    assert [c.id for c in found.clocks] == ["machine_tank"]


def test_a_store_goes_by_the_circuit_of_its_load(plan: Plan) -> None:
    """Read off the house file: the freezer stands on the pantry circuit, heat and pipes hang on the boiler."""
    wanted = {
        "fridge": "fridge",
        "pantry_freezer": "pantry",
        "chest_freezer": "workshop",
        "house_lowest": "boiler",
        "pipes": "boiler",
        "pressure_tank": "well",
        "sump": "sump",
        "cpap": "bedrooms",
    }
    found = {h.store: circuit_of(houses.tarn(), h) for h in plan.holds}
    assert {store: found[store] for store in wanted} == wanted


def test_a_pit_is_made_good_by_its_own_pump(plan: Plan) -> None:
    """Volume over net flow, rounded up to whole minutes, by hand from the house."""
    pit = next(p for p in houses.tarn().pits if p.id == "sump")
    minutes = (pit.headroom_m3 + pit.cycle_m3) / (pit.pump_m3_per_s - pit.inflow_m3_per_s) / 60.0
    assert clock(plan, "sump").renew_s == 60.0 * ceil(minutes)


def test_a_fridge_is_counted_anew_only_where_the_routine_was_found_to_keep_it(plan: Plan) -> None:
    assert plan.routine is not None
    assert clock(plan, "fridge").renew_s is None
    keeps = replace(plan, routine=replace(plan.routine, stores=(kept("fridge", True),)))
    breaks = replace(plan, routine=replace(plan.routine, stores=(kept("fridge", False),)))
    assert clock(keeps, "fridge").renew_s == min(run.length_s for run in plan.routine.runs)
    assert clock(breaks, "fridge").renew_s is None


def test_fuel_counts_while_the_machine_runs_and_stores_while_it_does_not(plan: Plan) -> None:
    counts = {c.id: c.counts for c in clocks(job_of(plan)).clocks}
    assert counts.pop("fuel") == counts.pop("machine_tank") == "running"
    assert set(counts.values()) == {"unpowered"}


def test_the_tank_clock_is_what_the_fuel_plan_says_at_half_load(plan: Plan) -> None:
    assert plan.fuel is not None
    half = next(r for r in plan.fuel.tank_runs if r.load_frac == 0.5)
    assert clock(plan, "machine_tank").hold_s == half.run_s


def test_the_cooling_clock_is_the_longer_of_caution_and_wish(plan: Plan) -> None:
    """The caution asks for 15 minutes (from memory)."""
    house = houses.tarn()
    patient = replace(house, wishes=house.wishes.model_copy(update={"cool_down_s": 1800.0}))
    hasty = replace(house, wishes=house.wishes.model_copy(update={"cool_down_s": 60.0}))
    assert cool_s(replace(job_of(plan), house=patient)) == 1800.0
    assert cool_s(replace(job_of(plan), house=hasty)) == 900.0


def test_steps_are_cut_into_one_thing_a_tick(plan: Plan) -> None:
    lists = {found.id: found.steps for found in checklists(job_of(plan))}
    assert "Oil at the mark." in lists["before"]
    assert all(
        ". " not in step
        for key in ("before", "start", "end", "back")
        for step in lists[key][:-1]
        if "hand" not in step
    )
    assert any("Coffee maker" in step for step in lists["before"])
