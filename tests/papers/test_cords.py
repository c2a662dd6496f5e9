"""A house on cords: findings, routine, comparison and papers name the same appliances, and the same that are left."""

from __future__ import annotations

from functools import cache

import pytest
from tests.papers import houses
from tests.papers.plans import TODAY, plan_of

from hearthold.house.supply import HookupKind
from hearthold.papers.drill import drill_blocks
from hearthold.papers.job import Job
from hearthold.papers.make import job_of
from hearthold.papers.runsheet import run_sheet_data
from hearthold.study.design import Design, design
from hearthold.study.hookups import Way

EXAMPLES = ("tarn", "skerrow")


@cache
def job(name: str) -> Job:
    house = houses.with_hookup(getattr(houses, name)(), HookupKind.CORDS)
    return job_of(plan_of(house), house, today=TODAY)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_run_sheet_lists_the_cords_that_the_routine_plays(name: str) -> None:
    made = job(name)
    routine = made.plan.routine
    assert routine is not None
    sheet = run_sheet_data(made)
    assert len(sheet["order"]) == len(routine.turns.order)
    for step, cord in zip(sheet["order"], routine.turns.order, strict=True):
        for load in made.running.loads_on(cord):
            assert _words(load.name) in _words(step["name"])
    assert {x.id for x in made.on_cords} == {x.id for x in made.house.reach.on_cords}


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_matters_and_is_left_is_named_alike_everywhere(name: str) -> None:
    made = job(name)
    routine, found = made.plan.routine, made.house.reach
    assert routine is not None
    said = {f.rule: _words(f.why) for f in made.plan.findings}
    sheet, drill = _words(run_sheet_data(made)["by_hand"]), _words(" ".join(map(str, drill_blocks(made))))
    for rule, loads in (("cords-many-loads", found.no_cord), ("cords-cannot-reach", found.no_plug)):
        left = [_words(x.name) for x in loads if x.priority.rank <= 1]
        assert left
        for load in left:
            assert load in said[rule]
            assert load in _words(routine.switching)
            assert load in sheet
            assert load in drill
    for load in found.on_cords:
        assert _words(load.name) not in said["cords-cannot-reach"]


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_comparison_lays_the_same_cords(name: str) -> None:
    made = job(name)
    found = design(made.house, Way.CORDS)
    assert isinstance(found, Design)
    assert found.cords == made.running.cords


def _words(text: str) -> str:
    """Without the marks that let long names break."""
    return " ".join(text.replace("\u200b", "").split())
