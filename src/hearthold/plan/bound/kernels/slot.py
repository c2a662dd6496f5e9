"""One slot of one pattern for a box: every store, the fuel, what is certain to be paid; and what the end costs."""

# mypy: disable-error-code="no-any-return"

from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.plan.bound.kernels.cold import _heat_at, step_cold
from hearthold.plan.bound.kernels.fuel import SPARE_M3, ran_least, started, trips_j
from hearthold.plan.bound.kernels.house import (
    Q_COUNT,
    Q_FED,
    Q_SHARE,
    Q_USED_J,
    Q_WARM_HI_W,
    Q_WARM_LO_W,
    Q_WET,
    step_house,
    step_room,
)
from hearthold.plan.bound.kernels.layout import (
    BIG,
    C_AIR,
    C_COOL_W,
    C_HELD0,
    C_MID,
    C_ONE,
    C_OUTSIDE,
    C_PRICE,
    C_UA,
    F_A,
    F_B,
    F_FASTEST,
    F_FOOD_BREACH_J,
    F_FOOD_J,
    F_FOOD_S,
    F_HALF_M3,
    F_HOUSE,
    F_HOUSE_BREACH_J,
    F_LHV,
    F_LOST_J,
    F_LOWEST,
    F_LOWEST_J,
    F_NIGHT_W,
    F_ON_W,
    F_PIPE_BREACH_J,
    F_PIT_BREACH_J,
    F_READY_S,
    F_REFILL_J,
    F_REFILL_M3,
    F_RESTORE,
    F_RUN_W,
    F_START_J,
    F_STEADY_W,
    F_STOCK_M3,
    F_TANK,
    F_TANK_M3,
    F_TRIP_M3,
    F_TRIPS,
    F_VITAL_J,
    F_VITAL_W,
    F_WATER_BREACH_J,
    G_CLOCK_FIRST_J,
    G_CLOCK_J,
    G_CLOCK_W,
    G_NIGHT_S,
    G_OUT,
    G_SWITCH_J,
    G_VITAL,
    G_WARM_FIRST_LO_J,
    G_WARM_J,
    G_WARM_LO_J,
    H_C1,
    H_C2,
    H_COMP_W,
    H_OFF,
    H_ON,
    H_PRICE,
    H_SETTLE,
    H_U1,
    H_U2,
    H_W,
    K_J,
    K_OFF,
    K_ON,
    K_PRICE,
    K_W,
    PIT,
    SLOT_S,
    V_DRY,
    V_KIND,
    V_OUT,
    V_STORED,
    WATER,
    Z_AH,
    Z_AL,
    Z_BACK,
    Z_BURN,
    Z_DRY,
    Z_FIRST,
    Z_FUEL,
    Z_FUELH,
    Z_LATE,
    Z_LEAST,
    Z_LOT,
    Z_MH,
    Z_ML,
    Z_PIPE,
    Z_RAN,
    Z_SPELLH,
    ZC_COUNT,
    ZJ_COUNT,
    ZM_COUNT,
    ZV_COUNT,
    Array,
    Frame,
)  # fmt: skip
from hearthold.plan.bound.kernels.loads import step_levels, step_medical, step_tasks, water_j
from hearthold.plan.bound.kernels.tank import step_tank, tank_high, tank_low, tank_shares

LEAST_POWER_FRAC = 0.25
KEPT_K, KEPT_M3, VITAL_KEPT_S = 0.01, 1e-6, 60.0


