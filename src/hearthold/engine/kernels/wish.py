"""Whether the control wants the machine to run: by plan, by the clock, by need, or by a planner's hand."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.layout import (
    A_RULE_LEVELS,
    A_SPELLS,
    ALWAYS,
    B_LEVELS,
    COLD_LEVEL_K,
    DAY_S,
    FAR,
    HELD,
    K_AIR_START,
    K_AIR_STOP,
    K_BAT_START,
    K_BAT_STOP,
    K_DELAY_S,
    K_KIND,
    K_MAX_RUN_S,
    K_MIN_OFF_S,
    K_MIN_RUN_S,
    K_NOT_AT_NIGHT,
    K_TANK_START,
    K_TANK_STOP,
    LACKING,
    LEVEL_K,
    N_LEVELS,
    N_SPELLS,
    NEEDY,
    PANEL,
    PLAN,
    Q_CONTROL,
    ROUTINE,
    RUNNING,
    S_AIR,
    S_BAT,
    S_DAY_AT,
    S_HOLD,
    S_MODE,
    S_MODE_AT,
    S_NIGHT,
    S_SPELL,
    S_SPELL_AT,
    S_STOPPED,
    S_T,
    S_TANK,
    THERMO,
    W_AT,
    W_COUNT,
    W_RATE,
    W_X,
    Array,
    Ints,
)
from hearthold.engine.kernels.sets import some

_TINY_S = 1e-6


@kernel
def wanted(w: Array, at: Ints, s: Array) -> bool:
    """Whether the control wants the machine to run now, or is in the hours of a panel; sets when to ask again."""
    kind = w[K_KIND]
    s[Q_CONTROL] = FAR
    if kind == ALWAYS:
        if s[S_T] >= w[K_DELAY_S] - _TINY_S:
            return True
        s[Q_CONTROL] = w[K_DELAY_S]
        return False
    if kind == PLAN:
        return _planned(w, at, s)
    if kind == ROUTINE or kind == PANEL:  # noqa: SIM109 (a set test is no kernel)
        return _by_clock(w, at, s)
    if kind == THERMO:
        return _by_need(w, at, s)
    return kind == HELD and s[S_HOLD] != 0.0


@kernel
def _planned(w: Array, at: Ints, s: Array) -> bool:
    """A list of spells, in seconds since the grid failed."""
    i = int(s[S_SPELL])
    while i < at[N_SPELLS] and w[at[A_SPELLS] + 2 * i + 1] <= s[S_T] + _TINY_S:
        i += 1
    s[S_SPELL] = float(i)
    if i >= at[N_SPELLS]:
        return False
    if s[S_T] >= w[at[A_SPELLS] + 2 * i + 0] - _TINY_S:
        s[S_SPELL_AT] = w[at[A_SPELLS] + 2 * i + 0]
        s[Q_CONTROL] = w[at[A_SPELLS] + 2 * i + 1]
        return True
    s[Q_CONTROL] = w[at[A_SPELLS] + 2 * i + 0]
    return False


@kernel
def _by_clock(w: Array, at: Ints, s: Array) -> bool:
    """The same spells every day, by the clock; a spell may run past midnight."""
    local = s[S_T] - s[S_DAY_AT]
    ask = FAR
    on = False
    for i in range(at[N_SPELLS]):
        length = w[at[A_SPELLS] + 2 * i + 1] - w[at[A_SPELLS] + 2 * i + 0]
        since = (local - w[at[A_SPELLS] + 2 * i + 0] + _TINY_S) % DAY_S - _TINY_S
        if since < length - _TINY_S:
            on = True
            s[S_SPELL] = float(i)
            s[S_SPELL_AT] = s[S_T] - since
            ask = min(ask, s[S_T] + length - since)
        else:
            ask = min(ask, s[S_T] + DAY_S - since)
    s[Q_CONTROL] = ask
    return on


@kernel
def _by_need(w: Array, at: Ints, s: Array) -> bool:
    """Start when any store nears its limit, stop when all have recovered, within shortest and longest runs."""
    t = s[S_T]
    if s[S_MODE] == RUNNING:
        ran = t - s[S_MODE_AT]
        if ran >= w[K_MAX_RUN_S] - _TINY_S:
            return False
        s[Q_CONTROL] = s[S_MODE_AT] + (w[K_MIN_RUN_S] if ran < w[K_MIN_RUN_S] - _TINY_S else w[K_MAX_RUN_S])
        return ran < w[K_MIN_RUN_S] - _TINY_S or not _recovered(w, at, s)
    if t < s[S_STOPPED] + w[K_MIN_OFF_S] - _TINY_S:
        s[Q_CONTROL] = s[S_STOPPED] + w[K_MIN_OFF_S]
        return False
    if s[S_NIGHT] != 0.0 and w[K_NOT_AT_NIGHT] != 0.0:
        return False
    return _in_need(w, at, s)


@kernel
def _in_need(w: Array, at: Ints, s: Array) -> bool:
    if some(at, s, NEEDY):
        return True
    for i in range(at[N_LEVELS]):
        u = at[B_LEVELS] + i * W_COUNT
        if s[u + W_X] + s[u + W_RATE] * (s[S_T] - s[u + W_AT]) >= w[at[A_RULE_LEVELS] + 2 * i + 0] * (
            1.0 - 1e-9
        ):
            return True
    if s[S_AIR] <= w[K_AIR_START] + LEVEL_K or s[S_BAT] <= w[K_BAT_START] * (1.0 + 1e-9):
        return True
    return s[S_TANK] <= w[K_TANK_START] + COLD_LEVEL_K


@kernel
def _recovered(w: Array, at: Ints, s: Array) -> bool:
    if some(at, s, LACKING):
        return False
    for i in range(at[N_LEVELS]):
        u = at[B_LEVELS] + i * W_COUNT
        if (
            s[u + W_X] + s[u + W_RATE] * (s[S_T] - s[u + W_AT])
            > w[at[A_RULE_LEVELS] + 2 * i + 1] * (1.0 + 1e-9) + 1e-12
        ):
            return False
    if s[S_AIR] < w[K_AIR_STOP] - LEVEL_K or s[S_BAT] < w[K_BAT_STOP] * (1.0 - 1e-9):
        return False
    return s[S_TANK] >= w[K_TANK_STOP] - COLD_LEVEL_K
