"""How the engine's time grows: days of an outage (with fuel for all of them), number of outages, loads of a house.

Run: python bench/engine/scaling.py

Processor time on one thread, the least of a few, sizes in turns; the exponent is the slope of a straight line fitted
to the logarithms (1 is in proportion). More loads come in two ways. Of one kind: freezers with their food, lamps by
the clock and incubators that cycle, in equal parts, all of which switch more often than what the house has; so events
grow faster than loads. Of the same mix: the house's own circuits, loads, cold stores and pits over and over, with a
machine, cord and inlet as many times as large and fuel for all.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

from growth import exponent, least_s  # noqa: E402
from speed import EXAMPLES, ROUTINE, setting  # noqa: E402

from hearthold.engine.compile import compile_house  # noqa: E402
from hearthold.engine.control import Watchful  # noqa: E402
from hearthold.engine.kernels import layout as c  # noqa: E402
from hearthold.engine.run import simulate_many  # noqa: E402
from hearthold.house.reader import house_from_text, read_house  # noqa: E402

REPEATS = 5
DAY_S = 86400.0
RULES = {"routine": ROUTINE, "rule by need": Watchful()}
SOME = """
[[load]]
id = "freezer_{i}"
kind = "chest_freezer"
circuit = "workshop"
running = 20

[[cold]]
id = "freezer_{i}"
kind = "chest_freezer"
load = "freezer_{i}"
volume = "7 cu ft"
room = "house"

[[load]]
id = "lamp_{i}"
kind = "led_house"
circuit = "living"
running = 5
pattern = "scheduled"
use = [{{ from = "0{a}:{b}", to = "2{c}:{b}" }}]

[[load]]
id = "incubator_{i}"
kind = "egg_incubator"
circuit = "hatchery"
running = 20
"""


def larger(more: int):
    """The example with three times as many more loads, compiled."""
    text = (HERE.parents[1] / "examples" / f"{EXAMPLES[0]}.toml").read_text("utf-8")
    rows = [SOME.format(i=i, a=4 + i % 4, b=10 + 7 * (i % 7), c=i % 4) for i in range(more)]
    return compile_house(house_from_text(text + "".join(rows)))


def copies(count: int):
    """The example with its own circuits, loads, cold stores and pits so many times over, compiled."""
    house = read_house(HERE.parents[1] / "examples" / f"{EXAMPLES[0]}.toml")

    def many(rows, **named):
        return tuple(
            renamed(
                row,
                id=f"{row.id}{tail(i)}",
                **{key: f"{getattr(row, name)}{tail(i)}" for key, name in named.items()},
            )
            for i in range(count)
            for row in rows
        )

    larger_house = replace(
        house,
        circuits=many(house.circuits),
        loads=many(house.loads, circuit="circuit"),
        cold=many(house.cold, load="load"),
        pits=many(house.pits, load="load"),
    )
    compiled = compile_house(larger_house)
    return replace(compiled, world=compiled.world._replace(limits=count * compiled.world.limits))


def tail(number: int) -> str:
    """What is added to ids of a copy; nothing to those of the house itself."""
    return f"_{number}" if number else ""


def renamed(row, **changes):
    """A row with other ids, whatever kind of record it is."""
    return row.model_copy(update=changes) if hasattr(row, "model_copy") else replace(row, **changes)


def told(what: str, sizes: list[int], jobs: list[Callable[[], object]]) -> None:
    """Print times and exponent of one growth."""
    spent_s = least_s(jobs, REPEATS)
    row = ", ".join(f"{n}: {s:.3f} s" for n, s in zip(sizes, spent_s, strict=True))
    print(f"  {what} {row}; exponent {exponent(sizes, spent_s):.2f}", flush=True)


def with_fuel(house):
    """The same house with a tonne of fuel, because a machine that has run dry leaves nothing to reckon."""
    par = house.world.par.copy()
    par[c.P_FUEL_STOCK0] = 1.3
    return replace(house, world=house.world._replace(par=par))


def by_days(rule, house, outside, starts) -> None:
    """Time against the days of an outage."""
    house = with_fuel(house)
    days = [1, 2, 4, 8, 16, 32]
    within = np.minimum(starts, 700 * DAY_S)  # so that the weather lasts

    def job(d: int):
        return lambda: simulate_many(house, outside, rule, within, np.full(len(within), d * DAY_S), threads=1)

    told(f"{len(within)} outages of so many days", days, [job(d) for d in days])


def by_count(rule, house, outside, starts, lengths) -> None:
    """Time against the number of outages."""
    counts = [250, 1000, 4000, 16_000]

    def job(n: int):
        return lambda: simulate_many(house, outside, rule, starts[:n], lengths[:n], threads=1)

    told("so many random outages", counts, [job(n) for n in counts])


def by_loads(rule, outside, starts, lengths, houses, how: str) -> None:
    """Time and events against the number of loads."""
    loads = [len(h.load_ids) for h in houses]

    def job(h):
        return lambda: simulate_many(h, outside, rule, starts, lengths, threads=1)

    jobs = [job(h) for h in houses]
    told(f"{len(starts)} random outages of a house with so many loads {how}", loads, jobs)
    events = [float(work().events.sum()) for work in jobs]
    print(f"    events grow with exponent {exponent(loads, events):.2f}", flush=True)


def main() -> None:
    house, outside, starts, lengths = setting(16_000)
    for name, rule in RULES.items():
        print(f"{name}:")
        by_days(rule, house, outside, starts[:400])
        by_count(rule, house, outside, starts, lengths)
        some = starts[:1000], lengths[:1000]
        by_loads(rule, outside, *some, [larger(n) for n in (0, 2, 6, 14, 30)], "of one kind")
        by_loads(rule, outside, *some, [with_fuel(copies(n)) for n in (1, 2, 3, 5)], "of the same mix")


if __name__ == "__main__":
    main()
