"""What the circuits are fed from, and which of them are on: by the steps of a spell, or by the hours of a panel."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.cold import advance_cold, foretell_cold, read_cold
from hearthold.engine.kernels.house import advance_house, foretell_house, read_thermostats
from hearthold.engine.kernels.layout import (
    A_BATTERY_FEEDS,
    A_FED,
    A_ON_CIRCUIT,
    A_STEPS,
    A_WORK_ON,
    B_CIRCUITS,
    E_BLOCKED,
    E_COUNT,
    E_LIVE,
    FAR,
    FED_ALWAYS,
    FED_IN_HOURS,
    INVERTER,
    K_BETWEEN_S,
    LIVE,
    MACHINE,
    N_CIRCUITS,
    N_COLD,
    N_STEPS,
    N_WORDS,
    NO_SOURCE,
    OWED,
    P_HAS_BATTERY,
    P_HAS_TANK,
    Q_SWITCH,
    RUNNING,
    S_ASK_AT,
    S_BASE,
    S_BAT_DOWN,
    S_DIRTY,
    S_HEAT_DIRTY,
    S_HOLD,
    S_MODE,
    S_OFF_AT,
    S_SOURCE,
    S_SPELL,
    S_SPELL_AT,
    S_STEP,
    S_T,
    WANT,
    Array,
    Ints,
)
from hearthold.engine.kernels.power import advance_power
from hearthold.engine.kernels.sets import words_of
from hearthold.engine.kernels.tank import advance_tank, foretell_tank, read_tank

_TINY_S = 1e-6


@kernel
def choose_source(w: Array, at: Ints, s: Array) -> None:
    """Machine if it runs, else the inverter if its battery has charge, else nothing.

    An inverter with charge carries on until the machine has warmed up and takes over.
    """
    source, before = source_now(w, s), s[S_SOURCE]
    if source != before:
        advance_power(w, at, s, s[S_T])
        s[S_SOURCE] = source
        if source == NO_SOURCE or before == NO_SOURCE:
            wake_stores(w, at, s)
    switch_circuits(w, at, s)
    s[S_ASK_AT] = -FAR
    s[S_DIRTY] = 1.0


@kernel(inline=True)
def source_now(w: Array, s: Array) -> float:
    """What feeds the house now: the machine once it has warmed up, else the inverter while it has charge."""
    inverter = inverter_up(w, s)
    if s[S_MODE] == RUNNING and (not inverter or s[S_T] >= s[S_BASE] - _TINY_S):
        return MACHINE
    return INVERTER if inverter else NO_SOURCE


@kernel(inline=True)
def inverter_up(w: Array, s: Array) -> bool:
    """Whether there is an inverter whose battery has charge."""
    return w[P_HAS_BATTERY] != 0.0 and s[S_BAT_DOWN] == 0.0


@kernel
def wake_stores(w: Array, at: Ints, s: Array) -> None:
    """Power has come or gone: thermostats matter now, or matter no more."""
    move_stores(w, at, s)
    foretell_stores(w, at, s)
    s[S_HEAT_DIRTY] = 1.0


@kernel
def move_stores(w: Array, at: Ints, s: Array) -> None:
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
def foretell_stores(w: Array, at: Ints, s: Array) -> None:
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
        feeds = w[at[A_BATTERY_FEEDS] + i]
        if inverter and (feeds == FED_ALWAYS or (feeds == FED_IN_HOURS and s[S_HOLD] != 0.0)):
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
    if source_now(w, s) != s[S_SOURCE]:
        choose_source(w, at, s)
    elif s[S_T] < s[S_OFF_AT] - _TINY_S and (spell < 0.0 or spell == s[S_SPELL]):
        if _take_steps(w, at, s, i):
            s[S_DIRTY] = 1.0
    else:  # one is switched off: all are looked at anew
        switch_circuits(w, at, s)
        s[S_ASK_AT] = -FAR
        s[S_DIRTY] = 1.0