@kernel
def step(f: Frame, t: int, on: bool, age: int, paused: int, z: Array, y: Array, q: Array) -> float:
    """Carry box z through slot t into y. `age`: slots since the switch; `paused`: slots off before this spell.

    Returns the cost that every state of the box is certain to pay in the slot, of the kinds that add up.
    """
    p, row = f.par, f.slots[t]
    first = on and age == 0
    for i in range(Q_COUNT):
        q[i] = 0.0
    cost = 0.0
    y[Z_LATE] = z[Z_LATE] if on else 0.0
    if first:  # the machine may still be cooling down to be refilled
        y[Z_LATE] = max(0.0, p[F_READY_S] - paused * SLOT_S)
    _wet(f, t, on, age, z, y, q)
    if on and (not first or y[Z_LATE] <= 0.0) and q[Q_WET] != 0.0:
        cost += row[G_CLOCK_FIRST_J] if first else row[G_CLOCK_J]
    if on:
        q[Q_WARM_HI_W] = p[H_COMP_W] + row[G_WARM_J] / SLOT_S
        q[Q_WARM_LO_W] = (row[G_WARM_FIRST_LO_J] if first else row[G_WARM_LO_J]) / SLOT_S
    at_cold = Z_FIRST
    at_levels = at_cold + ZC_COUNT * f.cold.shape[0]
    at_tasks = at_levels + ZV_COUNT * f.levels.shape[0]
    at_medical = at_tasks + ZJ_COUNT * f.tasks.shape[0]
    cost += step_tasks(f, t, on, age, z, y, at_tasks, q)
    cost += step_levels(f, on, age, z, y, at_levels, q)
    q[Q_SHARE] = tank_shares(f, z, q)
    cost += step_house(f, t, on, age, z, y, q)
    step_room(on, age, z, y, q)
    for k in range(f.cold.shape[0]):
        cost += step_cold(f, t, on, age, k, z, y, at_cold + ZC_COUNT * k, q)
    cost += step_tank(f, on, age, z, y, q)
    step_medical(f, t, on, age, z, y, at_medical)
    return cost + _machine(f, t, on, age, z, y, q)


@kernel
def _wet(f: Frame, t: int, on: bool, age: int, z: Array, y: Array, q: Array) -> None:
    """Whether the machine surely has fuel through the slot (lemma 8); where a vital load hangs on it, it must have."""
    p = f.par
    slot = p[F_FASTEST] * SLOT_S
    before = 0.0 if age == 0 else z[Z_SPELLH]
    y[Z_SPELLH] = before
    stocked = z[Z_FUELH] + slot < p[F_STOCK_M3] + z[Z_BACK] * p[F_TRIP_M3]
    q[Q_FED] = 1.0 if stocked or p[F_TRIPS] == 0.0 else 0.0
    enough = p[F_TRIPS] == 0.0 or z[Z_FUELH] + slot < p[F_STOCK_M3] + z[Z_LOT] * p[F_TRIP_M3]
    enough = enough and before + slot < p[F_HALF_M3]
    q[Q_WET] = 1.0 if enough or f.slots[t, G_VITAL] != 0.0 else 0.0
    if on:
        q[Q_USED_J] = (p[F_STEADY_W] + f.slots[t, G_CLOCK_W]) * SLOT_S


