"""The tank heater through one slot: tanks that call for heat and those that do not, each from coldest to warmest."""

# mypy: disable-error-code="no-any-return"

from __future__ import annotations

from math import exp

from hearthold.engine.jit import kernel
from hearthold.plan.bound.kernels.house import (
    Q_AIR_HI,
    Q_AIR_LO,
    Q_HOT_DRY,
    Q_HOT_HI,
    Q_HOT_LO,
    Q_ROOM_HI,
    Q_ROOM_LO,
    Q_ROOM_SPAN,
    Q_SHED,
    Q_USED_J,
    Q_WET,
)  # fmt: skip
from hearthold.plan.bound.kernels.layout import (
    BIG,
    F_HOT_J,
    F_TANK,
    F_WAIT_S,
    K_BY,
    K_FLOW,
    K_IN,
    K_J,
    K_LIVE_D,
    K_LOW,
    K_OFF,
    K_ON,
    K_PRICE,
    K_SHED_W,
    K_SURE,
    K_UA,
    K_W,
    SLOT_S,
    STEP_S,
    Z_AH,
    Z_AL,
    Z_LATE,
    Z_TCH,
    Z_TCL,
    Z_THOT,
    Z_TNH,
    Z_TNL,
    Array,
    Frame,
)  # fmt: skip

READ_K = 0.05


@kernel
def tank_low(z: Array) -> float:
    """Coldest that the tank can be."""
    return min(z[Z_TCL], z[Z_TNL])


@kernel
def tank_high(z: Array) -> float:
    """Warmest that the tank can be."""
    return max(z[Z_TCH], z[Z_TNH])


@kernel
def step_tank(f: Frame, on: bool, age: int, z: Array, y: Array, q: Array) -> float:
    """Carry the tank through a slot; returns heat that must surely be made good and hot water surely short."""
    p = f.par
    for i in range(Z_TCL, Z_TNH + 1):
        y[i] = z[i]
    y[Z_THOT] = 0.0
    if p[F_TANK] == 0.0:
        return 0.0
    lo0, hi0 = tank_low(z), tank_high(z)
    loss = exp(-p[K_UA] / p[K_J] * SLOT_S)
    few = exp(-q[Q_HOT_LO] * p[K_FLOW] / p[K_J])  # what a draw leaves of the warmth above the inlet
    many = exp(-q[Q_HOT_HI] * p[K_FLOW] / p[K_J])
    # The engine moves the tank with the room's mean over steps that may begin within a slot (lemma 2).
    drawn_s = (p[K_UA] + q[Q_HOT_HI] * p[K_FLOW] / SLOT_S) / p[K_J] * STEP_S
    hidden = 0.25 * drawn_s * q[Q_ROOM_SPAN]
    room_lo = min(q[Q_ROOM_LO], z[Z_AL], y[Z_AL]) - hidden
    room_hi = max(q[Q_ROOM_HI], z[Z_AH], y[Z_AH]) + hidden
    cl, ch = _left(p, z[Z_TCL], room_lo, loss, many, many), _left(p, z[Z_TCH], room_hi, loss, few, 1.0)
    nl, nh = _left(p, z[Z_TNL], room_lo, loss, many, many), _left(p, z[Z_TNH], room_hi, loss, few, 1.0)
    powered = (on and (p[K_BY] == 1.0 or p[K_BY] == 2.0)) or p[K_BY] == 3.0
    if powered:
        wait = p[K_LIVE_D] if age == 0 else 0.0
        live = SLOT_S - wait if p[K_BY] != 3.0 else SLOT_S
        sure = (
            max(0.0, live - p[F_WAIT_S] - (y[Z_LATE] if age == 0 else 0.0) - q[Q_SHED + f.tasks.shape[0]])
            if p[K_SURE] * q[Q_WET] != 0.0
            else 0.0
        )
        if p[K_BY] == 1.0:
            q[Q_USED_J] += p[K_SHED_W] * SLOT_S if cl <= ch or nl <= p[K_ON] + 0.1 else 0.0
            _heated(p, cl, ch, nl, nh, live, sure, few, many, y)
        else:
            _heated_loosely(p, cl, ch, nl, nh, live, age, z, y)
    else:
        y[Z_TCL], y[Z_TCH], y[Z_TNL], y[Z_TNH] = cl, ch, nl, nh
        if nl <= nh and nl <= p[K_ON] + READ_K:
            y[Z_TCL], y[Z_TCH] = min(cl, nl), max(ch, min(nh, p[K_ON] + READ_K))
            if nh <= p[K_ON] - READ_K:
                y[Z_TNL], y[Z_TNH] = BIG, -BIG
    least = min(lo0, tank_low(y))
    part = 1.0 - few if lo0 >= p[K_IN] else 1.0 - many
    drawn = p[K_J] * (lo0 - p[K_IN]) * part * (loss if lo0 >= p[K_IN] else 1.0)
    lost = p[K_UA] * (least - max(q[Q_AIR_HI], q[Q_AIR_LO])) * SLOT_S
    cost = p[K_PRICE] * (lost + drawn)
    if max(hi0, tank_high(y)) + READ_K < p[K_LOW] and (not powered):
        cost += p[F_HOT_J] * q[Q_HOT_LO]
    if q[Q_HOT_DRY] > 0.0:  # either drawn, and made good, or short
        warmth = p[K_PRICE] * p[K_FLOW] * max(0.0, _drawn(p, lo0, many) - p[K_IN]) * loss
        cost += min(p[F_HOT_J], warmth) * q[Q_HOT_DRY]
    return cost


