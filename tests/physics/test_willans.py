"""Fuel line: fits against scipy, the plausibility of printed claims, and the careful planning line."""

from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import nnls

from hearthold.errors import InputError
from hearthold.physics import willans as wl
from hearthold.physics.willans import Plausibility, WillansLine
from hearthold.quantities.units import si

FIXED = settings(derandomize=True, max_examples=200, deadline=None)
LHV_J_PER_M3 = si(112114, "Btu", "energy") / si(1.0, "gal", "volume")  # E10 gasoline, from memory
SET = WillansLine(11_000.0, 3.0)


@FIXED
@given(
    st.lists(
        st.tuples(st.integers(0, 20), st.floats(0.0, 1e5)), min_size=2, max_size=6, unique_by=lambda p: p[0]
    )
)
def test_fit_is_the_non_negative_least_squares_line(points):
    steps, fuels = np.array(points).T
    loads = 500.0 * steps
    line = wl.line_from_points(loads, fuels)
    scale = max(1.0, float(loads.max()))
    _, norm = nnls(np.column_stack([np.ones_like(loads), loads / scale]), fuels)
    ours = float(np.linalg.norm(wl.fuel_power_w(line, loads) - fuels))
    assert ours <= norm * (1.0 + 1e-6) + 1e-4
    assert line.no_load_fuel_w >= 0.0
    assert line.slope_w_per_w >= 0.0


def test_fit_gives_back_the_line_that_made_the_points():
    loads = np.array([0.0, 2500.0, 5000.0, 7500.0])
    line = wl.line_from_points(loads, wl.fuel_power_w(SET, loads))
    assert line.no_load_fuel_w == pytest.approx(SET.no_load_fuel_w, rel=1e-9)
    assert line.slope_w_per_w == pytest.approx(SET.slope_w_per_w, rel=1e-9)


def test_a_falling_claim_becomes_flat_and_a_negative_start_goes_through_the_origin():
    assert wl.line_from_points([1000.0, 2000.0], [9000.0, 8000.0]).slope_w_per_w == 0.0
    steep = wl.line_from_points([1000.0, 2000.0], [2000.0, 8000.0])
    assert steep.no_load_fuel_w == 0.0
    assert steep.slope_w_per_w == pytest.approx((2e6 + 16e6) / 5e6)


@FIXED
@given(st.floats(0.0, 1.0), st.floats(0.1, 0.9), st.floats(1e3, 2e5))
def test_one_point_line_passes_its_point_with_its_share(share_of_load, no_load_frac, fuel_w):
    line = wl.line_from_point(share_of_load * 8000.0, fuel_w, 8000.0, no_load_frac)
    assert wl.fuel_power_w(line, share_of_load * 8000.0) == pytest.approx(fuel_w, rel=1e-12)
    assert wl.no_load_share_frac(line, 8000.0) == pytest.approx(no_load_frac, rel=1e-12)


def test_efficiency_line_has_its_efficiency_at_rated_load():
    line = wl.line_from_efficiency(7500.0, 0.22, 0.33)
    assert wl.line_efficiency_frac(line, 7500.0) == pytest.approx(0.22, rel=1e-9)
    effs = wl.line_efficiency_frac(line, np.linspace(0.0, 7500.0, 20))
    assert effs[0] == 0.0
    assert np.all(np.diff(effs) > 0.0)


def test_arrays_agree_with_scalars():
    loads = np.array([0.0, 1000.0, 5000.0])
    by_array = wl.fuel_m3_per_s(SET, loads, LHV_J_PER_M3)
    assert by_array == pytest.approx([wl.fuel_m3_per_s(SET, float(x), LHV_J_PER_M3) for x in loads])
    assert wl.fuel_kernel(SET.no_load_fuel_w, SET.slope_w_per_w, 1000.0) == wl.fuel_power_w(SET, 1000.0)


def test_tank_time_and_spell_fuel_are_inverse():
    tank_m3 = si(6.6, "gal", "volume")
    lasts_s = wl.run_s(SET, 3000.0, tank_m3, LHV_J_PER_M3)
    assert wl.spell_fuel_m3(SET, 3000.0, lasts_s, LHV_J_PER_M3) == pytest.approx(tank_m3, rel=1e-12)
    assert wl.run_s(WillansLine(0.0, 3.0), 0.0, tank_m3, LHV_J_PER_M3) == inf


def test_mass_and_volume_carry_the_same_energy():
    kg = wl.fuel_kg_per_s(SET, 4000.0, 46.3e6)
    assert kg * 46.3e6 == pytest.approx(wl.fuel_power_w(SET, 4000.0), rel=1e-12)
    per_m3 = wl.yield_j_per_m3(SET, 4000.0, LHV_J_PER_M3)
    assert per_m3 * wl.fuel_m3_per_s(SET, 4000.0, LHV_J_PER_M3) == pytest.approx(4000.0, rel=1e-9)


