"""Energy and volume close with everything on at once, reckoned anew from the minutes of the trace and the house file.

The engine checks its own accounts on every run. Here the other side of each balance comes from elsewhere: watts of
circuits by the minute, flows and times of the house file, the clock.
"""

from dataclasses import replace

import numpy as np
import pytest
from engine_houses import HOUR_S, WATER, house, still
from house_parts import branch, load, table

from hearthold.engine.compile import compile_house
from hearthold.engine.control import DailySpell, Handling, Routine
from hearthold.engine.habits import USUAL
from hearthold.engine.kernels import layout as c
from hearthold.engine.run import simulate
from hearthold.house.supply import Battery
from hearthold.physics.tankheater import WATER_J_PER_M3_K
from hearthold.sizing.burn import burn

DAYS, START_H, WARM_S = 6, 5, 120.0
GAL_M3 = 3.785411784e-3
USE_W, FULL_S, RATE, KEPT = (
    60.0,
    4 * HOUR_S,
    4.0 / 3.0,
    0.85,
)  # own battery: 4 h of use, charged in 3 h, 0.85 of it kept
BEDROOM = (
    branch("Bedroom") + load("cpap", "cpap_with_humidifier", "bedroom", running=USE_W)
    + branch("Hall") + load("bell", "modem_router", "hall", running=15, priority="vital")  # tells what is live
    + table("[[medical]]", load="cpap", hours_per_day=8, own_battery="4 h", recharge="3 h", **{"from": "22:00"})
)  # fmt: skip
FILLS = 'livestock_day = "60 gal"\n' + table(
    "[[water.fill]]", name="Stock tank", amount="40 gal", flow="4 gpm", **{"from": "07:00"}
)
BATTERY = Battery(capacity="1 kWh", charge="2 kW", discharge="5 kW", surge="12 kVA", idle="30 W")
RULE = Routine(
    (DailySpell(6.5 * HOUR_S, 1.5 * HOUR_S), DailySpell(17 * HOUR_S, 3 * HOUR_S)),
    Handling(
        warm_up_s=WARM_S, between_s=0.0, battery_circuits=("well", "kitchen", "bedroom", "hall", "sump")
    ),
)
CLOSES = 1e-6


@pytest.fixture(scope="module")
def given():
    return replace(house(BEDROOM, water=WATER + FILLS), battery=BATTERY)


@pytest.fixture(scope="module")
def trace(given):
    compiled = compile_house(given, habits=replace(USUAL, hot_in_spells_frac=0.4))
    return simulate(compiled, still(-8.0), RULE, start_s=START_H * HOUR_S, hours=24 * DAYS, fuel_m3=1.0)


@pytest.fixture(scope="module")
def spent_j(trace):
    """Energy of each circuit, from its watts by the minute."""
    return dict(zip(trace.house.circuit_ids, np.sum(trace.circuit_w, axis=0) * 60.0, strict=True))


def account(trace, column):
    return trace.outcomes.account(column)[0]


def test_everything_was_at_work(trace, spent_j):
    out = trace.outcomes
    assert np.min(trace.battery_j) < 0.9 * np.max(trace.battery_j)
    assert out.battery_empty_s[0] > 0.0
    assert out.medical_unpowered_s[0, 0] > 0.0
    assert all(spent_j[x] > 0.0 for x in ("well", "boiler", "kitchen", "freezer", "tank", "bedroom", "sump"))


def test_fuel(given, trace):
    """What is gone from tank and stock is the line's: so much an hour, so much a joule of loads and charging."""
    gone_m3 = trace.fuel_m3[0] + trace.stock_m3[0] - trace.fuel_m3[-1] - trace.stock_m3[-1]
    assert gone_m3 == pytest.approx(np.sum(trace.burn_m3_per_s) * 60.0, rel=CLOSES)
    line, run_s = burn(given), np.sum(trace.machine_frac) * 60.0
    slope = line.m3_per_s(1000.0) - line.m3_per_s(0.0)
    given_j = trace.outcomes.energy_j[0]
    assert gone_m3 == pytest.approx(line.m3_per_s(0.0) * run_s + slope / 1000.0 * given_j, rel=CLOSES)


def test_battery(trace):
    """Charged by the machine less losses; the rest of all loads, and idling while it carries them, came out of it."""
    charged_j, used_j = np.sum(trace.charge_w) * 60.0, np.sum(trace.load_w) * 60.0
    by_inverter_j = used_j - (trace.outcomes.energy_j[0] - charged_j)
    idle_j = account(trace, c.O_BAT_IDLE_J)
    live_s = np.sum(trace.circuit_w[:, trace.house.circuit_ids.index("hall")]) / 15.0 * 60.0
    machine_s = (
        trace.outcomes.run_s[0] - WARM_S * trace.outcomes.starts[0]
    )  # behind it, with all circuits at once
    assert idle_j == pytest.approx(BATTERY.idle_w * (live_s - machine_s), rel=CLOSES)
    change_j = trace.battery_j[-1] - trace.battery_j[0]
    expected_j = BATTERY.charge_efficiency * charged_j - by_inverter_j / BATTERY.discharge_efficiency - idle_j
    assert change_j == pytest.approx(expected_j, abs=CLOSES * (charged_j + by_inverter_j))


