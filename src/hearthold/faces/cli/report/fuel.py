"""Fuel: what the machine burns, what tank and stock give, how long it keeps, what cold does."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.parts import Column, heading, remarks, sentence, table
from hearthold.faces.cli.report.say import duration, figure, share, whole
from hearthold.faces.cli.report.supply import words

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.sizing.burn import Burn
    from hearthold.sizing.fuel import StockItem, TankRun
    from hearthold.sizing.gas import Vapour


def fuel_section(
    sheet: Sheet, line: Burn, runs: tuple[TankRun, ...], lots: tuple[StockItem, ...], cold: Vapour | None
) -> Iterator[RenderableType]:
    """One fuel: its rate by load, the stock, and propane in the cold."""
    yield heading(f"Fuel: {words(line.fuel)}", sheet.page)
    if runs:
        columns = [Column("load", True), Column("W", True), Column(f"{sheet.say.volume_unit} an hour", True)]
        yield table([*columns, Column("one filling lasts", True)], (_run(sheet, run) for run in runs))
        yield sentence(
            "A machine at a quarter of its load burns far more than a quarter: run few hours, well loaded."
        )
    if lots:
        columns = [Column("at home"), Column("amount", True), Column("kept in"), Column("good until")]
        yield table(columns, (_lot(sheet, lot) for lot in lots))
    if cold is not None:
        yield sentence(_cold(sheet, cold))
    yield from remarks([*line.notes, *(lot.note for lot in lots)])
    gas = line.fuel in ("propane", "natural_gas")
    yield from cautions_of(
        sheet, "cool_before_refuel", *(("propane_upright", "gas_leak") if gas else ("store_fuel",))
    )


def _run(sheet: Sheet, run: TankRun) -> tuple[str, ...]:
    per_hour = sheet.say.fuel_rate(run.burn_m3_per_s).split(" ")[0]
    return (share(run.load_frac), whole(run.output_w), per_hour, duration(run.run_s))


def _lot(sheet: Sheet, lot: StockItem) -> tuple[str, ...]:
    until = lot.keeps_until.isoformat() if lot.keeps_until else "not known"
    stale = " (too old now)" if lot.stale else ""
    return (words(lot.fuel), sheet.say.volume(lot.amount_m3), words(lot.place), until + stale)


def _cold(sheet: Sheet, found: Vapour) -> str:
    say = sheet.say
    cylinders = "one cylinder" if found.joined == 1 else f"{found.joined} joined cylinders"
    text = (
        f"At {say.temperature(found.outdoor_c)}, {cylinders} of {say.mass(found.each_kg)} give, half empty, "
        f" gas for {say.power(found.output_limit_w)} of electrical load."
    )
    if found.cylinders_for_rated is None:
        return f"{text} In this cold propane does not boil well enough for the machine at all."
    if found.cylinders_for_rated > found.joined:
        return f"{text} Full load would take {figure(found.cylinders_for_rated)} joined."
    return text
