"""What a plan would take on two free cores, on a machine that is not free. Run: python bench/plan/path.py [rounds]

Wall time says little while others use the machine. Here all work is done on one thread, the work that is meant to go
side by side one piece after the other, and the processor time that a second core would have saved (pieces dealt to two,
the longest first) is taken off: the least of a few rounds. Posing the problem and the replay that is shown count too.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterable
from typing import Any

from cases import CASES

import hearthold.plan.ahead
import hearthold.plan.polish
import hearthold.plan.rule_search
import hearthold.plan.solve
from hearthold.engine.weather import Hours
from hearthold.house.house import House
from hearthold.plan.asked import Asked
from hearthold.plan.runplan import RunPlan, plan_running

START_S = 42 * 3600.0
DAYS = (3, 7, 14)
TARGET_S = {3: 0.1, 7: 0.3, 14: 0.6}
saved_s = 0.0


def one_by_one(work: Callable[[Any], Any], on: Iterable[Any]) -> list[Any]:
    """The work in turn, and what a second core would have saved of it."""
    global saved_s
    pieces, made, took = list(on), [], []
    if len(pieces) == 1:
        return [work(pieces[0])]
    for each in pieces:
        begun, before = time.thread_time(), saved_s
        made.append(work(each))
        took.append(time.thread_time() - begun)
        saved_s = before  # a piece that goes beside another has no second core left
    cores = [0.0, 0.0]
    for seconds in sorted(took, reverse=True):
        cores[cores.index(min(cores))] += seconds
    saved_s += sum(took) - max(cores)
    return made


def path_s(house: House, outside: Hours, days: int, rounds: int) -> tuple[float, RunPlan]:
    """The least of the rounds, and the plan."""
    global saved_s
    least, asked = float("inf"), Asked(START_S, 24.0 * days)
    plan = plan_running(house, outside, asked)
    for _ in range(rounds):
        saved_s, begun = 0.0, time.thread_time()
        plan_running(house, outside, asked)
        least = min(least, time.thread_time() - begun - saved_s)
    return least, plan


def main(rounds: int) -> None:
    plan = hearthold.plan
    for module in (plan.ahead, plan.polish, plan.rule_search, plan.solve):
        module.side_by_side = one_by_one  # type: ignore[attr-defined]
    over = dict.fromkeys(DAYS, 0)
    print("| case | " + " | ".join(f"{days} d, s" for days in DAYS) + " |")
    print("|---" * (len(DAYS) + 1) + "|")
    for name, load in CASES:
        cells = []
        for days in DAYS:
            seconds, plan = path_s(*load(), days, rounds)
            over[days] += seconds > TARGET_S[days]
            cells.append(f"{seconds:.3f}{'' if plan.kept else ' (a limit breaks)'}")
        print(f"| {name} | {' | '.join(cells)} |", flush=True)
    print(
        "over "
        + ", ".join(f"{TARGET_S[days]} s for {days} days: {over[days]} of {len(CASES)}" for days in DAYS)
    )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
