"""The exact two-node advance against a matrix exponential, and the first crossing against a dense search."""

from math import exp

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.linalg import expm

from hearthold.errors import InputError
from hearthold.physics import twonode as tn

FIXED = settings(derandomize=True, max_examples=200, deadline=None)
capacity = st.floats(1e2, 1e8)
conductance = st.one_of(st.just(0.0), st.floats(1e-3, 1e4))
temperature = st.floats(-40.0, 60.0)
heat = st.floats(-5e3, 2e4)
step = st.one_of(st.floats(1e-3, 1e6), st.sampled_from([1e-6, 1.0, 60.0, 3600.0]))


def truth(c1, c2, u1, u2, g, t1, t2, a1, a2, q1, q2, dt):
    """exp of the augmented matrix [[A, b], [0, 0]]: the inhomogeneous solution without a steady state."""
    m = np.zeros((3, 3))
    m[0] = [-(u1 + g) / c1, g / c1, (u1 * a1 + q1) / c1]
    m[1] = [g / c2, -(u2 + g) / c2, (u2 * a2 + q2) / c2]
    return (expm(m * dt) @ [t1, t2, 1.0])[:2]


def ours(c1, c2, u1, u2, g, t1, t2, a1, a2, q1, q2):
    modes = tn.twonode_modes_kernel(c1, c2, u1, u2, g)
    return modes, tn.twonode_rates_kernel(c1, c2, u1, u2, g, t1, t2, a1, a2, q1, q2)


@FIXED
@given(
    capacity,
    capacity,
    conductance,
    conductance,
    conductance,
    temperature,
    temperature,
    temperature,
    temperature,
    heat,
    heat,
    step,
)
@example(1e5, 1e5, 10.0, 10.0, 0.0, 5.0, 7.0, 20.0, 20.0, 0.0, 0.0, 3600.0)  # equal eigenvalues
@example(1e5, 1e7, 0.0, 0.0, 0.0, 5.0, 7.0, 20.0, 20.0, 50.0, -20.0, 3600.0)  # nothing connected
@example(1e5, 1e7, 0.0, 0.0, 300.0, 5.0, 25.0, 20.0, 20.0, 50.0, 0.0, 86400.0)  # no loss: no steady state
def test_advance_is_the_matrix_exponential(c1, c2, u1, u2, g, t1, t2, a1, a2, q1, q2, dt):
    # expm itself loses digits when the norm of A dt is large; keep the oracle inside its own accuracy.
    assume(max((u1 + g) / c1, (u2 + g) / c2) * dt < 200.0)
    modes, (f1, f2) = ours(c1, c2, u1, u2, g, t1, t2, a1, a2, q1, q2)
    found = tn.twonode_advance_kernel(modes, t1, t2, f1, f2, dt)
    expected = truth(c1, c2, u1, u2, g, t1, t2, a1, a2, q1, q2, dt)
    size = 100.0 + float(np.max(np.abs(expected)))
    np.testing.assert_allclose(found, expected, rtol=0.0, atol=2e-10 * size)


@FIXED
@given(
    capacity,
    capacity,
    st.floats(0.1, 1e4),
    conductance,
    st.floats(0.1, 1e4),
    temperature,
    temperature,
    temperature,
    heat,
)
def test_a_very_long_step_ends_at_the_steady_state(c1, c2, u1, u2, g, t1, t2, amb, q1):
    modes, (f1, f2) = ours(c1, c2, u1, u2, g, t1, t2, amb, amb, q1, 0.0)
    steady = np.linalg.solve([[u1 + g, -g], [-g, u2 + g]], [u1 * amb + q1, u2 * amb])
    found = tn.twonode_advance_kernel(modes, t1, t2, f1, f2, 200.0 / modes[1])
    np.testing.assert_allclose(found, steady, rtol=1e-8, atol=1e-8 * (1.0 + float(np.max(np.abs(steady)))))


@FIXED
@given(
    capacity,
    capacity,
    conductance,
    conductance,
    conductance,
    temperature,
    temperature,
    temperature,
    heat,
    step,
)
def test_two_half_steps_are_one_step(c1, c2, u1, u2, g, t1, t2, amb, q1, dt):
    modes, (f1, f2) = ours(c1, c2, u1, u2, g, t1, t2, amb, amb, q1, 0.0)
    whole = tn.twonode_advance_kernel(modes, t1, t2, f1, f2, dt)
    half = tn.twonode_advance_kernel(modes, t1, t2, f1, f2, dt / 2)
    f1, f2 = tn.twonode_rates_kernel(c1, c2, u1, u2, g, *half, amb, amb, q1, 0.0)
    size = 100.0 + max(map(abs, whole))
    np.testing.assert_allclose(
        tn.twonode_advance_kernel(modes, *half, f1, f2, dt / 2), whole, atol=1e-9 * size
    )


