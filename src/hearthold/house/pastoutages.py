"""A record of past outages held against itself and the calendar: apart, past, of lengths that can be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

if TYPE_CHECKING:
    from hearthold.house.site import PastOutage

LONGEST_S = 90 * 86400.0
DATED = "%Y-%m-%d %H:%M"


@dataclass(frozen=True, slots=True)
class Doubt:
    """What is wrong with one outage of a record: which, counted from 0, by which key, and what to do."""

    row: int
    key: str  # "start" | "length"
    code: str
    problem: str
    remedy: str


def local(began: datetime, zone: ZoneInfo) -> datetime:
    """Local time without an offset."""
    return began if began.tzinfo is None else began.astimezone(zone).replace(tzinfo=None)


def doubts(past: Sequence[PastOutage], zone: ZoneInfo, today: date | None = None) -> Iterator[Doubt]:
    """What cannot be in a record; without a day, whatever does not depend on it."""
    rows = [(local(p.began, zone), p.length_s) for p in past]
    for i, (began, length_s) in enumerate(rows):
        if today is not None:
            yield from _to_come(i, began, length_s, today)
        if not 0.0 < length_s <= LONGEST_S:
            told = f"lasts {length_s / 3600:g} h; allowed: above 0 and at most {LONGEST_S / 86400:g} days."
            yield Doubt(i, "length", "outage_length", told, "Correct its length.")
    in_order = sorted(range(len(rows)), key=lambda i: rows[i][0])
    for i, j in pairwise(in_order):
        if rows[i][0] + timedelta(seconds=rows[i][1]) > rows[j][0]:
            told = f"runs into the outage of {rows[j][0].strftime(DATED)}."
            yield Doubt(i, "length", "overlapping_outages", told, "Correct one, or make them one.")


def _to_come(i: int, began: datetime, length_s: float, today: date) -> Iterator[Doubt]:
    if began.date() > today:
        told = f"lies after today, {today}; a record holds past outages only."
        yield Doubt(i, "start", "future_outage", told, "Correct the date, or take it out.")
    elif began + timedelta(seconds=min(length_s, LONGEST_S)) > datetime.combine(
        today + timedelta(days=1), time()
    ):
        yield Doubt(
            i, "length", "future_outage", f"would end after today, {today}.", "Note it when it is over."
        )
