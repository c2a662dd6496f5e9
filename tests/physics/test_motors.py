import math

import numpy as np
import pytest

from hearthold.errors import InputError
from hearthold.physics import motors as m

HP_W = 745.6998715822702

# NEC Table 430.248, single-phase full-load current at 115 V and 230 V by horsepower
FULL_LOAD_A = {
    0.25: (5.8, 2.9),
    0.5: (9.8, 4.9),
    0.75: (13.8, 6.9),
    1.0: (16, 8),
    2.0: (24, 12),
    5.0: (56, 28),
}


def test_every_table_current_lies_where_real_motors_can():
    # eta x pf = P_shaft / (V I); single-phase motors of these sizes lie at 0.25 to 0.75 (handbooks, memory)
    for hp, (at_115, at_230) in FULL_LOAD_A.items():
        implied = hp * HP_W / (115.0 * at_115)
        assert 0.25 < implied < 0.75
        shaft_over_both = m.running_current_a(m.input_power_w(hp * HP_W, implied / 0.9), 115.0, 0.9)
        assert shaft_over_both == pytest.approx(at_115)
        assert at_115 == pytest.approx(2 * at_230)


@pytest.mark.parametrize(
    ("hp", "amperes", "low_kva_per_hp", "high_kva_per_hp"),
    [(1.0, 48.7, 11.2, 12.49), (1.5, 66.2, 10.0, 11.19), (2.0, 51.0, 5.6, 6.29), (5.0, 121.0, 5.0, 5.59)],
)
def test_locked_rotor_of_submersible_pumps_lies_in_their_code_letter(
    hp, amperes, low_kva_per_hp, high_kva_per_hp
):
    # pump data from memory; bands N, M, G and F of NEC Table 430.7(B)
    band = [m.locked_rotor_a(k * 1000.0 / HP_W, hp * HP_W, 230.0) for k in (low_kva_per_hp, high_kva_per_hp)]
    assert band[0] <= amperes <= band[1]


def test_halving_the_voltage_doubles_the_locked_rotor_current_and_keeps_the_kva():
    low, high = (m.locked_rotor_a(8.0, 746.0, v) for v in (115.0, 230.0))
    assert low == pytest.approx(2.0 * high)
    assert m.start_va(low, 115.0) == pytest.approx(m.start_va(high, 230.0))


def test_start_power_is_the_real_part():
    assert m.start_w(9000.0, 0.75) == pytest.approx(6750.0)
    assert m.locked_rotor_from_multiple_a(np.array([4.9, 8.0]), 6.0).tolist() == pytest.approx([29.4, 48.0])


def test_reduced_voltage_starting_table():
    # textbook table for series-impedance starters: tap 80/65/50 %, current 80/65/50 %, torque 64/42/25 %
    taps = np.array([0.80, 0.65, 0.50])
    np.testing.assert_allclose(m.soft_start_a(100.0, taps), [80.0, 65.0, 50.0])
    np.testing.assert_allclose(m.soft_start_torque_frac(taps), [0.64, 0.42, 0.25], atol=0.005)


def test_run_up_by_integrating_newtons_law():
    # independent road: small steps of d(omega) = T/J dt
    inertia, torque, speed = 0.02, 3.0, 360.0
    seconds, omega, heat, step = 0.0, 0.0, 0.0, 1e-4
    while omega < speed:
        heat += torque * (speed - omega) * step  # air-gap power not turned into motion: rotor loss
        omega += torque / inertia * step
        seconds += step
    assert m.run_up_time_s(inertia, speed, torque) == pytest.approx(seconds, rel=1e-3)
    # the rotor-heat theorem: started unloaded, the rotor takes the kinetic energy once more as heat
    assert m.kinetic_energy_j(inertia, speed) == pytest.approx(heat, rel=1e-3)


def test_run_up_energy_is_a_rectangle():
    assert m.run_up_energy_j(5000.0, 0.6) == pytest.approx(3000.0)


def test_kilowatts_where_watts_belong_and_no_efficiency_are_refused():
    with pytest.raises(InputError, match=r"shaft_w is 0\.75 W; allowed 1 to"):
        m.input_power_w(0.75, 0.6)
    with pytest.raises(InputError, match="motor_efficiency_frac is 60 of 1"):
        m.input_power_w(750.0, 60.0)
    with pytest.raises(InputError, match="power_factor is nan"):
        m.running_current_a(100.0, 120.0, math.nan)
