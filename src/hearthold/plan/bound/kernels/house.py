"""Air and mass through one slot: the warmest and the coldest they can be, discomfort at least, heat drawn at least."""

# mypy: disable-error-code="no-any-return"

from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.plan.bound.kernels.layout import (
    F_AIR_W,
    F_DELAY,
    F_HOUSE,
    F_PIPE_W,
    F_READ,
    F_WAIT_S,
    G_HOUR,
    G_OUT,
    G_SHIFT_HI,
    G_SHIFT_LO,
    G_STOVE_S,
    H_C1,
    H_C2,
    H_DOWN1,
    H_DOWN2,
    H_DULL,
    H_E11,
    H_E12,
    H_E21,
    H_E22,
    H_FREEZE,
    H_G,
    H_GAINS,
    H_KD,
    H_L1,
    H_L2,
    H_LOW,
    H_M1,
    H_M2,
    H_ML,
    H_MO,
    H_MQ,
    H_N1,
    H_N2,
    H_NO,
    H_NQ,
    H_O1,
    H_O2,
    H_OFF,
    H_ON,
    H_PRICE,
    H_Q1,
    H_Q2,
    H_RATIO,
    H_STOVE_OFF,
    H_STOVE_ON,
    H_STOVE_W,
    H_SURE,
    H_U1,
    H_U2,
    H_UP1,
    H_UP2,
    H_W,
    H_W_LEAST,
    SLOT_S,
    STEP_S,
    Z_AH,
    Z_AL,
    Z_CALL,
    Z_LATE,
    Z_LEAST,
    Z_MH,
    Z_ML,
    Z_PIPE,
    Z_RH,
    Z_RH0,
    Z_RL,
    Z_RL0,
    Array,
    Frame,
)  # fmt: skip

# Scratch of a slot: what the house takes from the loads, and what the other stores take from the house.
(
    Q_WARM_HI_W, Q_WARM_LO_W, Q_TASK_HI_J, Q_TASK_LO_J, Q_AIR_LO, Q_AIR_HI, Q_ROOM_LO, Q_ROOM_HI, Q_HOT_LO, Q_HOT_HI,
    Q_TAP_LO, Q_TAP_HI, Q_HOT_DRY, Q_WET, Q_USED_J, Q_TASK_W, Q_RISE, Q_FALL, Q_SHARE, Q_ROOM_SPAN, Q_FED, Q_ROOM_WIDE,
    Q_SHED,
) = range(23)  # fmt: skip
MOST_TASKS = 40
Q_COUNT = Q_SHED + MOST_TASKS + 1
BLOCK = 8  # slots of the window over which the room's extremes are kept: the engine's longest cold step
KEPT_K = 0.01


@kernel
def step_house(f: Frame, t: int, on: bool, age: int, z: Array, y: Array, q: Array) -> float:
    """Carry air and mass of box z through slot t into y; returns the cost that is certain."""
    p, row = f.par, f.slots[t]
    if p[F_HOUSE] == 0.0:
        for i in range(Z_AH, Z_LEAST + 1):
            y[i] = z[i]
        y[Z_PIPE], y[Z_CALL] = z[Z_PIPE], 0.0
        q[Q_AIR_LO] = q[Q_ROOM_LO] = z[Z_AL]
        q[Q_AIR_HI] = q[Q_ROOM_HI] = z[Z_AH]
        return 0.0
    lit = row[G_STOVE_S] > 0.0
    stove_hi = p[H_STOVE_W] * (1.0 if on else p[H_DULL]) if lit else 0.0
    stove_lo = (
        p[H_STOVE_W] * p[H_DULL] if row[G_STOVE_S] >= SLOT_S and z[Z_AL] < p[H_STOVE_ON] - 0.01 else 0.0
    )
    warm_hi = p[H_GAINS] + q[Q_WARM_HI_W] + q[Q_TASK_HI_J] / SLOT_S
    warm_lo = p[H_GAINS] + q[Q_WARM_LO_W] + q[Q_TASK_LO_J] / SLOT_S
    cost = _upper(p, row, on, age, z, y, q, warm_hi, stove_hi)
    _lower(p, row, on, age, z, y, q, warm_lo, stove_lo)
    out = row[G_OUT]
    cycling = p[H_OFF] - p[H_ON] + 0.2 if on and p[H_W] > 0.0 else 0.0
    q[Q_RISE] = 2.0 * max(0.0, y[Z_AH] - z[Z_AL]) + 0.3 + cycling
    q[Q_FALL] = 2.0 * max(0.0, z[Z_AH] - y[Z_AL]) + 0.3 + cycling
    if p[H_PRICE] > 0.0:
        mass = p[H_N1] * z[Z_AL] + p[H_N2] * z[Z_ML] + p[H_NO] * out + p[H_NQ] * warm_lo
        mass -= q[Q_TASK_LO_J] * p[H_DOWN2] * SLOT_S
        lost = p[H_U1] * (q[Q_AIR_LO] - out) * SLOT_S + p[H_U2] * (mass - out * SLOT_S)
        cost += p[H_PRICE] * (lost - (warm_hi + stove_hi) * SLOT_S)
    y[Z_LEAST] = z[Z_LEAST]
    if age == 0 and on and y[Z_LATE] <= 0.0 and p[F_READ] != 0.0:  # the air is read as the machine starts
        y[Z_LEAST] = min(y[Z_LEAST], z[Z_AH])
    if row[G_HOUR] != 0.0:
        y[Z_LEAST] = min(y[Z_LEAST], y[Z_AH])
    return cost + _pipe(p, out, z, y, warm_hi + stove_hi + (p[H_W] if on else 0.0))