def test_house(given, trace, spent_j):
    """Heat: people, every load in the house, the boiler's output while it runs; losses by the minute."""
    boiler = given.load_by_id["boiler"].running_w
    indoors_j = sum(spent_j[x] for x in ("kitchen", "freezer", "bedroom", "hall", "other"))
    charger_j = charged_s(trace, spent_j) * USE_W * RATE / KEPT  # a charger's heat is not counted
    heat_j = given.heat.gains_w * 24 * DAYS * HOUR_S + indoors_j - charger_j
    heat_j += spent_j["boiler"] / boiler * given.heat.heater_output_w
    assert account(trace, c.O_HEAT_J) == pytest.approx(heat_j, rel=CLOSES)
    held_j = given.heat.air_j_per_k * (trace.air_c[-1] - trace.air_c[0])
    held_j += given.heat.mass_j_per_k * (trace.mass_c[-1] - trace.mass_c[0])
    assert held_j == pytest.approx(heat_j - account(trace, c.O_LOSS_J), abs=CLOSES * heat_j)
    by_minutes_j = given.heat.air_outdoor_w_per_k * np.trapezoid(trace.air_c + 8.0, dx=60.0)
    by_minutes_j += given.heat.mass_outdoor_w_per_k * np.trapezoid(trace.mass_c + 8.0, dx=60.0)
    assert account(trace, c.O_LOSS_J) == pytest.approx(
        by_minutes_j, rel=1e-4
    )  # straight lines between minutes


def test_tank_heater(given, trace, spent_j):
    """The element's electricity is warmth of the water, lost to the room or drawn."""
    held_j = given.hot_water.volume_m3 * WATER_J_PER_M3_K * (trace.tank_c[-1] - trace.tank_c[0])
    assert held_j == pytest.approx(
        spent_j["tank"] - account(trace, c.O_TANK_OUT_J), abs=CLOSES * spent_j["tank"]
    )
    lost_j = given.hot_water.ua_w_per_k * np.trapezoid(trace.tank_c - trace.air_c, dx=60.0)
    drawn_m3 = (account(trace, c.O_TANK_OUT_J) - lost_j) / WATER_J_PER_M3_K  # times kelvins above the inlet
    hot_m3 = account(trace, c.O_HOT_M3)
    above_k = np.array([np.min(trace.tank_c), np.max(trace.tank_c)]) - given.hot_water.inlet_c
    assert hot_m3 * above_k[0] <= drawn_m3 <= hot_m3 * above_k[1]


def test_water(given, trace, spent_j):
    """Asked of the taps: by the clock, into the stock tank, in showers. Brought: by the pump's time and its flow."""
    out, water = trace.outcomes, given.water
    pump_s = spent_j["well"] / given.load_by_id["well_pump"].running_w
    assert out.water_pumped_m3[0] == pytest.approx(pump_s * water.pump_m3_per_s, rel=CLOSES)
    gone_m3 = trace.water_m3[0] - trace.water_m3[-1]
    assert out.water_drawn_m3[0] - out.tap_dry_m3[0] == pytest.approx(
        out.water_pumped_m3[0] + gone_m3, abs=CLOSES * out.water_drawn_m3[0]
    )


def test_cans(given, trace):
    """A day's filling is due on each of six mornings: drawn, or still owed; nothing is lost between."""
    i = trace.house.task_ids.index("fill Stock tank")
    flow = given.water.fills[0].flow_m3_per_s
    filled_m3 = DAYS * 40 * GAL_M3 - trace.outcomes.task_undone_s[0, i] * flow
    shower = trace.house.task_ids.index("hot water")
    row = trace.house.world.tasks[shower]
    showered_s = DAYS * row[c.J_NEED_S] - trace.outcomes.task_undone_s[0, shower]
    slots = trace.house.world.slots[:, c.Z_TAP]
    clock_m3 = DAYS * float(np.sum(slots * np.diff(trace.house.world.slot_at)))
    expected_m3 = filled_m3 + showered_s * row[c.J_TAP] + clock_m3
    assert trace.outcomes.water_drawn_m3[0] == pytest.approx(expected_m3, rel=CLOSES)


def live_frac(trace):
    """Share of each minute in which the hall, and with it the bedroom, was live."""
    return trace.circuit_w[:, trace.house.circuit_ids.index("hall")] / 15.0


def night(trace):
    """Which minutes lie between 22:00 and 06:00."""
    hour = (START_H + np.arange(len(trace.circuit_w)) / 60.0) % 24.0
    return (hour >= 22.0) | (hour < 6.0)


def charged_s(trace, spent_j):
    """Time the charger ran: what the bedroom drew beyond the appliance's own use, over the charger's watts."""
    used_s = np.sum(live_frac(trace)[night(trace)]) * 60.0
    return (spent_j["bedroom"] - USE_W * used_s) / (USE_W * RATE / KEPT)


def test_own_battery(trace, spent_j):
    """Seconds of use: put in by the charger, taken out in the dark of the night; what was not there is counted."""
    dark_s = np.sum(1.0 - live_frac(trace)[night(trace)]) * 60.0
    left_s = trace.outcomes.rows[0, -c.NEED_COUNT + c.NEED_LEFT_S]
    through_s = RATE * charged_s(trace, spent_j)
    assert through_s > FULL_S
    expected_s = through_s - dark_s + trace.outcomes.medical_unpowered_s[0, 0]
    assert left_s - FULL_S == pytest.approx(expected_s, abs=CLOSES * (through_s + dark_s))


def test_the_engine_s_own_accounts_close(trace):
    assert all(r.worst_frac < CLOSES for r in trace.outcomes.residuals)
