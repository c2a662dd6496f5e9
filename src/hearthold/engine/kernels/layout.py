"""Columns of every array that the kernels read and write: one name a column, one place.

`World` is a compiled house, `Rule` a compiled control, `Weather` the hours outside, `Tape` what is recorded for a
trace. All numbers are float64 in SI; flags are 0.0 and 1.0. Rows of `loads` stand in order of priority.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Ints = NDArray[np.int64]
FAR = 1e30  # a time or level that never comes
HOUR_S = 3600.0
DAY_S = 86400.0
MINUTE_S = 60.0
# Cold stores and the tank: the longest step (their room enters by its mean over the step and by how late its warmth
# came), and from how near a crossing is taken as foretold. Until then it is approached with the room as warm or cool
# as it may become: as it is going, and a drift to either side; up to the heater's set point, or down by what all the
# heat in it gives, at most a cold house's loss in a step. Loads that warm it by more than the drift, or a stove just
# lit, have it looked at anew soon.
COLD_STEP_S = 7200.0
HOP_FROM_S = 60.0
ROOM_DRIFT_K = 0.5
AIR_LOSS_K = 3.0
LOOK_AGAIN_S = 600.0
# Newton stops at a step this short; the step it then takes leaves an error of its square times the decay rate.
# A store that is only looked at early need not be met that well.
EXACT_S = 0.02
ROUGH_S = 5.0
# How near a temperature must come to a level to stand on it: the air; cold stores and the tank at a thermostat or a
# limit.
LEVEL_K = 1e-6
COLD_LEVEL_K = 3e-5
# A knot of the food's curve need not be met so well: whether passed or all but reached, the heat beyond it is carried
# over. It is gone for directly where the room can put that out by no more than a slip, else by most of the way first.
KNOT_NEAR_K = 0.01
KNOT_SLIP_K = 0.02
KNOT_SHORT = 0.9


class World(NamedTuple):
    """A house as arrays. Shapes: n loads, k cold stores, s levels, j tasks, m medical needs, d slots of the day."""

    par: Array  # (P_COUNT,)
    limits: Array  # (2, LIM_COUNT): generator, inverter
    loads: Array  # (n, L_COUNT)
    cold: Array  # (k, C_COUNT)
    knots: Array  # (k, segments + 1) temperatures at which the heat capacity of the food changes
    modes: Array  # (k, segments, segments, M_COUNT) two-node constants for each pair of segments
    levels: Array  # (s, V_COUNT) anything that fills at a rate and is emptied by a load
    tasks: Array  # (j, J_COUNT) work put off until there is power
    medical: Array  # (m, H_COUNT)
    slot_at: Array  # (d + 1,) seconds of day at which the day's schedule changes; the last is 86400
    slots: Array  # (d, Z_COUNT)
    slot_want: Array  # (d, n) 1 where a load that runs by the clock wants to run
    slot_medical: Array  # (d, m)
    slot_task: Array  # (d, j) 1 where a task's daily demand appears at the start of the slot
    circuit_fed: Array  # (c,) 1 where the hookup reaches the circuit


class Rule(NamedTuple):
    """A control as arrays."""

    ctl: Array  # (K_COUNT,)
    spells: Array  # (p, 2) start and end: since the outage (plan) or of the day (routine)
    steps: Array  # (q, 5) spell (-1: every one), circuit, on and off in s after the spell's start, rank
    cold: Array  # (k, 2) start and stop temperature
    levels: Array  # (s, 2) start and stop level
    battery_circuits: Array  # (c,) 1 where the inverter feeds the circuit, 2 where it does in the hours alone


class Weather(NamedTuple):
    """Hours since midnight of day 0."""

    outdoor_c: Array
    solar_w: Array


class Tape(NamedTuple):
    """Per-minute record of one outage; empty arrays where nothing is recorded."""

    house: Array  # (minutes + 1, T_COUNT) at the minute
    cold: Array  # (minutes + 1, k, 2) shell and core, degC
    levels: Array  # (minutes + 1, s)
    circuits: Array  # (minutes, c) mean W over the minute
    power: Array  # (minutes, X_COUNT) means over the minute
    log: Array  # (rows, 4) time, what, which, value
    log_loads: Array  # (rows, n) what ran at the time, for trips


# The kernels themselves see three flat arrays, because passing dozens of arrays from function to function makes
# compiling slow and calls dear: `w` holds all that is constant (World, Rule and Weather one after another), `s` the
# state of one outage, and `at` says where each table begins in them. A planner copies `s` and goes on from there.

# --- w, front: constants of the house ------------------------------------------------------------------------
P_C1, P_C2, P_U1, P_U2, P_G, P_KF, P_KS, P_W1 = 0, 1, 2, 3, 4, 5, 6, 7
P_W2, P_B1, P_B2, P_EF, P_SF, P_ES, P_SS, P_AIR0 = 8, 9, 10, 11, 12, 13, 14, 15
P_MASS0, P_GAINS, P_HEATER_W, P_HEAT_ON = 16, 17, 18, 19
P_HEAT_OFF, P_HEATER_LOAD, P_STOVE_W, P_STOVE_ON = 20, 21, 22, 23
P_STOVE_OFF, P_STOVE_DULL, P_BLOWER_LOAD, P_AIR_LOW = 24, 25, 26, 27
P_PIPE_RATIO, P_PIPE_LOW, P_TANK_J, P_TANK_UA = 28, 29, 30, 31
P_TANK_W, P_TANK_ON, P_TANK_OFF, P_TANK_LOW = 32, 33, 34, 35
P_TANK_IN, P_TANK_FLOW, P_TANK_BY, P_TANK_LOAD = 36, 37, 38, 39
P_TANK0, P_FUEL_A, P_FUEL_B, P_FUEL_TANK = 40, 41, 42, 43
P_FUEL_TANK0, P_FUEL_STOCK0, P_REFILL_BELOW, P_COOL_S = 44, 45, 46, 47
P_REFILL_S, P_TRIP_S, P_TRIP_M3, P_TRIP_BELOW = 48, 49, 50, 51
P_TRIPS_MOST, P_BAT_J, P_BAT_CHARGE_W, P_BAT_IN = 52, 53, 54, 55
P_BAT_OUT, P_BAT_IDLE_W, P_BAT_RESTART_J, P_BAT_MIN_C = 56, 57, 58, 59
P_BAT_INSIDE, P_BAT0, P_LEG_V, P_WATER_LEVEL = 60, 61, 62, 63
P_TRIP_AFTER_S, P_RESET_S, P_MANAGED, P_HAS_HOUSE = 64, 65, 66, 67
P_HAS_TANK, P_HAS_BATTERY, P_STORED_M3, P_FOOD_S = 68, 69, 70, 71
P_TANK_READY, P_VF, P_VS, P_AIR_K_PER_W = 72, 73, 74, 75
P_COUNT = 76
LIMITS = 76  # two rows: the machine's limits, the inverter's
LIM_RUN_W, LIM_LEG_W, LIM_LEG_VA, LIM_START_W, LIM_START_VA, LIM_LEG_START_VA = 0, 1, 2, 3, 4, 5
LIM_COUNT = 6

# --- w, next: control ------------------------------------------------------------------------------------------
K_KIND, K_DELAY_S, K_WARM_S, K_BETWEEN_S = 88, 89, 90, 91
K_MIN_RUN_S, K_MAX_RUN_S, K_MIN_OFF_S, K_NOT_AT_NIGHT = 92, 93, 94, 95
K_AIR_START, K_AIR_STOP, K_TANK_START, K_TANK_STOP, K_BAT_START, K_BAT_STOP = 96, 97, 98, 99, 100, 101
K_FIRST, K_COUNT = 88, 14
W_TABLES = 102  # tables begin here
OFF, ALWAYS, PLAN, ROUTINE, THERMO, HELD = 0.0, 1.0, 2.0, 3.0, 4.0, 5.0
PANEL = 6.0  # the machine never runs; the spells are the hours of circuits on the inverter
FED_NEVER, FED_ALWAYS, FED_IN_HOURS = 0.0, 1.0, 2.0  # of a circuit on the inverter

# --- at: where tables begin (A_ in w, B_ in s) and how many rows they have --------------------------------------
A_LOADS, A_COLD, A_KNOTS, A_MODES, A_LEVELS, A_TASKS, A_MEDICAL = 0, 1, 2, 3, 4, 5, 6
A_SLOT_AT, A_SLOTS, A_SLOT_WANT, A_SLOT_MEDICAL, A_SLOT_TASK, A_FED = 7, 8, 9, 10, 11, 12
A_SPELLS, A_STEPS, A_RULE_COLD, A_RULE_LEVELS, A_BATTERY_FEEDS, A_OUTDOOR, A_SOLAR = (
    13,
    14,
    15,
    16,
    17,
    18,
    19,
)
N_LOADS, N_COLD, N_LEVELS, N_TASKS, N_MEDICAL, N_SLOTS, N_CIRCUITS = 20, 21, 22, 23, 24, 25, 26
N_SPELLS, N_STEPS, N_SEGMENTS, N_HOURS = 27, 28, 29, 30
B_SETS, B_CIRCUITS, B_COLD, B_LEVELS, B_TASKS, B_MEDICAL, B_END = 31, 32, 33, 34, 35, 36, 37
A_CLOCK, A_ON_CIRCUIT, N_WORDS = 38, 39, 40  # sets of loads: those by the clock, and those on each circuit
A_WORK_ON = 41  # sets of tasks without a load of their own: those on each circuit
AT_COUNT = 42
WORD_BITS = 32  # members in a word of a set (see `sets`); A_SLOT_WANT and A_SLOT_TASK hold sets too

# --- w, tables: loads --------------------------------------------------------------------------------------------
L_KIND, L_WHICH, L_CIRCUIT, L_MOTOR, L_RUN_UP_S, L_HEAT_FRAC = 0, 1, 2, 3, 4, 5
L_WA, L_QA, L_WB, L_QB = 6, 7, 8, 9  # running W and var on leg A and leg B
L_SWA, L_SQA, L_SWB, L_SQB = 10, 11, 12, 13  # the same while its motor starts
L_RANK = 14  # class of priority: 0 vital, 4 what can wait longest
L_TASK = 15  # the task that it runs for, or -1
L_COUNT = 16
BY_CLOCK, BY_COLD, BY_HEATER, BY_TANK, BY_LEVEL, BY_TASK, BY_BLOWER, BY_CHARGER = (
    0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0,
)  # fmt: skip

# --- cold stores ------------------------------------------------------------------------------------------
C_LOAD, C_UA, C_G, C_COOL_W, C_ON, C_OFF, C_LIMIT = 0, 1, 2, 3, 4, 5, 6
C_ROOM_AIR, C_ROOM_OUT, C_SHELL0, C_CORE0, C_SEG1, C_SEG2 = 7, 8, 9, 10, 11, 12
C_NEXT = 13  # the store after it on the same compressor, round and round; itself where it has its own
C_COUNT = 14
M_KF, M_KS, M_W1, M_W2, M_B1, M_B2, M_C1, M_C2, M_EF, M_SF, M_ES, M_SS = 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11
# how much steeper a node moves beyond the knot above and below: its heat capacity over the one there
M_UP1, M_DOWN1, M_UP2, M_DOWN2 = 12, 13, 14, 15
M_COUNT = 16

# --- levels: pits, pressure tank, cycling loads without a store of their own -------------------------------
V_LOAD, V_OUT, V_IN, V_ON, V_CAP, V_X0, V_TAP, V_KIND = 0, 1, 2, 3, 4, 5, 6, 7
V_COUNT = 8
PIT, WATER, CYCLE = 0.0, 1.0, 2.0

# --- tasks, medical needs, slots ----------------------------------------------------------------------------
J_LOAD, J_CIRCUIT, J_NEED_S, J_MOST_S, J_TAP, J_HOT, J_TANK_MIN, J_DELAY_S = 0, 1, 2, 3, 4, 5, 6, 7
J_INVERTER = (
    8  # 1 where an inverter that feeds its circuit can start and run what it takes; 2: while people are up
)
WHILE_UP = 2.0
J_COUNT = 9
H_LOAD, H_OWN_S, H_CHARGER = 0, 1, 2
H_RATE = 3  # seconds of its own running that a second of charging gives
H_COUNT = 4
Z_TAP, Z_HOT, Z_STOVE, Z_NIGHT, Z_AWAKE, Z_SETBACK = 0, 1, 2, 3, 4, 5
Z_COUNT = 6

# --- s, front: scalars ---------------------------------------------------------------------------------------------
S_T, S_START, S_HOUR, S_OUT_C, S_SOLAR_W, S_SLOT, S_DAY_AT, S_AIR_AT = 0, 1, 2, 3, 4, 5, 6, 7
S_AIR, S_MASS, S_HEAT_W, S_AIR_SUM = 8, 9, 10, 11
S_OUT_SUM, S_OUT_AT, S_CALL_HEAT, S_CALL_STOVE = 12, 13, 14, 15
S_TANK_AT, S_TANK, S_TANK_W, S_TANK_HOT = 16, 17, 18, 19
S_CALL_TANK, S_TANK_SUM0, S_SOURCE, S_WA = 20, 21, 22, 23
S_QA, S_WB, S_QB, S_CHARGE_W, S_RATE, S_FUEL_AT, S_FUEL, S_STOCK = 24, 25, 26, 27, 28, 29, 30, 31
S_BUSY, S_MODE, S_MODE_AT, S_READY, S_BASE, S_SPELL_AT, S_SPELL, S_LOADS_W = 32, 33, 34, 35, 36, 37, 38, 39
S_STEP, S_BAT, S_BAT_W, S_BAT_DOWN, S_DIRTY, S_OFF_AT, S_HOT, S_NIGHT = 40, 41, 42, 43, 44, 45, 46, 47
S_AWAKE, S_STOVE_LIT, S_AIR_SUM2, S_OUT_SUM2 = 48, 49, 50, 51
S_DRIFT, S_RECORDED, S_LOG, S_EVENTS = 52, 53, 54, 55
S_WAITING, S_HEAT_DIRTY, S_STOPPED, S_TOLD_W, S_ASK_AT, S_RULE_DIRTY, S_REFILL = (
    56,
    57,
    58,
    59,
    60,
    61,
    62,
)
S_HOLD = (
    63  # under HELD, whether the machine is to run: a planner's hand; under PANEL, whether the hours are on
)
# S_STEP: the step of the spell that is switched on next; S_OFF_AT: when the first live circuit is switched off;
# S_ASK_AT: when outstanding tasks are asked anew, -FAR for the next time that anything is decided; S_WORK_AT: when the
# first of those under way is done, -FAR where they have changed; what they draw; whether the taps then gave water
S_WORK_AT, S_WORK_TAP, S_WORK_HOT, S_TAPS_RUN = 64, 65, 66, 67
S_COUNT = 68
STANDING, RUNNING = 0.0, 1.0
NO_SOURCE, MACHINE, INVERTER = 0.0, 1.0, 2.0

# --- s, next: accumulators ------------------------------------------------------------------------------------------
O_FIRST = 68
O_FUEL_M3, O_RUN_S, O_NIGHT_RUN_S, O_STARTS, O_REFILLS, O_FUEL_TRIPS = 68, 69, 70, 71, 72, 73
O_FUEL_OUT_AT, O_OVERLOADS, O_PEAK_A, O_PEAK_B, O_PEAK_N, O_PEAK_W = 74, 75, 76, 77, 78, 79
O_PEAK_START_VA, O_ENERGY_J, O_WAIT_S, O_WAITS, O_AIR_MIN, O_AIR_LOW_S = 80, 81, 82, 83, 84, 85
O_AIR_LOW_KS, O_AIR_FIRST, O_PIPE_MIN, O_PIPE_S, O_PIPE_FIRST, O_TANK_MIN = 86, 87, 88, 89, 90, 91
O_TANK_LOW_S, O_TANK_FIRST, O_HOT_M3, O_HOT_SHORT_M3, O_HEAT_J, O_LOSS_J = 92, 93, 94, 95, 96, 97
O_TANK_IN_J, O_TANK_OUT_J, O_BROUGHT_M3, O_BAT_IN_J, O_BAT_OUT_J, O_BAT_IDLE_J = 98, 99, 100, 101, 102, 103
O_BAT_MIN_J, O_BAT_DOWN_S, O_BAT_FIRST, O_SOLAR_J, O_AIR_MAX, O_CHARGE_J = 104, 105, 106, 107, 108, 109
O_STATUS, O_LOAD_J, O_BAT_SPILL_J, O_START_FAILS, O_AIR_END, O_MASS_END = 110, 111, 112, 113, 114, 115
O_TANK_END, O_FUEL_END, O_STOCK_END, O_BAT_END, O_NEUTRAL, O_AIR_START = 116, 117, 118, 119, 120, 121
O_MASS_START, O_EVENTS = 122, 123
O_COUNT = 56

# --- s, next: the queue, when each kind of event is due --------------------------------------------------------------
Q_END, Q_HOUR, Q_SLOT, Q_CONTROL, Q_SWITCH, Q_BUSY, Q_FUEL, Q_READY = 124, 125, 126, 127, 128, 129, 130, 131
Q_BACK, Q_OVER, Q_BATTERY, Q_HOUSE, Q_TANK, Q_DONE, Q_FIRST = 132, 133, 134, 135, 136, 137, 138
QUEUE_STEP = 4  # the queue is as long as a multiple of this, and ends where the sets begin

# --- s, tables: sets of loads, circuits, cold stores, levels, tasks, medical needs ------------------------------
# running, wanting, chosen to run next, on a live circuit, counted as waiting since it last ran
RUN, WANT, NEXT, LIVE, WAITED = 0, 1, 2, 3, 4
OWED, AT_WORK = 5, 6  # of tasks: outstanding; of these, those that people are at, though a tap may be dry
NEEDY, LACKING = 7, 8  # of cold stores, by need: the rule would start for it, has yet to go on for it
SETS = 9
E_LIVE, E_BLOCKED = 0, 1  # of a circuit: live, left off after an overload
E_COUNT = 2
D_AT, D_SHELL, D_CORE, D_SEG1, D_SEG2, D_CALL, D_COOL_W, D_ROOM1, D_ROOM2 = 0, 1, 2, 3, 4, 5, 6, 7, 8
D_MAX, D_OVER_S, D_OVER_KS, D_FIRST, D_FOOD_S, D_LOST_AT, D_GAIN_J, D_HELD_J, D_RUN_S, D_NEED = (
    9, 10, 11, 12, 13, 14, 15, 16, 17, 18,
)  # fmt: skip
D_COUNT = 19
W_AT, W_X, W_RATE, W_IN, W_RUN, W_CALL, W_OVER, W_FIRST, W_MOVED, W_ASKED, W_NEED = (
    0,
    1,
    2,
    3,
    4,
    5,
    6,
    7,
    8,
    9,
    10,
)
W_COUNT = 11
U_OWED_S, U_AT, U_BUSY, U_GIVEN_UP_S = 0, 1, 2, 3  # of a task
U_COUNT = 4
NEED_LEFT_S, NEED_SHORT_S, NEED_FIRST, NEED_AT = (
    0,
    1,
    2,
    3,
)  # of a medical need: own battery left, unpowered, ...
NEED_COUNT = 4

# --- tape -----------------------------------------------------------------------------------------------------
T_AIR, T_MASS, T_PIPE, T_TANK, T_OUT, T_FUEL, T_STOCK, T_BAT = 0, 1, 2, 3, 4, 5, 6, 7
T_COUNT = 8
X_WA, X_WB, X_VA_A, X_VA_B, X_N, X_ON, X_CHARGE, X_SOLAR, X_FUEL = 0, 1, 2, 3, 4, 5, 6, 7, 8
X_COUNT = 9
LOG_START, LOG_STOP, LOG_SWITCH, LOG_DRY, LOG_REFILL, LOG_BACK, LOG_OVERLOAD, LOG_BATTERY = (
    0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0,
)  # fmt: skip
STATUS_GOOD, STATUS_STUCK = 0.0, 1.0
MOST_EVENTS_PER_HOUR = 20000.0  # far above any house; a run that passes it is stuck and says so
