"""Conductors: breaker against wire, and the voltage lost on the way, circuit by circuit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType
from rich.text import Text

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.parts import STYLES, Column, heading, sentence, table
from hearthold.faces.cli.report.say import names

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.sizing.wiring import CircuitWiring, RunWiring, Wiring


def conductors_section(sheet: Sheet, found: Wiring) -> Iterator[RenderableType]:
    """Circuits, then cord and feeder."""
    yield heading("Conductors", sheet.page)
    yield sentence(breaker_words(found))
    columns = [
        Column("circuit"),
        Column("wire", narrow=7),
        Column("breaker", True),
        Column("may carry", True),
    ]
    columns += [Column("carries", True), Column("lost", True), Column("in all", True)]
    yield table(columns, (_row(c) for c in found.circuits))
    yield sentence(
        "In amperes: the breaker, what the wire may carry where it lies, what its loads take together. "
        "Lost: share of the voltage lost on the branch; in all: from the machine to the outlet."
    )
    yield from (sentence(line) for line in wiring_lines(found))
    if found.runs:
        columns = [Column("run"), Column("wire"), Column("length", True), Column("may carry", True)]
        columns += [Column("one leg", True), Column("lost", True), Column("at a start", True)]
        yield table(columns, (_run(sheet, run) for run in found.runs))
    yield from sheet.remarks(found.notes)
    yield from cautions_of(sheet, "open_panel", "electrician")


def breaker_words(found: Wiring) -> str:
    """Whether every breaker suits its wire."""
    over = [c.name for c in found.circuits if c.device_over_conductor and not c.motor_circuit]
    if over:
        return f"Breaker larger than the wire allows: {names(over)}. Off, until an electrician has seen them."
    return "No breaker of a circuit is larger than its wire allows."


def wiring_lines(found: Wiring) -> Iterator[str]:
    """Which branches lose more than is advised and the wire that would not; which run is asked too much."""
    for circuit in found.circuits:
        if circuit.drop.is_over:
            cure = f"; {circuit.suggested_size} would do" if circuit.suggested_size else ""
            lost = (
                f"{_percent(circuit.drop.running_frac)} against {_percent(circuit.drop.limit_frac)} advised"
            )
            yield f"{circuit.name}: long for its wire, {lost}{cure}."
        if circuit.device_over_conductor and circuit.motor_circuit:
            yield f"{circuit.name}: its breaker suits a motor only; see the findings, and an electrician."
    yield from (_overrun(run) for run in found.runs if run.leg_a > run.carrying.allowed_a)


def _overrun(run: RunWiring) -> str:
    return (
        f"Everything that switches itself on at once would ask {run.leg_a:.0f} A of a {run.kind} for "
        f"{run.carrying.allowed_a:g} A: keep big loads off, or its breaker opens."
    )


def _row(found: CircuitWiring) -> tuple[str | Text, ...]:
    over = found.device_over_conductor and not found.motor_circuit
    breaker = (
        Text(f"too large {found.breaker_a:g}", style=STYLES["danger"]) if over else f"{found.breaker_a:g}"
    )
    return (
        found.name,
        found.carrying.size,
        breaker,
        f"{found.carrying.allowed_a:g}",
        f"{found.load_a:.1f}",
        _percent(found.drop.running_frac),
        _percent(found.whole_path.running_frac if found.whole_path else None),
    )


def _run(sheet: Sheet, found: RunWiring) -> tuple[str, ...]:
    return (
        found.kind,
        found.wire,
        sheet.say.length(found.length_m),
        f"{found.carrying.allowed_a:g}",
        f"{found.leg_a:.1f}",
        _percent(found.running_frac),
        _percent(found.start_frac),
    )


def _percent(fraction: float | None) -> str:
    return "" if fraction is None else f"{100 * fraction:.1f} %"
