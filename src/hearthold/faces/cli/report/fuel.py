"""Fuel: what the machine burns, what tank and stock give, how long it keeps, what cold does."""

from __future__ import annotations

from collections.abc import Iterator
from math import isinf
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.faces.cli.report.say import duration, share, whole
from hearthold.faces.cli.report.supply import words
from hearthold.papers.words.heater import in_the_cold, with_heater

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.plan.result import FuelPlan, Plan
    from hearthold.sizing.fuel import StockItem, TankRun
    from hearthold.sizing.gas import GasPipe, Vapour


def fuel_section(sheet: Sheet, plan: Plan, found: FuelPlan) -> Iterator[RenderableType]:
    """The rate by load, the stock, and propane in the cold."""
    fuel = found.burn.fuel
    yield heading("Fuel", sheet.page)
    yield sentence(_days(sheet, plan, found))
    if found.tank_runs:
        columns = [Column("load", True), Column("W", True), Column(f"{sheet.say.volume_unit} an hour", True)]
        yield table(
            [*columns, Column("one filling lasts", True)], (_run(sheet, run) for run in found.tank_runs)
        )
        yield sentence(_thirst(found.tank_runs))
    if found.stock:
        columns = [Column("at home"), Column("amount", True), Column("kept in"), Column("good until")]
        yield table(columns, (_lot(sheet, lot) for lot in found.stock))
    if found.vapour is not None:
        yield sentence(_cold(sheet, found.vapour))
    if found.gas_pipe is not None:
        yield sentence(_pipe(sheet, found.gas_pipe))
    yield from sheet.remarks([*found.burn.notes, *(lot.note for lot in found.stock)])
    is_gas = fuel in ("propane", "natural_gas")
    kept = ("propane_upright", "gas_leak") if is_gas else ("store_fuel",)
    yield from cautions_of(sheet, "cool_before_refuel", *kept)


def _days(sheet: Sheet, plan: Plan, found: FuelPlan) -> str:
    """How far the stock reaches under the routine."""
    if found.day_need_m3 is None or found.stock_days is None:
        return "Without a routine of running the days of stock cannot be told."
    lots = ((found.burn.fuel, found.stock_days), *found.other_fuels_days)
    parts = []
    for kind, days in lots:
        but = [w for w in (with_heater(plan, kind, days), in_the_cold(plan, kind)) if w and days > 0.0]
        parts.append(
            f"{sheet.fuel(kind)}: {_reach(days)}" + (f" ({', '.join(but)}; see Findings)" if but else "")
        )
    return (
        f"{sheet.say.volume(found.day_need_m3)} a day under the routine. The stock lasts: {'; '.join(parts)}."
    )


def _reach(days: float) -> str:
    if days <= 0.0:
        return "none at home"
    return "without end" if isinf(days) else duration(days * 86400.0)


def _pipe(sheet: Sheet, found: GasPipe) -> str:
    text = (
        f"Gas pipe {found.size}, {sheet.say.length(found.run_m)}: carries {sheet.say.power(found.carries_w)}"
        f" of gas; the machine asks {sheet.say.power(found.asked_w)} at full load."
    )
    return f"{text} Too small; {found.next_size} would do." if found.next_size else text


def _run(sheet: Sheet, run: TankRun) -> tuple[str, ...]:
    per_hour = sheet.say.fuel_rate(run.burn_m3_per_s).split(" ")[0]
    return (share(run.load_frac), whole(run.output_w), per_hour, duration(run.run_s))


def _thirst(runs: tuple[TankRun, ...]) -> str:
    least, most = runs[0], runs[-1]
    burned = share(least.burn_m3_per_s / most.burn_m3_per_s)
    return (
        f"At {share(least.load_frac)} of its load it still burns {burned} of what full load takes: run"
        " it few hours, well loaded."
    )


def _lot(sheet: Sheet, lot: StockItem) -> tuple[str, ...]:
    until = lot.keeps_until.isoformat() if lot.keeps_until else "not known"
    stale = " (too old now)" if lot.stale else ""
    return (sheet.fuel(lot.fuel), sheet.say.volume(lot.amount_m3), words(lot.place), until + stale)


def _cold(sheet: Sheet, found: Vapour) -> str:
    """What the cold leaves of the propane: steadily, and for one spell."""
    say = sheet.say
    held = "the tank" if found.held_in == "tank" else _cylinders(found.joined)
    able = (
        f"can feed {say.power(found.output_limit_w)} on end"
        if found.output_limit_w
        else "cannot feed it on end"
    )
    text = f"At {say.temperature(found.outdoor_c)}, {held}, half empty, {able}."
    if found.spell_s is not None and found.ends:
        text += f" A run at half load from full lasts {duration(found.spell_s)}, until {_END[found.ends]}."
    if found.cylinders_for_half is not None and found.cylinders_for_half > found.joined:
        text += f" Half load on end would take {found.cylinders_for_half} joined."
    return text


_END = {"empty": "they are empty", "cold": "the liquid is too cold to boil"}


def _cylinders(count: int) -> str:
    return "one cylinder" if count == 1 else f"{count} joined cylinders"
