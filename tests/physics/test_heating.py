"""Leakage, degree days, stoves and burners: balances, inverses and refusals."""

import pytest

from hearthold.errors import InputError
from hearthold.physics import heating

F_DAY = 86400.0 / 1.8
OIL = 138690 * 1055.05585262 / 0.003785411784  # Btu per gallon in J/m3


def test_fuel_and_loss_are_inverse():
    fuel = heating.degree_fuel_m3(356.0, 5000 * F_DAY, OIL, 0.78)
    assert heating.ua_from_fuel_w_per_k(fuel, 5000 * F_DAY, OIL, 0.78) == pytest.approx(356.0)
    assert heating.degree_heat_j(356.0, 0.0) == 0.0


def test_dry_wood_gives_more_and_the_inverse_returns():
    dry, wet = (heating.wood_heat_j(10.0, m, 20e6, 0.7) for m in (0.15, 0.45))
    assert dry / wet == pytest.approx(0.85 / 0.55)
    assert heating.wood_kg_for_heat(dry, 0.15, 20e6, 0.7) == pytest.approx(10.0)
    assert heating.stove_w(10.0, 0.15, 20e6, 0.7, 36000.0) == pytest.approx(dry / 36000.0)


def test_burner_needs_current_in_step_with_the_load():
    assert heating.burner_duty_frac(5e3, 20e3) == 0.25
    assert heating.burner_duty_frac(50e3, 20e3) == 1.0
    assert heating.burner_current_w(5e3, 20e3, 300.0, 10.0) == pytest.approx(85.0)
    assert heating.burner_current_w(0.0, 20e3, 300.0, 10.0) == 10.0


def test_leakage_is_linear_and_blower_figures_agree():
    # 0.5 air changes an hour in 400 m3: one seventh of a kilowatt per 2 K.
    assert heating.leakage_w_per_k(400.0, 0.5 / 3600.0) == pytest.approx(67.0, rel=0.01)
    natural = heating.natural_air_change_per_s(10.0 * 400.0 / 3600.0, 400.0)
    assert natural * 3600.0 == pytest.approx(0.5)
    low, tall = (heating.normalized_leakage(0.93, 100.0, h) for h in (2.5, 5.0))
    assert tall / low == pytest.approx(2.0**0.3)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: heating.ua_from_fuel_w_per_k(1.0, 0.0, OIL, 0.8), "degree_time_k_s is 0"),
        (lambda: heating.wood_heat_j(10.0, 0.2, 8600.0, 0.7), "dry_wood_j_per_kg is 8600"),
        (lambda: heating.stove_w(10.0, 0.2, 20e6, 0.7, 0.0), "burn_s is 0"),
        (lambda: heating.burner_duty_frac(1e3, 0.0), "burner_output_w is 0"),
        (lambda: heating.leakage_w_per_k(400.0, 0.5), "air_change_per_s is 0.5"),
    ],
)
def test_what_cannot_be_is_refused(call, message):
    with pytest.raises(InputError, match=message):
        call()
