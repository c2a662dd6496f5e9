"""Running: the same to the bit with a trace or without, on one thread or many, compiled or plain Python."""

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from engine_houses import HOUR_S, house, still

from hearthold.engine.compile import compile_house
from hearthold.engine.control import AlwaysOn, DailySpell, Off, Routine, RunPlan, Spell, Step, Watchful
from hearthold.engine.run import simulate, simulate_many, with_fuel
from hearthold.engine.weather import month_hours, year_hours
from hearthold.errors import InputError
from hearthold.house.supply import Hookup

ROUTINE = Routine((DailySpell(6.5 * HOUR_S, 1.5 * HOUR_S), DailySpell(18 * HOUR_S, 1.5 * HOUR_S)))


def _outages(count=40, seed=5):
    rng = np.random.default_rng(seed)
    lengths = np.clip(12.0 * np.exp(1.3 * rng.standard_normal(count)), 1.0, 240.0) * HOUR_S
    starts = np.floor(rng.random(count) * 8000.0) * HOUR_S
    return starts, lengths


@pytest.mark.parametrize("control", [ROUTINE, Watchful(), AlwaysOn(), Off()])
def test_alone_and_among_many_are_equal_to_the_bit(control):
    outside = year_hours(house(), seed=3)
    starts, lengths = _outages(8)
    many = simulate_many(house(), outside, control, starts, lengths)
    for i in range(len(starts)):
        alone = simulate(house(), outside, control, start_s=starts[i], hours=lengths[i] / HOUR_S)
        assert np.array_equal(alone.outcomes.rows[0], many.rows[i])


def test_thread_count_changes_nothing():
    outside = year_hours(house(), seed=3)
    starts, lengths = _outages(200)
    one = simulate_many(house(), outside, ROUTINE, starts, lengths, threads=1)
    four = simulate_many(house(), outside, ROUTINE, starts, lengths, threads=4)
    assert np.array_equal(one.rows, four.rows)


PLAIN = """
import sys; sys.path.insert(0, {here!r})
import numpy as np
from engine_houses import house
from test_run import ROUTINE
from hearthold.engine.control import Watchful
from hearthold.engine.run import simulate_many
from hearthold.engine.weather import year_hours
for control in (ROUTINE, Watchful()):
    found = simulate_many(house(), year_hours(house(), seed=3), control, [7200.0, 9e6], [150000.0, 90000.0])
    np.save({out!r} + type(control).__name__, found.rows)
"""


def test_plain_python_gives_the_same_bits(tmp_path):
    here = str(Path(__file__).resolve().parent)
    code = PLAIN.format(here=here, out=str(tmp_path) + "/")
    subprocess.run([sys.executable, "-c", code], check=True, env=os.environ | {"HEARTHOLD_NO_JIT": "1"})
    for control in (ROUTINE, Watchful()):
        found = simulate_many(
            house(), year_hours(house(), seed=3), control, [7200.0, 9e6], [150000.0, 90000.0]
        )
        plain = np.load(tmp_path / f"{type(control).__name__}.npy")
        assert np.array_equal(found.rows, plain)


def test_every_balance_closes_over_many_outages():
    starts, lengths = _outages(300, seed=8)
    found = simulate_many(house(), year_hours(house(), seed=3), Watchful(), starts, lengths)
    names = {r.name for r in found.residuals}
    assert {"fuel", "fuel line", "house", "tank heater", "water", "sump", "fridge", "chest"} <= names
    assert all(r.worst_frac < 1e-9 for r in found.residuals)


def test_routine_runs_by_the_clock():
    trace = simulate(house(), month_hours(house(), 1), ROUTINE, start_s=5 * HOUR_S, hours=48)
    begins = [line.at_s for line in trace.log if line.what == "machine starts"]
    assert begins == pytest.approx([1.5 * HOUR_S, 13 * HOUR_S, 25.5 * HOUR_S, 37 * HOUR_S], abs=1e-3)
    assert trace.outcomes.run_s[0] == pytest.approx(6.0 * HOUR_S, abs=1e-3)
    assert np.sum(trace.machine_frac) * 60.0 == pytest.approx(trace.outcomes.run_s[0], abs=1e-3)


def test_outage_that_begins_within_a_spell_starts_at_once():
    trace = simulate(house(), month_hours(house(), 1), ROUTINE, start_s=7 * HOUR_S, hours=3)
    assert trace.outcomes.run_s[0] == pytest.approx(HOUR_S, abs=1e-3)


def test_plan_switches_circuits_in_its_order():
    plan = RunPlan((Spell(HOUR_S, 3 * HOUR_S, (Step("boiler", 0.0), Step("kitchen", 1800.0, 5400.0))),))
    trace = simulate(house(), still(), plan, hours=5)
    kitchen = trace.circuit_w[:, trace.house.circuit_ids.index("kitchen")]
    live = np.flatnonzero(kitchen > 0.0)
    assert live[0] == 90
    assert live[-1] == 149
    assert not trace.circuit_w[:, trace.house.circuit_ids.index("well")].any()


