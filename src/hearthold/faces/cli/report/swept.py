"""The page of `sweep`: the designs worth their money, and where the full table is."""

from __future__ import annotations

from collections.abc import Iterator
from math import isinf
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.parts import Column, heading, sentence, table, title
from hearthold.faces.cli.report.say import Say, whole
from hearthold.faces.cli.report.sheet import Sheet
from hearthold.study.swept import front
from hearthold.study.words import band, percent

if TYPE_CHECKING:
    from hearthold.faces.studies import SweptHouse
    from hearthold.study.swept import Swept


def swept_report(found: SweptHouse, say: Say, page: Console) -> Iterator[RenderableType]:
    """Everything `sweep` prints, in order."""
    designs = found.designs
    yield title(f"{found.house.name}: {len(designs)} designs tried over the same outages", page)
    yield heading("Worth their money", page)
    best = front(designs)
    columns, rows, same = _varying([_row(x, say) for x in best])
    yield table(columns, rows)
    if same:
        yield sentence(f"All of these: {same}.")
    yield sentence(
        "Each is less likely to lose anything than every cheaper one. Water: pressure tank over today's; tanks are not "
        "priced. To spend: typical prices, to be replaced by quotes. Any loss: chance in a usual year. Tried: its 95 % "
        "interval by the few outages that were tried. May be: what your outage record leaves open. Nobody fetches "
        "fuel. A sweep ranks; let risk and compare have the last word on what you choose."
    )
    yield from cautions_of(Sheet(page, say, found.house), "store_fuel", "never_indoors")


_HEADS = ("machine", "fuel", "battery", "tank", "water", "run", "to spend", "any loss", "tried", "may be")
_ALWAYS = ("fuel", "to spend", "any loss", "tried", "may be")


def _varying(rows: list[tuple[str, ...]]) -> tuple[tuple[Column, ...], list[tuple[str, ...]], str]:
    """Columns in which the rows differ, the rows cut to them, and in words what is the same in all."""
    differ = [head in _ALWAYS or len({row[i] for row in rows}) > 1 for i, head in enumerate(_HEADS)]
    columns = tuple(Column(h, h != "run") for h, shown in zip(_HEADS, differ, strict=True) if shown)
    cut = [tuple(cell for cell, shown in zip(row, differ, strict=True) if shown) for row in rows]
    same = [f"{h} {rows[0][i]}" for i, (h, shown) in enumerate(zip(_HEADS, differ, strict=True)) if not shown]
    return columns, cut, ", ".join(same)


def _row(x: Swept, say: Say) -> tuple[str, ...]:
    return (
        say.power(x.machine_w),
        "no end" if isinf(x.fuel_m3) else say.volume(x.fuel_m3),
        say.energy(x.battery_j) if x.battery_j else "none",
        "no end" if isinf(x.fuel_tank_m3) else say.volume(x.fuel_tank_m3),
        f"{x.water_tank_ratio:g} x",
        x.running.replace("_", " "),
        whole(x.to_spend),
        percent(x.any_loss_frac.value),
        band((x.any_loss_frac.low, x.any_loss_frac.high)),
        band(x.any_loss_band_frac),
    )
