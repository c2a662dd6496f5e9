"""Risk as blocks: chances of each loss with their intervals, what outages cost, how much fuel is enough."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import BOLD, Block, Cell, Column, Heading, Points, Words, table
from hearthold.papers.words.phrases import sentence
from hearthold.papers.words.say import duration, whole

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.study.estimate import Estimate
    from hearthold.study.result import LossRisk, Risk


def risk_blocks(job: Job) -> Iterator[Block]:
    """The section, where a study was made; nothing otherwise."""
    found = job.risk
    if found is None:
        return
    yield Heading("Risk")
    outages = found.outages
    yield Words(
        f"{outages.routine_per_year + outages.major_per_year:.1f} outages a year, "
        f"{outages.major_per_year:.2f} of them major, "
        f"half of these longer than {duration(outages.major_median_s)} ({outages.basis}; {outages.source})."
    )
    columns = [Column("Loss", share=2.4), Column("In a major outage", True), Column("In a year", True)]
    columns += [Column("Outage record leaves open", True), Column(f"Cost a year, {found.currency}", True)]
    note = (
        "Chances in per cent, with the interval of sampling; the next to last column is what the "
        "outage record leaves open."
    )
    yield table(columns, (_loss(loss) for loss in found.losses), note)
    yield from _fuel(job, found)
    yield Points(tuple(sentence(a) for a in found.assumptions))


def _loss(found: LossRisk) -> tuple[Cell, ...]:
    low, high = found.year_band_frac
    cost = "" if found.cost_per_year is None else _money(found.cost_per_year)
    band = f"{100 * low:.0f} to {100 * high:.0f} %"
    return (
        Cell(found.name, BOLD),
        Cell(_chance(found.major_frac)),
        Cell(_chance(found.year_frac)),
        Cell(band),
        Cell(cost),
    )


def _chance(found: Estimate) -> str:
    return f"{100 * found.value:.1f} ({100 * found.low:.1f} to {100 * found.high:.1f}) %"


def _money(found: Estimate) -> str:
    return f"{whole(found.value)} ({whole(found.low)} to {whole(found.high)})"


def _fuel(job: Job, found: Risk) -> Iterator[Block]:
    if found.fuel is None:
        return
    enough = "; ".join(
        f"{job.say.volume(x.m3.value)} ({job.say.volume(x.band_m3[0])} to {job.say.volume(x.band_m3[1])}) "
        f"for {100 * x.share_frac:.0f} of 100"
        for x in found.fuel.major_m3
    )
    yield Words(
        f"Fuel that is enough for a major outage: {enough}. At home: {job.say.volume(found.fuel.have_m3)}. In "
        "brackets: what the outage record leaves open."
    )
