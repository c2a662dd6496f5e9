"""The tank water heater: one mixed node that loses to the room, is heated, and takes in cold water as it is drawn."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from math import log1p

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.band import nearer
from hearthold.engine.kernels.decays import decay
from hearthold.engine.kernels.house import advance_house, room_margins
from hearthold.engine.kernels.layout import (
    COLD_LEVEL_K,
    COLD_STEP_S,
    FAR,
    HOP_FROM_S,
    K_KIND,
    K_TANK_START,
    K_TANK_STOP,
    NO_SOURCE,
    O_HOT_M3,
    O_HOT_SHORT_M3,
    O_TANK_FIRST,
    O_TANK_IN_J,
    O_TANK_LOW_S,
    O_TANK_MIN,
    O_TANK_OUT_J,
    P_HEATER_LOAD,
    P_TANK_BY,
    P_TANK_FLOW,
    P_TANK_IN,
    P_TANK_J,
    P_TANK_LOAD,
    P_TANK_LOW,
    P_TANK_OFF,
    P_TANK_ON,
    P_TANK_READY,
    P_TANK_UA,
    P_TANK_W,
    Q_TANK,
    RUN,
    RUNNING,
    S_AIR,
    S_AIR_SUM,
    S_ASK_AT,
    S_CALL_HEAT,
    S_CALL_TANK,
    S_DIRTY,
    S_HEAT_DIRTY,
    S_HOT,
    S_MODE,
    S_RULE_DIRTY,
    S_SOURCE,
    S_T,
    S_TANK,
    S_TANK_AT,
    S_TANK_HOT,
    S_TANK_SUM0,
    S_TANK_W,
    THERMO,
    WANT,
    Array,
    Ints,
)  # fmt: skip
from hearthold.engine.kernels.sets import has, put

_SERIES_BELOW = 1e-9
BY_NONE, BY_ELEMENT, BY_BOILER, BY_PILOT = 0.0, 1.0, 2.0, 3.0


@kernel
def advance_tank(w: Array, at: Ints, s: Array, t: float) -> None:
    """Move the tank to t with the room's mean since its last move."""
    dt = t - s[S_TANK_AT]
    if dt <= 0.0:
        return
    advance_house(w, at, s, t)
    room = (s[S_AIR_SUM] - s[S_TANK_SUM0]) / dt
    tank, flow_w_per_k = s[S_TANK], w[P_TANK_FLOW] * s[S_TANK_HOT]
    k = (w[P_TANK_UA] + flow_w_per_k) / w[P_TANK_J]
    rate = (w[P_TANK_UA] * (room - tank) + flow_w_per_k * (w[P_TANK_IN] - tank) + s[S_TANK_W]) / w[P_TANK_J]
    e, es = decay(k, dt)
    tank_sum = tank * dt + rate * es
    s[S_TANK], s[S_TANK_AT], s[S_TANK_SUM0] = tank + rate * e, t, s[S_AIR_SUM]
    s[O_TANK_IN_J] += s[S_TANK_W] * dt
    s[O_TANK_OUT_J] += w[P_TANK_UA] * (tank_sum - room * dt) + flow_w_per_k * (tank_sum - w[P_TANK_IN] * dt)
    s[O_HOT_M3] += s[S_HOT] * dt
    s[O_HOT_SHORT_M3] += (s[S_HOT] - s[S_TANK_HOT]) * dt
    s[O_TANK_MIN] = min(s[O_TANK_MIN], s[S_TANK])
    if tank_sum < w[P_TANK_LOW] * dt:
        s[O_TANK_LOW_S] += dt
        s[O_HOT_SHORT_M3] += s[S_TANK_HOT] * dt
        if s[O_TANK_FIRST] >= FAR:
            s[O_TANK_FIRST] = t - dt


