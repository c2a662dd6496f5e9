"""Exact motion of one or two heat stores joined by conductances: no time step, no Euler.

Two nodes, node 1 exposed (air, packages at the wall), node 2 behind it (masonry, the core of a freezer load):

    C1 dT1/dt = U1 (Tamb1 - T1) + G (T2 - T1) + q1
    C2 dT2/dt = U2 (Tamb2 - T2) + G (T1 - T2) + q2

With constant coefficients each temperature is a constant plus two decaying exponentials. Everything here
starts from the *present rates of change* f1, f2, so that a lossless system needs no special case:

    T1(t) = T1 + a_fast E(k_fast, t) + a_slow E(k_slow, t),    E(k, t) = (1 - exp(-k t)) / k

Use: `twonode_modes_kernel` once for a set of coefficients, `twonode_rates_kernel` once an event, then
crossing, advance and mean from the same numbers. `modes` is (k_fast, k_slow, w1, w2, b1, b2): rates in 1/s,
then the share of the fast mode in each node's own rate and in its neighbour's rate.
"""

from __future__ import annotations

from math import expm1, hypot, log, log1p

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.errors import InputError
from hearthold.quantities.glossary import require

Modes = tuple[float, float, float, float, float, float]

ON_LEVEL_K = 1e-9  # a start this close to a level stands on it: only a later return counts as a crossing
_SERIES_BELOW = 0.1  # below this (1 - E/t)/(k t) loses digits, and eight terms of its series are exact


def decay_integral_kernel(k_per_s: float, dt_s: float) -> float:
    """Integral of exp(-k t) over 0..dt, right for k = 0."""
    x = k_per_s * dt_s
    if x == 0.0:
        return dt_s
    return -expm1(-x) / k_per_s


def decay_mean_kernel(k_per_s: float, dt_s: float) -> float:
    """Mean over 0..dt of the integral of exp(-k t), right for k = 0."""
    x = k_per_s * dt_s
    if x > _SERIES_BELOW:
        return (1.0 + expm1(-x) / x) / k_per_s
    total = 0.0
    for n in range(10, 1, -1):
        total = (1.0 - x * total) / n
    return dt_s * total


def onenode_rate_kernel(
    c_j_per_k: float, u_w_per_k: float, t_c: float, amb_c: float, q_w: float
) -> tuple[float, float]:
    """Decay rate (1/s) and present rate of change (K/s) of C dT/dt = U (Tamb - T) + q."""
    return u_w_per_k / c_j_per_k, (u_w_per_k * (amb_c - t_c) + q_w) / c_j_per_k


def onenode_advance_kernel(k_per_s: float, t_c: float, f_k_per_s: float, dt_s: float) -> float:
    """Temperature after dt."""
    return t_c + f_k_per_s * decay_integral_kernel(k_per_s, dt_s)


def onenode_mean_kernel(k_per_s: float, t_c: float, f_k_per_s: float, dt_s: float) -> float:
    """Mean temperature over dt."""
    return t_c + f_k_per_s * decay_mean_kernel(k_per_s, dt_s)


def onenode_crossing_kernel(
    k_per_s: float, t_c: float, f_k_per_s: float, level_c: float, dt_s: float
) -> float:
    """Time in (0, dt] at which the level is reached, -1 if it is not."""
    gap = level_c - t_c
    if abs(gap) <= ON_LEVEL_K or gap * f_k_per_s <= 0.0:
        return -1.0
    along = gap / f_k_per_s
    part = k_per_s * along
    if part >= 1.0:
        return -1.0
    at = -log1p(-part) / k_per_s if part > 0.0 else along
    return at if at <= dt_s else -1.0


def twonode_modes_kernel(
    c1_j_per_k: float, c2_j_per_k: float, u1_w_per_k: float, u2_w_per_k: float, g_w_per_k: float
) -> Modes:
    """Decay rates and modal weights; the slow rate from the determinant, so that no digits cancel."""
    a = (u1_w_per_k + g_w_per_k) / c1_j_per_k
    d = (u2_w_per_k + g_w_per_k) / c2_j_per_k
    half = 0.5 * (a - d)
    # The product under the root can underflow; two roots cannot.
    side = g_w_per_k / (c1_j_per_k**0.5 * c2_j_per_k**0.5)
    r = hypot(half, side)
    fast = 0.5 * (a + d) + r
    if r == 0.0:
        return fast, fast, 1.0, 0.0, 0.0, 0.0
    loss = u1_w_per_k * (u2_w_per_k / c2_j_per_k) + g_w_per_k * ((u1_w_per_k + u2_w_per_k) / c2_j_per_k)
    slow = min(loss / c1_j_per_k / fast, fast)
    large = 0.5 * (r + abs(half)) / r
    small = 0.5 * side * (side / r) / (r + abs(half))
    w1, w2 = (large, small) if half >= 0.0 else (small, large)
    return fast, slow, w1, w2, -0.5 * (g_w_per_k / c1_j_per_k) / r, -0.5 * (g_w_per_k / c2_j_per_k) / r


