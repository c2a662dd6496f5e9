import numpy as np
import pytest

from hearthold.errors import InputError
from hearthold.physics import derating as d

FT_M = 0.3048


def test_pressure_at_sea_level_and_in_denver():
    # 101 325 Pa by definition; about 83.4 kPa at one mile in the US Standard Atmosphere (geometric 1609 m)
    assert d.standard_pressure_pa(0.0) == 101325.0
    assert d.standard_pressure_pa(5280 * FT_M) == pytest.approx(83.4e3, rel=0.002)


def test_thin_and_warm_air_each_cost_power():
    assert d.spark_ignition_factor_frac(99e3, 25.0) == pytest.approx(1.0)
    at_height = d.spark_ignition_factor_frac(d.standard_pressure_pa(np.array([500.0, 1500.0, 3000.0])), 25.0)
    assert np.all(np.diff(at_height) < 0)
    # power goes as pressure to first order and as T^-1/2: 15 K on 298 K is about 2.5 % x 1.18
    assert d.spark_ignition_factor_frac(99e3, 40.0) == pytest.approx(
        1.0 - 1.18 * 0.5 * 15.0 / 298.15, abs=0.002
    )


@pytest.mark.parametrize("altitude_ft", [2000.0, 4000.0, 6000.0, 8000.0])
def test_standard_form_agrees_with_the_rules_of_manuals(altitude_ft):
    # rules in print: 3 % (seen, gas engines) and 3.5 % (from memory) for each 1000 ft; the middle of them
    spark = d.spark_ignition_factor_frac(d.standard_pressure_pa(altitude_ft * FT_M), 25.0)
    rule = d.linear_derate_frac(altitude_ft * FT_M, 25.0, 0.0325 / 304.8, 0.0, 0.0, 25.0)
    assert spark == pytest.approx(rule, abs=0.02)


def test_adjusted_power_at_reference_and_by_hand():
    assert d.adjusted_power_frac(100e3, 25.0, 1.0, 0.5) == pytest.approx(1.0)
    # by hand: k = 0.9, alpha = 0.9 - 0.7 x 0.1 x 0.25 = 0.8825
    assert d.adjusted_power_frac(90e3, 25.0, 1.0, 0.5, 0.80) == pytest.approx(0.8825)
    # by hand, a gas engine at 35 degC: k = 0.9^0.86 (298.15/308.15)^0.55 = 0.91337 x 0.98202 = 0.89695
    assert d.adjusted_power_frac(90e3, 35.0, 0.86, 0.55) == pytest.approx(0.87892, abs=2e-5)
    # a perfect engine has no friction to pay: alpha = k
    assert d.adjusted_power_frac(90e3, 25.0, 1.0, 0.5, 1.0) == pytest.approx(0.9)


def test_the_two_standards_agree_within_three_per_cent():
    # SAE J1349 (Cf with 0.18 mechanical loss) and ISO 3046-1 (eta 0.80) for the same petrol engine
    pressure_pa = d.standard_pressure_pa(np.array([500.0, 1000.0, 1500.0, 2000.0]))
    sae = d.spark_ignition_factor_frac(pressure_pa - 1000.0, 25.0)
    iso = d.adjusted_power_frac(pressure_pa, 25.0, 1.0, 0.5)
    np.testing.assert_allclose(sae, iso, rtol=0.03)


def test_linear_rule_gives_nothing_back_in_cold_and_never_goes_below_zero():
    args = {"altitude_rate_per_m": 1.15e-4, "temperature_rate_per_k": 1.8e-3}
    assert d.linear_derate_frac(0.0, -20.0, **args, altitude_from_m=300.0, reference_c=25.0) == 1.0
    assert d.linear_derate_frac(200.0, 25.0, **args, altitude_from_m=300.0, reference_c=25.0) == 1.0
    steep = args | {"altitude_rate_per_m": 5e-4}
    assert d.linear_derate_frac(5500.0, 25.0, **steep, altitude_from_m=0.0, reference_c=25.0) == 0.0
    highs = d.linear_derate_frac(np.array([0.0, 1524.0]), 25.0, **args, altitude_from_m=0.0, reference_c=25.0)
    np.testing.assert_allclose(highs, [1.0, 1.0 - 1.15e-4 * 1524.0])


def test_alternator_caps_what_cold_air_would_give():
    assert d.available_power_w(7000.0, 7000.0, 1.0, 1.1) == 7000.0
    assert d.available_power_w(7000.0, 7000.0, 0.9, 0.8) == pytest.approx(5040.0)
    # an engine with reserve: the alternator stays the limit until the air takes the reserve
    np.testing.assert_allclose(
        d.available_power_w(9000.0, 7000.0, 1.0, np.array([1.0, 0.8, 0.7])), [7000.0, 7000.0, 6300.0]
    )


def test_derating_given_in_per_cent_is_refused():
    with pytest.raises(InputError, match="fuel_frac is 90 of 1"):
        d.available_power_w(7000.0, 7000.0, 90.0, 1.0)
    with pytest.raises(InputError, match="altitude_m is 9000 m"):
        d.standard_pressure_pa(9000.0)
