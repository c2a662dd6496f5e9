"""The machine and the person at it: when it runs, its fuel, refilling and trips, and which circuits are switched on."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.cold import advance_cold, foretell_cold, read_cold
from hearthold.engine.kernels.house import advance_house, foretell_house, read_thermostats
from hearthold.engine.kernels.layout import (
    A_BATTERY_FEEDS,
    A_FED,
    A_LOADS,
    A_ON_CIRCUIT,
    A_STEPS,
    A_WORK_ON,
    ALWAYS,
    B_CIRCUITS,
    E_BLOCKED,
    E_COUNT,
    E_LIVE,
    FAR,
    HELD,
    INVERTER,
    K_BETWEEN_S,
    K_KIND,
    K_MIN_OFF_S,
    K_MIN_RUN_S,
    K_WARM_S,
    L_CIRCUIT,
    L_COUNT,
    LIVE,
    MACHINE,
    N_CIRCUITS,
    N_COLD,
    N_STEPS,
    N_WORDS,
    NEXT,
    NO_SOURCE,
    O_BAT_FIRST,
    O_BROUGHT_M3,
    O_FUEL_OUT_AT,
    O_FUEL_TRIPS,
    O_OVERLOADS,
    O_REFILLS,
    O_STARTS,
    OWED,
    P_BAT_RESTART_J,
    P_COOL_S,
    P_FUEL_TANK,
    P_HAS_BATTERY,
    P_HAS_TANK,
    P_REFILL_BELOW,
    P_REFILL_S,
    P_RESET_S,
    P_TRIP_BELOW,
    P_TRIP_M3,
    P_TRIP_S,
    P_TRIPS_MOST,
    Q_BACK,
    Q_CONTROL,
    Q_OVER,
    Q_READY,
    Q_SWITCH,
    RUNNING,
    S_ASK_AT,
    S_AWAKE,
    S_BASE,
    S_BAT,
    S_BAT_DOWN,
    S_DIRTY,
    S_FUEL,
    S_HEAT_DIRTY,
    S_MODE,
    S_MODE_AT,
    S_OFF_AT,
    S_READY,
    S_REFILL,
    S_RULE_DIRTY,
    S_SOURCE,
    S_SPELL,
    S_SPELL_AT,
    S_STEP,
    S_STOCK,
    S_STOPPED,
    S_T,
    STANDING,
    THERMO,
    WANT,
    Array,
    Ints,
)
from hearthold.engine.kernels.power import advance_power, set_rates
from hearthold.engine.kernels.sets import last_of, words_of
from hearthold.engine.kernels.tank import advance_tank, foretell_tank, read_tank
from hearthold.engine.kernels.wish import wanted

_TINY_S = 1e-6
_TINY_M3 = 1e-12


@kernel
def control(w: Array, at: Ints, s: Array) -> None:
    """Start, stop, or begin to refill, as the control wants and the fuel allows."""
    want = wanted(w, at, s)
    if s[S_MODE] == RUNNING:
        if not want and _sure(w, at, s, want):
            stop(w, at, s)
        return
    if not want or s[S_T] < s[S_READY] - _TINY_S:
        return
    if s[S_FUEL] > _TINY_M3:
        if _sure(w, at, s, want):
            _start(w, at, s)
    elif s[S_STOCK] > _TINY_M3:
        s[S_REFILL] = 1.0
        s[S_READY] = s[S_T] + w[P_REFILL_S]
        s[Q_READY] = s[S_READY]
    elif s[O_FUEL_OUT_AT] >= FAR:
        s[O_FUEL_OUT_AT] = s[S_T]


@kernel
def _sure(w: Array, at: Ints, s: Array, want: bool) -> bool:
    """Whether the rule by need still says so of every store as it is now: it is asked of where they were last seen."""
    if w[K_KIND] != THERMO:
        return True
    _move_stores(w, at, s)
    sure = wanted(w, at, s) == want
    if not sure:  # else the machine is about to start or stop, and all are foretold then
        _foretell_stores(w, at, s)
    return sure


@kernel
def _start(w: Array, at: Ints, s: Array) -> None:
    """Start the machine; circuits follow after it has warmed up."""
    advance_power(w, at, s, s[S_T])
    s[S_MODE] = RUNNING
    s[S_MODE_AT] = s[S_T]
    s[S_BASE] = s[S_T] + w[K_WARM_S]
    if w[K_KIND] == ALWAYS or w[K_KIND] == THERMO or w[K_KIND] == HELD:
        s[S_SPELL_AT] = s[S_T]
    s[O_STARTS] += 1.0
    for c in range(at[N_CIRCUITS]):
        s[at[B_CIRCUITS] + c * E_COUNT + E_BLOCKED] = 0.0
    choose_source(w, at, s)
    _tell_rule(w, at, s)
    if w[K_KIND] == THERMO:
        s[Q_CONTROL] = s[S_T] + w[K_MIN_RUN_S]


@kernel
def stop(w: Array, at: Ints, s: Array) -> None:
    """Stop the machine; if it needs fuel and there is some, it cools down and is refilled."""
    advance_power(w, at, s, s[S_T])
    s[S_MODE] = STANDING
    s[S_STOPPED] = s[S_T]
    s[S_READY] = s[S_T]
    if s[S_FUEL] < w[P_REFILL_BELOW] * w[P_FUEL_TANK] and s[S_STOCK] > _TINY_M3:
        s[S_REFILL] = 1.0
        s[S_READY] = s[S_T] + w[P_COOL_S] + w[P_REFILL_S]
        s[Q_READY] = s[S_READY]
    s[Q_OVER] = FAR
    choose_source(w, at, s)
    _tell_rule(w, at, s)
    if w[K_KIND] == THERMO:
        s[Q_CONTROL] = s[S_T] + w[K_MIN_OFF_S]
    fetch(w, s)


@kernel(inline=True)
def _tell_rule(w: Array, at: Ints, s: Array) -> None:
    """Other levels matter to the rule by need now, though an inverter may have carried the house on throughout."""
    if w[K_KIND] == THERMO and w[P_HAS_BATTERY] != 0.0:
        _wake_stores(w, at, s)


@kernel
def on_ready(w: Array, at: Ints, s: Array) -> None:
    """The tank has been refilled (or the machine has cooled): start again if that is wanted."""
    s[Q_READY] = FAR
    if s[S_REFILL] != 0.0:
        s[S_REFILL] = 0.0
        poured = min(s[S_STOCK], w[P_FUEL_TANK] - s[S_FUEL])
        s[S_FUEL] += poured
        s[S_STOCK] -= poured
        s[O_REFILLS] += 1.0
    control(w, at, s)


@kernel
def on_dry(w: Array, at: Ints, s: Array) -> None:
    """The machine has burned its tank: it stops, whatever is wanted."""
    advance_power(w, at, s, s[S_T])
    s[S_FUEL] = 0.0
    if s[S_STOCK] <= _TINY_M3 and s[O_FUEL_OUT_AT] >= FAR:
        s[O_FUEL_OUT_AT] = s[S_T]
    stop(w, at, s)
    control(w, at, s)


@kernel
def fetch(w: Array, s: Array) -> None:
    """Set out for more fuel when little is left, somebody is awake, and nobody is on the way already."""
    if s[Q_BACK] < FAR or s[S_AWAKE] == 0.0 or s[O_FUEL_TRIPS] >= w[P_TRIPS_MOST]:
        return
    if s[S_FUEL] + s[S_STOCK] < w[P_TRIP_BELOW]:
        s[Q_BACK] = s[S_T] + w[P_TRIP_S]


@kernel
def on_back(w: Array, at: Ints, s: Array) -> None:
    """Somebody is back with fuel."""
    s[Q_BACK] = FAR
    s[O_FUEL_TRIPS] += 1.0
    s[O_BROUGHT_M3] += w[P_TRIP_M3]
    s[S_STOCK] += w[P_TRIP_M3]
    control(w, at, s)


@kernel
def choose_source(w: Array, at: Ints, s: Array) -> None:
    """Machine if it runs, else the inverter if its battery has charge, else nothing.

    An inverter with charge carries on until the machine has warmed up and takes over.
    """
    source, before = _source_now(w, s), s[S_SOURCE]
    if source != before:
        advance_power(w, at, s, s[S_T])
        s[S_SOURCE] = source
        if source == NO_SOURCE or before == NO_SOURCE:
            _wake_stores(w, at, s)
    switch_circuits(w, at, s)
    s[S_ASK_AT] = -FAR
    s[S_DIRTY] = 1.0


@kernel(inline=True)
def _source_now(w: Array, s: Array) -> float:
    inverter = inverter_up(w, s)
    if s[S_MODE] == RUNNING and (not inverter or s[S_T] >= s[S_BASE] - _TINY_S):
        return MACHINE
    return INVERTER if inverter else NO_SOURCE


@kernel(inline=True)
def inverter_up(w: Array, s: Array) -> bool:
    """Whether there is an inverter whose battery has charge."""
    return w[P_HAS_BATTERY] != 0.0 and s[S_BAT_DOWN] == 0.0


@kernel
def _wake_stores(w: Array, at: Ints, s: Array) -> None:
    """Power has come or gone: thermostats matter now, or matter no more."""
    _move_stores(w, at, s)
    _foretell_stores(w, at, s)
    s[S_HEAT_DIRTY] = 1.0


@kernel
def _move_stores(w: Array, at: Ints, s: Array) -> None:
    """Move every store that has a thermostat to the present and read it."""
    t = s[S_T]
    advance_house(w, at, s, t)
    read_thermostats(w, at, s)
    for k in range(at[N_COLD]):
        advance_cold(w, at, s, k, t)
        read_cold(w, at, s, k)
    if w[P_HAS_TANK] != 0.0:
        advance_tank(w, at, s, t)
        read_tank(w, at, s)


@kernel
def _foretell_stores(w: Array, at: Ints, s: Array) -> None:
    """When each of them must be moved next."""
    foretell_house(w, at, s)
    for k in range(at[N_COLD]):
        foretell_cold(w, at, s, k)
    if w[P_HAS_TANK] != 0.0:
        foretell_tank(w, at, s)


@kernel
def switch_circuits(w: Array, at: Ints, s: Array) -> None:
    """Which circuits are live now, and when the next is to be switched.

    What an inverter carries passes to the machine without a gap; the rest is switched on in its order.
    """
    inverter = s[S_SOURCE] == INVERTER
    for i in range(at[N_WORDS]):
        s[words_of(at, LIVE) + i] = 0.0
    for i in range(at[N_CIRCUITS]):
        s[at[B_CIRCUITS] + i * E_COUNT + E_LIVE] = 0.0
        if inverter and w[at[A_BATTERY_FEEDS] + i] != 0.0:
            _switch_on(w, at, s, i)
    s[Q_SWITCH] = s[S_BASE] if inverter and s[S_MODE] == RUNNING else FAR
    if s[S_SOURCE] == MACHINE:
        s[S_OFF_AT] = FAR
        _take_steps(w, at, s, 0)


@kernel
def _switch_on(w: Array, at: Ints, s: Array, circuit: int) -> bool:
    """Make a circuit live if the hookup feeds it. True if a load or a task waits for that."""
    row, waits = at[B_CIRCUITS] + circuit * E_COUNT, False
    if w[at[A_FED] + circuit] == 0.0 or s[row + E_LIVE] != 0.0:
        return False
    s[row + E_LIVE] = 1.0
    for i in range(at[N_WORDS]):
        loads, live = int(w[at[A_ON_CIRCUIT] + circuit * at[N_WORDS] + i]), words_of(at, LIVE) + i
        s[live] = float(int(s[live]) | loads)
        work = int(w[at[A_WORK_ON] + circuit * at[N_WORDS] + i]) & int(s[words_of(at, OWED) + i])
        if work != 0:
            s[S_ASK_AT] = -FAR
        waits = waits or work != 0 or loads & int(s[words_of(at, WANT) + i]) != 0
    return waits


@kernel
def _take_steps(w: Array, at: Ints, s: Array, first: int) -> bool:
    """Switch on what is due, from step `first` on; note the next. True if a load or a task waits for that.

    The steps of a spell stand in the order of switching: the first that is not due ends the search, but for circuits
    that an inverter has carried.
    """
    t, i, up, waits = s[S_T], first, inverter_up(w, s), False
    ask, s[S_STEP] = FAR, float(at[N_STEPS])
    while i < at[N_STEPS] and (up or ask >= FAR):
        step = at[A_STEPS] + 5 * i
        on = max(s[S_SPELL_AT] + w[step + 2], s[S_BASE] + w[step + 4] * w[K_BETWEEN_S])
        off = s[S_SPELL_AT] + w[step + 3]
        which = int(w[step + 1])
        if up and w[at[A_BATTERY_FEEDS] + which] != 0.0:
            on = s[S_BASE]
        if w[step] >= 0.0 and w[step] != s[S_SPELL]:
            pass  # a step of another spell
        elif on - _TINY_S <= t < off - _TINY_S:
            if s[at[B_CIRCUITS] + which * E_COUNT + E_BLOCKED] == 0.0:
                waits = _switch_on(w, at, s, which) or waits
            s[S_OFF_AT] = min(s[S_OFF_AT], off)
        elif t < on < off and on < ask:
            ask, s[S_STEP] = on, float(i)
        i += 1
    s[Q_SWITCH] = min(ask, s[S_OFF_AT])
    return waits


@kernel
def on_switch(w: Array, at: Ints, s: Array) -> None:
    """A circuit is due to be switched, or the machine to take over from the inverter."""
    i = int(s[S_STEP])
    spell = w[at[A_STEPS] + 5 * i] if i < at[N_STEPS] else FAR
    if _source_now(w, s) != s[S_SOURCE]:
        choose_source(w, at, s)
    elif s[S_T] < s[S_OFF_AT] - _TINY_S and (spell < 0.0 or spell == s[S_SPELL]):
        if _take_steps(w, at, s, i):
            s[S_DIRTY] = 1.0
    else:  # one is switched off: all are looked at anew
        switch_circuits(w, at, s)
        s[S_ASK_AT] = -FAR
        s[S_DIRTY] = 1.0


@kernel
def overloaded(w: Array, at: Ints, s: Array) -> None:
    """The breaker of the machine opens; what ran lowest in priority is left off for the rest of the spell."""
    s[O_OVERLOADS] += 1.0
    s[Q_OVER] = FAR
    last = last_of(at, s, NEXT)
    if last >= 0:
        s[at[B_CIRCUITS] + int(w[at[A_LOADS] + last * L_COUNT + L_CIRCUIT]) * E_COUNT + E_BLOCKED] = 1.0
    s[S_BASE] = s[S_T] + w[P_RESET_S]
    choose_source(w, at, s)


@kernel
def on_battery(w: Array, at: Ints, s: Array) -> None:
    """The battery is full, empty, recovered, or at a level of the rule."""
    advance_power(w, at, s, s[S_T])
    if s[S_BAT] <= 1e-6 * w[P_BAT_RESTART_J] and s[S_BAT_DOWN] == 0.0:
        s[S_BAT_DOWN] = 1.0
        if s[O_BAT_FIRST] >= FAR:
            s[O_BAT_FIRST] = s[S_T]
        choose_source(w, at, s)
    elif s[S_BAT_DOWN] != 0.0 and s[S_BAT] >= w[P_BAT_RESTART_J] * (1.0 - 1e-9):
        s[S_BAT_DOWN] = 0.0
        choose_source(w, at, s)
    s[S_RULE_DIRTY] = 1.0
    set_rates(w, at, s)
