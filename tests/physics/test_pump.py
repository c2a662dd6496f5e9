"""Pump head, power, curve, cycling and well recovery: limits, inverses, and a stepped second road."""

from math import inf, isclose

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import pump
from hearthold.quantities.units import si

FIXED = settings(derandomize=True, max_examples=100, deadline=None)
flow = st.floats(1e-5, 0.01)


def cycles_by_stepping(cycle_m3, draw, delivers, duration_s, step_s):
    """Starts counted on a fine grid: a store that fills when running and falls when not."""
    held, running, starts = cycle_m3, False, 0
    for _ in range(round(duration_s / step_s)):
        held += (delivers * running - draw) * step_s
        if held <= 0.0 and not running:
            running, starts = True, starts + 1
        elif held >= cycle_m3:
            running = False
    return starts


def test_starts_agree_with_a_stepped_store():
    found = pump.starts_per_day(0.03, 1.0e-4, 4.0e-4)
    stepped = cycles_by_stepping(0.03, 1.0e-4, 4.0e-4, 86400.0 * 2, 0.25) / 2.0
    assert found == pytest.approx(stepped, rel=0.01)


@FIXED
@given(flow, st.floats(0.0, 0.999), st.floats(0.001, 1.0))
def test_starts_peak_at_half_the_pump_flow(delivers, share, cycle_m3):
    most = pump.starts_per_day(cycle_m3, delivers / 2.0, delivers)
    assert pump.starts_per_day(cycle_m3, share * delivers, delivers) <= most * (1.0 + 1e-12)
    assert isclose(most, 86400.0 * delivers / (4.0 * cycle_m3), rel_tol=1e-12)


def test_no_starts_when_nothing_or_everything_is_drawn():
    assert pump.starts_per_day(0.05, 0.0, 5e-4) == 0.0
    assert pump.starts_per_day(0.05, 5e-4, 5e-4) == 0.0


@FIXED
@given(st.floats(1.0, 200.0), st.floats(1.0, 200.0), st.floats(0.0, 50.0), flow)
def test_flow_stands_on_both_curves(rated_head_m, above_m, friction_m, rated):
    shutoff_m, static_m = rated_head_m + above_m, rated_head_m
    q = pump.flow_at_head_m3_per_s(static_m, shutoff_m, rated_head_m, rated, friction_m)
    of_pump_m = shutoff_m - above_m * (q / rated) ** 2
    of_system_m = static_m + friction_m * (q / rated) ** 2
    assert isclose(of_pump_m, of_system_m, rel_tol=1e-9)


def test_flow_at_the_rated_head_is_the_rated_flow_and_none_above_shutoff():
    assert pump.flow_at_head_m3_per_s(40.0, 60.0, 40.0, 6e-4) == pytest.approx(6e-4, rel=1e-12)
    assert pump.flow_at_head_m3_per_s(60.0, 60.0, 40.0, 6e-4) == 0.0
    flows = [pump.flow_at_head_m3_per_s(h, 60.0, 40.0, 6e-4, 5.0) for h in (0.0, 20.0, 40.0, 59.0)]
    assert np.all(np.diff(flows) < 0.0)


def test_power_is_energy_per_volume_times_flow():
    power = pump.electrical_power_w(6e-4, 80.0, 0.4)
    assert power == pytest.approx(pump.energy_per_volume_j_per_m3(80.0, 0.4) * 6e-4, rel=1e-12)
    assert pump.hydraulic_power_w(6e-4, 80.0) == pytest.approx(0.4 * power, rel=1e-12)


def test_filling_takes_for_ever_when_the_draw_takes_all():
    assert pump.fill_s(0.1, 5e-4, 5e-4) == inf
    assert pump.fill_s(0.0, 5e-4, 5e-4) == 0.0
    assert pump.fill_s(0.1, 5e-4, 3e-4) == pytest.approx(500.0)


@FIXED
@given(st.floats(0.0, 5.0), st.floats(0.0, 0.001), flow)
def test_the_well_gives_its_store_and_its_yield(stand_m3, yields, delivers):
    until_s = pump.longest_pumping_s(stand_m3, yields, delivers)
    if until_s == inf:
        assert yields >= delivers
        assert pump.pumped_m3(stand_m3, yields, delivers, 3600.0) == delivers * 3600.0
        return
    at_limit = pump.pumped_m3(stand_m3, yields, delivers, until_s)
    assert isclose(at_limit, delivers * until_s, rel_tol=1e-9, abs_tol=1e-12)
    later = pump.pumped_m3(stand_m3, yields, delivers, until_s + 600.0)
    assert isclose(later, at_limit + yields * 600.0, rel_tol=1e-9, abs_tol=1e-12)


def test_recovery_refills_what_was_drawn_down():
    assert pump.recovery_s(0.2, 1e-4) == pytest.approx(2000.0)
    assert pump.recovery_s(0.2, 0.0) == inf
    assert pump.recovery_s(0.0, 0.0) == 0.0


def test_friction_grows_with_flow_and_shrinks_with_bore():
    small = pump.hazen_williams_head_m(6e-4, 30.0, 0.026)
    assert pump.hazen_williams_head_m(12e-4, 30.0, 0.026) == pytest.approx(small * 2.0**1.852, rel=1e-12)
    assert pump.hazen_williams_head_m(6e-4, 30.0, 0.035) < small
    assert pump.hazen_williams_head_m(0.0, 30.0, 0.026) == 0.0


def test_head_adds_up():
    head_m = pump.total_dynamic_head_m(si(150, "ft", "length"), si(50, "psi", "pressure"), 3.0)
    assert head_m == pytest.approx(45.72 + pump.pressure_head_m(si(50, "psi", "pressure")) + 3.0)


def test_refusals_name_the_value_and_the_remedy():
    with pytest.raises(InputError, match=r"rated_head_m is 60 m and must be below shutoff_head_m \(60 m\)"):
        pump.flow_at_head_m3_per_s(10.0, 60.0, 60.0, 6e-4)
    with pytest.raises(InputError, match=r"wire_to_water_frac is 40 of 1; allowed 0\.02 to 1"):
        pump.electrical_power_w(6e-4, 80.0, 40.0)
    with pytest.raises(InputError, match="pump_m3_per_s is 10 m3/s"):
        pump.fill_s(0.1, 10.0)
