"""Who runs: which loads get power, which starts must wait, what the legs carry, and what fuel and battery then do."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from math import sqrt

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.cold import switch_cold
from hearthold.engine.kernels.house import advance_house, foretell_house, house_heat_w
from hearthold.engine.kernels.layout import (
    A_LEVELS,
    A_LOADS,
    A_MEDICAL,
    A_SLOT_MEDICAL,
    A_SLOTS,
    A_TASKS,
    B_CIRCUITS,
    B_LEVELS,
    B_LOADS,
    B_MEDICAL,
    B_TASKS,
    BY_BLOWER,
    BY_COLD,
    BY_HEATER,
    BY_LEVEL,
    BY_TANK,
    COLD_LEVEL_K,
    E_COUNT,
    E_LIVE,
    FAR,
    H_COUNT,
    H_LOAD,
    H_OWN_S,
    INVERTER,
    J_CIRCUIT,
    J_COUNT,
    J_DELAY_S,
    J_HOT,
    J_LOAD,
    J_TANK_MIN,
    J_TAP,
    K_BAT_START,
    K_BAT_STOP,
    K_KIND,
    L_CIRCUIT,
    L_COUNT,
    L_HEAT_FRAC,
    L_KIND,
    L_MOTOR,
    L_QA,
    L_QB,
    L_RANK,
    L_RUN_UP_S,
    L_SQA,
    L_SQB,
    L_SWA,
    L_SWB,
    L_WA,
    L_WB,
    L_WHICH,
    LIM_COUNT,
    LIM_LEG_START_VA,
    LIM_LEG_VA,
    LIM_LEG_W,
    LIM_RUN_W,
    LIM_START_VA,
    LIM_START_W,
    LIMITS,
    MACHINE,
    N_COLD,
    N_LEVELS,
    N_LOADS,
    N_MEDICAL,
    N_TASKS,
    NEED_AT,
    NEED_COUNT,
    NEED_FIRST,
    NEED_LEFT_S,
    NEED_SHORT_S,
    NO_SOURCE,
    O_BAT_DOWN_S,
    O_BAT_IDLE_J,
    O_BAT_IN_J,
    O_BAT_MIN_J,
    O_BAT_OUT_J,
    O_CHARGE_J,
    O_ENERGY_J,
    O_FUEL_M3,
    O_LOAD_J,
    O_NEUTRAL,
    O_NIGHT_RUN_S,
    O_PEAK_A,
    O_PEAK_B,
    O_PEAK_START_VA,
    O_PEAK_W,
    O_RUN_S,
    O_SOLAR_J,
    O_WAIT_S,
    O_WAITS,
    P_BAT_CHARGE_W,
    P_BAT_IDLE_W,
    P_BAT_IN,
    P_BAT_INSIDE,
    P_BAT_J,
    P_BAT_MIN_C,
    P_BAT_OUT,
    P_BAT_RESTART_J,
    P_FUEL_A,
    P_FUEL_B,
    P_HAS_BATTERY,
    P_HAS_TANK,
    P_LEG_V,
    P_MANAGED,
    P_TRIP_AFTER_S,
    P_WATER_LEVEL,
    Q_BATTERY,
    Q_BUSY,
    Q_FIRST,
    Q_FUEL,
    Q_OVER,
    R_COUNT,
    R_NEXT,
    R_RUN,
    R_SINCE,
    R_WANT,
    S_AIR,
    S_BAT,
    S_BAT_DOWN,
    S_BAT_W,
    S_BUSY,
    S_CHARGE_W,
    S_FUEL,
    S_FUEL_AT,
    S_HEAT_DIRTY,
    S_HEAT_W,
    S_LOADS_W,
    S_MODE_AT,
    S_NIGHT,
    S_OUT_C,
    S_QA,
    S_QB,
    S_RATE,
    S_SLOT,
    S_SOLAR_W,
    S_SOURCE,
    S_T,
    S_TANK,
    S_WA,
    S_WAITING,
    S_WB,
    THERMO,
    U_AT,
    U_BUSY,
    U_COUNT,
    U_OWED_S,
    V_COUNT,
    V_LOAD,
    W_COUNT,
    W_IN,
    Z_COUNT,
    Z_HOT,
    Z_TAP,
    Array,
    Ints,
)  # fmt: skip
from hearthold.engine.kernels.level import set_level, taps_run
from hearthold.engine.kernels.tank import draw_hot, heat_tank

_TINY = 1e-9


@kernel
def advance_power(w: Array, at: Ints, s: Array, t: float) -> None:
    """Burn fuel, move the battery and keep the accounts up to t, at the rates that held until now."""
    dt = t - s[S_FUEL_AT]
    if dt <= 0.0:
        return
    s[S_FUEL_AT] = t
    load_w = s[S_WA] + s[S_WB]
    s[O_WAIT_S] += s[S_WAITING] * dt
    if s[S_SOURCE] == MACHINE:
        burned = s[S_RATE] * dt
        s[S_FUEL] -= burned
        s[O_FUEL_M3] += burned
        s[O_RUN_S] += dt
        s[O_NIGHT_RUN_S] += s[S_NIGHT] * dt
        s[O_ENERGY_J] += (load_w + s[S_CHARGE_W]) * dt
        s[O_CHARGE_J] += s[S_CHARGE_W] * dt
    s[O_LOAD_J] += load_w * dt
    if w[P_HAS_BATTERY] != 0.0:
        s[S_BAT] += s[S_BAT_W] * dt
        if s[S_BAT] < 0.0:
            s[S_BAT] = 0.0
        s[O_BAT_MIN_J] = min(s[O_BAT_MIN_J], s[S_BAT])
        if s[S_BAT_W] > 0.0:
            s[O_BAT_IN_J] += s[S_BAT_W] * dt
        else:
            s[O_BAT_OUT_J] -= s[S_BAT_W] * dt
        if s[S_SOURCE] == INVERTER:
            s[O_BAT_IDLE_J] += w[P_BAT_IDLE_W] * dt
        s[O_SOLAR_J] += s[S_SOLAR_W] * dt
        if s[S_BAT_DOWN] != 0.0:
            s[O_BAT_DOWN_S] += dt


@kernel
def advance_medical(w: Array, at: Ints, s: Array, t: float) -> None:
    """Seconds that a medical need went unpowered beyond its own battery (which recharges while powered)."""
    slot = int(s[S_SLOT])
    for i in range(at[N_MEDICAL]):
        need = at[B_MEDICAL] + i * NEED_COUNT
        row = at[A_MEDICAL] + i * H_COUNT
        dt = t - s[need + NEED_AT]
        s[need + NEED_AT] = t
        load = int(w[row + H_LOAD])
        if s[at[B_LOADS] + load * R_COUNT + R_RUN] != 0.0:
            s[need + NEED_LEFT_S] = min(w[row + H_OWN_S], s[need + NEED_LEFT_S] + dt)
        elif w[at[A_SLOT_MEDICAL] + slot * at[N_MEDICAL] + i] != 0.0:
            short = dt - s[need + NEED_LEFT_S]
            if short > 0.0:
                if s[need + NEED_FIRST] >= FAR:
                    s[need + NEED_FIRST] = t - short
                s[need + NEED_SHORT_S] += short
            s[need + NEED_LEFT_S] = max(0.0, s[need + NEED_LEFT_S] - dt)


@kernel
def _choose(w: Array, at: Ints, s: Array) -> None:
    """Managed supply: what runs goes on while it fits; what wants to start does so when it fits, first things first."""
    lim = LIMITS + LIM_COUNT * (0 if s[S_SOURCE] == MACHINE else 1)
    s[S_WA] = s[S_QA] = s[S_WB] = s[S_QB] = 0.0
    starting = False
    for j in range(at[N_LOADS]):
        y = at[B_LOADS] + j * R_COUNT
        s[y + R_NEXT] = 0.0
        if (
            s[y + R_WANT] == 0.0
            or s[at[B_CIRCUITS] + int(w[at[A_LOADS] + j * L_COUNT + L_CIRCUIT]) * E_COUNT + E_LIVE] == 0.0
        ):
            continue
        if s[y + R_RUN] == 0.0:
            starting = True
        elif _fits(w, at, s, lim, j):
            s[y + R_NEXT] = 1.0
            _add(w, at, s, j, 1.0)
    if starting:
        _admit(w, at, s, lim)


@kernel(inline=True)
def _add(w: Array, at: Ints, s: Array, j: int, sign: float) -> None:
    """Add load j to the sums of the legs, or take it out."""
    x = at[A_LOADS] + j * L_COUNT
    s[S_WA] += sign * w[x + L_WA]
    s[S_QA] += sign * w[x + L_QA]
    s[S_WB] += sign * w[x + L_WB]
    s[S_QB] += sign * w[x + L_QB]


@kernel(inline=True)
def _within(w: Array, lim: int, wa: float, qa: float, wb: float, qb: float) -> bool:
    """Whether running sums stay within the machine and within each leg."""
    if wa + wb > w[lim + LIM_RUN_W] or wa > w[lim + LIM_LEG_W] or wb > w[lim + LIM_LEG_W]:
        return False
    most = w[lim + LIM_LEG_VA] * w[lim + LIM_LEG_VA]
    return wa * wa + qa * qa <= most and wb * wb + qb * qb <= most


@kernel
def _fits(w: Array, at: Ints, s: Array, lim: int, j: int) -> bool:
    """Whether load j, once running, fits beside what is taken already."""
    x = at[A_LOADS] + j * L_COUNT
    return _within(
        w, lim, s[S_WA] + w[x + L_WA], s[S_QA] + w[x + L_QA], s[S_WB] + w[x + L_WB], s[S_QB] + w[x + L_QB]
    )


@kernel
def _start_va(w: Array, at: Ints, s: Array, lim: int, j: int) -> float:
    """Apparent power in the second in which load j starts, -1 if source or leg is too weak for it."""
    x = at[A_LOADS] + j * L_COUNT
    wa, wb = s[S_WA] + w[x + L_SWA], s[S_WB] + w[x + L_SWB]
    qa, qb = s[S_QA] + w[x + L_SQA], s[S_QB] + w[x + L_SQB]
    all_va = sqrt((wa + wb) ** 2 + (qa + qb) ** 2)
    leg_va = sqrt(max(wa * wa + qa * qa, wb * wb + qb * qb))
    if wa + wb > w[lim + LIM_START_W] or all_va > w[lim + LIM_START_VA] or leg_va > w[lim + LIM_LEG_START_VA]:
        return -1.0
    return all_va


@kernel
def _can_start(w: Array, at: Ints, s: Array, lim: int, j: int) -> bool:
    return _fits(w, at, s, lim, j) and (
        w[at[A_LOADS] + j * L_COUNT + L_MOTOR] == 0.0 or _start_va(w, at, s, lim, j) >= 0.0
    )


@kernel
def _admit(w: Array, at: Ints, s: Array, lim: int) -> None:
    """Let new loads start in order of priority; a motor waits for the one before it to run up."""
    for j in range(at[N_LOADS]):
        x, y = at[A_LOADS] + j * L_COUNT, at[B_LOADS] + j * R_COUNT
        if (
            s[y + R_WANT] == 0.0
            or s[y + R_RUN] != 0.0
            or s[at[B_CIRCUITS] + int(w[x + L_CIRCUIT]) * E_COUNT + E_LIVE] == 0.0
        ):
            continue
        motor = w[x + L_MOTOR] != 0.0
        if motor and s[S_BUSY] > s[S_T] + _TINY:
            s[Q_BUSY] = s[S_BUSY]
            continue
        tight = not _can_start(w, at, s, lim, j)
        if tight and not _make_room(w, at, s, lim, j):
            continue
        if motor:
            s[O_PEAK_START_VA] = max(s[O_PEAK_START_VA], _start_va(w, at, s, lim, j))
            s[S_BUSY] = s[S_T] + w[x + L_RUN_UP_S]
            if tight:
                s[Q_BUSY] = s[S_BUSY]  # what made room may come back once the motor has run up
        s[y + R_NEXT] = 1.0
        _add(w, at, s, j, 1.0)


@kernel
def _make_room(w: Array, at: Ints, s: Array, lim: int, j: int) -> bool:
    """Switch off running loads of a lower class, the least first, until load j can start; all or nothing."""
    rank, n = w[at[A_LOADS] + j * L_COUNT + L_RANK], at[N_LOADS]
    made = False
    for back in range(n):
        i = n - 1 - back
        if w[at[A_LOADS] + i * L_COUNT + L_RANK] <= rank:
            break
        if s[at[B_LOADS] + i * R_COUNT + R_NEXT] == 1.0:
            s[at[B_LOADS] + i * R_COUNT + R_NEXT] = 2.0
            _add(w, at, s, i, -1.0)
            made = _can_start(w, at, s, lim, j)
            if made:
                break
    for i in range(n):
        if s[at[B_LOADS] + i * R_COUNT + R_NEXT] == 2.0:
            s[at[B_LOADS] + i * R_COUNT + R_NEXT] = 0.0 if made else 1.0
            if not made:
                _add(w, at, s, i, 1.0)
    return made


@kernel
def _let_all(w: Array, at: Ints, s: Array) -> None:
    """Unmanaged supply: everything that wants to runs; a breaker answers (see `machine.overloaded`)."""
    lim = LIMITS + LIM_COUNT * (0 if s[S_SOURCE] == MACHINE else 1)
    wa = qa = wb = qb = sa = ta = sb = tb = 0.0
    for j in range(at[N_LOADS]):
        x, y = at[A_LOADS] + j * L_COUNT, at[B_LOADS] + j * R_COUNT
        live = s[at[B_CIRCUITS] + int(w[x + L_CIRCUIT]) * E_COUNT + E_LIVE] != 0.0
        s[y + R_NEXT] = 1.0 if s[y + R_WANT] != 0.0 and live else 0.0
        if s[y + R_NEXT] == 0.0:
            continue
        wa, qa, wb, qb = wa + w[x + L_WA], qa + w[x + L_QA], wb + w[x + L_WB], qb + w[x + L_QB]
        if s[y + R_RUN] == 0.0:  # all that start in this instant start together
            sa, ta = sa + w[x + L_SWA] - w[x + L_WA], ta + w[x + L_SQA] - w[x + L_QA]
            sb, tb = sb + w[x + L_SWB] - w[x + L_WB], tb + w[x + L_SQB] - w[x + L_QB]
    all_w = wa + wb + sa + sb
    all_va = sqrt(all_w**2 + (qa + qb + ta + tb) ** 2)
    leg_va = max(sqrt((wa + sa) ** 2 + (qa + ta) ** 2), sqrt((wb + sb) ** 2 + (qb + tb) ** 2))
    if sa + sb > 0.0:
        s[O_PEAK_START_VA] = max(s[O_PEAK_START_VA], all_va)
    if all_w > w[lim + LIM_START_W] or all_va > w[lim + LIM_START_VA] or leg_va > w[lim + LIM_LEG_START_VA]:
        s[Q_OVER] = s[S_T]
    elif _within(w, lim, wa, qa, wb, qb):
        s[Q_OVER] = FAR
    elif s[Q_OVER] >= FAR:
        s[Q_OVER] = s[S_T] + w[P_TRIP_AFTER_S]


@kernel
def _call_tasks(w: Array, at: Ints, s: Array) -> None:
    """Ask for the loads of tasks that are outstanding, once the machine has run for their delay."""
    q0 = Q_FIRST + at[N_COLD] + at[N_LEVELS]
    for i in range(at[N_TASKS]):
        task, u = at[A_TASKS] + i * J_COUNT, at[B_TASKS] + i * U_COUNT
        _advance_task(s, u, s[S_T])
        ready = s[u + U_OWED_S] > 1e-6 and s[S_SOURCE] == MACHINE
        since = s[S_T] - s[S_MODE_AT]
        s[q0 + i] = FAR
        if ready and since < w[task + J_DELAY_S] - _TINY:
            s[q0 + i] = s[S_MODE_AT] + w[task + J_DELAY_S]
            ready = False
        if ready and s[u + U_BUSY] == 0.0 and s[S_TANK] < w[task + J_TANK_MIN] - COLD_LEVEL_K:
            ready = False
        if w[task + J_LOAD] >= 0.0:
            s[at[B_LOADS] + int(w[task + J_LOAD]) * R_COUNT + R_WANT] = 1.0 if ready else 0.0
        elif (
            w[task + J_CIRCUIT] >= 0.0
            and s[at[B_CIRCUITS] + int(w[task + J_CIRCUIT]) * E_COUNT + E_LIVE] == 0.0
        ):
            ready = False
        s[u + U_BUSY] = 1.0 if ready else 0.0


@kernel(inline=True)
def _advance_task(s: Array, u: int, t: float) -> None:
    if s[u + U_BUSY] != 0.0:
        s[u + U_OWED_S] = max(0.0, s[u + U_OWED_S] - (t - s[u + U_AT]))
    s[u + U_AT] = t


@kernel
def _run_tasks(w: Array, at: Ints, s: Array) -> None:
    """Set the draws of taps and tank from the time of day and the tasks now under way."""
    q0 = Q_FIRST + at[N_COLD] + at[N_LEVELS]
    slot = int(s[S_SLOT])
    tap, hot = w[at[A_SLOTS] + slot * Z_COUNT + Z_TAP], w[at[A_SLOTS] + slot * Z_COUNT + Z_HOT]
    for i in range(at[N_TASKS]):
        task, u = at[A_TASKS] + i * J_COUNT, at[B_TASKS] + i * U_COUNT
        if w[task + J_LOAD] >= 0.0 and s[at[B_LOADS] + int(w[task + J_LOAD]) * R_COUNT + R_RUN] == 0.0:
            s[u + U_BUSY] = 0.0
        if s[u + U_BUSY] != 0.0:
            tap += w[task + J_TAP]
            hot += w[task + J_HOT]
            s[q0 + i] = s[S_T] + s[u + U_OWED_S]
    water = int(w[P_WATER_LEVEL])
    if water >= 0:
        set_level(
            w,
            at,
            s,
            water,
            tap,
            s[at[B_LOADS] + int(w[at[A_LEVELS] + water * V_COUNT + V_LOAD]) * R_COUNT + R_RUN] != 0.0,
        )
    if w[P_HAS_TANK] != 0.0:
        draw_hot(w, at, s, hot, taps_run(w, at, s))


@kernel
def settle(w: Array, at: Ints, s: Array) -> None:
    """Decide anew what runs, and carry it through to every store, the fuel and the battery."""
    advance_power(w, at, s, s[S_T])
    advance_medical(w, at, s, s[S_T])
    _call_tasks(w, at, s)
    if s[S_SOURCE] == NO_SOURCE:
        for j in range(at[N_LOADS]):
            s[at[B_LOADS] + j * R_COUNT + R_NEXT] = 0.0
    elif w[P_MANAGED] != 0.0:
        _choose(w, at, s)
    else:
        _let_all(w, at, s)
    wa = qa = wb = qb = heat = waiting = 0.0
    powered = s[S_SOURCE] != NO_SOURCE
    for j in range(at[N_LOADS]):
        x, y = at[A_LOADS] + j * L_COUNT, at[B_LOADS] + j * R_COUNT
        if s[y + R_NEXT] != 0.0:
            wa, qa, wb, qb = wa + w[x + L_WA], qa + w[x + L_QA], wb + w[x + L_WB], qb + w[x + L_QB]
            heat += w[x + L_HEAT_FRAC] * (w[x + L_WA] + w[x + L_WB])
            s[y + R_SINCE] = FAR
        elif (
            powered
            and s[y + R_WANT] != 0.0
            and s[at[B_CIRCUITS] + int(w[x + L_CIRCUIT]) * E_COUNT + E_LIVE] != 0.0
        ):
            waiting += 1.0
            if s[y + R_SINCE] >= FAR:
                s[y + R_SINCE] = s[S_T]
                s[O_WAITS] += 1.0
        if s[y + R_NEXT] != s[y + R_RUN]:
            s[y + R_RUN] = s[y + R_NEXT]
            _carry(w, at, s, j)
    s[S_WA], s[S_QA], s[S_WB], s[S_QB], s[S_WAITING] = wa, qa, wb, qb, waiting
    if heat != s[S_LOADS_W]:
        s[S_LOADS_W] = heat
        s[S_HEAT_DIRTY] = 1.0
    _note_peaks(w, at, s)
    set_rates(w, at, s)
    _run_tasks(w, at, s)


@kernel
def _carry(w: Array, at: Ints, s: Array, j: int) -> None:
    """Load j has started or stopped: tell the store that it works for."""
    x, running = at[A_LOADS] + j * L_COUNT, s[at[B_LOADS] + j * R_COUNT + R_RUN] != 0.0
    kind = w[x + L_KIND]
    if kind == BY_COLD:
        switch_cold(w, at, s, j, running)
    elif kind == BY_LEVEL:
        i = int(w[x + L_WHICH])
        set_level(w, at, s, i, s[at[B_LEVELS] + i * W_COUNT + W_IN], running)
    elif kind == BY_TANK:
        heat_tank(w, at, s)
    elif kind == BY_HEATER:
        s[S_HEAT_DIRTY] = 1.0
        if w[P_HAS_TANK] != 0.0:
            heat_tank(w, at, s)
    elif kind == BY_BLOWER:
        s[S_HEAT_DIRTY] = 1.0


@kernel(inline=True)
def _note_peaks(w: Array, at: Ints, s: Array) -> None:
    """Highest running current of each leg and the neutral, and the highest running power."""
    volt = w[P_LEG_V]
    s[O_PEAK_A] = max(s[O_PEAK_A], sqrt(s[S_WA] ** 2 + s[S_QA] ** 2) / volt)
    s[O_PEAK_B] = max(s[O_PEAK_B], sqrt(s[S_WB] ** 2 + s[S_QB] ** 2) / volt)
    neutral = sqrt((s[S_WA] - s[S_WB]) ** 2 + (s[S_QA] - s[S_QB]) ** 2) / volt
    s[O_NEUTRAL] = max(s[O_NEUTRAL], neutral)
    s[O_PEAK_W] = max(s[O_PEAK_W], s[S_WA] + s[S_WB])


@kernel
def set_rates(w: Array, at: Ints, s: Array) -> None:
    """Fuel and battery rates from the sums that now hold, and when they next run into an end."""
    load_w = s[S_WA] + s[S_WB]
    s[S_CHARGE_W] = 0.0
    if w[P_HAS_BATTERY] != 0.0:
        _set_battery(w, at, s, load_w)
    s[Q_FUEL] = FAR
    s[S_RATE] = 0.0
    if s[S_SOURCE] == MACHINE:
        s[S_RATE] = w[P_FUEL_A] + w[P_FUEL_B] * (load_w + s[S_CHARGE_W])
        if s[S_FUEL] < FAR * 0.1 and s[S_RATE] > 0.0:
            s[Q_FUEL] = s[S_T] + max(0.0, s[S_FUEL]) / s[S_RATE]


@kernel
def _set_battery(w: Array, at: Ints, s: Array, load_w: float) -> None:
    """Charge from machine and sun, or discharge into the house; then when it is full, empty or at a rule's level."""
    full = s[S_BAT] >= w[P_BAT_J] * (1.0 - _TINY)
    cell_c = s[S_AIR] if w[P_BAT_INSIDE] != 0.0 else s[S_OUT_C]
    may_charge = not full and cell_c >= w[P_BAT_MIN_C]
    surplus = s[S_SOLAR_W]
    if s[S_SOURCE] == INVERTER:
        surplus -= load_w / w[P_BAT_OUT] + w[P_BAT_IDLE_W]
    elif s[S_SOURCE] == MACHINE and may_charge:
        room_w = w[LIMITS + LIM_RUN_W] - load_w
        room_w = min(room_w, 2.0 * (w[LIMITS + LIM_LEG_W] - max(s[S_WA], s[S_WB])))
        s[S_CHARGE_W] = max(0.0, min(w[P_BAT_CHARGE_W] - surplus, room_w))
        surplus += s[S_CHARGE_W]
    if surplus > 0.0:
        surplus = min(surplus, w[P_BAT_CHARGE_W]) * w[P_BAT_IN] if may_charge else 0.0
    s[S_BAT_W] = surplus
    target = FAR
    if surplus > 0.0:
        target = w[P_BAT_J]
        if s[S_BAT_DOWN] != 0.0 and s[S_BAT] < w[P_BAT_RESTART_J] * (1.0 - _TINY):
            target = w[P_BAT_RESTART_J]
        if w[K_KIND] == THERMO and s[S_BAT] < w[K_BAT_STOP] * (1.0 - _TINY):
            target = min(target, w[K_BAT_STOP])
    elif surplus < 0.0:
        target = 0.0
        if w[K_KIND] == THERMO and s[S_BAT] > w[K_BAT_START] * (1.0 + _TINY):
            target = w[K_BAT_START]
    s[Q_BATTERY] = s[S_T] + max(0.0, (target - s[S_BAT]) / surplus) if target < FAR else FAR


@kernel
def reheat(w: Array, at: Ints, s: Array) -> None:
    """The heat into the air may have changed: move the house to now, then go on with the new heat."""
    advance_house(w, at, s, s[S_T])
    s[S_HEAT_W] = house_heat_w(w, at, s)
    foretell_house(w, at, s)
