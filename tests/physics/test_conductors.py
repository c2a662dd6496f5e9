import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import conductors as c

COPPER = {"resistivity_ohm_m": 1.7241e-8, "temp_coefficient_per_k": 0.00393}


def test_gauge_is_exact_at_both_anchors():
    # ASTM B258: 36 AWG is 0.0050 in and 4/0 is 0.4600 in by definition
    assert c.awg_diameter_m(36) == pytest.approx(0.005 * 0.0254, rel=1e-12)
    assert c.awg_diameter_m(-3) == pytest.approx(0.46 * 0.0254, rel=1e-12)


def test_three_sizes_up_doubles_the_area_and_six_the_diameter():
    # rule of thumb in every wire table: 92^(6/39) = 2.005
    assert c.awg_area_m2(9) / c.awg_area_m2(12) == pytest.approx(2.0, rel=0.004)
    assert c.awg_diameter_m(6) / c.awg_diameter_m(12) == pytest.approx(2.0, rel=0.003)


def test_gauge_takes_arrays():
    sizes = np.array([12, 10, 8, -3])
    assert c.awg_area_m2(sizes).tolist() == [c.awg_area_m2(int(n)) for n in sizes]


@pytest.mark.parametrize("wrong", [-4, 41, math.nan])
def test_gauge_outside_the_standard_is_refused(wrong):
    with pytest.raises(InputError, match=r"awg_number is .*allowed -3 to 40"):
        c.awg_diameter_m(wrong)


def test_copper_at_234_5_below_zero_has_no_resistance_left():
    # handbooks print 0.00393 at 20 degC as the inferred zero-resistance temperature of copper, -234.5 degC
    at_minus_40, at_20 = (c.resistance_ohm_per_m(1e-6, **COPPER, conductor_c=t) for t in (-40.0, 20.0))
    assert at_minus_40 / at_20 == pytest.approx((234.5 - 40.0) / (234.5 + 20.0), rel=1e-3)


def test_75_degree_table_moved_to_20_agrees_with_the_metal():
    # Table 8 note 2 with 0.00323 at 75 degC must land on the 20 degC law with 0.00393
    at_75 = c.resistance_ohm_per_m(5e-6, **COPPER, conductor_c=75.0)
    at_30 = c.resistance_ohm_per_m(5e-6, **COPPER, conductor_c=30.0)
    assert c.resistance_from_75c_ohm_per_m(at_75, 0.00323, 30.0) == pytest.approx(at_30, rel=5e-4)


@settings(derandomize=True, max_examples=200)
@given(
    ohm=st.floats(0.001, 0.012),
    ratio=st.floats(0.0, 0.8),
    power_factor=st.floats(0.5, 1.0),
    drop_share=st.floats(0.001, 0.05),
)
def test_handbook_drop_is_as_near_the_exact_phasor_as_its_docstring_says(
    ohm, ratio, power_factor, drop_share
):
    # exact: |E| where E = V + I (R + jX), V and I phi apart; the handbook keeps the in-phase part only
    reactance, volts = ohm * ratio, 240.0
    per_ampere = c.voltage_drop_two_wire_v(1.0, ohm, reactance, 30.0, power_factor)
    current = volts * drop_share / per_ampere
    phasor = volts + 60.0 * current * complex(ohm, reactance) * complex(
        power_factor, -math.sqrt(1 - power_factor**2)
    )
    exact = abs(phasor) - volts
    assert exact >= volts * drop_share * (1 - 1e-9)
    assert exact - volts * drop_share < (0.001 if power_factor >= 0.8 else 0.004) * volts


def test_reactance_counts_more_at_a_poor_power_factor():
    at_unity = c.voltage_drop_two_wire_v(10.0, 0.001, 0.002, 50.0, 1.0)
    assert at_unity == pytest.approx(1.0)
    assert c.voltage_drop_two_wire_v(10.0, 0.001, 0.002, 50.0, 0.6) == pytest.approx(0.6 + 0.8 * 2.0)


