"""One exact step of a freezer: two stores of food whose heat capacity changes at the knots of a curve.

Between two knots everything is linear, so the step is the closed form of `twonode`; it ends at the first knot
that either store passes, at the limit, or at the time asked for. Call it again from where it ended. For one
store of all the food give core_kg = 0 and g_w_per_k = 0; for no limit, a limit far away.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hearthold.physics.twonode import (
    ON_LEVEL_K,
    Modes,
    twonode_advance_kernel,
    twonode_crossing_kernel,
    twonode_mean_kernel,
    twonode_modes_kernel,
    twonode_swapped_kernel,
)


def segment_kernel(knots_c: NDArray[np.float64], t_c: float, way: float) -> int:
    """Index of the segment a temperature is in; on a knot, the one it is about to enter."""
    last = len(knots_c) - 2
    for i in range(last + 1):
        knot = knots_c[i + 1]
        if t_c < knot - ON_LEVEL_K or (t_c <= knot + ON_LEVEL_K and way < 0.0):
            return i
    return last


def segment_exit_kernel(
    knots_c: NDArray[np.float64],
    segment: int,
    modes: Modes,
    t_c: float,
    f_k_per_s: float,
    other_k_per_s: float,
    dt_s: float,
) -> tuple[float, float]:
    """When node 1 leaves its segment and by which knot; -1 if it stays (the outer segments are open)."""
    last = len(knots_c) - 2
    at, knot = -1.0, 0.0
    if segment < last:
        at = twonode_crossing_kernel(modes, t_c, f_k_per_s, other_k_per_s, knots_c[segment + 1], dt_s)
        knot = knots_c[segment + 1]
    if segment > 0:
        down = twonode_crossing_kernel(modes, t_c, f_k_per_s, other_k_per_s, knots_c[segment], dt_s)
        if down > 0.0 and (at < 0.0 or down < at):
            at, knot = down, knots_c[segment]
    return at, knot


def cold_step_kernel(
    knots_c: NDArray[np.float64],
    heats_j_per_kg_k: NDArray[np.float64],
    shell_kg: float,
    core_kg: float,
    cabinet_j_per_k: float,
    ua_w_per_k: float,
    g_w_per_k: float,
    room_c: float,
    q_w: float,
    shell_c: float,
    core_c: float,
    limit_c: float,
    dt_s: float,
) -> tuple[float, float, float, float, bool]:
    """Move to the next event: limit reached by the shell, a knot passed by either node, or dt.

    Returns (elapsed s, shell, core, mean shell temperature, limit reached).
    """
    heat1 = ua_w_per_k * (room_c - shell_c) + g_w_per_k * (core_c - shell_c) + q_w
    heat2 = g_w_per_k * (shell_c - core_c)
    s1 = segment_kernel(knots_c, shell_c, heat1 if heat1 != 0.0 else heat2)
    s2 = segment_kernel(knots_c, core_c, heat2 if heat2 != 0.0 else heat1)
    c1 = shell_kg * heats_j_per_kg_k[s1] + cabinet_j_per_k
    c2 = core_kg * heats_j_per_kg_k[s2] if core_kg > 0.0 else 1.0
    modes = twonode_modes_kernel(c1, c2, ua_w_per_k, 0.0, g_w_per_k)
    f1, f2 = heat1 / c1, heat2 / c2
    at_limit = twonode_crossing_kernel(modes, shell_c, f1, f2, limit_c, dt_s)
    out1, knot1 = segment_exit_kernel(knots_c, s1, modes, shell_c, f1, f2, dt_s)
    out2, knot2 = segment_exit_kernel(knots_c, s2, twonode_swapped_kernel(modes), core_c, f2, f1, dt_s)
    at = dt_s
    for event in (at_limit, out1, out2):
        if 0.0 < event < at:
            at = event
    t1, t2 = twonode_advance_kernel(modes, shell_c, core_c, f1, f2, at)
    mean, _ = twonode_mean_kernel(modes, shell_c, core_c, f1, f2, at)
    if out1 == at:
        t1 = knot1
    if out2 == at:
        t2 = knot2
    if at_limit == at:
        t1 = limit_c
    return at, t1, t2, mean, abs(t1 - limit_c) <= ON_LEVEL_K
