"""For the electrician, in short: a sentence for each table that the full page prints."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.assumptions import assumed_words
from hearthold.faces.cli.report.chain import chain_words
from hearthold.faces.cli.report.conductors import breaker_words, wiring_lines
from hearthold.faces.cli.report.cost import cost_words
from hearthold.faces.cli.report.legs import legs_words
from hearthold.faces.cli.report.loadcalc import loadcalc_words
from hearthold.faces.cli.report.parts import heading, pairs, sentence
from hearthold.faces.cli.report.supply import starts_words, supply_words

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.plan.result import Plan
    from hearthold.sizing.supply import Supply


def electrician_section(sheet: Sheet, plan: Plan, main: Supply | None) -> Iterator[RenderableType]:
    """Machine, way in, starts, legs, wires, load calculation, cost; where the tables are."""
    yield heading("Machine, wiring and cost in short", sheet.page)
    yield pairs(_lines(sheet, plan, main))
    yield sentence(assumed_words(sheet.house))
    yield sentence(
        "With --all this page shows the tables behind these lines, every finding in full, every part of the "
        "cost and every value taken. With --out DIR it writes papers for the panel door and the electrician."
    )


def _lines(sheet: Sheet, plan: Plan, main: Supply | None) -> Iterator[tuple[str, str]]:
    if main is not None:
        yield "machine", supply_words(sheet, main)
    if plan.chain is not None:
        yield "way in", chain_words(sheet, plan.chain)
    if plan.battery_chain is not None:
        yield "battery", chain_words(sheet, plan.battery_chain)
    if plan.starts:
        yield "starts", starts_words(plan.starts)
    if plan.balance is not None and sheet.two_legs:
        yield "legs", legs_words(plan.balance)
    yield "wires", " ".join([breaker_words(plan.wiring), *wiring_lines(plan.wiring)])
    if plan.load_calculation is not None:
        yield "load", loadcalc_words(sheet, plan.load_calculation)
    yield "cost", cost_words(plan.cost)
