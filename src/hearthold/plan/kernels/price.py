"""The cost of an outage so far, from the accounts of the engine; and the fuel it takes to make the house
whole again.

Both read a *closed* state, in which every store has been moved to the present (`loop.close`).
"""

from __future__ import annotations

from pathlib import Path

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.layout import (
    A_COLD,
    A_LEVELS,
    A_LOADS,
    A_TASKS,
    B_COLD,
    B_LEVELS,
    B_MEDICAL,
    B_TASKS,
    C_COOL_W,
    C_COUNT,
    C_LOAD,
    C_OFF,
    C_ON,
    C_ROOM_AIR,
    C_ROOM_OUT,
    C_UA,
    CYCLE,
    D_COUNT,
    D_HELD_J,
    D_LOST_AT,
    D_OVER_KS,
    D_OVER_S,
    FAR,
    J_COUNT,
    J_HOT,
    J_LOAD,
    J_TAP,
    L_COUNT,
    L_WA,
    L_WB,
    N_COLD,
    N_LEVELS,
    N_MEDICAL,
    N_TASKS,
    NEED_COUNT,
    NEED_SHORT_S,
    O_AIR_LOW_KS,
    O_AIR_MIN,
    O_FUEL_M3,
    O_FUEL_TRIPS,
    O_HOT_SHORT_M3,
    O_NIGHT_RUN_S,
    O_PIPE_S,
    O_REFILLS,
    O_STARTS,
    P_BAT_CHARGE_W,
    P_BAT_IN,
    P_BAT_J,
    P_C1,
    P_C2,
    P_FUEL_A,
    P_FUEL_B,
    P_HAS_BATTERY,
    P_HAS_TANK,
    P_HEAT_OFF,
    P_HEAT_ON,
    P_HEATER_LOAD,
    P_HEATER_W,
    P_STORED_M3,
    P_TANK_BY,
    P_TANK_J,
    P_TANK_LOAD,
    P_TANK_OFF,
    P_TANK_ON,
    P_TANK_W,
    P_U1,
    P_U2,
    PIT,
    S_AIR,
    S_BAT,
    S_MASS,
    S_OUT_C,
    S_TANK,
    U_COUNT,
    U_GIVEN_UP_S,
    U_OWED_S,
    V_COUNT,
    V_KIND,
    V_LOAD,
    V_OUT,
    W_COUNT,
    W_OVER,
    W_X,
    Array,
    Ints,
)  # fmt: skip
from hearthold.plan.objective import (
    AIR_W_PER_K,
    COLD_W_PER_K,
    CYCLE_W,
    DRY_J_PER_M3,
    FOOD_BREACH_J,
    FOOD_LOST_J,
    FUEL_J_PER_M3,
    HOT_J_PER_M3,
    HOUSE_BREACH_J,
    JUG_J_PER_M3,
    KEPT_K,
    KEPT_M3,
    KEPT_S,
    LOWEST_C,
    LOWEST_J_PER_K,
    NIGHT_W,
    PIPE_BREACH_J,
    PIPE_W,
    PIT_BREACH_J,
    PIT_J_PER_M3,
    REFILL_J,
    RESTORE_FRAC,
    START_J,
    TASK_W,
    TRIP_J,
    VITAL_BREACH_J,
    VITAL_KEPT_S,
    VITAL_W,
    WATER_BREACH_J,
)  # fmt: skip

SOURCES = tuple(sorted(Path(__file__).parent.glob("*.py")))  # part of the key of the compile cache

# Parts of a cost, in the order of `price_parts`; `plan.parts` gives them names.
PART_FUEL, PART_STARTS, PART_REFILLS, PART_TRIPS, PART_NIGHT, PART_COMFORT, PART_HOT, PART_TASKS = (
    0,
    1,
    2,
    3,
    4,
    5,
    6,
    7,
)
PART_JUGS, PART_FOOD, PART_HOUSE, PART_PIPES, PART_PITS, PART_WATER, PART_VITAL, PART_RESTORE = (
    8,
    9,
    10,
    11,
    12,
    13,
    14,
    15,
)
PART_COUNT = 16

LEAST_POWER_FRAC = (
    0.25  # of a cooler's or heater's power that is left for restoring, however cold or hot it is
)


