"""Which circuits can be on together, which in turns, which never, and why."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.papers.words.circuits import stay_off

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.plan.choice import Choice, CircuitChoice


def choice_section(sheet: Sheet, found: Choice) -> Iterator[RenderableType]:
    """The set to carry at one time, the turns for the rest, and why a circuit is left out."""
    yield heading("Which circuits can be on", sheet.page)
    on, all_of = len(found.together), len(found.circuits)
    yield sentence(
        f"Together: {on} of the {all_of} circuits that the hookup feeds ({found.together_status})."
    )
    if found.vital_conflict:
        yield sentence(f"The vital circuits cannot all be carried: {'; '.join(found.vital_conflict)}.")
    turns = len(found.turns)
    columns = [Column("circuit"), Column("wanted"), Column("together")]
    columns += [Column(f"turn {n}") for n in range(1, turns + 1)] if turns > 1 else []
    yield table(columns, (_row(found, circuit) for circuit in found.circuits))
    if turns > 1:
        yield sentence(
            f"To give every circuit its time, take {turns} turns; switch off what is not marked before the "
            f"next ({found.turns_status})."
        )
    yield from _left_out(found)


def _row(found: Choice, circuit: CircuitChoice) -> tuple[str, ...]:
    together = "on" if circuit.circuit in found.together else "-"
    turns = ["on" if n in circuit.turns else "-" for n in range(1, len(found.turns) + 1)]
    return (circuit.name, str(circuit.priority), together, *(turns if len(turns) > 1 else []))


def _left_out(found: Choice) -> Iterator[RenderableType]:
    for circuits, reason in stay_off(found):
        yield sentence(f"{circuits} must stay off: {reason}.")
