"""Changes of turns within a spell: as the routine was replayed, and never a start beyond the machine."""

from __future__ import annotations

import json
import re
from dataclasses import replace

import pytest
from tests.papers import houses
from tests.papers.pages import letters
from tests.papers.plans import TODAY, plan_of_example

from hearthold.papers.changes import changes, off_words, on_words, rest_words
from hearthold.papers.job import Job
from hearthold.papers.make import PAPERS, job_of
from hearthold.papers.words import steps
from hearthold.sizing.demand import SELF_STARTING
from hearthold.sizing.order import switch_on_order

EXAMPLES = ("tarn", "skerrow")


def job(which: str) -> Job:
    """The papers' job of an example."""
    return job_of(plan_of_example(which), getattr(houses, which)(), today=TODAY)


def made(one: Job, name: str) -> bytes:
    return next(p for p in PAPERS if p.name == name).made(one)


@pytest.mark.parametrize("which", EXAMPLES)
def test_who_follows_the_changes_has_on_what_the_routine_had_on(which: str) -> None:
    one = job(which)
    timed = one.plan.routine.turns.turns
    assert len(timed) > 2
    on = set(timed[0].circuits)
    for change, turn in zip(changes(one), timed[1:], strict=True):
        assert change.after_s == turn.from_s
        on -= set(change.off)
        assert on == set(change.kept)
        on |= {step.circuit for step in change.order.steps}
        assert on == set(turn.circuits)


@pytest.mark.parametrize("which", EXAMPLES)
def test_no_start_on_top_of_what_runs_asks_more_than_the_machine_starts(which: str) -> None:
    one = job(which)
    for change in changes(one):
        start_va = max(step.own_start_va for step in change.order.steps)
        # a motor whose start alone is beyond the machine gains most from having it for itself
        assert change.order.peak_va <= max(one.source.start_va, start_va)


def test_a_start_that_needs_the_machine_for_itself_turns_everything_off_first() -> None:
    one = job("skerrow")
    first = changes(one)[0]
    assert first.order.steps[0].circuit == "borehole"
    assert first.everything_off
    strong = replace(one.plan, supplies=tuple(replace(s, start_va=20e3) for s in one.plan.supplies))
    kept = changes(job_of(strong, one.house, today=TODAY))[0]
    assert kept.off == ("kitchen",)
    assert [step.circuit for step in kept.order.steps] == ["borehole"]


def test_watts_of_what_is_on_already_add_to_a_start() -> None:
    """Real powers add as plain numbers, whatever the phase: the sum from the house file is an outside check."""
    house = houses.tarn()
    on = ("boiler", "fridge", "bedrooms")
    order = switch_on_order(house, ["sump"], already_on=on)
    calling = [x for c in on for x in house.loads_on(c) if x.pattern in SELF_STARTING]
    step = order.steps[0]
    assert step.peak.total_w == pytest.approx(step.own_start_w + sum(x.running_w for x in calling), rel=1e-9)
    assert [s.circuit for s in order.steps] == ["sump"]


@pytest.mark.parametrize("which", EXAMPLES)
@pytest.mark.parametrize("name", ["run-sheet", "drill"])
def test_sheets_tell_every_change_with_its_minute(which: str, name: str) -> None:
    one = job(which)
    text = letters(made(one, name))
    for change in changes(one):
        assert f"After{change.after_s / 60:.0f}min" in text
        assert "".join(f"OFF: {off_words(one, change)}".split()) in text
    if name == "run-sheet":
        assert all("".join(on_words(one, change).split()) in text for change in changes(one))


def test_without_a_routine_turns_are_numbered() -> None:
    plan = replace(plan_of_example("tarn"), routine=None)
    one = job_of(plan, houses.tarn(), today=TODAY)
    assert one.turns == plan.choice.turns
    text = letters(made(one, "run-sheet"))
    assert "Turn2." in text
    assert "After" not in text


def test_the_pocket_page_knows_what_each_turn_feeds_and_switches() -> None:
    one = job("tarn")
    page = made(one, "pocket").decode()
    facts = json.loads(re.search(r"<script[^>]*application/json[^>]*>(.*?)</script>", page, re.S)[1])
    assert [set(turn) for turn in facts["feeds"]] == [set(turn) for turn in one.turns]
    on = [[step["id"] for step in turn] for turn in facts["turns"]]
    assert set(on[0]) == set(one.turns[0])
    assert set(on[1]) == set(one.turns[1]) - set(one.turns[0])


@pytest.mark.parametrize("name", ["run-sheet", "pocket"])
def test_cans_to_fill_and_batteries_to_charge_are_told_where_the_machine_runs(name: str) -> None:
    one = job("tarn")
    content = made(one, name)
    text = letters(content) if content[:4] == b"%PDF" else "".join(content.decode().split())
    for words in ("Stocktank,12gal", "Kitchenjugs,4gal", "batteryofCPAPwithhumidifier", "5htofull"):
        assert words in text
    assert "Kitchen jugs" not in made(one, "calendar").decode()


def test_a_house_without_cans_and_batteries_is_told_nothing_of_them() -> None:
    assert steps.meanwhile(job("skerrow")) == ()
    bare = houses.bare(houses.tarn())
    assert steps.meanwhile(job_of(replace(plan_of_example("tarn"), supplies=()), bare, today=TODAY)) == ()


@pytest.mark.parametrize("which", EXAMPLES)
def test_compressors_that_go_off_and_come_back_are_told_to_rest(which: str) -> None:
    """Three to five minutes before a compressor starts again: common practice, no source."""
    one = job(which)
    cold = {one.house.load_by_id[x.load].circuit for x in one.house.cold}
    told = 0
    for change in changes(one):
        words = rest_words(one, change)
        resting = {c for c in change.interrupted if c in cold}
        assert all(one.circuit(c) in words for c in resting)
        assert ("5 min" in words) == bool(resting)
        told += bool(resting)
    assert told > 0
    assert "Compressors rest first" in letters(made(one, "run-sheet")) or "Compressorsrestfirst" in letters(
        made(one, "run-sheet")
    )


def test_a_vital_circuit_that_goes_off_for_a_while_is_named() -> None:
    one = job("tarn")
    words = [rest_words(one, c) for c in changes(one) if "bedrooms" in c.interrupted]
    assert words
    assert all("Bedrooms (vital) is off" in text for text in words)


def test_a_pump_without_power_fills_nothing() -> None:
    one = job("tarn")
    assert any("While Well pump is on, fill" in text for text in steps.meanwhile(one))
    choice = one.plan.choice
    dry = replace(choice, together=tuple(c for c in choice.together if c != "well"), turns=())
    without = replace(one, plan=replace(one.plan, choice=dry, routine=None))
    without = replace(
        without,
        house=replace(
            one.house,
            circuits=tuple(
                c.model_copy(update={"panel": "main"}) if c.id == "well" else c for c in one.house.circuits
            ),
        ),
    )
    told = steps.meanwhile(without)
    assert "Well pump gets no power: use stored water sparingly." in told
    assert not any("fill" in text for text in told)
