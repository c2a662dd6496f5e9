"""The page of `compare`: what to do first, then the ways side by side, then what would change the order."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from math import isfinite, isinf
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType
from rich.text import Text

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.parts import Column, heading, points, remarks, sentence, table, title
from hearthold.faces.cli.report.say import Say, figure, share, whole
from hearthold.faces.cli.report.sheet import Sheet
from hearthold.papers.words import ways
from hearthold.study.losses import Kind
from hearthold.study.words import LETTERS, chance, percent

if TYPE_CHECKING:
    from hearthold.faces.studies import Compared
    from hearthold.study.comparison import BreakEven, Candidate, Comparison
    from hearthold.study.sensitivity import Swing

_HIGH, _WIDE = 10, 52  # rows and columns of the picture
_SWINGS = 6
_TO = "-"  # within a range: columns of a terminal are narrow
_range = partial(ways.spread, to=_TO)


def compared_report(found: Compared, say: Say, page: Console, *, every: bool) -> Iterator[RenderableType]:
    """Everything `compare` prints, in order."""
    sheet, result = Sheet(page, say, found.house, every), found.comparison
    yield title(f"{result.house}: ways to get power into the house", page)
    yield points(text for text in result.sentences if text)
    yield from _money(sheet, result)
    yield from _risk(sheet, result)
    yield from _picture(sheet, result)
    yield from _designs(sheet, result)
    yield from _even(sheet, result)
    yield from _order(sheet, result)
    yield from cautions_of(sheet, "never_indoors", "no_backfeed", "electrician", "cords")
    yield from remarks(result.assumptions if every else result.assumptions[:3])
    yield sentence(f"\n{_LAST}")


_LAST = (
    "This page advises. Prices are ranges to be replaced by quotes; what may be built, and how, is for local code, "
    "your permit office and a licensed electrician to say."
)


def _money(sheet: Sheet, result: Comparison) -> Iterator[RenderableType]:
    years, unit = result.terms.years, result.currency
    yield heading(f"What each costs ({unit})", sheet.page)
    columns = (
        Column(""), Column("way"), Column("new", True), Column("to spend", True), Column("a year", True),
        Column(f"{years:g} years", True), Column("hours/yr", True),
    )  # fmt: skip
    yield table(columns, (_money_row(i, c, result) for i, c in enumerate(result.candidates)))
    yield sentence(
        f"New: every part at today's prices. To spend: what is not in place yet. A year: upkeep, fuel, tests, losses "
        f"of a usual year. {years:g} years: all of it with parts replaced, in today's money. Hours: work for people, "
        + ("priced as you said." if result.labour_priced else "not priced."),
    )
    ranges = ", ".join(
        f"{LETTERS[i]} {_range(*c.lifetime_range)}"
        for i, c in enumerate(result.candidates)
        if isfinite(c.lifetime_range[0])
    )
    if ranges:
        yield sentence(
            f"{years:g} years may be, in nine of ten of all prices, rates and outages tried: {ranges}."
        )


def _money_row(number: int, c: Candidate, result: Comparison) -> tuple[str | Text, ...]:
    marked = f"{c.name} <" if c.way == result.recommended else c.name
    return (
        LETTERS[number], marked, _range(c.first.low, c.first.high), _range(c.to_spend.low, c.to_spend.high),
        whole(c.per_year), whole(c.lifetime.value), f"{c.hands_h_per_year.value:.1f}",
    )  # fmt: skip


def _risk(sheet: Sheet, result: Comparison) -> Iterator[RenderableType]:
    """Chance of each loss in a year, without anything and with each way."""
    yield heading("Chance of a loss in a year", sheet.page)
    shown = (result.nothing, *result.candidates)
    asked = [x for x in result.nothing.losses if x.id not in ("fuel", "hot_water")]
    columns = [Column("")] + [Column("none" if i == 0 else LETTERS[i - 1], True) for i in range(len(shown))]
    rows: list[tuple[str, ...]] = []
    for loss in asked:
        rows.append((_loss_name(sheet, loss.id), *(_chance(c, loss.id) for c in shown)))
        if loss.kind in (Kind.ANY, Kind.MEDICAL):
            rows.append(("  may be", *(_band(c, loss.id) for c in shown)))
    yield table(columns, rows)
    asked_ids = {x.id for x in asked}
    told = [x.year_frac for c in shown for x in c.losses if x.id in asked_ids]
    wide = max((max(x.high - x.value, x.value - x.low) for x in told), default=0.0)
    yield sentence(
        f"By the outages tried, within {max(0.1, 100.0 * wide):.1f} points or closer (95 %). May be: what your outage "
        "record and the unknown length of rare long outages leave open."
    )
    food = ", ".join(f"{LETTERS[i]} {whole(c.food_per_year.value)}" for i, c in enumerate(result.candidates))
    yield sentence(
        f"Food lost in a usual year, {result.currency}: none {whole(result.nothing.food_per_year.value)}, {food}."
    )
    if not result.comfort_priced:
        yield sentence("Cold, thirst and broken nights are counted and not priced; --worth prices them.")


def _loss_name(sheet: Sheet, ident: str) -> str:
    house = sheet.house
    named = {x.id: x.name for x in house.cold} | {x.id: f"{x.name} over" for x in house.pits}
    words = {
        "anything": "any loss at all",
        "house": "house too cold",
        "pipes": "pipes at risk",
        "water": "no water",
    }
    return words.get(ident) or named.get(ident) or sheet.load(ident).replace("_", " ")


def _chance(c: Candidate, ident: str) -> str:
    found = c.loss(ident)
    return "-" if found is None else _short(chance(found.year_frac))


def _band(c: Candidate, ident: str) -> str:
    found = c.loss(ident)
    if found is None:
        return "-"
    low, high = (100.0 * x for x in found.year_band_frac)
    return f"{low:.0f}-{high:.0f} %" if high >= 0.5 else "<1 %"


def _short(words: str) -> str:
    return words.replace("under ", "<").replace("over ", ">")


def _picture(sheet: Sheet, result: Comparison) -> Iterator[RenderableType]:
    """Cost against risk; letters in brackets lie on the front."""
    yield heading("Cost against risk", sheet.page)
    dear = max(c.owning for c in result.candidates)
    risky = max(max(c.any_loss_frac.value for c in result.candidates), 1e-9)
    grid = [[" "] * _WIDE for _ in range(_HIGH)]
    # Cheapest first, those on the front before all: what makes way for another stands to its right.
    ranked = sorted(enumerate(result.candidates), key=lambda x: (not x[1].on_front, x[1].owning))
    for i, c in ranked:
        row = _HIGH - 1 - round(c.any_loss_frac.value / risky * (_HIGH - 1))
        _put(
            grid[row],
            round(c.owning / dear * (_WIDE - 6)),
            f"({LETTERS[i]})" if c.on_front else f" {LETTERS[i]} ",
        )
    lines = [f"{percent(risky) if i == 0 else '':>7} |{''.join(row).rstrip()}" for i, row in enumerate(grid)]
    axis = f"{'0 %':>7} +{'-' * _WIDE}"
    ends = f"{'':9}0{f'{whole(dear)} {result.currency}':>{_WIDE - 1}}"
    yield Text("\n".join([*lines, axis, ends]))
    yield sentence(
        f"Up: chance of any loss in a year. Right: cost to have and run over {result.terms.years:g} years, without "
        "losses. In brackets: no other is both cheaper and less risky."
    )


def _put(row: list[str], at: int, text: str) -> None:
    """Write beside what stands there already."""
    while at + len(text) < len(row) and "".join(row[at : at + len(text)]).strip():
        at += 1
    row[at : at + len(text)] = text


def _designs(sheet: Sheet, result: Comparison) -> Iterator[RenderableType]:
    yield heading("How each is designed", sheet.page)
    for i, c in enumerate(result.candidates):
        yield sentence(Text(f"{LETTERS[i]}  {c.name}", style="bold"))
        told = (ways.design(c, sheet.say, sheet.fuel), ways.to_buy(c, result.currency, _TO))
        for text in (*told, *dict.fromkeys(c.routines)):
            if text:
                yield sentence(text, 3)
    for name, reason in result.not_possible:
        yield sentence(f"Not designed: {name}: {reason}.")


def _even(sheet: Sheet, result: Comparison) -> Iterator[RenderableType]:
    """Break-even of every other way against the recommended one."""
    rows = [
        _even_row(result, b)
        for b in result.break_even
        if result.recommended in (b.cheaper_first, b.dearer_first)
    ]
    if not rows:
        return
    yield heading("When it comes out even with the recommended way", sheet.page)
    yield table(
        (Column("way"), Column("paid back", True), Column("outages", True), Column("own hour", True)), rows
    )
    yield sentence(
        "Paid back: years until what the dearer one saves has paid for it. Outages: if there were so many times as "
        f"many. Own hour: if an hour of your work were worth so many {result.currency}. Never: not within reason."
    )


def _even_row(result: Comparison, b: BreakEven) -> tuple[str, ...]:
    other = b.dearer_first if b.cheaper_first == result.recommended else b.cheaper_first
    years = "never" if isinf(b.years) else f"{b.years:.0f} years"
    factor = "never" if b.outages_factor is None else f"{figure(b.outages_factor)} x"
    return result.candidate(other).name, years, factor, "never" if b.own_hour is None else whole(b.own_hour)


def _order(sheet: Sheet, result: Comparison) -> Iterator[RenderableType]:
    yield heading("What would change the order", sheet.page)
    shares = {x.name: share(max(0.0, x.total)) for x in result.shares}
    columns = (
        Column("alone from low to high"),
        Column("lead at low", True),
        Column("at high", True),
        Column("share", True),
    )
    rows = [_swing_row(result, s, shares) for s in result.swings[: None if sheet.every else _SWINGS]]
    yield table(columns, rows)
    yield sentence(
        f"Lead: {result.currency} by which the recommended way is cheaper than the next; below 0 another is. Share: "
        "of all doubt about the lead, by moving every input at once"
        + ("." if shares else " (needs pip install 'hearthold[study]').")
    )
    kept = ", ".join(
        f"{LETTERS[i]} {share(c.cheapest_frac)}" for i, c in enumerate(result.candidates) if c.cheapest_frac
    )
    yield sentence(f"Cheapest of those that serve, over everything tried: {kept}.")


def _swing_row(result: Comparison, s: Swing, shares: dict[str, str]) -> tuple[str, ...]:
    flipped = {w for w in (s.best_at_low, s.best_at_high) if w != result.recommended}
    tail = f" (then {', '.join(result.candidate(w).name for w in sorted(flipped))})" if flipped else ""
    return f"{s.words}{tail}", whole(s.lead_at_low), whole(s.lead_at_high), shares.get(s.name, "-")
