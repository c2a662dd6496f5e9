import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.physics import alternator as alt


@settings(derandomize=True, max_examples=200)
@given(
    start=st.floats(0.0, 3.0),
    running=st.floats(0.0, 1.0),
    reactance=st.floats(0.05, 0.5),
    start_pf=st.floats(0.0, 1.0),
    running_pf=st.floats(0.0, 1.0),
)
def test_dip_agrees_with_complex_arithmetic(start, running, reactance, start_pf, running_pf):
    # the same circuit written with complex numbers: a voltage behind jX feeding admittances
    def admittance(size, pf):
        return size * complex(pf, -math.sqrt(1.0 - pf * pf))

    before = admittance(running, running_pf)
    inner = 1.0 + 1j * reactance * before
    after = inner / (1.0 + 1j * reactance * (before + admittance(start, start_pf)))
    found = alt.voltage_dip_frac(start * 7500.0, 7500.0, reactance, running * 7500.0, start_pf, running_pf)
    assert found == pytest.approx(1.0 - abs(after), abs=1e-9)


def test_dip_grows_with_the_start_and_shrinks_with_a_larger_set():
    starts = alt.voltage_dip_frac(np.array([1000.0, 5000.0, 9000.0]), 7500.0, 0.2)
    assert np.all(np.diff(starts) > 0)
    assert alt.voltage_dip_frac(5000.0, 15000.0, 0.2) < alt.voltage_dip_frac(5000.0, 7500.0, 0.2)
    assert alt.voltage_dip_frac(0.0, 7500.0, 0.2, running_va=3000.0, running_power_factor=0.9) == 0.0


def test_running_load_shares_the_dip_by_hand():
    # X s / (1 + X (s + r)) with s = 2/3, r = 0.4, X = 0.2: 0.13333 / 1.21333
    assert alt.voltage_dip_frac(5000.0, 7500.0, 0.2, running_va=3000.0) == pytest.approx(0.10989, abs=1e-5)


def test_reactive_start_is_the_worst_on_an_idle_set():
    # machine handbooks: the dip comes with the reactive part, a resistive load of the same VA dips less
    by_factor = alt.voltage_dip_frac(7500.0, 7500.0, 0.2, 0.0, np.array([0.0, 0.4, 0.8, 1.0]))
    assert np.all(np.diff(by_factor) < 0)
    assert by_factor[0] == pytest.approx(0.2 / 1.2)
    assert by_factor[-1] == pytest.approx(1.0 - 1.0 / math.hypot(1.0, 0.2))


def test_largest_start_is_the_inverse_of_the_dip():
    largest = alt.largest_start_va(0.30, 7500.0, 0.2)
    assert alt.voltage_dip_frac(largest, 7500.0, 0.2) == pytest.approx(0.30, rel=1e-12)


def test_start_demand_on_a_handbook_triangle():
    # 3000 W heaters running, 5000 VA start at 0.8: 4000 W and 3000 var more, so 7000 W and sqrt(58) kVA
    found = alt.start_demand(3000.0, 1.0, 5000.0, 0.8)
    assert found.start_demand_w == pytest.approx(7000.0)
    assert found.start_demand_va == pytest.approx(1000.0 * math.sqrt(58.0))
    # and it is never more than adding the sizes
    assert found.start_demand_va <= 8000.0


def test_running_reactive_power_adds_to_that_of_the_start():
    # 4000 W at 0.8 is 3000 var; a start of 5000 VA at 0.6 is 3000 W and 4000 var: 7000 W, 7000 var
    found = alt.start_demand(4000.0, 0.8, 5000.0, 0.6)
    assert found.start_demand_w == pytest.approx(7000.0)
    assert found.start_demand_va == pytest.approx(7000.0 * math.sqrt(2.0))


def test_surge_takes_the_worse_of_engine_and_alternator():
    assert alt.surge_loading_frac(7000.0, 7616.0, 9000.0, 7000.0) == pytest.approx(7616.0 / 7000.0)
    assert alt.surge_loading_frac(7000.0, 7616.0, 5000.0, 9000.0) == pytest.approx(1.4)
    assert alt.surge_loading_frac(np.array([1000.0, 9000.0]), 2000.0, 9000.0, 10000.0).tolist() == [0.2, 1.0]


def test_running_load_without_real_power_is_refused():
    with pytest.raises(InputError, match=r"running_power_factor is below 0\.05"):
        alt.start_demand(1000.0, 0.0, 5000.0, 0.8)


def test_reactance_given_in_per_cent_is_refused():
    with pytest.raises(InputError, match=r"reactance_frac is 20 of 1; allowed 0\.01 to 1"):
        alt.voltage_dip_frac(5000.0, 7500.0, 20.0)


@pytest.mark.parametrize(
    ("rpm", "poles", "hz"),
    [(3600, 2, 60.0), (1800, 4, 60.0), (3000, 2, 50.0), (1500, 4, 50.0), (720, 10, 60.0)],
)
def test_synchronous_speeds(rpm, poles, hz):
    # table of synchronous speeds in any machine handbook
    assert alt.frequency_hz(rpm / 60.0, poles) == pytest.approx(hz)


def test_odd_poles_are_refused():
    with pytest.raises(InputError, match="poles come in pairs"):
        alt.frequency_hz(60.0, 3)


def test_droop_is_at_rated_frequency_when_fully_loaded():
    # ISO 8528-5 class G1 allows 8 % from full to no load (from memory)
    assert alt.frequency_under_load_hz(60.0, 0.08, 1.0) == 60.0
    assert alt.frequency_under_load_hz(50.0, 0.08, 0.0) == pytest.approx(54.0)
    assert alt.frequency_under_load_hz(60.0, 0.0, 0.3) == 60.0
