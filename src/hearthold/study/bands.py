"""What outage statistics leave open in a year: versions of a short record, and other tails."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hearthold.study.outages import Outages
from hearthold.study.weigh import Gathered, year_chances

Array = NDArray[np.float64]
Bands = tuple[tuple[float, float], ...]
_EDGES = (0.025, 0.975)


def chance_bands(parts: tuple[Gathered, Gathered], outages: Outages) -> Bands:
    """A band for each loss: lowest and highest chance in a year, over the likely versions of every tail."""
    whole = pooled(parts)
    return _bands([year_chances(whole, tail)[:, 0] for tail in (outages, *outages.other_tails())])


def amount_bands(parts: tuple[Gathered, Gathered], outages: Outages) -> Bands:
    """A band for each account's expected amount in a year."""
    whole, found = pooled(parts), []
    for tail in (outages, *outages.other_tails()):
        each: Array | float = 0.0
        for stream, part in zip(tail.streams, whole, strict=True):
            survival = stream.survival_each_frac(part.time_s)
            each = each + stream.rate_per_year[:, None] * part.amounts(survival)[:, 0]
        found.append(np.asarray(each))
    return _bands(found)


def cost_band(parts: tuple[Gathered, Gathered], outages: Outages, values: Array) -> tuple[float, float]:
    """Of the expected cost in a year of losses that are worth `values` (losses,) each time."""
    whole = pooled(parts)
    counts = [-np.log1p(-year_chances(whole, tail)[:, 0]) for tail in (outages, *outages.other_tails())]
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
