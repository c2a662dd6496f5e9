"""The routine: the best of its rules, said in one sentence, with the replay of what it does."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from math import ceil

import numpy as np
import pytest
from running_houses import HOUR_S, MEDICAL, running_house, steady

from hearthold.engine.weather import year_hours
from hearthold.errors import InputError
from hearthold.house.house import House
from hearthold.plan import words
from hearthold.plan.asked import Asked
from hearthold.plan.kept import StoreKept, stores_kept
from hearthold.plan.objective import COLD_W_PER_K
from hearthold.plan.problem import pose
from hearthold.plan.routine import (
    FAILS_AT_S,
    Routine,
    described,
    find_routine,
    steady_hours,
)
from hearthold.plan.rule_play import DailyRun, replay
from hearthold.plan.rule_search import Judge, coarse, neighbours, rule_set, search
from hearthold.plan.season import season_routine
from hearthold.plan.status import Status
from hearthold.sizing.conditions import conditions


def routine(house: House, month: int = 4, **how: object) -> Routine:
    return find_routine(house, conditions(house, month), **how)


def test_no_rule_of_one_spell_is_cheaper() -> None:
    """Every half hour and every length between shortest and longest, one spell a day, priced one by one."""
    house = running_house(spells="1", inflow="3 gal/h")
    weather = steady_hours(conditions(house, 4), 6)
    problem = pose(house, weather, Asked(start_s=FAILS_AT_S, hours=36.0))
    judge = Judge(problem, np.array([FAILS_AT_S]), np.array([problem.length_s]))
    best = search(problem, judge)[0]
    rules = rule_set(problem)
    every = [((m, n),) for m, n in product(range(0, 1440, 30), rules.lengths_min) if rules.allows(((m, n),))]
    assert len(every) > 150
    plain = Judge(problem, judge.start_s, judge.length_s).costs_j([(), *every])
    assert judge.known[best] == min(plain.values())


def test_a_climb_finds_no_better_neighbour_of_what_is_chosen() -> None:
    house = running_house(spells="2")
    problem = pose(house, steady_hours(conditions(house, 4), 6), Asked(start_s=FAILS_AT_S, hours=36.0))
    judge = Judge(problem, np.array([FAILS_AT_S]), np.array([problem.length_s]))
    best = search(problem, judge, climbs=12)[0]
    rules = rule_set(problem)
    near = [rule for rule in neighbours(rules, best) if rule and rules.allows(rule)]
    costs = judge.costs_j(near)
    assert judge.known[best] <= min(costs.values()) * (1.0 + 1e-4)


@pytest.mark.parametrize(("month", "spells"), [(1, "4"), (7, "2")])
def test_a_rule_not_followed_to_the_end_is_dearer_than_was_asked(month: int, spells: str) -> None:
    """Its cost is that of a beginning, and cost only grows; what is cheaper is priced to the bit as without."""
    house = running_house(night="true", spells=spells, inflow="4 gal/h")
    problem = pose(house, steady_hours(conditions(house, month), 6), Asked(start_s=FAILS_AT_S, hours=60.0))
    starts, lengths = np.array([FAILS_AT_S, 0.0]), np.array([problem.length_s, 36 * HOUR_S])
    rules = [rule for rule in coarse(rule_set(problem)) if rule_set(problem).allows(rule)][::7]
    whole = Judge(problem, starts, lengths).costs_j(rules)
    most_j = 1.2 * min(whole.values())
    part = Judge(problem, starts, lengths).costs_j(rules, most_j)
    cheap = [rule for rule in rules if whole[rule] <= most_j]
    assert 0 < len(cheap) < len(rules)
    assert all(part[rule] == whole[rule] for rule in cheap)
    dear = [rule for rule in rules if part[rule] != whole[rule]]
    assert dear
    assert all(most_j < part[rule] < whole[rule] for rule in dear)


def test_rules_keep_the_wishes() -> None:
    house = running_house(spells="3")
    problem = pose(house, steady(), Asked(start_s=FAILS_AT_S, hours=24.0))
    rules = rule_set(problem)
    allowed = [rule for rule in coarse(rules) if rules.allows(rule)]
    assert len(allowed) > 300
    for rule in allowed:
        assert len(rule) <= 3
        for start, length in rule:
            assert start >= 360
            assert start + length <= 1320
            assert 45 <= length <= 240
        ends = [start + length for start, length in rule]
        assert all(end + 60 <= after for end, (after, _) in zip(ends, rule[1:], strict=False))


def test_limits_kept_and_figures_of_the_replay() -> None:
    found = routine(running_house(night="true", spells="4", inflow="4 gal/h"))
    assert found.kept
    assert found.standing.status is Status.IN_TIME
    assert found.breaks_first is None
    assert found.alternatives == ()
    assert found.fuel_day_m3 * 3.0 == pytest.approx(20 * 0.003785411784 - found.fuel_left_m3, rel=1e-9)
    assert found.run_day_s == pytest.approx(sum(r.length_s for r in found.runs), rel=0.35)


def test_a_fridge_that_warms_overnight_is_told_with_hours_and_with_what_would_help() -> None:
    found = routine(running_house(), 6)
    assert found.standing.status is Status.CANNOT
    fridge = next(s for s in found.stores if s.store == "fridge")
    assert fridge.beyond_s > HOUR_S
    assert fridge.high > fridge.limit
    assert found.breaks_first is not None
    assert {a.what for a in found.alternatives} == {"one more spell", "a spell at night", "food given up"}
    night = next(a for a in found.alternatives if a.what == "a spell at night")
    assert night.beyond_s < fridge.beyond_s / 3.0


def test_where_a_fridge_is_lost_either_way_the_rule_that_gives_it_up_is_told() -> None:
    """No rule of one spell, priced one by one with the warmth of lost food for nothing, does with less; in both replays
    the food stands above 40 F for more than the two hours of public-health guidance.
    """
    house = running_house(spells="1", longest="8 h")
    found = routine(house, 6)
    told = next(a for a in found.alternatives if a.what == "food given up")
    assert told.fuel_day_m3 < 0.75 * found.fuel_day_m3
    weather = steady_hours(conditions(house, 6), ceil(found.tested_s / 86400.0) + 3)
    problem = pose(house, weather, Asked(FAILS_AT_S, found.tested_s / HOUR_S, turns=found.turns))
    prices = problem.prices.copy()
    prices[COLD_W_PER_K] = 0.0
    judge = Judge(replace(problem, prices=prices), np.array([FAILS_AT_S]), np.array([problem.length_s]))
    rules = rule_set(problem)
    every = [
        rule
        for rule in (((start, length),) for start in range(0, 1440, 30) for length in rules.lengths_min)
        if rules.allows(rule)
    ]
    costs = judge.costs_j(every)
    own = tuple((round(r.at_s / 60), round(r.length_s / 60)) for r in told.runs)
    assert costs[own] == min(costs.values())
    for rule in (own, tuple((round(r.at_s / 60), round(r.length_s / 60)) for r in found.runs)):
        trace = replay(problem, rule)
        fridge = trace.cold_c[:, trace.house.cold_ids.index("fridge")]
        assert (fridge > 4.5).sum() > 120  # minutes
    assert "is lost either way" in told.sentence


def test_what_gets_worse_by_another_spell_is_told_with_it() -> None:
    """Of every rule that is offered: each limit that its replay leaves for longer is named in its sentence."""
    house = running_house(fuel="7 gal", trip="")
    found = routine(house, 1)
    problem = pose(house, steady_hours(conditions(house, 1), 12), Asked(FAILS_AT_S, found.tested_s / HOUR_S))
    before = {s.store: s for s in found.stores}
    for other in found.alternatives:
        rule = tuple((round(r.at_s / 60), round(r.length_s / 60)) for r in other.runs)
        for s in stores_kept(house, replay(problem, rule)):
            if s.hard and s.beyond_s > before[s.store].beyond_s + 1800.0:
                assert s.name in other.sentence
    was = StoreKept("box", "Box", "food", "degC", 3.0, 6.0, 4.4, 7200.0, 0.0, 0.0, True, False)
    now = replace(was, beyond_s=36000.0)
    house_store = replace(was, store="house", name="house", kind="house")
    told = words.alternative_sentence(
        "a spell at night", found.runs, house_store, replace(house_store, kept=True), 5.0, [(was, now)]
    )
    head = "With a spell at night house keeps its limit, but Box is beyond its limit 2.0 h a day instead of 0.4 h. "
    assert told.startswith(head)


def test_night_is_left_alone_unless_wished_or_vital() -> None:
    for month in (1, 7):
        for run in routine(running_house(), month).runs:
            assert run.at_s >= 6 * HOUR_S
            assert run.at_s + run.length_s <= 22 * HOUR_S
    vital = routine(running_house(cpap="vital", medical=MEDICAL.format(own="0 min")))
    cpap = next(s for s in vital.stores if s.kind == "vital")
    assert cpap.kept
    assert len(vital.gave_way) == 2


def test_same_twice() -> None:
    first, again = (routine(running_house(inflow="3 gal/h")) for _ in range(2))
    assert first.runs == again.runs
    assert first.cost == again.cost


@pytest.mark.parametrize(
    ("runs", "sentence"),
    [
        (((390, 90), (1080, 90)), "Run it at 06:30 and 18:00 for 90 minutes each."),
        (((390, 60),), "Run it at 06:30 for 1 hour."),
        (((390, 120), (840, 45)), "Run it at 06:30 for 2 hours; at 14:00 for 45 minutes."),
        ((), "Leave it off."),
    ],
)
def test_a_rule_in_one_sentence(runs: tuple[tuple[int, int], ...], sentence: str) -> None:
    assert words.rule_sentence([DailyRun(60.0 * at, 60.0 * n) for at, n in runs]) == sentence


def test_a_season_is_judged_on_the_same_outages_and_told_against_plans_that_know() -> None:
    house = running_house(night="true", spells="3", inflow="3 gal/h")
    rng = np.random.default_rng(4)
    starts = rng.integers(90, 150, 24) * 86400.0 + rng.integers(0, 24, 24) * HOUR_S
    lengths = np.clip(rng.lognormal(np.log(14.0), 0.7, 24), 3.0, 48.0) * HOUR_S
    found = season_routine(house, year_hours(house, seed=1), starts, lengths, compared=8)
    assert found.outages == 24
    assert found.compared == 8
    assert (
        found.same_day_j >= found.known_day_j * 0.98
    )  # plans that know are not dearer, save for their coarseness
    assert 0.0 <= found.kept_frac <= 1.0
    assert "Run it at" in found.sentence
    assert "24 outages" in found.sentence


def test_what_cannot_be_asked_is_refused() -> None:
    house = running_house()
    with pytest.raises(InputError, match="one start and one length"):
        season_routine(house, year_hours(house, seed=1), [0.0, 1.0], [3600.0])
    with pytest.raises(InputError, match="allowed: gasoline"):
        routine(house, fuel="coal")


def test_a_day_of_fuel_is_one_with_fuel_and_the_stock_ends_where_the_running_has_burned_it() -> None:
    """Against the same rule with fuel to spare: its minutes, added up until they come to what is at home."""
    rule = ((480, 240), (1020, 120))
    scarce, ample = (
        described(pose(running_house(fuel=f), steady(), Asked(FAILS_AT_S, 96.0)), rule, 1) for f in ("2 gal", "90 gal")
    )  # fmt: skip
    for name in ("fuel_day_m3", "run_day_s", "starts_day"):
        assert getattr(scarce, name) == pytest.approx(getattr(ample, name), rel=1e-9), name
    assert scarce.outlasts_its_fuel
    assert not ample.outlasts_its_fuel
    burned_m3 = 60.0 * np.cumsum(
        replay(pose(running_house(fuel="90 gal"), steady(), Asked(FAILS_AT_S, 96.0)), rule).burn_m3_per_s
    )
    gone = int(np.argmax(burned_m3 > 2 * 0.003785411784))  # NIST SP 811: two US gallons
    assert gone * 60.0 - 1.0 <= scarce.fuel_lasts_s <= (gone + 1) * 60.0 + 1.0
    assert scarce.fuel_left_m3 == pytest.approx(0.0, abs=1e-9)
