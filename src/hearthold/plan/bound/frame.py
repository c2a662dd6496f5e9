"""The problem as numbers for the bound: every constant of a slot, taken from the planner's world, and the first box."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array
from hearthold.plan import objective as o
from hearthold.plan.bound.common import UnsupportedError
from hearthold.plan.bound.frame_day import (
    due_work,
    level_rows,
    medical_rows,
    shed_table,
    slot_rows,
    task_rows,
    trip_par,
)  # fmt: skip
from hearthold.plan.bound.frame_stores import cold_rows, house_par, tank_par
from hearthold.plan.bound.kernels import layout as b
from hearthold.plan.bound.kernels.layout import Frame, Ints
from hearthold.plan.bound.sure import Sureness, sureness
from hearthold.plan.objective import SLOT_S
from hearthold.plan.problem import Problem


@dataclass(frozen=True, slots=True, eq=False)
class Posed:
    """What the search needs: frame, rules of running, first box, what is paid before it."""

    frame: Frame
    rules: Ints
    z0: Array
    c0: float


def posed(problem: Problem, state: Array, at: Ints, parts: Array) -> Posed:
    """The frame of a problem from the engine's state at the first slot's edge. Raises UnsupportedError."""
    from hearthold.plan.kernels.price import PART_COMFORT, PART_HOT

    _refuse(problem)
    sure = sureness(problem)
    par = np.zeros(b.F_COUNT)
    cold, knots, caps = cold_rows(problem, sure, state, at)
    levels, tasks = level_rows(problem, sure), task_rows(problem, sure)
    _machine_par(problem, sure, par)
    house_par(problem, sure, par)
    tank_par(problem, sure, par)
    slots = slot_rows(problem, sure, par)
    trip_par(problem, par, slots)
    due = due_work(problem)
    medical, want = medical_rows(problem, sure)
    side = _sides(len(cold), len(levels), len(tasks), len(medical), cold)
    frame = Frame(
        par, slots, cold, knots, caps, levels, tasks, due, medical, want, shed_table(problem, sure), side
    )
    z0 = _first_box(problem, frame, state, at)
    patterns = problem.patterns
    rules = np.array(
        [patterns.least_on, patterns.most_on, patterns.least_off, patterns.starts_a_day], dtype=np.int64
    )
    # Before the first slot: only comfort and hot water missed add up; the other accounts live in the box.
    c0 = float(parts[PART_COMFORT] + parts[PART_HOT]) if problem.lead_s > 0.0 else 0.0
    c0 += _settled_start(frame, state)
    return Posed(frame, rules, z0, c0)


def _refuse(problem: Problem) -> None:
    world = problem.compiled.world
    par = world.par
    if par[c.P_HAS_BATTERY] != 0.0:
        raise UnsupportedError("a house battery carries loads while the machine rests")
    if par[c.P_MANAGED] == 0.0:
        raise UnsupportedError("nobody manages the loads, so the machine may trip")
    due = world.slot_at[:-1][world.slot_task.any(axis=1)]
    if np.any(np.abs(due / SLOT_S - np.round(due / SLOT_S)) > 1e-9):
        raise UnsupportedError("work falls due between quarter hours")
    shared = world.cold[:, c.C_LOAD]
    if len(set(shared[shared >= 0.0].tolist())) < np.sum(shared >= 0.0):
        raise UnsupportedError("two cold stores share one compressor")
    if len(world.tasks) > 40:
        raise UnsupportedError("more than 40 tasks")
    if problem.prices[o.RESTORE_FRAC] > 1.0:
        raise UnsupportedError("restoring is priced above its fuel")


def _machine_par(problem: Problem, sure: Sureness, par: Array) -> None:
    p, prices = problem.compiled.world.par, problem.prices
    world = problem.compiled.world
    lhv = prices[o.FUEL_J_PER_M3]
    par[b.F_LHV], par[b.F_A], par[b.F_B] = lhv, p[c.P_FUEL_A], p[c.P_FUEL_B]
    par[b.F_ON_W], par[b.F_NIGHT_W] = lhv * p[c.P_FUEL_A], prices[o.NIGHT_W]
    par[b.F_START_J], par[b.F_REFILL_J], par[b.F_TRIP_J] = prices[[o.START_J, o.REFILL_J, o.TRIP_J]]
    par[b.F_AIR_W], par[b.F_HOT_J] = prices[[o.AIR_W_PER_K, o.HOT_J_PER_M3]]
    par[b.F_LOWEST], par[b.F_LOWEST_J] = prices[[o.LOWEST_C, o.LOWEST_J_PER_K]]
    par[b.F_PIPE_W] = prices[o.PIPE_W]
    par[[b.F_HOUSE_BREACH_J, b.F_FOOD_BREACH_J, b.F_PIPE_BREACH_J, b.F_PIT_BREACH_J, b.F_WATER_BREACH_J]] = (
        prices[[o.HOUSE_BREACH_J, o.FOOD_BREACH_J, o.PIPE_BREACH_J, o.PIT_BREACH_J, o.WATER_BREACH_J]]
    )
    par[b.F_VITAL_J], par[b.F_VITAL_W] = prices[[o.VITAL_BREACH_J, o.VITAL_W]]
    par[b.F_FOOD_J], par[b.F_COLD_W], par[b.F_FOOD_S] = (
        prices[o.FOOD_LOST_J],
        prices[o.COLD_W_PER_K],
        p[c.P_FOOD_S],
    )
    par[b.F_READY_S] = p[c.P_COOL_S] + p[c.P_REFILL_S]
    par[b.F_RESTORE] = prices[o.RESTORE_FRAC]
    tank = p[c.P_FUEL_TANK]
    limit_w = min(world.limits[0, c.LIM_RUN_W], float(world.loads[:, [c.L_WA, c.L_WB]].sum()))
    fastest = p[c.P_FUEL_A] + p[c.P_FUEL_B] * limit_w
    if tank < c.FAR * 0.1:
        par[b.F_TANK_M3], par[b.F_REFILL_M3] = tank, tank * (1.0 - p[c.P_REFILL_BELOW]) + 1e-9
        stock = p[c.P_FUEL_TANK0] + p[c.P_FUEL_STOCK0]
        par[b.F_STOCK_M3] = stock
        par[b.F_HALF_M3] = min(tank * p[c.P_REFILL_BELOW], p[c.P_FUEL_TANK0])
    else:
        par[[b.F_TANK_M3, b.F_REFILL_M3, b.F_STOCK_M3, b.F_HALF_M3]] = 1e9
    par[b.F_FASTEST], par[b.F_RUN_W] = fastest, limit_w
    fetched = p[c.P_TRIP_M3] > 0.0 and p[c.P_TRIP_S] < c.FAR * 0.1 and p[c.P_TRIPS_MOST] > 0.0
    par[b.F_TRIPS] = float(fetched)
    if not fetched and p[c.P_FUEL_STOCK0] <= 0.0:  # never refilled: a pattern that has fuel never runs dry
        par[b.F_HALF_M3] = 1e9
    # Each trip may have been waited for in one slot that is on, and refilled from (lemma 8).
    lost_j = par[b.F_ON_W] * (SLOT_S + par[b.F_READY_S]) if fetched else 0.0
    par[b.F_LOST_J] = lost_j if lost_j <= par[b.F_TRIP_J] or not fetched else -1.0
    motors = world.loads[:, c.L_MOTOR] != 0.0
    # A house whose circuits go in turns may not be looked at as the machine starts.
    par[b.F_READ] = float(not sure.turned.any())
    par[b.F_WAIT_S] = 1.0 + 2.0 * float(world.loads[motors, c.L_RUN_UP_S].sum())
    steady = np.isin(world.loads[:, c.L_KIND], [c.BY_COLD, c.BY_HEATER, c.BY_BLOWER, c.BY_CHARGER])
    par[b.F_STEADY_W] = float(world.loads[steady][:, [c.L_WA, c.L_WB]].sum())


def _sides(cold: int, levels: int, tasks: int, medical: int, table: Array) -> Array:
    fixed = np.ones(b.Z_FIRST)
    fixed[
        [
            b.Z_AL,
            b.Z_ML,
            b.Z_PIPE,
            b.Z_FUEL,
            b.Z_BURN,
            b.Z_RL,
            b.Z_RL0,
            b.Z_TCL,
            b.Z_TNL,
            b.Z_SET_OUT,
            b.Z_BACK,
            b.Z_CALL,
            b.Z_DRY,
            b.Z_LOT,
        ]
    ] = -1.0
    parts = [fixed]
    for k in range(cold):
        four = [-1.0, 1.0, -1.0, 1.0] if table[k, b.C_ONE] else [-1.0, -1.0, 1.0, 1.0]
        parts.append(np.array([*four, -1.0, -1.0, -1.0]))
    parts += [np.array([-1.0, 1.0, -1.0])] * levels + [np.array([-1.0, 1.0, -1.0])] * tasks
    parts += [np.array([1.0, -1.0])] * medical
    return np.concatenate(parts)


def _first_box(problem: Problem, frame: Frame, state: Array, at: Ints) -> Array:
    """A box around the engine's state, a hair wider than it."""
    p = problem.compiled.world.par
    z = np.zeros(len(frame.side))
    air, mass, tank = state[c.S_AIR], state[c.S_MASS], state[c.S_TANK]
    z[[b.Z_AH, b.Z_AL]], z[[b.Z_MH, b.Z_ML]] = (air + 1e-6, air - 1e-6), (mass + 1e-6, mass - 1e-6)
    z[b.Z_LEAST] = (
        state[c.O_AIR_MAX] + 1e-9
    )  # where it began: the end of the lead is nothing the engine looks at
    room = max(air, state[c.O_AIR_START]), min(air, state[c.O_AIR_START])
    z[[b.Z_RH, b.Z_RH0]], z[[b.Z_RL, b.Z_RL0]] = room
    z[b.Z_BURN] = max(0.0, p[c.P_FUEL_TANK] - state[c.S_FUEL]) if p[c.P_FUEL_TANK] < c.FAR * 0.1 else 0.0
    z[[b.Z_TCL, b.Z_TCH, b.Z_TNL, b.Z_TNH]] = b.BIG, -b.BIG, b.BIG, -b.BIG
    calls = state[c.S_CALL_TANK] != 0.0
    z[[b.Z_TCL, b.Z_TCH] if calls else [b.Z_TNL, b.Z_TNH]] = tank - 1e-6, tank + 1e-6
    i = b.Z_FIRST
    for k in range(len(frame.cold)):
        d = at[c.B_COLD] + k * c.D_COUNT
        shell, core = state[d + c.D_SHELL], state[d + c.D_CORE]
        if frame.cold[k, b.C_ONE]:
            z[i : i + 4] = b.BIG, -b.BIG, b.BIG, -b.BIG
            first = i if state[d + c.D_CALL] != 0.0 else i + 2
            z[first : first + 2] = shell - 1e-4, shell + 1e-4
        else:
            z[i : i + 4] = shell - 1e-4, core - 1e-4, shell + 1e-4, core + 1e-4
        z[i + 4] = state[d + c.D_FOOD_S]
        i += b.ZC_COUNT
    for v in range(len(frame.levels)):
        u = at[c.B_LEVELS] + v * c.W_COUNT
        z[i : i + 3] = state[u + c.W_X], state[u + c.W_X], state[u + c.W_OVER]
        i += b.ZV_COUNT
    for j in range(len(frame.tasks)):
        owed = state[at[c.B_TASKS] + j * c.U_COUNT + c.U_OWED_S]
        z[i : i + 2] = owed, owed
        i += b.ZJ_COUNT
    for m in range(len(frame.medical)):
        need = at[c.B_MEDICAL] + m * c.NEED_COUNT
        z[i : i + 2] = state[need + c.NEED_LEFT_S], state[need + c.NEED_SHORT_S]
        i += b.ZM_COUNT
    return z


def _settled_start(frame: Frame, state: Array) -> float:
    """What the settled accounts owe for what is in the stores at the start."""
    p = frame.par
    owed = 0.0
    if p[b.H_SETTLE] != 0.0:
        owed -= p[b.H_PRICE] * (p[b.H_C1] * state[c.S_AIR] + p[b.H_C2] * state[c.S_MASS])
    if p[b.F_TANK] != 0.0:
        owed -= p[b.K_PRICE] * p[b.K_J] * state[c.S_TANK]
    return float(owed)
