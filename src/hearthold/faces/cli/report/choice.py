"""Which circuits can be on together, which in turns, which never, and why."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.faces.cli.report.say import names

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.plan.choice import Choice, CircuitChoice


def choice_section(sheet: Sheet, found: Choice) -> Iterator[RenderableType]:
    """The set to carry at one time, the turns for the rest, and each circuit's reason."""
    yield heading("Which circuits can be on", sheet.page)
    yield sentence(
        f"Together: {names([sheet.circuit(c) for c in found.together], 20)} ({found.together_status})."
    )
    if len(found.turns) > 1:
        yield sentence(f"Everything else takes its turn, in {len(found.turns)} turns ({found.turns_status}):")
        for number, turn in enumerate(found.turns, start=1):
            yield sentence(f"turn {number}: {names([sheet.circuit(c) for c in turn], 20)}.", indent=2)
    if found.never:
        yield sentence(f"Never on this machine: {names([sheet.circuit(c) for c in found.never], 20)}.")
    if found.vital_conflict:
        yield sentence(f"The vital circuits cannot all be carried: {'; '.join(found.vital_conflict)}.")
    yield table((Column("circuit"), Column("wanted"), Column("can be on"), Column("why")), _rows(found))


def _rows(found: Choice) -> Iterator[tuple[str, ...]]:
    for circuit in found.circuits:
        yield (circuit.name, str(circuit.priority), _when(circuit), circuit.reason)


def _when(circuit: CircuitChoice) -> str:
    if not circuit.turns or str(circuit.verdict) != "in turns":
        return str(circuit.verdict)
    return f"in turn {names([str(turn) for turn in circuit.turns])}"
