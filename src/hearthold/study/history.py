"""A household's own dated outages, checked: in order, apart, past, of lengths that can be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from hearthold.errors import InputError
from hearthold.study.indices import MOMENTARY_S
from hearthold.study.outages import YEAR_S

if TYPE_CHECKING:
    from hearthold.house.site import PastOutage

LONGEST_S = 90 * 86400.0


@dataclass(frozen=True, slots=True, eq=False)
class History:
    """Outages of n rows in order, and the time over which somebody would have noted one.

    `counts` says which rows count for how often: where the record has no stated beginning, the first outage
    only opens it, for a record that begins with an outage would otherwise find one too many.
    """

    began: tuple[datetime, ...]
    length_s: NDArray[np.float64]
    month: NDArray[np.int64]  # 0 for January
    counts: NDArray[np.bool_]
    watched_years: float
    notes: tuple[str, ...]

    def __len__(self) -> int:
        return len(self.length_s)


def read_history(
    past: Sequence[PastOutage], today: date, zone: ZoneInfo, since: date | None = None
) -> History:
    """The history of a household as of a day; `since` is the day from which outages were noted.

    Outages of five minutes or less are left out, as utilities do. Raises InputError for a date to come, an
    outage still going on, two that overlap, a length that cannot be, or an empty record without `since`.
    """
    rows = sorted(((_local(p.began, zone), p.length_s) for p in past), key=lambda row: row[0])
    for began, length_s in rows:
        _check_row(began, length_s, today)
    for (a, a_length_s), (b, _) in pairwise(rows):
        if a + timedelta(seconds=a_length_s) > b:
            raise InputError(
                f"past_outage, start {_said(a)}, length {a_length_s / 3600:g} h: runs into the one of {_said(b)}. "
                "Correct one, or make them one.",
                code="overlapping_outages",
            )
    kept = [row for row in rows if row[1] > MOMENTARY_S]
    notes = ("outages of five minutes or less are left out",) if len(kept) < len(rows) else ()
    return _history(kept, today, since, notes)


def _history(
    rows: list[tuple[datetime, float]], today: date, since: date | None, notes: tuple[str, ...]
) -> History:
    if since is None and not rows:
        raise InputError(
            "the record holds no outage. Say since when it was kept, or leave it out and use a region.",
            code="no_outage",
        )
    opened = rows[0][0] if since is None else datetime.combine(since, time())
    end = datetime.combine(today + timedelta(days=1), time())
    if opened > end or (rows and opened > rows[0][0]):
        raise InputError(
            f"the record is said to begin on {since}, after its first outage or after {today}.", code="since"
        )
    counts = np.ones(len(rows), dtype=bool)
    if since is None:
        counts[0] = False
        notes = (
            *notes,
            "the record is taken to begin with its first outage, which opens it and is not counted",
        )
    return History(
        tuple(row[0] for row in rows),
        np.array([row[1] for row in rows], dtype=float),
        np.array([row[0].month - 1 for row in rows], dtype=np.int64),
        counts,
        (end - opened).total_seconds() / YEAR_S,
        notes,
    )


def _local(began: datetime, zone: ZoneInfo) -> datetime:
    """Local time without an offset."""
    return began if began.tzinfo is None else began.astimezone(zone).replace(tzinfo=None)


def _check_row(began: datetime, length_s: float, today: date) -> None:
    if began.date() > today:
        raise InputError(
            f"past_outage, start {_said(began)}: lies after today, {today}; a record holds past outages only. "
            "Correct the date, or take it out.",
            code="future_outage",
        )
    if not 0.0 < length_s <= LONGEST_S:
        raise InputError(
            f"past_outage, start {_said(began)}: lasts {length_s / 3600:g} h; allowed: above 0 and at most "
            f"{LONGEST_S / 86400:g} days. Correct its length.",
            code="outage_length",
        )
    if began + timedelta(seconds=length_s) > datetime.combine(today + timedelta(days=1), time()):
        raise InputError(
            f"past_outage, start {_said(began)}, length {length_s / 3600:g} h: would end after today, {today}. "
            "Note it when it is over.",
            code="future_outage",
        )


def _said(began: datetime) -> str:
    return began.strftime("%Y-%m-%d %H:%M")
