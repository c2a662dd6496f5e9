"""Cold stores through one slot: coldest and warmest, for those that call for their compressor and those that do not."""

# mypy: disable-error-code="no-any-return"

from __future__ import annotations

from math import exp, log

from hearthold.engine.jit import kernel
from hearthold.plan.bound.kernels.house import (
    Q_AIR_HI,
    Q_AIR_LO,
    Q_FALL,
    Q_RISE,
    Q_ROOM_HI,
    Q_ROOM_LO,
    Q_ROOM_SPAN,
    Q_ROOM_WIDE,
    Q_WET,
)  # fmt: skip
from hearthold.plan.bound.kernels.layout import (
    BIG,
    C_AIR,
    C_COOL_W,
    C_DELAY,
    C_G,
    C_LIMIT,
    C_OFF,
    C_ON,
    C_ONE,
    C_OUTSIDE,
    C_PRICE,
    C_SURE,
    C_UA,
    F_COLD_W,
    F_WAIT_S,
    G_OUT,
    SLOT_S,
    STEP_S,
    Z_LATE,
    Array,
    Frame,
)  # fmt: skip

READ_K = 0.001  # a level is read this late at most, the room's own movement apart (lemma 2)
SLACK_K = 0.05  # a core moves less than this in a slot, by far
LATE_S = 600.0  # longest stretch that a crossing is foretold over with the room as it was


@kernel
def step_cold(f: Frame, t: int, on: bool, age: int, k: int, z: Array, y: Array, at: int, q: Array) -> float:
    """Carry cold store k through slot t; returns the cost that is certain. `at` is its place in the box."""
    c = f.cold[k]
    out = f.slots[t, G_OUT]
    k_s, swing = c[C_UA] / f.caps[k, 0, 0], c[C_AIR] * max(q[Q_RISE], q[Q_FALL])
    if c[C_ONE] == 0.0:
        hidden = 0.25 * k_s * STEP_S * c[C_AIR] * q[Q_ROOM_SPAN]
        low = c[C_AIR] * q[Q_ROOM_LO] + c[C_OUTSIDE] * out - hidden
        high = c[C_AIR] * q[Q_ROOM_HI] + c[C_OUTSIDE] * out + hidden
        return _two_nodes(f, k, on, age, z, y, at, low, high, q, out)
    stray = 0.25 * k_s * SLOT_S * swing  # from its way at the slot's mean room, on the way (lemma 2)
    hidden = stray + (k_s * STEP_S) ** 2 / 24.0 * c[C_AIR] * q[Q_ROOM_WIDE]
    low = c[C_AIR] * q[Q_AIR_LO] + c[C_OUTSIDE] * out - hidden
    high = c[C_AIR] * q[Q_AIR_HI] + c[C_OUTSIDE] * out + hidden
    margin = READ_K + k_s * LATE_S * (c[C_AIR] * max(q[Q_RISE], q[Q_FALL] if on else 0.0) + 0.1)
    before_lo, before_hi = min(z[at], z[at + 2]), max(z[at + 1], z[at + 3])
    if on:
        _powered(c, f.caps[k, 0, 0], age, z, y, at, low, high, q, f.par[F_WAIT_S], stray)
    else:
        _unpowered(c, f.caps[k, 0, 0], z, y, at, low, high)
    after_lo, after_hi = min(y[at], y[at + 2]), max(y[at + 1], y[at + 3])
    cost = _breach(f, c, before_lo, after_lo, margin, z, y, at)
    mean_room = c[C_AIR] * q[Q_AIR_LO] + c[C_OUTSIDE] * out
    top = max(before_hi, after_hi)
    if not on or (z[at + 2] > z[at + 3] and y[at + 2] > y[at + 3]):
        top = 0.5 * (before_hi + after_hi) + 0.05
    return cost + c[C_PRICE] * c[C_UA] * (mean_room - top) * SLOT_S


@kernel(inline=True)
def _free(c: Array, cap: float, at_c: float, room: float, dt: float) -> float:
    """One node left alone for dt."""
    return room + (at_c - room) * exp(-c[C_UA] / cap * dt)


@kernel(inline=True)
def _cooled(c: Array, cap: float, at_c: float, room: float, dt: float) -> float:
    """One node under its compressor for dt."""
    return _free(c, cap, at_c, room - c[C_COOL_W] / c[C_UA], dt)