def test_a_circuit_may_be_switched_on_twice_and_others_between():
    """The router's minutes against the two windows of its circuit, each from two minutes of warming up on."""
    twice = (Step("kitchen", 0.0, 600.0), Step("kitchen", 1200.0, 1800.0))
    steps = (*twice, Step("boiler", 300.0, 3000.0), Step("sump", 1500.0))
    trace = simulate(house(), still(), RunPlan((Spell(HOUR_S, 3 * HOUR_S, steps),)), hours=3)
    kitchen = trace.circuit_w[:, trace.house.circuit_ids.index("kitchen")]
    warm_min = int(np.flatnonzero(kitchen)[0]) - 60
    assert warm_min == 2
    assert np.array_equal(np.flatnonzero(kitchen) - 60, np.r_[warm_min:10, 20:30])


def test_fuel_of_a_steady_load_is_on_the_willans_line():
    compiled = compile_house(house())
    trace = simulate(compiled, still(), AlwaysOn(steps=(Step("kitchen"),)), hours=24)
    mean_w = trace.outcomes.energy_j[0] / trace.outcomes.run_s[0]
    from hearthold.sizing.burn import burn

    line = burn(house())
    assert trace.outcomes.fuel_m3[0] == pytest.approx(
        line.m3_per_s(mean_w) * trace.outcomes.run_s[0], rel=1e-9
    )


def test_machine_stops_cools_and_refills_when_its_tank_is_dry():
    trace = simulate(house(), still(), AlwaysOn(), hours=60)
    what = [line.what.value for line in trace.log if line.what != "circuits switched"]
    dry = what.index("machine's tank empty")
    assert what[dry - 1 : dry + 1] == ["machine stops", "machine's tank empty"]
    stopped = next(line.at_s for line in trace.log if line.what == "machine's tank empty")
    again = [line.at_s for line in trace.log if line.what == "machine starts"][1]
    wishes = house().wishes
    assert again - stopped == pytest.approx(wishes.cool_down_s + 300.0, abs=1e-6)
    assert trace.outcomes.refills[0] >= 1


def test_out_of_fuel_is_timed():
    compiled = with_fuel(compile_house(house()), 0.004)
    trace = simulate(compiled, still(), AlwaysOn(), hours=48)
    out_s = trace.outcomes.fuel_out_s[0]
    assert 0.0 < out_s < 48 * HOUR_S
    assert trace.outcomes.fuel_m3[0] == pytest.approx(0.004, rel=1e-9)
    assert trace.machine_frac[int(out_s // 60) + 1 :].sum() == 0.0


def test_watchful_keeps_the_stores_that_off_loses():
    summer, winter = month_hours(house(), 7), month_hours(house(), 1)
    assert simulate(house(), summer, Off(), hours=96).outcomes.food_lost[0].all()
    assert not simulate(house(), summer, Watchful(), hours=96).outcomes.food_lost[0].any()
    assert simulate(house(), winter, Off(), hours=96).outcomes.air_min_c[0] < 10.0
    assert simulate(house(), winter, Watchful(), hours=96, fuel_m3=1.0).outcomes.air_min_c[0] > 10.0


def test_columns_have_one_length_and_add_up():
    trace = simulate(house(), still(), ROUTINE, start_s=6 * HOUR_S, hours=10)
    columns = trace.to_columns()
    assert {len(v) for v in columns.values()} == {600}
    circuits = sum(v for k, v in columns.items() if k.startswith("circuit."))
    assert np.allclose(circuits, columns["load_w"], atol=1e-9)
    energy = 60.0 * np.sum(columns["load_w"])
    assert energy == pytest.approx(trace.outcomes.energy_j[0], rel=1e-12)


@pytest.mark.parametrize(
    ("start", "length", "message"),
    [
        ([0.0], [0.0], "lasts more than 0"),
        ([0.0], [91 * 24 * HOUR_S], "at most"),
        ([19 * 24 * HOUR_S], [48 * HOUR_S], "must lie within the 480 hours"),
        ([0.0, 1.0], [3600.0], "one of each"),
        ([-5.0], [3600.0], "must lie within"),
    ],
)
def test_starts_and_lengths_are_checked(start, length, message):
    with pytest.raises(InputError, match=message):
        simulate_many(house(), still(), Off(), start, length)


def test_unknown_circuit_is_named():
    with pytest.raises(InputError, match="'cellar' is not one of this house"):
        simulate(house(), still(), AlwaysOn(steps=(Step("cellar"),)), hours=1)


def test_overlapping_spells_are_refused():
    with pytest.raises(InputError, match="must follow one another"):
        simulate(house(), still(), RunPlan((Spell(0, 10), Spell(5, 20))), hours=1)
    with pytest.raises(InputError, match="daily spells overlap"):
        simulate(house(), still(), Routine((DailySpell(0, 7200), DailySpell(3600, 7200))), hours=1)


def test_negative_fuel_is_refused():
    with pytest.raises(InputError, match="fuel_m3 is -1"):
        simulate(house(), still(), Off(), hours=1, fuel_m3=-1.0)


def test_a_house_on_cords_does_not_run_before_they_are_laid():
    """Nothing of its wiring is fed: run as it was read, it would have nothing on."""
    given = house()
    on_cords = replace(given, hookup=Hookup(kind="cords"))
    with pytest.raises(ValueError, match=r"house\.running"):
        compile_house(on_cords)
    assert compile_house(on_cords.running).circuit_ids
