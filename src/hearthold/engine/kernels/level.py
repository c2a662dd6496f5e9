"""Levels: anything that fills at a steady rate and is emptied by a load. All motion is straight, all times exact.

A pit fills with water and its pump empties it. A pressure tank is the same thing upside down: what fills is the
room left by drawn water, and the well pump takes it away. A cycling load without a store of its own (a
dehumidifier, a fan on a timer) gathers work undone and works it off. What arrives above the brim is counted:
flooding, water that was not there, work that was never done.
"""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.layout import (
    A_LEVELS,
    A_RULE_LEVELS,
    B_LEVELS,
    FAR,
    K_KIND,
    N_COLD,
    NO_SOURCE,
    P_WATER_LEVEL,
    Q_FIRST,
    S_DIRTY,
    S_RULE_DIRTY,
    S_SOURCE,
    S_T,
    THERMO,
    V_CAP,
    V_COUNT,
    V_LOAD,
    V_ON,
    V_OUT,
    W_ASKED,
    W_AT,
    W_CALL,
    W_COUNT,
    W_FIRST,
    W_IN,
    W_MOVED,
    W_OVER,
    W_RATE,
    W_RUN,
    W_X,
    WANT,
    Array,
    Ints,
)  # fmt: skip
from hearthold.engine.kernels.sets import put

_TINY = 1e-9  # of the brim: this near a level counts as there


@kernel
def advance_level(w: Array, at: Ints, s: Array, i: int, t: float) -> None:
    """Move level i to t."""
    v, u = at[A_LEVELS] + i * V_COUNT, at[B_LEVELS] + i * W_COUNT
    dt = t - s[u + W_AT]
    if dt <= 0.0:
        return
    moved = w[v + V_OUT] * dt if s[u + W_RUN] != 0.0 else 0.0
    x = s[u + W_X] + s[u + W_RATE] * dt
    s[u + W_ASKED] += s[u + W_IN] * dt
    s[u + W_MOVED] += moved
    if x > w[v + V_CAP]:
        s[u + W_OVER] += x - w[v + V_CAP]
        if s[u + W_FIRST] >= FAR:
            s[u + W_FIRST] = s[u + W_AT] + max(0.0, (w[v + V_CAP] - s[u + W_X]) / s[u + W_RATE])
        x = w[v + V_CAP]
    elif x < 0.0:
        s[u + W_MOVED] += x  # a pump cannot move more than came in
        x = 0.0
    s[u + W_X], s[u + W_AT] = x, t


@kernel
def foretell_level(w: Array, at: Ints, s: Array, i: int) -> None:
    """When level i reaches its switch, its brim or a level of the rule."""
    v, u = at[A_LEVELS] + i * V_COUNT, at[B_LEVELS] + i * W_COUNT
    x, rate, tiny = s[u + W_X], s[u + W_RATE], _TINY * w[v + V_CAP]
    target = FAR
    if rate > 0.0:
        target = w[v + V_CAP] if x < w[v + V_CAP] - tiny else FAR
        if s[u + W_CALL] == 0.0 and x < w[v + V_ON] - tiny:
            target = min(target, w[v + V_ON])
        if w[K_KIND] == THERMO and x < w[at[A_RULE_LEVELS] + 2 * i + 0] - tiny:
            target = min(target, w[at[A_RULE_LEVELS] + 2 * i + 0])
    elif rate < 0.0:
        target = 0.0
        if w[K_KIND] == THERMO and x > w[at[A_RULE_LEVELS] + 2 * i + 1] + tiny:
            target = max(target, w[at[A_RULE_LEVELS] + 2 * i + 1])
    q = Q_FIRST + at[N_COLD] + i
    s[q] = s[u + W_AT] + max(0.0, (target - x) / rate) if target < FAR else FAR


@kernel
def read_level(w: Array, at: Ints, s: Array, i: int) -> None:
    """Set the call of the load from the level as it is now."""
    v, u = at[A_LEVELS] + i * V_COUNT, at[B_LEVELS] + i * W_COUNT
    call, tiny = s[u + W_CALL], _TINY * w[v + V_CAP]
    if s[u + W_X] >= w[v + V_ON] - tiny:
        s[u + W_CALL] = 1.0
    elif s[u + W_X] <= tiny:
        s[u + W_CALL] = 0.0
    if s[u + W_CALL] != call and w[v + V_LOAD] >= 0.0:
        put(at, s, WANT, int(w[v + V_LOAD]), s[u + W_CALL] != 0.0)
        if s[S_SOURCE] != NO_SOURCE:
            s[S_DIRTY] = 1.0


@kernel
def set_level(w: Array, at: Ints, s: Array, i: int, inflow: float, running: bool) -> None:
    """Change the inflow of level i, or whether its load runs."""
    u = at[B_LEVELS] + i * W_COUNT
    run = 1.0 if running else 0.0
    if inflow == s[u + W_IN] and run == s[u + W_RUN]:
        return
    advance_level(w, at, s, i, s[S_T])
    s[u + W_IN], s[u + W_RUN] = inflow, run
    s[u + W_RATE] = inflow - run * w[at[A_LEVELS] + i * V_COUNT + V_OUT]
    foretell_level(w, at, s, i)


@kernel
def on_level(w: Array, at: Ints, s: Array, i: int) -> None:
    """Level i has reached its switch, its brim, empty, or a level of the rule."""
    advance_level(w, at, s, i, s[S_T])
    read_level(w, at, s, i)
    if w[at[A_RULE_LEVELS] + 2 * i] < FAR:
        s[S_RULE_DIRTY] = 1.0
    if float(i) == w[P_WATER_LEVEL]:
        s[S_DIRTY] = 1.0
    foretell_level(w, at, s, i)


@kernel
def taps_run(w: Array, at: Ints, s: Array) -> bool:
    """Whether water comes out of the taps: there is some in the pressure tank, or the pump runs."""
    i = int(w[P_WATER_LEVEL])
    if i < 0:
        return True
    u = at[B_LEVELS] + i * W_COUNT
    return s[u + W_X] < w[at[A_LEVELS] + i * V_COUNT + V_CAP] * (1.0 - 1e-9) or s[u + W_RUN] != 0.0
