import numpy as np
import pytest

from hearthold.errors import InputError
from hearthold.physics import conductors
from hearthold.physics.feeder import far_end_of_currents, far_end_of_loads

HOT, OHMS = 0.1, complex(0.08, 0.01)
OPEN_OHM = 1e8


def test_one_120_v_load_sees_hot_and_neutral():
    # handbook: a 120 V load alone drops twice the conductor, the idle leg rises by the neutral's share
    far = far_end_of_currents(120.0, 20.0, 0.0, HOT, HOT)
    handbook = conductors.voltage_drop_two_wire_v(20.0, HOT / 50.0, 0.0, 50.0, 1.0)
    assert far.drop_v(120.0) == pytest.approx((handbook, -2.0, 2.0))
    assert far.neutral_shift_v == pytest.approx(2.0)


def test_balanced_legs_have_no_neutral_drop():
    # handbook: 240 V drop is 2 L R I, each leg loses half of it in its own hot
    far = far_end_of_currents(120.0, 20.0, 20.0, HOT, HOT)
    assert far.drop_v(120.0) == pytest.approx((2.0, 2.0, 4.0))
    assert far.neutral_shift_v == 0.0


def test_worst_case_is_less_than_one_leg_alone():
    one = far_end_of_currents(120.0, 20.0, 0.0, HOT, HOT).drop_v(120.0)[0]
    shared = far_end_of_currents(120.0, 20.0, 10.0, HOT, HOT).drop_v(120.0)[0]
    both = far_end_of_currents(120.0, 20.0, 20.0, HOT, HOT).drop_v(120.0)[0]
    assert one > shared > both


def test_open_neutral_divides_240_v_between_the_legs():
    # textbook: 1200 W (12 ohm) and 300 W (48 ohm) in series on 240 V take 48 V and 192 V
    far = far_end_of_loads(120.0, 1200.0, 300.0, 0.0, 0.0, OPEN_OHM, 120.0)
    assert far.leg_a_v == pytest.approx(48.0, rel=1e-5)
    assert far.leg_b_v == pytest.approx(192.0, rel=1e-5)
    assert far.both_v == pytest.approx(240.0)


def test_open_neutral_is_harmless_with_equal_legs():
    far = far_end_of_loads(120.0, 600.0, 600.0, 1000.0, 0.05, OPEN_OHM, 120.0)
    assert abs(far.leg_a_v) == pytest.approx(abs(far.leg_b_v), rel=1e-9)
    assert abs(far.neutral_shift_v) < 1e-3


def test_loads_and_their_currents_tell_the_same_story():
    a_va, b_va, both_va = complex(900, 500), complex(1500, 0), complex(2000, 900)
    far = far_end_of_loads(120.0, a_va, b_va, both_va, OHMS, 2 * OHMS, 120.0)
    across = np.conj(both_va) / 240.0**2 * far.both_v
    leg_a = np.conj(a_va) / 120.0**2 * far.leg_a_v + across
    leg_b = np.conj(b_va) / 120.0**2 * far.leg_b_v + across
    again = far_end_of_currents(120.0, leg_a, leg_b, OHMS, 2 * OHMS)
    assert again.leg_a_v == pytest.approx(far.leg_a_v)
    assert again.leg_b_v == pytest.approx(far.leg_b_v)
    assert again.neutral_shift_v == pytest.approx(far.neutral_shift_v)


def test_no_feeder_no_drop():
    far = far_end_of_loads(120.0, 500.0, 700.0, 900.0, 0.0, 0.0, 120.0)
    assert far.drop_v(120.0) == pytest.approx((0.0, 0.0, 0.0))


def test_arrays_of_currents():
    far = far_end_of_currents(120.0, np.array([20.0, 20.0]), np.array([0.0, 20.0]), HOT, HOT)
    np.testing.assert_allclose(far.drop_v(120.0)[0], [4.0, 2.0])


def test_impossible_source_is_refused():
    with pytest.raises(InputError, match="source_leg_v is 12 V"):
        far_end_of_currents(12.0, 1.0, 1.0, HOT, HOT)
    with pytest.raises(InputError, match="load_a_va is nan"):
        far_end_of_loads(120.0, complex("nan"), 0.0, 0.0, HOT, HOT, 120.0)