@kernel(inline=True)
def _left(p: Array, at_c: float, room: float, loss: float, draw: float, kept: float) -> float:
    """Tank temperature after losses and a draw, without heat; `kept` is what the draw leaves of the room's share."""
    if abs(at_c) >= BIG:
        return at_c
    gained = (room - p[K_IN]) * (1.0 - loss)
    return p[K_IN] + (at_c - p[K_IN]) * loss * draw + gained * (kept if gained > 0.0 else draw)


@kernel
def _heated(
    p: Array,
    cl: float,
    ch: float,
    nl: float,
    nh: float,
    live: float,
    sure: float,
    few: float,
    many: float,
    y: Array,
) -> None:
    """Heat for those that call; the given temperatures have had the draws of the slot already."""
    on_c, off_c = p[K_ON], p[K_OFF]
    warm = p[K_W] / p[K_J]
    fresh_lo, fresh_hi = BIG, -BIG  # those that come to call within the slot
    if nl <= nh and nl <= on_c + READ_K:
        fresh_lo, fresh_hi = nl, min(nh, on_c + READ_K) + warm * live
        if nh <= on_c - READ_K:
            nl, nh = BIG, -BIG
        else:
            nl = max(nl, on_c - READ_K)
    calls_lo, calls_hi = BIG, -BIG
    if cl <= ch:
        calls_lo, calls_hi = cl + warm * sure * many, ch + warm * live
        if calls_hi >= off_c - READ_K:  # some reach the upper level, and then are drawn down
            nl, nh = min(nl, _drawn(p, off_c - READ_K, many) - 0.2), max(nh, off_c + READ_K)
            if cl + warm * sure * many >= off_c + READ_K and _drawn(p, off_c, many) - 0.2 > on_c + READ_K:
                calls_lo, calls_hi = BIG, -BIG
            else:
                calls_lo, calls_hi = min(calls_lo, off_c), min(calls_hi, off_c + READ_K)
    if fresh_hi > off_c:
        fresh_hi = off_c + READ_K
        nl, nh = min(nl, off_c - READ_K), max(nh, off_c + READ_K)
    y[Z_TCL], y[Z_TCH] = min(calls_lo, fresh_lo), max(calls_hi, fresh_hi)
    y[Z_TNL], y[Z_TNH] = nl, nh


@kernel
def _heated_loosely(
    p: Array, cl: float, ch: float, nl: float, nh: float, live: float, age: int, z: Array, y: Array
) -> None:
    """A tank whose burner also serves the house, or has a pilot: the engine tells it of a change only when the
    burner starts or stops, so it may not be heated when it calls, and may be after it has called in the same spell."""
    warm = p[K_W] / p[K_J] * live
    if p[K_BY] == 3.0 or (z[Z_THOT] != 0.0 and age > 0):
        y[Z_THOT] = 1.0
    if cl <= ch and ch + warm >= p[K_OFF] - READ_K:
        y[Z_THOT] = 1.0
    more = warm if y[Z_THOT] != 0.0 else 0.0
    y[Z_TCL], y[Z_TCH], y[Z_TNL], y[Z_TNH] = cl, ch + warm, nl, nh + more
    if nl <= nh and nl <= p[K_ON] + READ_K:
        fresh = min(nh, p[K_ON] + READ_K) + warm
        y[Z_TCL], y[Z_TCH] = min(y[Z_TCL], nl), max(y[Z_TCH], fresh)
        if nh <= p[K_ON] - READ_K:
            y[Z_TNL], y[Z_TNH] = BIG, -BIG
        if fresh >= p[K_OFF] - READ_K:  # a strong burner brings them all the way within the slot
            y[Z_THOT] = 1.0
            y[Z_TNL], y[Z_TNH] = min(y[Z_TNL], nl), max(y[Z_TNH], fresh)
    if cl <= ch and ch + warm >= p[K_OFF] - READ_K:
        y[Z_TNL], y[Z_TNH] = min(y[Z_TNL], cl), max(y[Z_TNH], ch + warm)


@kernel
def tank_shares(f: Frame, z: Array, q: Array) -> float:
    """Whether the tank takes its share of the burner's heat in the slot: 0 surely not, 1 perhaps, 2 surely."""
    p = f.par
    if p[F_TANK] == 0.0 or p[K_BY] != 2.0:
        return 0.0
    warm = p[K_W] / p[K_J] * SLOT_S
    if z[Z_TNL] > z[Z_TNH] and z[Z_TCH] + warm < p[K_OFF] - READ_K:
        return 2.0
    if z[Z_TCL] <= z[Z_TCH]:
        return 1.0
    drop = q[Q_HOT_HI] * p[K_FLOW] / p[K_J] + p[K_UA] / p[K_J] * SLOT_S
    return 1.0 if z[Z_TNL] - drop * (z[Z_TNL] + 20.0) <= p[K_ON] + READ_K else 0.0


@kernel(inline=True)
def _drawn(p: Array, at_c: float, draw: float) -> float:
    return p[K_IN] + (at_c - p[K_IN]) * draw
