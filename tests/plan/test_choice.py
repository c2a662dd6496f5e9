"""The choice of circuits against every choice there is."""

from dataclasses import replace
from itertools import product
from random import Random

import pytest
from sizing_houses import cottage, farm, farm_generator, farm_hookup, motor

from hearthold.house.loads import Priority
from hearthold.plan.choice import Verdict, choose, choose_among
from hearthold.plan.solver import Program, Status
from hearthold.sizing.supply import supply
from hearthold.sizing.together import Draw, Limits, fit, misfits

RANKS = list(Priority)


def limits(**changes):
    plain = Limits(7500.0, 7500.0, 3750.0, 6000.0, 9400.0, 12000.0, 6000.0, 9400.0, True, True, None)
    return replace(plain, **changes)


def draw(ident, watts, leg="A", priority=Priority.ESSENTIAL, factor=1.0, start_va=0.0, poles=1, mean=0.4):
    """A circuit on a leg; its motor, if any, starts at power factor 0.8."""
    running = complex(watts, watts * (1.0 / factor**2 - 1.0) ** 0.5)
    surplus = complex(0.8 * start_va, 0.6 * start_va) - running
    split = {"A": (1.0, 0.0), "B": (0.0, 1.0), "AB": (0.5, 0.5)}[leg]
    starts = ((surplus * split[0], surplus * split[1]),) if start_va else ()
    return Draw(
        ident, ident, priority, poles, running * split[0], running * split[1], mean * watts, starts,
        leg == "AB", leg != "AB", (),
    )  # fmt: skip


def some_draws(seed, count):
    pick = Random(seed)
    return [
        draw(
            f"c{i}",
            pick.uniform(100.0, 3000.0),
            pick.choice(["A", "B", "AB"]),
            pick.choice(RANKS[1:]),
            pick.uniform(0.6, 1.0),
            pick.choice([0.0, 0.0, pick.uniform(1000.0, 11000.0)]),
        )
        for i in range(count)
    ]


def key(chosen):
    """What the choice maximises, in order."""
    counts = [sum(d.priority is p for d in chosen) for p in RANKS]
    return (*counts, round(sum(d.total_va.real for d in chosen), 3))


def subsets(candidates):
    for mask in product((False, True), repeat=len(candidates)):
        yield [d for d, on in zip(candidates, mask, strict=True) if on]


def fewest_turns(candidates, allowed):
    """Least number of sets that together hold every candidate, by trying every split."""
    good = {frozenset(d.circuit for d in s) for s in subsets(candidates) if s and fit(s, allowed)}
    everything = frozenset(d.circuit for d in candidates)
    reached, count = {frozenset()}, 0
    while everything not in reached:
        reached = {a | b for a in reached for b in good}
        count += 1
    return count


@pytest.mark.parametrize("seed", range(12))
def test_best_set_and_fewest_turns_agree_with_every_choice(seed):
    candidates, allowed = some_draws(seed, 7), limits()
    able = [d for d in candidates if fit([d], allowed)]
    found = choose_among(candidates, allowed)
    chosen = [d for d in able if d.circuit in found.together]
    assert fit(chosen, allowed)
    assert key(chosen) == max(key(s) for s in subsets(able) if fit(s, allowed))
    assert found.together_status is Status.PROVEN
    assert found.turns_status is Status.PROVEN
    assert len(found.turns) == fewest_turns(able, allowed)
    assert {c for turn in found.turns for c in turn} == {d.circuit for d in able}
    for turn in found.turns:
        assert fit([d for d in able if d.circuit in turn], allowed)


def test_exact_where_a_greedy_choice_is_not():
    # taking the largest first carries 4 kW and then only one more; the best set carries three of 2.4 kW
    circuits = [draw("big", 4000.0, "AB"), *(draw(f"s{i}", 2400.0, "AB") for i in range(3))]
    found = choose_among(circuits, limits(mean_w=9000.0))
    assert set(found.together) == {"s0", "s1", "s2"}


def test_one_more_essential_outweighs_any_comfort():
    circuits = [
        draw("need", 6000.0, "AB"),
        *(draw(f"nice{i}", 1000.0, "AB", Priority.COMFORT) for i in range(4)),
    ]
    found = choose_among(circuits, limits())
    assert "need" in found.together
    assert len(found.together) == 2


