"""A water heater fed by the boiler or by a pilot flame: heated while it calls, and only then."""

from dataclasses import replace

import numpy as np
import pytest
from engine_houses import HOUR_S, house, still
from house_parts import table

from hearthold.engine.compile import compile_house
from hearthold.engine.control import AlwaysOn, Off
from hearthold.engine.habits import USUAL, DrawWindow
from hearthold.engine.run import simulate

# Density and specific heat of water at 40 degC: 992.2 kg/m3, 4179 J/(kg K) (steam tables, from memory).
# The engine takes one figure for all temperatures: hence the hundredth that the times may differ.
WATER_J_PER_M3_K = 992.2 * 4179.0
TANK_M3 = 50 * 3.785411784e-3
BAND_K = 3.0  # half the thermostat's band
NEAR_C = 52.0 + BAND_K - 0.5  # on the way to the upper switch


def tank(heated_by: str, output: str) -> str:
    return table(
        "[hot_water]", heated_by=heated_by, volume="50 gal", output=output, set="52 C", lowest="40 C", inlet="8 C",
        showers_per_day=2, standby="0.1 W/K",
    )  # fmt: skip


def reached_s(trace, level_c: float, after: int = 0) -> float:
    """When the tank first reaches a temperature after a minute, read between the minutes."""
    met = after + int(np.argmax(trace.tank_c[after:] >= level_c))
    low, high = trace.tank_c[met - 1 : met + 1]
    return 60.0 * (met - 1 + (level_c - low) / (high - low))


def from_reading(given, start_c: float):
    return replace(given, hot_water=replace(given.hot_water, start_c=start_c))


@pytest.mark.parametrize("outdoor_c", [-20.0, -5.0, 10.0])
def test_a_tank_on_the_boiler_stays_in_its_band(outdoor_c):
    """The boiler runs for the house for hours on end; the tank takes heat only until its own thermostat is met."""
    given = house(hot_water=tank("boiler", "20 kW"), water="")
    habits = replace(USUAL, hot_in_spells_frac=0.0)
    trace = simulate(
        compile_house(given, habits=habits), still(outdoor_c), AlwaysOn(delay_s=0.0), hours=60, fuel_m3=1.0
    )
    assert np.max(trace.tank_c) <= 52.0 + BAND_K + 0.01
    assert trace.tank_c[-1] >= 52.0 - BAND_K - 0.5
    assert trace.outcomes.hot_water_m3[0] > 0.1  # it was drawn from


def test_a_cold_tank_on_the_boiler_warms_by_its_share():
    """From 30 degC to the upper switch at the coil's 10 kW: volume x rho c x dT / power."""
    given = from_reading(house(hot_water=tank("boiler", "10 kW"), water=""), 30.0)
    habits = replace(USUAL, draws=(), hot_in_spells_frac=0.0)
    trace = simulate(
        compile_house(given, habits=habits), still(), AlwaysOn(delay_s=0.0), hours=6, fuel_m3=1.0
    )
    hand_s = TANK_M3 * WATER_J_PER_M3_K * (NEAR_C - 30.0) / 10e3
    assert reached_s(trace, NEAR_C) - 130.0 == pytest.approx(
        hand_s, rel=0.01
    )  # the boiler is the second circuit


def test_a_pilot_heats_its_tank_without_the_grid():
    """From 30 degC: 0.1893 m3 x 4.146 MJ/(m3 K) x 24.5 K / 9 kW = 2137 s."""
    given = from_reading(house(hot_water=tank("gas_pilot", "9 kW"), water=""), 30.0)
    habits = replace(USUAL, draws=(), hot_in_spells_frac=0.0)
    trace = simulate(compile_house(given, habits=habits), still(), Off(), hours=3)
    hand_s = TANK_M3 * WATER_J_PER_M3_K * (NEAR_C - 30.0) / 9e3
    assert hand_s == pytest.approx(2137.0, rel=1e-3)
    assert reached_s(trace, NEAR_C) == pytest.approx(hand_s, rel=0.01)


def test_a_pilot_makes_good_a_draw():
    """After the draw the rest to the upper switch takes volume x rho c x dT / power."""
    window = DrawWindow(2 * HOUR_S, 2.25 * HOUR_S, 1.0)
    habits = replace(USUAL, draws=(window,), hot_in_spells_frac=0.0)
    given = house(hot_water=tank("gas_pilot", "6 kW"), water="")
    trace = simulate(compile_house(given, habits=habits), still(), Off(), hours=8)
    after = int(window.to_s // 60)
    low_c = trace.tank_c[after]
    assert low_c < 52.0 - BAND_K
    hand_s = TANK_M3 * WATER_J_PER_M3_K * (NEAR_C - low_c) / 6e3
    assert reached_s(trace, NEAR_C, after) - 60.0 * after == pytest.approx(hand_s, rel=0.01)
    assert np.max(trace.tank_c) <= 52.0 + BAND_K + 0.01


@pytest.mark.parametrize("own_load", [{}, {"load": "boiler"}])
def test_a_tank_on_the_boiler_is_hot_again_in_the_time_of_its_coil(own_load):
    """No output given: the boiler's 240 W of electricity are its pump's and its burner's, not the water's.

    A usual coil gives 15 kW (`house_defaults.toml`): 0.1893 m3 x 4.146 MJ/(m3 K) x 24.5 K / 15 kW = 21 min.
    """
    hot = table(
        "[hot_water]", heated_by="boiler", volume="50 gal", set="52 C", lowest="40 C", inlet="8 C",
        showers_per_day=2, standby="0.1 W/K", **own_load,
    )  # fmt: skip
    given = from_reading(house(hot_water=hot, water=""), 30.0)
    habits = replace(USUAL, draws=(), hot_in_spells_frac=0.0)
    compiled = compile_house(given, habits=habits)
    trace = simulate(compiled, still(), AlwaysOn(delay_s=0.0), hours=6, fuel_m3=1.0)
    hand_s = TANK_M3 * WATER_J_PER_M3_K * (NEAR_C - 30.0) / 15e3
    assert reached_s(trace, NEAR_C) - 130.0 == pytest.approx(hand_s, rel=0.02)
    dark = simulate(compiled, still(), Off(), hours=6)
    assert np.max(dark.tank_c) <= 30.0  # without the boiler's circuit nothing heats it


def test_a_burner_with_a_blower_needs_its_load():
    """A vent blower or an igniter on a circuit: no power, no flame."""
    vented = table(
        "[hot_water]", heated_by="gas_pilot", load="heater", volume="50 gal", set="52 C", lowest="40 C", inlet="8 C",
        showers_per_day=2,
    )  # fmt: skip
    given = from_reading(house(hot_water=vented, water=""), 30.0)
    dark = simulate(compile_house(given), still(), Off(), hours=6)
    lit = simulate(compile_house(given), still(), AlwaysOn(delay_s=0.0), hours=6, fuel_m3=1.0)
    assert np.max(dark.tank_c) <= 30.0
    assert np.max(lit.tank_c) > 50.0