def twonode_swapped_kernel(modes: Modes) -> Modes:
    """The same modes seen from node 2: for crossings of node 2, give these and (t2, f2, f1)."""
    fast, slow, w1, w2, b1, b2 = modes
    return fast, slow, w2, w1, b2, b1


def twonode_rates_kernel(
    c1_j_per_k: float,
    c2_j_per_k: float,
    u1_w_per_k: float,
    u2_w_per_k: float,
    g_w_per_k: float,
    t1_c: float,
    t2_c: float,
    amb1_c: float,
    amb2_c: float,
    q1_w: float,
    q2_w: float,
) -> tuple[float, float]:
    """Present rates of change of the two nodes, K/s."""
    across = g_w_per_k * (t2_c - t1_c)
    f1 = (u1_w_per_k * (amb1_c - t1_c) + across + q1_w) / c1_j_per_k
    f2 = (u2_w_per_k * (amb2_c - t2_c) - across + q2_w) / c2_j_per_k
    return f1, f2


def twonode_advance_kernel(
    modes: Modes, t1_c: float, t2_c: float, f1_k_per_s: float, f2_k_per_s: float, dt_s: float
) -> tuple[float, float]:
    """Temperatures of both nodes after dt."""
    fast_s, slow_s = decay_integral_kernel(modes[0], dt_s), decay_integral_kernel(modes[1], dt_s)
    return twonode_moved_kernel(modes, t1_c, t2_c, f1_k_per_s, f2_k_per_s, fast_s, slow_s)


def twonode_mean_kernel(
    modes: Modes, t1_c: float, t2_c: float, f1_k_per_s: float, f2_k_per_s: float, dt_s: float
) -> tuple[float, float]:
    """Mean temperatures of both nodes over dt (a mean times a conductance is the mean heat flow)."""
    fast_s, slow_s = decay_mean_kernel(modes[0], dt_s), decay_mean_kernel(modes[1], dt_s)
    return twonode_moved_kernel(modes, t1_c, t2_c, f1_k_per_s, f2_k_per_s, fast_s, slow_s)


def twonode_moved_kernel(
    modes: Modes, t1_c: float, t2_c: float, f1_k_per_s: float, f2_k_per_s: float, fast_s: float, slow_s: float
) -> tuple[float, float]:
    """Temperatures of both nodes where either mode has acted for so long as if it did not decay."""
    _, _, w1, w2, b1, b2 = modes
    t1 = t1_c + (w1 * f1_k_per_s + b1 * f2_k_per_s) * fast_s + (w2 * f1_k_per_s - b1 * f2_k_per_s) * slow_s
    t2 = t2_c + (w2 * f2_k_per_s + b2 * f1_k_per_s) * fast_s + (w1 * f2_k_per_s - b2 * f1_k_per_s) * slow_s
    return t1, t2


def twonode_crossing_kernel(
    modes: Modes, t1_c: float, f1_k_per_s: float, f2_k_per_s: float, level_c: float, dt_s: float
) -> float:
    """First time in (0, dt] at which node 1 crosses the level, -1 if it does not (dt finite).

    A level that is exactly where the node settles is reached by rounding, after some 37 time constants.
    """
    fast, slow, w1, w2, b1, _ = modes
    a_fast = w1 * f1_k_per_s + b1 * f2_k_per_s
    a_slow = w2 * f1_k_per_s - b1 * f2_k_per_s
    return twoexp_crossing_kernel(t1_c - level_c, a_fast, a_slow, fast, slow, dt_s)


def twoexp_crossing_kernel(
    gap_k: float,
    a_fast_k_per_s: float,
    a_slow_k_per_s: float,
    fast_per_s: float,
    slow_per_s: float,
    dt_s: float,
) -> float:
    """First zero in (0, dt] of gap + a_fast E(fast, t) + a_slow E(slow, t), -1 if none; split at its turn."""
    gap = 0.0 if abs(gap_k) <= ON_LEVEL_K else gap_k
    turn = twoexp_turn_kernel(a_fast_k_per_s, a_slow_k_per_s, fast_per_s, slow_per_s)
    turns = 0.0 < turn < dt_s
    first = turn if turns else dt_s
    at_first = twoexp_value_kernel(gap, a_fast_k_per_s, a_slow_k_per_s, fast_per_s, slow_per_s, first)
    if gap != 0.0 and (at_first == 0.0 or (gap < 0.0) != (at_first < 0.0)):
        return twoexp_root_kernel(gap, a_fast_k_per_s, a_slow_k_per_s, fast_per_s, slow_per_s, 0.0, first)
    if turns and at_first != 0.0:
        at_end = twoexp_value_kernel(gap, a_fast_k_per_s, a_slow_k_per_s, fast_per_s, slow_per_s, dt_s)
        if at_end == 0.0 or (at_first < 0.0) != (at_end < 0.0):
            return twoexp_root_kernel(gap, a_fast_k_per_s, a_slow_k_per_s, fast_per_s, slow_per_s, turn, dt_s)
    return -1.0


