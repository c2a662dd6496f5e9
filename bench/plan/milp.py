"""One mixed-integer program for the whole plan, beside the label search. Run: python bench/plan/milp.py
[days]

The program has the slots, prices and rules of the planner on a linear slot model: rooms and fridge by their
exact quarter-hour maps, the freezer by its heat, the pit by its level; compressors, heater and pump take any
share of a slot that is on (the relaxation that makes it linear). What it finds is replayed in the engine and
priced there, as everything is. HiGHS gets as many seconds as the label search takes of the processor, then a hundred
times as many.
"""

from __future__ import annotations

import sys
import time

import numpy as np
from cases import CASES
from scipy.linalg import expm
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_matrix

from hearthold.engine.kernels import layout as c
from hearthold.plan import objective as o
from hearthold.plan.asked import Asked
from hearthold.plan.objective import SLOT_S
from hearthold.plan.polish import costs_j
from hearthold.plan.problem import Problem, pose
from hearthold.plan.solve import USUAL, solve

START_S = 42 * 3600.0
# Variables of a slot: on, start, duties of fridge, freezer, heater and pump, then states at its end and
# slacks.
ON, START, FRIDGE, FREEZER, HEATER, PUMP, T_FRIDGE, T_AIR, T_MASS, E_FREEZER, X_PIT, WARM, COOL, LOW, OVER = (
    range(15)
)
WIDTH = 15


def load_w(problem: Problem, name: str) -> float:
    row = problem.compiled.world.loads[problem.compiled.load_ids.index(name)]
    return float(row[c.L_WA] + row[c.L_WB])


def slot_map(problem: Problem) -> tuple[np.ndarray, np.ndarray]:
    """Fridge, air and mass over a quarter hour: x -> A x + B (outdoor, heat W, cooling W)."""
    par, cold = problem.compiled.world.par, problem.compiled.world.cold
    mode = problem.compiled.world.modes[0, 0, 0]
    ua, cap = cold[0, c.C_UA], mode[c.M_C1]
    m = np.zeros((6, 6))
    m[0, 0], m[0, 1], m[0, 5] = -ua / cap, ua / cap, -1.0 / cap
    m[1, 1] = -(par[c.P_U1] + par[c.P_G]) / par[c.P_C1]
    m[1, 2], m[1, 3], m[1, 4] = par[c.P_G] / par[c.P_C1], par[c.P_U1] / par[c.P_C1], 1.0 / par[c.P_C1]
    m[2, 2] = -(par[c.P_U2] + par[c.P_G]) / par[c.P_C2]
    m[2, 1], m[2, 3] = par[c.P_G] / par[c.P_C2], par[c.P_U2] / par[c.P_C2]
    whole = expm(m * SLOT_S)
    return whole[:3, :3], whole[:3, 3:]


