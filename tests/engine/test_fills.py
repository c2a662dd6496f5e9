"""Cans, jugs and stock tanks filled within spells; taps where the pump is not fed."""

from dataclasses import replace

import numpy as np
import pytest
from engine_houses import HOUR_S, WATER, house, still
from house_parts import table

from hearthold.engine.compile import compile_house
from hearthold.engine.control import AlwaysOn, DailySpell, Handling, Off, Routine, Step
from hearthold.engine.habits import USUAL
from hearthold.engine.run import simulate
from hearthold.house.supply import Battery

GAL_M3 = 3.785411784e-3
QUIET = replace(USUAL, draws=(), hot_in_spells_frac=0.0)  # nothing else is drawn
FILL = table("[[water.fill]]", name="Stock tank", amount="20 gal", flow="4 gpm", **{"from": "07:00"})
STRONG = Battery(capacity="10 kWh", charge="2 kW", discharge="5 kW", surge="12 kVA", idle="0 W")
NOON = Routine((DailySpell(12 * HOUR_S, 2 * HOUR_S),))


def with_fill(fill: str = FILL, **changes):
    given = house(water=WATER + 'livestock_day = "30 gal"\n' + fill)
    return compile_house(replace(given, **changes), habits=QUIET)


def run(compiled, control, hours=24, start_s=0.0):
    return simulate(compiled, still(), control, start_s=start_s, hours=hours, fuel_m3=1.0)


def undone_s(trace):
    return trace.outcomes.task_undone_s[0, trace.house.task_ids.index("fill Stock tank")]


def test_a_day_draws_what_the_file_says():
    out = run(with_fill(), NOON).outcomes
    assert out.water_drawn_m3[0] == pytest.approx(20 * GAL_M3, rel=1e-9)
    assert out.tap_dry_m3[0] == 0.0


def test_it_waits_for_the_spell_and_a_quarter_of_an_hour():
    """Due at 07:00; the machine starts at 12:00; drawn from 12:15 for 20 gal / 4 gpm = 5 min."""
    trace = run(with_fill(), NOON)
    fall_gal = -np.diff(trace.water_m3) / GAL_M3
    begin = 12 * 60 + 15
    assert fall_gal[7 * 60 : begin] == pytest.approx(0.0, abs=1e-9)
    assert fall_gal[begin] == pytest.approx(4.0, rel=1e-6)
    assert trace.water_m3[begin + 5 :].min() >= trace.water_m3[begin + 5] - 1e-12
    assert undone_s(trace) == 0.0


def test_an_outage_may_end_while_it_is_filled():
    """12:15 to 12:17:30 of the 5 min; nothing else happens then, and what is left is told all the same."""
    trace = run(with_fill(), NOON, hours=12.0 + 17.5 / 60.0)
    assert undone_s(trace) == pytest.approx(150.0, rel=1e-9)
    assert trace.outcomes.water_drawn_m3[0] == pytest.approx(10 * GAL_M3, rel=1e-9)


def test_a_tank_that_nobody_can_fill_is_water_short():
    """Due on four mornings, two days' worth piled up at most: the third and the fourth day's 20 gal are missed, less
    what is stored."""
    stored_gal = with_fill().stored_water_m3 / GAL_M3
    assert stored_gal < 40.0
    out = run(with_fill(), Off(), hours=96).outcomes
    assert out.tap_dry_m3[0] == 0.0, "nobody opened a tap"
    assert out.unmet_water_m3[0] == pytest.approx((40.0 - stored_gal) * GAL_M3, rel=1e-9)
    assert run(with_fill(), NOON, hours=96).outcomes.unmet_water_m3[0] == 0.0


def test_the_pump_pays_for_it():
    """Water brought up costs the pump's watts over its flow."""
    trace = run(with_fill(), NOON, hours=30)
    well_j = np.sum(trace.circuit_w[:, trace.house.circuit_ids.index("well")]) * 60.0
    pumped = trace.outcomes.water_pumped_m3[0]
    assert pumped > 0.0
    assert well_j == pytest.approx(1300.0 * pumped / (9 * GAL_M3 / 60.0), rel=1e-6)


def test_no_spell_leaves_it_undone_up_to_two_days_worth():
    """Three mornings without power: 3 x 5 min owed and given up, nothing drawn."""
    trace = run(with_fill(), Off(), hours=72)
    assert trace.outcomes.water_drawn_m3[0] == 0.0
    assert undone_s(trace) == pytest.approx(3 * 300.0, rel=1e-9)


def test_yesterdays_fill_is_made_up_for():
    """Spells only on the second day (the first night's is over): two days' worth, 40 gal."""
    out = run(
        with_fill(), Routine((DailySpell(5 * HOUR_S, 1.5 * HOUR_S),)), start_s=6.9 * HOUR_S, hours=48
    ).outcomes
    assert out.water_drawn_m3[0] == pytest.approx(2 * 20 * GAL_M3, rel=1e-9)


