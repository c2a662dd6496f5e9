"""Time of whole commands, from the shell to the last byte, beside a reference in the same run.

Run: python bench/commands.py [rounds] [first]

Every command runs as a process of its own, the commands and the reference in turns. Processor time is that of the
process with its threads and children, so that other work on the machine decides less; wall time is what a person
waits, and grows with that work. The reference, `python -c "import numpy, scipy"`, is what any program on these
libraries must spend. With `first`, the commands are also run once each with no compiled kernel to be found.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median

ROOT = Path(__file__).parents[1]
HEARTHOLD = str(Path(sys.executable).parent / "hearthold")
EXAMPLES = ("tarn_hollow", "skerrow_croft")
REFERENCE = [sys.executable, "-c", "import numpy, scipy"]
DONE = (0, 1)  # done; done and something found that needs action
HOMES = 32
SINGLE = ("run-sheet", "brief", "shopping", "report", "drill", "calendar", "pocket")
FIRST = ("check", "plan", "outage", "simulate", "risk", "compare", "sweep", "papers")


@dataclass(frozen=True)
class Spent:
    """What one process took: wall and processor seconds, and the most memory it held (bytes)."""

    wall_s: float
    cpu_s: float
    peak_bytes: float


def spent(command: list[str], cache: Path | None = None) -> Spent:
    """Run a command to its end. Raises RuntimeError where it does not finish."""
    env = dict(os.environ) if cache is None else os.environ | {"HEARTHOLD_CACHE": str(cache)}
    begun = time.perf_counter()
    process = subprocess.Popen(command, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, used = os.wait4(process.pid, 0)
    wall_s = time.perf_counter() - begun
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in DONE:
        raise RuntimeError(f"{' '.join(command)} ended with {process.returncode}")
    return Spent(wall_s, used.ru_utime + used.ru_stime, 1024.0 * used.ru_maxrss)


def commands(example: str, folder: Path) -> dict[str, list[str]]:
    """Name and words of every command for one house."""
    house, out = str(ROOT / "examples" / f"{example}.toml"), str(folder / example)
    on_house = {name: [HEARTHOLD, name, house] for name in FIRST if name != "papers"}
    papers = [HEARTHOLD, "papers", house, "--out", out, "--force"]
    short = [*papers, "--no-outlook"]
    single = {f"papers, {name} only": [*short, "--only", name] for name in SINGLE}
    return on_house | {"papers": papers, "papers, no outlook": short} | single


def village(folder: Path) -> Iterator[list[str]]:
    """The command that studies invented homes, each time in a folder not seen before."""
    for number in range(10_000):
        here = str(folder / f"homes-{number}")
        yield [HEARTHOLD, "study", here, "--invent", str(HOMES), "--seed", str(number)]


def warm(rounds: int, folder: Path) -> None:
    """All commands in turns, after one round that is not counted."""
    every = {"reference": REFERENCE, "hearthold --help": [HEARTHOLD, "--help"]}
    for example in EXAMPLES:
        every |= {f"{name}, {example}": words for name, words in commands(example, folder).items()}
    homes = village(folder)
    found: dict[str, list[Spent]] = {}
    for number in range(rounds + 1):
        for name, words in (every | {f"study, {HOMES} invented homes": next(homes)}).items():
            once = spent(words)
            if number:
                found.setdefault(name, []).append(once)
    print(f"{rounds} rounds in turns, kernels compiled; times in s")
    told(found)


def first(folder: Path) -> None:
    """Each command once, with an empty folder of compiled kernels each time."""
    found = {"reference": [spent(REFERENCE) for _ in range(3)]}
    for name in FIRST:
        words = commands(EXAMPLES[0], folder)[name]
        found[f"{name}, {EXAMPLES[0]}"] = [spent(words, cache=folder / f"cache-{name}")]
    print("\nthe very first time, nothing compiled; times in s")
    told(found)


def told(found: dict[str, list[Spent]]) -> None:
    """Print a table, with the processor time as a multiple of the reference's."""
    base = min(x.cpu_s for x in found["reference"])
    print("| command | wall, median (least) | processor, median (least) | times the reference | memory |")
    print("|---|---|---|---|---|")
    for name, times in found.items():
        wall, cpu = [x.wall_s for x in times], [x.cpu_s for x in times]
        print(
            f"| {name} | {median(wall):.2f} ({min(wall):.2f}) | {median(cpu):.2f} ({min(cpu):.2f}) | "
            f"{min(cpu) / base:.1f} | {max(x.peak_bytes for x in times) / 1e6:.0f} MB |",
            flush=True,
        )


def main() -> None:
    words = sys.argv[1:]
    rounds = next((int(x) for x in words if x.isdigit()), 5)
    with tempfile.TemporaryDirectory() as made:
        warm(rounds, Path(made))
        if "first" in words:
            first(Path(made))


if __name__ == "__main__":
    main()
