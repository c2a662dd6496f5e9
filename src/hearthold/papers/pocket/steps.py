"""Checklists: the steps of every paper, cut into things to tick, with what only a phone can add."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.papers.words import steps
from hearthold.papers.words.phrases import sentence, words
from hearthold.papers.words.say import names
from hearthold.reference.cautions import caution

if TYPE_CHECKING:
    from hearthold.papers.job import Job

_SENTENCES = re.compile(r"(?<=[.!?]) (?=[A-Z])")


@dataclass(frozen=True, slots=True)
class Warned:
    """A caution as it is printed: what hurts, and the text."""

    id: str
    topic: str
    text: str


@dataclass(frozen=True, slots=True)
class Checklist:
    """One list of steps, with the cautions that belong above it."""

    id: str
    title: str
    cautions: tuple[Warned, ...]
    steps: tuple[str, ...]


def checklists(job: Job) -> tuple[Checklist, ...]:
    """Every list of the house that has steps, in the order in which it is needed."""
    lists = (
        _list(
            job,
            "before",
            "Before starting",
            ("never_indoors", "co_distance"),
            [*steps.before(job), *_by_hand(job)],
        ),
        _list(
            job,
            "start",
            "Start",
            (),
            [*steps.start(job), "Tap “Machine started” below: the clocks go by it."] if job.source else [],
        ),
        _list(job, "over", "Switch over", ("no_backfeed",), steps.switch(job)),
        _list(job, "running", "While it runs", ("co_symptoms", "keep_dry"), _running(job)),
        _list(job, "refuel", "Refuel", ("cool_before_refuel",), steps.refuel(job)),
        _list(job, "end", "End of a run, grid still down", (), _end(job)),
        _list(
            job,
            "back",
            "Grid is back",
            ("no_backfeed",),
            [*steps.sign(job), *steps.back(job), *_AFTER],
        ),
        _list(job, "trip", "If something trips", ("open_panel",), steps.tripped(job)),
    )
    return tuple(found for found in lists if found.steps)


def warned(job: Job, ids: Sequence[str]) -> tuple[Warned, ...]:
    """Cautions by id as they are said here, those of another voltage system left out."""
    found = (job.caution_row(one) for one in ids)
    return tuple(Warned(c.id, words(c.topic), sentence(c.text)) for c in found if c is not None)


def cool_s(job: Job) -> float:
    """How long the machine cools before anybody refuels: the longer of the house's wish and the caution."""
    return max(job.house.wishes.cool_down_s, caution("cool_before_refuel").wait_s or steps.COOL_S)


_AFTER = ("Tap “Grid is back”. Read the thermometers before anybody eats from fridge or freezer.",)


def _list(job: Job, key: str, title: str, cautions: Sequence[str], found: Iterable[str]) -> Checklist:
    single = found if key == "trip" else (one for step in found for one in _SENTENCES.split(step))
    return Checklist(key, title, warned(job, cautions), tuple(single))


def _end(job: Job) -> list[str]:
    found = steps.end(job)
    return [*found, "Tap “Machine stopped”: the clocks of what keeps begin anew."] if found else []


def _by_hand(job: Job) -> list[str]:
    loads = list(dict.fromkeys(job.load(one) for order in job.orders for one in order.by_hand))
    return [f"Off by hand until everything else runs: {names(loads, most=len(loads) + 1)}"] if loads else []


def _running(job: Job) -> list[str]:
    """Common practice, no source."""
    if job.source is None:
        return []
    found = ["Look and listen every hour: sound, smell, fuel.", "Fridge and freezer doors stay shut."]
    return [*found, "Kettles, heaters and tools one at a time.", *steps.meanwhile(job)]
