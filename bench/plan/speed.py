"""How long planning takes and how good it is. Run: python bench/plan/speed.py [rounds]

Per case and horizon: wall time of the usual effort (median, kernels compiled), CPU time (of both threads together), and
how much dearer it is than a search five times as wide with small changes (never a proof). Also routine, replan,
explain, how near the time that limits hold and the time that no plan can hold beyond are, and first use.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from functools import partial

from cases import CASES

from hearthold.engine.weather import Hours
from hearthold.house.house import House
from hearthold.plan.asked import Asked
from hearthold.plan.beyond import cannot_beyond_s
from hearthold.plan.hold import longest_hold
from hearthold.plan.infeasible import explain
from hearthold.plan.now import Now
from hearthold.plan.problem import pose
from hearthold.plan.replan import replan
from hearthold.plan.routine import find_routine
from hearthold.plan.runplan import plan_running
from hearthold.plan.solve import THOROUGH
from hearthold.sizing.conditions import conditions

HOUR_S = 3600.0
START_S = 42 * HOUR_S
DAYS = (3, 7, 14)


def timed(what: Callable[[], object], rounds: int) -> tuple[float, float]:
    """Median wall and CPU seconds."""
    wall, cpu = [], []
    for _ in range(rounds):
        w, c = time.perf_counter(), time.process_time()
        what()
        wall.append(time.perf_counter() - w)
        cpu.append(time.process_time() - c)
    return statistics.median(wall), statistics.median(cpu)


def plans(rounds: int) -> None:
    print("| case | kept | 3 d wall (cpu) s | dearer | 7 d wall (cpu) s | dearer | 14 d wall (cpu) s |")
    print("|---|---|---|---|---|---|---|")
    for name, load in CASES:
        print(f"| {name} | {' | '.join(plan_cells(*load(), rounds))} |", flush=True)


def plan_cells(house: House, outside: Hours, rounds: int) -> list[str]:
    cells = []
    for days in DAYS:
        asked = Asked(START_S, 24.0 * days)
        plan = plan_running(house, outside, asked)
        wall, cpu = timed(partial(plan_running, house, outside, asked), rounds)
        if days == DAYS[0]:
            cells.append("yes" if plan.breaks_first is None else f"no: {plan.breaks_first.store}")
        cells.append(f"{wall:.3f} ({cpu:.3f})")
        if days < DAYS[-1]:
            wide = plan_running(house, outside, asked, effort=THOROUGH)
            cells.append(f"{100.0 * (plan.cost.total_j / wide.cost.total_j - 1.0):.1f} %")
    return cells


def others(rounds: int) -> None:
    print(
        "\n| case | routine s | explain 3 d s | replan 1-2 d ahead: median, worst ms | replan 5 d ms | holds, h; s |"
    )
    print("|---|---|---|---|---|---|")
    for name, load in CASES:
        print(f"| {name} | {' | '.join(other_cells(*load(), rounds))} |", flush=True)


def other_cells(house: House, outside: Hours, rounds: int) -> list[str]:
    # Another length of outage each time, for the same question is answered from memory.
    lengths = iter(range(72, 72 + rounds))
    routine, _ = timed(lambda: find_routine(house, conditions(house, 2), next(lengths)), rounds)
    told, _ = timed(partial(explain, house, outside, Asked(START_S)), rounds)
    took = []
    for hour in range(24):
        now = Now(START_S + hour * HOUR_S, hour * HOUR_S)
        took.append(timed(partial(replan, house, outside, now, [48 * HOUR_S, 72 * HOUR_S], 0.5), 1)[0])
    long, _ = timed(partial(replan, house, outside, Now(START_S), [120 * HOUR_S], 0.5), rounds)
    median, worst = 1e3 * statistics.median(took), 1e3 * max(took)
    return [
        f"{routine:.2f}",
        f"{told:.2f}",
        f"{median:.0f}, {worst:.0f}",
        f"{1e3 * long:.0f}",
        bracket(house, outside),
    ]


def bracket(house: House, outside: Hours) -> str:
    """For how long some plan keeps every limit over a week, beyond when none can, and the seconds of both."""
    problem = pose(house, outside, Asked(START_S, 168.0))
    begun = time.perf_counter()
    hold = longest_hold(problem)
    until_s = hold.until_s
    if until_s >= problem.length_s:
        return "all 168"
    beyond_s = hold.none_beyond_s or cannot_beyond_s(problem, until_s)
    took = time.perf_counter() - begun
    if beyond_s is None:
        return f"{until_s / HOUR_S:.1f}, nothing proven; {took:.1f}"
    more = 100.0 * (beyond_s / until_s - 1.0)
    return f"{until_s / HOUR_S:.1f} to {beyond_s / HOUR_S:.1f} (+{more:.0f} %); {took:.1f}"


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    house, outside = CASES[0][1]()
    first = timed(lambda: plan_running(house, outside, Asked(START_S, 24.0)), 1)[0]
    print(f"first plan of the process: {first:.1f} s (compiles the kernels where the cache has none)\n")
    plans(count)
    others(count)