class Program:
    """Rows of the program, collected one by one."""

    def __init__(self, problem: Problem) -> None:
        self.p, self.n = problem, problem.slots
        self.cost = np.zeros(self.n * WIDTH)
        self.low, self.high = np.full(self.n * WIDTH, -np.inf), np.full(self.n * WIDTH, np.inf)
        self.whole = np.zeros(self.n * WIDTH)
        self.rows: list[tuple[int, int, float]] = []
        self.least: list[float] = []
        self.most: list[float] = []

    def row(self, terms: list[tuple[int, int, float]], least: float, most: float) -> None:
        for t, v, value in terms:
            self.rows.append((len(self.least), t * WIDTH + v, value))
        self.least.append(least)
        self.most.append(most)

    def build(self) -> None:
        p, world = self.p, self.p.compiled.world
        par, cold, level = world.par, world.cold, world.levels[0]
        a, b = slot_map(p)
        hours = p.outside.outdoor_c[((p.start_s + p.lead_s + SLOT_S * np.arange(self.n)) // 3600).astype(int)]
        first = np.array([cold[0, c.C_SHELL0], par[c.P_AIR0], par[c.P_AIR0]])
        lhv, rules = p.lhv_j_per_m3, p.patterns
        watts = {
            FRIDGE: load_w(p, "fridge"), FREEZER: load_w(p, "chest"), HEATER: load_w(p, "boiler"),
            PUMP: load_w(p, "sump_pump"),
        }  # fmt: skip
        night = np.array([not p.rules.is_awake(p.start_s + p.lead_s + SLOT_S * t) for t in range(self.n)])
        out = p.objective
        for t in range(self.n):
            at = t * WIDTH
            self.low[at : at + 6], self.high[at : at + 6] = 0.0, 1.0
            self.low[at + WARM : at + WIDTH] = 0.0
            self.low[at + T_FRIDGE], self.low[at + E_FREEZER] = cold[0, c.C_OFF], -1e9
            self.low[at + X_PIT], self.high[at + T_AIR] = 0.0, par[c.P_HEAT_OFF]
            self.whole[at] = 1.0
            self.cost[at + ON] = lhv * par[c.P_FUEL_A] * SLOT_S + night[t] * out.night_w * SLOT_S
            self.cost[at + START] = out.start_j + rules.switch_j[t]
            for v, w in watts.items():
                self.cost[at + v] = lhv * par[c.P_FUEL_B] * w * SLOT_S
            self.cost[at + WARM] = out.cold_w_per_k * SLOT_S
            self.cost[at + COOL] = out.air_w_per_k * SLOT_S
            self.cost[at + LOW] = out.lowest_j_per_k
            self.cost[at + OVER] = out.pit_j_per_m3
            if not rules.may_run[t]:
                self.high[at + ON] = 0.0
            self._motion(t, a, b, hours[t], first, par, cold, level)
            for v in watts:
                self.row([(t, v, 1.0), (t, ON, -1.0)], -np.inf, 0.0)
            self._rules(t)
            self.row([(t, T_FRIDGE, 1.0), (t, WARM, -1.0)], -np.inf, cold[0, c.C_LIMIT])
            self.row([(t, T_AIR, 1.0), (t, COOL, 1.0)], p.house.wishes.indoor_comfort_c, np.inf)
            self.row([(t, T_AIR, 1.0), (t, LOW, 1.0)], p.prices[o.LOWEST_C], np.inf)
            self.row([(t, X_PIT, 1.0), (t, OVER, -1.0)], -np.inf, level[c.V_CAP])
        for day in np.unique(rules.day):
            slots = np.flatnonzero(rules.day == day)
            self.row([(int(t), START, 1.0) for t in slots], 0.0, float(rules.starts_a_day))

    def _motion(self, t, a, b, outdoor, first, par, cold, level) -> None:  # type: ignore[no-untyped-def]
        """States at the end of a slot from those at its beginning."""
        for i, v in enumerate((T_FRIDGE, T_AIR, T_MASS)):
            terms = [
                (t, v, 1.0),
                (t, HEATER, -b[i, 1] * par[c.P_HEATER_W]),
                (t, FRIDGE, -b[i, 2] * cold[0, c.C_COOL_W]),
            ]
            known = b[i, 0] * outdoor + b[i, 1] * par[c.P_GAINS]
            if t == 0:
                known += float(a[i] @ first)
            else:
                terms += [(t - 1, w, -a[i, k]) for k, w in enumerate((T_FRIDGE, T_AIR, T_MASS))]
            self.row(terms, known, known)
        gain = cold[1, c.C_UA] * (20.0 - cold[1, c.C_SHELL0]) * SLOT_S
        before = [] if t == 0 else [(t - 1, E_FREEZER, -1.0)]
        self.row([(t, E_FREEZER, 1.0), (t, FREEZER, cold[1, c.C_COOL_W] * SLOT_S), *before], gain, gain)
        came = level[c.V_IN] * SLOT_S + (level[c.V_X0] if t == 0 else 0.0)
        before = [] if t == 0 else [(t - 1, X_PIT, -1.0), (t - 1, OVER, 1.0)]
        self.row([(t, X_PIT, 1.0), (t, PUMP, level[c.V_OUT] * SLOT_S), *before], came, came)

    def _rules(self, t: int) -> None:
        rules = self.p.patterns
        before = [] if t == 0 else [(t - 1, ON, 1.0)]
        self.row([(t, START, 1.0), (t, ON, -1.0), *before], 0.0, np.inf)
        for k in range(2, min(rules.least_off, t) + 1):  # a start has a pause before it
            self.row([(t - k, ON, 1.0), (t, START, 1.0)], -np.inf, 1.0)
        for k in range(1, rules.least_on):
            if t + k < self.n:
                self.row([(t + k, ON, 1.0), (t, START, -1.0)], 0.0, np.inf)
        if t + rules.most_on < self.n:
            self.row([(t + k, ON, 1.0) for k in range(rules.most_on + 1)], 0.0, float(rules.most_on))

    def solve(self, seconds: float) -> tuple[np.ndarray | None, float | None, float | None]:
        """Pattern, objective and bound of the program."""
        i, j, value = zip(*self.rows, strict=True)
        matrix = coo_matrix((value, (i, j)), shape=(len(self.least), len(self.cost))).tocsr()
        scale = o.LITRE_J
        found = milp(
            self.cost / scale, integrality=self.whole, bounds=Bounds(self.low, self.high),
            constraints=LinearConstraint(matrix, self.least, self.most), options={"time_limit": max(seconds,
            0.01)},
        )  # fmt: skip
        bound = getattr(found, "mip_dual_bound", None)
        if found.x is None:
            return None, None, bound
        return found.x[ON::WIDTH] > 0.5, found.fun, bound


def main(days: int) -> None:
    print(
        "Costs are litres of gasoline with the same heat, by replay in the engine; bounds are of the slot model.\n"
    )
    print("| case | labels s | labels | MILP, same time | MILP, 100 x | its bound | its own objective |")
    print("|---|---|---|---|---|---|---|")
    for name, load in CASES[:7]:
        house, outside = load()
        problem = pose(house, outside, Asked(start_s=START_S, hours=24.0 * days))
        print(f"| {name} | {' | '.join(compared(problem))} |", flush=True)


def compared(problem: Problem) -> list[str]:
    solve(problem, USUAL)
    began = time.process_time()
    _, parts = solve(problem, USUAL)
    took = time.process_time() - began
    program = Program(problem)
    program.build()
    cells = [f"{took:.2f}", f"{parts.total_j / o.LITRE_J:.1f}"]
    for seconds in (took, 100.0 * took):
        on, own, bound = program.solve(seconds)
        cells.append("no plan" if on is None else told(problem, on))
    return [*cells, *("-" if x is None else f"{x:.1f}" for x in (bound, own))]


def told(problem: Problem, on: np.ndarray) -> str:
    cost = costs_j(problem, [on])[0] / o.LITRE_J
    return f"{cost:.1f}" + ("" if problem.patterns.allows(on) else " (breaks a rule)")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
