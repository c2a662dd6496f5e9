"""How the planner's time grows: days of an outage, cold stores, loads that people put off.

Run: python bench/plan/scaling.py [rounds]

Processor time of the search (the usual effort, compiled, all threads together), the least of a few rounds with the
sizes in turns; the exponent is the slope of a straight line fitted to the logarithms. Target: at most 1, in proportion.
The machine has fuel for all of it and may run at night, so that every limit can be kept; what is added is small
enough for it to carry.
"""

from __future__ import annotations

import sys
import time

import numpy as np
from cases import NIGHT
from running_houses import running_house, steady

from hearthold.plan.asked import Asked
from hearthold.plan.problem import Problem, pose
from hearthold.plan.solve import USUAL, Effort, solve

START_S = 42 * 3600.0
FREEZER = """
[[load]]
id = "freezer_{i}"
kind = "chest_freezer"
circuit = "freezer"
running = 20

[[cold]]
id = "freezer_{i}"
kind = "chest_freezer"
load = "freezer_{i}"
volume = "7 cu ft"
room = "house"
"""
PUT_OFF = """
[[load]]
id = "put_off_{i}"
kind = "microwave_700_w"
circuit = "kitchen"
running = 30
"""


def of_days(days: int) -> Problem:
    return posed("", days)


def of_freezers(count: int) -> Problem:
    return posed("".join(FREEZER.format(i=i) for i in range(count - 1)), 3)


def of_put_off(count: int) -> Problem:
    return posed("".join(PUT_OFF.format(i=i) for i in range(count - 1)), 3)


def posed(extra: str, days: int) -> Problem:
    house = running_house(extra, fuel="400 gal", **NIGHT)
    return pose(house, steady(-12.0, 40), Asked(START_S, 24.0 * days))


def exponent(problems: dict[int, Problem], effort: Effort, rounds: int) -> tuple[float, dict[int, float]]:
    """Slope of the logarithms, and the least time of each size."""
    least = dict.fromkeys(problems, float("inf"))
    for size, problem in problems.items():
        assert solve(problem, effort)[1].kept, f"a limit breaks at {size}"
    for _ in range(rounds):
        for size, problem in problems.items():
            begun = time.process_time()
            solve(problem, effort)
            least[size] = min(least[size], time.process_time() - begun)
    slope = np.polyfit(np.log(list(least)), np.log(list(least.values())), 1)[0]
    return float(slope), least


def main(rounds: int) -> None:
    print("| time grows with | sizes | s | exponent |")
    print("|---|---|---|---|")
    for what, made, sizes in (
        ("days", of_days, (1, 2, 4, 8, 16, 32)),
        ("cold stores, the fridge aside, 3 days", of_freezers, (1, 2, 4, 8)),
        ("loads that are put off, 3 days", of_put_off, (1, 2, 4, 8, 16)),
    ):
        slope, least = exponent({size: made(size) for size in sizes}, USUAL, rounds)
        times = ", ".join(f"{least[size]:.3f}" for size in sizes)
        print(f"| {what} | {', '.join(map(str, sizes))} | {times} | {slope:.2f} |", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
