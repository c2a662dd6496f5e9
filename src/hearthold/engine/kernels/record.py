"""Writing a trace: temperatures at each minute, power as means over each minute. It reads the state, never moves it."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from math import sqrt

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.cold import modes_of, room_sums
from hearthold.engine.kernels.decays import decay, third
from hearthold.engine.kernels.layout import (
    A_COLD,
    A_LEVELS,
    A_LOADS,
    B_COLD,
    B_LEVELS,
    C_COUNT,
    C_G,
    C_UA,
    D_AT,
    D_COOL_W,
    D_CORE,
    D_COUNT,
    D_ROOM1,
    D_ROOM2,
    D_SEG1,
    D_SEG2,
    D_SHELL,
    L_CIRCUIT,
    L_COUNT,
    L_WA,
    L_WB,
    M_B1,
    M_B2,
    M_C1,
    M_C2,
    M_KF,
    M_KS,
    M_W1,
    M_W2,
    MINUTE_S,
    N_COLD,
    N_LEVELS,
    N_LOADS,
    P_B1,
    P_B2,
    P_BAT_J,
    P_C1,
    P_C2,
    P_G,
    P_KF,
    P_KS,
    P_LEG_V,
    P_PIPE_RATIO,
    P_TANK_FLOW,
    P_TANK_IN,
    P_TANK_J,
    P_TANK_UA,
    P_U1,
    P_U2,
    P_W1,
    P_W2,
    RUN,
    RUNNING,
    S_AIR,
    S_AIR_AT,
    S_AIR_SUM,
    S_AIR_SUM2,
    S_BAT,
    S_BAT_W,
    S_CHARGE_W,
    S_FUEL,
    S_FUEL_AT,
    S_HEAT_W,
    S_LOG,
    S_MASS,
    S_MODE,
    S_OUT_C,
    S_QA,
    S_QB,
    S_RATE,
    S_RECORDED,
    S_SOLAR_W,
    S_STOCK,
    S_TANK,
    S_TANK_AT,
    S_TANK_HOT,
    S_TANK_SUM0,
    S_TANK_W,
    S_WA,
    S_WB,
    T_AIR,
    T_BAT,
    T_FUEL,
    T_MASS,
    T_OUT,
    T_PIPE,
    T_STOCK,
    T_TANK,
    V_CAP,
    V_COUNT,
    W_AT,
    W_COUNT,
    W_RATE,
    W_X,
    X_CHARGE,
    X_FUEL,
    X_N,
    X_ON,
    X_SOLAR,
    X_VA_A,
    X_VA_B,
    X_WA,
    X_WB,
    Array,
    Ints,
    Tape,
)  # fmt: skip
from hearthold.engine.kernels.sets import has


@kernel
def record(w: Array, at: Ints, s: Array, tape: Tape, before: float, t: float) -> None:
    """Record the stretch from `before` to t, in which every input was constant."""
    if t > before:
        _record_power(w, at, s, tape, before, t)
    i = int(s[S_RECORDED])
    while i < tape.house.shape[0] and i * MINUTE_S <= t:
        _record_minute(w, at, s, tape, i)
        i += 1
    s[S_RECORDED] = float(i)


@kernel
def _record_power(w: Array, at: Ints, s: Array, tape: Tape, before: float, t: float) -> None:
    """Spread the constant powers of a stretch over the minutes it touches."""
    volt = w[P_LEG_V]
    first, last = int(before // MINUTE_S), int(t // MINUTE_S)
    for i in range(first, min(last + 1, tape.power.shape[0])):
        share = (min(t, (i + 1) * MINUTE_S) - max(before, i * MINUTE_S)) / MINUTE_S
        if share <= 0.0:
            continue
        row = tape.power[i]
        row[X_WA] += share * s[S_WA]
        row[X_WB] += share * s[S_WB]
        row[X_VA_A] += share * sqrt(s[S_WA] ** 2 + s[S_QA] ** 2)
        row[X_VA_B] += share * sqrt(s[S_WB] ** 2 + s[S_QB] ** 2)
        row[X_N] += share * sqrt((s[S_WA] - s[S_WB]) ** 2 + (s[S_QA] - s[S_QB]) ** 2) / volt
        row[X_ON] += share if s[S_MODE] == RUNNING else 0.0
        row[X_CHARGE] += share * s[S_CHARGE_W]
        row[X_SOLAR] += share * s[S_SOLAR_W]
        row[X_FUEL] += share * s[S_RATE]
        for j in range(at[N_LOADS]):
            if has(at, s, RUN, j):
                tape.circuits[i, int(w[at[A_LOADS] + j * L_COUNT + L_CIRCUIT])] += share * (
                    w[at[A_LOADS] + j * L_COUNT + L_WA] + w[at[A_LOADS] + j * L_COUNT + L_WB]
                )


@kernel
def _record_minute(w: Array, at: Ints, s: Array, tape: Tape, i: int) -> None:
    """Every store as it is at minute i, from its last move on; nothing is moved."""
    t = i * MINUTE_S
    air, mass, air_sum, air_sum2 = _peek_house(w, at, s, t)
    row = tape.house[i]
    row[T_AIR], row[T_MASS], row[T_OUT] = air, mass, s[S_OUT_C]
    row[T_PIPE] = s[S_OUT_C] + w[P_PIPE_RATIO] * (air - s[S_OUT_C])
    row[T_TANK] = _peek_tank(w, at, s, t, air_sum)
    row[T_FUEL] = s[S_FUEL] - s[S_RATE] * (t - s[S_FUEL_AT])
    row[T_STOCK] = s[S_STOCK]
    row[T_BAT] = min(w[P_BAT_J], max(0.0, s[S_BAT] + s[S_BAT_W] * (t - s[S_FUEL_AT])))
    for k in range(at[N_COLD]):
        tape.cold[i, k, 0], tape.cold[i, k, 1] = _peek_cold(w, at, s, k, t, air_sum, air_sum2)
    for v in range(at[N_LEVELS]):
        u = at[B_LEVELS] + v * W_COUNT
        tape.levels[i, v] = max(
            0.0, min(w[at[A_LEVELS] + v * V_COUNT + V_CAP], s[u + W_X] + s[u + W_RATE] * (t - s[u + W_AT]))
        )


@kernel
def _peek_house(w: Array, at: Ints, s: Array, t: float) -> tuple[float, float, float, float]:
    """Air, mass, the integral of the air temperature at t, and the integral of that."""
    air, mass, outdoor, dt = s[S_AIR], s[S_MASS], s[S_OUT_C], t - s[S_AIR_AT]
    f1 = (w[P_U1] * (outdoor - air) + w[P_G] * (mass - air) + s[S_HEAT_W]) / w[P_C1]
    f2 = (w[P_U2] * (outdoor - mass) + w[P_G] * (air - mass)) / w[P_C2]
    e_fast, s_fast = decay(w[P_KF], dt)
    e_slow, s_slow = decay(w[P_KS], dt)
    a_fast, a_slow = w[P_W1] * f1 + w[P_B1] * f2, w[P_W2] * f1 - w[P_B1] * f2
    m_fast, m_slow = w[P_W2] * f2 + w[P_B2] * f1, w[P_W1] * f2 - w[P_B2] * f1
    return (
        air + a_fast * e_fast + a_slow * e_slow,
        mass + m_fast * e_fast + m_slow * e_slow,
        s[S_AIR_SUM] + air * dt + a_fast * s_fast + a_slow * s_slow,
        s[S_AIR_SUM2]
        + dt * (s[S_AIR_SUM] + 0.5 * dt * air)
        + a_fast * third(w[P_KF], dt, s_fast)
        + a_slow * third(w[P_KS], dt, s_slow),
    )


@kernel
def _peek_tank(w: Array, at: Ints, s: Array, t: float, air_sum: float) -> float:
    dt = t - s[S_TANK_AT]
    if dt <= 0.0 or w[P_TANK_J] <= 0.0:
        return s[S_TANK]
    room = (air_sum - s[S_TANK_SUM0]) / dt
    flow_w_per_k = w[P_TANK_FLOW] * s[S_TANK_HOT]
    k = (w[P_TANK_UA] + flow_w_per_k) / w[P_TANK_J]
    rate = w[P_TANK_UA] * (room - s[S_TANK]) + flow_w_per_k * (w[P_TANK_IN] - s[S_TANK]) + s[S_TANK_W]
    e, _ = decay(k, dt)
    return s[S_TANK] + rate / w[P_TANK_J] * e


@kernel
def _peek_cold(
    w: Array, at: Ints, s: Array, k: int, t: float, air_sum: float, air_sum2: float
) -> tuple[float, float]:
    d, c = at[B_COLD] + k * D_COUNT, at[A_COLD] + k * C_COUNT
    dt = t - s[d + D_AT]
    if dt <= 0.0:
        return s[d + D_SHELL], s[d + D_CORE]
    room_sum, room_sum2 = room_sums(w, s, c, t, air_sum, air_sum2)
    room = (room_sum - s[d + D_ROOM1]) / dt
    late = 0.5 * dt * (room_sum + s[d + D_ROOM1]) - (room_sum2 - s[d + D_ROOM2])
    m = modes_of(at, k, int(s[d + D_SEG1]), int(s[d + D_SEG2]))
    shell, core = s[d + D_SHELL], s[d + D_CORE]
    across = w[c + C_G] * (core - shell)
    f1 = (w[c + C_UA] * (room - shell) + across - s[d + D_COOL_W]) / w[m + M_C1]
    f2 = -across / w[m + M_C2]
    e_fast, _ = decay(w[m + M_KF], dt)
    e_slow, _ = decay(w[m + M_KS], dt)
    push = w[c + C_UA] / w[m + M_C1] * late / dt
    p_fast, p_slow = push * w[m + M_KF] * e_fast, push * w[m + M_KS] * e_slow
    return (
        shell
        + w[m + M_W1] * p_fast
        + w[m + M_W2] * p_slow
        + (w[m + M_W1] * f1 + w[m + M_B1] * f2) * e_fast
        + (w[m + M_W2] * f1 - w[m + M_B1] * f2) * e_slow,
        core
        + w[m + M_B2] * (p_fast - p_slow)
        + (w[m + M_W2] * f2 + w[m + M_B2] * f1) * e_fast
        + (w[m + M_W1] * f2 - w[m + M_B2] * f1) * e_slow,
    )


@kernel
def log(at: Ints, s: Array, tape: Tape, t: float, what: float, which: float, value: float) -> None:
    """One line of the log, while there is room for it."""
    i = int(s[S_LOG])
    if i < tape.log.shape[0]:
        row = tape.log[i]
        row[0], row[1], row[2], row[3] = t, what, which, value
        for j in range(tape.log_loads.shape[1]):
            tape.log_loads[i, j] = 1.0 if has(at, s, RUN, j) else 0.0
        s[S_LOG] = float(i + 1)