def test_a_spell_without_the_pump_fills_nothing():
    steps = (Step("boiler"),)
    out = run(with_fill(), Routine((DailySpell(12 * HOUR_S, 2 * HOUR_S, steps),))).outcomes
    assert out.water_drawn_m3[0] == 0.0


def test_nobody_fills_a_can_at_a_dry_tap():
    """A machine too small for the pump: the pressure tank gives what it holds, and the rest waits, not missed."""
    weak = house().generator.on[0].model_copy(update={"running_w": 900.0, "start_w": 1000.0})
    generator = house().generator.model_copy(update={"on": (weak,)})
    trace = run(with_fill(generator=generator), NOON)
    held_m3 = (
        house().water.drawdown_m3 / 2.0 + house().water.below_cut_in_m3
    )  # half a drawdown used at the start
    assert held_m3 < 20 * GAL_M3
    assert trace.outcomes.water_drawn_m3[0] == pytest.approx(held_m3, rel=1e-6)
    assert trace.outcomes.tap_dry_m3[0] == pytest.approx(0.0, abs=1e-9)
    assert undone_s(trace) == pytest.approx((20 * GAL_M3 - held_m3) / (4 * GAL_M3 / 60.0), rel=1e-6)


def test_without_a_flow_it_is_a_hose_or_the_pump():
    """Half-inch hose 5 gal/min (extension service table); a pump of 3 gpm gives no more than that."""
    plain = table("[[water.fill]]", name="Stock tank", amount="20 gal")
    for pump, flow in (("9 gpm", 5.0), ("3 gpm", 3.0)):
        given = house(water=WATER.replace("9 gpm", pump) + 'livestock_day = "30 gal"\n' + plain)
        assert given.water.fills[0].flow_m3_per_s == pytest.approx(flow * GAL_M3 / 60.0)
        assert given.water.fills[0].due_s == given.people.awake_from_s


def test_a_pump_that_is_not_fed_gives_no_water_and_the_run_moves_on():
    well = [c.model_copy(update={"panel": "main"}) if c.id == "well" else c for c in house().circuits]
    given = replace(house(), circuits=tuple(well))
    trace = run(compile_house(given), AlwaysOn(delay_s=0.0), hours=48)
    out = trace.outcomes
    assert out.water_pumped_m3[0] == 0.0
    # what is in the pressure tank is drawn, then the taps are dry for good
    got_m3 = out.water_drawn_m3[0] - out.tap_dry_m3[0]
    assert got_m3 == pytest.approx(given.water.drawdown_m3 / 2.0 + given.water.below_cut_in_m3, rel=1e-6)
    assert len(trace.minute_s) == 48 * 60 + 1
    assert not out.food_lost[0].any()


def test_an_inverter_that_carries_the_pump_fills_at_the_hour():
    """Due at 07:00, 20 gal at 4 gpm, no machine: drawn from 07:00 to 07:05."""
    trace = run(with_fill(battery=STRONG), Off())
    fall_gal = -np.diff(trace.water_m3) / GAL_M3
    assert fall_gal[: 7 * 60] == pytest.approx(0.0, abs=1e-9)
    assert fall_gal[7 * 60] == pytest.approx(4.0, rel=1e-6)
    assert trace.outcomes.water_drawn_m3[0] == pytest.approx(20 * GAL_M3, rel=1e-9)
    assert trace.outcomes.water_pumped_m3[0] > 0.0
    assert undone_s(trace) == 0.0


def test_the_machine_taking_over_does_not_break_off_a_filling():
    """Due at 07:00, the machine starts at 07:02 and takes over at 07:04: the same five minutes."""
    rule = Routine((DailySpell(7 * HOUR_S + 120.0, HOUR_S),))
    trace = run(with_fill(battery=STRONG), rule, hours=7.1)
    assert trace.outcomes.water_drawn_m3[0] == pytest.approx(20 * GAL_M3, rel=1e-9)
    assert trace.outcomes.run_s[0] > 0.0


@pytest.mark.parametrize(
    ("changes", "circuits"),
    [({"discharge_w": 1000.0}, None), ({"surge_va": 1400.0}, None), ({}, ("kitchen",))],
)
def test_one_that_does_not_waits_for_the_machine(changes, circuits):
    """Too weak to run it, too weak to start it, or not wired to it: nothing before the spell, all of it within."""
    compiled = with_fill(battery=STRONG.model_copy(update=changes))
    rule = replace(NOON, handling=Handling(battery_circuits=circuits))
    assert run(compiled, rule, hours=12).outcomes.water_drawn_m3[0] == 0.0
    assert run(compiled, rule).outcomes.water_drawn_m3[0] == pytest.approx(20 * GAL_M3, rel=1e-9)


def test_a_flat_battery_fills_nothing():
    """An idle draw of 1.5 kW empties it before the hour: what is due waits, up to two days' worth."""
    flat = STRONG.model_copy(update={"idle_w": 2500.0})
    trace = run(with_fill(battery=flat), Off())
    assert trace.outcomes.battery_first_s[0] < 7 * HOUR_S
    assert trace.outcomes.water_drawn_m3[0] == 0.0
    assert undone_s(trace) == pytest.approx(300.0, rel=1e-9)
