"""What people need or put off: medical needs by the clock, and tasks that wait for power, with the water they draw."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.layout import (
    A_LEVELS,
    A_LOADS,
    A_MEDICAL,
    A_SLOT_MEDICAL,
    A_SLOTS,
    A_TASKS,
    B_CIRCUITS,
    B_LOADS,
    B_MEDICAL,
    B_TASKS,
    COLD_LEVEL_K,
    E_COUNT,
    E_LIVE,
    FAR,
    H_COUNT,
    H_LOAD,
    H_OWN_S,
    J_CIRCUIT,
    J_COUNT,
    J_DELAY_S,
    J_HOT,
    J_LOAD,
    J_TANK_MIN,
    J_TAP,
    L_CIRCUIT,
    L_COUNT,
    MACHINE,
    N_COLD,
    N_LEVELS,
    N_MEDICAL,
    N_TASKS,
    NEED_AT,
    NEED_COUNT,
    NEED_FIRST,
    NEED_LEFT_S,
    NEED_SHORT_S,
    P_HAS_TANK,
    P_WATER_LEVEL,
    Q_FIRST,
    R_COUNT,
    R_RUN,
    R_WANT,
    S_MODE_AT,
    S_SLOT,
    S_SOURCE,
    S_T,
    S_TANK,
    U_AT,
    U_BUSY,
    U_COUNT,
    U_OWED_S,
    V_COUNT,
    V_LOAD,
    Z_COUNT,
    Z_HOT,
    Z_TAP,
    Array,
    Ints,
)
from hearthold.engine.kernels.level import set_level, taps_run
from hearthold.engine.kernels.tank import draw_hot

_TINY = 1e-9


@kernel
def advance_medical(w: Array, at: Ints, s: Array, t: float) -> None:
    """Seconds that a medical need went unpowered beyond its own battery.

    The battery recharges, a second for each second of use, while its circuit is live: by day too, when nobody uses it.
    """
    slot = int(s[S_SLOT])
    for i in range(at[N_MEDICAL]):
        need = at[B_MEDICAL] + i * NEED_COUNT
        row = at[A_MEDICAL] + i * H_COUNT
        dt = t - s[need + NEED_AT]
        s[need + NEED_AT] = t
        load = int(w[row + H_LOAD])
        circuit = at[B_CIRCUITS] + int(w[at[A_LOADS] + load * L_COUNT + L_CIRCUIT]) * E_COUNT
        wanted = w[at[A_SLOT_MEDICAL] + slot * at[N_MEDICAL] + i] != 0.0
        if s[at[B_LOADS] + load * R_COUNT + R_RUN] != 0.0 or (s[circuit + E_LIVE] != 0.0 and not wanted):
            s[need + NEED_LEFT_S] = min(w[row + H_OWN_S], s[need + NEED_LEFT_S] + dt)
        elif wanted:
            short = dt - s[need + NEED_LEFT_S]
            if short > 0.0:
                if s[need + NEED_FIRST] >= FAR:
                    s[need + NEED_FIRST] = t - short
                s[need + NEED_SHORT_S] += short
            s[need + NEED_LEFT_S] = max(0.0, s[need + NEED_LEFT_S] - dt)


@kernel
def call_tasks(w: Array, at: Ints, s: Array) -> None:
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
def run_tasks(w: Array, at: Ints, s: Array) -> None:
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
        pump = int(w[at[A_LEVELS] + water * V_COUNT + V_LOAD])  # -1 where the hookup does not feed it
        running = pump >= 0 and s[at[B_LOADS] + pump * R_COUNT + R_RUN] != 0.0
        set_level(w, at, s, water, tap, running)
    if w[P_HAS_TANK] != 0.0:
        draw_hot(w, at, s, hot, taps_run(w, at, s))
