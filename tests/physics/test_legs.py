import cmath
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import legs
from hearthold.physics.legs import Connection, leg_currents


def test_resistive_loads_add_as_numbers():
    # 1200 W on A, 600 W on B, 2400 W across both at 120/240 V: 10 + 10, 5 + 10, neutral 5 (Ohm's law)
    found = leg_currents([1200.0, 600.0, 2400.0], 1.0, [Connection.A, Connection.B, Connection.BOTH], 120.0)
    assert found.leg_a_a == pytest.approx(20.0)
    assert found.leg_b_a == pytest.approx(15.0)
    assert found.neutral_a == pytest.approx(5.0)
    assert found.total_va == pytest.approx(4200.0)
    assert found.worst_a == pytest.approx(20.0)
    assert legs.imbalance_frac(found.leg_a_va, found.leg_b_va) == pytest.approx(0.25)


def test_lagging_load_has_the_current_behind_the_voltage():
    found = leg_currents([960.0], [0.8], [0], 120.0)
    assert abs(found.leg_a_a) == pytest.approx(10.0)
    assert math.degrees(cmath.phase(found.leg_a_a)) == pytest.approx(-36.8699, abs=1e-3)
    assert found.total_va == pytest.approx(960 + 720j)


def test_equal_watts_of_unlike_power_factor_leave_neutral_current():
    # 8 - j6 A on one leg and 8 A on the other: neutral 6 A though the watts balance
    found = leg_currents([960.0, 960.0], [0.8, 1.0], [0, 1], 120.0)
    assert abs(found.neutral_a) == pytest.approx(6.0)


def test_load_across_both_legs_never_loads_the_neutral():
    found = leg_currents([4500.0, 1610.0], [1.0, 0.7], [2, 2], 120.0)
    assert abs(found.neutral_a) == pytest.approx(0.0, abs=1e-12)
    assert abs(found.leg_a_a) == pytest.approx(
        abs(4500 + 1610 - 1j * 1610 * math.tan(math.acos(0.7))) / 240.0
    )


def test_single_phase_230_v_is_the_one_leg_case():
    found = leg_currents([2300.0, 1150.0], 1.0, [0, 0], 230.0)
    assert found.leg_a_a == pytest.approx(15.0)
    assert found.leg_b_a == 0.0
    assert found.neutral_a == pytest.approx(15.0)


def test_time_runs_on_the_axes_before_the_last():
    watts = np.array([[1200.0, 0.0], [1200.0, 1200.0], [0.0, 0.0]])
    found = leg_currents(watts, [1.0, 1.0], [0, 1], 120.0)
    np.testing.assert_allclose(np.abs(found.neutral_a), [10.0, 0.0, 0.0])
    np.testing.assert_allclose(legs.imbalance_frac(found.leg_a_va, found.leg_b_va), [1.0, 0.0, 0.0])


def test_no_loads_draw_nothing():
    found = leg_currents([], [], [], 120.0)
    assert found.leg_a_a == 0.0
    assert legs.imbalance_frac(0.0, 0.0) == 0.0


ANY_VA = st.just(0.0) | st.floats(1e-3, 1e5)
LOADS = st.lists(
    st.tuples(st.floats(0.0, 5000.0), st.floats(0.3, 1.0), st.sampled_from([0, 1, 2])),
    min_size=1,
    max_size=12,
)


@settings(derandomize=True, max_examples=150)
@given(loads=LOADS)
def test_kernels_and_phasors_agree_and_power_balances(loads):
    watts, factor, place = (np.array(column) for column in zip(*loads, strict=True))
    found = leg_currents(watts, factor, place, 120.0)
    var = watts * np.tan(np.arccos(factor))
    share_a = np.where(place == 0, 1.0, np.where(place == 2, 0.5, 0.0))
    a_w, a_var = float(watts @ share_a), float(var @ share_a)
    b_w, b_var = float(watts.sum()) - a_w, float(var.sum()) - a_var
    assert found.total_va.real == pytest.approx(watts.sum(), abs=1e-6)
    assert found.total_va.imag == pytest.approx(var.sum(), abs=1e-5)
    assert legs.leg_va_kernel(a_w, a_var) == pytest.approx(found.leg_a_va, abs=1e-5)
    assert legs.neutral_kernel(a_w, a_var, b_w, b_var, 120.0) == pytest.approx(abs(found.neutral_a), abs=1e-6)
    assert 0.0 <= legs.imbalance_frac(found.leg_a_va, found.leg_b_va) <= 1.0


@settings(derandomize=True, max_examples=100)
@given(a=ANY_VA, b=ANY_VA)
def test_imbalance_is_the_difference_over_the_larger(a, b):
    expect = abs(a - b) / max(a, b) if max(a, b) > 0.0 else 0.0
    assert legs.imbalance_frac(a, b) == pytest.approx(expect, abs=1e-12)


def test_reactive_power_of_a_handbook_triangle():
    # the 3-4-5 triangle: 0.8 power factor is 0.75 var a watt
    assert legs.reactive_power_var(800.0, 0.8) == pytest.approx(600.0)
    assert legs.reactive_power_var(800.0, 1.0) == 0.0


def test_unknown_connection_and_wrong_shape_are_refused():
    with pytest.raises(InputError, match=r"allowed 0 \(leg A\), 1 \(leg B\), 2 \(both legs\)"):
        leg_currents([100.0], [1.0], [3], 120.0)
    with pytest.raises(InputError, match="one connection for each load"):
        leg_currents([100.0, 200.0], [1.0, 1.0], [0], 120.0)
    with pytest.raises(InputError, match="one connection for each load"):
        leg_currents(100.0, 1.0, 0, 120.0)


def test_not_a_number_is_refused():
    with pytest.raises(InputError, match="load_w is nan"):
        leg_currents([100.0, math.nan], 1.0, [0, 1], 120.0)
    with pytest.raises(InputError, match="power_factor is 0"):
        leg_currents([100.0], [0.0], [0], 120.0)
