"""What outage statistics leave open in a year: versions of a short record, and other tails."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from hearthold.study.estimate import first_at
from hearthold.study.outages import Outages, Stream
from hearthold.study.weigh import Gathered

Array = NDArray[np.float64]
Bands = tuple[tuple[float, float], ...]
_EDGES = (0.025, 0.975)


def chance_bands(parts: tuple[Gathered, Gathered], outages: Outages) -> Bands:
    """A band for each loss: lowest and highest chance in a year, over the likely versions of every tail."""
    return _bands([year for _, year in _each_tail(parts, outages)])


def major_chance_bands(parts: tuple[Gathered, Gathered], outages: Outages) -> Bands:
    """A band for each loss in one major outage: what lengths as likely, of every tail, would make of it."""
    return _bands([major for major, _ in _each_tail(parts, outages)])


def enough_bands(
    parts: tuple[Gathered, Gathered], outages: Outages, amounts: Array, shares: Sequence[float]
) -> tuple[Bands, Bands]:
    """Bands of the amount enough for each share of major outages, and of years; losses are "dry with so much"."""
    major, year = (
        _bands([_least_enough(amounts, 1.0 - dry, shares) for dry in tails])
        for tails in zip(*_each_tail(parts, outages), strict=True)
    )
    return major, year


def _each_tail(parts: tuple[Gathered, Gathered], outages: Outages) -> Iterator[tuple[Array, Array]]:
    """(versions, losses) chances in one major outage, and in a year, for each tail; routine outages have one tail."""
    routine, major = pooled(parts)
    usual = outages.routine.rate_per_year[:, None] * _chances(routine, outages.routine)
    for tail in (outages, *outages.other_tails()):
        found = _chances(major, tail.major)
        yield found, -np.expm1(-(usual + tail.major.rate_per_year[:, None] * found))


def _chances(part: Gathered, stream: Stream) -> Array:
    return part.chances(stream.survival_each_frac(part.time_s))[:, 0]


def _least_enough(amounts: Array, enough_frac: Array, shares: Sequence[float]) -> Array:
    """(versions, shares) of the rising amounts, from (versions, amounts); the largest where none is enough."""
    found = np.array([first_at(amounts, enough_frac, share) for share in shares]).T
    return np.asarray(np.minimum(found, amounts[-1]))


def amount_bands(parts: tuple[Gathered, Gathered], outages: Outages) -> tuple[Bands, Bands]:
    """A band for each account's expected amount in a year, and in one major outage."""
    whole, years, majors = pooled(parts), [], []
    for tail in (outages, *outages.other_tails()):
        routine, major = (
            part.amounts(stream.survival_each_frac(part.time_s))[:, 0]
            for stream, part in zip(tail.streams, whole, strict=True)
        )
        rates = [stream.rate_per_year[:, None] for stream in tail.streams]
        years.append(np.asarray(rates[0] * routine + rates[1] * major))
        majors.append(major)
    return _bands(years), _bands(majors)


def cost_band(parts: tuple[Gathered, Gathered], outages: Outages, values: Array) -> tuple[float, float]:
    """Of the expected cost in a year of losses that are worth `values` (losses,) each time."""
    counts = [-np.log1p(-year) for _, year in _each_tail(parts, outages)]
    return _bands([(count @ values)[:, None] for count in counts])[0]


def pooled(parts: tuple[Gathered, Gathered]) -> tuple[Gathered, Gathered]:
    """All rounds as one: bands are not about sampling."""
    a, b = (
        Gathered(p.time_s, p.chance.mean(axis=0, keepdims=True), p.amount.mean(axis=0, keepdims=True))
        for p in parts
    )
    return a, b


def _bands(tails: Sequence[Array]) -> Bands:
    """Edges over the versions (first axis) of each tail, then over the tails."""
    edges = np.array([np.quantile(each, _EDGES, axis=0) for each in tails])
    low, high = edges[:, 0].min(axis=0), edges[:, 1].max(axis=0)
    return tuple((float(a), float(b)) for a, b in zip(low, high, strict=True))
