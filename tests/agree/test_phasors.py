"""Leg sums and far-end voltages against a nodal solution of the whole circuit by plain linear algebra.

The other road knows nothing of legs, shares or senses: nodes, branches and one matrix. Source: nodal
analysis (Y v = i with ideal sources turned into known node voltages), any circuit textbook.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.physics.feeder import far_end_of_loads
from hearthold.physics.legs import leg_currents

# nodes: 0 source neutral (ground), 1 source A, 2 source B, 3 far A, 4 far B, 5 far neutral
KNOWN = {0: 0.0, 1: 120.0, 2: -120.0}


def solve(branches):
    """Node voltages of the six-node circuit from (node, node, admittance) branches."""
    matrix = np.zeros((6, 6), dtype=complex)
    for one, other, siemens in branches:
        matrix[one, one] += siemens
        matrix[other, other] += siemens
        matrix[one, other] -= siemens
        matrix[other, one] -= siemens
    right = np.zeros(6, dtype=complex)
    for node, volts in KNOWN.items():
        matrix[node, :] = 0.0
        matrix[node, node] = 1.0
        right[node] = volts
    return np.linalg.solve(matrix, right)


def load_branches(watts, power_factor, place):
    ends = {0: (3, 5, 120.0), 1: (4, 5, 120.0), 2: (3, 4, 240.0)}
    for power, factor, where in zip(watts, power_factor, place, strict=True):
        one, other, volts = ends[where]
        yield one, other, power * (1.0 - 1j * np.tan(np.arccos(factor))) / volts**2


LOADS = st.lists(
    st.tuples(st.floats(10.0, 4000.0), st.floats(0.4, 1.0), st.sampled_from([0, 1, 2])),
    min_size=1,
    max_size=10,
)
OHM = st.tuples(st.floats(0.01, 0.5), st.floats(0.0, 0.2)).map(lambda p: complex(*p))


@settings(derandomize=True, max_examples=150, deadline=None)
@given(loads=LOADS, hot=OHM, neutral=OHM)
def test_far_end_voltages_agree_with_the_nodal_matrix(loads, hot, neutral):
    watts, factor, place = zip(*loads, strict=True)
    feeder = [(1, 3, 1 / hot), (2, 4, 1 / hot), (0, 5, 1 / neutral)]
    volts = solve([*feeder, *load_branches(watts, factor, place)])
    va = [sum(p * (1 + 1j * np.tan(np.arccos(f))) for p, f, w in loads if w == where) for where in (0, 1, 2)]
    far = far_end_of_loads(120.0, *(complex(v) for v in va), hot, neutral, 120.0)
    assert far.leg_a_v == pytest.approx(volts[3] - volts[5], rel=1e-9)
    assert far.leg_b_v == pytest.approx(-(volts[4] - volts[5]), rel=1e-9)
    assert far.both_v == pytest.approx(volts[3] - volts[4], rel=1e-9)
    assert far.neutral_shift_v == pytest.approx(volts[5], rel=1e-9, abs=1e-7)


@settings(derandomize=True, max_examples=150, deadline=None)
@given(loads=LOADS)
def test_leg_sums_agree_with_branch_currents_on_a_stiff_feeder(loads):
    watts, factor, place = (np.array(column) for column in zip(*loads, strict=True))
    stiff = 1e9
    feeder = [(1, 3, stiff), (2, 4, stiff), (0, 5, stiff)]
    volts = solve([*feeder, *load_branches(watts, factor, place)])
    # the branch current is a small difference of near voltages: take it from the load side instead
    into = np.zeros(6, dtype=complex)
    for one, other, siemens in load_branches(watts, factor, place):
        into[one] += siemens * (volts[one] - volts[other])
        into[other] -= siemens * (volts[one] - volts[other])
    found = leg_currents(watts, factor, place, 120.0)
    assert found.leg_a_a == pytest.approx(into[3], rel=1e-6, abs=1e-6)
    assert found.leg_b_a == pytest.approx(-into[4], rel=1e-6, abs=1e-6)
    assert found.neutral_a == pytest.approx(-into[5], rel=1e-6, abs=1e-6)