@kernel
def _upper(
    p: Array, row: Array, on: bool, age: int, z: Array, y: Array, q: Array, warm: float, stove: float
) -> float:
    """Warmest air and mass; returns discomfort at least."""
    out, a0, m0 = row[G_OUT], z[Z_AH], z[Z_MH]
    task = q[Q_TASK_HI_J]
    air = p[H_E11] * a0 + p[H_E12] * m0 + p[H_O1] * out + p[H_Q1] * warm + task * p[H_UP1]
    mass = p[H_E21] * a0 + p[H_E22] * m0 + p[H_O2] * out + p[H_Q2] * warm + task * p[H_UP2]
    mean = p[H_M1] * a0 + p[H_M2] * m0 + p[H_MO] * out + p[H_MQ] * warm + task / p[H_C1] * SLOT_S
    base = air
    clamped = False
    if stove > 0.0:
        top = max(p[H_STOVE_OFF] + 1e-3, a0)
        if air + p[H_Q1] * stove <= top:
            air, mass, mean = air + p[H_Q1] * stove, mass + p[H_Q2] * stove, mean + p[H_MQ] * stove
        else:
            mass = max(mass, min(mass + p[H_Q2] * stove, _driven(p, m0, out, max(top, air))))
            air = max(air, top)
            clamped = True
    if not on or p[H_W] <= 0.0:
        y[Z_AH], y[Z_MH] = air, mass
        q[Q_AIR_HI] = max(a0, air) if clamped else mean / SLOT_S
        return 0.0 if clamped else p[F_AIR_W] * max(0.0, p[H_LOW] * SLOT_S - mean)
    first = age == 0
    watts = p[H_W] if q[Q_SHARE] < 2.0 else p[H_W_LEAST]
    full_air = air + watts * (p[H_L1] if first else p[H_Q1])
    full_mass = mass + watts * (p[H_L2] if first else p[H_Q2])
    off = p[H_OFF] - row[G_SHIFT_LO] + 1e-3
    if full_air <= off and not clamped:
        mean += watts * (p[H_ML] if first else p[H_MQ])
        y[Z_AH], y[Z_MH], q[Q_AIR_HI] = full_air, full_mass, mean / SLOT_S
        return p[F_AIR_W] * max(0.0, p[H_LOW] * SLOT_S - mean)
    if full_air <= off:
        y[Z_AH], y[Z_MH], q[Q_AIR_HI] = full_air, full_mass, max(a0, full_air, off)
        return 0.0
    heat_all = warm - task / SLOT_S + q[Q_TASK_W] + stove
    top = p[H_E11] * max(a0, off) + p[H_E12] * max(m0, full_mass) + p[H_O1] * out + p[H_Q1] * (warm + stove)
    top += task * p[H_UP1]
    most = heat_all + p[H_U1] * (out - off) + p[H_G] * (max(m0, full_mass) - off)
    y[Z_AH] = max(off, air, top) + (task / p[H_C1] if most > 0.0 else 0.0)
    wait = p[F_DELAY] if first and base <= a0 else 0.0
    heat = warm + stove
    drive = max(off, y[Z_AH], a0)
    if y[Z_AH] <= off and a0 <= off:
        drive = _mean_air(p, row, z, full_mass, heat, wait, off)
    y[Z_MH] = min(full_mass, max(mass, _driven(p, m0, out, drive)))
    q[Q_AIR_HI] = max(a0, y[Z_AH])
    return _short_of_comfort(p, row, a0, full_mass, watts + heat, wait) if stove <= 0.0 else 0.0


