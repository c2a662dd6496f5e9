"""What the fed circuits ask for, leg by leg, and the order in which to switch them on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.faces.cli.report.say import duration, names, whole

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.sizing.demand import Demand, LegDemand
    from hearthold.sizing.order import Step, SwitchOn
    from hearthold.sizing.supply import Supply


def demand_section(sheet: Sheet, found: Demand) -> Iterator[RenderableType]:
    """From the day's average to the worst second."""
    yield heading("What the circuits ask for", sheet.page)
    together = names([sheet.circuit(c) for c in found.circuits], 6)
    yield sentence(f"Circuits counted: {together}.")
    columns = [Column("when"), Column("W", True), Column("VA", True)]
    if sheet.two_legs:
        columns += [Column("leg A, A", True), Column("leg B, A", True), Column("neutral, A", True)]
    else:
        columns += [Column("A", True)]
    yield table(columns, (_row(sheet, when, leg) for when, leg in _moments(found)))
    yield sentence(
        "After hours without power every thermostat calls at once: size for that line, not for the average."
    )
    yield from sheet.remarks(found.notes)


def order_section(sheet: Sheet, found: SwitchOn, source: Supply) -> Iterator[RenderableType]:
    """Switch-on order with the peak of each step."""
    yield heading("Switch on in this order", sheet.page)
    yield sentence(
        f"The heaviest moment is then {sheet.say.volt_amps(found.peak_va)} instead of "
        f"{sheet.say.volt_amps(found.together_va)} with all at once; it takes {duration(found.lasts_s)}."
    )
    columns = [Column("", True), Column("circuit"), Column("peak VA", True)]
    columns += [Column("runs then W", True), Column("wait", True)]
    yield table(columns, (_step(step) for step in found.steps))
    over = next((step for step in found.steps if step.after.total_w > source.running_w), None)
    if over is not None:
        yield sentence(
            f"Stop before step {over.position} ({over.name}): from there on more runs than the machine's "
            f"{sheet.say.power(source.running_w)}. Switch something off first."
        )
    if found.by_hand:
        by_hand = list(dict.fromkeys(sheet.load(ident) for ident in found.by_hand))
        yield sentence(f"Not on by themselves, so counted only when used: {names(by_hand)}.")
    yield from sheet.remarks(found.notes)
    yield from cautions_of(sheet, "transfer_order")


def _moments(found: Demand) -> Iterator[tuple[str, LegDemand]]:
    yield "the day's average", found.average
    yield "after a long outage", found.cold_pickup
    yield "everything on", found.all_on
    if found.worst_start is not None:
        yield f"{found.worst_start.name} starts", found.worst_start.demand
    yield "all start at once", found.start_together


def _row(sheet: Sheet, when: str, found: LegDemand) -> tuple[str, ...]:
    cells = [when, whole(found.total_w), whole(found.total_va), f"{found.leg_a_a:.1f}"]
    return tuple([*cells, f"{found.leg_b_a:.1f}", f"{found.neutral_a:.1f}"] if sheet.two_legs else cells)


def _step(step: Step) -> tuple[str, ...]:
    return (
        f"{step.position}.",
        step.name,
        whole(step.peak.total_va),
        whole(step.after.total_w),
        duration(step.wait_s),
    )
