"""A household's own dated outages, checked: in order, apart, past, of lengths that can be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from hearthold.errors import InputError
from hearthold.house.pastoutages import DATED, doubts, local
from hearthold.study.indices import MOMENTARY_S
from hearthold.study.outages import YEAR_S

if TYPE_CHECKING:
    from hearthold.house.site import PastOutage


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
    for doubt in doubts(past, zone, today):
        row = past[doubt.row]
        said = f"start {local(row.began, zone).strftime(DATED)}, length {row.length_s / 3600:g} h"
        raise InputError(f"past_outage, {said}: {doubt.problem} {doubt.remedy}", code=doubt.code)
    rows = sorted(((local(p.began, zone), p.length_s) for p in past), key=lambda row: row[0])
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
