"""Who gets power: limits of machine and legs, starts that wait, overloads that trip, battery, sun, fuel trips."""

from dataclasses import replace

import numpy as np
import pytest
from engine_houses import HOUR_S, house, still

from hearthold.engine.compile import compile_house
from hearthold.engine.control import (
    AlwaysOn,
    DailySpell,
    Handling,
    Off,
    Routine,
    RunPlan,
    Spell,
    Standby,
    Step,
    Watchful,
)
from hearthold.engine.run import simulate
from hearthold.engine.sunshine import month_with_sun, with_panels
from hearthold.engine.weather import hours, month_hours
from hearthold.house.supply import Battery, FuelTrip, Solar

ALWAYS = AlwaysOn(delay_s=0.0)


def _machine(given, running_w, start_w):
    rating = given.generator.on[0].model_copy(update={"running_w": running_w, "start_w": start_w})
    return replace(given, generator=given.generator.model_copy(update={"on": (rating,)}))


def test_nothing_runs_beyond_the_machine_or_a_leg():
    for running_w in (2000.0, 3500.0, 6000.0):
        given = _machine(house(), running_w, 1.25 * running_w)
        compiled = compile_house(given)
        trace = simulate(compiled, still(), ALWAYS, hours=30)
        limits = compiled.world.limits[0]
        assert trace.outcomes.peak_w[0] <= limits[0] + 1e-6
        assert np.max(trace.outcomes.peak_leg_a) * 120.0 <= limits[2] + 1e-6
        assert trace.outcomes.overload_trips[0] == 0


def test_a_small_machine_makes_starts_wait_and_loses_the_heater():
    given = _machine(house(), 2000.0, 2500.0)
    trace = simulate(given, still(), ALWAYS, hours=30)
    small, large = trace.outcomes, simulate(house(), still(), ALWAYS, hours=30).outcomes
    assert small.wait_s[0] > large.wait_s[0] + 3600.0
    assert not trace.circuit_w[:, trace.house.circuit_ids.index("tank")].any()
    assert small.unmet_water_m3[0] > 0.0  # the well pump's start is beyond it


def test_the_peak_of_a_start_is_the_phasor_sum():
    """One pump starting on an idle machine: its own start VA, as the house says."""
    plan = RunPlan((Spell(0.0, 4 * HOUR_S, (Step("sump"),)),))
    trace = simulate(house(), still(), plan, hours=5)
    assert trace.outcomes.peak_start_va[0] == pytest.approx(
        house().load_by_id["sump_pump"].start_va, rel=1e-9
    )


def test_unmanaged_small_machine_trips_and_says_what_was_on():
    given = _machine(house(), 2500.0, 3000.0)
    compiled = compile_house(given, managed=False)
    trace = simulate(compiled, still(), ALWAYS, hours=24)
    assert trace.outcomes.overload_trips[0] >= 1
    tripped = [line for line in trace.log if line.what == "overload: breaker opens"]
    assert len(tripped) == trace.outcomes.overload_trips[0]
    assert all(line.running for line in tripped)


def test_vital_load_takes_the_place_of_a_lesser_one():
    extra = """
[[load]]
id = "concentrator"
kind = "microwave_700_w"
circuit = "freezer"
running = 1200
priority = "vital"
pattern = "scheduled"
use = [{ from = "12:00", to = "13:00" }]
"""
    given = _machine(house(extra), 5000.0, 6500.0)
    trace = simulate(given, still(), ALWAYS, start_s=6 * HOUR_S, hours=12)
    freezer = trace.circuit_w[:, trace.house.circuit_ids.index("freezer")]
    assert np.all(freezer[6 * 60 + 1 : 7 * 60 - 1] >= 1200.0 - 1e-6)


def test_medical_need_counts_only_beyond_its_own_battery():
    extra = """
[[load]]
id = "cpap"
kind = "cpap_with_humidifier"
circuit = "kitchen"
running = 60
[[medical]]
load = "cpap"
hours_per_day = 8
from = "22:00"
own_battery = "3 h"
"""
    given = house(extra)
    off = simulate(given, still(), Off(), start_s=20 * HOUR_S, hours=24).outcomes
    assert off.medical_unpowered_s[0, 0] == pytest.approx(5 * HOUR_S, abs=1.0)
    assert off.medical_first_s[0, 0] == pytest.approx(5 * HOUR_S, abs=1.0)
    on = simulate(given, still(), AlwaysOn(delay_s=0.0), start_s=20 * HOUR_S, hours=24, fuel_m3=1.0).outcomes
    assert on.medical_unpowered_s[0, 0] == 0.0


