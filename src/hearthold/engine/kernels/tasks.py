"""What people need or put off: medical needs by the clock, and tasks that wait for power, with the water they draw."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.bits import lowest
from hearthold.engine.jit import kernel
from hearthold.engine.kernels.layout import (
    A_BATTERY_FEEDS,
    A_LEVELS,
    A_MEDICAL,
    A_SLOT_MEDICAL,
    A_SLOTS,
    A_TASKS,
    AT_WORK,
    B_CIRCUITS,
    B_MEDICAL,
    B_TASKS,
    COLD_LEVEL_K,
    E_COUNT,
    E_LIVE,
    FAR,
    H_CHARGER,
    H_COUNT,
    H_LOAD,
    H_OWN_S,
    H_RATE,
    J_CIRCUIT,
    J_COUNT,
    J_DELAY_S,
    J_HOT,
    J_INVERTER,
    J_LOAD,
    J_MOST_S,
    J_NEED_S,
    J_TANK_MIN,
    J_TAP,
    MACHINE,
    N_MEDICAL,
    N_WORDS,
    NEED_AT,
    NEED_COUNT,
    NEED_FIRST,
    NEED_LEFT_S,
    NEED_SHORT_S,
    OWED,
    P_HAS_TANK,
    P_WATER_LEVEL,
    Q_DONE,
    RUN,
    S_ASK_AT,
    S_AWAKE,
    S_BAT_DOWN,
    S_MODE_AT,
    S_SLOT,
    S_SOURCE,
    S_T,
    S_TANK,
    S_TAPS_RUN,
    S_WORK_AT,
    S_WORK_HOT,
    S_WORK_TAP,
    U_AT,
    U_BUSY,
    U_COUNT,
    U_GIVEN_UP_S,
    U_OWED_S,
    V_COUNT,
    V_LOAD,
    WANT,
    WHILE_UP,
    Z_COUNT,
    Z_HOT,
    Z_TAP,
    Array,
    Ints,
)
from hearthold.engine.kernels.level import set_level, taps_run
from hearthold.engine.kernels.sets import has, load_at, put, words_of
from hearthold.engine.kernels.tank import draw_hot

_TINY = 1e-9
_DONE_S = 1e-6  # what is left of a task that is done


@kernel
def advance_medical(w: Array, at: Ints, s: Array, t: float) -> None:
    """Drain and recharge the own battery of each medical need; count the seconds unpowered beyond it."""
    for i in range(at[N_MEDICAL]):
        need = at[B_MEDICAL] + i * NEED_COUNT
        dt = t - s[need + NEED_AT]
        s[need + NEED_AT] = t
        rate = _own_rate(w, at, s, i)
        left = s[need + NEED_LEFT_S] + rate * dt
        if left < 0.0:
            short = left / rate
            if s[need + NEED_FIRST] >= FAR:
                s[need + NEED_FIRST] = t - short
            s[need + NEED_SHORT_S] += short
        s[need + NEED_LEFT_S] = min(w[at[A_MEDICAL] + i * H_COUNT + H_OWN_S], max(0.0, left))


@kernel(inline=True)
def _own_rate(w: Array, at: Ints, s: Array, i: int) -> float:
    """Seconds of use that the own battery of need i gains a second: by its charger, less what its load takes."""
    row, rate = at[A_MEDICAL] + i * H_COUNT, 0.0
    if w[row + H_RATE] > 0.0 and has(at, s, RUN, int(w[row + H_CHARGER])):
        rate = w[row + H_RATE]
    wanted = w[at[A_SLOT_MEDICAL] + int(s[S_SLOT]) * at[N_MEDICAL] + i] != 0.0
    if wanted and not has(at, s, RUN, int(w[row + H_LOAD])):
        rate -= 1.0
    return rate


@kernel
def call_chargers(w: Array, at: Ints, s: Array) -> None:
    """Ask for the charger of every own battery that is not full, whether its load runs or not."""
    for i in range(at[N_MEDICAL]):
        row = at[A_MEDICAL] + i * H_COUNT
        if w[row + H_RATE] > 0.0:
            lacks = s[at[B_MEDICAL] + i * NEED_COUNT + NEED_LEFT_S] < w[row + H_OWN_S] * (1.0 - _TINY)
            put(at, s, WANT, int(w[row + H_CHARGER]), lacks)


@kernel
def foretell_chargers(w: Array, at: Ints, s: Array) -> None:
    """When each own battery will be full at what it now gains."""
    for i in range(at[N_MEDICAL]):
        rate = _own_rate(w, at, s, i)
        lacks = w[at[A_MEDICAL] + i * H_COUNT + H_OWN_S] - s[at[B_MEDICAL] + i * NEED_COUNT + NEED_LEFT_S]
        if rate > 0.0 and lacks > 0.0:
            s[Q_DONE] = min(s[Q_DONE], s[S_T] + lacks / rate)


@kernel
def call_tasks(w: Array, at: Ints, s: Array) -> None:
    """Ask for the loads of tasks that are outstanding, once the machine has run for their delay.

    Where the inverter carries the pump, people need no machine for filling cans, and wait for none; nor for anything
    in a house that has none, but for what is too heavy for a battery. Whether they would be at a task is asked only
    when that may have changed: power, a circuit, a delay, the tank, the day's new tasks.
    """
    if s[S_T] >= s[S_WORK_AT] - _TINY:
        advance_tasks(w, at, s)
    if s[S_T] >= s[S_ASK_AT] - _TINY:
        s[S_ASK_AT] = FAR
        for i in range(at[N_WORDS]):
            left = int(s[words_of(at, OWED) + i])
            while left != 0:
                _ask_task(w, at, s, load_at(i, lowest(left)))
                left &= left - 1
    s[Q_DONE] = min(s[Q_DONE], s[S_ASK_AT])


@kernel
def advance_tasks(w: Array, at: Ints, s: Array) -> None:
    """Move the tasks that people are at to the present; what is done needs its load no longer."""
    for k in range(at[N_WORDS]):
        left = int(s[words_of(at, AT_WORK) + k])
        while left != 0:
            i = load_at(k, lowest(left))
            left &= left - 1
            u = at[B_TASKS] + i * U_COUNT
            _advance_task(s, u, s[S_T])
            if s[u + U_OWED_S] <= _DONE_S:
                put(at, s, OWED, i, False)
                _want_task(w, at, s, i, False)


@kernel
def _ask_task(w: Array, at: Ints, s: Array, i: int) -> None:
    """Whether people would be at task i now."""
    task, u = at[A_TASKS] + i * J_COUNT, at[B_TASKS] + i * U_COUNT
    carried = _carried(w, at, s, task)
    since = s[S_T] - s[S_MODE_AT]
    ready = s[S_SOURCE] == MACHINE or carried
    if ready and not carried and since < w[task + J_DELAY_S] - _TINY:
        s[S_ASK_AT] = min(s[S_ASK_AT], s[S_MODE_AT] + w[task + J_DELAY_S])
        ready = False
    if ready and s[u + U_BUSY] == 0.0 and s[S_TANK] < w[task + J_TANK_MIN] - COLD_LEVEL_K:
        ready = False
    _want_task(w, at, s, i, ready)


@kernel
def _want_task(w: Array, at: Ints, s: Array, i: int, ready: bool) -> None:
    """Ask for the load of task i or withdraw that; where it has none, people are at it while its circuit is live."""
    load, circuit = int(w[at[A_TASKS] + i * J_COUNT + J_LOAD]), int(w[at[A_TASKS] + i * J_COUNT + J_CIRCUIT])
    if load >= 0:
        put(at, s, WANT, load, ready)
        return
    live = circuit < 0 or s[at[B_CIRCUITS] + circuit * E_COUNT + E_LIVE] != 0.0
    go_to_task(at, s, i, ready and live)


@kernel
def go_to_task(at: Ints, s: Array, i: int, ready: bool) -> None:
    """People begin with task i, or leave it."""
    u = at[B_TASKS] + i * U_COUNT
    put(at, s, AT_WORK, i, ready)
    s[S_WORK_AT] = -FAR
    if not ready:
        _advance_task(s, u, s[S_T])
        s[u + U_BUSY] = 0.0


@kernel(inline=True)
def _carried(w: Array, at: Ints, s: Array, task: int) -> bool:
    """Whether an inverter with charge carries what a task needs, the machine running or not."""
    if w[task + J_INVERTER] == 0.0 or s[S_BAT_DOWN] != 0.0:
        return False
    if w[task + J_INVERTER] == WHILE_UP and s[S_AWAKE] == 0.0:
        return False
    circuit = int(w[task + J_CIRCUIT])
    return circuit < 0 or w[at[A_BATTERY_FEEDS] + circuit] != 0.0  # a load waits for its own circuit


@kernel(inline=True)
def _advance_task(s: Array, u: int, t: float) -> None:
    """Work on a task up to t, if it is under way."""
    if s[u + U_BUSY] != 0.0:
        s[u + U_OWED_S] = max(0.0, s[u + U_OWED_S] - (t - s[u + U_AT]))
        s[u + U_AT] = t


@kernel
def add_task(w: Array, at: Ints, s: Array, i: int) -> None:
    """The day's share of task i is due; what has piled up beyond its limit is given up."""
    task, u = at[A_TASKS] + i * J_COUNT, at[B_TASKS] + i * U_COUNT
    _advance_task(s, u, s[S_T])
    s[u + U_OWED_S] += w[task + J_NEED_S]
    put(at, s, OWED, i, True)
    s[S_ASK_AT] = s[S_WORK_AT] = -FAR
    beyond = s[u + U_OWED_S] - w[task + J_MOST_S]
    if beyond > 0.0:
        s[u + U_OWED_S] -= beyond
        s[u + U_GIVEN_UP_S] += beyond


