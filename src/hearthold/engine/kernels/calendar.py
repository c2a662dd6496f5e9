"""What the calendar brings: a new hour outside, and a new slot of the day's schedule."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.bits import lowest
from hearthold.engine.jit import kernel
from hearthold.engine.kernels.house import (
    advance_house,
    foretell_house,
    look_anew,
    outdoor_sum,
    outdoor_sum2,
    read_thermostats,
)
from hearthold.engine.kernels.layout import (
    A_CLOCK,
    A_OUTDOOR,
    A_SLOT_AT,
    A_SLOT_TASK,
    A_SLOT_WANT,
    A_SLOTS,
    A_SOLAR,
    DAY_S,
    FAR,
    HOUR_S,
    N_HOURS,
    N_SLOTS,
    N_WORDS,
    P_HAS_BATTERY,
    Q_HOUR,
    Q_SLOT,
    S_ASK_AT,
    S_AWAKE,
    S_DAY_AT,
    S_DIRTY,
    S_HEAT_DIRTY,
    S_HOUR,
    S_NIGHT,
    S_OUT_AT,
    S_OUT_C,
    S_OUT_SUM,
    S_OUT_SUM2,
    S_RULE_DIRTY,
    S_SLOT,
    S_SOLAR_W,
    S_STOVE_LIT,
    S_T,
    WANT,
    Z_AWAKE,
    Z_COUNT,
    Z_NIGHT,
    Z_STOVE,
    Array,
    Ints,
)
from hearthold.engine.kernels.machine import fetch
from hearthold.engine.kernels.power import advance_power, set_rates
from hearthold.engine.kernels.sets import load_at, words_of
from hearthold.engine.kernels.tasks import add_task, advance_medical


@kernel
def on_hour(w: Array, at: Ints, s: Array) -> None:
    """A new hour outside."""
    t = s[S_T]
    advance_house(w, at, s, t)
    s[S_OUT_SUM2] = outdoor_sum2(s, t)
    s[S_OUT_SUM] = outdoor_sum(s, t)
    s[S_OUT_AT] = t
    s[S_HOUR] += 1.0
    hour = min(int(s[S_HOUR]), at[N_HOURS] - 1)
    s[S_OUT_C] = w[at[A_OUTDOOR] + hour]
    s[Q_HOUR] = t + HOUR_S
    foretell_house(w, at, s)
    if w[P_HAS_BATTERY] != 0.0:
        advance_power(w, at, s, t)
        s[S_SOLAR_W] = w[at[A_SOLAR] + hour]
        set_rates(w, at, s)


@kernel
def on_slot(w: Array, at: Ints, s: Array) -> None:
    """The day's schedule changes: clock loads, draws, night, stove, and the day's tasks."""
    t = s[S_T]
    advance_power(w, at, s, t)
    advance_medical(w, at, s, t)
    if t > 0.0:
        s[S_SLOT] += 1.0
    if int(s[S_SLOT]) >= at[N_SLOTS]:
        s[S_SLOT] = 0.0
        s[S_DAY_AT] += DAY_S
    slot = int(s[S_SLOT])
    s[Q_SLOT] = s[S_DAY_AT] + w[at[A_SLOT_AT] + slot + 1]
    row = at[A_SLOTS] + slot * Z_COUNT
    if w[P_HAS_BATTERY] != 0.0 and s[S_AWAKE] != w[row + Z_AWAKE]:
        s[S_ASK_AT] = -FAR  # there are tasks that wait for people alone
    s[S_NIGHT], s[S_AWAKE] = w[row + Z_NIGHT], w[row + Z_AWAKE]
    if s[S_STOVE_LIT] != w[row + Z_STOVE]:
        s[S_STOVE_LIT] = w[row + Z_STOVE]
        look_anew(w, at, s)
    for i in range(at[N_WORDS]):
        others = int(s[words_of(at, WANT) + i]) & ~int(w[at[A_CLOCK] + i])
        s[words_of(at, WANT) + i] = float(others | int(w[at[A_SLOT_WANT] + slot * at[N_WORDS] + i]))
        due = int(w[at[A_SLOT_TASK] + slot * at[N_WORDS] + i])
        while due != 0:
            add_task(w, at, s, load_at(i, lowest(due)))
            due &= due - 1
    advance_house(w, at, s, t)
    read_thermostats(w, at, s)
    s[S_DIRTY] = s[S_HEAT_DIRTY] = s[S_RULE_DIRTY] = 1.0
    fetch(w, s)
