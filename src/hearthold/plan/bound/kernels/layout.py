"""Columns of the arrays of the bound. A *box* holds, for every store, the coldest and the warmest it can be.

`Frame` is the problem as numbers, slot by slot; `z` is one box. docs/method/bound.md proves what each column bounds.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Ints = NDArray[np.int64]
SLOT_S = 900.0
STEP_S = 7200.0  # the engine's longest step of a cold store or a tank
BIG = 1e30  # an empty set: low > high
# What boxes are kept apart by: a field; coldest or warmest of a store with a switch, that calls or not; heat of the
# shell of a store of two nodes (a kelvin of it holds up to ten times as much where food freezes); heat of the house;
# what it has cost; spells begun today.
BY_FIELD, BY_LEAST, BY_MOST, BY_SHELL, BY_HOUSE, BY_COST, BY_BEGUN = range(7)


class Frame(NamedTuple):
    """Shapes: T slots, k cold stores, v levels, j tasks, m medical needs, b fields of a box."""

    par: Array  # (F_COUNT,)
    slots: Array  # (T, G_COUNT)
    cold: Array  # (k, C_COUNT)
    knots: Array  # (k, 9) temperatures, ascending
    caps: Array  # (k, 2, 8) heat capacities of shell and core by segment
    levels: Array  # (v, V_COUNT)
    tasks: Array  # (j, J_COUNT)
    due_s: Array  # (T, j) work that falls due in the slot
    medical: Array  # (m, 3) own battery s, s at the start of a spell before its circuit is live, charge rate
    want_s: Array  # (T, m) seconds of the slot in which the need wants power
    sheds: Array  # (v + j, j + 1) whether the load of a level or task may keep that of a task (last: the tank's) out
    side: Array  # (b,) +1 where a join takes the larger, -1 the smaller


# --- par -----------------------------------------------------------------------------------------------------
(
    F_HOUSE, F_TANK, F_ON_W, F_NIGHT_W, F_B, F_START_J, F_REFILL_J, F_TRIP_J, F_AIR_W, F_HOT_J, F_LOWEST, F_LOWEST_J,
    F_HOUSE_BREACH_J, F_PIPE_W, F_VITAL_J, F_VITAL_W, F_FOOD_J, F_FOOD_S, F_COLD_W, F_READY_S, F_TANK_M3, F_REFILL_M3,
    F_TRIP_AT, F_TRIP_FROM_M3, F_TRIP_M3, F_LHV, F_A, F_READ, F_DRY_AGE, F_DELAY, F_REFILL_END_S, F_RESTORE,
    F_FOOD_BREACH_J, F_PIPE_BREACH_J, F_PIT_BREACH_J, F_WATER_BREACH_J,
    F_STEADY_W, F_RUN_W, F_FASTEST, F_STOCK_M3, F_HALF_M3, F_WAIT_S, F_TRIPS, F_LOST_J,
) = range(44)  # fmt: skip
# house: E the step over a slot, O of outdoors, Q of a steady watt, L of a watt in the live part of a first slot
(
    H_E11, H_E12, H_E21, H_E22, H_O1, H_O2, H_Q1, H_Q2, H_L1, H_L2, H_M1, H_M2, H_MO, H_MQ, H_ML, H_N1, H_N2, H_NO,
    H_NQ, H_C1, H_C2, H_U1, H_U2, H_G, H_W, H_W_LEAST, H_ON, H_OFF, H_STOVE_W, H_STOVE_ON, H_STOVE_OFF, H_LOW,
    H_RATIO, H_FREEZE, H_UP1, H_UP2, H_DOWN1, H_DOWN2, H_PRICE, H_GAINS, H_SURE, H_KD, H_COMP_W, H_DULL, H_SETTLE,
) = range(44, 89)  # fmt: skip
# tank
(
    K_J, K_UA, K_W, K_ON, K_OFF, K_LOW, K_IN, K_FLOW, K_PRICE, K_SURE, K_ELEMENT, K_SHED_W, K_BY, K_LIVE_D,
) = range(89, 103)  # fmt: skip
F_COUNT = 103

# --- slots ---------------------------------------------------------------------------------------------------
(
    G_OUT, G_NIGHT_S, G_STOVE_S, G_SHIFT_LO, G_SHIFT_HI, G_HOT_M3, G_TAP_M3, G_HOUR, G_RUN, G_SWITCH, G_SWITCH_J,
    G_DAY, G_CLOCK_J, G_CLOCK_FIRST_J, G_WARM_J, G_WARM_FIRST_J, G_WARM_LO_J, G_WARM_FIRST_LO_J, G_VITAL,
    G_CLOCK_W, G_CHECK,
) = range(21)  # fmt: skip
G_COUNT = 21

# --- cold stores ----------------------------------------------------------------------------------------------
(
    C_UA, C_G, C_COOL_W, C_ON, C_OFF, C_LIMIT, C_AIR, C_OUTSIDE, C_SURE, C_DELAY, C_PRICE, C_ONE, C_LOAD_W, C_HELD0,
    C_MID, C_RATE_MARGIN,
) = range(16)  # fmt: skip
C_COUNT = 16
(V_OUT, V_ON, V_CAP, V_IN, V_PRICE, V_OVER, V_KIND, V_SURE, V_DELAY, V_STORED, V_DRY, V_LOAD_W, V_SPARE) = (
    range(13)
)
V_COUNT = 13
PIT, WATER, CYCLE = 0.0, 1.0, 2.0
(
    J_NEED, J_MOST, J_TAP, J_HOT, J_MIN_C, J_DELAY, J_LIVE, J_SURE, J_PRICE, J_GIVEN, J_LOAD_W, J_WARM_W, J_SPARE,
    J_CAN,
) = range(14)  # fmt: skip
J_COUNT = 14

# --- a box: fixed fields, then rows for cold stores, levels, tasks and needs --------------------------------------
(
    Z_AH, Z_MH, Z_AL, Z_ML, Z_LEAST, Z_PIPE, Z_FUEL, Z_BURN, Z_RL, Z_RL0, Z_RH, Z_RH0, Z_TCL, Z_TCH, Z_TNL, Z_TNH,
    Z_RAN, Z_LATE, Z_FUELH, Z_SPELLH, Z_SET_OUT, Z_BACK, Z_CALL,
    Z_THOT, Z_DRY, Z_LOT, Z_FIRST,
) = range(27)  # fmt: skip
ZC_COUNT = 7  # of a cold store: four temperatures, food clock, breached, own room margin (unused)
ZV_COUNT = 3  # low, high, over
ZJ_COUNT = 3  # low, high, surely under way
ZM_COUNT = 2  # own battery left, unpowered