def twoexp_value_kernel(
    gap_k: float,
    a_fast_k_per_s: float,
    a_slow_k_per_s: float,
    fast_per_s: float,
    slow_per_s: float,
    t_s: float,
) -> float:
    """The value of gap + a_fast E(fast, t) + a_slow E(slow, t)."""
    fast_part = a_fast_k_per_s * decay_integral_kernel(fast_per_s, t_s)
    return gap_k + fast_part + a_slow_k_per_s * decay_integral_kernel(slow_per_s, t_s)


def twoexp_turn_kernel(a_fast: float, a_slow: float, fast_per_s: float, slow_per_s: float) -> float:
    """The one time after 0 at which a_fast exp(-fast t) + a_slow exp(-slow t) is zero, -1 if none."""
    opposed = (a_fast > 0.0 > a_slow) or (a_fast < 0.0 < a_slow)
    if not opposed or abs(a_fast) <= abs(a_slow) or fast_per_s <= slow_per_s:
        return -1.0
    return (log(abs(a_fast)) - log(abs(a_slow))) / (fast_per_s - slow_per_s)


def twoexp_root_kernel(
    gap_k: float,
    a_fast_k_per_s: float,
    a_slow_k_per_s: float,
    fast_per_s: float,
    slow_per_s: float,
    low_s: float,
    high_s: float,
) -> float:
    """The zero inside a monotone bracket: Newton, and halving whenever Newton would leave the bracket."""
    at_high = twoexp_value_kernel(gap_k, a_fast_k_per_s, a_slow_k_per_s, fast_per_s, slow_per_s, high_s)
    if at_high == 0.0:
        return high_s
    t, low, high = low_s, low_s, high_s
    for _ in range(200):
        value = twoexp_value_kernel(gap_k, a_fast_k_per_s, a_slow_k_per_s, fast_per_s, slow_per_s, t)
        if value == 0.0:
            return t
        if (value < 0.0) == (at_high < 0.0):
            high = t
        else:
            low = t
        slope = a_fast_k_per_s * (1.0 - fast_per_s * decay_integral_kernel(fast_per_s, t))
        slope += a_slow_k_per_s * (1.0 - slow_per_s * decay_integral_kernel(slow_per_s, t))
        step = t - value / slope if slope != 0.0 else low
        if not low < step < high:
            step = 0.5 * (low + high)
        if abs(step - t) <= 4e-16 * high or step in (low, high):
            return step if step > 0.0 else high
        t = step
    return t


def twonode_path_c(
    c1_j_per_k: float,
    c2_j_per_k: float,
    u1_w_per_k: float,
    u2_w_per_k: float,
    g_w_per_k: float,
    t1_c: float,
    t2_c: float,
    amb1_c: float,
    amb2_c: float,
    q1_w: float,
    q2_w: float,
    elapsed_s: ArrayLike,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Temperatures of both nodes at the times `elapsed_s` (any shape; both results have it).

    Valid while every coefficient, both surroundings and both heat inputs are constant.

    Raises: InputError for a value outside the glossary, or a node without heat capacity.

    Source: exact solution of two linear first-order equations (spectral form of exp(A t)); any text on linear
    systems, e.g. Boyce & DiPrima, Elementary Differential Equations, ch. 7 (from memory).
    """
    times = np.asarray(elapsed_s, dtype=float)
    require(c1_j_per_k=c1_j_per_k, c2_j_per_k=c2_j_per_k, u1_w_per_k=u1_w_per_k, u2_w_per_k=u2_w_per_k)
    require(g_w_per_k=g_w_per_k, t1_c=t1_c, t2_c=t2_c, amb1_c=amb1_c, amb2_c=amb2_c, q1_w=q1_w, q2_w=q2_w)
    if times.size == 0:
        raise InputError("elapsed_s is empty; give at least one time.", code="empty")
    require(elapsed_s=times)
    modes = twonode_modes_kernel(c1_j_per_k, c2_j_per_k, u1_w_per_k, u2_w_per_k, g_w_per_k)
    f1, f2 = twonode_rates_kernel(
        c1_j_per_k, c2_j_per_k, u1_w_per_k, u2_w_per_k, g_w_per_k, t1_c, t2_c, amb1_c, amb2_c, q1_w, q2_w
    )
    pairs = np.array([twonode_advance_kernel(modes, t1_c, t2_c, f1, f2, t) for t in times.ravel().tolist()])
    return pairs[:, 0].reshape(times.shape), pairs[:, 1].reshape(times.shape)
