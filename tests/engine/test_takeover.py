"""Inverter to machine: what the inverter feeds stays live while the machine warms up and when it takes over."""

from dataclasses import replace

import numpy as np
import pytest
from engine_houses import HOUR_S, house, still

from hearthold.engine.control import Handling, RunPlan, Spell, Step
from hearthold.engine.run import simulate
from hearthold.house.supply import Battery
from hearthold.sizing.burn import burn

BATTERY = Battery(capacity="10 kWh", usable=0.9, charge="2 kW", discharge="3 kW", idle="0 W")
ROUTER_W = 15.0


def run(steps: tuple[Step, ...], warm_up_s: float = 180.0, **changes):
    """A spell from 1 h to 2 h at night, with the kitchen on the inverter; the router always wants power."""
    handling = Handling(warm_up_s=warm_up_s, battery_circuits=("kitchen",))
    given = replace(house(), battery=BATTERY.model_copy(update=changes))
    return simulate(
        given, still(), RunPlan((Spell(HOUR_S, 2 * HOUR_S, steps),), handling), hours=3, fuel_m3=1.0
    )


def kitchen_w(trace):
    return trace.circuit_w[:, trace.house.circuit_ids.index("kitchen")]


@pytest.mark.parametrize("steps", [(), (Step("boiler"), Step("freezer"), Step("kitchen", 300.0))])
def test_the_kitchen_never_goes_dark(steps):
    assert np.min(kitchen_w(run(steps))) >= ROUTER_W - 1e-9


def test_the_battery_carries_it_until_the_machine_does():
    """The battery falls through the three minutes of warming up and is charged after them."""
    trace = run(())
    stored = trace.battery_j
    assert all(np.diff(stored[60:64]) < 0.0)
    assert np.diff(stored[63:65])[0] > 0.0
    carried_j = np.sum(kitchen_w(trace)[60:63]) * 60.0
    assert stored[60] - stored[63] == pytest.approx(carried_j / BATTERY.discharge_efficiency, rel=1e-9)


def test_the_machine_warms_up_on_its_no_load_fuel():
    """No-load rate of the fuel line for three minutes, then the loads as well."""
    trace = run(())
    line = burn(house())
    assert trace.machine_frac[60:63] == pytest.approx(1.0)
    no_load = line.m3_per_s(0.0)
    assert trace.burn_m3_per_s[60:63] == pytest.approx(no_load, rel=1e-9)
    assert trace.burn_m3_per_s[64] > no_load


def test_a_flat_battery_leaves_the_warm_up_dark():
    """An idle draw of 1.5 kW empties it in 43 min: nothing carries the kitchen before the machine, which then does."""
    trace = run((Step("kitchen"),), capacity_j=1.2 * 3.6e6, idle_w=1500.0)
    dark = kitchen_w(trace)
    assert not dark[55:63].any()
    assert dark[64] >= ROUTER_W


def test_without_an_inverter_circuits_wait_for_the_warm_up():
    handling = Handling(warm_up_s=180.0)
    plan = RunPlan((Spell(HOUR_S, 2 * HOUR_S, (Step("kitchen"),)),), handling)
    dark = kitchen_w(simulate(house(), still(), plan, hours=3, fuel_m3=1.0))
    assert not dark[:63].any()
    assert dark[64] >= ROUTER_W