def test_own_battery_recharges_by_day_when_nobody_uses_it():
    """By hand: 8 h of use a night against 9 h; 1 h is left at 06:00, and a live circuit adds its own hours."""
    extra = """
[[load]]
id = "cpap"
kind = "cpap_with_humidifier"
circuit = "kitchen"
running = 60
[[medical]]
load = "cpap"
hours_per_day = 8
from = "22:00"
own_battery = "9 h"
"""
    for charged_h, short_h in ((0, 7.0), (3, 4.0), (7, 0.0)):
        rule = Routine((DailySpell(12 * HOUR_S, charged_h * HOUR_S),)) if charged_h else Off()
        out = simulate(house(extra), still(), rule, start_s=21 * HOUR_S, hours=34, fuel_m3=1.0).outcomes
        warm_up_s = 180.0  # the machine steadies and earlier circuits are switched on first
        assert out.medical_unpowered_s[0, 0] == pytest.approx(short_h * HOUR_S, abs=warm_up_s)


BATTERY = Battery(capacity="10 kWh", usable=0.9, charge="2 kW", discharge="3 kW")
LAMPS = Handling(battery_circuits=("kitchen",))


def _with_battery(**changes):
    return replace(house(), battery=BATTERY.model_copy(update=changes))


def test_battery_carries_its_circuits_until_it_is_empty():
    given = _with_battery(idle_w=50.0)
    trace = simulate(given, still(), Off(LAMPS), start_s=23 * HOUR_S, hours=6)
    served_j = np.sum(trace.load_w) * 60.0
    drained_j = trace.battery_j[0] - trace.battery_j[-1]
    assert served_j > 0.0
    assert not trace.circuit_w[:, trace.house.circuit_ids.index("freezer")].any()
    # store out = load / discharge efficiency + idle draw: definition, as in physics.battery
    assert drained_j == pytest.approx(served_j / 0.95 + 50.0 * 6 * HOUR_S, rel=1e-9)


def test_empty_battery_is_timed_and_stays_down():
    given = _with_battery(capacity_j=1.0 * 3.6e6)
    found = simulate(given, still(), Off(LAMPS), hours=48).outcomes
    assert 0.0 < found.battery_first_s[0] < 24 * HOUR_S
    assert found.battery_empty_s[0] == pytest.approx(48 * HOUR_S - found.battery_first_s[0], abs=1e-3)
    assert found.battery_min_j[0] == pytest.approx(0.0, abs=1e-6)


def test_machine_charges_the_battery_at_its_rate_and_losses():
    given = _with_battery(capacity_j=100 * 3.6e6)
    rule = Routine((DailySpell(10 * HOUR_S, 2 * HOUR_S, (Step("sump"),)),), Handling(battery_circuits=()))
    trace = simulate(given, still(), rule, start_s=9 * HOUR_S, hours=4, fuel_m3=1.0)
    gained = trace.battery_j[60:181]
    assert trace.battery_j[0] == pytest.approx(90 * 3.6e6)
    assert np.max(gained) == pytest.approx(90 * 3.6e6, rel=1e-3)  # it was full: charging holds it there
    assert trace.outcomes.residuals


def test_watchful_starts_the_machine_for_the_battery():
    given = _with_battery(capacity_j=4 * 3.6e6)
    rule = Watchful(handling=LAMPS, not_at_night=False, min_run_s=600.0)
    trace = simulate(given, month_hours(given, 7), rule, hours=48, fuel_m3=1.0)
    assert trace.outcomes.starts[0] >= 1
    assert trace.outcomes.battery_empty_s[0] == 0.0
    assert np.min(trace.battery_j) >= 0.25 * 0.9 * 4 * 3.6e6 * (1 - 1e-6)


def test_lithium_battery_does_not_charge_in_frost():
    given = replace(_with_battery(place="unheated"), solar=None)
    sun_w = np.where(np.arange(240) < 24, 0.0, 800.0)  # a day without sun empties some of it first
    cold, warm = hours(np.full(240, -10.0), sun_w), hours(np.full(240, 10.0), sun_w)
    frost = simulate(given, cold, Off(LAMPS), hours=100)
    mild = simulate(given, warm, Off(LAMPS), hours=100)
    assert mild.battery_j[-1] > frost.battery_j[-1] + 1e6


def test_sun_keeps_a_battery_alive():
    given = replace(_with_battery(), solar=Solar(peak="3 kW"))
    dull = simulate(given, month_hours(given, 6), Off(LAMPS), hours=150).outcomes
    sunny = simulate(given, with_panels(month_hours(given, 6), given), Off(LAMPS), hours=150).outcomes
    assert dull.battery_empty_s[0] > 0.0
    assert sunny.battery_empty_s[0] < dull.battery_empty_s[0]