def test_vital_is_on_in_every_turn():
    circuits = [
        draw("oxygen", 600.0, "A", Priority.VITAL),
        draw("pump", 3000.0, "AB", start_va=9000.0),
        draw("heater", 5500.0, "AB", Priority.DEFER),
    ]
    found = choose_among(circuits, limits())
    assert len(found.turns) == 2
    assert all("oxygen" in turn for turn in found.turns)
    verdicts = {c.circuit: c.verdict for c in found.circuits}
    assert verdicts == {"oxygen": Verdict.TOGETHER, "pump": Verdict.IN_TURNS, "heater": Verdict.IN_TURNS}


def test_vital_circuits_that_clash_are_said_and_still_placed():
    circuits = [draw("one", 5000.0, "AB", Priority.VITAL), draw("two", 5000.0, "AB", Priority.VITAL)]
    found = choose_among(circuits, limits())
    assert "running 10.0 kW exceeds 7.5 kW" in found.vital_conflict
    assert len(found.turns) == 2


def test_never_gives_the_reason():
    circuits = [
        draw("well", 1600.0, "AB", start_va=14000.0, factor=0.8),
        draw("range", 9000.0, "AB", Priority.DEFER),
        draw("lamp", 60.0),
    ]
    found = {c.circuit: c for c in choose_among(circuits, limits()).circuits}
    assert found["well"].reason == "start 11.2 kW exceeds 9.4 kW"
    assert found["range"].reason == "running 9.0 kW exceeds 7.5 kW"
    assert found["lamp"].verdict is Verdict.TOGETHER
    assert choose_among(circuits, limits()).never == ("well", "range")


def test_what_cannot_run_beside_the_vital_load_is_told_apart():
    circuits = [
        draw("vent", 1000.0, "A", Priority.VITAL),
        draw("heater", 7000.0, "AB", Priority.COMFORT, mean=0.1),
    ]
    found = {c.circuit: c for c in choose_among(circuits, limits()).circuits}
    assert found["heater"].reason == "beside the vital circuits, running 8.0 kW exceeds 7.5 kW"


def test_panel_spaces_go_by_priority():
    circuits = [
        draw("nice", 100.0, "AB", Priority.COMFORT, poles=2),
        draw("need", 100.0, "A", poles=1),
        draw("need2", 100.0, "AB", poles=2),
    ]
    found = choose_among(circuits, limits(spaces=3))
    assert set(found.together) == {"need", "need2"}
    assert "needs 2 of 3 panel spaces" in {c.circuit: c.reason for c in found.circuits}["nice"]


def test_leg_limit_splits_what_the_whole_would_carry():
    circuits = [draw("one", 2000.0, "A"), draw("two", 2000.0, "A")]
    assert len(choose_among(circuits, limits()).turns) == 2
    other_leg = [draw("one", 2000.0, "A"), draw("two", 2000.0, "B")]
    assert len(choose_among(other_leg, limits()).turns) == 1


def test_watts_and_vars_are_not_one_sum():
    # 2700 W of heat and 1350 W at 0.6 (1800 var) on one leg: 4050 + j1800, 4432 VA and not 2700 + 2250
    circuits = [draw("heat", 2700.0, "A"), draw("motor", 1350.0, "A", factor=0.6)]
    size_va = abs(complex(4050.0, 1800.0))
    assert len(choose_among(circuits, limits(leg_va=size_va + 1.0)).turns) == 1
    assert len(choose_among(circuits, limits(leg_va=size_va - 1.0)).turns) == 2


def test_mean_load_for_hours_counts():
    circuits = [draw("one", 3500.0, "AB", mean=1.0), draw("two", 3500.0, "AB", mean=1.0)]
    assert len(choose_among(circuits, limits(mean_w=6000.0)).turns) == 2
    assert len(choose_among(circuits, limits(mean_w=7000.0)).turns) == 1