@kernel
def _short_of_comfort(p: Array, row: Array, air: float, mass: float, heat: float, wait: float) -> float:
    """Discomfort at least while the air is brought to its set point as fast as it can be."""
    short = p[H_LOW] - air
    if short <= 0.0:
        return 0.0
    rate = (heat + p[H_U1] * (row[G_OUT] - air) + p[H_G] * (mass - air)) / p[H_C1]
    reach = min(short / max(rate, 1e-9), SLOT_S - wait)
    return p[F_AIR_W] * (short * wait + 0.5 * short * reach)


@kernel(inline=True)
def _driven(p: Array, mass: float, out: float, air: float) -> float:
    """Mass at the end of a slot in which the air's mean (weighted as the mass remembers it) is `air`."""
    goal = (p[H_U2] * out + p[H_G] * air) / (p[H_U2] + p[H_G])
    return goal + (mass - goal) * p[H_KD]


@kernel
def _mean_air(p: Array, row: Array, z: Array, mass_hi: float, heat: float, wait: float, off: float) -> float:
    """Highest weighted mean of the air while a thermostat keeps it between its two levels (lemma 4)."""
    band = p[H_OFF] - p[H_ON] + 1e-3 + row[G_SHIFT_HI] - row[G_SHIFT_LO]
    mid = off - 0.5 * band
    rate = (p[H_U1] + p[H_G]) / p[H_C1]
    e_hi = (p[H_U1] * row[G_OUT] + p[H_G] * max(mass_hi, z[Z_MH]) + heat) / (p[H_U1] + p[H_G])
    e_lo = (p[H_U1] * row[G_OUT] + p[H_G] * min(z[Z_ML], z[Z_MH])) / (p[H_U1] + p[H_G])
    up_least = p[H_W_LEAST] / p[H_C1] - rate * (off - e_lo)
    fall_least = rate * (mid - e_hi)
    if up_least <= 0.0 or fall_least <= 0.0:
        return off
    up_most = p[H_W] / p[H_C1] - rate * (off - band - e_hi)
    fall_most = rate * (off - e_lo)
    eighth = 0.125 * band * band
    above = eighth * (1.0 / up_least + 1.0 / fall_least)
    below = eighth * (1.0 / up_most + 1.0 / fall_most)
    cycles = SLOT_S / (band / up_most + band / fall_most)
    excess = above + cycles * max(0.0, above - below)
    short = mid - z[Z_AH]
    if short > 0.0:
        first = max(p[H_W] / p[H_C1] - rate * (z[Z_AH] - e_hi), 1e-9)
        excess -= short * min(wait, SLOT_S)
        reach = min(short / first, SLOT_S - wait)
        excess -= (short - 0.5 * reach * first) * reach
    k = (p[H_U2] + p[H_G]) / p[H_C2] * SLOT_S
    even = k * p[H_KD] / (1.0 - p[H_KD])  # least weight over mean weight
    return min(off, mid + even * excess / SLOT_S + (1.0 - even) * 0.5 * band)


