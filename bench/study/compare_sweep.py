"""Two hundred designs over the same outages: wall and processor time, and what sharing tracks over stocks saves.

Run: python bench/study/compare_sweep.py
"""

import os
import time
from dataclasses import replace
from datetime import date
from pathlib import Path

os.environ |= dict.fromkeys(("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1")  # as the command line has it

from hearthold.house.reader import read_house
from hearthold.study.chosen import outages_of
from hearthold.study.grid import usual_grid
from hearthold.study.sweep import sweep

HOUSE = read_house(Path(__file__).parents[2] / "examples" / "tarn_hollow.toml")


def timed(work):
    """Wall and processor seconds of a piece of work, and what it returns."""
    begun, cpu_begun = time.perf_counter(), time.process_time()
    found = work()
    return time.perf_counter() - begun, time.process_time() - cpu_begun, found


def main():
    outages = outages_of(HOUSE, date(2026, 10, 14))
    grid = usual_grid(HOUSE)
    sweep(HOUSE, outages, replace(grid, machine_w=grid.machine_w[:1]), seed=1)
    for threads in (1, 2):
        shared_s, cpu_s, rows = timed(lambda t=threads: sweep(HOUSE, outages, grid, seed=1, threads=t))
        half = sum(r.any_loss_frac.half for r in rows) / len(rows)
        told = (
            f"{len(rows)} designs, {threads} threads: {shared_s:.2f} s (aim 2 s), {cpu_s:.2f} s of processor"
        )
        print(f"{told}; any loss known to +-{100 * half:.1f} points")
    few = replace(grid, machine_w=grid.machine_w[:1], battery_j=(0.0,))
    _, shared_s, _ = timed(lambda: sweep(HOUSE, outages, few, seed=1, threads=1))
    _, single_s, _ = timed(
        lambda: [sweep(HOUSE, outages, replace(few, fuel_m3=(f,)), seed=1, threads=1) for f in grid.fuel_m3]
    )
    print(
        f"tracks shared over {len(grid.fuel_m3)} stocks: {single_s / shared_s:.1f} times faster than one run a stock"
    )


if __name__ == "__main__":
    main()
