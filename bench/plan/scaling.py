"""How the planner's time grows: days of an outage, cold stores, loads that people put off.

Run: python bench/plan/scaling.py [rounds]

Processor time of the search (the usual effort, compiled, all threads together), the least of a few rounds with the
sizes in turns; the exponent is the slope of a straight line fitted to the logarithms, with its standard error (how far
the points lie from a line, noise and bends together). Target: at most 1, in proportion. Days are fitted twice, all of
them and from three on: the first hours have few labels yet, so that a short outage costs less a day than any other.
The machine has fuel for all of it and may run at night, so that every limit can be kept; what is added is small
enough for it to carry.
"""

from __future__ import annotations

import sys
from functools import partial

import numpy as np
from cases import NIGHT
from growth import least_s
from running_houses import running_house, steady
from scipy.stats import linregress

from hearthold.plan.asked import Asked
from hearthold.plan.problem import Problem, pose
from hearthold.plan.solve import USUAL, solve

START_S = 42 * 3600.0
LONG_DAYS = 3
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


def main(rounds: int) -> None:
    print("| time grows with | sizes | s | exponent | standard error |")
    print("|---|---|---|---|---|")
    for what, made, sizes in (
        ("days", of_days, (1, 2, 3, 4, 6, 8, 12, 16, 24, 32)),
        ("cold stores, the fridge aside, 3 days", of_freezers, (1, 2, 4, 8)),
        ("loads that are put off, 3 days", of_put_off, (1, 2, 4, 8, 16)),
    ):
        problems = {size: made(size) for size in sizes}
        for size, problem in problems.items():
            assert solve(problem, USUAL)[1].kept, f"a limit breaks at {size}"
        spent_s = least_s([partial(solve, problem, USUAL) for problem in problems.values()], rounds)
        times = ", ".join(f"{s:.3f}" for s in spent_s)
        print(f"| {what} | {', '.join(map(str, sizes))} | {times} | {fitted(sizes, spent_s)} |", flush=True)
        if what == "days":
            few = sizes.index(LONG_DAYS)
            print(f"| the same from {LONG_DAYS} on | | | {fitted(sizes[few:], spent_s[few:])} |", flush=True)


def fitted(sizes: tuple[int, ...], spent_s: np.ndarray) -> str:
    """Slope and its standard error, as cells of the table."""
    line = linregress(np.log(sizes), np.log(spent_s))
    return f"{line.slope:.3f} | {line.stderr:.3f}"


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
