"""Levels, tasks and medical needs through one slot: least and most outstanding, what is surely lost."""

# mypy: disable-error-code="no-any-return"

from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.plan.bound.kernels.house import (
    Q_HOT_DRY,
    Q_HOT_HI,
    Q_HOT_LO,
    Q_SHED,
    Q_TAP_HI,
    Q_TAP_LO,
    Q_TASK_HI_J,
    Q_TASK_LO_J,
    Q_TASK_W,
    Q_USED_J,
    Q_WARM_HI_W,
    Q_WET,
)  # fmt: skip
from hearthold.plan.bound.kernels.layout import (
    F_HOT_J,
    F_WAIT_S,
    G_HOT_M3,
    G_TAP_M3,
    J_CAN,
    J_DELAY,
    J_GIVEN,
    J_HOT,
    J_LIVE,
    J_LOAD_W,
    J_MIN_C,
    J_MOST,
    J_PRICE,
    J_SURE,
    J_TAP,
    J_WARM_W,
    SLOT_S,
    V_CAP,
    V_DELAY,
    V_IN,
    V_KIND,
    V_LOAD_W,
    V_ON,
    V_OUT,
    V_OVER,
    V_PRICE,
    V_STORED,
    V_SURE,
    WATER,
    Z_LATE,
    ZJ_COUNT,
    ZM_COUNT,
    ZV_COUNT,
    Array,
    Frame,
)  # fmt: skip
from hearthold.plan.bound.kernels.tank import tank_high, tank_low


@kernel
def step_tasks(f: Frame, t: int, on: bool, age: int, z: Array, y: Array, at: int, q: Array) -> float:
    """Owed work, least and most. Fills the draws and the heat of the tasks into the scratch."""
    cost = 0.0
    levels, tasks = f.levels.shape[0], f.tasks.shape[0]
    for v in range(levels):
        ran = _runs_most(f, t, on, z[at - ZV_COUNT * (levels - v) + 1], v)
        for j in range(tasks + 1):
            q[Q_SHED + j] += f.sheds[v, j] * ran
        q[Q_USED_J] += f.levels[v, V_LOAD_W] * ran
    hot_lo = hot_hi = tap_lo = tap_hi = 0.0
    for j in range(f.tasks.shape[0]):
        c = f.tasks[j]
        i = at + ZJ_COUNT * j
        low, high, due = z[i], z[i + 1], f.due_s[t, j]
        cost += c[J_PRICE] * due
        given_lo, given_hi = max(0.0, low + due - c[J_MOST]), max(0.0, high + due - c[J_MOST])
        cost += c[J_GIVEN] * (given_lo if c[J_GIVEN] >= 0.0 else given_hi)
        low, high = low + due - given_lo, high + due - given_hi
        y[i], y[i + 1], y[i + 2] = low, high, 0.0
        if not on or c[J_CAN] == 0.0:
            continue
        since = age * SLOT_S
        begins = max(0.0, max(c[J_DELAY], c[J_LIVE]) - since)
        can = max(0.0, SLOT_S - begins)
        late = y[Z_LATE] if since <= max(c[J_DELAY], c[J_LIVE]) + y[Z_LATE] else 0.0
        sure = max(0.0, can - f.par[F_WAIT_S] - late - q[Q_SHED + j]) if c[J_SURE] * q[Q_WET] != 0.0 else 0.0
        if c[J_HOT] > 0.0:
            can, sure = _hot(c, z, since, due, can, sure, z[i + 2], y[Z_LATE])
        done_hi, done_lo = min(high, can), min(low, sure)
        y[i], y[i + 1] = max(0.0, low - can), max(0.0, high - sure)
        y[i + 2] = 1.0 if sure > 0.0 and y[i] > 0.0 else 0.0
        hot_lo, hot_hi = hot_lo + c[J_HOT] * done_lo, hot_hi + c[J_HOT] * done_hi
        tap_lo, tap_hi = tap_lo + c[J_TAP] * done_lo, tap_hi + c[J_TAP] * done_hi
        if done_hi > 600.0:
            q[Q_WARM_HI_W] += c[J_WARM_W]
        else:
            q[Q_TASK_HI_J] += c[J_WARM_W] * done_hi
            q[Q_TASK_W] += c[J_WARM_W] if done_hi > 0.0 else 0.0
        q[Q_USED_J] += c[J_LOAD_W] * done_hi
        q[Q_TASK_LO_J] += c[J_WARM_W] * done_lo
        if done_hi > 0.0:
            for i in range(tasks + 1):
                q[Q_SHED + i] += f.sheds[levels + j, i] * (done_hi + f.par[F_WAIT_S])
    row = f.slots[t]
    q[Q_HOT_LO], q[Q_HOT_HI] = row[G_HOT_M3] + hot_lo, row[G_HOT_M3] + hot_hi
    q[Q_TAP_LO], q[Q_TAP_HI] = row[G_TAP_M3] + tap_lo, row[G_TAP_M3] + tap_hi
    return cost


