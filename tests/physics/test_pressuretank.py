"""Pressure tank: Boyle's law both ways, the choice of precharge, and refusals."""

from math import isclose

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import pressuretank as pt
from hearthold.quantities.units import si

FIXED = settings(derandomize=True, max_examples=150, deadline=None)
PSI_PA = si(1.0, "psi", "pressure")
vessel = st.floats(0.01, 2.0)
precharge = st.floats(0.0, 400e3)
above = st.floats(1.0, 500e3)


@FIXED
@given(vessel, precharge, above, st.floats(60e3, 105e3))
def test_water_and_pressure_are_inverse(vessel_m3, precharge_pa, above_pa, atmosphere_pa):
    gauge_pa = precharge_pa + above_pa
    held_m3 = pt.stored_water_m3(vessel_m3, precharge_pa, gauge_pa, atmosphere_pa)
    assert 0.0 < held_m3 < vessel_m3
    assert isclose(
        pt.vessel_pressure_pa(vessel_m3, precharge_pa, held_m3, atmosphere_pa), gauge_pa, rel_tol=1e-9
    )


def test_empty_at_the_precharge_and_below():
    assert pt.stored_water_m3(0.3, 200e3, 200e3) == 0.0
    assert pt.stored_water_m3(0.3, 200e3, 150e3) == 0.0
    assert pt.vessel_pressure_pa(0.3, 200e3, 0.0) == pytest.approx(200e3)


def test_the_air_charge_keeps_its_amount():
    """p V of the air is the same at three pressures (the law itself, in absolute pressure)."""
    for gauge_pa in (250e3, 300e3, 400e3):
        air_m3 = 0.3 - pt.stored_water_m3(0.3, 200e3, gauge_pa)
        assert air_m3 * (gauge_pa + 101325.0) == pytest.approx(0.3 * 301325.0, rel=1e-12)


def test_drawdown_is_what_runs_out_between_the_two_pressures():
    cut_in_pa, cut_out_pa, pre_pa = 30 * PSI_PA, 50 * PSI_PA, 28 * PSI_PA
    drawn = pt.drawdown_m3(0.3, cut_in_pa, cut_out_pa, pre_pa)
    assert drawn == pytest.approx(pt.water_above_m3(0.3, pre_pa, cut_out_pa, cut_in_pa), rel=1e-12)
    left_m3 = pt.stored_water_m3(0.3, pre_pa, cut_in_pa)
    assert left_m3 + drawn == pytest.approx(pt.water_above_m3(0.3, pre_pa, cut_out_pa), rel=1e-12)


def test_precharge_below_cut_in_gives_less_and_above_it_only_what_is_held():
    def band(psi):
        return pt.drawdown_m3(0.3, 30 * PSI_PA, 50 * PSI_PA, psi * PSI_PA)

    assert band(20) < band(28) < band(30)
    assert band(40) == pytest.approx(pt.stored_water_m3(0.3, 40 * PSI_PA, 50 * PSI_PA), rel=1e-12)
    assert band(50) == 0.0


def test_usual_precharge_is_two_psi_below():
    assert pt.usual_precharge_pa(30 * PSI_PA) == pytest.approx(28 * PSI_PA, rel=1e-12)


@FIXED
@given(st.floats(0.001, 0.5), precharge, above, st.floats(1e3, 300e3))
def test_tank_for_a_drawdown_gives_it(wanted_m3, precharge_pa, above_pa, band_pa):
    cut_in_pa = max(20e3, precharge_pa + above_pa)
    vessel_m3 = pt.vessel_for_drawdown_m3(wanted_m3, cut_in_pa, cut_in_pa + band_pa, precharge_pa)
    if vessel_m3 <= 10.0:
        found = pt.drawdown_m3(vessel_m3, cut_in_pa, cut_in_pa + band_pa, precharge_pa)
        assert isclose(found, wanted_m3, rel_tol=1e-9)


def test_less_air_outside_gives_more_drawdown_at_the_same_gauge():
    """At 2000 m (79.5 kPa) the same gauge pressures are a wider ratio of absolute ones."""
    sea = pt.drawdown_m3(0.3, 30 * PSI_PA, 50 * PSI_PA, 28 * PSI_PA)
    assert pt.drawdown_m3(0.3, 30 * PSI_PA, 50 * PSI_PA, 28 * PSI_PA, 79.5e3) > sea


def test_water_still_reaching_an_upper_tap_is_less():
    whole = pt.water_above_m3(0.3, 190e3, 300e3)
    upstairs = [pt.water_above_m3(0.3, 190e3, 300e3, p) for p in (190e3, 200e3, 250e3, 300e3, 350e3)]
    assert upstairs[0] == whole
    assert np.all(np.diff(upstairs) <= 0.0)
    assert upstairs[-1] == 0.0


def test_cycles_and_run_time():
    assert pt.cycles_per_day(1.0, 0.05) == pytest.approx(20.0)
    assert pt.cycles_per_day(1.0, 0.05, 1.0) == 0.0
    assert pt.shortest_run_s(0.05, 5e-4) == pytest.approx(100.0)


def test_refusals_name_the_value_and_the_remedy():
    with pytest.raises(InputError, match=r"cut_out_pa is 200000 Pa and must be above cut_in_pa"):
        pt.drawdown_m3(0.3, 200e3, 200e3, 190e3)
    with pytest.raises(InputError, match=r"vessel_water_m3 is 0.3 m3 and must be below vessel_m3 \(0.3 m3\)"):
        pt.vessel_pressure_pa(0.3, 190e3, 0.3)
    with pytest.raises(InputError, match="no tank gives water above its stop pressure"):
        pt.vessel_for_drawdown_m3(0.05, 200e3, 300e3, 300e3)
    with pytest.raises(InputError, match="vessel_pa is nan"):
        pt.stored_water_m3(0.3, 190e3, float("nan"))
