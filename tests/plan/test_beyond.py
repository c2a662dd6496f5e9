"""The time beyond which no plan keeps every limit: against hand calculations, and never before a plan that does."""

from __future__ import annotations

from dataclasses import replace

import pytest
from running_houses import HOUR_S, running_house, steady

from hearthold.plan import hold
from hearthold.plan.asked import Asked
from hearthold.plan.beyond import cannot_beyond_s
from hearthold.plan.hold import longest_hold
from hearthold.plan.infeasible import explain
from hearthold.plan.now import Now
from hearthold.plan.objective import SLOT_S
from hearthold.plan.outage import Span, plan_outage
from hearthold.plan.problem import Problem, pose, shortened


def problem_of(hours: float, mean_c: float = 8.0, **changes: str) -> Problem:
    return pose(running_house(**changes), steady(mean_c), Asked(42 * HOUR_S, hours))


def test_in_quiet_hours_it_is_the_slot_in_which_the_pit_floods() -> None:
    """24 gal of headroom at 12 gal/h from 22:00 on: two hours, and the bound looks at whole quarter hours."""
    problem = pose(running_house(inflow="12 gal/h"), steady(8.0), Asked(46 * HOUR_S, 8.0))
    until_s = longest_hold(problem).until_s
    beyond_s = cannot_beyond_s(problem, until_s - 1.0)
    assert until_s == pytest.approx(2 * HOUR_S, abs=1.0)
    assert beyond_s is not None
    assert 2 * HOUR_S - 1.0 <= beyond_s <= 2 * HOUR_S + SLOT_S


@pytest.mark.parametrize(("from_h", "pause_slots"), [(42.0, 1), (40.0, 4)])
def test_quiet_nights_are_bracketed_to_a_twentieth(from_h: float, pause_slots: int) -> None:
    """The fridge warms from 22:00 on; what some plan keeps and what none can lie near each other."""
    problem = pose(running_house(fuel="60 gal"), steady(8.0), Asked(from_h * HOUR_S, 24.0))
    problem = replace(problem, patterns=replace(problem.patterns, least_off=pause_slots))
    held = longest_hold(problem)
    beyond_s = cannot_beyond_s(problem, held.until_s)
    assert held.fails.store == "fridge"
    assert beyond_s is not None
    assert held.none_beyond_s is not None
    assert held.until_s <= held.none_beyond_s <= held.until_s + SLOT_S  # by all patterns
    assert held.none_beyond_s <= beyond_s <= 1.07 * held.until_s  # by the bound, which knows nothing of them


def test_where_limits_can_be_kept_nothing_is_ruled_out() -> None:
    problem = problem_of(12.0, night="true", spells="4")
    assert cannot_beyond_s(problem, 6 * HOUR_S) is None


def test_a_shortened_problem_has_the_first_slots() -> None:
    problem = problem_of(24.0)
    short = shortened(problem, 30)
    assert short.slots == 30
    assert short.length_s == problem.lead_s + 30 * SLOT_S
    assert (short.patterns.may_run == problem.patterns.may_run[:30]).all()


def test_it_is_said_unasked_where_all_patterns_can_be_run() -> None:
    planned = plan_outage(running_house(fuel="60 gal"), steady(8.0), Now(42 * HOUR_S), Span(24.0))
    assert planned.trouble is not None
    assert "No plan can keep them beyond" in planned.trouble.statement


@pytest.mark.parametrize("prove_s", [None, 1.0])
def test_else_it_is_said_where_a_proof_is_asked_for(
    prove_s: float | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(hold, "every_pattern", lambda *_: None)  # as if there were too many
    planned = plan_outage(
        running_house(fuel="60 gal"), steady(8.0), Now(42 * HOUR_S), Span(24.0), prove_s=prove_s
    )
    assert planned.trouble is not None
    assert ("No plan can keep them beyond" in planned.trouble.statement) == (prove_s is not None)


def test_explain_takes_the_time_it_is_given(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(hold, "every_pattern", lambda *_: None)  # as if there were too many
    told = explain(
        running_house(fuel="60 gal"),
        steady(8.0),
        Asked(42 * HOUR_S, 24.0),
        beyond=lambda _, until_s: until_s + 60.0,
    )
    assert told is not None
    assert told.cannot_beyond_s == told.holds_until_s + 60.0
