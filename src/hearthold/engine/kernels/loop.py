"""The loop: take the next event, move what it concerns, decide anew what runs, and go on.

`advance` is the whole engine; it can be stopped at any time and taken up again from a copy of the state, which is
what a planner does. `simulate_one` and `simulate_block` are what Python calls.
"""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.bare import bare
from hearthold.engine.jit import entry, kernel
from hearthold.engine.kernels.calendar import on_hour, on_slot
from hearthold.engine.kernels.circuits import choose_source, on_switch
from hearthold.engine.kernels.cold import advance_cold, foretell_cold, on_cold
from hearthold.engine.kernels.house import (
    advance_house,
    on_house,
)
from hearthold.engine.kernels.layout import (
    B_COLD,
    B_END,
    B_SETS,
    FAR,
    HOUR_S,
    K_KIND,
    LOG_BACK,
    LOG_BATTERY,
    LOG_DRY,
    LOG_OVERLOAD,
    LOG_REFILL,
    LOG_START,
    LOG_STOP,
    LOG_SWITCH,
    MOST_EVENTS_PER_HOUR,
    N_COLD,
    N_LEVELS,
    O_AIR_END,
    O_BAT_END,
    O_COUNT,
    O_EVENTS,
    O_FIRST,
    O_FUEL_END,
    O_MASS_END,
    O_STATUS,
    O_STOCK_END,
    O_TANK_END,
    P_HAS_TANK,
    Q_BACK,
    Q_BATTERY,
    Q_BUSY,
    Q_CONTROL,
    Q_DONE,
    Q_END,
    Q_FIRST,
    Q_FUEL,
    Q_HOUR,
    Q_HOUSE,
    Q_OVER,
    Q_READY,
    Q_SLOT,
    Q_SWITCH,
    Q_TANK,
    QUEUE_STEP,
    RUNNING,
    S_AIR,
    S_BAT,
    S_DIRTY,
    S_EVENTS,
    S_FUEL,
    S_HEAT_DIRTY,
    S_MASS,
    S_MODE,
    S_REFILL,
    S_RULE_DIRTY,
    S_SOURCE,
    S_STOCK,
    S_T,
    S_TANK,
    STATUS_STUCK,
    THERMO,
    Array,
    Ints,
    Tape,
)
from hearthold.engine.kernels.level import advance_level, on_level
from hearthold.engine.kernels.machine import (
    control,
    on_back,
    on_battery,
    on_dry,
    on_ready,
    overloaded,
)
from hearthold.engine.kernels.power import advance_power, reheat, settle
from hearthold.engine.kernels.record import log, record
from hearthold.engine.kernels.start import begin
from hearthold.engine.kernels.tank import advance_tank, on_tank
from hearthold.engine.kernels.tasks import advance_medical, advance_tasks


@kernel(inline=True)
def _next(at: Ints, s: Array) -> int:
    """The queue entry that is due first; of equals the first.

    The least of every fourth, then the least of the four, then its place: nothing is guessed and nothing waits.
    """
    a, b, c, d = s[Q_END], s[Q_END + 1], s[Q_END + 2], s[Q_END + 3]
    for i in range(Q_END + QUEUE_STEP, at[B_SETS], QUEUE_STEP):
        a = s[i] if s[i] < a else a
        b = s[i + 1] if s[i + 1] < b else b
        c = s[i + 2] if s[i + 2] < c else c
        d = s[i + 3] if s[i + 3] < d else d
    a = b if b < a else a
    c = d if d < c else c
    when = c if c < a else a
    best = Q_END
    while s[best] != when:
        best += 1
    return best


@kernel
def _machine_event(w: Array, at: Ints, s: Array, k: int) -> None:
    """Events of machine, fuel, circuits and battery."""
    if k == Q_CONTROL:
        control(w, at, s)
    elif k == Q_SWITCH:
        on_switch(w, at, s)
    elif k == Q_BUSY:
        s[Q_BUSY] = FAR
        s[S_DIRTY] = 1.0
    elif k == Q_FUEL:
        on_dry(w, at, s)
    elif k == Q_READY:
        on_ready(w, at, s)
    elif k == Q_BACK:
        on_back(w, at, s)
    elif k == Q_OVER:
        overloaded(w, at, s)
    else:
        on_battery(w, at, s)


@kernel
def _dispatch(w: Array, at: Ints, s: Array, k: int) -> None:
    """Hand event k to what it concerns."""
    cold = at[N_COLD]
    if k == Q_HOUSE:
        on_house(w, at, s)
    elif k == Q_HOUR:
        on_hour(w, at, s)
    elif k >= Q_FIRST + cold:
        on_level(w, at, s, k - Q_FIRST - cold)
    elif k >= Q_FIRST:
        on_cold(w, at, s, k - Q_FIRST)
    elif k == Q_DONE:  # a task's delay is over or its work done, an own battery full
        s[Q_DONE] = FAR
        s[S_DIRTY] = 1.0
    elif k == Q_SLOT:
        on_slot(w, at, s)
    elif k == Q_TANK:
        on_tank(w, at, s)
    else:
        _machine_event(w, at, s, k)