@kernel(inline=True)
def _until(c: Array, cap: float, at_c: float, level: float, goal: float) -> float:
    """Time from at_c to level on the way to goal, BIG if never."""
    if (at_c - goal) * (level - goal) <= 0.0 or abs(level - goal) >= abs(at_c - goal):
        return 0.0 if at_c == level else BIG
    return log((at_c - goal) / (level - goal)) * cap / c[C_UA]


@kernel
def _unpowered(c: Array, cap: float, z: Array, y: Array, at: int, low: float, high: float) -> None:
    for i in range(4):
        if abs(z[at + i]) >= BIG:
            y[at + i] = z[at + i]
        else:
            y[at + i] = _free(c, cap, z[at + i], low if i % 2 == 0 else high, SLOT_S)
    if z[at + 3] >= c[C_ON] - READ_K and z[at + 2] <= z[at + 3]:  # a warm store may be read as calling
        y[at] = min(y[at], _free(c, cap, max(z[at + 2], c[C_ON] - READ_K), low, SLOT_S))
        y[at + 1] = max(y[at + 1], y[at + 3])
    elif y[at + 3] >= c[C_ON] - READ_K and y[at + 2] <= y[at + 3]:
        first = c[C_ON] - READ_K
        if low >= c[C_ON]:  # who has begun to call has warmed on like the others
            first = max(first, y[at + 2])
        y[at], y[at + 1] = min(y[at], first), max(y[at + 1], y[at + 3])
    if y[at] <= c[C_OFF]:  # a store in a cold room stops calling
        y[at + 2] = min(y[at + 2], y[at])
        y[at + 3] = max(y[at + 3], min(y[at + 1], c[C_OFF]))


@kernel
def _powered(
    c: Array, cap: float, age: int, z: Array, y: Array, at: int, low: float, high: float, q: Array, hold: float,
    stray: float,
) -> None:  # fmt: skip
    """Calling stores cool to the lower level, the others warm to the upper one; both may change over once. On the way
    they are up to `stray` kelvins off."""
    on_c, off_c, certain = c[C_ON], c[C_OFF], q[Q_WET] * c[C_SURE]
    slow = c[C_UA] / cap * LATE_S * c[C_AIR]
    margin, over = READ_K + slow * q[Q_FALL], READ_K + slow * q[Q_RISE]
    cl, ch, nl, nh = z[at], z[at + 1], z[at + 2], z[at + 3]
    if nh >= on_c - 1e-3 and nl <= nh:  # read at once
        cl, ch = min(cl, max(nl, on_c - 1e-3)), max(ch, nh)
        nh = min(nh, on_c)
        if nl >= on_c:
            nl, nh = BIG, -BIG
    wait = c[C_DELAY] if age == 0 else 0.0
    sure = max(0.0, SLOT_S - wait - hold - (y[Z_LATE] if age == 0 else 0.0)) if certain != 0.0 else 0.0
    live = SLOT_S - wait
    ycl, ych, ynl, ynh = BIG, -BIG, BIG, -BIG
    if cl <= ch:
        ycl, ych, ynl, ynh = _calling(c, cap, cl, ch, low, high, wait, live, sure, margin, stray)
    if nl <= nh:
        nl2, nh2 = _free(c, cap, nl, low, SLOT_S), _free(c, cap, nh, high, SLOT_S)
        if nh2 >= on_c - over:  # some come to call
            since = _until(c, cap, nh + stray, on_c - 1e-3, high) if nh + stray < on_c - 1e-3 else 0.0
            ran = min(live, max(0.0, SLOT_S - since))
            ycl = min(ycl, _cooled(c, cap, on_c - 1e-3, low, ran) - stray)
            ych = max(
                ych, _newly_calling(c, cap, nl, nh, nl2, since, sure, low, high, hold, over + stray) + stray
            )
            nh2 = on_c + over
        if nl2 <= on_c + over:
            ynl, ynh = min(ynl, nl2), max(ynh, nh2)
    start = min(off_c - margin, min(cl, nl))  # no compressor cools below its lower level, but a cold room may
    floor = min(start, _free(c, cap, start, low, SLOT_S))
    y[at], y[at + 1], y[at + 2], y[at + 3] = max(ycl, floor), ych, max(ynl, floor), ynh