@kernel
def run_tasks(w: Array, at: Ints, s: Array) -> None:
    """Set the draws of taps and tank from the time of day and the tasks now under way."""
    slot, water = at[A_SLOTS] + int(s[S_SLOT]) * Z_COUNT, int(w[P_WATER_LEVEL])
    # -1 too where nothing feeds it
    pump = int(w[at[A_LEVELS] + water * V_COUNT + V_LOAD]) if water >= 0 else -1
    pumping = pump >= 0 and has(at, s, RUN, pump)
    flows = 1.0 if pumping or taps_run(w, at, s) else 0.0
    if s[S_T] >= s[S_WORK_AT] - _TINY or flows != s[S_TAPS_RUN]:
        s[S_TAPS_RUN] = flows
        _set_work(w, at, s)
    s[Q_DONE] = min(s[Q_DONE], s[S_WORK_AT])
    if water >= 0:
        set_level(w, at, s, water, w[slot + Z_TAP] + s[S_WORK_TAP], pumping)
    if w[P_HAS_TANK] != 0.0:
        draw_hot(w, at, s, w[slot + Z_HOT] + s[S_WORK_HOT], taps_run(w, at, s))


@kernel
def _set_work(w: Array, at: Ints, s: Array) -> None:
    """Which of the tasks that people are at go on, what they draw, and when the first of them is done."""
    s[S_WORK_AT], s[S_WORK_TAP], s[S_WORK_HOT] = FAR, 0.0, 0.0
    for k in range(at[N_WORDS]):
        left = int(s[words_of(at, AT_WORK) + k])
        while left != 0:
            i = load_at(k, lowest(left))
            left &= left - 1
            task, u = at[A_TASKS] + i * J_COUNT, at[B_TASKS] + i * U_COUNT
            _advance_task(s, u, s[S_T])
            if w[task + J_HOT] == 0.0 and w[task + J_TAP] > 0.0 and s[S_TAPS_RUN] == 0.0:
                s[u + U_BUSY] = 0.0  # nobody fills a can at a dry tap: it waits
                continue
            s[u + U_AT], s[u + U_BUSY] = s[S_T], 1.0
            s[S_WORK_TAP] += w[task + J_TAP]
            s[S_WORK_HOT] += w[task + J_HOT]
            s[S_WORK_AT] = min(s[S_WORK_AT], s[S_T] + s[u + U_OWED_S])
