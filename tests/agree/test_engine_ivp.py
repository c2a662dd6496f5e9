"""The engine against scipy's DOP853 (rtol 1e-9, terminal events), one model: temperatures, water, fuel, batteries.

A few cases of some days here; twenty of a week in bench/engine/accuracy.py.
"""

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[1] / "engine")]

from ivp_cases import case, full_case  # noqa: E402 - the helpers lie beside this file
from ivp_oracle import Oracle  # noqa: E402

from hearthold.engine.control import compile_control  # noqa: E402
from hearthold.engine.run import simulate  # noqa: E402

WORST_K = 0.05
WORST_COLD_K = 0.01
WORST_M3 = 0.0005
WORST_FUEL_FRAC = 0.002


WORST_BATTERY_J = 3600.0  # a compressor of 150 W that switches half a minute apart
WORST_SHORT_S = 60.0


@pytest.mark.parametrize(
    ("made", "seed"), [(case, 0), (case, 1), (case, 2), *((full_case, i) for i in (1, 2, 3, 4, 10))]
)
def test_engine_follows_the_integrator(made, seed):
    house, compiled, outside, control, start_s = made(seed)
    length_s = 2.5 * 86400.0
    rule = compile_control(compiled, control)
    oracle = Oracle(compiled, house.cold, rule, outside, start_s, length_s).solve()
    trace = simulate(compiled, outside, control, start_s=start_s, hours=length_s / 3600.0)
    assert trace.outcomes.run_s[0] > 3600.0
    assert np.max(np.abs(trace.air_c - oracle.air_c)) < WORST_K
    assert np.max(np.abs(trace.mass_c - oracle.mass_c)) < WORST_K
    assert np.max(np.abs(trace.tank_c - oracle.tank_c)) < WORST_K
    assert np.max(np.abs(trace.cold_c - oracle.cold_c)) < WORST_COLD_K
    water = [i for i, name in enumerate(compiled.level_ids) if name in ("water", "sump")]
    assert np.max(np.abs(trace.tape.levels[:, water] - oracle.levels[:, water])) < WORST_M3
    assert trace.outcomes.fuel_m3[0] == pytest.approx(oracle.fuel_m3, rel=WORST_FUEL_FRAC)
    assert trace.outcomes.run_s[0] == pytest.approx(oracle.run_s, abs=1.0)
    if compiled.has_battery:
        assert np.max(np.abs(trace.battery_j - oracle.battery_j)) < WORST_BATTERY_J
        assert trace.outcomes.medical_unpowered_s[0] == pytest.approx(oracle.short_s, abs=WORST_SHORT_S)
