"""The day as constants of its slots: clock loads, draws, work falling due, trips; levels, tasks and needs as rows."""

from __future__ import annotations

import numpy as np

from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array
from hearthold.plan import objective as o
from hearthold.plan.bound.common import always, energy_price, load_w, outdoors
from hearthold.plan.bound.kernels import layout as b
from hearthold.plan.bound.sure import ALWAYS, NEVER, Sureness
from hearthold.plan.objective import SLOT_S
from hearthold.plan.problem import Problem


def trip_par(problem: Problem, par: Array, slots: Array) -> None:
    """The last moment at which somebody who sets out is surely back before the end."""
    p, world = problem.compiled.world.par, problem.compiled.world
    par[b.F_TRIP_AT] = -1.0
    if p[c.P_TRIP_M3] <= 0.0 or p[c.P_TRIP_S] >= c.FAR * 0.1 or p[c.P_FUEL_TANK] >= c.FAR * 0.1:
        return
    if p[c.P_TRIP_BELOW] > p[c.P_TRIP_M3] or p[c.P_TRIPS_MOST] < c.FAR * 0.1:
        return
    last = problem.length_s - p[c.P_TRIP_S] - 1.0
    edges = world.slot_at[:-1][world.slots[:, c.Z_AWAKE] != 0.0]
    checked = c.FAR
    for t in range(problem.slots - 1, 0, -1):
        at_s = problem.lead_s + t * SLOT_S
        of_day = (problem.start_s + at_s) % c.DAY_S
        if at_s <= last and np.any(np.abs(edges - of_day) < 1.0):
            if par[b.F_TRIP_AT] < 0.0:
                par[b.F_TRIP_AT], par[b.F_TRIP_M3] = t, p[c.P_TRIP_M3]
                par[b.F_TRIP_FROM_M3] = p[c.P_FUEL_TANK0] + p[c.P_FUEL_STOCK0] - p[c.P_TRIP_BELOW] + 1e-9
            if checked - at_s > p[c.P_TRIP_S] + 2.0:
                slots[t, b.G_CHECK], checked = 1.0, at_s


def level_rows(problem: Problem, sure: Sureness) -> Array:
    """Levels: rates, switch, brim, price of moving and of overflow, sureness."""
    world, prices, energy = problem.compiled.world, problem.prices, energy_price(problem)
    made = np.zeros((len(world.levels), b.V_COUNT))
    for i, row in enumerate(world.levels):
        load, kind = int(row[c.V_LOAD]), row[c.V_KIND]
        live = sure.live_s[load] if load >= 0 else c.FAR
        fed = live < SLOT_S and row[c.V_OUT] > 0.0
        each = energy * load_w(problem, load) / row[c.V_OUT] if fed else 0.0
        over = {c.CYCLE: prices[o.CYCLE_W], c.PIT: prices[o.PIT_J_PER_M3]}.get(kind, prices[o.JUG_J_PER_M3])
        if problem.prices[o.RESTORE_FRAC] < 1.0:
            each = 0.0
        each = min(each, over)
        state = NEVER if not fed or sure.sheds[:, load].any() else sure.sure[load]
        made[i] = [
            row[c.V_OUT] if fed else 0.0, row[c.V_ON], row[c.V_CAP], row[c.V_IN] if kind != c.WATER else 0.0, each,
            over - each, kind, state, live if fed else 0.0, world.par[c.P_STORED_M3], prices[o.DRY_J_PER_M3],
            load_w(problem, load), 0.0,
        ]  # fmt: skip
    return made