@kernel(inline=True)
def _runs_most(f: Frame, t: int, on: bool, high: float, v: int) -> float:
    """Longest that the load of a level can run or wait to start in a slot."""
    c = f.levels[v]
    if not on or c[V_OUT] <= 0.0:
        return 0.0
    more = c[V_IN] * SLOT_S
    if c[V_KIND] == WATER:
        more = f.slots[t, G_TAP_M3]
        for j in range(f.tasks.shape[0]):
            more += f.tasks[j, J_TAP] * SLOT_S
    return min(SLOT_S, min(high + more, c[V_CAP] + more) / c[V_OUT] + f.par[F_WAIT_S])


@kernel(inline=True)
def _hot(
    c: Array, z: Array, since: float, due: float, can: float, sure: float, under_way: float, late: float
) -> tuple[float, float]:
    """Showers want warm water at the moment they begin."""
    starts = (since <= c[J_DELAY] and c[J_DELAY] + late < since + SLOT_S) or due > 0.0
    if tank_high(z) + 12.0 < c[J_MIN_C]:
        return 0.0, 0.0
    if not (under_way != 0.0 or (starts and tank_low(z) > c[J_MIN_C] + 3.0)):
        sure = 0.0
    return can, sure


@kernel
def step_levels(f: Frame, on: bool, age: int, z: Array, y: Array, at: int, q: Array) -> float:
    """Levels: the least with the pump at once, the most with the pump as late as it can be."""
    cost = 0.0
    for v in range(f.levels.shape[0]):
        c = f.levels[v]
        i = at + ZV_COUNT * v
        more_lo, more_hi = c[V_IN] * SLOT_S, c[V_IN] * SLOT_S
        if c[V_KIND] == WATER:
            more_lo, more_hi = q[Q_TAP_LO], q[Q_TAP_HI]
        cost += c[V_PRICE] * more_lo
        wait = c[V_DELAY] if age == 0 else 0.0
        live = SLOT_S - wait if on else 0.0
        pumped = c[V_OUT] * live
        before = more_lo * (1.0 - live / SLOT_S) if c[V_KIND] != WATER else 0.0
        filled = z[i] + (more_lo if live <= 0.0 else before)
        over = max(0.0, filled - c[V_CAP]) if live <= 0.0 or c[V_KIND] != WATER else 0.0
        y[i] = filled - over
        if live > 0.0:
            y[i] = max(0.0, z[i] + more_lo - over - pumped)
            y[i] = min(y[i], c[V_CAP])
        y[i + 2] = z[i + 2] + over
        if c[V_KIND] != WATER:
            cost += c[V_OVER] * over
        certain = q[Q_WET] != 0.0 and c[V_SURE] != 0.0
        sure = max(0.0, live - f.par[F_WAIT_S] - (y[Z_LATE] if age == 0 else 0.0)) if certain else 0.0
        high = z[i + 1] + more_hi
        if c[V_KIND] == WATER and not on:
            cost += f.par[F_HOT_J] * _until_dry(c, z[i], z[i + 1], more_lo, q)
        elif c[V_KIND] == WATER and high >= c[V_CAP] * 0.999:  # the taps may be dry until the pump runs
            q[Q_HOT_DRY] = q[Q_HOT_LO] * (1.0 - sure / SLOT_S)
            q[Q_HOT_LO] -= q[Q_HOT_DRY]
        if sure > 0.0:
            high = max(high - c[V_OUT] * sure, min(high, c[V_ON]))
        y[i + 1] = min(high, c[V_CAP])
    return cost


@kernel
def _until_dry(c: Array, least: float, most: float, tap: float, q: Array) -> float:
    """Split the hot draw of a slot without a pump: flows surely, perhaps, and (returned) surely not."""
    hot = q[Q_HOT_LO]
    if tap <= 0.0 or most + tap < c[V_CAP] * (1.0 - 1e-9):
        return 0.0
    share_hi, share_lo = min(1.0, (c[V_CAP] - least) / tap), max(0.0, min(1.0, (c[V_CAP] - most) / tap))
    q[Q_HOT_HI], q[Q_HOT_LO], q[Q_HOT_DRY] = (
        hot * share_hi + 1e-12,
        hot * share_lo,
        hot * (share_hi - share_lo),
    )
    return hot * (1.0 - share_hi)


@kernel
def water_j(c: Array, over: float) -> float:
    """Price of running water missed so far: jugs while they last, then dry."""
    return c[V_OVER] * min(over, c[V_STORED])


@kernel
def step_medical(f: Frame, t: int, on: bool, age: int, z: Array, y: Array, at: int) -> float:
    """Own battery left at most, and seconds unpowered at least."""
    for m in range(f.medical.shape[0]):
        i = at + ZM_COUNT * m
        own, wait = f.medical[m, 0], f.medical[m, 1] if age == 0 else 0.0
        left, short = z[i], z[i + 1]
        dark = max(0.0, f.want_s[t, m] + wait - SLOT_S) if on else f.want_s[t, m]
        short += max(0.0, dark - left - 1.0)
        left = max(0.0, left - dark)
        if on:
            left = min(own, left + f.medical[m, 2] * SLOT_S)
        y[i], y[i + 1] = left, short
    return 0.0
