"""Hookups compared as blocks: what to do, what each costs and risks, as a table and a picture, what would change it."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from typing import TYPE_CHECKING

from hearthold.papers.blocks import BOLD, Block, Cell, Column, Heading, Points, Warn, Words, drawn, table
from hearthold.papers.compared import comparison_figure
from hearthold.papers.words import ways
from hearthold.papers.words.phrases import plus_minus, sentence
from hearthold.papers.words.say import share, whole
from hearthold.study.words import LETTERS, band, off

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.study.comparison import Candidate, Comparison

_WIDTH_PT = 420.0
_SWINGS = 5


def comparison_blocks(job: Job, found: Comparison) -> Iterator[Block]:
    """The section."""
    yield Heading("Ways to get power into the house")
    yield Points(tuple(text for text in found.sentences if text))
    if not found.candidates:
        return
    yield _money(found)
    yield _risk(found)
    yield drawn(comparison_figure(found, _WIDTH_PT), floats=True)
    yield from _designs(job, found)
    if found.swings:
        yield from _order(found)
    yield Warn(job.caution("electrician"))
    yield Points(tuple(sentence(a) for a in found.assumptions), quiet=True)


def _lettered(found: Comparison) -> Iterator[tuple[str, Candidate]]:
    return zip(LETTERS, found.candidates, strict=False)


def _name(found: Comparison, letter: str, way: Candidate) -> Cell:
    return Cell(f"{letter}  {way.name}", BOLD if way.way == found.recommended else "")


def _money(found: Comparison) -> Block:
    years = f"{found.terms.years:g} years"
    columns = [
        Column("Way", share=2.6),
        Column("New", True),
        Column("To spend", True),
        Column("A year", True),
    ]
    columns += [Column(years, True), Column(f"{years} may be", True), Column("Hours a year", True)]
    priced = "priced as you said" if found.labour_priced else "not priced"
    note = (
        f"{found.currency}. New: every part at today's prices. To spend: what is not in place yet. A year: upkeep, "
        f"fuel, tests and losses of a usual year. {years}: all of it with parts replaced, in today's money; may be: "
        f"in nine of ten of all prices, rates and outages tried. Hours: work for people, {priced}. Bold: recommended."
    )
    rows = (
        (
            _name(found, letter, c),
            ways.spread(c.first.low, c.first.high),
            ways.spread(c.to_spend.low, c.to_spend.high),
            whole(c.per_year),
            whole(c.lifetime.value),
            ways.spread(*c.lifetime_range) if isfinite(c.lifetime_range[0]) else "",
            f"{c.hands_h_per_year.value:.1f}",
        )
        for letter, c in _lettered(found)
    )
    return table(columns, rows, note)


def _risk(found: Comparison) -> Block:
    """Any loss, and medical power where health rides on it, with each way and with none."""
    medical = any(c.medical is not None for c in found.candidates)
    columns = [Column("Way", share=2.6), Column("Any loss, ±", True), Column("May be", True)]
    columns += [Column("Medical power lost, ±", True), Column("May be", True)] if medical else []
    columns += [Column("Nights woken", True)]
    rows: list[tuple[str | Cell, ...]] = [("none at all", *_chances(found.nothing, medical))]
    rows += [(_name(found, letter, c), *_chances(c, medical)) for letter, c in _lettered(found)]
    note = (
        f"In a year, by {found.outages_tried:,} outages tried, the same for all. ±: 95 % interval of the computation, "
        "in points. May be: what the outage record and the unknown length of rare long outages leave open."
    )
    return table(columns, rows, note)


def _chances(c: Candidate, medical: bool) -> tuple[str, ...]:
    told = [c.loss("anything"), *([c.medical] if medical else [])]
    pairs = [("–", "") if x is None else (plus_minus(off(x.year_frac)), band(x.year_band_frac)) for x in told]
    return (*(text for pair in pairs for text in pair), f"{c.nights_per_year.value:.1f}")


def _designs(job: Job, found: Comparison) -> Iterator[Block]:
    """What each is made of, and what was refused."""
    yield Heading("How each is designed", 2)
    for letter, c in _lettered(found):
        said = (ways.design(c, job.say, job.fuel, circuits=False), ways.to_buy(c, found.currency))
        told = " ".join(job.told(text) for text in said if text)
        yield Words(" ".join((f"{letter}  {c.name}: {told}", *dict.fromkeys(c.routines))))
    for name, reason in found.not_possible:
        yield Words(f"Not designed: {name}: {job.told(reason)}.", "quiet")


def _order(found: Comparison) -> Iterator[Block]:
    """What would make another way the cheapest."""
    yield Heading("What would change the order", 2)
    columns = [
        Column("Alone from low to high", share=3.0),
        Column("Lead at low", True),
        Column("At high", True),
    ]
    rows = ((s.words, whole(s.lead_at_low), whole(s.lead_at_high)) for s in found.swings[:_SWINGS])
    note = f"Lead: {found.currency} by which the recommended way is cheaper than the next; below 0 another way is."
    yield table(columns, rows, note)
    kept = ", ".join(
        f"{letter} {share(c.cheapest_frac)}" for letter, c in _lettered(found) if c.cheapest_frac
    )
    yield Words(f"Cheapest of those that serve, over everything tried: {kept}.")
