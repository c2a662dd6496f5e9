"""How near the lower bound comes to the plans, over the twelve cases. Run: python bench/plan/bound_cases.py [seconds]

Per case and horizon: cost of the plan by replay, the bound, the gap, and seconds of the bound
on one thread (compiled): as the clock goes, by which it ends, and as a core worked.
`alone` is what the bound makes of the plan's own pattern, without any join: what the joins cannot be blamed for.
"""

from __future__ import annotations

import sys
import time

import numpy as np
from cases import CASES

from hearthold.plan.asked import Asked
from hearthold.plan.bound.kernels.follow import follow
from hearthold.plan.bound.kernels.house import Q_COUNT
from hearthold.plan.bound.lower import lower_bound, pose_bound
from hearthold.plan.objective import LITRE_J
from hearthold.plan.problem import Problem, pose
from hearthold.plan.solve import solve

START_S = 42 * 3600.0
DAYS = (1, 3, 7)


def alone_j(problem: Problem, on: np.ndarray) -> float:
    """Least cost of one pattern by its own boxes."""
    case = pose_bound(problem)
    boxes, costs = np.zeros((len(on) + 1, len(case.z0))), np.zeros(len(on) + 1)
    boxes[0], costs[0] = case.z0, case.c0
    return float(follow(case.frame, on.astype(np.int64), boxes, costs, np.zeros(Q_COUNT)))


def line(name: str, problem: Problem, days: int, seconds: float) -> str:
    on, parts = solve(problem)
    begun, busy = time.perf_counter(), time.process_time()
    found = lower_bound(problem, parts.total_j, seconds)
    took, worked = time.perf_counter() - begun, time.process_time() - busy
    if not found.proven:
        return f"| {name} | {days} | {parts.total_j / LITRE_J:.1f} | - | - | {found.statement} | | | |"
    gap = 100.0 * found.gap_frac(parts.total_j)
    alone = alone_j(problem, on) / LITRE_J
    boxes = sum(level.boxes for level in found.levels)
    return (
        f"| {name} | {days} | {parts.total_j / LITRE_J:.1f} | {alone:.1f} | {found.value_j / LITRE_J:.1f} | "
        f"{gap:.1f} % | {boxes} | {took:.2f} | {worked:.2f} |"
    )


def main(seconds: float) -> None:
    print("| case | days | plan, l | alone, l | bound, l | gap | boxes | s | of a core |")
    print("|---|---|---|---|---|---|---|---|---|")
    for name, load in CASES:
        house, outside = load()
        for days in DAYS:
            problem = pose(house, outside, Asked(start_s=START_S, hours=24.0 * days).settled(house))
            print(line(name, problem, days, seconds), flush=True)


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else 1.0)