def task_rows(problem: Problem, sure: Sureness) -> Array:
    """Tasks: need, limit, draws, delay, price of doing and of giving up."""
    world, prices, energy = problem.compiled.world, problem.prices, energy_price(problem)
    made = np.zeros((len(world.tasks), b.J_COUNT))
    for i, row in enumerate(world.tasks):
        load = int(row[c.J_LOAD])
        if load >= 0:
            live, state = sure.live_s[load], float(sure.sure[load] == ALWAYS)
            inside = load_w(problem, load) * world.loads[load, c.L_HEAT_FRAC]
        else:
            live, inside = circuit_live_s(problem, sure, int(row[c.J_CIRCUIT])), 0.0
            state = float(
                row[c.J_HOT] > 0.0 and not _in_turns(problem, sure, int(row[c.J_CIRCUIT]))
            )  # a can waits
        each = (
            energy * load_w(problem, load) if problem.prices[o.RESTORE_FRAC] >= 1.0 and live < c.FAR else 0.0
        )
        given = prices[o.HOT_J_PER_M3] * row[c.J_HOT] + (prices[o.TASK_W] if load >= 0 else 0.0)
        if load < 0 and row[c.J_HOT] == 0.0:
            given = prices[o.JUG_J_PER_M3] * row[c.J_TAP]
        made[i] = [
            row[c.J_NEED_S], row[c.J_MOST_S], row[c.J_TAP], row[c.J_HOT], row[c.J_TANK_MIN], row[c.J_DELAY_S],
            min(live, 1e9), state, each, given - each, load_w(problem, load), inside, 0.0, float(live < c.FAR),
        ]  # fmt: skip
    return made


def circuit_live_s(problem: Problem, sure: Sureness, circuit: int) -> float:
    """When a circuit is live after the start of a spell; 0 where none is named."""
    if circuit < 0:
        return 0.0
    loads = problem.compiled.world.loads
    on_it = np.flatnonzero(loads[:, c.L_CIRCUIT] == circuit)
    return float(sure.live_s[on_it[0]]) if len(on_it) else c.FAR


def _in_turns(problem: Problem, sure: Sureness, circuit: int) -> bool:
    loads = problem.compiled.world.loads
    return bool(sure.turned[loads[:, c.L_CIRCUIT] == circuit].any())


def shed_table(problem: Problem, sure: Sureness) -> Array:
    """Which level's or task's load may keep which task's (last column: the tank's) out."""
    world = problem.compiled.world
    rows = [int(x) for x in world.levels[:, c.V_LOAD]] + [int(x) for x in world.tasks[:, c.J_LOAD]]
    tank = int(world.par[c.P_TANK_LOAD]) if world.par[c.P_TANK_BY] == 1.0 else -1
    columns = [int(x) for x in world.tasks[:, c.J_LOAD]] + [tank]
    made = np.zeros((len(rows), len(columns)))
    for r, i in enumerate(rows):
        for k, j in enumerate(columns):
            if i >= 0 and j >= 0 and sure.sheds[i, j]:
                made[r, k] = 1.0 if sure.sure[i] != NEVER else 1e6
    return made


def due_work(problem: Problem) -> Array:
    """Work that falls due at the start of each slot, after the moment of failure itself."""
    world = problem.compiled.world
    made = np.zeros((problem.slots, len(world.tasks)))
    for t in range(problem.slots):
        at_s = problem.lead_s + t * SLOT_S
        if at_s <= 0.0:
            continue
        of_day = (problem.start_s + at_s) % c.DAY_S
        for d, edge in enumerate(world.slot_at[:-1].tolist()):
            if abs(edge - of_day) < 1.0:
                made[t] += world.slot_task[d] * world.tasks[:, c.J_NEED_S]
    return made


def stretches(problem: Problem, t: int) -> list[tuple[int, float, float]]:
    """The parts of pattern slot t: which slot of the day, from and to in seconds after the start of slot t."""
    edges = problem.compiled.world.slot_at
    begin = (problem.start_s + problem.lead_s + t * SLOT_S) % c.DAY_S
    found = []
    for shift in (0.0, c.DAY_S):
        for d in range(len(edges) - 1):
            a, z = max(edges[d] + shift - begin, 0.0), min(edges[d + 1] + shift - begin, SLOT_S)
            if z - a > 1e-6:
                found.append((d, float(a), float(z)))
    return found