@kernel
def _newly_calling(
    c: Array, cap: float, nl: float, nh: float, nl2: float, since: float, sure: float, low: float, high: float,
    hold: float, over: float,
) -> float:  # fmt: skip
    """Warmest at the end of a slot of those that come to call within it."""
    level, ran = c[C_ON] + over, 0.0
    if nl2 > level and nl < level:  # all of them do, the last at this time
        ran = max(0.0, min(sure, SLOT_S - _until(c, cap, nl, level, low)) - hold)
    warmest = _cooled(c, cap, level, high, ran)
    if since < SLOT_S - sure:
        warmest = max(warmest, _cooled(c, cap, _free(c, cap, nh, high, SLOT_S - sure), high, sure))
    return warmest


@kernel
def _calling(
    c: Array, cap: float, cl: float, ch: float, low: float, high: float, wait: float, live: float, sure: float,
    margin: float, stray: float,
) -> tuple[float, float, float, float]:  # fmt: skip
    """Those that call at the start: what still calls, and what has reached the lower level and warms again."""
    off_c = c[C_OFF]
    start_l = _free(c, cap, cl, low, wait)
    start_h = _free(c, cap, ch, high, SLOT_S - sure)
    end_l = _cooled(c, cap, start_l, low, live)
    end_h = _cooled(c, cap, start_h, high, sure) if sure > 0.0 else start_h
    if end_l > off_c + stray:
        return end_l, end_h, BIG, -BIG
    near = start_l - stray
    left_l = live - _until(c, cap, near, off_c, low - c[C_COOL_W] / c[C_UA]) if near > off_c else live
    n_hi = _free(c, cap, off_c + 1e-3, high, min(SLOT_S, max(0.0, left_l))) + stray
    n_hi = max(n_hi, min(ch, off_c + 1e-3))
    n_lo = off_c - margin
    if low < n_lo:
        n_lo = _free(c, cap, n_lo, low, min(SLOT_S, max(0.0, left_l) + 60.0)) - stray
    if end_h > off_c - margin or sure <= 0.0:
        return off_c - margin, max(end_h, off_c - margin), n_lo, max(n_hi, n_lo)
    left_h = sure - _until(c, cap, start_h + stray, off_c - margin, high - c[C_COOL_W] / c[C_UA])
    if start_h + stray <= off_c - margin:
        left_h = sure
    if low >= n_lo:
        n_lo = max(n_lo, _free(c, cap, n_lo, low, max(0.0, left_h - 1.0)) - stray)
    return BIG, -BIG, n_lo, max(n_hi, n_lo)


@kernel
def _breach(
    f: Frame, c: Array, before: float, after: float, margin: float, z: Array, y: Array, at: int
) -> float:
    """Kelvins times seconds over the limit, surely, and the clock of the food."""
    y[at + 4], y[at + 5] = z[at + 4], z[at + 5]
    level = c[C_LIMIT] + margin
    if before <= level and after <= level:
        return 0.0
    rise, fall = max(before, after) - level, min(before, after) - level
    if fall >= 0.0:
        over_s, over_ks = SLOT_S, (0.5 * (rise + fall) - 0.002) * SLOT_S
    else:
        over_s = SLOT_S * max(0.0, rise - 0.002) / (rise - fall)
        over_ks = 0.5 * max(0.0, rise - 0.002) * over_s
    if over_s <= 2.0:
        return 0.0
    y[at + 4], y[at + 5] = z[at + 4] + over_s - 1.0, 1.0
    return f.par[F_COLD_W] * max(0.0, over_ks)


# --- two nodes and a freezing range ------------------------------------------------------------------------------
@kernel(inline=True)
def _heat_at(knots: Array, caps: Array, at_c: float) -> float:
    """Heat held by a node at a temperature, from the first finite knot on."""
    held, base = 0.0, knots[1]
    for i in range(caps.shape[0]):
        a = base if i == 0 else knots[i]
        b = knots[i + 1]
        if i == 0:
            if at_c < base:
                return caps[0] * (at_c - base)
            continue
        if at_c <= b:
            return held + caps[i] * (at_c - a)
        held += caps[i] * (b - a)
    return held


