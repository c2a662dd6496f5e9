"""The house in motion: air and mass, the calls of heater and stove, the pipe, and the sums other stores need."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.band import nearer
from hearthold.engine.kernels.decays import decay, first_crossing, stays, third
from hearthold.engine.kernels.layout import (
    A_SLOTS,
    AIR_LOSS_K,
    EXACT_S,
    FAR,
    HOUR_S,
    K_AIR_START,
    K_AIR_STOP,
    K_KIND,
    LEVEL_K,
    LOOK_AGAIN_S,
    N_COLD,
    NO_SOURCE,
    O_AIR_FIRST,
    O_AIR_LOW_KS,
    O_AIR_LOW_S,
    O_AIR_MAX,
    O_AIR_MIN,
    O_HEAT_J,
    O_LOSS_J,
    O_PIPE_FIRST,
    O_PIPE_MIN,
    O_PIPE_S,
    P_AIR_K_PER_W,
    P_AIR_LOW,
    P_B1,
    P_B2,
    P_BLOWER_LOAD,
    P_C1,
    P_C2,
    P_EF,
    P_ES,
    P_G,
    P_GAINS,
    P_HAS_TANK,
    P_HEAT_OFF,
    P_HEAT_ON,
    P_HEATER_LOAD,
    P_HEATER_W,
    P_KF,
    P_KS,
    P_PIPE_LOW,
    P_PIPE_RATIO,
    P_SF,
    P_SS,
    P_STOVE_DULL,
    P_STOVE_OFF,
    P_STOVE_ON,
    P_STOVE_W,
    P_TANK_BY,
    P_TANK_W,
    P_U1,
    P_U2,
    P_VF,
    P_VS,
    P_W1,
    P_W2,
    Q_FIRST,
    Q_HOUR,
    Q_HOUSE,
    Q_TANK,
    ROOM_DRIFT_K,
    RUN,
    RUNNING,
    S_AIR,
    S_AIR_AT,
    S_AIR_SUM,
    S_AIR_SUM2,
    S_CALL_HEAT,
    S_CALL_STOVE,
    S_CALL_TANK,
    S_DIRTY,
    S_DRIFT,
    S_HEAT_DIRTY,
    S_HEAT_W,
    S_LOADS_W,
    S_MASS,
    S_MODE,
    S_OUT_AT,
    S_OUT_C,
    S_OUT_SUM,
    S_OUT_SUM2,
    S_RULE_DIRTY,
    S_SLOT,
    S_SOURCE,
    S_STOVE_LIT,
    S_T,
    S_TOLD_W,
    THERMO,
    WANT,
    Z_COUNT,
    Z_SETBACK,
    Array,
    Ints,
)  # fmt: skip
from hearthold.engine.kernels.sets import has, put


@kernel
def advance_house(w: Array, at: Ints, s: Array, t: float) -> None:
    """Move air and mass to t. Exact for any number of calls: nothing that is foretold changes."""
    dt = t - s[S_AIR_AT]
    if dt <= 0.0:
        return
    air, mass, outdoor = s[S_AIR], s[S_MASS], s[S_OUT_C]
    f1 = (w[P_U1] * (outdoor - air) + w[P_G] * (mass - air) + s[S_HEAT_W]) / w[P_C1]
    f2 = (w[P_U2] * (outdoor - mass) + w[P_G] * (air - mass)) / w[P_C2]
    if dt == HOUR_S:
        e_fast, s_fast, e_slow, s_slow = w[P_EF], w[P_SF], w[P_ES], w[P_SS]
        v_fast, v_slow = w[P_VF], w[P_VS]
    else:
        e_fast, s_fast = decay(w[P_KF], dt)
        e_slow, s_slow = decay(w[P_KS], dt)
        v_fast, v_slow = third(w[P_KF], dt, s_fast), third(w[P_KS], dt, s_slow)
    a_fast, a_slow = w[P_W1] * f1 + w[P_B1] * f2, w[P_W2] * f1 - w[P_B1] * f2
    m_fast, m_slow = w[P_W2] * f2 + w[P_B2] * f1, w[P_W1] * f2 - w[P_B2] * f1
    air_sum = air * dt + a_fast * s_fast + a_slow * s_slow
    mass_sum = mass * dt + m_fast * s_fast + m_slow * s_slow
    s[S_AIR_AT] = t
    s[S_AIR] = air + a_fast * e_fast + a_slow * e_slow
    s[S_MASS] = mass + m_fast * e_fast + m_slow * e_slow
    s[S_AIR_SUM2] += dt * (s[S_AIR_SUM] + 0.5 * dt * air) + a_fast * v_fast + a_slow * v_slow
    s[S_AIR_SUM] += air_sum
    s[O_HEAT_J] += s[S_HEAT_W] * dt
    s[O_LOSS_J] += w[P_U1] * (air_sum - outdoor * dt) + w[P_U2] * (mass_sum - outdoor * dt)
    _note_limits(w, at, s, air, outdoor, air_sum, dt)


@kernel(inline=True)
def _note_limits(
    w: Array, at: Ints, s: Array, before: float, outdoor: float, air_sum: float, dt: float
) -> None:
    """Time below the limits over a step that does not cross them (crossings are events of their own)."""
    air, low, mean = s[S_AIR], w[P_AIR_LOW], air_sum / dt
    s[O_AIR_MIN] = min(s[O_AIR_MIN], air)
    s[O_AIR_MAX] = max(s[O_AIR_MAX], air)
    if mean < low:
        s[O_AIR_LOW_S] += dt
        s[O_AIR_LOW_KS] += low * dt - air_sum
        if s[O_AIR_FIRST] >= FAR:
            s[O_AIR_FIRST] = s[S_AIR_AT] - dt
    ratio, freeze = w[P_PIPE_RATIO], w[P_PIPE_LOW]
    pipe = outdoor + ratio * (min(air, before) - outdoor)
    s[O_PIPE_MIN] = min(s[O_PIPE_MIN], pipe)
    if outdoor + ratio * (mean - outdoor) < freeze:
        s[O_PIPE_S] += dt
        if s[O_PIPE_FIRST] >= FAR:
            s[O_PIPE_FIRST] = s[S_AIR_AT] - dt


@kernel(inline=True)
def outdoor_sum(s: Array, t: float) -> float:
    """Integral of the outdoor temperature from the start to t, K s."""
    return s[S_OUT_SUM] + s[S_OUT_C] * (t - s[S_OUT_AT])


@kernel(inline=True)
def outdoor_sum2(s: Array, t: float) -> float:
    """Integral of `outdoor_sum` from the start to t, K s2."""
    dt = t - s[S_OUT_AT]
    return s[S_OUT_SUM2] + dt * (s[S_OUT_SUM] + 0.5 * dt * s[S_OUT_C])


@kernel(inline=True)
def room_margins(w: Array, s: Array) -> tuple[float, float]:
    """How much warmer and cooler the air may become within a step, K.

    Warmer: heated up to the set point, and as it is going. Cooler: as it would go without any of its heat.
    """
    warmer = 0.0
    if s[S_SOURCE] != NO_SOURCE and w[P_HEATER_LOAD] >= 0.0:
        warmer = max(0.0, w[P_HEAT_OFF] - s[S_AIR])
    if s[S_STOVE_LIT] != 0.0:
        warmer = max(warmer, w[P_STOVE_OFF] - s[S_AIR])
    up, down = max(0.0, s[S_DRIFT]), max(0.0, -s[S_DRIFT])
    cooler = min(AIR_LOSS_K, max(0.0, (s[S_HEAT_W] - w[P_GAINS]) * w[P_AIR_K_PER_W] - up))
    return warmer + ROOM_DRIFT_K + up, cooler + ROOM_DRIFT_K + down


@kernel
def look_anew(w: Array, at: Ints, s: Array) -> None:
    """The house may become warmer than its stores were told: they are looked at before it has."""
    s[S_TOLD_W], soon = s[S_LOADS_W], s[S_T] + LOOK_AGAIN_S
    for k in range(at[N_COLD]):
        s[Q_FIRST + k] = min(s[Q_FIRST + k], soon)
    if w[P_HAS_TANK] != 0.0:
        s[Q_TANK] = min(s[Q_TANK], soon)


@kernel
def foretell_house(w: Array, at: Ints, s: Array) -> None:
    """When the air next reaches a level that matters, at most to the next hour (then the weather changes)."""
    t, air, mass, outdoor = s[S_AIR_AT], s[S_AIR], s[S_MASS], s[S_OUT_C]
    below, above = nearer(-FAR, FAR, w[P_AIR_LOW], air)
    ratio = w[P_PIPE_RATIO]
    if ratio > 0.0:
        below, above = nearer(below, above, outdoor + (w[P_PIPE_LOW] - outdoor) / ratio, air)
    if w[P_HEATER_LOAD] >= 0.0:
        shift = w[at[A_SLOTS] + int(s[S_SLOT]) * Z_COUNT + Z_SETBACK]
        level = w[P_HEAT_OFF] if s[S_CALL_HEAT] != 0.0 else w[P_HEAT_ON]
        below, above = nearer(below, above, level - shift, air)
    if s[S_STOVE_LIT] != 0.0:
        below, above = nearer(below, above, w[P_STOVE_OFF] if s[S_CALL_STOVE] != 0.0 else w[P_STOVE_ON], air)
    if w[K_KIND] == THERMO:
        running = s[S_MODE] == RUNNING
        level = w[K_AIR_STOP] if running else w[K_AIR_START]
        if (level > air) == running:
            below, above = nearer(below, above, level, air)
    dt = s[Q_HOUR] - t
    f1 = (w[P_U1] * (outdoor - air) + w[P_G] * (mass - air) + s[S_HEAT_W]) / w[P_C1]
    f2 = (w[P_U2] * (outdoor - mass) + w[P_G] * (air - mass)) / w[P_C2]
    a_fast, a_slow = w[P_W1] * f1 + w[P_B1] * f2, w[P_W2] * f1 - w[P_B1] * f2
    s[S_DRIFT] = a_fast * w[P_EF] + a_slow * w[P_ES]
    if stays(air, a_fast, a_slow, below, above, dt):
        s[Q_HOUSE] = FAR
        return
    if dt == HOUR_S:
        end = air + s[S_DRIFT]
    else:
        e_fast, _ = decay(w[P_KF], dt)
        e_slow, _ = decay(w[P_KS], dt)
        end = air + a_fast * e_fast + a_slow * e_slow
    s[Q_HOUSE] = t + first_crossing(air, a_fast, a_slow, w[P_KF], w[P_KS], below, above, dt, end, EXACT_S)


@kernel
def read_thermostats(w: Array, at: Ints, s: Array) -> None:
    """Set the calls of heater and stove from the air as it is now."""
    air = s[S_AIR]
    shift = w[at[A_SLOTS] + int(s[S_SLOT]) * Z_COUNT + Z_SETBACK]
    call = s[S_CALL_HEAT]
    if air <= w[P_HEAT_ON] - shift + LEVEL_K:
        s[S_CALL_HEAT] = 1.0
    elif air >= w[P_HEAT_OFF] - shift - LEVEL_K:
        s[S_CALL_HEAT] = 0.0
    load = int(w[P_HEATER_LOAD])
    if s[S_CALL_HEAT] != call and load >= 0:
        s[S_DIRTY] = 1.0
        s[S_HEAT_DIRTY] = 1.0
    lit = s[S_CALL_STOVE]
    if s[S_STOVE_LIT] == 0.0 or air >= w[P_STOVE_OFF] - LEVEL_K:
        s[S_CALL_STOVE] = 0.0
    elif air <= w[P_STOVE_ON] + LEVEL_K:
        s[S_CALL_STOVE] = 1.0
    if s[S_CALL_STOVE] != lit:
        s[S_HEAT_DIRTY] = 1.0
        s[S_DIRTY] = 1.0
    if load >= 0:
        tank_calls = w[P_TANK_BY] == 2.0 and s[S_CALL_TANK] != 0.0
        put(at, s, WANT, load, s[S_CALL_HEAT] != 0.0 or tank_calls)
    blower = int(w[P_BLOWER_LOAD])
    if blower >= 0:
        put(at, s, WANT, blower, s[S_CALL_STOVE] != 0.0)


@kernel
def house_heat_w(w: Array, at: Ints, s: Array) -> float:
    """Heat into the air now: people and sun, running loads, heater and stove."""
    heat = w[P_GAINS] + s[S_LOADS_W]
    load = int(w[P_HEATER_LOAD])
    if load >= 0 and has(at, s, RUN, load) and s[S_CALL_HEAT] != 0.0:
        heat += w[P_HEATER_W]
        if w[P_TANK_BY] == 2.0 and s[S_CALL_TANK] != 0.0:
            heat -= min(w[P_TANK_W], w[P_HEATER_W])
    if s[S_CALL_STOVE] != 0.0:
        blower = int(w[P_BLOWER_LOAD])
        dull = blower >= 0 and not has(at, s, RUN, blower)
        heat += w[P_STOVE_W] * (w[P_STOVE_DULL] if dull else 1.0)
    return heat


@kernel
def on_house(w: Array, at: Ints, s: Array) -> None:
    """The air has reached a level: read the thermostats, foretell the next."""
    advance_house(w, at, s, s[S_T])
    read_thermostats(w, at, s)
    s[S_RULE_DIRTY] = 1.0
    if s[S_HEAT_DIRTY] == 0.0:
        foretell_house(w, at, s)
