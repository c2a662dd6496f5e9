"""Propane against CoolProp: vapour pressure, boiling point, latent heat, and a whole chill-down."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from scipy.integrate import solve_ivp

from hearthold.physics import propane as pp
from hearthold.quantities.units import si

TEMPS_C = np.linspace(-43.0, 60.0, 60)
FLOOR_C = si(-20.0, "F", "temperature")


def saturated(what, propane_c, quality=0):
    return PropsSI(what, "T", propane_c + 273.15, "Q", quality, "Propane")


def latent(propane_c):
    return saturated("H", propane_c, 1) - saturated("H", propane_c, 0)


@pytest.mark.parametrize("propane_c", TEMPS_C)
def test_vapour_pressure_within_two_in_ten_thousand(propane_c):
    assert pp.vapor_pressure_pa(propane_c) == pytest.approx(saturated("P", propane_c), rel=2e-4)


@pytest.mark.parametrize("gauge_psi", [0.0, 5.0, 10.0, 100.0])
def test_saturation_temperature_within_a_hundredth_of_a_kelvin(gauge_psi):
    absolute_pa = 101325.0 + si(gauge_psi, "psi", "pressure")
    reference_c = PropsSI("T", "P", absolute_pa, "Q", 0, "Propane") - 273.15
    assert pp.saturation_c(absolute_pa) == pytest.approx(reference_c, abs=0.01)


@pytest.mark.parametrize("propane_c", TEMPS_C[TEMPS_C <= 45.0])
def test_latent_heat_within_one_and_a_half_per_cent(propane_c):
    assert pp.latent_heat_j_per_kg(propane_c) == pytest.approx(latent(propane_c), rel=0.015)


def run_with_reference_properties(liquid_kg, steel_kg, ua, draw, air_c):
    """Seconds to the floor or to empty, with heat capacity and latent heat following the temperature."""

    def rate(t, y):
        left_kg = max(liquid_kg - draw * t, 0.0)
        heat = left_kg * saturated("C", y[0]) + steel_kg * 460.0
        return [(ua * (air_c - y[0]) - draw * latent(y[0])) / heat]

    def cold(t, y):
        return y[0] - FLOOR_C

    cold.terminal = True
    found = solve_ivp(rate, (0.0, liquid_kg / draw), [air_c], events=cold, rtol=1e-6, atol=1e-6)
    return found.t[-1]


@pytest.mark.parametrize("air_f", [0.0, 20.0, 40.0, 70.0])
@pytest.mark.parametrize("draw_lb_per_h", [1.5, 3.8])
def test_how_long_a_grill_cylinder_lasts(air_f, draw_lb_per_h):
    """15 lb in a 20 lb cylinder (17 lb of steel); our constant properties cost up to 9 %, mostly short."""
    liquid_kg, steel_kg, ua = si(15.0, "lb", "mass"), si(17.0, "lb", "mass"), 5.4 * 0.52753
    draw, air_c = si(draw_lb_per_h, "lb", "mass") / 3600.0, si(air_f, "F", "temperature")
    ours = pp.cylinder_run(liquid_kg, steel_kg, ua, draw, air_c, FLOOR_C).duration_s
    reference = run_with_reference_properties(liquid_kg, steel_kg, ua, draw, air_c)
    assert 0.91 * reference <= ours <= 1.02 * reference