@kernel(inline=True)
def _temp_of(knots: Array, caps: Array, held: float) -> float:
    """The temperature of a node that holds this heat."""
    if held <= 0.0:
        return knots[1] + held / caps[0]
    last = caps.shape[0] - 1
    for i in range(1, last):
        width = caps[i] * (knots[i + 1] - knots[i])
        if held <= width:
            return knots[i] + held / caps[i]
        held -= width
    return knots[last] + held / caps[last]


@kernel
def _moved(knots: Array, caps: Array, at_c: float, heat: float) -> float:
    return _temp_of(knots, caps, _heat_at(knots, caps, at_c) + heat)


@kernel
def _core(knots: Array, caps: Array, core: float, across: float, shell: float, upper: bool) -> float:
    """The core after a slot beside a shell held at its extreme: from above (upper) or from below."""
    end = _moved(knots, caps, core, across * (shell - core) * SLOT_S)
    if (shell > core) != upper:  # the flux dwindles on the way, and only its end is sure
        end = _moved(knots, caps, core, across * (shell - end) * SLOT_S)
    return end


@kernel
def _two_nodes(
    f: Frame, k: int, on: bool, age: int, z: Array, y: Array, at: int, low: float, high: float, q: Array, out: float
) -> float:  # fmt: skip
    """Fields: coldest shell, coldest core, warmest shell, warmest core. Fluxes at their extremes over the slot."""
    c, knots = f.cold[k], f.knots[k]
    shell, core = f.caps[k, 0], f.caps[k, 1]
    s_lo, k_lo, s_hi, k_hi = z[at], z[at + 1], z[at + 2], z[at + 3]
    wait = c[C_DELAY] if age == 0 else 0.0
    live = SLOT_S - wait if on else 0.0
    sure = (
        max(0.0, live - f.par[F_WAIT_S] - (y[Z_LATE] if age == 0 else 0.0))
        if c[C_SURE] * q[Q_WET] != 0.0
        else 0.0
    )
    # coldest: least gain (at the warmest it may be), most cooling
    gain = c[C_UA] * (low - s_lo) + c[C_G] * (k_lo - SLACK_K - s_lo)
    up = _moved(knots, shell, s_lo, max(0.0, gain) * SLOT_S)
    gain = min(gain, c[C_UA] * (low - up) + c[C_G] * (k_lo - SLACK_K - up))
    idle = _moved(knots, shell, s_lo, gain * SLOT_S)
    cold = _moved(knots, shell, s_lo, gain * SLOT_S - c[C_COOL_W] * live)
    y[at] = max(cold, min(idle, c[C_OFF] - 0.1)) if on else idle
    y[at + 1] = _core(knots, core, k_lo, c[C_G], min(s_lo, y[at]), False)
    # warmest: most gain (at the coldest it may be), least cooling
    gain = c[C_UA] * (high - s_hi) + c[C_G] * (k_hi + SLACK_K - s_hi)
    down = _moved(knots, shell, s_hi, min(0.0, gain) * SLOT_S)
    gain = max(gain, c[C_UA] * (high - down) + c[C_G] * (k_hi + SLACK_K - down))
    warm = _moved(knots, shell, s_hi, gain * SLOT_S)
    y[at + 2] = warm
    if sure > 0.0:
        most = gain + (c[C_UA] + c[C_G]) * (s_hi - _moved(knots, shell, s_hi, -c[C_COOL_W] * live))
        cooled = _moved(knots, shell, s_hi, most * SLOT_S - c[C_COOL_W] * sure)
        y[at + 2] = max(cooled, min(warm, c[C_ON] + 0.1))
    y[at + 3] = _core(knots, core, k_hi, c[C_G], max(s_hi, y[at + 2]), True)
    cost = _breach(f, c, s_lo, y[at], 0.5, z, y, at)
    room = c[C_AIR] * q[Q_AIR_LO] + c[C_OUTSIDE] * out
    return (
        cost
        + c[C_PRICE]
        * c[C_UA]
        * (room - 0.5 * (s_hi + y[at + 2]) - 0.2 - 0.5 * max(0.0, s_hi - y[at + 2]))
        * SLOT_S
    )
