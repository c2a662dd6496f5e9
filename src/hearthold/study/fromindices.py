"""Outages from a utility's SAIDI, SAIFI and CAIDI, with or without major events.

The two streams reproduce the indices exactly. What indices cannot say, the spread of lengths and the months,
is the region's.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.quantities.source import Source, Standing
from hearthold.reference.outages import OutageIndices, OutageModel, OutageStream
from hearthold.study.outages import Basis, Outages, fixed_stream

if TYPE_CHECKING:
    from hearthold.house.site import OutageStatistics

_DISAGREE_FRAC = 0.05
_MAJOR_AT_LEAST = 2.0  # times the routine mean: less is no major event, and both lengths are scaled alike


def from_both(indices: OutageIndices, shape: OutageModel) -> Outages:
    """Outages from indices with and without major events: what the second lack is the major stream.

    Raises: InputError where the indices with major events do not exceed those without.
    """
    rate = indices.saifi_per_year - indices.saifi_without_major_per_year
    lost_s = indices.saidi_s - indices.saidi_without_major_s
    if rate <= 0.0 or lost_s <= 0.0:
        raise InputError("indices with major events must exceed those without.", code="indices")
    routine = OutageStream(
        indices.saifi_without_major_per_year,
        indices.saidi_without_major_s / indices.saifi_without_major_per_year,
        shape.routine.sigma,
    )
    major = OutageStream(rate, lost_s / rate, shape.major.sigma)
    return _made(routine, major, shape, indices.source, ())


def from_one(saidi_s: float, saifi_per_year: float, with_major: bool, shape: OutageModel) -> Outages:
    """Outages from one pair of indices; the region divides them between the streams, or adds the major one.

    Raises: InputError unless both are above 0.
    """
    if not (saidi_s > 0.0 and saifi_per_year > 0.0):
        raise InputError(
            f"SAIDI is {saidi_s / 3600.0:g} h and SAIFI {saifi_per_year:g} a year; both must be above 0. "
            "Leave them out to use a region.",
            code="indices",
        )
    given = Source("SAIDI and SAIFI in the house file", Standing.GIVEN)
    if not with_major:
        routine = OutageStream(saifi_per_year, saidi_s / saifi_per_year, shape.routine.sigma)
        note = f"major events are those of {shape.meaning}, since the indices leave them out"
        return _made(routine, shape.major, shape, given, (note,))
    routine, major = _divided(saidi_s, saifi_per_year, shape)
    note = f"routine and major outages are divided as in {shape.meaning}"
    return _made(routine, major, shape, given, (note,))


def from_house(stats: OutageStatistics, shape: OutageModel) -> Outages | None:
    """Outages from the indices of a house file; None where it gives fewer than two.

    Raises: InputError where three are given and do not agree, or one is 0.
    """
    saidi, saifi, caidi = stats.saidi_s, stats.saifi, stats.caidi_s
    if sum(x is not None for x in (saidi, saifi, caidi)) < 2:
        return None
    if saidi is not None and saifi is not None and caidi is not None:
        product_s = saifi * caidi
        if abs(product_s - saidi) > _DISAGREE_FRAC * max(saidi, product_s):
            raise InputError(
                f"SAIDI is {saidi / 3600:.3g} h, but SAIFI x CAIDI makes {product_s / 3600:.3g} h; "
                "leave one out.",
                code="indices",
            )
    if saidi is None and saifi is not None and caidi is not None:
        saidi = saifi * caidi
    if saifi is None and saidi is not None and caidi is not None:
        saifi = saidi / caidi if caidi > 0.0 else 0.0
    return from_one(saidi or 0.0, saifi or 0.0, stats.with_major_events, shape)


def _divided(saidi_s: float, saifi: float, shape: OutageModel) -> tuple[OutageStream, OutageStream]:
    """Counts divided as in the region; routine lengths are the region's, the time left makes major ones."""
    major_rate = saifi * shape.major.rate_per_year / shape.saifi_per_year
    routine_rate = saifi - major_rate
    major_mean_s = (saidi_s - routine_rate * shape.routine.mean_s) / major_rate
    routine = replace(shape.routine, rate_per_year=routine_rate)
    if major_mean_s >= _MAJOR_AT_LEAST * shape.routine.mean_s:
        return routine, OutageStream(major_rate, major_mean_s, shape.major.sigma)
    scale = saidi_s / (routine_rate * shape.routine.mean_s + major_rate * shape.major.mean_s)
    return (
        replace(routine, mean_s=shape.routine.mean_s * scale),
        OutageStream(major_rate, shape.major.mean_s * scale, shape.major.sigma),
    )


def _made(
    routine: OutageStream, major: OutageStream, shape: OutageModel, source: Source, notes: tuple[str, ...]
) -> Outages:
    return Outages(
        fixed_stream("routine", routine),
        fixed_stream("major", major),
        Basis.INDICES,
        source,
        (*notes, shape.caution),
    )
