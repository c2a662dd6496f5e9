"""Propane: exact chill-down against a stepped one, the printed table against its line, limits, refusals."""

from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from hearthold.errors import InputError
from hearthold.physics import propane as pp
from hearthold.quantities.units import si

FIXED = settings(derandomize=True, max_examples=100, deadline=None)
TEMPS_F = [0, 20, 40, 60, 70]
# lb in the cylinder -> Btu/h at TEMPS_F; widely reprinted industry table for a 100 lb cylinder
PRINTED = {
    100: [113000, 167000, 214000, 277000, 300000],
    80: [94000, 137000, 180000, 214000, 236000],
    60: [75000, 109000, 140000, 176000, 192000],
    40: [55000, 79000, 105000, 131000, 141000],
    20: [36000, 51000, 68000, 83000, 92000],
    10: [28000, 38000, 49000, 60000, 66000],
}
FLOOR_C = si(-44.65, "F", "temperature")


def printed_points():
    rows = [(lb, f, q) for lb, row in PRINTED.items() for f, q in zip(TEMPS_F, row, strict=True)]
    liquid_kg = np.array([si(lb, "lb", "mass") for lb, _, _ in rows])
    air_c = np.array([si(f, "F", "temperature") for _, f, _ in rows])
    return liquid_kg, air_c, np.array([si(q, "Btu/h", "power") for _, _, q in rows])


def test_the_line_through_the_printed_table_misses_no_figure_by_more_than_eight_per_cent():
    liquid_kg, air_c, vapor_w = printed_points()
    line = pp.cylinder_line(liquid_kg, air_c, vapor_w, FLOOR_C)
    found = [
        pp.cylinder_vapor_w(float(m), float(t), line.base_w_per_k, line.wetted_w_per_k_per_kg, FLOOR_C)
        for m, t in zip(liquid_kg, air_c, strict=True)
    ]
    errors = np.array(found) / vapor_w - 1.0
    assert np.abs(errors).max() < 0.08
    assert np.sqrt((errors**2).mean()) < 0.03
    assert line.base_w_per_k == pytest.approx(192.4, rel=0.05)
    assert line.wetted_w_per_k_per_kg == pytest.approx(25.42, rel=0.02)


def test_a_regulator_needs_a_warmer_floor_and_gets_less():
    at_20f_c = si(20.0, "F", "temperature")
    table = pp.cylinder_vapor_w(22.7, at_20f_c, 192.4, 25.42, FLOOR_C)
    engine = pp.cylinder_vapor_w(22.7, at_20f_c, 192.4, 25.42, si(-21.0, "F", "temperature"))
    assert engine / table == pytest.approx((20.0 + 21.0) / (20.0 + 44.65), rel=1e-9)
    assert pp.cylinder_vapor_w(22.7, -45.0, 192.4, 25.42, FLOOR_C) == 0.0


@FIXED
@given(
    st.floats(1.0, 45.0),
    st.floats(3.0, 35.0),
    st.floats(1.0, 10.0),
    st.floats(1e-5, 1e-3),
    st.floats(-20.0, 35.0),
)
def test_exact_chill_down_against_an_integrator(liquid_kg, steel_kg, ua, draw, air_c):
    until_s = min(0.9 * liquid_kg / draw, 7200.0)
    latent = pp.latent_heat_j_per_kg(air_c)

    def rate(t, y):
        heat = (liquid_kg - draw * t) * 2400.0 + steel_kg * 460.0
        return (ua * (air_c - y) - draw * latent) / heat

    stepped = solve_ivp(rate, (0.0, until_s), [air_c], rtol=1e-9, atol=1e-9).y[0, -1]
    found = pp.chilled_c(liquid_kg, steel_kg, ua, draw, air_c, until_s)
    assert found == pytest.approx(stepped, abs=1e-5)