def test_current_at_drop_and_least_area_are_inverses_of_the_drop():
    current = c.current_at_drop_a(3.6, 0.0052, 0.0002, 30.0, 0.8)
    assert c.voltage_drop_two_wire_v(current, 0.0052, 0.0002, 30.0, 0.8) == pytest.approx(3.6, rel=1e-12)
    area = c.least_area_m2(20.0, 2.1e-8, 30.0, 3.6)
    assert c.voltage_drop_two_wire_v(20.0, 2.1e-8 / area, 0.0, 30.0, 1.0) == pytest.approx(3.6, rel=1e-12)


def test_short_heavy_circuit_still_has_a_current_limit():
    # Ohm's law: 1 m of 1 mohm/m out and back is 2 mohm, so 0.1 V is 50 A
    assert c.current_at_drop_a(0.1, 0.001, 0.0, 1.0, 1.0) == pytest.approx(50.0)


def test_no_length_has_no_current_limit_and_says_so():
    with pytest.raises(InputError, match="no length or no resistance"):
        c.current_at_drop_a(3.6, 0.005, 0.0, 0.0, 1.0)


def test_same_watts_on_one_leg_drop_four_times_the_share():
    # twice the current on half the voltage, the reason to balance a long cord
    low = c.voltage_drop_frac(c.voltage_drop_two_wire_v(20.0, 0.005, 0.0, 20.0, 1.0), 120.0)
    high = c.voltage_drop_frac(c.voltage_drop_two_wire_v(10.0, 0.005, 0.0, 20.0, 1.0), 240.0)
    assert low == pytest.approx(4.0 * high)


def test_iec_ambient_factors_of_pvc():
    # IEC 60364-5-52 Table B.52.14, PVC 70 degC (from memory), two decimals
    air = np.array([10.0, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60])
    printed = [1.22, 1.17, 1.12, 1.06, 1.00, 0.94, 0.87, 0.79, 0.71, 0.61, 0.50]
    np.testing.assert_allclose(c.ambient_factor_frac(70.0, air), printed, atol=0.006)


def test_nec_ambient_factors_whole_table():
    # NEC Table 310.15(B)(1), top of each band; -1 is "not permitted"
    top = np.array([10.0, 15, 20, 25, 30, 35, 40, 45, 50, 55])
    printed = {
        60.0: [1.29, 1.22, 1.15, 1.08, 1.00, 0.91, 0.82, 0.71, 0.58, 0.41],
        75.0: [1.20, 1.15, 1.11, 1.05, 1.00, 0.94, 0.88, 0.82, 0.75, 0.67],
        90.0: [1.15, 1.12, 1.08, 1.04, 1.00, 0.96, 0.91, 0.87, 0.82, 0.76],
    }
    for insulation_c, column in printed.items():
        np.testing.assert_allclose(c.ambient_factor_frac(insulation_c, top), column, atol=0.0065)


@pytest.mark.parametrize(("ambient_c", "base_c"), [(60.0, 30.0), (72.0, 30.0), (20.0, 60.0)])
def test_air_as_hot_as_the_insulation_is_refused(ambient_c, base_c):
    with pytest.raises(InputError, match="no current is allowed there"):
        c.ambient_factor_frac(60.0, ambient_c, base_c)


def test_limit_comes_after_correction():
    # NEC practice: 12 AWG THHN 30 A at 90 degC, x 0.8 for bundling = 24 A, held to 20 A by 240.4(D)
    assert c.corrected_ampacity_a(30.0, 0.8, 20.0) == 20.0
    assert c.corrected_ampacity_a(30.0, 0.5, 20.0) == 15.0
    assert c.corrected_ampacity_a(np.array([30.0, 40.0]), 0.8, 30.0).tolist() == [24.0, 30.0]


def test_continuous_allowance():
    # NEC 210.20(A): 10 A continuous and 5 A other ask for 17.5 A; IEC practice has no allowance
    assert c.required_rating_a(10.0, 5.0) == 17.5
    assert c.required_rating_a(10.0, 5.0, 1.0) == 15.0
    assert c.cable_loading_frac(10.0, 5.0, 20.0) == pytest.approx(0.875)


def test_tabulated_drop_counts_both_conductors_already():
    two_wire = c.voltage_drop_two_wire_v(16.0, 0.009, 0.0, 30.0, 1.0)
    assert c.tabulated_drop_v(0.018, 16.0, 30.0) == pytest.approx(two_wire)
