"""The label search against every allowed pattern, one by one: what it finds, what it claims, and what it
may do.
"""

from __future__ import annotations

from itertools import pairwise, product
from math import isclose

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from running_houses import HOUR_S, MEDICAL, running_house, steady

from hearthold.errors import InputError
from hearthold.house.house import House
from hearthold.plan.asked import Asked
from hearthold.plan.kernels.price import PART_STARTS
from hearthold.plan.labels import Before, Buckets, corridor, even_layers, find_pattern
from hearthold.plan.limits import patterns, run_rules, vital_windows
from hearthold.plan.objective import SLOT_S, USUAL_OBJECTIVE, Patterns, switching_j
from hearthold.plan.polish import costs_j, kept_states, polish, price_patterns
from hearthold.plan.problem import Problem, pose

BATTERY = '[battery]\ncapacity = "10 kWh"\ncharge = "2 kW"\ndischarge = "3 kW"\n'
FINE = Buckets(mass_k=0.02, tank_k=0.2, cold_run_s=60.0, fuel_frac=0.01)


def problem_of(hours: float, start_h: float = 12.0, mean_c: float = 2.0, **changes: str) -> Problem:
    return pose(
        running_house(**changes), steady(mean_c), Asked(start_s=24 * HOUR_S + start_h * HOUR_S, hours=hours)
    )


