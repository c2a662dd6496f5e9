"""Turns: what the panel is set to, what the routine and the run plan replay, and the switch-on order are one thing."""

from __future__ import annotations

from itertools import pairwise
from math import inf
from pathlib import Path

import numpy as np
import pytest
from running_houses import running_house

from hearthold.engine.control import Step
from hearthold.engine.run import simulate
from hearthold.engine.trace import Trace
from hearthold.house.house import House
from hearthold.house.reader import read_house
from hearthold.plan.asked import Asked
from hearthold.plan.choice import Choice, Verdict
from hearthold.plan.routine import FAILS_AT_S, Routine, find_routine, steady_hours
from hearthold.plan.runplan import plan_running
from hearthold.plan.solve import QUICK
from hearthold.plan.turns import Turns, in_turns, one_turn, usual_choice, usual_turns
from hearthold.sizing.conditions import conditions
from hearthold.sizing.order import switch_on_order

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
MONTH, HOURS = 1, 48.0


def example(name: str) -> House:
    return read_house(EXAMPLES / f"{name}.toml")


def chosen(house: House) -> Choice:
    found = usual_choice(house)
    assert found is not None
    return found


@pytest.fixture(scope="module", params=["tarn_hollow", "skerrow_croft"])
def routine(request: pytest.FixtureRequest) -> tuple[House, Routine]:
    house = example(request.param)
    return house, find_routine(house, conditions(house, MONTH), HOURS, choice=chosen(house))


def on_minutes(trace: Trace, circuit: str) -> np.ndarray:
    """Minutes of the outage in which a circuit draws power."""
    return np.flatnonzero(trace.circuit_w[:, trace.house.circuit_ids.index(circuit)] > 0.0)


def its_turns(turns: Turns, circuit: str, starts_s: list[float], ends_s: list[float]) -> np.ndarray:
    """Minutes that touch a turn of the circuit in one of the spells."""
    found = [np.zeros(0, dtype=int)]
    for start, end in zip(starts_s, ends_s, strict=True):
        for turn in turns.turns:
            first, last = start + turn.from_s, min(end, start + turn.until_s)
            if circuit in turn.circuits and first < last:
                found.append(np.arange(int(first // 60.0), int(np.ceil(last / 60.0))))
    return np.concatenate(found)


def check(trace: Trace, house: House, turns: Turns, starts_s: list[float], ends_s: list[float]) -> None:
    """No circuit is on but in its turn; and each that has a turn is on in one, once the outage is a day old."""
    turned = {c for turn in turns.turns for c in turn.circuits}
    for circuit in trace.house.circuit_ids:
        on = on_minutes(trace, circuit)
        assert np.isin(on, its_turns(turns, circuit, starts_s, ends_s)).all(), circuit
        if circuit not in turned:
            assert len(on) == 0
    assert chosen(house).never == () or not set(chosen(house).never) & turned


def daily(routine: Routine) -> tuple[list[float], list[float]]:
    """Starts and ends of the daily runs, in seconds since the failure."""
    spells = [
        (day * 86400.0 + run.at_s - FAILS_AT_S, run.length_s) for day in range(-1, 4) for run in routine.runs
    ]
    return [a for a, _ in spells], [a + n for a, n in spells]


def test_routine_switches_the_choice_and_nothing_else(routine: tuple[House, Routine]) -> None:
    house, found = routine
    trace = simulate(
        house, steady_hours(conditions(house, MONTH), 6), found.control, start_s=FAILS_AT_S, hours=HOURS
    )
    check(trace, house, found.turns, *daily(found))


def test_routine_begins_with_the_switch_on_order_of_the_plan(routine: tuple[House, Routine]) -> None:
    house, found = routine
    order = switch_on_order(house, chosen(house).together)
    assert found.circuits == tuple(step.circuit for step in order.steps)
    assert set(found.circuits) == set(chosen(house).together)
    first = [step for step in found.control.spells[0].steps if step.on_s < found.turns.turns[0].until_s]
    assert [step.circuit for step in first] == list(found.circuits)


def test_run_plan_keeps_to_the_turns(routine: tuple[House, Routine]) -> None:
    house, found = routine
    outside = steady_hours(conditions(house, MONTH), 6)
    plan = plan_running(house, outside, Asked(FAILS_AT_S, HOURS, turns=found.turns), effort=QUICK)
    assert plan.circuits == found.circuits
    check(plan.trace, house, plan.turns, [s.start_s for s in plan.spells], [s.end_s for s in plan.spells])


def test_every_circuit_in_turns_has_one_and_none_that_is_never_carried(
    routine: tuple[House, Routine],
) -> None:
    house, found = routine
    verdicts = {c.circuit: c.verdict for c in chosen(house).circuits}
    turned = {c for turn in found.turns.turns for c in turn.circuits}
    assert turned == {c for c, verdict in verdicts.items() if verdict is not Verdict.NEVER}
    assert all(c in found.switching for c in names(house, turned - set(found.circuits)))


def names(house: House, circuits: set[str]) -> list[str]:
    return [house.circuit_by_id[c].name for c in circuits]


def test_turns_of_the_croft_by_hand() -> None:
    """Two sets that differ by kitchen and borehole: 15 minutes, 15 minutes, and the first again."""
    house = example("skerrow_croft")
    turns = in_turns(house, chosen(house), 15, 15)
    assert [(t.from_s, t.until_s) for t in turns.turns] == [(0.0, 900.0), (900.0, 1800.0), (1800.0, inf)]
    windows = {c: [(s.on_s, s.off_s) for s in turns.steps if s.circuit == c] for c in ("borehole", "boiler")}
    assert windows["borehole"] == [(900.0, 1800.0)]
    (whole,) = windows["boiler"]  # in both sets: it stays on
    assert whole[0] < 900.0
    assert whole[1] == inf
    kitchen = [s for s in turns.steps if s.circuit == "kitchen"]
    assert [s.off_s for s in kitchen] == [900.0, inf]


def test_no_load_limit_is_passed_within_any_turn() -> None:
    """Each turn is one of the sets that the exact choice found can be carried."""
    for name in ("tarn_hollow", "skerrow_croft"):
        house = example(name)
        sets = {frozenset(chosen(house).together), *(frozenset(t) for t in chosen(house).turns)}
        assert {frozenset(t.circuits) for t in usual_turns(house).turns} <= sets


def test_one_set_needs_no_switching() -> None:
    house = running_house()
    turns = usual_turns(house)
    assert turns.changes == 0
    assert turns.sentence(house) == ""
    assert turns == one_turn(house)


def test_turns_follow_one_another() -> None:
    turns = usual_turns(example("tarn_hollow"))
    assert turns.changes >= 2
    assert all(a.until_s == b.from_s for a, b in pairwise(turns.turns))


def test_no_circuit_at_all_switches_none() -> None:
    """A spell without a step would switch every circuit that is fed."""
    house = running_house()
    none = one_turn(house, ())
    assert none.steps == (Step("boiler", 0.0, 0.0),)
    plan = plan_running(house, steady_hours(conditions(house, MONTH), 4), Asked(0.0, 24.0, turns=none))
    assert (plan.trace.circuit_w == 0.0).all()