@pytest.mark.parametrize("hours", [15.0, 18.0])
@pytest.mark.parametrize("rated_w", [8000.0, 10_000.0])
def test_a_printed_half_load_time_of_fifteen_to_eighteen_hours_is_not_a_plan(hours, rated_w):
    """10 kW class (taken as peak, 8 kW running, or as running), 6.6 US gal, half load.

    Best small spark engines reach 28-31 % at the shaft and 0.86 of that at the terminals (from memory): 0.28
    is beyond any, 0.24 is the edge of a carburetted one. The arithmetic by hand: 6.6 x 32.86 = 216.9 kWh.
    """
    found = wl.claim(si(6.6, "gal", "volume"), hours * 3600.0, rated_w / 2.0, LHV_J_PER_M3)
    by_hand = rated_w / 2000.0 * hours / (6.6 * 32.857)
    assert found.efficiency_frac == pytest.approx(by_hand, rel=1e-3)
    assert found.use_m3_per_s * 3600.0 / si(1.0, "gal", "volume") == pytest.approx(6.6 / hours)
    verdict = wl.judge(found.efficiency_frac, 0.15, 0.24, 0.28)
    assert verdict in {Plausibility.EDGE, Plausibility.BEYOND}
    if rated_w == 10_000.0:
        assert verdict is Plausibility.BEYOND
    claimed = wl.line_from_point(found.output_w, found.fuel_w, rated_w, 0.33)
    plan = wl.planning_line(claimed, rated_w, 0.24, 0.27)
    planned_h = wl.run_s(plan, rated_w / 2.0, si(6.6, "gal", "volume"), LHV_J_PER_M3) / 3600.0
    assert planned_h < hours
    assert wl.line_efficiency_frac(plan, rated_w / 2.0) <= 0.24 * (1.0 + 1e-12)


@FIXED
@given(
    st.floats(0.0, 5e4),
    st.floats(0.5, 20.0),
    st.floats(0.1, 0.3),
    st.floats(0.1, 0.3),
    st.floats(0.0, 0.5),
)
def test_the_planning_line_never_beats_the_claim_or_the_bounds(no_load_w, slope, half, full, least):
    line, rated_w = WillansLine(no_load_w, slope), 8000.0
    plan = wl.planning_line(line, rated_w, half, full, least)
    loads = np.linspace(0.0, rated_w, 33)
    more_w = wl.fuel_power_w(plan, loads) - wl.fuel_power_w(line, loads)
    assert np.all(more_w >= -1e-9 * wl.fuel_power_w(line, rated_w))
    below_half = wl.line_efficiency_frac(plan, loads[: 33 // 2 + 1])
    assert np.all(below_half <= half * (1.0 + 1e-9))
    assert np.all(wl.line_efficiency_frac(plan, loads) <= full * (1.0 + 1e-9))
    assert wl.no_load_share_frac(plan, rated_w) >= least - 1e-12


def test_the_planning_line_stands_on_the_bound_that_binds_and_gives_away_no_more():
    too_good = wl.line_from_efficiency(8000.0, 0.40, 0.33)
    by_half = wl.planning_line(too_good, 8000.0, 0.20, 0.30)
    assert wl.line_efficiency_frac(by_half, 4000.0) == pytest.approx(0.20, rel=1e-12)
    by_full = wl.planning_line(too_good, 8000.0, 0.24, 0.25)
    assert wl.line_efficiency_frac(by_full, 8000.0) == pytest.approx(0.25, rel=1e-12)


def test_a_modest_claim_is_planned_as_it_stands():
    honest = wl.line_from_efficiency(7500.0, 0.20, 0.35)
    plan = wl.planning_line(honest, 7500.0, 0.24, 0.27, 0.25)
    assert plan.no_load_fuel_w == pytest.approx(honest.no_load_fuel_w, rel=1e-12)
    assert plan.slope_w_per_w == pytest.approx(honest.slope_w_per_w, rel=1e-12)


def test_classes_meet_at_their_bounds():
    classes = [wl.judge(e, 0.15, 0.24, 0.28) for e in (0.10, 0.15, 0.2399, 0.24, 0.28, 0.2801)]
    assert classes == ["poor", "typical", "typical", "at the edge", "at the edge", "beyond plausible"]


def test_refusals_name_the_value_and_the_remedy():
    with pytest.raises(InputError, match="two or more different loads"):
        wl.line_from_points([1000.0, 1000.0], [5000.0, 6000.0])
    with pytest.raises(InputError, match="two or more different loads"):
        wl.line_from_points([1000.0, 2000.0], [5000.0])
    with pytest.raises(InputError, match="the bounds must rise"):
        wl.judge(0.2, 0.15, 0.3, 0.28)
    with pytest.raises(InputError, match="fuel_m3 is 0; give the tank"):
        wl.claim(0.0, 3600.0, 1000.0, LHV_J_PER_M3)
    with pytest.raises(InputError, match="says nothing"):
        wl.line_from_point(0.0, 5000.0, 8000.0, 0.0)
    with pytest.raises(InputError, match="burns nothing"):
        wl.line_efficiency_frac(WillansLine(0.0, 0.0), 1000.0)
    with pytest.raises(InputError, match="burns nothing"):
        wl.no_load_share_frac(WillansLine(0.0, 0.0), 1000.0)
    with pytest.raises(InputError, match="no_load_fuel_w is -1 W"):
        WillansLine(-1.0, 2.0)