@kernel
def price_parts(w: Array, at: Ints, s: Array, prices: Array, offset_j: Array, parts: Array) -> float:
    """Cost of a closed state, J of fuel, and its parts. `offset_j`: heat each cold store lacked at the
    start.
    """
    parts[:] = 0.0
    parts[PART_FUEL] = prices[FUEL_J_PER_M3] * s[O_FUEL_M3]
    parts[PART_STARTS] = prices[START_J] * s[O_STARTS]
    parts[PART_REFILLS] = prices[REFILL_J] * s[O_REFILLS]
    parts[PART_TRIPS] = prices[TRIP_J] * s[O_FUEL_TRIPS]
    parts[PART_NIGHT] = prices[NIGHT_W] * s[O_NIGHT_RUN_S]
    parts[PART_COMFORT] = prices[AIR_W_PER_K] * s[O_AIR_LOW_KS]
    parts[PART_HOT] = prices[HOT_J_PER_M3] * s[O_HOT_SHORT_M3]
    low_k = prices[LOWEST_C] - s[O_AIR_MIN]
    if low_k > KEPT_K:
        parts[PART_HOUSE] = prices[HOUSE_BREACH_J] + prices[LOWEST_J_PER_K] * low_k
    if s[O_PIPE_S] > KEPT_S:
        parts[PART_PIPES] = prices[PIPE_BREACH_J] + prices[PIPE_W] * s[O_PIPE_S]
    _price_food(at, s, prices, parts)
    _price_levels(w, at, s, prices, parts)
    _price_people(w, at, s, prices, parts)
    parts[PART_RESTORE] = prices[RESTORE_FRAC] * prices[FUEL_J_PER_M3] * restore_m3(w, at, s, offset_j)
    total = 0.0
    for i in range(PART_COUNT):
        total += parts[i]
    return total


@kernel
def _price_food(at: Ints, s: Array, prices: Array, parts: Array) -> None:
    for k in range(at[N_COLD]):
        d = at[B_COLD] + k * D_COUNT
        if s[d + D_OVER_S] > KEPT_S:
            parts[PART_FOOD] += prices[FOOD_BREACH_J] + prices[COLD_W_PER_K] * s[d + D_OVER_KS]
        if s[d + D_LOST_AT] < FAR:
            parts[PART_FOOD] += prices[FOOD_LOST_J]


@kernel
def _price_levels(w: Array, at: Ints, s: Array, prices: Array, parts: Array) -> None:
    for i in range(at[N_LEVELS]):
        kind, over = w[at[A_LEVELS] + i * V_COUNT + V_KIND], s[at[B_LEVELS] + i * W_COUNT + W_OVER]
        if kind == CYCLE:
            parts[PART_TASKS] += prices[CYCLE_W] * over
        elif kind == PIT:
            if over > KEPT_M3:
                parts[PART_PITS] += prices[PIT_BREACH_J] + prices[PIT_J_PER_M3] * over
        else:
            missed, stored = over + _unfilled_m3(w, at, s), w[P_STORED_M3]
            parts[PART_JUGS] += prices[JUG_J_PER_M3] * min(missed, stored)
            if missed > stored + KEPT_M3:
                parts[PART_WATER] += prices[WATER_BREACH_J] + prices[DRY_J_PER_M3] * (missed - stored)


@kernel
def _unfilled_m3(w: Array, at: Ints, s: Array) -> float:
    """Cans and stock tanks that were not filled: their water comes from what is stored."""
    missed = 0.0
    for i in range(at[N_TASKS]):
        task = at[A_TASKS] + i * J_COUNT
        if w[task + J_LOAD] < 0.0 and w[task + J_HOT] == 0.0:
            missed += w[task + J_TAP] * s[at[B_TASKS] + i * U_COUNT + U_GIVEN_UP_S]
    return missed


@kernel
def _price_people(w: Array, at: Ints, s: Array, prices: Array, parts: Array) -> None:
    for i in range(at[N_TASKS]):
        task, given_up = at[A_TASKS] + i * J_COUNT, s[at[B_TASKS] + i * U_COUNT + U_GIVEN_UP_S]
        parts[PART_HOT] += prices[HOT_J_PER_M3] * w[task + J_HOT] * given_up
        if w[task + J_LOAD] >= 0.0:
            parts[PART_TASKS] += prices[TASK_W] * given_up
    for i in range(at[N_MEDICAL]):
        short = s[at[B_MEDICAL] + i * NEED_COUNT + NEED_SHORT_S]
        if short > VITAL_KEPT_S:
            parts[PART_VITAL] += prices[VITAL_BREACH_J] + prices[VITAL_W] * short