@kernel
def _machine(f: Frame, t: int, on: bool, age: int, z: Array, y: Array, q: Array) -> float:
    """Fuel of running as such, quiet hours, starts, switching, refilling and trips."""
    p, row = f.par, f.slots[t]
    cost = row[G_SWITCH_J] if age == 0 and (on or t > 0) else 0.0
    y[Z_FUEL], y[Z_BURN], y[Z_RAN], y[Z_FUELH] = z[Z_FUEL], z[Z_BURN], z[Z_RAN], z[Z_FUELH]
    y[Z_DRY], y[Z_LOT] = 0.0, z[Z_LOT]
    stocked = (
        z[Z_FUELH] < p[F_STOCK_M3] + z[Z_BACK] * p[F_TRIP_M3] - p[F_TANK_M3]
    )  # there is stock to refill from
    if not on and age == 0 and stocked:
        y[Z_LOT] = z[Z_BACK]
    if on:
        burned = 0.0
        most = p[F_A] * SLOT_S + p[F_B] * min(q[Q_USED_J], p[F_RUN_W] * SLOT_S)
        if q[Q_WET] != 0.0:
            late = y[Z_LATE] if age == 0 else 0.0
            cost += p[F_ON_W] * (SLOT_S - late) + p[F_NIGHT_W] * max(0.0, row[G_NIGHT_S] - late)
            clock = (row[G_CLOCK_FIRST_J] if late <= 0.0 else 0.0) if age == 0 else row[G_CLOCK_J]
            burned = p[F_A] * (SLOT_S - late) + (clock / p[F_LHV] if p[F_LHV] > 0.0 else 0.0)
        elif q[Q_FED] != 0.0 or p[F_LOST_J] >= 0.0:
            ran = ran_least(p, age, most, z, y)
            cost += p[F_ON_W] * ran
            burned = p[F_A] * ran if q[Q_FED] != 0.0 else 0.0
        y[Z_FUEL] += burned
        y[Z_BURN] += burned
        y[Z_FUELH] += most
        y[Z_SPELLH] += most
        y[Z_RAN] += SLOT_S
        if started(p, age, z, q[Q_WET] != 0.0):
            cost += p[F_START_J]
        if p[F_TRIPS] == 0.0 and y[Z_FUEL] > p[F_STOCK_M3] + SPARE_M3:
            return BIG
    elif age == 0 and z[Z_BURN] > p[F_REFILL_M3]:
        y[Z_BURN] = 0.0
        if stocked and (f.slots.shape[0] - t) * SLOT_S > p[F_READY_S]:  # it counts once the tank is full
            cost += p[F_REFILL_J]
    return cost + trips_j(f, t, z, y)


@kernel
def held_j(f: Frame, z: Array) -> float:
    """What the steps of the box have cost so far by accounts that do not add up: each limit's fixed sum, the worst."""
    p = f.par
    total = 0.0
    low = p[F_LOWEST] - z[Z_LEAST]
    if low > KEPT_K:
        total += p[F_HOUSE_BREACH_J] + p[F_LOWEST_J] * low
    if z[Z_PIPE] != 0.0:
        total += p[F_PIPE_BREACH_J]
    at = Z_FIRST
    for _k in range(f.cold.shape[0]):
        if z[at + 5] != 0.0:
            total += p[F_FOOD_BREACH_J]
        if z[at + 4] > p[F_FOOD_S] + 1.0:
            total += p[F_FOOD_J]
        at += ZC_COUNT
    for v in range(f.levels.shape[0]):
        c, over = f.levels[v], z[at + 2]
        if c[V_KIND] == PIT and over > 2.0 * KEPT_M3:
            total += p[F_PIT_BREACH_J]
        elif c[V_KIND] == WATER:
            total += water_j(c, over)
            if over > c[V_STORED] + 2.0 * KEPT_M3:
                total += p[F_WATER_BREACH_J] + c[V_DRY] * (over - c[V_STORED])
        at += ZV_COUNT
    at += ZJ_COUNT * f.tasks.shape[0]
    for _m in range(f.medical.shape[0]):
        if z[at + 1] > VITAL_KEPT_S + 1.0:
            total += p[F_VITAL_J] + p[F_VITAL_W] * z[at + 1]
        at += ZM_COUNT
    return total


@kernel
def flags(f: Frame, z: Array) -> int:
    """Which limits are broken, as bits of a key."""
    bits = 0
    if f.par[F_LOWEST] - z[Z_LEAST] > KEPT_K:
        bits += 1
    if z[Z_PIPE] != 0.0:
        bits += 2
    at, one = Z_FIRST, 4
    for _k in range(f.cold.shape[0]):
        if z[at + 5] != 0.0:
            bits += one
        one *= 2
        at += ZC_COUNT
    for v in range(f.levels.shape[0]):
        over = z[at + 2]
        if over > (f.levels[v, V_STORED] if f.levels[v, V_KIND] == WATER else 0.0) + 2.0 * KEPT_M3:
            bits += one
        one *= 2
        at += ZV_COUNT
    at += ZJ_COUNT * f.tasks.shape[0]
    for _m in range(f.medical.shape[0]):
        if z[at + 1] > VITAL_KEPT_S + 1.0:
            bits += one
        one *= 2
        at += ZM_COUNT
    return bits


