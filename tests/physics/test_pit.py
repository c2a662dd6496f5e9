"""Pits: geometry, time to overflow, pump-down and starts, against a stepped level."""

from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import pit

FIXED = settings(derandomize=True, max_examples=100, deadline=None)
AREA_M2 = 0.16


def step_level(level_m, until_m, net_m3_per_s, step_s=0.5):
    """Seconds of Euler steps until the level passes `until_m` (rate constant, so exact to one step)."""
    t = 0.0
    while (level_m - until_m) * net_m3_per_s < 0.0:
        level_m += net_m3_per_s / AREA_M2 * step_s
        t += step_s
    return t


def test_overflow_and_pump_down_agree_with_a_stepped_level():
    assert pit.overflow_s(AREA_M2, 0.2, 0.9, 2e-4) == pytest.approx(step_level(0.2, 0.9, 2e-4), abs=0.51)
    assert pit.pump_down_s(AREA_M2, 0.9, 0.1, 1.5e-3, 2e-4) == pytest.approx(
        step_level(0.9, 0.1, 2e-4 - 1.5e-3), abs=0.51
    )


def test_a_watched_rise_gives_back_its_own_time():
    inflow = pit.watched_inflow_m3_per_s(AREA_M2, 0.05, 300.0)
    assert pit.overflow_s(AREA_M2, 0.3, 0.35, inflow) == pytest.approx(300.0, rel=1e-12)


def test_dry_and_flooded_pits():
    assert pit.overflow_s(AREA_M2, 0.3, 0.9, 0.0) == inf
    assert pit.overflow_s(AREA_M2, 0.9, 0.9, 2e-4) == 0.0
    assert pit.overflow_s(AREA_M2, 1.0, 0.9, 0.0) == 0.0


def test_a_pump_that_is_too_small_never_finishes():
    assert pit.pump_down_s(AREA_M2, 0.9, 0.1, 2e-4, 2e-4) == inf
    assert pit.pump_down_s(AREA_M2, 0.1, 0.1, 2e-4, 2e-4) == 0.0
    assert pit.pump_down_s(AREA_M2, 0.05, 0.1, 2e-4) == 0.0
    assert pit.pump_share_frac(3e-4, 2e-4) == 1.0


@FIXED
@given(st.floats(1e-6, 9e-4), st.floats(0.05, 0.5))
def test_starts_and_share_balance_the_inflow(inflow, band_m):
    """Each start moves the band plus what runs in meanwhile; over a day that is the whole inflow."""
    delivers = 1e-3
    starts = pit.pit_starts_per_day(AREA_M2, 0.1 + band_m, 0.1, inflow, delivers)
    run_s = pit.pump_down_s(AREA_M2, 0.1 + band_m, 0.1, delivers, inflow)
    assert starts * run_s * delivers == pytest.approx(inflow * 86400.0, rel=1e-9)
    assert starts * run_s == pytest.approx(86400.0 * pit.pump_share_frac(inflow, delivers), rel=1e-9)


def test_refusals_name_the_value_and_the_remedy():
    with pytest.raises(InputError, match=r"start_level_m is 0.1 m and must be above stop_level_m \(0.1 m\)"):
        pit.volume_between_m3(AREA_M2, 0.1, 0.1)
    with pytest.raises(InputError, match=r"rise_s is 0 s; allowed 0\.1"):
        pit.watched_inflow_m3_per_s(AREA_M2, 0.05, 0.0)
    with pytest.raises(InputError, match="pit_inside_m is 18 m"):
        pit.round_area_m2(18.0)
