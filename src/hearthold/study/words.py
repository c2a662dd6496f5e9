"""The answer in a few sentences: what is likely, what it costs, how sure we are."""

from __future__ import annotations

from math import ceil

from hearthold.study.estimate import Estimate
from hearthold.study.losses import HARM, Kind
from hearthold.study.outages import Basis
from hearthold.study.result import LossRisk, Risk, Stopped

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
    "November", "December",
)  # fmt: skip
LETTERS = "ABCDEFGHIJ"  # of designs compared, on a page and in its picture
_WORTH_SAYING_FRAC = 0.001
_MOST_NAMED = 3


def summary(risk: Risk) -> tuple[str, ...]:
    """Sentences for a person: medical power, any loss, the likeliest ones, money, and what is left open."""
    said = [*_medical(risk), _overall(risk), *_likeliest(risk), *_money(risk), _doubt(risk)]
    if risk.stopped is Stopped.INTERRUPTED:
        said.append(f"Stopped early, after {risk.tracks} outages: the intervals are wider than usual.")
    return tuple(said)


def span(risk: Risk) -> str:
    """The time that chances are counted over."""
    return "a year" if risk.month is None else f"one {_MONTHS[risk.month - 1]}"


def percent(fraction: float) -> str:
    """A chance in words that never calls the unlikely impossible, nor the likely certain."""
    if fraction in (0.0, 1.0):
        return f"{fraction * 100.0:.0f} %"
    if 0.0 < fraction < _WORTH_SAYING_FRAC:
        return "under 0.1 %"
    if 1.0 - _WORTH_SAYING_FRAC < fraction < 1.0:
        return "over 99.9 %"
    return f"{fraction * 100.0:.1f} %" if fraction < 0.1 or fraction > 0.9 else f"{fraction * 100.0:.0f} %"


def band(edges: tuple[float, float]) -> str:
    """What a chance may be: "10 to 54 %"."""
    low, high = (percent(x).replace("under ", "<").replace("over ", ">") for x in edges)
    return high if low == high else f"{low.removesuffix(' %')} to {high}"


def chance(found: Estimate) -> str:
    """A chance in words; of what the outages tried hardly ever showed, the highest that it may still be."""
    if found.value < _WORTH_SAYING_FRAC and found.high > 0.0:
        return f"under {max(0.1, ceil(found.high * 1000.0) / 10.0):.1f} %"
    return percent(found.value)


def off(found: Estimate) -> str:
    """A chance in words with half its interval in points, never less than the last digit shown."""
    told = chance(found)
    return told if told.startswith("under") else f"{told} +-{max(0.1, 100.0 * found.half):.1f}"


def dry_words(found: Estimate, cut: bool) -> str:
    """A chance of running dry, as `off`; at least so much, where outages not followed to their end may add to it."""
    told = off(found)
    if not cut:
        return told
    return "not known" if told.startswith("under") else f">{told}"


def cut_words(risk: Risk) -> str:
    """Why some figures of the fuel are the least that they can be; empty where none is."""
    fuel = risk.fuel
    if fuel is None or not any([*(x.cut for x in fuel.kept), *(x.cut for x in fuel.major_m3)]):
        return ""
    days, share = risk.longest_s[1] / 86400.0, percent(risk.beyond_frac[1])
    return (
        f"> at least: outages are followed for {days:.0f} days, {share} of the major ones go on, and "
        "what those would still burn is not in it."
    )


def _medical(risk: Risk) -> list[str]:
    return [
        f"Medical power, {x.name}: lost in {span(risk)} with a chance of {chance(x.year_frac)} "
        f"({band(x.year_band_frac)}). Plan for it first."
        for x in risk.losses
        if x.kind is Kind.MEDICAL
    ]


def _overall(risk: Risk) -> str:
    anything = next((x for x in risk.losses if x.kind is Kind.ANY), None)
    if anything is None:
        return "The house file names nothing that an outage could harm."
    in_year, in_major = anything.year_frac, anything.major_frac
    return (
        f"In {span(risk)}, outages cost you food, warmth, water or medical power with a chance of "
        f"{chance(in_year)} ({band(anything.year_band_frac)}); one major outage does so with "
        f"{chance(in_major)} ({band(anything.major_band_frac)})."
    )


def _likeliest(risk: Risk) -> list[str]:
    found = [x for x in risk.losses if x.kind in HARM and x.year_frac.value >= _WORTH_SAYING_FRAC]
    found.sort(key=lambda x: -x.year_frac.value)
    if not found:
        return []
    named = "; ".join(
        f"{_lower(x)} {percent(x.year_frac.value)} ({band(x.year_band_frac)})" for x in found[:_MOST_NAMED]
    )
    return [f"Likeliest in {span(risk)}: {named}."]


def _lower(loss: LossRisk) -> str:
    return loss.name if loss.kind in (Kind.MEDICAL, Kind.FOOD, Kind.PIT) else loss.name.lower()


def _money(risk: Risk) -> list[str]:
    if risk.cost_per_year is None or risk.cost_band is None:
        return []
    low, high = risk.cost_band
    told = f"{risk.cost_per_year.value:,.0f} {risk.currency} ({low:,.0f} to {high:,.0f})"
    return [f"Food lost costs {told} in a usual {_unit(risk)}."]


def _unit(risk: Risk) -> str:
    return "year" if risk.month is None else _MONTHS[risk.month - 1]


def _doubt(risk: Risk) -> str:
    anything = next((x for x in risk.losses if x.kind is Kind.ANY), None)
    if anything is None:
        return f"Outages are those of {risk.outages.basis}."
    told = (
        "your record and the"
        if risk.outages.basis == Basis.HISTORY.value
        else "the published figures and the"
    )
    return (
        f"The ranges in brackets are what {told} unknown length of rare long outages leave open; the number of "
        "outages tried adds little to that."
    )