def test_a_farm_and_its_kettle():
    house = farm()
    found = choose(house, supply(house))
    assert "c_bed" in found.together
    told = {c.circuit: c for c in found.circuits}
    assert told["c_bed"].priority is Priority.VITAL
    assert told["c_kitchen"].left_off == ()
    assert all(c.verdict is not Verdict.NEVER for c in found.circuits)


def test_what_can_wait_is_left_off_a_shared_circuit():
    house = farm()
    moved = tuple(replace(x, circuit="c_lights") if x.id == "kettle" else x for x in house.loads)
    found = choose(replace(house, loads=moved), supply(house))
    lights = {c.circuit: c for c in found.circuits}["c_lights"]
    name = house.load_by_id["kettle"].name
    assert lights.left_off == (name,)
    assert lights.reason.endswith(f"; leave off {name}")


def test_a_circuit_of_several_turns_names_what_is_beside_it_in_all_of_them():
    """Two of 3 kW never go together on 5 kW; what is small goes with either."""
    candidates = [draw("big", 3000.0), draw("large", 3000.0), draw("some", 1500.0), draw("small", 200.0)]
    found = choose_among(candidates, limits(running_w=5000.0))
    told = {c.circuit: c for c in found.circuits}
    for circuit in found.circuits:
        own = [set(found.turns[i - 1]) for i in circuit.turns]
        if circuit.verdict is Verdict.IN_TURNS:
            beside = circuit.reason.partition(" with ")[2].split(", ")
            assert {told[c].name for c in set.intersection(*own) - {circuit.circuit}} == set(
                filter(None, beside)
            )


def test_120_v_inlet_never_carries_the_well_pump():
    house = farm(
        generator=farm_generator(receptacle="L5-30", voltage="120 V"), hookup=farm_hookup(inlet="L5-30")
    )
    told = {c.circuit: c for c in choose(house, supply(house)).circuits}
    assert told["c_well"].reason == "needs 240 V, and the chain passes 120 V alone"
    assert told["c_bed"].verdict is Verdict.TOGETHER


def test_single_phase_house_has_one_leg():
    house = cottage()
    found = choose(house, supply(house))
    assert found.together == ("w_pump", "w_sockets", "w_lights")
    assert "try it" in {c.circuit: c.reason for c in found.circuits}["w_pump"]


def test_start_within_the_rating_by_watts_alone_is_marked():
    house = farm(loads=(motor("well", "c_well", 1310.0, 9900.0, voltage_v=240.0),))
    told = {c.circuit: c for c in choose(house, supply(house)).circuits}
    assert "above the start rating read as VA" in told["c_well"].reason


def test_nothing_to_choose_from():
    found = choose_among([], limits())
    assert found.together == ()
    assert found.turns == ()
    assert found.together_status is Status.PROVEN


def test_thirty_circuits_are_carried_within_the_limits():
    candidates = [replace(d, priority=RANKS[1 + i % 3]) for i, d in enumerate(some_draws(5, 30))]
    found = choose_among(candidates, limits(), time_limit_s=2.0)
    for turn in found.turns:
        assert not misfits([d for d in candidates if d.circuit in turn], limits())


def test_the_three_words_of_the_solver():
    program = Program()
    x, y = program.binary(), program.binary()
    program.at_most([(x, 2.0), (y, 3.0)], 4.0)
    best = program.maximise([(x, 1.0), (y, 1.5)])
    assert best.status is Status.PROVEN
    assert (best.chosen(x), best.chosen(y)) == (False, True)
    assert best.objective == pytest.approx(best.bound)
    program.at_least([(x, 1.0), (y, 1.0)], 2.0)
    assert program.maximise([(x, 1.0)]).status is Status.IMPOSSIBLE


def test_solver_stays_silent(capfd):
    program = Program()
    x = program.number(0.0, 2.5)
    assert program.maximise([(x, 1.0)]).objective == pytest.approx(2.5)
    assert capfd.readouterr().out == ""


def test_a_circuit_with_nothing_on_it_is_left_off():
    """What nobody has listed cannot be counted with."""
    found = choose_among([draw("kitchen", 500.0), draw("range", 0.0, leg="AB", poles=2)], limits())
    assert found.together == ("kitchen",)
    assert found.never == ("range",)
    assert "lists nothing on it" in next(c.reason for c in found.circuits if c.circuit == "range")
