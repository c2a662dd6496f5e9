"""What the machine gives here on each fuel, and how hard each motor's start is for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.faces.cli.report.say import figure, names, share, whole

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.sizing.supply import MotorStart, Supply


_WORTH_SAYING = 0.005  # a smaller share lost is rounding


def supply_section(sheet: Sheet, supplies: tuple[Supply, ...]) -> Iterator[RenderableType]:
    """Ratings at the site, fuel by fuel."""
    yield heading("What the machine gives here", sheet.page)
    yield sentence(supply_words(sheet, supplies[0]))
    columns = [Column("fuel"), Column("rated W", True), Column("runs W", True), Column("starts W", True)]
    columns += [Column("starts VA", True), Column("hold W", True)]
    columns += [Column("one leg W", True)] if sheet.two_legs else []
    yield table(columns, (_row(sheet, s) for s in supplies))
    yield from sheet.remarks(note for s in supplies for note in s.notes)
    yield from cautions_of(sheet, "never_indoors", "co_distance", "co_symptoms")


def supply_words(sheet: Sheet, found: Supply) -> str:
    """What the machine gives on one fuel, in a sentence."""
    power, lost = sheet.say.power, 1.0 - found.air_frac
    thin = f" ({share(lost)} less than printed, for thinner air)" if lost >= _WORTH_SAYING else ""
    return (
        f"{found.name} on {sheet.fuel(found.fuel)}: {power(found.running_w)} running, {power(found.start_w)} "
        f"starting{thin}. Hold no more than {power(found.held_w)} for hours."
    )


def starts_section(sheet: Sheet, source: Supply, starts: tuple[MotorStart, ...]) -> Iterator[RenderableType]:
    """Every motor's start on top of what runs by itself."""
    yield heading("Motors starting", sheet.page)
    if not starts:
        yield sentence("No motor on the fed circuits starts with a clear surge.")
        return
    yield sentence(starts_words(starts))
    columns = [Column("motor"), Column("starts VA", True), Column("dip", True), Column("at worst", True)]
    columns += [Column("of W", True), Column("of VA", True)]
    yield table(columns, (_start_row(sheet, m) for m in starts))
    yield sentence(
        "Dip: how far the voltage falls for a moment, with a usual and with a soft alternator. Of W, of VA: "
        f"the share of the machine's start rating ({whole(source.start_w)} W, {whole(source.start_va)} VA)"
        " in use then, with everything else on that is on with it, in its hardest turn, what people switch too."
    )


def words(name: str) -> str:
    """A word of the house file as people read it."""
    return str(name).replace("_", " ")


def _row(sheet: Sheet, found: Supply) -> tuple[str, ...]:
    cells = [sheet.fuel(found.fuel), whole(found.rated_w), whole(found.running_w), whole(found.start_w)]
    cells += [whole(found.start_va), whole(found.held_w)]
    return tuple(cells + ([whole(found.leg_limit_w)] if sheet.two_legs else []))


def starts_words(starts: tuple[MotorStart, ...]) -> str:
    """Which motors the machine cannot start, or barely, with the rest running."""
    fails = [m.name for m in starts if m.hard_frac > 1.0]
    tight = [m.name for m in starts if m.hard_frac <= 1.0 < m.use_frac]
    told = []
    if fails:
        told.append(
            f"With all else of its turn running a start may stall: {names(fails, 4)}. Expect a tripped "
            "breaker, or a motor that hums and does not turn."
        )
    if tight:
        told.append(
            f"With all else of its turn running over the printed start rating read as VA: {names(tight, 4)}. "
            "The voltage dips: try it in daylight first."
        )
    if told:
        return " ".join([*told, "Keep big loads off while one starts, or fit a soft starter."])
    hardest = max(starts, key=lambda m: m.use_frac)
    worst = f"{hardest.name}, {share(hardest.use_frac)} of the rating"
    return f"Each can start with the rest running; the hardest is {worst}."


def _start_row(sheet: Sheet, found: MotorStart) -> tuple[str, ...]:
    dips = ["limited" if d is None else share(d) for d in (found.dip_frac, found.dip_high_frac)]
    start = sheet.mark(figure(found.start_va), f"load {found.load}: start_va")
    return (found.name, start, *dips, share(found.watts_frac), share(found.va_frac))
