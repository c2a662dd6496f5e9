"""The calendar against parsers that did not write it: ical, dateutil, the standard library."""

from __future__ import annotations

import calendar as standard
import io
import random
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import icalendar
import pytest
from dateutil.relativedelta import relativedelta
from dateutil.rrule import rrulestr
from dateutil.tz import tzical
from ical.calendar_stream import IcsCalendarStream
from tests.papers import houses
from tests.papers.plans import TODAY, plan_of, plan_of_example

from hearthold.house.house import House
from hearthold.papers.calendar import calendar_ics, event_uid, time_of_day_s
from hearthold.papers.calendar_events import add_months, next_nth_weekday, nth_weekday, repeatable
from hearthold.papers.calendar_zone import time_zone

HOSTILE = 'Comma, semicolon; back\\slash: "quoted"\nsecond line ^n ^\' BEGIN:VEVENT'
NAMES = (
    HOSTILE,
    houses.MARKUP,
    houses.LONG,
    houses.UNBROKEN,
    houses.HEBREW,
    houses.ARABIC,
    houses.CHINESE,
    "冷凍庫" * 26,
)
ZONES = (
    "America/New_York",
    "America/Santiago",
    "America/St_Johns",
    "Europe/London",
    "Europe/Dublin",
    "Africa/Casablanca",
    "Asia/Kathmandu",
    "Asia/Tokyo",
    "Australia/Lord_Howe",
    "Pacific/Auckland",
)


def text_of(house: House) -> str:
    return calendar_ics(house, plan_of(house), TODAY)


@pytest.fixture(scope="module", params=["tarn", "skerrow"])
def example(request: pytest.FixtureRequest) -> tuple[House, str]:
    house = getattr(houses, request.param)()
    return house, calendar_ics(house, plan_of_example(request.param), TODAY)


def events(text: str) -> dict[str, icalendar.Event]:
    return {str(e["SUMMARY"]): e for e in icalendar.Calendar.from_ical(text).walk("VEVENT")}


def starts(event: icalendar.Event, count: int) -> list[date]:
    """First occurrences, expanded by dateutil rather than by the library that wrote the file."""
    begin = event["DTSTART"].dt.replace(tzinfo=None)
    rule = rrulestr(event["RRULE"].to_ical().decode(), dtstart=begin)
    return [at.date() for at in rule[:count]]


def test_an_independent_parser_reads_every_event(example: tuple[House, str]) -> None:
    _, text = example
    read = IcsCalendarStream.calendar_from_ics(text)
    ours = events(text)
    assert {e.summary for e in read.events} == set(ours)
    for event in read.events:
        assert event.description == str(ours[event.summary]["DESCRIPTION"])
        assert event.dtstart == ours[event.summary]["DTSTART"].dt
        assert len(event.alarm) == 1
    expected = {
        "Run the machine under load",
        "Change the machine's oil",
        "Test CO and smoke alarms",
        "Outage drill",
        "Batteries of CO and smoke alarms",
        "Starting battery",
    }
    assert expected < set(ours)


def test_a_round_trip_changes_no_byte(example: tuple[House, str]) -> None:
    _, text = example
    assert icalendar.Calendar.from_ical(text).to_ical().decode() == text


def test_the_same_day_gives_the_same_file_and_another_day_the_same_uids() -> None:
    house, plan = houses.tarn(), plan_of_example("tarn")
    first, again = calendar_ics(house, plan, TODAY), calendar_ics(house, plan, TODAY)
    later = calendar_ics(house, plan, TODAY + timedelta(days=40))
    assert first == again
    uids = {name: str(e["UID"]) for name, e in events(first).items()}
    assert uids == {name: str(e["UID"]) for name, e in events(later).items()}
    assert len(set(uids.values())) == len(uids)
    old, new = events(first)["Outage drill"], events(later)["Outage drill"]
    assert old["DTSTAMP"].dt == datetime(2026, 11, 25, tzinfo=UTC)
    assert int(new["SEQUENCE"]) == int(old["SEQUENCE"]) + 40
    assert event_uid(house, "drill") != event_uid(replace(house, name="Elsewhere"), "drill")


def test_lines_are_folded_at_75_octets_and_never_inside_a_letter() -> None:
    """RFC 5545 section 3.1."""
    for name in NAMES:
        raw = text_of(houses.renamed(houses.tarn(), name)).encode()
        assert raw.endswith(b"\r\n")
        assert b"\n" not in raw.replace(b"\r\n", b"")
        for line in raw.split(b"\r\n"):
            assert len(line) <= 75
            line.decode("utf-8")


@pytest.mark.parametrize("name", NAMES)
def test_names_come_back_letter_by_letter(name: str) -> None:
    text = text_of(houses.renamed(houses.tarn(), name))
    read = IcsCalendarStream.calendar_from_ics(text)
    assert all(e.location == name for e in read.events)
    exercise = next(e for e in read.events if e.summary == "Run the machine under load")
    assert exercise.description is not None
    assert f"Run {name} for 15 min" in exercise.description
    assert len(read.events) == len(IcsCalendarStream.calendar_from_ics(text_of(houses.tarn())).events)


def test_control_characters_do_not_reach_the_file() -> None:
    text = text_of(houses.renamed(houses.tarn(), "a\x00b\x07c\rd\x1be"))
    assert all(letter >= " " or letter in "\r\n" for letter in text)
    assert events(text)["Outage drill"]["LOCATION"] == "a b c\nd e"


