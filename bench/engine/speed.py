"""Speed of the engine: 10,000 random outages of the example house, against C, numpy and plain Python in one run.

Run: python bench/engine/speed.py [outages]

Ratios are taken on one thread and on processor time, so that other work on the machine does not decide them. The
C is a statement-by-statement translation of the same kernels (`to_c.py`), compiled with gcc -O3 -march=native.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE))

from hearthold.engine import run as engine_run  # noqa: E402
from hearthold.engine.compile import compile_house  # noqa: E402
from hearthold.engine.control import DailySpell, Routine, Watchful, compile_control  # noqa: E402
from hearthold.engine.kernels.layout import Weather  # noqa: E402
from hearthold.engine.outcomes import row_width  # noqa: E402
from hearthold.engine.packing import pack  # noqa: E402
from hearthold.engine.run import simulate_many  # noqa: E402
from hearthold.engine.weather import year_hours  # noqa: E402
from hearthold.house.reader import read_house  # noqa: E402

HOUR = 3600.0
ROUTINE = Routine(
    (DailySpell(6.5 * HOUR, 2 * HOUR), DailySpell(12 * HOUR, HOUR), DailySpell(17.5 * HOUR, 2.5 * HOUR))
)
REPEATS = 5


def setting(count: int):
    """House, weather, starts and lengths (lognormal, median 12 h, sigma 1.3, cut to 1..240 h)."""
    house = compile_house(read_house(HERE.parents[1] / "examples" / "tarn_hollow.toml"))
    given = read_house(HERE.parents[1] / "examples" / "tarn_hollow.toml")
    rng = np.random.default_rng(2)
    lengths = np.clip(12.0 * np.exp(1.3 * rng.standard_normal(count)), 1.0, 240.0) * HOUR
    starts = np.floor(rng.random(count) * 3 * 365 * 24) * HOUR
    return house, year_hours(given, seed=1, years=3), starts, lengths


def cpu(work, repeats: int = REPEATS) -> float:
    """Least processor time of some repeats."""
    best = np.inf
    for _ in range(repeats):
        begin = time.process_time()
        work()
        best = min(best, time.process_time() - begin)
    return best


def wall(work, repeats: int = REPEATS) -> float:
    """Median wall time of some repeats."""
    found = []
    for _ in range(repeats):
        begin = time.perf_counter()
        work()
        found.append(time.perf_counter() - begin)
    return float(np.median(found))


def against_c(house, outside, starts, lengths) -> None:
    """One thread of numba against one thread of C, and both on all cores."""
    from c_kernel import CEngine

    with tempfile.TemporaryDirectory() as folder:
        engine = CEngine(Path(folder))
        for control in (ROUTINE, Watchful()):
            print(_one_control(engine, house, outside, starts, lengths, control))


def _one_control(engine, house, outside, starts, lengths, control) -> str:
    packed = pack(house.world, compile_control(house, control), Weather(outside.outdoor_c, outside.solar_w))
    order = np.concatenate(engine_run._blocks(lengths))

    def ours(threads=None):
        return simulate_many(house, outside, control, starts, lengths, threads=threads)

    def theirs(threads=0):
        threads = threads or os.cpu_count()
        return engine.run(packed, starts, lengths, order, threads, engine_run.BLOCK, row_width(house))

    found, rows = ours(), theirs()
    one, other = cpu(lambda: ours(1)), cpu(lambda: theirs(1))
    burned = found.fuel_m3 > 0.0
    fuel = float(np.max(np.abs(rows[burned, 0] / found.fuel_m3[burned] - 1.0)))
    events, days = float(found.events.sum()), float(lengths.sum() / 86400.0)
    return (
        f"{type(control).__name__:9s} one thread: engine {one:.3f} s, C {other:.3f} s, ratio {one / other:.2f}; "
        f"all cores (wall): engine {wall(ours):.3f} s, C {wall(theirs):.3f} s\n"
        f"          {events / days:.0f} events a day, {1e9 * one / events:.0f} ns an event; "
        f"worst difference in fuel {fuel:.1e}"
    )


def against_numpy(house, outside, starts, lengths) -> None:
    """One thread against numpy by the minute."""
    from numpy_minutes import Minutes

    rule = compile_control(house, ROUTINE)
    begin = time.process_time()
    burned, _, over = Minutes(house.world, rule, outside.outdoor_c, starts, lengths).run()
    slow = time.process_time() - begin
    one = cpu(lambda: simulate_many(house, outside, ROUTINE, starts, lengths, threads=1))
    found = simulate_many(house, outside, ROUTINE, starts, lengths)
    print(
        f"numpy by the minute {slow:.1f} s, engine {one:.3f} s on one thread, ratio {slow / one:.0f}; "
        f"mean fuel {1000 * burned.mean():.3f} against {1000 * found.fuel_m3.mean():.3f} l, "
        f"mean hours over the limit {over.mean(0).round(-1) / HOUR} against "
        f"{found.cold_over_s.mean(0).round(-1) / HOUR}"
    )


PLAIN = """
import sys, time; sys.path.insert(0, {here!r})
from speed import ROUTINE, setting
from hearthold.engine.run import simulate_many
house, outside, starts, lengths = setting(10000)
begin = time.process_time()
simulate_many(house, outside, ROUTINE, starts[:{n}], lengths[:{n}], threads=1)
print(time.process_time() - begin)
"""


def against_python(house, outside, starts, lengths, count: int = 60) -> None:
    """The same kernels as plain Python on some of the outages, scaled by their hours."""
    code = PLAIN.format(here=str(HERE), n=count)
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=os.environ | {"HEARTHOLD_NO_JIT": "1"},
        capture_output=True,
        text=True,
        check=True,
    )
    scaled = float(done.stdout) * lengths.sum() / lengths[:count].sum()
    one = cpu(lambda: simulate_many(house, outside, ROUTINE, starts, lengths, threads=1))
    print(
        f"plain Python {scaled:.0f} s (scaled from {count} outages), engine {one:.3f} s, ratio {scaled / one:.0f}"
    )


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    house, outside, starts, lengths = setting(count)
    begin = time.perf_counter()
    simulate_many(house, outside, ROUTINE, starts[:8], lengths[:8])
    print(
        f"{count} outages, mean {lengths.mean() / HOUR:.1f} h; first call {time.perf_counter() - begin:.1f} s"
    )
    against_c(house, outside, starts, lengths)
    against_numpy(house, outside, starts, lengths)
    against_python(house, outside, starts, lengths)


if __name__ == "__main__":
    main()
