"""Who runs: which loads get power, which starts must wait, what the legs carry, and what fuel and battery then do."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from math import sqrt

from hearthold.engine.bits import count, lowest
from hearthold.engine.jit import kernel
from hearthold.engine.kernels.choose import choose, let_all
from hearthold.engine.kernels.cold import switch_cold
from hearthold.engine.kernels.house import advance_house, foretell_house, house_heat_w, look_anew
from hearthold.engine.kernels.layout import (
    A_LOADS,
    B_LEVELS,
    BY_BLOWER,
    BY_COLD,
    BY_HEATER,
    BY_LEVEL,
    FAR,
    INVERTER,
    K_BAT_START,
    K_BAT_STOP,
    K_KIND,
    L_COUNT,
    L_HEAT_FRAC,
    L_KIND,
    L_TASK,
    L_WA,
    L_WB,
    L_WHICH,
    LIM_LEG_W,
    LIM_RUN_W,
    LIMITS,
    LIVE,
    MACHINE,
    N_WORDS,
    NEXT,
    NO_SOURCE,
    O_BAT_DOWN_S,
    O_BAT_IDLE_J,
    O_BAT_IN_J,
    O_BAT_MIN_J,
    O_BAT_OUT_J,
    O_CHARGE_J,
    O_ENERGY_J,
    O_FUEL_M3,
    O_LOAD_J,
    O_NEUTRAL,
    O_NIGHT_RUN_S,
    O_PEAK_A,
    O_PEAK_B,
    O_PEAK_W,
    O_RUN_S,
    O_SOLAR_J,
    O_WAIT_S,
    O_WAITS,
    P_AIR_K_PER_W,
    P_BAT_CHARGE_W,
    P_BAT_IDLE_W,
    P_BAT_IN,
    P_BAT_INSIDE,
    P_BAT_J,
    P_BAT_MIN_C,
    P_BAT_OUT,
    P_BAT_RESTART_J,
    P_FUEL_A,
    P_FUEL_B,
    P_HAS_BATTERY,
    P_HAS_TANK,
    P_LEG_V,
    P_MANAGED,
    Q_BATTERY,
    Q_DONE,
    Q_FUEL,
    ROOM_DRIFT_K,
    RUN,
    RUNNING,
    S_AIR,
    S_BAT,
    S_BAT_DOWN,
    S_BAT_W,
    S_CHARGE_W,
    S_FUEL,
    S_FUEL_AT,
    S_HEAT_DIRTY,
    S_HEAT_W,
    S_LOADS_W,
    S_MODE,
    S_NIGHT,
    S_OUT_C,
    S_QA,
    S_QB,
    S_RATE,
    S_SOLAR_W,
    S_SOURCE,
    S_T,
    S_TOLD_W,
    S_WA,
    S_WAITING,
    S_WB,
    THERMO,
    W_COUNT,
    W_IN,
    WAITED,
    WANT,
    Array,
    Ints,
)
from hearthold.engine.kernels.level import set_level
from hearthold.engine.kernels.sets import load_at, words_of
from hearthold.engine.kernels.tank import heat_tank
from hearthold.engine.kernels.tasks import (
    advance_medical,
    call_chargers,
    call_tasks,
    foretell_chargers,
    go_to_task,
    run_tasks,
)

_TINY = 1e-9


@kernel(inline=True)
def machine_w(s: Array) -> float:
    """What the running machine gives: loads and charger; nothing while it warms up and the inverter carries on."""
    return s[S_WA] + s[S_WB] + s[S_CHARGE_W] if s[S_SOURCE] == MACHINE else 0.0


@kernel
def advance_power(w: Array, at: Ints, s: Array, t: float) -> None:
    """Burn fuel, move the battery and keep the accounts up to t, at the rates that held until now."""
    dt = t - s[S_FUEL_AT]
    if dt <= 0.0:
        return
    s[S_FUEL_AT] = t
    load_w = s[S_WA] + s[S_WB]
    s[O_WAIT_S] += s[S_WAITING] * dt
    if s[S_MODE] == RUNNING:
        burned = s[S_RATE] * dt
        s[S_FUEL] -= burned
        s[O_FUEL_M3] += burned
        s[O_RUN_S] += dt
        s[O_NIGHT_RUN_S] += s[S_NIGHT] * dt
        s[O_ENERGY_J] += machine_w(s) * dt
        s[O_CHARGE_J] += s[S_CHARGE_W] * dt
    s[O_LOAD_J] += load_w * dt
    if w[P_HAS_BATTERY] != 0.0:
        s[S_BAT] += s[S_BAT_W] * dt
        if s[S_BAT] < 0.0:
            s[S_BAT] = 0.0
        s[O_BAT_MIN_J] = min(s[O_BAT_MIN_J], s[S_BAT])
        if s[S_BAT_W] > 0.0:
            s[O_BAT_IN_J] += s[S_BAT_W] * dt
        else:
            s[O_BAT_OUT_J] -= s[S_BAT_W] * dt
        if s[S_SOURCE] == INVERTER:
            s[O_BAT_IDLE_J] += w[P_BAT_IDLE_W] * dt
        s[O_SOLAR_J] += s[S_SOLAR_W] * dt
        if s[S_BAT_DOWN] != 0.0:
            s[O_BAT_DOWN_S] += dt


@kernel
def settle(w: Array, at: Ints, s: Array) -> None:
    """Decide anew what runs, and carry it through to every store, the fuel and the battery."""
    advance_power(w, at, s, s[S_T])
    advance_medical(w, at, s, s[S_T])
    s[Q_DONE] = FAR
    call_chargers(w, at, s)
    call_tasks(w, at, s)
    if s[S_SOURCE] == NO_SOURCE:
        for i in range(at[N_WORDS]):
            s[words_of(at, NEXT) + i] = 0.0
        s[S_WA] = s[S_QA] = s[S_WB] = s[S_QB] = 0.0
    elif w[P_MANAGED] != 0.0:
        choose(w, at, s)
    else:
        let_all(w, at, s)
    _change_over(w, at, s)
    set_rates(w, at, s)
    foretell_chargers(w, at, s)
    if w[P_HAS_TANK] != 0.0:
        # its call may have changed though no load did: a pilot, a boiler that heats the house
        heat_tank(w, at, s)
    run_tasks(w, at, s)


@kernel
def _change_over(w: Array, at: Ints, s: Array) -> None:
    """What was chosen runs: count what has to wait, and tell the stores of loads that have started or stopped."""
    powered, waiting, changed_any, warmed_w = s[S_SOURCE] != NO_SOURCE, 0, 0, s[S_LOADS_W]
    for i in range(at[N_WORDS]):
        chosen, before = int(s[words_of(at, NEXT) + i]), int(s[words_of(at, RUN) + i])
        waited = int(s[words_of(at, WAITED) + i])
        if powered:
            waits = int(s[words_of(at, WANT) + i]) & int(s[words_of(at, LIVE) + i]) & ~chosen
            waiting += count(waits)
            s[O_WAITS] += float(count(waits & ~waited))
            waited |= waits
        s[words_of(at, WAITED) + i] = float(waited & ~chosen)
        s[words_of(at, RUN) + i] = float(chosen)
        changed = chosen ^ before
        changed_any |= changed
        while changed != 0:
            bit = lowest(changed)
            _carry(w, at, s, load_at(i, bit), (chosen >> bit) & 1 != 0)
            changed &= changed - 1
    s[S_WAITING] = float(waiting)
    if changed_any != 0:
        _note_peaks(w, at, s)
    if s[S_LOADS_W] != warmed_w:
        s[S_HEAT_DIRTY] = 1.0


@kernel
def _carry(w: Array, at: Ints, s: Array, j: int, running: bool) -> None:
    """Load j has started or stopped: its heat, and the store that it works for."""
    x = at[A_LOADS] + j * L_COUNT
    heat = w[x + L_HEAT_FRAC] * (w[x + L_WA] + w[x + L_WB])
    s[S_LOADS_W] += heat if running else -heat
    kind, task = w[x + L_KIND], int(w[x + L_TASK])
    if task >= 0:
        go_to_task(at, s, task, running)
    if kind == BY_COLD:
        switch_cold(w, at, s, int(w[x + L_WHICH]), running)
    elif kind == BY_LEVEL:
        i = int(w[x + L_WHICH])
        set_level(w, at, s, i, s[at[B_LEVELS] + i * W_COUNT + W_IN], running)
    elif kind == BY_HEATER or kind == BY_BLOWER:  # noqa: SIM109 (a set test is no kernel)
        s[S_HEAT_DIRTY] = 1.0


@kernel(inline=True)
def _note_peaks(w: Array, at: Ints, s: Array) -> None:
    """Highest running current of each leg and the neutral, and the highest running power."""
    volt = w[P_LEG_V]
    s[O_PEAK_A] = max(s[O_PEAK_A], sqrt(s[S_WA] ** 2 + s[S_QA] ** 2) / volt)
    s[O_PEAK_B] = max(s[O_PEAK_B], sqrt(s[S_WB] ** 2 + s[S_QB] ** 2) / volt)
    neutral = sqrt((s[S_WA] - s[S_WB]) ** 2 + (s[S_QA] - s[S_QB]) ** 2) / volt
    s[O_NEUTRAL] = max(s[O_NEUTRAL], neutral)
    s[O_PEAK_W] = max(s[O_PEAK_W], s[S_WA] + s[S_WB])


@kernel
def set_rates(w: Array, at: Ints, s: Array) -> None:
    """Fuel and battery rates from the sums that now hold, and when they next run into an end."""
    load_w = s[S_WA] + s[S_WB]
    s[S_CHARGE_W] = 0.0
    if w[P_HAS_BATTERY] != 0.0:
        _set_battery(w, at, s, load_w)
    s[Q_FUEL] = FAR
    s[S_RATE] = 0.0
    if s[S_MODE] == RUNNING:
        s[S_RATE] = w[P_FUEL_A] + w[P_FUEL_B] * machine_w(s)
        if s[S_FUEL] < FAR * 0.1 and s[S_RATE] > 0.0:
            s[Q_FUEL] = s[S_T] + max(0.0, s[S_FUEL]) / s[S_RATE]


@kernel
def _set_battery(w: Array, at: Ints, s: Array, load_w: float) -> None:
    """Charge from machine and sun, or discharge into the house; then when it is full, empty or at a rule's level."""
    full = s[S_BAT] >= w[P_BAT_J] * (1.0 - _TINY)
    cell_c = s[S_AIR] if w[P_BAT_INSIDE] != 0.0 else s[S_OUT_C]
    may_charge = not full and cell_c >= w[P_BAT_MIN_C]
    surplus = s[S_SOLAR_W]
    if s[S_SOURCE] == INVERTER:
        surplus -= load_w / w[P_BAT_OUT] + w[P_BAT_IDLE_W]
    elif s[S_SOURCE] == MACHINE and may_charge:
        room_w = w[LIMITS + LIM_RUN_W] - load_w
        room_w = min(room_w, 2.0 * (w[LIMITS + LIM_LEG_W] - max(s[S_WA], s[S_WB])))
        s[S_CHARGE_W] = max(0.0, min(w[P_BAT_CHARGE_W] - surplus, room_w))
        surplus += s[S_CHARGE_W]
    if surplus > 0.0:
        surplus = min(surplus, w[P_BAT_CHARGE_W]) * w[P_BAT_IN] if may_charge else 0.0
    s[S_BAT_W] = surplus
    target = FAR
    if surplus > 0.0:
        target = w[P_BAT_J]
        if s[S_BAT_DOWN] != 0.0 and s[S_BAT] < w[P_BAT_RESTART_J] * (1.0 - _TINY):
            target = w[P_BAT_RESTART_J]
        if w[K_KIND] == THERMO and s[S_BAT] < w[K_BAT_STOP] * (1.0 - _TINY):
            target = min(target, w[K_BAT_STOP])
    elif surplus < 0.0:
        target = 0.0
        if w[K_KIND] == THERMO and s[S_BAT] > w[K_BAT_START] * (1.0 + _TINY):
            target = w[K_BAT_START]
    s[Q_BATTERY] = s[S_T] + max(0.0, (target - s[S_BAT]) / surplus) if target < FAR else FAR


@kernel
def reheat(w: Array, at: Ints, s: Array) -> None:
    """The heat into the air may have changed: move the house to now, then go on with the new heat."""
    advance_house(w, at, s, s[S_T])
    s[S_HEAT_W] = house_heat_w(w, at, s)
    foretell_house(w, at, s)
    s[S_TOLD_W] = min(s[S_TOLD_W], s[S_LOADS_W])
    if (s[S_LOADS_W] - s[S_TOLD_W]) * w[P_AIR_K_PER_W] > ROOM_DRIFT_K:
        look_anew(w, at, s)
