"""The rule by need against the stores as they are: what it starts for is in need, what it stops for has recovered."""

from pathlib import Path

import numpy as np
import pytest
from engine_houses import HOUR_S, house, still

from hearthold.engine.compile import compile_house
from hearthold.engine.control import Watchful, compile_control
from hearthold.engine.kernels import layout as c
from hearthold.engine.run import simulate
from hearthold.engine.weather import year_hours
from hearthold.house.reader import read_house

EXAMPLES = Path(__file__).parents[2] / "examples"
MINUTE_K = 0.15  # no store of the examples moves more within the minute of the trace
RULE = Watchful()


@pytest.fixture(scope="module", params=["tarn_hollow", "skerrow_croft"])
def traces(request):
    """The rule of a house, and traces of some outages of three days."""
    given = read_house(EXAMPLES / f"{request.param}.toml")
    house, outside = compile_house(given), year_hours(given, seed=1)
    starts = np.random.default_rng(3).uniform(0.0, 340.0, 12) * 86400.0
    return compile_control(house, RULE), [
        simulate(house, outside, RULE, start_s=start, hours=72.0) for start in starts
    ]  # fmt: skip


def _switchings(trace, what):
    """Times at which the machine was started or stopped."""
    log = trace.tape.log
    return log[(log[:, 1] == what) & (log[:, 0] > 0.0), 0]


def test_it_stops_when_all_have_recovered(traces):
    """Unless it has run as long as it may, or its tank is dry."""
    rule, made = traces
    asked = 0
    for trace in made:
        log = trace.tape.log
        starts, dry = _switchings(trace, c.LOG_START), log[log[:, 1] == c.LOG_DRY, 0]
        for stop in _switchings(trace, c.LOG_STOP):
            ran = stop - starts[starts < stop].max()
            if ran > rule.ctl[c.K_MAX_RUN_S - c.K_FIRST] - 1.0 or np.any(np.abs(dry - stop) < 1.0):
                continue
            asked += 1
            shells = trace.cold_c[int(stop // 60.0)]
            assert np.all(shells < rule.cold[:, 1] + MINUTE_K), (stop, shells)
    assert asked > 20


def test_it_starts_when_one_is_in_need(traces):
    """A cold store too warm, a level too full, or the air too cold (the examples have no rule for tank or battery)."""
    rule, made = traces
    asked = 0
    for trace in made:
        for start in _switchings(trace, c.LOG_START):
            minute = int(start // 60.0) + 1
            asked += 1
            warm = trace.cold_c[minute] > rule.cold[:, 0] - MINUTE_K
            full = trace.tape.levels[minute] > 0.9 * rule.levels[:, 0]
            cold = trace.air_c[minute] < rule.ctl[c.K_AIR_START - c.K_FIRST] + MINUTE_K
            assert np.any(warm) or np.any(full) or cold, start
    assert asked > 20


def test_it_rests_no_longer_than_it_says():
    """A store that never recovers: an hour of running and five minutes of rest, turn and turn about.

    A rule that is asked only when some store happens to be looked at rests longer.
    """
    never = {"chest": (-25.0, -26.0)}  # colder than its thermostat lets it become
    rule = Watchful(max_run_s=HOUR_S, min_run_s=HOUR_S, min_off_s=300.0, also_start=never)
    trace = simulate(house(), still(), rule, hours=8)
    starts = _switchings(trace, c.LOG_START)  # after the first, at once
    assert starts == pytest.approx((HOUR_S + 300.0) * np.arange(1, 8), abs=1e-6)
