"""The upkeep calendar (RFC 5545): the same plan on the same day gives the same file; a later one replaces it.

UIDs follow from house and event alone; DTSTAMP and SEQUENCE from the day of making, never from a clock.
Source: RFC 5545, RFC 7986 (names of calendars, UIDs).
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta
from importlib.metadata import version
from typing import TYPE_CHECKING
from uuid import NAMESPACE_URL, UUID, uuid5

from icalendar import Alarm, Calendar, Event, vRecur, vText

from hearthold.papers.calendar_events import Due, due
from hearthold.papers.calendar_zone import time_zone
from hearthold.papers.job import Job, say_of, sheet_for

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.plan.result import Plan

_HEAD = (
    ("prodid", "-//Hearthold//Upkeep calendar//EN"),
    ("version", "2.0"),
    ("calscale", "GREGORIAN"),
    ("method", "PUBLISH"),
)
# Nobody runs a machine before breakfast: two hours after the house is awake, and never in quiet hours.
_AFTER_WAKING_S = 2 * 3600.0
_COUNT_FROM = date(2020, 1, 1)
# RFC 5545 3.1: TEXT holds no control characters but tab and line feed.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")


def calendar_ics(house: House, plan: Plan, today: date, us: bool | None = None) -> str:
    """The calendar of a house as text, lines ended by CR LF; see `calendar_page`."""
    return calendar_page(
        Job(plan, house, today, sheet_for(house, None), say_of(house, us), version("hearthold"))
    )


def calendar_page(job: Job) -> str:
    """The calendar of a job: exercise, oil, fuel, batteries, alarms, drills and the change of the routine."""
    book, house = Calendar(), job.house
    for key, value in _HEAD:
        book.add(key, value)
    title = f"{_clean(house.name)}: upkeep of backup power"
    for key in ("name", "x-wr-calname"):
        book.add(key, vText(title))
    if house.site.time_zone != "UTC":
        book.add("x-wr-timezone", house.site.time_zone)
        book.add_component(time_zone(house.site.zone, job.today.year))
    for one in due(job):
        book.add_component(_event(house, one, job.today))
    return str(book.to_ical(), "utf-8")


def event_uid(house: House, event_id: str) -> UUID:
    """The UID of an event: the same as long as house and place keep their names."""
    home = f"{house.name}\n{house.site.place}\n{house.site.country}\n{event_id}"
    return uuid5(NAMESPACE_URL, f"urn:hearthold:upkeep:{home}")


def time_of_day_s(house: House) -> float:
    """When upkeep is put: two hours after waking, or the end of the quiet hours if that is later."""
    people = house.people
    wanted_s = people.awake_from_s + _AFTER_WAKING_S
    quiet_to_s = people.quiet_to_s if people.quiet_to_s < 14 * 3600.0 else 0.0
    return min(max(wanted_s, quiet_to_s), 20 * 3600.0)


def _event(house: House, one: Due, today: date) -> Event:
    event = Event()
    event.add("uid", str(event_uid(house, one.id)))
    event.add("dtstamp", datetime.combine(today, time(), UTC))
    event.add("sequence", (today - _COUNT_FROM).days)
    event.add("dtstart", _start(house, one.first))
    event.add("duration", timedelta(seconds=one.length_s))
    event.add("rrule", vRecur(one.again))
    event.add("summary", _clean(one.title))
    event.add("description", _clean("\n".join(one.text)))
    event.add("location", _clean(house.name))
    event.add("categories", [one.topic])
    event.add("transp", "TRANSPARENT")
    event.add_component(_alarm(one))
    return event


def _start(house: House, day: date) -> datetime:
    seconds = round(time_of_day_s(house))
    zone = UTC if house.site.time_zone == "UTC" else house.site.zone
    return datetime.combine(day, time(seconds // 3600, seconds % 3600 // 60), zone)


def _alarm(one: Due) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("trigger", timedelta(seconds=-one.ahead_s))
    alarm.add("description", _clean(one.title))
    return alarm


def _clean(text: str) -> str:
    return _CONTROL.sub(" ", text.replace("\r\n", "\n").replace("\r", "\n"))