@FIXED
@given(
    capacity,
    capacity,
    conductance,
    conductance,
    conductance,
    temperature,
    temperature,
    temperature,
    heat,
    step,
)
def test_the_mean_closes_the_heat_balance(c1, c2, u1, u2, g, t1, t2, amb, q1, dt):
    modes, (f1, f2) = ours(c1, c2, u1, u2, g, t1, t2, amb, amb, q1, 0.0)
    e1, e2 = tn.twonode_advance_kernel(modes, t1, t2, f1, f2, dt)
    m1, m2 = tn.twonode_mean_kernel(modes, t1, t2, f1, f2, dt)
    stored = c1 * (e1 - t1) + c2 * (e2 - t2)
    passed = dt * (u1 * (amb - m1) + u2 * (amb - m2) + q1)
    size = (c1 + c2) * (1.0 + abs(e1) + abs(t1)) + dt * ((u1 + u2) * (100.0 + abs(m1) + abs(m2)) + abs(q1))
    assert abs(stored - passed) <= 1e-10 * size


def test_the_mean_is_the_integral():
    modes, (f1, f2) = ours(3e5, 2e7, 80.0, 150.0, 900.0, 20.0, 19.0, -12.0, -12.0, 4000.0, 0.0)
    mean = tn.twonode_mean_kernel(modes, 20.0, 19.0, f1, f2, 5000.0)
    for node in (0, 1):
        area = quad(lambda t, i=node: tn.twonode_advance_kernel(modes, 20.0, 19.0, f1, f2, t)[i], 0, 5000.0)[
            0
        ]
        assert mean[node] == pytest.approx(area / 5000.0, abs=1e-9)


@pytest.mark.parametrize("k", [0.0, 1e-12, 1e-7, 9.99e-5, 1.01e-4, 1e-3, 1.0])
def test_small_exponents_keep_their_digits(k):
    dt = 1000.0
    area = quad(lambda t: exp(-k * t), 0, dt, points=[5 / k] if k >= 1e-2 else None, limit=200)[0]
    assert tn.decay_integral_kernel(k, dt) == pytest.approx(area, rel=1e-9)
    mean = quad(lambda t: tn.decay_integral_kernel(k, t), 0, dt, points=[5.0] if k >= 1e-2 else None)[0] / dt
    assert tn.decay_mean_kernel(k, dt) == pytest.approx(mean, rel=1e-9)


def first_on_grid(modes, t1, t2, f1, f2, level, dt):
    """First sign change of node 1 on a fine grid, as a bracket; None if there is none on it."""
    grid = np.concatenate([np.geomspace(dt * 1e-6, dt, 4000), np.linspace(dt / 4000, dt, 4000)])
    grid = np.unique(np.append(grid, dt))
    gap = np.array([tn.twonode_advance_kernel(modes, t1, t2, f1, f2, t)[0] - level for t in grid])
    other = np.flatnonzero(np.sign(gap) != np.sign(t1 - level))
    return None if other.size == 0 else (grid[other[0] - 1] if other[0] else 0.0, grid[other[0]])


@FIXED
@example(1e4, 1e4, 277.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 1352.0)  # the level is the end of the decay
@given(
    st.floats(1e4, 1e6),
    st.floats(1e4, 1e8),
    st.floats(0.0, 500.0),
    st.floats(0.0, 500.0),
    st.floats(0.0, 2e3),
    temperature,
    temperature,
    temperature,
    heat,
    temperature,
    st.floats(10.0, 1e6),
)
def test_first_crossing_agrees_with_a_dense_search(c1, c2, u1, u2, g, t1, t2, amb, q1, level, dt):
    assume(abs(t1 - level) > 1e-6)
    modes, (f1, f2) = ours(c1, c2, u1, u2, g, t1, t2, amb, amb, q1, 0.0)
    found = tn.twonode_crossing_kernel(modes, t1, f1, f2, level, dt)
    bracket = first_on_grid(modes, t1, t2, f1, f2, level, dt)
    if bracket is None:
        # A grid can miss a touch; a crossing found must then be a real one.
        assert found == -1.0 or abs(tn.twonode_advance_kernel(modes, t1, t2, f1, f2, found)[0] - level) < 1e-7
        return
    if not 0.0 < found <= min(dt, bracket[1] * (1 + 1e-9)):
        # Only a level that is approached for ever may be "reached" at different moments: by rounding.
        at_bracket = tn.twonode_advance_kernel(modes, t1, t2, f1, f2, bracket[1])[0]
        assert abs(at_bracket - level) < 1e-9
        return
    assert abs(tn.twonode_advance_kernel(modes, t1, t2, f1, f2, found)[0] - level) < 1e-7