def medical_rows(problem: Problem, sure: Sureness) -> tuple[Array, Array]:
    """Own batteries and delays, and the seconds of each slot in which a need wants power."""
    world = problem.compiled.world
    rows = np.zeros((len(world.medical), 3))
    want = np.zeros((problem.slots, len(rows)))
    for m, row in enumerate(world.medical):
        rows[m] = row[c.H_OWN_S], min(sure.live_s[int(row[c.H_LOAD])], 1e9), row[c.H_RATE]
    for t in range(problem.slots):
        for d, a, z in stretches(problem, t):
            want[t] += world.slot_medical[d] * (z - a)
    return rows, want


def slot_rows(problem: Problem, sure: Sureness, par: Array) -> Array:
    """Everything of a slot that does not depend on the box."""
    patterns = problem.patterns
    made = np.zeros((problem.slots, b.G_COUNT))
    made[:, b.G_OUT] = outdoors(problem)
    made[:, b.G_RUN], made[:, b.G_SWITCH] = patterns.may_run, patterns.may_switch
    made[:, b.G_SWITCH_J], made[:, b.G_DAY] = patterns.switch_j, patterns.day
    for t in range(problem.slots):
        end_s = problem.start_s + problem.lead_s + (t + 1) * SLOT_S
        made[t, b.G_HOUR] = float(abs(end_s / 3600.0 - round(end_s / 3600.0)) < 1e-6)
        _day_columns(problem, t, made[t])
    made[-1, b.G_HOUR] = 1.0
    _clock_columns(problem, sure, par[b.F_WAIT_S], made)
    return made


def _day_columns(problem: Problem, t: int, row: Array) -> None:
    """Quiet hours, stove, setback and draws of slot t."""
    world, parts = problem.compiled.world, stretches(problem, t)
    shifts = [world.slots[d, c.Z_SETBACK] for d, _, _ in parts]
    row[b.G_SHIFT_LO], row[b.G_SHIFT_HI] = min(shifts), max(shifts)
    for d, a, z in parts:
        day = world.slots[d]
        row[b.G_NIGHT_S] += (z - a) * day[c.Z_NIGHT]
        row[b.G_STOVE_S] += (z - a) * day[c.Z_STOVE]
        row[b.G_HOT_M3] += (z - a) * day[c.Z_HOT]
        row[b.G_TAP_M3] += (z - a) * day[c.Z_TAP]
    needs = world.slot_medical[[d for d, _, _ in parts]] != 0.0
    row[b.G_VITAL] = float(bool((needs.all(axis=0) & (world.medical[:, c.H_OWN_S] <= 0.0)).any()))


def _clock_columns(problem: Problem, sure: Sureness, wait_s: float, made: Array) -> None:
    """Energy and warmth of the loads that run by the clock, in a slot of a spell and in its first."""
    world, energy = problem.compiled.world, energy_price(problem)
    watts = world.loads[:, c.L_WA] + world.loads[:, c.L_WB]
    warm = watts * world.loads[:, c.L_HEAT_FRAC]
    clock = (world.loads[:, c.L_KIND] == c.BY_CLOCK) & (sure.live_s < SLOT_S)
    firm = clock & np.array([always(sure, j) for j in range(len(watts))], dtype=bool)
    wanted = np.zeros(len(watts), dtype=bool)
    for t in range(problem.slots):
        ran, first = np.zeros(len(watts)), np.zeros(len(watts))
        for d, a, z in stretches(problem, t):
            wants = clock & (world.slot_want[d] != 0.0)
            ran += wants * np.maximum(0.0, z - a - np.where(wanted, 0.0, wait_s))
            first += wants * np.maximum(0.0, z - np.maximum(a, sure.live_s) - wait_s)
            made[t, b.G_CLOCK_W] += float(watts[wants].sum()) * (z - a) / SLOT_S
            made[t, b.G_WARM_J] = max(made[t, b.G_WARM_J], SLOT_S * float(warm[wants].sum()))
            wanted = wants
        made[t, b.G_CLOCK_J] = energy * float((watts * ran)[firm].sum())
        made[t, b.G_CLOCK_FIRST_J] = energy * float((watts * first)[firm].sum())
        made[t, b.G_WARM_LO_J] = float(warm[firm & (ran >= SLOT_S - 1e-6)].sum()) * SLOT_S
