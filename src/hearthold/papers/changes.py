"""From one set of circuits to the next within a spell: when, what goes off, what comes on and in which order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.papers.words.say import duration, names
from hearthold.papers.words.steps import rest_sentence, vital_sentence
from hearthold.sizing.order import switch_on_order

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.sizing.order import SwitchOn

_MOST = 60  # names that are told; a panel has no more


@dataclass(frozen=True, slots=True)
class Change:
    """One change of turns. `kept` stay on; `order` holds what comes on, in the order of least peak."""

    turn: int  # from 1; the one that is on afterwards
    after_s: float | None  # from the start of the spell; None where no routine says when
    off: tuple[str, ...]
    kept: tuple[str, ...]
    order: SwitchOn

    @property
    def interrupted(self) -> tuple[str, ...]:
        """Circuits that go off and come back at once, in the order in which they come back."""
        return tuple(step.circuit for step in self.order.steps if step.circuit in self.off)

    @property
    def everything_off(self) -> bool:
        """Whether nothing stays on meanwhile."""
        return not self.kept

    @property
    def back(self) -> bool:
        """Whether it leads back to the first turn."""
        return self.turn == 1


def changes(job: Job) -> tuple[Change, ...]:
    """Every change of a spell, as the routine was replayed; by the choice alone where there is no routine.

    What two turns share stays on, unless a start on top of it would ask more than the machine starts: then
    everything goes off first, and all of the turn comes on in order.
    """
    return tuple(_changes(job))


def _changes(job: Job) -> Iterator[Change]:
    timed = job.plan.routine.turns.turns if job.plan.routine is not None and len(job.turns) > 1 else ()
    sets = [turn.circuits for turn in timed] if timed else list(job.turns)
    times: list[float | None] = [turn.from_s for turn in timed] if timed else [None] * len(sets)
    for at in range(1, len(sets)):
        back = bool(timed) and at == len(sets) - 1
        yield _change(job, 1 if back else at + 1, times[at], sets[at - 1], sets[at])


def _change(
    job: Job, turn: int, after_s: float | None, before: tuple[str, ...], now: tuple[str, ...]
) -> Change:
    kept = tuple(c for c in before if c in now)
    off = tuple(c for c in before if c not in now)
    order = switch_on_order(job.running, [c for c in now if c not in before], already_on=kept)
    fresh = job.orders[turn - 1]
    too_much = job.source is not None and order.peak_va > job.source.start_va
    if kept and too_much and fresh.peak_va < order.peak_va:
        return Change(turn, after_s, before, (), fresh)
    return Change(turn, after_s, off, kept, order)


def when(change: Change) -> str:
    """After 30 min; or the number of the turn where no time is known."""
    return f"Turn {change.turn}" if change.after_s is None else f"After {duration(change.after_s)}"


def off_words(job: Job, change: Change) -> str:
    """What goes off, by the shorter of the two lists; empty where nothing does."""
    if change.everything_off:
        return "all"
    if change.kept and len(change.kept) < len(change.off):
        return f"all but {told(job, change.kept)}"
    return told(job, change.off) if change.off else ""


def on_words(job: Job, change: Change) -> str:
    """What comes on, in order; the list of the first turn is not said again."""
    if change.back and change.everything_off:
        return "again in the order above"
    return told(job, tuple(step.circuit for step in change.order.steps))


def rest_words(job: Job, change: Change) -> str:
    """What a change asks of circuits that go off and come back: rest for compressors, and a word on what is vital."""
    cooled = {x.load for x in job.house.cold}
    compressors = {job.running.load_by_id[x].circuit for x in cooled if x in job.running.load_by_id}
    vital = {x.circuit for x in job.running.vital_loads}
    resting = tuple(c for c in change.interrupted if c in compressors)
    waiting = [s for s in change.order.steps if s.circuit in change.off and s.circuit in vital]
    return " ".join(
        [
            *([rest_sentence(told(job, resting))] if resting else []),
            *(vital_sentence(job.circuit(s.circuit), s.at_s) for s in waiting),
        ]
    )


def told(job: Job, circuits: tuple[str, ...]) -> str:
    """Circuits by name."""
    return names([job.circuit(c) for c in circuits], _MOST)
