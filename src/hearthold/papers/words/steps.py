"""Steps at the machine and the panel, in words: the table filled with a house's figures."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from math import ceil
from typing import TYPE_CHECKING, Any

from hearthold.house.supply import FuelKind, HookupKind
from hearthold.papers.words.phrases import plain
from hearthold.papers.words.say import clock, duration
from hearthold.reference import cautions

if TYPE_CHECKING:
    from hearthold.house.stores import WaterFill
    from hearthold.papers.job import Job

REST_S = 300.0  # before a compressor starts again: 3 to 5 min, common practice, no source
WARM_UP_S = 120.0  # before the first load; common practice, no source
COOL_S = 900.0  # where the caution names no time


def before(job: Job) -> tuple[str, ...]:
    """Before starting; the cord is joined while the set stands still."""
    said, hookup = list(_table()["before"][_machine(job)]), job.house.hookup
    if hookup is not None and hookup.inlet is not None:
        said.append(_table()["before"]["cord"])
    return _filled(job, said)


def start(job: Job) -> tuple[str, ...]:
    """Starting."""
    return _filled(job, _table()["start"][_machine(job)])


def switch(job: Job) -> tuple[str, ...]:
    """Switching over, up to the first circuit."""
    return _filled(job, _table()["switch"][_way(job)]["steps"])


def end(job: Job) -> tuple[str, ...]:
    """The end of a run while the grid is still down; empty where nobody has to do anything."""
    return _filled(job, _table()["switch"][_way(job)]["end"])


def sign(job: Job) -> tuple[str, ...]:
    """How people see that the grid is back; empty where the machine sees it by itself."""
    told = _table()["switch"][_way(job)]["sign"]
    return _filled(job, [told] if told else [])


def back(job: Job) -> tuple[str, ...]:
    """Stopping and returning to the grid."""
    return _filled(job, _table()["switch"][_way(job)]["back"])


def refuel(job: Job) -> tuple[str, ...]:
    """Refuelling; empty where nothing burns fuel."""
    if job.source is None:
        return ()
    kind = {FuelKind.PROPANE: "propane", FuelKind.NATURAL_GAS: "gas"}.get(job.source.fuel, "liquid")
    return _filled(job, _table()["refuel"][kind])


def tripped(job: Job) -> tuple[str, ...]:
    """When something trips."""
    return _filled(job, _table()["trip"]["any" if job.nec else "any_230"])


def meanwhile(job: Job) -> tuple[str, ...]:
    """What fills up while the machine runs: cans and tanks at the pump, batteries of medical devices."""
    if job.source is None:
        return ()
    house, said = job.running, _table()["meanwhile"]
    found, fed = [], {c for turn in job.turns for c in turn}
    if house.water is not None and house.water.pump_load is not None:
        circuit = house.load_by_id[house.water.pump_load].circuit
        what = "; ".join(_filling(job, fill) for fill in house.water.fills)
        if circuit not in fed:
            found.append(said["no_pump"].format(pump=job.circuit(circuit)))
        elif what:
            found.append(said["fill"].format(pump=job.circuit(circuit), what=what))
    for need in house.medical:
        if need.own_battery_s > 0.0 and need.recharge_s and house.load_by_id[need.load].circuit in fed:
            what = f"battery of {job.load(need.load)} ({need.person})"
            found.append(said["charge"].format(what=what, time=duration(need.recharge_s)))
    return tuple(found)


def rest_sentence(what: str) -> str:
    """That compressors must rest before they start again."""
    return str(_table()["turns"]["rest"]).format(what=what, time=duration(REST_S))


def vital_sentence(what: str, seconds: float) -> str:
    """That a vital circuit is off for a while."""
    return str(_table()["turns"]["vital"]).format(
        what=what, time=duration(60.0 * max(1, ceil(seconds / 60.0)))
    )


def _filling(job: Job, fill: WaterFill) -> str:
    late = f" (from {clock(fill.due_s)})" if fill.due_s > job.house.people.awake_from_s else ""
    return f"{fill.name}, {plain(job.say.volume(fill.day_m3))}{late}"


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(files("hearthold.papers").joinpath("words/steps.toml").read_text("utf-8"))


def _machine(job: Job) -> str:
    machine = job.house.generator
    return "standby" if machine is not None and machine.kind == "standby" else "portable"


def _way(job: Job) -> str:
    hookup = job.house.hookup
    return hookup.kind.value if hookup is not None else "none"


def _filled(job: Job, steps: list[str]) -> tuple[str, ...]:
    cool = cautions.caution("cool_before_refuel").wait_s or COOL_S
    far_m = cautions.caution("co_distance").distance_m or 6.0
    figures = {
        "distance": plain(job.say.length(far_m)) if job.say.us else f"{round(far_m):d} m",
        "warm": duration(WARM_UP_S),
        "wait": duration(cool),
        "panel": job.told("main panel" if _way(job) == HookupKind.INTERLOCK else "essential panel"),
        "transfer": "Transfer switch" if job.nec else "Changeover switch",
        "grid": "GRID" if job.nec else "MAINS",
    }
    return tuple(step.format_map(figures) for step in steps)
