"""Circuits on an inverter by the clock: against the arithmetic of the day's hours and of one battery.

A battery of E J usable feeds P W through an inverter of efficiency n that draws P_idle itself for
t = E / (P / n + P_idle): conservation of energy.
"""

import sys
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from engine_houses import HOUR_S, still

from hearthold.engine.control import DailySpell, Off, PanelHours
from hearthold.engine.kernels import layout as c
from hearthold.engine.run import simulate
from hearthold.errors import InputError
from hearthold.house.reader import house_from_text

sys.path.insert(0, str(Path(__file__).parents[1] / "builders"))
from house_parts import battery, branch, head, load

USABLE_J, OUT, IDLE_W = 0.9 * 10.0 * 3.6e6, 0.95, 30.0
A_W, B_W = 100.0, 250.0


@cache
def lamps(extra: str = ""):
    """Two circuits with a constant load each, on a battery of 10 kWh."""
    return house_from_text(
        head("Lamps")
        + branch("A")
        + branch("B", "B")
        + load("a", "led_house", "a", running=A_W, pattern="continuous")
        + load("b", "led_house", "b", running=B_W, pattern="continuous")
        + extra
        + battery("10 kWh", discharge_efficiency=OUT)
    )


def used_j(trace):
    return float(trace.outcomes.account(c.O_LOAD_J)[0])


@pytest.mark.parametrize(("on", "load_w"), [(("a",), A_W), (("b",), B_W), (("a", "b"), A_W + B_W), ((), 0.0)])
def test_a_battery_lasts_as_long_as_its_energy(on, load_w):
    expected_s = USABLE_J / (load_w / OUT + IDLE_W)
    trace = simulate(lamps(), still(), PanelHours(always=on), hours=320)
    assert trace.outcomes.battery_first_s[0] == pytest.approx(expected_s, rel=1e-6)
    assert used_j(trace) == pytest.approx(load_w * expected_s, rel=1e-6, abs=1e-6)


def test_everything_always_on_is_what_the_inverter_does_by_itself():
    ours = simulate(lamps(), still(), PanelHours(always=("a", "b")), hours=60).outcomes
    bare = simulate(lamps(), still(), Off(), hours=60).outcomes
    assert ours.account(c.O_LOAD_J)[0] == bare.account(c.O_LOAD_J)[0]
    assert ours.battery_first_s[0] == bare.battery_first_s[0]


@pytest.mark.parametrize("start_h", [0.0, 5.0, 7.25, 13.0, 23.5])
def test_hours_are_times_of_day(start_h):
    """07:00 for two hours and 22:00 for three, past midnight: five hours in any day that is whole."""
    control = PanelHours(
        ("a",), ("b",), (DailySpell(7 * HOUR_S, 2 * HOUR_S), DailySpell(22 * HOUR_S, 3 * HOUR_S))
    )
    trace = simulate(lamps(), still(), control, start_s=start_h * HOUR_S, hours=24)
    # one lamp's inrush waits for the other's, a fiftieth of a second
    assert used_j(trace) == pytest.approx(24 * HOUR_S * A_W + 5 * HOUR_S * B_W, abs=0.021 * B_W)
    clock_min = (start_h * 60 + 0.5 + np.arange(len(trace.circuit_w))) % 1440
    on = trace.circuit_w[:, trace.house.circuit_ids.index("b")] > 1e-6
    inside = ((clock_min >= 420) & (clock_min < 540)) | (clock_min >= 1320) | (clock_min < 60)
    assert (on == inside).all()


def test_what_has_no_duty_stays_off_and_hours_without_spells_never_come():
    trace = simulate(lamps(), still(), PanelHours(("a",), ("b",)), hours=10)
    assert used_j(trace) == pytest.approx(10 * HOUR_S * A_W)


def test_a_circuit_that_is_not_there_is_named():
    with pytest.raises(InputError, match="battery_circuits names \\['c'\\]; allowed: a, b"):
        simulate(lamps(), still(), PanelHours(in_hours=("c",)), hours=1)


def test_people_use_what_is_light_on_a_battery_and_no_kettle():
    """40 W and 0.2 kWh a day are used; 1,500 W wait for the grid. Where a machine is to come, both wait for it."""
    extra = load("computer", "laptop", "a", running=40, energy="0.2 kWh/day") + load(
        "kettle", "microwave_700_w", "a", running=1500, energy="0.5 kWh/day"
    )
    trace = simulate(lamps(extra), still(), PanelHours(("a",)), start_s=0.0, hours=24)
    assert used_j(trace) == pytest.approx(24 * HOUR_S * A_W + 0.2 * 3.6e6, rel=1e-6)


def test_nobody_asleep_uses_anything():
    """Due at 17:30, with power from 23:00 to 05:00 alone, while everybody sleeps: only what is always on draws."""
    extra = load("computer", "laptop", "a", running=40, energy="0.2 kWh/day")
    control = PanelHours((), ("a",), (DailySpell(23 * HOUR_S, 6 * HOUR_S),))
    trace = simulate(lamps(extra), still(), control, start_s=17 * HOUR_S, hours=13)
    assert used_j(trace) == pytest.approx(6 * HOUR_S * A_W, rel=1e-9)
