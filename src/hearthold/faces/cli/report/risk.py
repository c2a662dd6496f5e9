"""The page of `risk`: chances with their intervals, what outage records leave open, fuel to keep."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import isfinite
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.parts import Column, heading, pairs, remarks, sentence, table, title
from hearthold.faces.cli.report.say import Say, duration, figure
from hearthold.faces.cli.report.sheet import Sheet
from hearthold.study.losses import Kind
from hearthold.study.words import band, cut_words, dry_words, off, percent, span, summary

if TYPE_CHECKING:
    from hearthold.faces.studies import Risked
    from hearthold.study.estimate import Estimate
    from hearthold.study.result import AmountRisk, Enough, FuelRisk, Kept, LossRisk, Risk

_BAR = 16  # columns of the picture of a band
_WORK = (
    "fuel_m3", "run_s", "starts", "refills", "fuel_trips", "woken", "overload_trips", "air_below_s",
    "medical_unpowered_s", "unmet_water_m3", "unmet_hot_m3",
)  # fmt: skip
_SAME_M3 = 1e-5
_NEXT_TO_NOTHING_FRAC = 0.01  # of the upper end of a range: its lower end is then told as 0
_QUARTERS = ("Dec-Feb", "Mar-May", "Jun-Aug", "Sep-Nov")


def risk_report(found: Risked, say: Say, page: Console, *, every: bool) -> Iterator[RenderableType]:
    """Everything `risk` prints, in order."""
    risk, sheet = found.risk, Sheet(page, say, found.house, every)
    yield title(f"{risk.house}: what {span(risk)} of outages may bring", page)
    yield from (sentence(text) for text in summary(risk))
    yield sentence("")
    yield from (sentence(text) for text in found.habit)
    yield from _outages(sheet, risk)
    yield from _losses(sheet, risk)
    yield from _by_time(sheet, risk)
    if every and risk.month is None:
        yield from _seasons(sheet, risk)
    yield from _work(sheet, risk)
    if risk.fuel is not None:
        yield from _fuel(sheet, risk, risk.fuel)
    yield from _trust(sheet, risk)


def _outages(sheet: Sheet, risk: Risk) -> Iterator[RenderableType]:
    stats = risk.outages
    yield heading("The outages reckoned with", sheet.page)
    routine = f"{figure(stats.routine_per_year)}{_may_be(stats.routine_band_per_year, figure)}"
    major = f"{figure(stats.major_per_year)}{_may_be(stats.major_band_per_year, figure)}"
    half = f"{duration(stats.major_median_s)}{_may_be(stats.major_median_band_s, duration)}"
    yield sentence(
        f"In {span(risk)} {routine} routine outages and {major} major ones; half of the major ones last longer than "
        f"{half}. They rest on {stats.basis}."
    )
    yield table(
        (Column("one longer than"), Column("chance", True), Column("may be", True), _axis()),
        ((duration(t), percent(p), band(b), _bar(p, b)) for t, p, b in stats.longer),
    )


def _losses(sheet: Sheet, risk: Risk) -> Iterator[RenderableType]:
    yield heading(f"What may be lost in {span(risk)}", sheet.page)
    yield table(
        (Column("what"), Column("chance +-", True), Column("may be", True), _axis()),
        ((x.name, off(x.year_frac), band(x.year_band_frac), _bar_of(x)) for x in risk.losses),
    )
    yield sentence(
        "Chance of once or more. +- is the 95 % interval of the computation, in points. May be: what the outage "
        "record and the unknown length of rare long outages leave open; | marks the chance, - what may be."
    )
    if risk.cost_per_year is not None:
        cost = risk.cost_per_year
        low, high = risk.cost_band or (cost.low, cost.high)
        told = f"{sheet.say.money(cost.value)}; may be {low:,.0f} to {high:,.0f}"
        yield sentence(f"Expected cost of what is priced, in {span(risk)}: {told}.")
    kinds = {x.kind for x in risk.losses}
    warned = {Kind.MEDICAL: "medical", Kind.FOOD: "food_doubt", Kind.HOUSE: "cold_house"}
    yield from cautions_of(sheet, *(ident for kind, ident in warned.items() if kind in kinds))


def _bar_of(loss: LossRisk) -> str:
    return _bar(loss.year_frac.value, loss.year_band_frac)


def _by_time(sheet: Sheet, risk: Risk) -> Iterator[RenderableType]:
    """Lost by when, in a major outage that lasts."""
    yield heading("If a major outage lasts", sheet.page)
    times = risk.losses[0].by_time if risk.losses else ()
    chosen = [i for i, x in enumerate(times) if x.time_s >= 12 * 3600.0]
    heads = (Column("lost by then, %"), *(Column(duration(times[i].time_s), True) for i in chosen))
    yield table(heads, ((x.name, *(_cell(x.by_time[i].lost_frac) for i in chosen)) for x in risk.losses))
    wide = max((x.by_time[i].lost_frac.half for x in risk.losses for i in chosen), default=0.0)
    yield sentence(
        f"Of a hundred outages that last so long; by what was tried, within {max(1.0, 100.0 * wide):.0f} or closer. "
        "-: not once."
    )


def _cell(chance: Estimate) -> str:
    if chance.value == 0.0:
        return "-"
    return "<1" if chance.value < 0.005 else f"{min(1.0, chance.value) * 100:.0f}"


def _seasons(sheet: Sheet, risk: Risk) -> Iterator[RenderableType]:
    told = [x for x in risk.losses if x.season_frac]
    yield heading("One major outage, by the season it begins in", sheet.page)
    heads = (Column("chance of loss"), *(Column(name, True) for name in _QUARTERS))
    yield table(heads, ((x.name, *(off(s) for s in x.season_frac)) for x in told))


def _work(sheet: Sheet, risk: Risk) -> Iterator[RenderableType]:
    yield heading("Work, fuel and want", sheet.page)
    heads = ("one major outage +-", f"in {span(risk)} +-", "may be")
    found = [risk.amount(ident) for ident in _WORK]
    yield table(
        (Column("expected"), *(Column(head, True) for head in heads)),
        (_work_row(sheet.say, x) for x in found if x.major.high > 0.0 or x.year.high > 0.0),
    )
    yield sentence("+- is the 95 % interval of the computation, in per cent of the figure.")


def _work_row(say: Say, amount: AmountRisk) -> tuple[str, ...]:
    unit, (low, high) = amount.account.unit, amount.year_band
    low = 0.0 if low < _NEXT_TO_NOTHING_FRAC * high else low
    figures = [f"{_amount(say, x.value, unit)}{_share_off(x)}" for x in (amount.major, amount.year)]
    return (amount.account.means, *figures, f"{_amount(say, low, unit)} to {_amount(say, high, unit)}")


def _share_off(amount: Estimate) -> str:
    """Half the interval as a share of the figure; nothing beside a 0."""
    if amount.value <= 0.0:
        return ""
    share = 100.0 * (amount.high - amount.value) / amount.value
    return f" +-{share:.0f} %" if share >= 0.95 else " +-1 %"


def _amount(say: Say, value: float, unit: str) -> str:
    if unit == "m3":
        return "0" if value < _SAME_M3 else say.volume(value)
    if unit == "s":
        return "0" if value < 1.0 else duration(value)
    return figure(value)


def _fuel(sheet: Sheet, risk: Risk, fuel: FuelRisk) -> Iterator[RenderableType]:
    say = sheet.say
    yield heading("Fuel to keep, if none can be fetched: chance of running dry", sheet.page)
    yield table(
        (
            Column("kept", True),
            Column("major outage +-", True),
            Column(f"{span(risk)} +-", True),
            Column("may be", True),
            _axis(),
        ),
        (_kept_row(say, x, fuel.have_m3) for x in fuel.kept),
    )
    yield sentence(f"* at home now. {cut_words(risk)}".rstrip())
    yield heading("Fuel that is enough, if none can be fetched", sheet.page)
    heads = ("for a major outage", "by what was tried", "may be")
    yield table(
        (Column("in so many"), *(Column(head, True) for head in heads)),
        (_enough_row(say, x) for x in fuel.major_m3),
    )
    yield sentence("By what was tried: the 95 % interval of the computation.")
    yield from cautions_of(sheet, "store_fuel")


def _kept_row(say: Say, kept: Kept, have_m3: float) -> tuple[str, ...]:
    mark = "* " if abs(kept.fuel_m3 - have_m3) < _SAME_M3 else ""
    return (
        f"{mark}{say.volume(kept.fuel_m3)}",
        dry_words(kept.major_frac, kept.cut),
        dry_words(kept.year_frac, kept.cut),
        band(kept.year_band_frac),
        _bar(kept.year_frac.value, kept.year_band_frac),
    )


def _enough_row(say: Say, enough: Enough) -> tuple[str, ...]:
    tried, (low_m3, high_m3) = enough.m3, enough.band_m3
    within = f"to {say.volume(tried.high)}" if isfinite(tried.high) else "upward"
    return (
        f"{enough.share_frac * 100:.0f} %",
        f"{'>' if enough.cut else ''}{say.volume(tried.value)}",
        f"{say.volume(tried.low)} {within}",
        f"{say.volume(low_m3)} to {say.volume(high_m3)}",
    )


def _may_be(edges: tuple[float, float], words: Callable[[float], str]) -> str:
    """A band in brackets; nothing where published figures were taken as they stand."""
    low, high = (words(x) for x in edges)
    return "" if low == high else f" ({low} to {high})"


def _trust(sheet: Sheet, risk: Risk) -> Iterator[RenderableType]:
    yield heading("How sure this is", sheet.page)
    worth = "very many" if risk.worth_count > 1e9 else figure(risk.worth_count)
    yield pairs(
        (
            ("tried", f"{risk.tracks:,} outages in {risk.rounds} rounds, worth {worth} plain random ones"),
            ("stopped", str(risk.stopped.value)),
            *(("source", str(source)) for source in risk.sources),
        )
    )
    yield from remarks(risk.assumptions if sheet.every else risk.assumptions[:4])


def _axis() -> Column:
    """The head of a column of bars; figures are never wrapped."""
    return Column("0" + "100 %".rjust(_BAR - 1), True)


def _bar(value: float, band: tuple[float, float]) -> str:
    """A band on a line from 0 to 100 %, the value marked."""
    places = [min(_BAR - 1, int(x * _BAR)) for x in (value, *band)]
    line = ["-" if places[1] <= i <= places[2] else "." for i in range(_BAR)]
    line[places[0]] = "|"
    return "".join(line)