@kernel
def _load_w(w: Array, at: Ints, load: float) -> float:
    if load < 0.0:
        return 0.0
    row = at[A_LOADS] + int(load) * L_COUNT
    power: float = w[row + L_WA] + w[row + L_WB]
    return power


@kernel
def restore_m3(w: Array, at: Ints, s: Array, offset_j: Array) -> float:
    """Fuel to bring every store back to its set point in one run: no-load for the longest, slope for all."""
    longest, energy = _restore_heat(w, at, s)
    for k in range(at[N_COLD]):
        held, c = s[at[B_COLD] + k * D_COUNT + D_HELD_J] + offset_j[k], at[A_COLD] + k * C_COUNT
        if held > 0.0 and w[c + C_LOAD] >= 0.0:
            room = w[c + C_ROOM_AIR] * s[S_AIR] + w[c + C_ROOM_OUT] * s[S_OUT_C]
            gain_w = w[c + C_UA] * max(0.0, room - 0.5 * (w[c + C_ON] + w[c + C_OFF]))
            time = held / max(w[c + C_COOL_W] - gain_w, LEAST_POWER_FRAC * w[c + C_COOL_W])
            longest, energy = max(longest, time), energy + time * _load_w(w, at, w[c + C_LOAD])
    for i in range(at[N_LEVELS]):
        v = at[A_LEVELS] + i * V_COUNT
        if w[v + V_LOAD] >= 0.0 and w[v + V_OUT] > 0.0:
            time = s[at[B_LEVELS] + i * W_COUNT + W_X] / w[v + V_OUT]
            longest, energy = max(longest, time), energy + time * _load_w(w, at, w[v + V_LOAD])
    for i in range(at[N_TASKS]):
        owed = s[at[B_TASKS] + i * U_COUNT + U_OWED_S]
        longest = max(longest, owed)
        energy += owed * _load_w(w, at, w[at[A_TASKS] + i * J_COUNT + J_LOAD])
    if w[P_HAS_BATTERY] != 0.0:
        lacking = max(0.0, w[P_BAT_J] - s[S_BAT]) / w[P_BAT_IN]
        longest, energy = max(longest, lacking / w[P_BAT_CHARGE_W]), energy + lacking
    fuel_m3: float = w[P_FUEL_A] * longest + w[P_FUEL_B] * energy
    return fuel_m3


@kernel
def _restore_heat(w: Array, at: Ints, s: Array) -> tuple[float, float]:
    """Longest time and electricity to bring house and tank back."""
    longest, energy = 0.0, 0.0
    if w[P_HEATER_LOAD] >= 0.0 and w[P_HEATER_W] > 0.0:
        set_c = 0.5 * (w[P_HEAT_ON] + w[P_HEAT_OFF])
        lacking = w[P_C1] * max(0.0, set_c - s[S_AIR]) + w[P_C2] * max(0.0, set_c - s[S_MASS])
        loss_w = (w[P_U1] + w[P_U2]) * max(0.0, set_c - s[S_OUT_C])
        longest = lacking / max(w[P_HEATER_W] - loss_w, LEAST_POWER_FRAC * w[P_HEATER_W])
        energy = longest * _load_w(w, at, w[P_HEATER_LOAD])
    if w[P_HAS_TANK] != 0.0 and (w[P_TANK_BY] == 1.0 or w[P_TANK_BY] == 2.0) and w[P_TANK_W] > 0.0:
        lacking = w[P_TANK_J] * max(0.0, 0.5 * (w[P_TANK_ON] + w[P_TANK_OFF]) - s[S_TANK])
        time = lacking / w[P_TANK_W]
        load = w[P_TANK_LOAD] if w[P_TANK_BY] == 1.0 else w[P_HEATER_LOAD]
        longest, energy = max(longest, time), energy + time * _load_w(w, at, load)
    return longest, energy
