"""The machine and the person at it: when it runs, its fuel, refilling and trips, and what its breaker leaves off."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.circuits import choose_source, foretell_stores, move_stores, wake_stores
from hearthold.engine.kernels.layout import (
    A_LOADS,
    ALWAYS,
    B_CIRCUITS,
    E_BLOCKED,
    E_COUNT,
    FAR,
    HELD,
    K_KIND,
    K_MIN_OFF_S,
    K_MIN_RUN_S,
    K_WARM_S,
    L_CIRCUIT,
    L_COUNT,
    N_CIRCUITS,
    NEXT,
    O_BAT_FIRST,
    O_BROUGHT_M3,
    O_FUEL_OUT_AT,
    O_FUEL_TRIPS,
    O_OVERLOADS,
    O_REFILLS,
    O_STARTS,
    P_BAT_RESTART_J,
    P_COOL_S,
    P_FUEL_TANK,
    P_HAS_BATTERY,
    P_REFILL_BELOW,
    P_REFILL_S,
    P_RESET_S,
    P_TRIP_BELOW,
    P_TRIP_M3,
    P_TRIP_S,
    P_TRIPS_MOST,
    PANEL,
    Q_BACK,
    Q_CONTROL,
    Q_OVER,
    Q_READY,
    RUNNING,
    S_AWAKE,
    S_BASE,
    S_BAT,
    S_BAT_DOWN,
    S_FUEL,
    S_HOLD,
    S_MODE,
    S_MODE_AT,
    S_READY,
    S_REFILL,
    S_RULE_DIRTY,
    S_SPELL_AT,
    S_STOCK,
    S_STOPPED,
    S_T,
    STANDING,
    THERMO,
    Array,
    Ints,
)
from hearthold.engine.kernels.power import advance_power, set_rates
from hearthold.engine.kernels.sets import last_of
from hearthold.engine.kernels.wish import wanted

_TINY_S = 1e-6
_TINY_M3 = 1e-12


@kernel
def control(w: Array, at: Ints, s: Array) -> None:
    """Start, stop, or begin to refill, as the control wants and the fuel allows."""
    want = wanted(w, at, s)
    if w[K_KIND] == PANEL:
        _keep_hours(w, at, s, want)
        return
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
def _keep_hours(w: Array, at: Ints, s: Array, within: bool) -> None:
    """The clock rules the circuits on the inverter, and no machine: switch those that have hours."""
    held = 1.0 if within else 0.0
    if s[S_HOLD] != held:
        s[S_HOLD] = held
        choose_source(w, at, s)


@kernel
def _sure(w: Array, at: Ints, s: Array, want: bool) -> bool:
    """Whether the rule by need still says so of every store as it is now: it is asked of where they were last seen."""
    if w[K_KIND] != THERMO:
        return True
    move_stores(w, at, s)
    sure = wanted(w, at, s) == want
    if not sure:  # else the machine is about to start or stop, and all are foretold then
        foretell_stores(w, at, s)
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
        wake_stores(w, at, s)


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