def test_drills_fall_on_second_saturdays_of_april_and_october() -> None:
    drill = events(text_of(houses.tarn()))["Outage drill"]
    expected = [
        second_saturday(2027, 4),
        second_saturday(2027, 10),
        second_saturday(2028, 4),
        second_saturday(2028, 10),
    ]
    assert starts(drill, 4) == expected


def second_saturday(year: int, month: int) -> date:
    weeks = [w for w in standard.monthcalendar(year, month) if w[standard.SATURDAY]]
    return date(year, month, weeks[1][standard.SATURDAY])


def test_exercise_is_every_month_for_a_quarter_of_an_hour_under_load() -> None:
    """Every 30 days, 15 min at 30 to 50 % (table of upkeep, from memory)."""
    exercise = events(text_of(houses.tarn()))["Run the machine under load"]
    days = starts(exercise, 24)
    assert all(day.weekday() == 5 and day.day <= 7 for day in days)
    assert all(27 < (b - a).days < 36 for a, b in pairwise(days))
    assert exercise["DURATION"].dt == timedelta(minutes=15)
    assert "30 to 50 % load" in exercise["DESCRIPTION"]
    assert "never inside" in exercise["DESCRIPTION"].lower()


def test_oil_is_due_by_date_or_at_once_when_its_hours_are_used_up() -> None:
    """Tarn Hollow: by date, a year after the last change. Skerrow Croft: 55 h since, of 50: today."""
    tarn, skerrow = houses.tarn(), houses.skerrow()
    by_date = events(text_of(tarn))["Change the machine's oil"]
    assert tarn.generator is not None
    assert tarn.generator.last_oil is not None
    assert by_date["DTSTART"].dt.date() == tarn.generator.last_oil + relativedelta(months=12)
    by_hours = events(text_of(skerrow))["Change the machine's oil"]
    assert by_hours["DTSTART"].dt.date() == TODAY
    assert "change it now" in by_hours["DESCRIPTION"]


def test_fuel_is_turned_over_when_it_has_kept_its_time_and_propane_never() -> None:
    """Untreated petrol keeps three months on the planning figure: that of May is old in November."""
    old = events(text_of(houses.skerrow()))["Turn over the petrol"]
    assert old["DTSTART"].dt.date() == TODAY
    assert starts(old, 2)[1] == TODAY + relativedelta(months=3)
    fuels = [name for name in events(text_of(houses.tarn())) if name.startswith("Turn over")]
    assert fuels == ["Turn over the gasoline"]


def test_seasons_turn_with_the_house_and_not_with_the_hemisphere() -> None:
    house = houses.tarn()
    south = replace(
        house,
        climate=house.climate.model_copy(update={"mean": house.climate.mean[6:] + house.climate.mean[:6]}),
    )
    north_begins = events(text_of(house))["Change of routine: the heating season begins"]["DTSTART"].dt
    south_begins = events(text_of(south))["Change of routine: the heating season begins"]["DTSTART"].dt
    assert (south_begins.month - north_begins.month) % 12 == 6
    warm = replace(house, climate=house.climate.model_copy(update={"mean": (77.0,) * 12}))
    assert not [name for name in events(text_of(warm)) if name.startswith("Change of routine")]


def test_a_house_without_a_machine_still_tests_its_alarms() -> None:
    names = set(events(text_of(houses.bare(houses.tarn()))))
    assert names == {"Test CO and smoke alarms", "Batteries of CO and smoke alarms"}


def test_nothing_is_put_into_quiet_hours() -> None:
    house = houses.tarn()
    late = house.people.model_copy(update={"awake_from_s": 5 * 3600.0, "quiet_to_s": 9 * 3600.0})
    assert time_of_day_s(replace(house, people=late)) == 9 * 3600.0
    assert time_of_day_s(house) == 8 * 3600.0


@pytest.mark.parametrize("zone", ZONES)
def test_time_zones_read_back_as_the_database_has_them(zone: str) -> None:
    """Every VTIMEZONE read by dateutil against the IANA database, at random instants of the years ahead.

    dateutil takes a component as standing from its onset; within a day of a change only the database is right
    about the fold, so those hours are left out.
    """
    made = time_zone(ZoneInfo(zone), 2026).to_ical().decode()
    head = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\n"
    read = tzical(io.StringIO(f"{head}{made}END:VCALENDAR\r\n")).get(zone)
    draw = random.Random(5545)
    for _ in range(400):
        at = datetime(2026, 1, 2) + timedelta(minutes=draw.randrange(19 * 365 * 1440))
        truth = [(at + timedelta(days=d)).replace(tzinfo=ZoneInfo(zone)).utcoffset() for d in (-1, 0, 1)]
        if len(set(truth)) == 1:
            assert at.replace(tzinfo=read).utcoffset() == truth[1], at


def test_a_house_on_utc_needs_no_time_zone() -> None:
    house = houses.tarn()
    text = text_of(replace(house, site=house.site.model_copy(update={"time_zone": "UTC"})))
    assert "VTIMEZONE" not in text
    assert all(e["DTSTART"].to_ical().endswith(b"Z") for e in events(text).values())


def test_months_and_weekdays_against_other_calendars() -> None:
    draw = random.Random(1)
    for _ in range(300):
        day = date(2020, 1, 1) + timedelta(days=draw.randrange(9000))
        assert add_months(day, 13) == day + relativedelta(months=13)
        assert repeatable(day).day <= 28
        assert 0 <= (repeatable(day) - day).days <= 3
        assert day <= next_nth_weekday(day, 1) <= day + timedelta(days=35)
    assert nth_weekday(2027, 4, 2) == second_saturday(2027, 4)
