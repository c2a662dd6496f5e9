"""The state of a house at the moment the grid fails: one flat buffer, its views, and everybody's first foretelling."""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.cold import foretell_cold, note_need, read_cold
from hearthold.engine.kernels.house import foretell_house, house_heat_w, read_thermostats
from hearthold.engine.kernels.layout import (
    A_COLD,
    A_LEVELS,
    A_MEDICAL,
    A_OUTDOOR,
    A_SLOT_AT,
    A_SOLAR,
    B_COLD,
    B_END,
    B_LEVELS,
    B_MEDICAL,
    B_SETS,
    C_CORE0,
    C_COUNT,
    C_SEG1,
    C_SEG2,
    C_SHELL0,
    D_CORE,
    D_COUNT,
    D_FIRST,
    D_LOST_AT,
    D_MAX,
    D_SEG1,
    D_SEG2,
    D_SHELL,
    DAY_S,
    FAR,
    H_COUNT,
    H_OWN_S,
    HOUR_S,
    N_COLD,
    N_HOURS,
    N_LEVELS,
    N_MEDICAL,
    NEED_COUNT,
    NEED_FIRST,
    NEED_LEFT_S,
    O_AIR_FIRST,
    O_AIR_MAX,
    O_AIR_MIN,
    O_AIR_START,
    O_BAT_FIRST,
    O_BAT_MIN_J,
    O_FUEL_OUT_AT,
    O_MASS_START,
    O_PIPE_FIRST,
    O_PIPE_MIN,
    O_TANK_FIRST,
    O_TANK_MIN,
    P_AIR0,
    P_BAT0,
    P_FUEL_STOCK0,
    P_FUEL_TANK0,
    P_G,
    P_HAS_HOUSE,
    P_HAS_TANK,
    P_MASS0,
    P_TANK0,
    P_U2,
    Q_END,
    Q_HOUR,
    S_AIR,
    S_BAT,
    S_BUSY,
    S_DAY_AT,
    S_FUEL,
    S_HEAT_W,
    S_HOUR,
    S_MASS,
    S_OUT_C,
    S_READY,
    S_SLOT,
    S_SOLAR_W,
    S_START,
    S_STOCK,
    S_STOPPED,
    S_TANK,
    V_COUNT,
    V_IN,
    V_X0,
    W_COUNT,
    W_FIRST,
    W_IN,
    W_RATE,
    W_X,
    Array,
    Ints,
)  # fmt: skip
from hearthold.engine.kernels.level import foretell_level, read_level
from hearthold.engine.kernels.tank import foretell_tank, read_tank


@kernel(inline=True)
def copy_state(source: Array, target: Array) -> None:
    """Make a state like another, to run it on from there or to close its accounts while the other goes on."""
    for m in range(source.shape[0]):
        target[m] = source[m]


@kernel
def begin(w: Array, at: Ints, s: Array, start_s: float) -> None:
    """Fill the state for an outage that begins start_s seconds after midnight of day 0."""
    for i in range(at[B_END]):
        s[i] = 0.0
    for i in range(Q_END, at[B_SETS]):
        s[i] = FAR
    s[S_START] = start_s
    hour = int(start_s // HOUR_S)
    s[S_HOUR] = float(hour)
    s[S_OUT_C], s[S_SOLAR_W] = w[at[A_OUTDOOR] + hour], w[at[A_SOLAR] + hour]
    s[Q_HOUR] = (hour + 1) * HOUR_S - start_s
    s[S_TANK], s[S_BAT] = w[P_TANK0], w[P_BAT0]
    _begin_house(w, at, s, hour)
    s[S_FUEL], s[S_STOCK] = w[P_FUEL_TANK0], w[P_FUEL_STOCK0]
    s[S_STOPPED], s[S_READY], s[S_BUSY] = -FAR, -FAR, -FAR
    of_day = start_s % DAY_S
    s[S_DAY_AT] = -of_day
    slot = 0
    while w[at[A_SLOT_AT] + slot + 1] <= of_day:
        slot += 1
    s[S_SLOT] = float(slot)
    _begin_accounts(w, at, s)
    for i in range(at[N_MEDICAL]):
        need = at[B_MEDICAL] + i * NEED_COUNT
        s[need + NEED_LEFT_S] = w[at[A_MEDICAL] + i * H_COUNT + H_OWN_S]
        s[need + NEED_FIRST] = FAR
    read_thermostats(w, at, s)
    s[S_HEAT_W] = house_heat_w(w, at, s)
    foretell_house(w, at, s)
    _begin_stores(w, at, s)


@kernel
def _begin_house(w: Array, at: Ints, s: Array, hour: int) -> None:
    """The house as read, or as the grid left it: at its set point or as warm as outside, the mass in balance."""
    if w[P_MASS0] > -FAR / 2.0:
        s[S_AIR], s[S_MASS] = w[P_AIR0], w[P_MASS0]
        s[O_AIR_START], s[O_MASS_START] = w[P_AIR0], w[P_MASS0]
        return
    air, outdoor = w[P_AIR0], w[P_AIR0]
    if w[P_HAS_HOUSE] != 0.0:
        first = max(0, hour - 23)
        outdoor = 0.0
        for i in range(first, first + 24):
            outdoor += w[at[A_OUTDOOR] + min(i, at[N_HOURS] - 1)] / 24.0
        air = max(air, outdoor)
    mass = air
    if w[P_U2] + w[P_G] > 0.0:
        mass = (w[P_G] * air + w[P_U2] * outdoor) / (w[P_U2] + w[P_G])
    s[S_AIR], s[S_MASS] = air, mass
    s[O_AIR_START], s[O_MASS_START] = air, mass


@kernel
def _begin_accounts(w: Array, at: Ints, s: Array) -> None:
    s[O_AIR_MIN] = s[O_AIR_MAX] = s[O_PIPE_MIN] = s[S_AIR]
    s[O_TANK_MIN], s[O_BAT_MIN_J] = w[P_TANK0], w[P_BAT0]
    s[O_FUEL_OUT_AT] = s[O_AIR_FIRST] = s[O_PIPE_FIRST] = s[O_TANK_FIRST] = s[O_BAT_FIRST] = FAR


@kernel
def _begin_stores(w: Array, at: Ints, s: Array) -> None:
    for k in range(at[N_COLD]):
        d, c = at[B_COLD] + k * D_COUNT, at[A_COLD] + k * C_COUNT
        s[d + D_SHELL], s[d + D_CORE], s[d + D_SEG1], s[d + D_SEG2] = (
            w[c + C_SHELL0],
            w[c + C_CORE0],
            w[c + C_SEG1],
            w[c + C_SEG2],
        )
        s[d + D_MAX] = w[c + C_SHELL0]
        s[d + D_FIRST] = s[d + D_LOST_AT] = FAR
        read_cold(w, at, s, k)
        note_need(w, at, s, k)
        foretell_cold(w, at, s, k)
    for i in range(at[N_LEVELS]):
        s[at[B_LEVELS] + i * W_COUNT + W_X] = w[at[A_LEVELS] + i * V_COUNT + V_X0]
        s[at[B_LEVELS] + i * W_COUNT + W_IN] = w[at[A_LEVELS] + i * V_COUNT + V_IN]
        s[at[B_LEVELS] + i * W_COUNT + W_RATE] = w[at[A_LEVELS] + i * V_COUNT + V_IN]
        s[at[B_LEVELS] + i * W_COUNT + W_FIRST] = FAR
        read_level(w, at, s, i)
        foretell_level(w, at, s, i)
    if w[P_HAS_TANK] != 0.0:
        read_tank(w, at, s)
        foretell_tank(w, at, s)