def test_the_first_of_two_crossings_is_found():
    # Air drops at once when the stove stops, then is lifted again by hot masonry: down through 15, up, down.
    modes, (f1, f2) = ours(4e5, 4e7, 150.0, 0.0, 900.0, 14.0, 40.0, 0.0, 0.0, 0.0, 0.0)
    up = tn.twonode_crossing_kernel(modes, 14.0, f1, f2, 20.0, 1e6)
    top = tn.twonode_advance_kernel(modes, 14.0, 40.0, f1, f2, up)
    assert top[0] == pytest.approx(20.0, abs=1e-9)
    g1, g2 = tn.twonode_rates_kernel(4e5, 4e7, 150.0, 0.0, 900.0, 20.0, top[1], 0.0, 0.0, 0.0, 0.0)
    down = tn.twonode_crossing_kernel(modes, 20.0, g1, g2, 20.0, 1e6)
    assert up < 600.0 < down
    assert tn.twonode_advance_kernel(modes, 20.0, top[1], g1, g2, down)[0] == pytest.approx(20.0, abs=1e-9)


def test_the_second_node_is_seen_by_swapping():
    modes, (f1, f2) = ours(3e4, 5e5, 1.3, 0.0, 0.3, -18.0, -20.0, 22.0, 22.0, 0.0, 0.0)
    at = tn.twonode_crossing_kernel(tn.twonode_swapped_kernel(modes), -20.0, f2, f1, -15.0, 1e7)
    assert tn.twonode_advance_kernel(modes, -18.0, -20.0, f1, f2, at)[1] == pytest.approx(-15.0, abs=1e-9)


def test_standing_on_the_level_is_not_a_crossing():
    modes, (f1, f2) = ours(1e5, 1e6, 10.0, 0.0, 5.0, 5.0, 5.0, 0.0, 0.0, 0.0, 0.0)
    assert tn.twonode_crossing_kernel(modes, 5.0, f1, f2, 5.0, 1e6) == -1.0
    k, f = tn.onenode_rate_kernel(1e5, 10.0, 5.0, 0.0, 0.0)
    assert tn.onenode_crossing_kernel(k, 5.0, f, 5.0, 1e6) == -1.0


@FIXED
@given(capacity, conductance, temperature, temperature, heat, temperature, step)
def test_one_node_is_the_two_node_with_nothing_behind(c, u, t, amb, q, level, dt):
    k, f = tn.onenode_rate_kernel(c, u, t, amb, q)
    modes, (f1, f2) = ours(c, c * 3.0, u, 0.0, 0.0, t, 10.0, amb, 10.0, q, 0.0)
    size = 100.0 + abs(f) * dt
    assert tn.onenode_advance_kernel(k, t, f, dt) == pytest.approx(
        tn.twonode_advance_kernel(modes, t, 10.0, f1, f2, dt)[0], abs=1e-12 * size
    )
    assert tn.onenode_mean_kernel(k, t, f, dt) == pytest.approx(
        tn.twonode_mean_kernel(modes, t, 10.0, f1, f2, dt)[0], abs=1e-12 * size
    )
    one, two = (
        tn.onenode_crossing_kernel(k, t, f, level, dt),
        tn.twonode_crossing_kernel(modes, t, f1, f2, level, dt),
    )
    if one > 0.0 and two > 0.0:
        assert tn.onenode_advance_kernel(k, t, f, one) == pytest.approx(level, abs=1e-8)
        assert tn.onenode_advance_kernel(k, t, f, two) == pytest.approx(level, abs=1e-8)
    else:  # they may differ only where the end of the step touches the level to rounding
        assert one == two or abs(tn.onenode_advance_kernel(k, t, f, dt) - level) < 1e-9 * size


def test_path_takes_arrays_and_refuses_what_it_cannot_use():
    times = np.array([[0.0, 3600.0], [7200.0, 1e9]])
    t1, t2 = tn.twonode_path_c(1e5, 1e6, 10.0, 0.0, 5.0, 5.0, 7.0, 0.0, 0.0, 0.0, 0.0, times)
    assert t1.shape == t2.shape == (2, 2)
    assert (t1[0, 0], t2[0, 0]) == (5.0, 7.0)
    assert t1[1, 1] == pytest.approx(0.0, abs=1e-9)
    with pytest.raises(InputError, match="c1_j_per_k is 0"):
        tn.twonode_path_c(0.0, 1e6, 10.0, 0.0, 5.0, 5.0, 7.0, 0.0, 0.0, 0.0, 0.0, times)
    with pytest.raises(InputError, match="elapsed_s is empty"):
        tn.twonode_path_c(1e5, 1e6, 10.0, 0.0, 5.0, 5.0, 7.0, 0.0, 0.0, 0.0, 0.0, [])