def test_panel_day_has_the_energy_of_the_mean_day():
    from hearthold.physics import sun

    given = replace(house(), solar=Solar(peak="3 kW").model_copy(update={"tilt_deg": 45.0}))
    lit = with_panels(month_hours(given, 3), given)
    day_j = np.sum(lit.solar_w[:24]) * 3600.0
    clear = sun.plane_of_panel_j_per_m2(45.0, 45.0, 3, 1e-3 + 0.5)
    top_j = sun.panel_energy_j(3000.0, sun.plane_of_panel_j_per_m2(45.0, 45.0, 3, 0.75), 0.8)
    assert 0.4 * sun.panel_energy_j(3000.0, clear, 0.8) < day_j < top_j
    assert lit.solar_w[:5].max() == 0.0


def test_a_bad_spell_of_winter_has_a_storms_sun_and_a_hot_one_all_of_it():
    """An outage day in a storm yields 10 to 30 % of the month's mean (table of panels, from memory); 30 % planned."""
    given = replace(house(), solar=Solar(peak="3 kW"))
    day_j = {
        (month, harsh): np.sum(month_with_sun(given, month, harsh=harsh).solar_w[:24])
        for month in (1, 7)
        for harsh in (True, False)
    }
    assert day_j[1, True] == pytest.approx(0.3 * day_j[1, False], rel=1e-9)
    assert day_j[7, True] == pytest.approx(day_j[7, False], rel=1e-9)
    assert day_j[7, False] > day_j[1, False] > 0.0


def test_trip_for_fuel_brings_it_after_its_time():
    trip = FuelTrip(time="90 min", brings="20 L", works_in_outage=True)
    given = replace(house(), fuel=house().fuel.model_copy(update={"trip": trip}))
    trace = simulate(given, still(), AlwaysOn(delay_s=0.0), start_s=8 * HOUR_S, hours=72, fuel_m3=0.03)
    assert trace.outcomes.fuel_trips[0] >= 1
    back = [line.at_s for line in trace.log if line.what == "back with fuel"]
    assert len(back) == trace.outcomes.fuel_trips[0]
    assert back[0] > 5400.0
    without = simulate(house(), still(), AlwaysOn(delay_s=0.0), start_s=8 * HOUR_S, hours=72, fuel_m3=0.03)
    assert trace.outcomes.run_s[0] > without.outcomes.run_s[0]


def test_standby_starts_by_itself_after_its_delay():
    trace = simulate(house(), still(), Standby(start_delay_s=10.0), hours=1)
    assert trace.log[0].what == "machine starts"
    assert trace.log[0].at_s == pytest.approx(10.0)


def test_well_pump_refills_a_drawdown_at_its_own_rate():
    """Boyle's drawdown over the pump's flow gives the run; energy of the well circuit follows."""
    trace = simulate(house(), still(), ALWAYS, start_s=5 * HOUR_S, hours=20)
    pumped = trace.outcomes.water_pumped_m3[0]
    well_j = np.sum(trace.circuit_w[:, trace.house.circuit_ids.index("well")]) * 60.0
    assert well_j == pytest.approx(1300.0 * pumped / house().water.pump_m3_per_s, rel=1e-6)
    assert trace.outcomes.tap_dry_m3[0] == 0.0


def test_stores_on_one_compressor_are_cooled_together():
    """A fridge and two drawers: what the circuit took, less router and lamps by the clock, is its hours at 150 W."""
    chest = house().cold[1]
    drawers = [
        replace(chest, id=name, load="fridge", ua_w_per_k=chest.ua_w_per_k / 3.0) for name in ("a", "b")
    ]
    given = replace(house(), cold=(house().cold[0], *drawers))
    live = AlwaysOn(delay_s=0.0, steps=(Step("kitchen"),))
    trace = simulate(given, still(), live, hours=48, fuel_m3=np.inf)
    kitchen_j = 60.0 * trace.circuit_w[:, trace.house.circuit_ids.index("kitchen")].sum()
    warm_up_s = live.handling.warm_up_s
    ran_s = (kitchen_j - 15.0 * (48 * HOUR_S - warm_up_s) - 100.0 * 14 * HOUR_S) / 150.0
    assert HOUR_S < ran_s < 48 * HOUR_S - warm_up_s
    assert trace.outcomes.compressor_s[0] == pytest.approx(np.full(3, ran_s), rel=1e-6)
