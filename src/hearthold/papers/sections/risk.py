"""Risk as blocks: chances of each loss with their intervals, what outages ask for, how much fuel is enough."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import BOLD, Block, Cell, Column, Heading, Points, Words, table
from hearthold.papers.words.phrases import plus_minus, sentence
from hearthold.papers.words.say import duration, figure, whole
from hearthold.study.words import band, cut_words, dry_words, off, span, summary

if TYPE_CHECKING:
    from hearthold.papers.job import Job, Outlook
    from hearthold.study.result import FuelRisk, LossRisk, Risk

_FROM_S = 12 * 3600.0  # what is lost sooner than that is lost in any outage worth the name


def risk_blocks(job: Job, outlook: Outlook) -> Iterator[Block]:
    """The section."""
    found = outlook.risk
    yield Heading("Risk")
    yield Points(summary(found))
    yield Words(" ".join(outlook.habit))
    yield Words(_outages(found), "quiet")
    if not found.losses:
        return
    yield _losses(found)
    yield _by_time(found)
    if found.fuel is not None:
        yield from _fuel(job, found, found.fuel)
    yield Points(tuple(sentence(a) for a in found.assumptions), quiet=True)


def _outages(found: Risk) -> str:
    told = found.outages
    return (
        f"Reckoned with {figure(told.routine_per_year)} routine outages a year and {figure(told.major_per_year)} "
        f"major ones, half of these longer than {duration(told.major_median_s)}. They rest on {told.basis}; "
        f"{sentence(str(told.source))}"
    )


def _losses(found: Risk) -> Block:
    """Chance of each loss in a year and in one major outage."""
    columns = [Column("Loss", share=2.2), Column(f"In {span(found)}, ±", True), Column("May be", True)]
    columns += [Column("In one major outage, ±", True), Column("May be", True)]
    priced = any(x.cost_per_year is not None for x in found.losses)
    columns += [Column(f"{found.currency} a year", True)] if priced else []
    note = (
        "Chance of once or more. ±: 95 % interval of the computation, in points. May be: what the outage record and "
        "the unknown length of rare long outages leave open."
    )
    return table(columns, (_loss(x, priced) for x in found.losses), note)


def _loss(found: LossRisk, priced: bool) -> tuple[Cell, ...]:
    shown = (
        Cell(found.name, BOLD),
        Cell(plus_minus(off(found.year_frac))),
        Cell(band(found.year_band_frac)),
        Cell(plus_minus(off(found.major_frac))),
        Cell(band(found.major_band_frac)),
    )
    cost = found.cost_per_year
    return (*shown, Cell("" if cost is None else whole(cost.value))) if priced else shown


def _by_time(found: Risk) -> Block:
    """What is lost by when, in an outage that lasts."""
    times = [i for i, x in enumerate(found.losses[0].by_time) if x.time_s >= _FROM_S]
    heads = [Column(duration(found.losses[0].by_time[i].time_s), True) for i in times]
    rows = ((x.name, *(_in_hundred(x.by_time[i].lost_frac.value) for i in times)) for x in found.losses)
    note = "Lost by then, of a hundred major outages that last so long. –: not once in those tried."
    return table([Column("If it lasts", share=2.2), *heads], rows, note)


def _in_hundred(chance_frac: float) -> str:
    if chance_frac == 0.0:
        return "–"
    return "<1" if chance_frac < 0.005 else f"{100.0 * min(1.0, chance_frac):.0f}"


def _fuel(job: Job, found: Risk, fuel: FuelRisk) -> Iterator[Block]:
    """Chance of running dry against fuel kept."""
    say = job.say
    columns = [Column("Fuel kept, none fetched", True), Column("Dry in one major outage, ±", True)]
    columns += [Column(f"Dry in {span(found)}, ±", True), Column("May be", True)]
    rows = (
        (
            say.volume(x.fuel_m3),
            plus_minus(dry_words(x.major_frac, x.cut)),
            plus_minus(dry_words(x.year_frac, x.cut)),
            band(x.year_band_frac),
        )
        for x in fuel.kept
    )
    told = f"Chance that the machine runs dry. At home now: {say.volume(fuel.have_m3)}. {cut_words(found)}"
    yield table(columns, rows, told.rstrip())
    enough = "; ".join(
        f"{'at least ' if x.cut else ''}{say.volume(x.m3.value)} "
        f"({say.volume(x.band_m3[0])} to {say.volume(x.band_m3[1])}) for {100.0 * x.share_frac:.0f} of 100"
        for x in fuel.major_m3
    )
    yield Words(f"Enough for a major outage: {enough}. In brackets: what the outage record leaves open.")
