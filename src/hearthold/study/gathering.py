"""From weighed rounds to the result: names, prices, intervals, bands, seasons, assumptions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import expm1
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hearthold.quantities.source import Source, Standing
from hearthold.study.bands import amount_bands, chance_bands, cost_band, major_chance_bands
from hearthold.study.draws import Scenarios
from hearthold.study.estimate import Estimate, estimate, never_seen_frac
from hearthold.study.losses import Kind, Loss
from hearthold.study.outages import Outages, Stream
from hearthold.study.result import AmountRisk, ByTime, FuelRisk, LossRisk, OutageFigures, Risk, Stopped
from hearthold.study.tracks import Tracks
from hearthold.study.weather import STORM_SHARE_FRAC
from hearthold.study.weigh import Gathered, Rounds, Weighed, gather_both, loss_counts, weigh

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.weatherfile import WeatherHours

Array = NDArray[np.float64]
HOUR_S, DAY_S = 3600.0, 86400.0
_BY_TIME_H = (6, 12, 24, 48, 72, 120, 168, 336)
_LONG_H = (24, 72, 168)
_SEASONS = ((11, 0, 1), (2, 3, 4), (5, 6, 7), (8, 9, 10))
_NAMES = {
    Kind.HOUSE: "house too cold",
    Kind.PIPES: "pipes at risk of freezing",
    Kind.WATER: "no water",
    Kind.HOT_WATER: "no hot water",
    Kind.FUEL: "machine out of fuel",
    Kind.ANY: "any loss at all",
}
_MACHINE = "the machine starts whenever it is asked to"
_BATTERY = (
    "the battery is full when the grid fails, and its circuits are switched by the clock whatever it holds"
)
# A chance that differs from 0 and 1 by less is too certain to be compared with plain sampling.
_OPEN_FRAC = 1e-3


@dataclass(frozen=True, eq=False)
class Study:
    """Everything a result is made from."""

    house: House
    outages: Outages
    rounds: tuple[tuple[Tracks, Tracks], ...]
    longest_s: tuple[float, float]
    stopped: Stopped
    month: int | None
    weather_file: WeatherHours | None


def risk_of(study: Study, fuel: FuelRisk | None) -> Risk:
    """The result of a study."""
    parts = gather_both(study.rounds, study.outages)
    found = weigh(parts, study.outages)
    losses = tuple(_losses(study, found, parts))
    values = np.array([x.value or 0.0 for x in losses])
    return Risk(
        house=study.house.name,
        month=study.month,
        currency=study.house.prices.currency,
        outages=outage_figures(study.outages),
        losses=losses,
        amounts=tuple(_amounts(study, found, parts)),
        fuel=fuel,
        cost_per_year=estimate(found.year_count @ values, least=0.0) if values.any() else None,
        cost_band=cost_band(parts, study.outages, values) if values.any() else None,
        rounds=len(study.rounds),
        tracks=sum(len(t) for pair in study.rounds for t in pair),
        worth_count=_worth(found),
        longest_s=study.longest_s,
        beyond_frac=found.beyond_frac,
        stopped=study.stopped,
        assumptions=_assumptions(study, found),
        sources=_sources(study),
    )


def outage_figures(outages: Outages) -> OutageFigures:
    """The statistics in short."""
    longer = tuple(
        (h * HOUR_S, outages.chance_in_year_frac(h * HOUR_S), outages.chance_band_frac(h * HOUR_S))
        for h in _LONG_H
    )
    return OutageFigures(
        outages.routine.usual_per_year,
        outages.routine.rate_band_per_year,
        outages.major.usual_per_year,
        outages.major.rate_band_per_year,
        outages.major.typical_s,
        outages.major_median_band_s,
        longer,
        outages.basis.value,
        outages.source,
    )


def _losses(study: Study, found: Weighed, parts: tuple[Gathered, Gathered]) -> Iterator[LossRisk]:
    values = {x.id: x.contents_value for x in study.house.cold}
    bands, major_bands = chance_bands(parts, study.outages), major_chance_bands(parts, study.outages)
    unseen, by_season = unseen_fracs(study.rounds, study.outages), _unseen_by_season(study)
    for i, loss in enumerate(study.rounds[0][1].losses):
        value = values.get(loss.id) or None
        yield LossRisk(
            loss.id,
            _name(study.house, loss),
            loss.kind,
            loss.means,
            chance(found.major_chance[:, i], unseen.major),
            major_bands[i],
            chance(found.any_chance[:, i], unseen.any),
            chance(found.year_chance[:, i], unseen.year),
            bands[i],
            _by_season(study, i, parts[1].time_s, by_season) if study.month is None else (),
            _by_time(study, i),
            value,
            estimate(found.year_count[:, i] * value, least=0.0) if value else None,
        )


def _amounts(study: Study, found: Weighed, parts: tuple[Gathered, Gathered]) -> Iterator[AmountRisk]:
    bands, major_bands = amount_bands(parts, study.outages)
    for i, account in enumerate(study.rounds[0][1].accounts):
        yield AmountRisk(
            account,
            estimate(found.major_amount[:, i], least=0.0),
            major_bands[i],
            estimate(found.year_amount[:, i], least=0.0),
            bands[i],
        )


def chance(rounds: Array, unseen: float) -> Estimate:
    """A chance; the less likely ones may still be as high as what no track showed, `unseen`."""
    found = estimate(rounds, least=0.0, most=1.0)
    return found if found.value >= unseen else replace(found, high=max(found.high, unseen))


@dataclass(frozen=True, slots=True)
class Unseen:
    """Highest chances, at 95 %, of what no track showed."""

    major: float  # in one major outage
    any: float  # in one outage of either stream
    year: float  # once or more in a year


def unseen_fracs(rounds: Rounds, outages: Outages) -> Unseen:
    """What the tracks of these rounds cannot rule out."""
    return unseen_of([[pair[i].scenarios for pair in rounds] for i in range(2)], outages)


def unseen_of(drawn: Sequence[Sequence[Scenarios]], outages: Outages) -> Unseen:
    """The same from the rounds drawn of each stream."""
    per_outage = [unseen_frac(some, s) for some, s in zip(drawn, outages.streams, strict=True)]
    a_year = float(sum(s.usual_per_year * u for s, u in zip(outages.streams, per_outage, strict=True)))
    return Unseen(per_outage[1], a_year / outages.saifi_per_year, -expm1(-a_year))


def unseen_frac(
    drawn: Sequence[Scenarios], stream: Stream, months: Sequence[int] = tuple(range(12))
) -> float:
    """Highest chance in an outage, at 95 %, of what no track showed: late losses have fewer tracks to show them."""
    ends_s = drawn[0].ends_s
    outlasts = stream.survival_frac(np.concatenate([[0.0], ends_s[:-1]]))
    followed = [
        sum(int(np.sum((x.level >= j) & np.isin(x.month, months))) for x in drawn) / _thinnest(drawn)
        for j in range(len(ends_s))
    ]
    return max(float(s) * never_seen_frac(n) for s, n in zip(outlasts, followed, strict=True))


def _thinnest(drawn: Sequence[Scenarios]) -> float:
    """How much an outage counts at most: what happens in such weather alone has so many times fewer to show it."""
    return max(float(x.weight.max()) for x in drawn)


def _name(house: House, loss: Loss) -> str:
    if loss.kind is Kind.MEDICAL:
        load = house.load_by_id.get(loss.id)
        people = ", ".join(need.person for need in house.medical if need.load == loss.id)
        return f"{load.name if load else loss.id} ({people})"
    named = {x.id: x.name for x in house.cold} | {x.id: x.name for x in house.pits}
    if loss.kind is Kind.PIT:
        return f"{named.get(loss.id, loss.id)} runs over"
    return _NAMES.get(loss.kind) or named.get(loss.id, loss.id)


def _unseen_by_season(study: Study) -> list[float]:
    drawn = [major.scenarios for _, major in study.rounds]
    return [unseen_frac(drawn, study.outages.major, months) for months in _SEASONS]


def _by_season(study: Study, loss: int, time_s: Array, unseen: Sequence[float]) -> tuple[Estimate, ...]:
    """Chance in a major outage that begins in each quarter of the year; survival straight between `time_s`."""
    survival = study.outages.major.survival_frac(time_s)
    found = []
    for months, never_seen in zip(_SEASONS, unseen, strict=True):
        rounds = []
        for _, major in study.rounds:
            weight = major.scenarios.weight * np.isin(major.scenarios.month, months)
            if weight.any():
                first = major.first_s[loss]
                outlasts = np.interp(first, time_s, survival, right=0.0) * np.isfinite(first)
                counts = loss_counts(first, major.scenarios, weight)
                rounds.append(np.average(counts * outlasts, weights=weight))
        if len(rounds) < 2:
            return ()
        found.append(chance(np.array(rounds), never_seen))
    return tuple(found)


def _by_time(study: Study, loss: int) -> tuple[ByTime, ...]:
    found = []
    for time_s in (h * HOUR_S for h in _BY_TIME_H if h * HOUR_S <= study.longest_s[1]):
        rounds = np.array([_lost_by(major, loss, time_s) for _, major in study.rounds])
        stand_for = float(study.rounds[0][1].scenarios.counts(time_s))
        tracks = sum(len(major) for _, major in study.rounds)
        tries = tracks / stand_for / _thinnest([major.scenarios for _, major in study.rounds])
        found.append(ByTime(time_s, chance(rounds, never_seen_frac(tries))))
    return tuple(found)


def _lost_by(tracks: Tracks, loss: int, time_s: float) -> float:
    first, weight = tracks.first_s[loss], tracks.scenarios.weight
    return float(np.mean(weight * (first <= time_s) * loss_counts(first, tracks.scenarios, weight)))


def _worth(found: Weighed) -> float:
    """Plain outages that would know the least certain chance as well: p (1 - p) / variance of the mean."""
    middle = found.any_chance.mean(axis=0)
    open_ = (middle > _OPEN_FRAC) & (middle < 1.0 - _OPEN_FRAC)
    variance = found.any_chance.var(axis=0, ddof=1) / len(found.any_chance)
    if not np.any(open_ & (variance > 0.0)):
        return float("inf")
    which = open_ & (variance > 0.0)
    return float(np.min(middle[which] * (1.0 - middle[which]) / variance[which]))


def _assumptions(study: Study, found: Weighed) -> tuple[str, ...]:
    routine_d, major_d = (x / DAY_S for x in study.longest_s)
    notes = [
        (
            f"outages longer than {major_d:.0f} days"
            + (f" (routine: {routine_d:.0f})" if routine_d != major_d else "")
            + " count as that long; "
            f"{found.beyond_frac[1] * 100:.1f} % of major ones are longer"
        ),
        *_pipes_left_out(study.house),
        _MACHINE if study.house.generator is not None or study.house.battery is None else _BATTERY,
        "the control is followed to the letter and nobody knows how long an outage will last",
        "length and weather of an outage are independent once its month and kind are known",
        f"a major failure brings {STORM_SHARE_FRAC * 100:.0f} % of a bad spell for a week (judgement)",
        "what is lost in one outage is replaced before the next",
        "food that warms on after the grid is back is not counted",
    ]
    if study.house.solar is not None and study.weather_file is None:
        notes.append(
            "the sun is estimated from the daily range of temperature; a storm's first two days are dull, snow on "
            "the panels is not counted"
        )
    elif study.house.solar is not None:
        notes.append("the solar panel is taken as lying flat")
    return (*notes, *study.outages.notes)


def _pipes_left_out(house: House) -> tuple[str, ...]:
    if not house.pipe_freezes_heated(house.climate.coldest_hour_c):
        return ()
    told = (
        "by heat.pipe_ratio of the house file the coldest freezes in a cold spell with the heating on as well"
    )
    return (f"pipes are left out: {told}, grid or no grid",)


def _sources(study: Study) -> tuple[Source, ...]:
    if study.weather_file is not None:
        weather = Source(f"weather file {study.weather_file.name}", Standing.GIVEN)
    else:
        named = study.house.climate.source or "the house file"
        weather = Source(
            f"monthly normals: {named}; days wander about them as a first-order autoregression",
            Standing.GIVEN,
        )
    return study.outages.source, weather