@kernel
def foretell_tank(w: Array, at: Ints, s: Array) -> None:
    """When the tank must move next."""
    tank, flow_w_per_k = s[S_TANK], w[P_TANK_FLOW] * s[S_TANK_HOT]
    below, above = nearer(-FAR, FAR, w[P_TANK_LOW], tank)
    if s[S_SOURCE] != NO_SOURCE:
        below, above = nearer(below, above, w[P_TANK_READY], tank)
    if s[S_SOURCE] != NO_SOURCE or w[P_TANK_BY] == BY_PILOT:
        below, above = nearer(below, above, w[P_TANK_OFF] if s[S_CALL_TANK] != 0.0 else w[P_TANK_ON], tank)
    if w[K_KIND] == THERMO:
        running = s[S_MODE] == RUNNING
        level = w[K_TANK_STOP] if running else w[K_TANK_START]
        if (level > tank) == running:
            below, above = nearer(below, above, level, tank)
    k = (w[P_TANK_UA] + flow_w_per_k) / w[P_TANK_J]
    heat = w[P_TANK_UA] * (s[S_AIR] - tank) + flow_w_per_k * (w[P_TANK_IN] - tank) + s[S_TANK_W]
    warmer, cooler = room_margins(w, s)
    early = _first_out(w, tank, heat + w[P_TANK_UA] * warmer, k, -FAR, above)
    early = min(early, _first_out(w, tank, heat - w[P_TANK_UA] * cooler, k, below, FAR))
    if early < HOP_FROM_S:
        early = min(HOP_FROM_S, _first_out(w, tank, heat, k, below, above))
    s[Q_TANK] = s[S_TANK_AT] + max(early, 1e-3)


@kernel
def _first_out(w: Array, tank: float, heat: float, k: float, below: float, above: float) -> float:
    """When the tank leaves a band with this heat into it, at most the longest step."""
    rate = heat / w[P_TANK_J]
    if (rate > 0.0 and above >= FAR) or (rate < 0.0 and below <= -FAR) or rate == 0.0:
        return COLD_STEP_S
    gap = above - tank if rate > 0.0 else below - tank
    part = k * gap / rate
    if part >= 1.0:
        return COLD_STEP_S
    return min(COLD_STEP_S, -log1p(-part) / k if part > _SERIES_BELOW else gap / rate)


@kernel
def read_tank(w: Array, at: Ints, s: Array) -> None:
    """Set the call for heat from the tank's temperature as it is now."""
    call = s[S_CALL_TANK]
    if s[S_TANK] <= w[P_TANK_ON] + COLD_LEVEL_K:
        s[S_CALL_TANK] = 1.0
    elif s[S_TANK] >= w[P_TANK_OFF] - COLD_LEVEL_K:
        s[S_CALL_TANK] = 0.0
    if s[S_CALL_TANK] == call:
        return
    s[S_DIRTY] = 1.0
    if w[P_TANK_BY] == BY_ELEMENT:
        put(at, s, WANT, int(w[P_TANK_LOAD]), s[S_CALL_TANK] != 0.0)
    elif w[P_TANK_BY] == BY_BOILER and w[P_HEATER_LOAD] >= 0.0:
        put(at, s, WANT, int(w[P_HEATER_LOAD]), s[S_CALL_TANK] != 0.0 or s[S_CALL_HEAT] != 0.0)
        s[S_HEAT_DIRTY] = 1.0


@kernel
def heat_tank(w: Array, at: Ints, s: Array) -> None:
    """Set the heat into the tank from what runs and what it calls for."""
    heat = 0.0
    if s[S_CALL_TANK] != 0.0:
        if w[P_TANK_BY] == BY_PILOT:
            heat = w[P_TANK_W]
        elif w[P_TANK_BY] == BY_ELEMENT:
            heat = w[P_TANK_W] if has(at, s, RUN, int(w[P_TANK_LOAD])) else 0.0
        elif w[P_TANK_BY] == BY_BOILER and w[P_HEATER_LOAD] >= 0.0:
            heat = w[P_TANK_W] if has(at, s, RUN, int(w[P_HEATER_LOAD])) else 0.0
    if heat != s[S_TANK_W]:
        advance_tank(w, at, s, s[S_T])
        s[S_TANK_W] = heat
        foretell_tank(w, at, s)


@kernel
def draw_hot(w: Array, at: Ints, s: Array, asked_m3_per_s: float, flows: bool) -> None:
    """Set the flow of hot water asked for, and whether the taps give any."""
    drawn = asked_m3_per_s if flows else 0.0
    if asked_m3_per_s != s[S_HOT] or drawn != s[S_TANK_HOT]:
        advance_tank(w, at, s, s[S_T])
        s[S_HOT] = asked_m3_per_s
        s[S_TANK_HOT] = drawn
        foretell_tank(w, at, s)


@kernel
def on_tank(w: Array, at: Ints, s: Array) -> None:
    """The tank has reached a level, or the longest step."""
    advance_tank(w, at, s, s[S_T])
    read_tank(w, at, s)
    s[S_RULE_DIRTY] = 1.0
    if s[S_TANK] > w[P_TANK_READY] - COLD_LEVEL_K:
        s[S_ASK_AT] = -FAR  # showers that have waited for warm water may begin
        if s[S_TANK] < w[P_TANK_READY] + COLD_LEVEL_K:
            s[S_DIRTY] = 1.0
    foretell_tank(w, at, s)
