"""Gas pipe: inverses, trends, the longest-run choice, refusals."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import CannotMeetError, InputError
from hearthold.physics import gaspipe as gp
from hearthold.quantities.units import si

FIXED = settings(derandomize=True, max_examples=100, deadline=None)
inside = st.floats(0.008, 0.1)
run = st.floats(1.0, 200.0)
drop = st.floats(5.0, 500.0)
SIZES_M = [si(x, "in", "length") for x in (0.622, 0.824, 1.049, 1.380, 1.610, 2.067)]
HALF_IN_WC_PA = si(0.5, "in w.c.", "pressure")


@FIXED
@given(inside, run, drop)
def test_flow_and_drop_are_inverse(inside_m, run_m, drop_pa):
    q = gp.code_flow_m3_per_s(inside_m, run_m, drop_pa, 0.6094)
    assert gp.code_drop_pa(inside_m, run_m, q, 0.6094) == pytest.approx(drop_pa, rel=1e-9)
    q = gp.spitzglass_flow_m3_per_s(inside_m, run_m, drop_pa, 0.6)
    assert gp.spitzglass_drop_pa(inside_m, run_m, q, 0.6) == pytest.approx(drop_pa, rel=1e-9)


@FIXED
@given(inside, run, drop)
def test_longer_is_less_and_wider_is_more(inside_m, run_m, drop_pa):
    for flow, gas in ((gp.code_flow_m3_per_s, 0.6094), (gp.spitzglass_flow_m3_per_s, 0.6)):
        here = flow(inside_m, run_m, drop_pa, gas)
        assert flow(inside_m, run_m * 1.5, drop_pa, gas) < here
        assert flow(inside_m * 1.2, run_m, drop_pa, gas) > here
        assert flow(inside_m, run_m, 0.0, gas) == 0.0


def test_spitzglass_is_stricter_in_small_pipes_by_a_fifth_to_a_third():
    for size_m in SIZES_M[:3]:
        code = gp.code_flow_m3_per_s(size_m, 9.144, HALF_IN_WC_PA, 0.6094)
        old = gp.spitzglass_flow_m3_per_s(size_m, 9.144, HALF_IN_WC_PA, 0.60)
        assert 0.65 < old / code < 0.85


def test_the_smallest_pipe_that_carries_is_chosen_in_any_order():
    need = si(240.0, "ft3", "volume") / 3600.0
    index = gp.smallest_pipe(SIZES_M, 9.144, HALF_IN_WC_PA, need, 0.6094)
    assert SIZES_M[index] == pytest.approx(si(1.049, "in", "length"))
    backwards = SIZES_M[::-1]
    assert backwards[gp.smallest_pipe(backwards, 9.144, HALF_IN_WC_PA, need, 0.6094)] == SIZES_M[index]
    assert gp.smallest_pipe(SIZES_M, 9.144, HALF_IN_WC_PA, 0.0, 0.6094) == 0


def test_heat_flow_and_speed():
    q = gp.gas_flow_m3_per_s(29.3e3, 38.7e6)
    assert gp.gas_heat_w(q, 38.7e6) == pytest.approx(29.3e3)
    speed = gp.gas_velocity_m_per_s(0.02, q)
    assert speed * np.pi * 0.01**2 == pytest.approx(q)


def test_refusals_name_the_value_and_the_remedy():
    with pytest.raises(CannotMeetError, match="shorten the run"):
        gp.smallest_pipe(SIZES_M, 30.0, HALF_IN_WC_PA, 0.5, 0.6094)
    with pytest.raises(InputError, match="gas_drop_pa is 1e\\+06 Pa"):
        gp.code_flow_m3_per_s(0.02, 10.0, 1e6, 0.6094)
    with pytest.raises(InputError, match="gas_pipe_inside_m is 0 m"):
        gp.smallest_pipe([0.0, 0.02], 10.0, 100.0, 0.001, 0.6094)