@kernel
def _lower(
    p: Array, row: Array, on: bool, age: int, z: Array, y: Array, q: Array, warm: float, stove: float
) -> None:
    """Coldest air and mass, and the lowest mean of the air."""
    out, a0, m0 = row[G_OUT], z[Z_AL], z[Z_ML]
    task = q[Q_TASK_LO_J]
    air = p[H_E11] * a0 + p[H_E12] * m0 + p[H_O1] * out + p[H_Q1] * warm - task * p[H_DOWN1]
    mass = p[H_E21] * a0 + p[H_E22] * m0 + p[H_O2] * out + p[H_Q2] * warm - task * p[H_DOWN2]
    mean = p[H_M1] * a0 + p[H_M2] * m0 + p[H_MO] * out + p[H_MQ] * warm - task * SLOT_S * p[H_DOWN1]
    if stove > 0.0 and air + p[H_Q1] * stove < p[H_STOVE_ON] - 0.01:
        air, mass, mean = air + p[H_Q1] * stove, mass + p[H_Q2] * stove, mean + p[H_MQ] * stove
    y[Z_AL], y[Z_ML], q[Q_AIR_LO], y[Z_CALL] = air, mass, mean / SLOT_S, 0.0
    heat = p[H_W] if q[Q_SHARE] == 0.0 else p[H_W_LEAST]
    if not on or p[H_SURE] * q[Q_WET] == 0.0 or heat <= 0.0:
        return
    level = p[H_ON] - row[G_SHIFT_HI] - 1e-3
    first = age == 0
    full_air = air + heat * (p[H_L1] if first else p[H_Q1])
    full_mass = mass + heat * (p[H_L2] if first else p[H_Q2])
    wait = p[F_DELAY] + p[F_WAIT_S] + y[Z_LATE] if first else p[F_WAIT_S]
    lost = heat * (p[F_WAIT_S] + (y[Z_LATE] if first else 0.0))
    full_air -= lost / p[H_C1]
    full_mass -= lost / p[H_C2]
    calls = z[Z_CALL] != 0.0 if not first else z[Z_AH] <= level
    if (
        calls and max(z[Z_AH], y[Z_AH]) < p[H_OFF] - row[G_SHIFT_HI] - 0.05
    ):  # all call, and none can have had enough
        y[Z_CALL] = 1.0
        y[Z_AL], y[Z_ML] = full_air, full_mass
        mean += heat * (p[H_ML] if first else p[H_MQ]) - lost / p[H_C1] * SLOT_S
        q[Q_AIR_LO] = max(mean / SLOT_S, min(a0, air))
        return
    q[Q_AIR_LO] = max(q[Q_AIR_LO], min(a0, air, level))  # nowhere colder than without the burner
    still = (p[H_U1] * out + p[H_G] * min(m0, mass) + warm + heat) / (p[H_U1] + p[H_G])
    if full_air <= level - 0.05 and a0 <= level - 0.05 and still >= level:
        y[Z_AL], y[Z_ML] = max(full_air, air), max(full_mass, mass)
        return
    if full_air > level:
        y[Z_AL] = max(air, min(level, full_air))
        low = min(a0, air)
        rate = (heat + p[H_U1] * (out - level) + p[H_G] * (m0 - level)) / p[H_C1]
        if rate > 0.0 and low < level:
            reach = min(SLOT_S, wait + (level - low) / rate)
            drive = level - (level - low) * (wait + 0.5 * max(0.0, reach - wait)) / SLOT_S
            y[Z_ML] = max(mass, _driven(p, m0, out, max(drive, low)))


@kernel(inline=True)
def _pipe(p: Array, out: float, z: Array, y: Array, heat: float) -> float:
    """Seconds that the pipe is surely frozen."""
    y[Z_PIPE] = z[Z_PIPE]
    if p[H_RATIO] <= 0.0:
        return 0.0
    level = out + (p[H_FREEZE] - out) / p[H_RATIO]
    top = max(z[Z_AH], y[Z_AH])
    still = (p[H_U1] * out + p[H_G] * max(z[Z_MH], y[Z_MH]) + heat) / (p[H_U1] + p[H_G])
    if max(top, still) >= level - 1e-3:
        return 0.0
    y[Z_PIPE] = 1.0
    return p[F_PIPE_W] * SLOT_S


@kernel
def step_room(on: bool, age: int, z: Array, y: Array, q: Array) -> None:
    """Extremes of the room over the engine's longest cold step, within the spell or the pause (lemma 2)."""
    if age == 0:
        y[Z_RL], y[Z_RL0], y[Z_RH], y[Z_RH0] = q[Q_AIR_LO], q[Q_AIR_LO], q[Q_AIR_HI], q[Q_AIR_HI]
    elif age % BLOCK == 0:
        y[Z_RL0], y[Z_RH0] = z[Z_RL], z[Z_RH]
        y[Z_RL], y[Z_RH] = q[Q_AIR_LO], q[Q_AIR_HI]
    else:
        y[Z_RL0], y[Z_RH0] = z[Z_RL0], z[Z_RH0]
        y[Z_RL], y[Z_RH] = min(z[Z_RL], q[Q_AIR_LO]), max(z[Z_RH], q[Q_AIR_HI])
    q[Q_ROOM_LO], q[Q_ROOM_HI] = min(y[Z_RL], y[Z_RL0]), max(y[Z_RH], y[Z_RH0])
    q[Q_ROOM_SPAN] = q[Q_ROOM_WIDE] = q[Q_ROOM_HI] - q[Q_ROOM_LO] + 2.0
    if on:  # the room rises: its mean, and what a mean over a step can hide (lemma 2)
        q[Q_ROOM_LO], q[Q_ROOM_HI] = q[Q_AIR_LO], q[Q_AIR_HI]
    else:  # what a slot's mean can hide of a room that falls, and what the engine leaves out of a step
        q[Q_ROOM_SPAN] *= 1.2 * SLOT_S / STEP_S
