"""Motor starts as blocks: on the set, by one rule of what may stall, and on a battery's inverter, which cuts off."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import ALARM, ASSUMED, BOLD, Block, Cell, Column, Heading, Words, table
from hearthold.papers.words.say import figure, names, share, whole
from hearthold.reference.generator import dip_limit_frac
from hearthold.sizing.inverter import inverter

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.sizing.inverter import InverterStart
    from hearthold.sizing.supply import MotorStart, Supply


def starts_blocks(job: Job) -> Iterator[Block]:
    """Every motor's start on this machine."""
    if job.source is None:
        return
    yield Heading("Starting analysis")
    if not job.plan.starts:
        yield Words("No motor on the fed circuits starts with a clear surge.")
        return
    yield Words(_starts_words(job, job.source))
    columns = [
        Column("Motor", share=3.0),
        Column("Starts VA", True),
        Column("Starts W", True),
        Column("Dip, usual", True),
    ]
    columns += [Column("Dip, at worst", True), Column("Of start W", True), Column("Of dip VA", True)]
    columns.append(Column("Of start VA", True))
    note = (
        "Dip: fall of voltage for a moment, by transient reactance (typical and high, from memory). "
        "~ assumed."
    )
    small = [m for m in job.plan.starts if _is_small(m)]
    note += (
        f" Left out, each below {whole(_SMALL_VA)} VA: {names([m.name for m in small], 60)}." if small else ""
    )
    yield table(columns, (_start(job, m) for m in job.plan.starts if not _is_small(m)), note)
    yield from _inverter_blocks(job)


_SMALL_VA = 250.0  # starts that no set notices


def _inverter_blocks(job: Job) -> Iterator[Block]:
    """The same motors on the battery's inverter, which cuts off where a set would dip."""
    source = inverter(job.house)
    if source is None or not job.plan.inverter_starts:
        return
    leg = f", {whole(source.leg_start_va)} VA on one leg (half of it, from memory)" if job.nec else ""
    given = "" if source.surge_given else ", assumed"
    yield Words(
        f"On the battery's inverter: {whole(source.running_w)} W, and {whole(source.start_va)} VA{given} for a "
        f"start{leg}. Above 100 % it cuts off, and everything behind it goes dark."
    )
    columns = [Column("Motor", share=3.0), Column("Starts VA", True), Column("Alone", True)]
    rows = (_inverter_start(x) for x in job.plan.inverter_starts)
    yield table([*columns, Column("With all that runs by itself", True)], rows)


def _inverter_start(found: InverterStart) -> Iterator[Cell]:
    yield Cell(found.name)
    yield Cell(figure(found.start_va))
    for frac in (found.alone_frac, found.beside_frac):
        yield Cell(share(frac), ALARM if frac > 1.0 else "")


def _is_small(found: MotorStart) -> bool:
    return found.start_va < _SMALL_VA


def _start(job: Job, found: MotorStart) -> Iterator[Cell]:
    mark = ASSUMED if f"load {found.load}: start_va" in job.assumed else ""
    yield Cell(found.name)
    yield Cell(figure(found.start_va), mark)
    yield Cell(figure(found.start_w), mark)
    for dip in (found.dip_frac, found.dip_high_frac):
        yield Cell("limited" if dip is None else share(dip))
    for frac in (found.watts_frac, found.dip_use_frac):
        yield Cell(share(frac), ALARM if frac > 1.0 else "")
    yield Cell(share(found.va_frac), BOLD if found.va_frac > 1.0 else "")


def _starts_words(job: Job, source: Supply) -> str:
    """What the set gives for a start, what runs beside each, and which shares mean what."""
    gives = f"On {source.name}, {job.fuel_word}: {whole(source.start_w)} W and {whole(source.start_va)} VA starting"
    if source.limits_current:
        return f"{gives}. {_basis(job)} Above 100 % a start may stall: the set cuts off."
    limit = share(dip_limit_frac("motor_start"))
    return (
        f"{gives}; {whole(source.dip_va)} VA pull the voltage down by {limit} at most (dip VA). {_basis(job)} A start "
        "may stall above 100 % of start W or of dip VA. Above 100 % of start VA alone it is beyond the printed rating "
        "read as VA and comes up slowly: try it in daylight first."
    )


def _basis(job: Job) -> str:
    """What runs beside each start, in one sentence."""
    if job.house.takes_over:
        return "Each on top of everything else on, what people switch too: an automatic switch leaves nothing off."
    if job.plan.choice is not None and len(job.plan.choice.turns) > 1:
        return "Each on top of everything else on in its hardest turn, what people switch too; in no turn, alone."
    return "Each on top of everything else that is on with it, what people switch too."
