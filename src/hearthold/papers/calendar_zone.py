"""VTIMEZONE of a place: its changes of clocks as yearly rules where they follow one, else day by day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import groupby
from zoneinfo import ZoneInfo

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard, vRecur

_YEARS = 20  # how far ahead the changes are looked at, and written out where no rule fits
_DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")


@dataclass(frozen=True, slots=True)
class Change:
    """One change of clocks: when, in the local time that ends with it, and from what to what."""

    onset: datetime
    from_utc: timedelta
    to_utc: timedelta
    name: str
    summer: bool


def time_zone(zone: ZoneInfo, year: int) -> Timezone:
    """The VTIMEZONE that holds from the start of a year on.

    Source: RFC 5545 section 3.6.5; the changes are those of the IANA time zone database.
    """
    found = Timezone()
    found.add("tzid", zone.key)
    found.add_component(_component([_standing(zone, year)], ruled=False))
    ahead = sorted(changes(zone, year, _YEARS), key=_kind)
    for _, same in groupby(ahead, key=_kind):
        group = list(same)
        found.add_component(_component(group, ruled=len(group) == _YEARS and bool(_rule(group))))
    return found


def changes(zone: ZoneInfo, year: int, years: int) -> Iterator[Change]:
    """Every change of clocks of some years, found by halving the days on which the offset differs."""
    day = datetime(year, 1, 1, tzinfo=UTC)
    end = datetime(year + years, 1, 1, tzinfo=UTC)
    while day < end:
        after = day + timedelta(days=1)
        if _offset(zone, day) != _offset(zone, after):
            yield _change(zone, day, after)
        day = after


def _change(zone: ZoneInfo, low: datetime, high: datetime) -> Change:
    before = _offset(zone, low)
    while high - low > timedelta(seconds=1):
        middle = (low + (high - low) / 2).replace(microsecond=0)
        low, high = (middle, high) if _offset(zone, middle) == before else (low, middle)
    here = high.astimezone(zone)
    onset = (high + before).replace(tzinfo=None)
    return Change(onset, before, _offset(zone, high), here.tzname() or "", bool(here.dst()))


def _standing(zone: ZoneInfo, year: int) -> Change:
    """What holds as the year begins, so that nothing before the first change is left open."""
    here = datetime(year, 1, 1, tzinfo=zone)
    offset = here.utcoffset() or timedelta()
    return Change(here.replace(tzinfo=None), offset, offset, here.tzname() or "", bool(here.dst()))


def _kind(change: Change) -> tuple[timedelta, timedelta, str, bool]:
    return change.from_utc, change.to_utc, change.name, change.summer


def _rule(group: Sequence[Change]) -> dict[str, str | int]:
    """The nth, or the last, such weekday of a month at one time of day; empty where neither fits."""
    onsets = [c.onset for c in group]
    same = {(o.month, o.weekday(), o.time()) for o in onsets}
    if len(same) != 1 or len({o.year for o in onsets}) != len(onsets):
        return {}
    which = {(o.day - 1) // 7 + 1 for o in onsets}
    last = all((o + timedelta(days=7)).month != o.month for o in onsets)
    if len(which) != 1 and not last:
        return {}
    nth = -1 if last else which.pop()
    return {"FREQ": "YEARLY", "BYMONTH": onsets[0].month, "BYDAY": f"{nth}{_DAYS[onsets[0].weekday()]}"}


def _component(group: Sequence[Change], ruled: bool) -> TimezoneDaylight | TimezoneStandard:
    first = group[0]
    part = TimezoneDaylight() if first.summer else TimezoneStandard()
    part.add("dtstart", first.onset)
    part.add("tzoffsetfrom", first.from_utc)
    part.add("tzoffsetto", first.to_utc)
    part.add("tzname", first.name)
    if ruled:
        part.add("rrule", vRecur(_rule(group)))
    elif len(group) > 1:
        part.add("rdate", [c.onset for c in group[1:]])
    return part


def _offset(zone: ZoneInfo, at: datetime) -> timedelta:
    return at.astimezone(zone).utcoffset() or timedelta()
