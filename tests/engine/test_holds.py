"""An unpowered house against closed forms of the physics layer and published rules."""

from dataclasses import replace

import numpy as np
import pytest
from engine_houses import HOUR_S, house, still, without_heat

from hearthold.engine.compile import compile_house
from hearthold.engine.control import Off
from hearthold.engine.run import simulate, simulate_both
from hearthold.house.fill_cold import mixed_load_curve
from hearthold.physics.cold import ColdBox, hold_likely_s, hold_planning_s
from hearthold.physics.heat import HouseNodes, house_path_c
from hearthold.physics.tankheater import tank_hold_s

ROOM_C = 20.0  # air of a house without a heat section


def _box(store):
    return ColdBox(
        store.ua_w_per_k, store.contents_kg, store.cabinet_j_per_k, mixed_load_curve(), store.shell_frac,
        store.coupling_w_per_k_kg,
    )  # fmt: skip


def test_freezer_keeps_as_long_as_the_planning_model_says():
    given = without_heat(house())
    store = given.cold[1]
    trace = simulate(given, still(), Off(), hours=120)
    wanted_s = hold_planning_s(_box(store), store.start_c, store.start_c, ROOM_C, store.limit_c)
    assert trace.outcomes.cold_first_s[0, 1] == pytest.approx(wanted_s, abs=1.0)


def test_likely_freezer_keeps_as_long_as_the_one_node_model_says():
    given = without_heat(house())
    store = given.cold[1]
    trace = simulate(compile_house(given, likely=True), still(), Off(), hours=19 * 24)
    wanted_s = hold_likely_s(_box(store), store.start_c, ROOM_C, store.limit_c)
    assert trace.outcomes.cold_first_s[0, 1] == pytest.approx(wanted_s, abs=1.0)


def test_full_freezer_keeps_two_days_at_22_c():
    # Public-health guidance: a full freezer keeps about 48 h (the model was calibrated to it: a guard, no evidence).
    given = without_heat(house())
    warm = replace(given, cold=(given.cold[0], replace(given.cold[1], room="outside")))
    trace = simulate(warm, still(22.0), Off(), hours=120)
    assert trace.outcomes.cold_first_s[0, 1] / HOUR_S == pytest.approx(48.0, abs=1.5)


def test_half_full_freezer_keeps_about_a_day_at_22_c():
    # Public-health guidance: about 24 h. The coupling was chosen with this figure in view: agreement by selection.
    given = without_heat(house())
    half = replace(given.cold[1], room="outside", contents_kg=given.cold[1].contents_kg / 2.0)
    trace = simulate(replace(given, cold=(given.cold[0], half)), still(22.0), Off(), hours=60)
    assert trace.outcomes.cold_first_s[0, 1] / HOUR_S == pytest.approx(24.0, abs=2.0)


def test_likely_model_keeps_longer_than_the_planning_one():
    planning, likely = simulate_both(without_heat(house()), still(), Off(), hours=19 * 24)
    assert likely.outcomes.cold_first_s[0, 1] > 3.0 * planning.outcomes.cold_first_s[0, 1]


def test_fridge_warms_by_the_exponential():
    given = without_heat(house())
    fridge = given.cold[0]
    trace = simulate(given, still(), Off(), hours=30)
    rate = fridge.ua_w_per_k / fridge.fresh_j_per_k
    wanted = ROOM_C + (fridge.start_c - ROOM_C) * np.exp(-rate * trace.minute_s)
    assert np.max(np.abs(trace.cold_c[:, 0] - wanted)) < 1e-9


def test_house_cools_along_the_two_node_path():
    given = house()
    heat = given.heat
    trace = simulate(given, still(-5.0), Off(), hours=48)
    nodes = HouseNodes(
        heat.air_j_per_k,
        heat.mass_j_per_k,
        heat.air_outdoor_w_per_k,
        heat.mass_outdoor_w_per_k,
        heat.air_mass_w_per_k,
    )
    air, mass = house_path_c(nodes, 20.0, trace.mass_c[0], -5.0, heat.gains_w, trace.minute_s)
    assert np.max(np.abs(trace.air_c - air)) < 1e-8
    assert np.max(np.abs(trace.mass_c - mass)) < 1e-8


def test_tank_heater_holds_as_long_as_the_closed_form():
    given = replace(without_heat(house()), hot_water=replace(house().hot_water, draw_day_m3=0.0))
    hot = given.hot_water
    trace = simulate(given, still(), Off(), hours=96)
    wanted_s = tank_hold_s(hot.volume_m3, hot.ua_w_per_k, hot.set_c, ROOM_C, hot.lowest_c)
    assert trace.outcomes.tank_first_s[0] == pytest.approx(wanted_s, abs=1.0)


def test_pit_floods_after_headroom_over_inflow():
    trace = simulate(house(), still(), Off(), hours=24)
    pit = house().pits[0]
    assert trace.outcomes.pit_first_s[0, 0] == pytest.approx(pit.headroom_m3 / pit.inflow_m3_per_s, rel=1e-9)


def test_pipe_freezes_when_the_air_passes_its_threshold():
    trace = simulate(house(), still(-20.0), Off(), hours=72)
    first = trace.outcomes.pipe_first_s[0]
    ratio = house().heat.pipe_ratio
    air = np.interp(first, trace.minute_s, trace.air_c)
    assert -20.0 + ratio * (air + 20.0) == pytest.approx(0.0, abs=1e-3)


def test_degree_seconds_equal_the_area_under_the_limit():
    trace = simulate(house(), still(-15.0), Off(), hours=96)
    below = np.maximum(0.0, house().heat.lowest_c - trace.air_c)
    area = np.trapezoid(below, trace.minute_s)
    assert trace.outcomes.air_below_k_s[0] == pytest.approx(area, rel=1e-5)