def test_no_draw_keeps_the_air_temperature_and_a_tiny_one_joins_it_smoothly():
    assert pp.chilled_c(6.8, 7.7, 2.85, 0.0, -5.0, 1e6) == pytest.approx(-5.0, abs=1e-12)
    tiny = pp.chilled_c(6.8, 7.7, 2.85, 1e-10, -5.0, 36000.0)
    assert -5.001 < tiny < -5.0
    above = pp.chill_kernel(-5.0, 0.0, 20000.0, 2.85, 1.1e-12, 4e5, 7200.0)
    below = pp.chill_kernel(-5.0, 0.0, 20000.0, 2.85, 0.9e-12, 4e5, 7200.0)
    assert above == pytest.approx(below, abs=1e-6)


@FIXED
@given(st.floats(1.0, 45.0), st.floats(3.0, 35.0), st.floats(1.0, 10.0), st.floats(1e-4, 2e-3))
def test_the_run_ends_where_the_temperature_says(liquid_kg, steel_kg, ua, draw):
    air_c, floor_c = 5.0, -29.0
    run = pp.cylinder_run(liquid_kg, steel_kg, ua, draw, air_c, floor_c)
    assert run.duration_s <= liquid_kg / draw * (1.0 + 1e-12)
    if run.ends == "empty":
        assert run.duration_s == pytest.approx(liquid_kg / draw)
        return
    heat = liquid_kg * 2400.0 + steel_kg * 460.0
    at_end = pp.chill_kernel(air_c, air_c, heat, ua, draw, pp.latent_heat_j_per_kg(floor_c), run.duration_s)
    assert at_end == pytest.approx(floor_c, abs=1e-6)


def test_run_extremes():
    assert pp.cylinder_run(6.8, 7.7, 2.85, 4.8e-4, -35.0, -29.0).duration_s == 0.0
    resting = pp.cylinder_run(6.8, 7.7, 2.85, 0.0, 5.0, -29.0)
    assert (resting.duration_s, resting.ends) == (inf, "empty")
    warm = pp.cylinder_run(6.8, 7.7, 2.85, 4.8e-4, 20.0, -29.0)
    cold = pp.cylinder_run(6.8, 7.7, 2.85, 4.8e-4, -10.0, -29.0)
    assert cold.duration_s < warm.duration_s


@FIXED
@given(st.floats(-42.0, 59.0))
def test_pressure_and_saturation_temperature_are_inverse(propane_c):
    assert pp.saturation_c(pp.vapor_pressure_pa(propane_c)) == pytest.approx(propane_c, abs=1e-6)


def test_tank_rate_falls_to_nothing_at_its_floor():
    def rate(outdoor_c):
        return pp.tank_vapor_w(0.95, 3.02, 3000.0, outdoor_c)

    assert rate(si(-20.0, "F", "temperature")) == pytest.approx(0.0, abs=1e-6)
    assert rate(si(20.0, "F", "temperature")) == pytest.approx(2.0 * rate(si(0.0, "F", "temperature")))
    assert rate(-40.0) == 0.0


def test_cylinders_round_up():
    assert pp.cylinders_needed(30e3, 10e3) == 3
    assert pp.cylinders_needed(30.001e3, 10e3) == 4
    assert pp.cylinders_needed(0.0, 10e3) == 1


def test_refusals_name_the_value_and_the_remedy():
    with pytest.raises(InputError, match="never heat the cylinder"):
        pp.cylinders_needed(30e3, 0.0)
    with pytest.raises(InputError, match=r"7\.2 kg drawn of propane_kg 6\.8 kg; shorten the run"):
        pp.chilled_c(6.8, 7.7, 2.85, 2e-3, 5.0, 3600.0)
    with pytest.raises(InputError, match="two or more fills"):
        pp.cylinder_line([10.0, 10.0], [0.0, 10.0], [1e4, 2e4], FLOOR_C)
    with pytest.raises(InputError, match="propane_c is 100 degC"):
        pp.vapor_pressure_pa(100.0)