def every_pattern(rules: Patterns, stretch: int = 1) -> list[np.ndarray]:
    """All allowed patterns by plain enumeration, switching only at every `stretch`-th slot."""
    count = -(-rules.slots // stretch)
    found = []
    for bits in product((False, True), repeat=count):
        on = np.repeat(np.array(bits), stretch)[: rules.slots]
        if plainly_allowed(rules, on):
            found.append(on)
    return found


def plainly_allowed(rules: Patterns, on: np.ndarray) -> bool:
    """The rules of `Patterns`, written anew from their text: by runs, not slot by slot."""
    edges = [0, *(np.flatnonzero(np.diff(on.astype(int))) + 1).tolist(), len(on)]
    runs = [(a, b, bool(on[a])) for a, b in pairwise(edges)]
    starts: dict[int, int] = {}
    for i, (a, b, running) in enumerate(runs):
        last = i == len(runs) - 1
        if running:
            starts[int(rules.day[a])] = starts.get(int(rules.day[a]), 0) + 1
            if not rules.may_run[a:b].all() or b - a > rules.most_on:
                return False
            if not last and b - a < rules.least_on:
                return False
        elif i > 0 and not last and b - a < rules.least_off:
            return False
        if (i > 0 or running) and not rules.may_switch[a]:
            return False
    return all(n <= rules.starts_a_day for n in starts.values())


CASES = (
    {"hours": 4.0, "start_h": 12.0},
    {"hours": 4.0, "start_h": 6.0, "mean_c": -15.0, "inflow": "6 gal/h"},
    {
        "hours": 4.0, "start_h": 19.0, "mean_c": 25.0, "headroom": "6 gal", "inflow": "8 gal/h", "shortest": "15 min",
    },
)  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_finds_the_cheapest_of_all_patterns(case: dict) -> None:
    problem = problem_of(**case)
    every = every_pattern(problem.patterns)
    assert len(every) > 150
    best_j = costs_j(problem, every).min()
    found = find_pattern(problem, even_layers(problem, 1), width=3000, buckets=FINE)
    assert found.cut == 0
    assert isclose(found.value_j, best_j, rel_tol=1e-9)


@pytest.mark.parametrize("start_h", [7.0, 15.0])
def test_is_near_the_cheapest_over_a_longer_time_with_few_labels(start_h: float) -> None:
    """Half-hour patterns of nine hours, 2^18 of them before the rules; usual buckets and width."""
    problem = problem_of(9.0, start_h, inflow="5 gal/h", shortest="60 min")
    every = every_pattern(problem.patterns, 2)
    best_j = costs_j(problem, every).min()
    found = find_pattern(problem, even_layers(problem, 2), width=40)
    assert best_j * (1.0 - 1e-9) <= found.value_j <= best_j * 1.01


def test_allowed_patterns_agree_with_the_rules_written_anew() -> None:
    rules = problem_of(4.0, 20.0).patterns
    random = np.random.default_rng(5)
    tried = [random.random(rules.slots) < 0.5 for _ in range(300)]
    tried += [np.repeat(random.random(4) < 0.5, 4) for _ in range(300)]
    verdicts = [rules.allows(on) for on in tried]
    assert verdicts == [plainly_allowed(rules, on) for on in tried]
    assert any(verdicts)
    assert not all(verdicts)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    start_h=st.integers(0, 23),
    minutes=st.sampled_from([0, 7, 15, 40]),
    mean_c=st.floats(-20.0, 30.0),
    shortest=st.sampled_from(["30 min", "45 min", "60 min"]),
    longest=st.sampled_from(["1 h", "2 h", "4 h"]),
    spells=st.sampled_from(["1", "2", "4"]),
    night=st.sampled_from(["true", "false"]),
    fuel=st.sampled_from(["1 gal", "3 gal", "20 gal"]),
)
def test_what_is_found_is_allowed_and_costs_what_is_claimed(
    start_h: int, minutes: int, mean_c: float, fuel: str, **wishes: str
) -> None:
    house = running_house(fuel=fuel, **wishes)
    at_s = 24 * HOUR_S + start_h * HOUR_S + minutes * 60.0
    problem = pose(house, steady(round(mean_c)), Asked(start_s=at_s, hours=30.0))
    found = find_pattern(problem, even_layers(problem, 2), width=12)
    assert found.reached == problem.slots
    assert problem.patterns.allows(found.on)
    assert isclose(costs_j(problem, [found.on])[0], found.value_j, rel_tol=1e-12)
    spells = problem.spells_of(found.on)
    days = [int((at_s + s.start_s) // 86400.0) for s in spells]
    assert max((days.count(d) for d in days), default=0) <= house.wishes.spells_per_day
    for spell in spells:
        begin, end = at_s + spell.start_s, at_s + spell.end_s
        assert begin % SLOT_S == 0.0
        assert end - begin <= house.wishes.longest_spell_s
        if not house.wishes.run_at_night:
            assert begin % 86400.0 >= 6 * HOUR_S
            assert (end - 1.0) % 86400.0 < 22 * HOUR_S
        if end < at_s + problem.length_s:
            assert end - begin >= house.wishes.shortest_spell_s


def test_same_twice_and_on_any_number_of_threads() -> None:
    problem = problem_of(48.0)
    first, again = (find_pattern(problem, even_layers(problem, 2), width=30) for _ in range(2))
    assert np.array_equal(first.on, again.on)
    assert first.value_j == again.value_j
    many = [np.roll(first.on, k) for k in range(40)]
    alone = np.concatenate([costs_j(problem, [on]) for on in many])
    assert np.array_equal(costs_j(problem, many), alone)


@settings(max_examples=20, deadline=None, derandomize=True)
@given(
    minutes=st.sampled_from([0, 7, 40]),
    running=st.booleans(),
    fuel=st.sampled_from(["1 gal", "3 gal", "20 gal"]),
    seed=st.integers(0, 99),
)
def test_a_replay_taken_up_where_a_pattern_changes_is_the_whole_replay(
    minutes: int, running: bool, fuel: str, seed: int
) -> None:
    """Any patterns, allowed or not: spells of random lengths, changed from a random slot on."""
    problem = pose(
        running_house(fuel=fuel, tank="1 gal"), steady(2.0), Asked(36 * HOUR_S + 60.0 * minutes, 30.0)
    )
    before, random = Before(running, 3, 1), np.random.default_rng(seed)
    on, other = (np.repeat(random.random(40) < 0.4, 3)[: problem.slots] for _ in range(2))
    wanted = [np.concatenate([on[:k], other[k:]]) for k in (0, 1, 17, 50, 119)] + [on]
    whole, _ = price_patterns(problem, wanted, before)
    taken_up, _ = price_patterns(problem, wanted, before, kept_states(problem, on, before))
    assert np.array_equal(whole, taken_up)


def test_polish_never_makes_worse_and_keeps_the_rules() -> None:
    problem = problem_of(48.0, inflow="4 gal/h")
    found = find_pattern(problem, even_layers(problem, 4), width=6)
    on, cost_j = polish(problem, found.on, found.value_j, 300)
    assert cost_j <= found.value_j
    assert problem.patterns.allows(on)
    assert isclose(costs_j(problem, [on])[0], cost_j, rel_tol=1e-12)


def test_a_corridor_holds_the_pattern_and_stays_near_it() -> None:
    problem = problem_of(24.0)
    found = find_pattern(problem, even_layers(problem, 2), width=20)
    near = corridor(found.on, False, 2)
    assert near.edges[0] == 0
    assert near.edges[-1] == problem.slots
    for first, end, forced in zip(near.edges, near.edges[1:], near.forced, strict=False):
        if forced >= 0:
            assert (found.on[first:end] == bool(forced)).all()
        else:
            assert end - first == 1
    better = find_pattern(problem, near, width=400, buckets=FINE)
    assert better.value_j <= found.value_j * (1.0 + 1e-9)


def test_a_search_that_may_not_break_a_limit_stops_where_the_first_breaks() -> None:
    """No fuel: the sump, called at the start, floods after headroom over inflow (24 gal at 12 gal/h: 2 h)."""
    house = running_house(inflow="12 gal/h")
    problem = pose(house, steady(), Asked(start_s=36 * HOUR_S, hours=12.0, fuel_m3=0.0))
    found = find_pattern(problem, even_layers(problem, 1), width=50, most_j=0.5 * USUAL_OBJECTIVE.breach_j)
    assert not found.on.any()
    assert found.reached == 8


def test_a_machine_that_runs_goes_on_without_a_new_start() -> None:
    problem = problem_of(6.0)
    on = np.zeros(problem.slots, dtype=bool)
    on[:4] = True
    before = Before(on=True, age=2)
    parts, switching = price_patterns(problem, [on], before)
    fresh, _ = price_patterns(problem, [on])
    assert parts[0, PART_STARTS] == 0.0
    assert fresh[0, PART_STARTS] == USUAL_OBJECTIVE.start_j
    assert np.delete(parts[0], PART_STARTS) == pytest.approx(np.delete(fresh[0], PART_STARTS))
    assert switching[0] == switching_j(problem.patterns, on, True)
    assert problem.patterns.allows(on, True, 2)
    off = np.zeros(problem.slots, dtype=bool)
    assert not problem.patterns.allows(off, True, 2)  # it has not run its shortest spell
    assert problem.patterns.allows(off, True, 3)


@pytest.mark.parametrize("minutes", [0, 7])
def test_labels_that_go_on_from_a_running_machine_cost_what_the_replay_says(minutes: int) -> None:
    at_s = 36 * HOUR_S + minutes * 60.0
    problem = pose(running_house(), steady(2.0), Asked(start_s=at_s, hours=12.0))
    for age in (1, 3, 16):
        before = Before(on=True, age=age, started=1)
        found = find_pattern(problem, even_layers(problem, 1), width=60, before=before)
        assert problem.patterns.allows(found.on, True, age, 1)
        assert isclose(costs_j(problem, [found.on], before)[0], found.value_j, rel_tol=1e-12)


def medical_house(own: str, recharge: str = "", start: str = "22:30", **changes: str) -> House:
    need = f'[[medical]]\nload = "cpap"\nhours_per_day = 7\nfrom = "{start}"\nown_battery = "{own}"\n'
    return running_house(
        cpap="vital", medical=need + (f'recharge = "{recharge}"\n' if recharge else ""), **changes
    )


def test_vital_loads_lift_the_rules_that_stand_in_their_way() -> None:
    short, lasting = run_rules(medical_house("1 h")), run_rules(medical_house("10 h"))
    assert short.night
    assert short.longest_s > 6 * HOUR_S
    assert len(short.gave_way) == 2
    assert not lasting.night
    assert lasting.gave_way == ()


def test_an_own_battery_that_fills_while_its_circuit_is_live_shortens_the_need() -> None:
    """Seven hours from 22:30 with four of its own: three hours of running leave it full for the other four."""
    assert vital_windows(medical_house("4 h")) == [(22.5 * HOUR_S, 25.5 * HOUR_S)]
    rules = run_rules(medical_house("4 h"))
    assert rules.night
    assert rules.longest_s == 4 * HOUR_S  # the wish: three hours fit in
    assert len(rules.gave_way) == 1


def test_an_own_battery_that_lasts_through_quiet_hours_leaves_the_night_alone() -> None:
    """From 03:00, three hours of quiet, then four by day; the other way round from 19:00."""
    assert vital_windows(medical_house("3 h", start="03:00")) == [(6 * HOUR_S, 10 * HOUR_S)]
    assert vital_windows(medical_house("4 h", start="19:00")) == [(19 * HOUR_S, 22 * HOUR_S)]
    assert not run_rules(medical_house("3 h", start="03:00")).night
    assert not run_rules(medical_house("4 h", start="19:00")).night


def test_an_own_battery_that_a_day_does_not_fill_is_not_counted_on() -> None:
    """Three spells of four hours a day give back three hours where filling it takes four times its use."""
    slow = medical_house("7 h", recharge="28 h")
    assert vital_windows(slow) == [(22.5 * HOUR_S, 29.5 * HOUR_S)]
    assert run_rules(slow).night


def test_a_pause_lasts_an_hour_unless_a_vital_load_waits_for_its_end() -> None:
    """An hour, the cool-down where that is longer, and the cool-down alone where no battery carries what is vital."""
    slow_to_cool = running_house('cool_down = "75 min"')
    carried = running_house(BATTERY, cpap="vital", medical=MEDICAL.format(own="0 min"))
    assert run_rules(running_house()).least_off_s == HOUR_S
    assert run_rules(slow_to_cool).least_off_s == 75 * 60.0
    assert run_rules(medical_house("1 h")).least_off_s == 15 * 60.0
    assert run_rules(medical_house("10 h")).least_off_s == HOUR_S  # its own battery lasts
    assert vital_windows(carried)
    assert run_rules(carried).least_off_s == HOUR_S


def test_nothing_runs_in_quiet_hours_unless_allowed() -> None:
    rules = patterns(run_rules(running_house()), USUAL_OBJECTIVE, 0.0, 96)
    assert not rules.may_run[: 6 * 4].any()
    assert rules.may_run[6 * 4 : 22 * 4].all()
    assert not rules.may_run[22 * 4 :].any()


def test_patterns_of_unequal_length_are_refused() -> None:
    with pytest.raises(InputError, match="one length"):
        Patterns(np.ones(3, bool), np.ones(4, bool), np.zeros(4), np.zeros(4, np.int64), 1, 2, 1, 3)