@kernel
def end_j(f: Frame, z: Array) -> float:
    """What the end of the horizon costs at least: warmth and cold still owed, and the longest run to restore them."""
    p = f.par
    share = p[F_RESTORE]
    total, longest = 0.0, 0.0
    set_c = 0.5 * (p[H_ON] + p[H_OFF])
    if p[F_HOUSE] != 0.0 and p[H_W] > 0.0:
        lack = p[H_C1] * max(0.0, set_c - z[Z_AH]) + p[H_C2] * max(0.0, set_c - z[Z_MH])
        loss = (p[H_U1] + p[H_U2]) * max(0.0, set_c - f.slots[f.slots.shape[0] - 1, G_OUT])
        longest = lack / max(p[H_W] - loss, LEAST_POWER_FRAC * p[H_W])
        if p[H_SETTLE] != 0.0:
            air = z[Z_AL] + share * max(0.0, set_c - z[Z_AL])
            mass = z[Z_ML] + share * max(0.0, set_c - z[Z_ML])
            total += p[H_PRICE] * (p[H_C1] * air + p[H_C2] * mass)
    if p[F_TANK] != 0.0 and p[K_PRICE] > 0.0:
        goal = 0.5 * (p[K_ON] + p[K_OFF])
        low, high = tank_low(z), tank_high(z)
        longest = max(longest, p[K_J] * max(0.0, goal - high) / p[K_W])
        total += p[K_PRICE] * p[K_J] * (low + share * max(0.0, goal - low))
    at = Z_FIRST
    for k in range(f.cold.shape[0]):
        longest = max(longest, _restore_cold(f, k, z, at))
        held = _held_most(f, k, z, at)
        total += f.cold[k, C_PRICE] * (share * max(0.0, held) - held)
        at += ZC_COUNT
    for v in range(f.levels.shape[0]):
        if f.levels[v, V_OUT] > 0.0:
            longest = max(longest, z[at] / f.levels[v, V_OUT])
        at += ZV_COUNT
    for j in range(f.tasks.shape[0]):
        longest = max(longest, z[at + ZJ_COUNT * j])
    return total + share * p[F_ON_W] * longest


@kernel
def _restore_cold(f: Frame, k: int, z: Array, at: int) -> float:
    """Least time to bring a cold store back."""
    c, out = f.cold[k], f.slots[f.slots.shape[0] - 1, G_OUT]
    if c[C_ONE] != 0.0:
        held = f.caps[k, 0, 0] * min(z[at], z[at + 2]) - c[C_HELD0]
    else:
        held = (
            _heat_at(f.knots[k], f.caps[k, 0], z[at])
            + _heat_at(f.knots[k], f.caps[k, 1], z[at + 1])
            - c[C_HELD0]
        )
    if held <= 0.0 or c[C_COOL_W] <= 0.0:
        return 0.0
    gain = c[C_UA] * max(0.0, c[C_AIR] * z[Z_AL] + c[C_OUTSIDE] * out - c[C_MID])
    return held / max(c[C_COOL_W] - gain, LEAST_POWER_FRAC * c[C_COOL_W])


@kernel
def _held_most(f: Frame, k: int, z: Array, at: int) -> float:
    c = f.cold[k]
    if c[C_ONE] != 0.0:
        return f.caps[k, 0, 0] * max(z[at + 1], z[at + 3]) - c[C_HELD0]
    warm = _heat_at(f.knots[k], f.caps[k, 0], z[at + 2]) + _heat_at(f.knots[k], f.caps[k, 1], z[at + 3])
    return warm - c[C_HELD0]
