"""Speed of the engine: 10,000 random outages of the example houses, against C, numpy and plain Python in one run.

Run: python bench/engine/speed.py [outages]

Ratios are taken on one thread and on processor time, in turns, so that other work on the machine does not decide
them. The C (`c/`, called by `c_twin.py`) is the same event-driven model written by hand, compiled with gcc -O3
-march=native.
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

from hearthold.engine.compile import compile_house  # noqa: E402
from hearthold.engine.control import DailySpell, Routine, Watchful, compile_control  # noqa: E402
from hearthold.engine.kernels import layout as c  # noqa: E402
from hearthold.engine.outcomes import Outcomes  # noqa: E402
from hearthold.engine.run import simulate_many  # noqa: E402
from hearthold.engine.weather import year_hours  # noqa: E402
from hearthold.house.reader import read_house  # noqa: E402

HOUR = 3600.0
ROUTINE = Routine(
    (DailySpell(6.5 * HOUR, 2 * HOUR), DailySpell(12 * HOUR, HOUR), DailySpell(17.5 * HOUR, 2.5 * HOUR))
)
REPEATS = 7
EXAMPLES = ("tarn_hollow", "skerrow_croft")


def setting(count: int, example: str = EXAMPLES[0]):
    """House, weather, starts and lengths (lognormal, median 12 h, sigma 1.3, cut to 1..240 h)."""
    given = read_house(HERE.parents[1] / "examples" / f"{example}.toml")
    rng = np.random.default_rng(2)
    lengths = np.clip(12.0 * np.exp(1.3 * rng.standard_normal(count)), 1.0, 240.0) * HOUR
    starts = np.floor(rng.random(count) * 3 * 365 * 24) * HOUR
    return compile_house(given), year_hours(given, seed=1, years=3), starts, lengths


def cpu(*works, repeats: int = REPEATS) -> np.ndarray:
    """(works, repeats) processor times, the works taken in turns."""
    return np.array([[_spent(work) for work in works] for _ in range(repeats)]).T


def _spent(work) -> float:
    begin = time.process_time()
    work()
    return time.process_time() - begin


def wall(work, repeats: int = REPEATS) -> float:
    """Median wall time of some repeats."""
    found = []
    for _ in range(repeats):
        begin = time.perf_counter()
        work()
        found.append(time.perf_counter() - begin)
    return float(np.median(found))


def against_c(count: int) -> None:
    """One thread of numba against one thread of C, and both on all cores."""
    from c_twin import CTwin

    with tempfile.TemporaryDirectory() as folder:
        twin = CTwin(Path(folder))
        for example in EXAMPLES:
            house, outside, starts, lengths = setting(count, example)
            for control in (ROUTINE, Watchful()):
                print(f"{example}, {type(control).__name__}:")
                print(_one_control(twin, house, outside, starts, lengths, control), flush=True)


def _one_control(twin, house, outside, starts, lengths, control) -> str:
    theirs = twin.prepared(house, outside, control, starts, lengths)

    def ours(threads=None):
        return simulate_many(house, outside, control, starts, lengths, threads=threads)

    found, rows = ours(), theirs()
    Outcomes(house, starts, lengths, rows).check()  # its balances close too
    one, other = cpu(lambda: ours(1), lambda: theirs(1))
    events, days = float(found.events.sum()), float(lengths.sum() / 86400.0)
    return (
        f"  one thread, least and median of {REPEATS}: engine {one.min():.3f} and {np.median(one):.3f} s, C "
        f"{other.min():.3f} and {np.median(other):.3f} s, ratio {one.min() / other.min():.2f} and "
        f"{np.median(one / other):.2f} (of the rounds)\n"
        f"  all cores (wall, median): engine {wall(ours):.3f} s, C {wall(theirs):.3f} s\n"
        f"  {events / days:.0f} events a day; an event: engine {1e9 * one.min() / events:.0f} ns, C "
        f"{1e9 * other.min() / events:.0f} ns\n{_differences(found.rows, rows)}"
    )


def _differences(ours, theirs) -> str:
    """How far the accounts of the two are apart.

    As shares of the account, or of a thousandth of the largest of its kind: what is left of a task done is round-off.
    """
    floor = 1e-3 * np.abs(ours).max(0) + 1e-300
    apart = np.abs(ours - theirs) / np.maximum(np.abs(ours), floor)
    first, events = c.O_FIRST, c.O_EVENTS - c.O_FIRST
    accounts = np.delete(apart, events, axis=1)
    return (
        f"  worst difference in fuel {apart[:, c.O_FUEL_M3 - first].max():.1e}, running time "
        f"{apart[:, c.O_RUN_S - first].max():.1e}, any account {accounts.max():.1e}; outages with any account more "
        f"than 1e-9 apart: {(accounts > 1e-9).any(1).mean():.2%}; events equal in "
        f"{(apart[:, events] == 0.0).mean():.2%}"
    )


def against_numpy(house, outside, starts, lengths) -> None:
    """One thread against numpy by the minute."""
    from numpy_minutes import Minutes

    rule = compile_control(house, ROUTINE)
    begin = time.process_time()
    burned, _, over = Minutes(house.world, rule, outside.outdoor_c, starts, lengths).run()
    slow = time.process_time() - begin
    one = cpu(lambda: simulate_many(house, outside, ROUTINE, starts, lengths, threads=1)).min()
    found = simulate_many(house, outside, ROUTINE, starts, lengths)
    print(
        f"numpy by the minute {slow:.1f} s, engine {one:.3f} s on one thread, ratio {slow / one:.0f}; "
        f"mean fuel {1000 * burned.mean():.3f} against {1000 * found.fuel_m3.mean():.3f} l, "
        f"mean hours over the limit {over.mean(0).round(-1) / HOUR} against "
        f"{found.cold_over_s.mean(0).round(-1) / HOUR}"
    )


FIRST = """
import sys, time; sys.path.insert(0, {here!r})
from speed import ROUTINE, setting
from hearthold.engine.run import simulate_many
house, outside, starts, lengths = setting(8)
wall, begin = time.perf_counter(), time.process_time()
simulate_many(house, outside, ROUTINE, starts, lengths)
print(time.process_time() - begin, time.perf_counter() - wall)
"""


def compiled_anew() -> None:
    """The first call of all, with no compiled kernel to be found, and the first call of a process that finds them."""
    code = FIRST.format(here=str(HERE))
    with tempfile.TemporaryDirectory() as empty:
        env = os.environ | {"HEARTHOLD_CACHE": empty}
        for what in ("nothing compiled", "kernels found on disk"):
            done = subprocess.run(
                [sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True
            )
            processor_s, wall_s = map(float, done.stdout.split())
            print(f"first call, {what}: {processor_s:.1f} s processor, {wall_s:.1f} s wall", flush=True)


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
    one = cpu(lambda: simulate_many(house, outside, ROUTINE, starts, lengths, threads=1)).min()
    print(
        f"plain Python {scaled:.0f} s (scaled from {count} outages), engine {one:.3f} s, ratio {scaled / one:.0f}"
    )


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    house, outside, starts, lengths = setting(count)
    print(f"{count} outages, mean {lengths.mean() / HOUR:.1f} h", flush=True)
    compiled_anew()
    against_c(count)
    against_numpy(house, outside, starts, lengths)
    against_python(house, outside, starts, lengths)


if __name__ == "__main__":
    main()
