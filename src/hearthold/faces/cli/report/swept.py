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
from hearthold.study.sweep import front
from hearthold.study.words import percent

if TYPE_CHECKING:
    from hearthold.faces.service import SweptHouse
    from hearthold.study.sweep import Swept


def swept_report(found: SweptHouse, say: Say, page: Console) -> Iterator[RenderableType]:
    """Everything `sweep` prints, in order."""
    designs = found.designs
    yield title(f"{found.house.name}: {len(designs)} designs tried over the same outages", page)
    yield heading("Worth their money", page)
    columns = (
        Column("machine", True), Column("fuel", True), Column("battery", True), Column("tank", True),
        Column("water", True), Column("run"), Column("to spend", True), Column("any loss", True), Column("+-", True),
    )  # fmt: skip
    yield table(columns, (_row(x, say) for x in front(designs)))
    yield sentence(
        "Each is less likely to lose anything than every cheaper one. Water: pressure tank over today's; tanks are not "
        "priced. Any loss: chance in a usual year; nobody fetches fuel. A sweep ranks; let risk and compare have the "
        "last word on what you choose."
    )
    yield from cautions_of(Sheet(page, say, found.house), "store_fuel", "never_indoors")


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
        percent(x.any_loss_frac.half),
    )