@kernel
def _follow(w: Array, at: Ints, s: Array) -> None:
    """What an event has stirred up: the rule, what runs, the heat into the house. In this order."""
    if s[S_RULE_DIRTY] != 0.0:
        s[S_RULE_DIRTY] = 0.0
        if w[K_KIND] == THERMO:
            control(w, at, s)
    if s[S_DIRTY] != 0.0:
        s[S_DIRTY] = 0.0
        settle(w, at, s)
    if s[S_HEAT_DIRTY] != 0.0:
        s[S_HEAT_DIRTY] = 0.0
        reheat(w, at, s)


@kernel
def _log_event(at: Ints, s: Array, tape: Tape, k: int, was_running: bool, refilling: float) -> None:
    """A line of the log for what a person would notice."""
    t, running = s[S_T], s[S_MODE] == RUNNING
    if running and not was_running:
        log(at, s, tape, t, LOG_START, 0.0, s[S_FUEL])
    elif was_running and not running:
        log(at, s, tape, t, LOG_STOP, 0.0, s[S_FUEL])
    if k == Q_FUEL:
        log(at, s, tape, t, LOG_DRY, 0.0, s[S_STOCK])
    elif k == Q_READY and refilling != 0.0:
        log(at, s, tape, t, LOG_REFILL, 0.0, s[S_FUEL])
    elif k == Q_BACK:
        log(at, s, tape, t, LOG_BACK, 0.0, s[S_STOCK])
    elif k == Q_OVER:
        log(at, s, tape, t, LOG_OVERLOAD, 0.0, 0.0)
    elif k == Q_BATTERY:
        log(at, s, tape, t, LOG_BATTERY, s[S_SOURCE], s[S_BAT])
    elif k == Q_SWITCH:
        log(at, s, tape, t, LOG_SWITCH, 0.0, 0.0)


@kernel
def advance(w: Array, at: Ints, s: Array, tape: Tape, until_s: float) -> None:
    """Run to until_s after the start of the outage. May be called again to go on."""
    recording = tape.house.shape[0] > 0
    most = s[S_EVENTS] + MOST_EVENTS_PER_HOUR * (1.0 + (until_s - s[S_T]) / HOUR_S)
    s[Q_END] = until_s
    while True:
        k = _next(at, s)
        before = s[S_T]
        s[S_T] = max(before, s[k])
        if recording:
            record(w, at, s, tape, before, s[S_T])
        if k == Q_END:
            break
        s[S_EVENTS] += 1.0
        was_running, refilling = s[S_MODE] == RUNNING, s[S_REFILL]
        if recording and k == Q_OVER:
            _log_event(at, s, tape, k, was_running, refilling)
        _dispatch(w, at, s, k)
        _follow(w, at, s)
        if s[k] == -FAR:
            foretell_cold(w, at, s, k - Q_FIRST)  # its compressor was not switched after all
        if recording and k != Q_OVER:
            _log_event(at, s, tape, k, was_running, refilling)
        if s[S_EVENTS] > most:
            s[O_STATUS] = STATUS_STUCK
            break


@kernel
def close(w: Array, at: Ints, s: Array) -> None:
    """Move every store to the present, so that the accounts are complete."""
    t = s[S_T]
    advance_power(w, at, s, t)
    advance_medical(w, at, s, t)
    advance_tasks(w, at, s)
    advance_house(w, at, s, t)
    for k in range(at[N_COLD]):
        advance_cold(w, at, s, k, t)
    for i in range(at[N_LEVELS]):
        advance_level(w, at, s, i, t)
    if w[P_HAS_TANK] != 0.0:
        advance_tank(w, at, s, t)
    s[O_EVENTS] = s[S_EVENTS]
    s[O_AIR_END], s[O_MASS_END], s[O_TANK_END] = s[S_AIR], s[S_MASS], s[S_TANK]
    s[O_FUEL_END], s[O_STOCK_END], s[O_BAT_END] = s[S_FUEL], s[S_STOCK], s[S_BAT]


@kernel
def outcome(at: Ints, s: Array, rows: Array, i: int) -> None:
    """Copy the accounts into row i: accumulators, cold stores, levels, tasks, medical needs."""
    for j in range(O_COUNT):
        rows[i, j] = s[O_FIRST + j]
    for j in range(at[B_COLD], at[B_END]):
        rows[i, O_COUNT + j - at[B_COLD]] = s[j]


@kernel
def wake(w: Array, at: Ints, s: Array) -> None:
    """The first moment: the slot under way begins, an inverter takes over, the control is asked."""
    on_slot(w, at, s)
    choose_source(w, at, s)
    control(w, at, s)
    _follow(w, at, s)


@kernel
def play(w: Array, at: Ints, s: Array, tape: Tape, start_s: float, until_s: float) -> None:
    """One outage from its first moment to until_s, with the accounts complete, in the state s."""
    begin(w, at, s, start_s)
    wake(w, at, s)
    advance(w, at, s, tape, until_s)
    close(w, at, s)


@entry
def simulate_block(
    w: Array, at: Ints, s: Array, tape: Tape, start_s: Array, length_s: Array, rows: Array, which: Ints
) -> float:
    """Outages `which`, one after another in the state s, each with its own row. Returns the number of events."""
    events, w_, at_, s_ = 0.0, bare(w), bare(at), bare(s)
    for n in range(which.shape[0]):
        i = which[n]
        play(w_, at_, s_, tape, start_s[i], length_s[i])
        outcome(at_, s_, rows, i)
        events += s_[S_EVENTS]
    return events
