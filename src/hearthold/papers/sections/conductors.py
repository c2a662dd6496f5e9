"""Conductors of a plan as blocks: breaker against wire, the voltage lost, the feeder on grid power."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import ALARM, Block, Cell, Column, Heading, Words, table
from hearthold.papers.sections.wiring import feeds_circuits
from hearthold.papers.words.phrases import plain, sentence, wire
from hearthold.papers.words.say import names
from hearthold.sizing.gridside import GridFeeder, grid_feeder, grid_load_a

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.sizing.wiring import CircuitWiring, Drop, RunWiring

_MOTOR_RULE = {
    True: "NEC 430.52",
    False: "IEC 60364-4-43",
}  # larger devices for the start of a motor, from memory


def conductor_blocks(job: Job) -> Iterator[Block]:
    """Breaker against wire, and the voltage lost, for circuits, cord and feeder."""
    found = job.plan.wiring
    yield Heading("Conductors and voltage drop")
    over = [c.name for c in found.circuits if c.device_over_conductor and not c.motor_circuit]
    told = (
        f"Breaker larger than the wire allows: {names(over, 20)}. Off, until an electrician has seen them."
        if over
        else "No breaker of a branch circuit is larger than its wire allows by the bare tables."
    )
    said, feeder = [told], grid_feeder(job.house)
    said += [] if job.nec else [_in_insulation(found.circuits)]
    said += [] if feeder is None else [job.told(_feeder_words(job, feeder))]
    yield Words(" ".join(said))  # one block, which stays with its table
    columns = [
        Column("Circuit", share=2.4),
        Column("Wire", share=1.2),
        Column("Breaker A", True),
        Column("May carry A", True),
    ]
    columns += [
        Column("Carries A", True),
        Column("Drop", True),
        Column("At a start", True),
        Column("From the set", True),
        Column("Remark", share=1.5),
    ]
    note = " ".join(sentence(n) for n in found.notes)
    note += (
        " Drop: share of nominal voltage on the branch, all of it running. From the set: cord and feeder too."
    )
    yield table(columns, (_wiring(job, c) for c in found.circuits), note)
    if found.runs and feeds_circuits(job):
        columns = [
            Column("Run"),
            Column("Wire", share=2.0),
            Column("Length", True),
            Column("May carry A", True),
        ]
        carries = "Worse leg, amperes" if job.nec else "Carries A"
        columns += [Column(carries, True), Column("Drop", True), Column("At a start", True)]
        yield table(
            columns,
            (_run(job, run) for run in found.runs),
            _runs_note(found.runs),
        )


def _in_insulation(circuits: Iterable[CircuitWiring]) -> str:
    """Which devices would be too large where insulation covers a cable, which nobody sees from the board.

    Source: IEC 60364-5-52 and BS 7671, 523.9: half the current where it covers 0.5 m or more; from memory.
    """
    small = [
        f"{c.name} ({wire(c.carrying.size)}: {_COVERED * c.carrying.allowed_a:.3g} A behind {c.breaker_a:g} A)"
        for c in circuits
        if c.breaker_a > _COVERED * c.carrying.allowed_a
    ]
    told = f" Too small there: {names(small, 20)}." if small else ""
    return f"Where insulation covers 0.5 m or more of a cable, it may carry half (523.9, from memory).{told}"


_COVERED = 0.5


def _feeder_words(job: Job, feeder: GridFeeder) -> str:
    """The feeder on grid power, which knows no turns and no breaker of the set's side."""
    size = f"{wire(feeder.carrying.size)}, {feeder.carrying.allowed_a:g} A"
    there = (
        "which the house file does not give"
        if feeder.breaker_a is None
        else f"{feeder.breaker_a:g} A by the file"
    )
    load_a = grid_load_a(job.house)
    below = feeder.breaker_a is not None and load_a > feeder.breaker_a
    return (
        f"The feeder ({size}) lies behind the transfer equipment and carries grid power too, up to "
        f"{load_a:.1f} A by the load calculation; the breaker ahead of it on the grid side, {there}"
        f"{', less than that load' if below else ''}, may be {feeder.most_a:g} A at most."
    )


def _runs_note(runs: Iterable[RunWiring]) -> str:
    """What the figures of cord and feeder stand for, and why one may be beyond what it may carry."""
    note = "On the set: cord and feeder with everything that starts by itself running."
    if any(run.leg_a > run.carrying.allowed_a for run in runs):
        note += (
            " In red: more than it may carry, were all of that on at once. On the set the circuits take turns for this "
            "reason, and the breakers ahead of it must open first; grid power knows no turns."
        )
    return note


def _wiring(job: Job, found: CircuitWiring) -> Iterator[Cell]:
    over = found.device_over_conductor and not found.motor_circuit
    yield Cell(found.name)
    yield Cell(wire(found.carrying.size))
    yield Cell(f"{found.breaker_a:g}", ALARM if over else "")
    yield Cell(f"{found.carrying.allowed_a:g}")
    yield Cell(f"{found.load_a:.1f}")
    yield _drop(found.drop)
    yield Cell("" if found.drop.start_frac is None else _percent(found.drop.start_frac))
    yield Cell("") if found.whole_path is None else _drop(found.whole_path)
    yield Cell(_remark(job, found))


def _drop(found: Drop) -> Cell:
    return Cell(_percent(found.running_frac), ALARM if found.is_over else "")


def _remark(job: Job, found: CircuitWiring) -> str:
    said = []
    if found.device_over_conductor:
        motor = f"motor circuit: {_MOTOR_RULE[job.nec]} to judge"
        said.append(motor if found.motor_circuit else "breaker over wire")
    if found.suggested_size is not None:
        limit = f"{100 * found.drop.limit_frac:g} %"
        said.append(f"{wire(found.suggested_size)} holds it to {limit}")
    return "; ".join(said)


def _run(job: Job, found: RunWiring) -> Iterator[Cell]:
    yield Cell(found.kind)
    yield Cell(wire(found.wire))
    yield Cell(plain(job.say.length(found.length_m)))
    yield Cell(f"{found.carrying.allowed_a:g}")
    yield Cell(f"{found.leg_a:.1f}", ALARM if found.leg_a > found.carrying.allowed_a else "")
    yield Cell(_percent(found.running_frac))
    yield Cell("" if found.start_frac is None else _percent(found.start_frac))


def _percent(fraction: float) -> str:
    return f"{100 * fraction:.1f} %"
