"""Steps at the machine and the panel, in words: the table filled with a house's figures."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from hearthold.house.supply import FuelKind, HookupKind
from hearthold.papers.words.phrases import plain
from hearthold.papers.words.say import duration
from hearthold.reference import cautions

if TYPE_CHECKING:
    from hearthold.papers.job import Job

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
        "panel": "main panel" if _way(job) == HookupKind.INTERLOCK else "essential panel",
        "transfer": "Transfer switch" if job.nec else "Changeover switch",
        "grid": "GRID" if job.nec else "MAINS",
    }
    return tuple(step.format_map(figures) for step in steps)
