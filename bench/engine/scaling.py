"""How the engine's time grows: days of an outage (with fuel for all of them), number of outages, loads of a house.

Run: python bench/engine/scaling.py

Processor time on one thread, the least of a few, sizes in turns; the exponent is the slope of a straight line fitted
to the logarithms (1 is in proportion). The time is that of an event times the number of events, and so its exponent is
the sum of theirs. More loads come in two ways. Of one kind: freezers with their food, lamps by the clock and incubators
that cycle, in equal parts, all of which switch more often than what the house has; so events grow faster than loads. Of
the same mix: the house's own circuits, loads, cold stores and pits over and over, with rooms, machine, cord and inlet
as many times as large and fuel for all. How often and how long the machine runs is told with them.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
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
ROOMS = (
    "air_j_per_k", "mass_j_per_k", "air_outdoor_w_per_k", "mass_outdoor_w_per_k", "air_mass_w_per_k", "gains_w",
    "heater_output_w",
)  # fmt: skip
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
    """The example with its own circuits, loads, cold stores and pits so many times over, compiled.

    What a house has one of stays one, with its load: rooms, pressure tank and hot water (a second boiler without rooms
    of its own would cycle by itself, which the first does not).
    """
    house = read_house(HERE.parents[1] / "examples" / f"{EXAMPLES[0]}.toml")
    heat = house.heat
    single = {heat.heater_load, heat.stove_blower_load, house.water.pump_load, house.hot_water.load}
    again = [load for load in house.loads if load.id not in single]
    wired = {load.circuit for load in again}

    def many(rows, chosen, **named):
        return tuple(rows) + tuple(
            renamed(
                row,
                id=f"{row.id}_{i}",
                **{key: f"{getattr(row, name)}_{i}" for key, name in named.items()},
            )
            for i in range(1, count)
            for row in chosen
        )

    larger_house = replace(
        house,
        circuits=many(house.circuits, [row for row in house.circuits if row.id in wired]),
        loads=many(house.loads, again, circuit="circuit"),
        cold=many(house.cold, house.cold, load="load"),
        pits=many(house.pits, house.pits, load="load"),
        heat=renamed(heat, **{name: count * getattr(heat, name) for name in ROOMS}),
    )
    compiled = compile_house(larger_house)
    return replace(compiled, world=compiled.world._replace(limits=count * compiled.world.limits))


def renamed(row, **changes):
    """A row with other ids, whatever kind of record it is."""
    return row.model_copy(update=changes) if hasattr(row, "model_copy") else replace(row, **changes)


def told(what: str, sizes: list[int], jobs: list[Callable[[], object]]) -> np.ndarray:
    """Print times and exponent of one growth; the times."""
    spent_s = least_s(jobs, REPEATS)
    row = ", ".join(f"{n}: {s:.3f} s" for n, s in zip(sizes, spent_s, strict=True))
    print(f"  {what} {row}; exponent {exponent(sizes, spent_s):.2f}", flush=True)
    return spent_s


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
    spent_s = told(f"{len(starts)} random outages of a house with so many loads {how}", loads, jobs)
    found = [work() for work in jobs]
    events = np.array([one.events.sum() for one in found])
    each_ns = 1e9 * spent_s / events
    print(
        f"    exponent of events {exponent(loads, events):.2f}, of the time of an event {exponent(loads, each_ns):.2f} "
        f"({listed(each_ns)} ns); machine started {listed(one.starts.sum() for one in found)} times, "
        f"ran {listed(one.run_s.sum() / 3600.0 for one in found)} h",
        flush=True,
    )


def listed(values: Iterable[float]) -> str:
    """Whole numbers in a row."""
    return ", ".join(f"{x:.0f}" for x in values)


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
