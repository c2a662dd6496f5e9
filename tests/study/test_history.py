from datetime import date
from zoneinfo import ZoneInfo

import pytest

from hearthold.errors import InputError
from hearthold.house.site import PastOutage
from hearthold.study.history import read_history

TODAY = date(2026, 10, 14)
ZONE = ZoneInfo("America/New_York")


def past(*rows):
    return [PastOutage.model_validate({"start": start, "length": length}) for start, length in rows]


def test_rows_are_put_in_order_and_the_first_opens_the_record():
    found = read_history(past(("2024-10-13T00:00:00", "5 h"), ("2021-10-14T00:00:00", "30 h")), TODAY, ZONE)
    assert list(found.length_s) == [30 * 3600.0, 5 * 3600.0]
    assert list(found.counts) == [False, True]
    assert list(found.month) == [9, 9]
    assert found.watched_years == pytest.approx(5.0, abs=0.01)
    assert "not counted" in found.notes[0]


def test_a_stated_beginning_lets_every_outage_count():
    found = read_history(past(("2024-10-13T00:00:00", "5 h")), TODAY, ZONE, since=date(2016, 10, 14))
    assert list(found.counts) == [True]
    assert found.watched_years == pytest.approx(10.0, abs=0.01)


def test_no_outage_since_a_stated_day_is_a_history_too():
    found = read_history([], TODAY, ZONE, since=date(2020, 10, 14))
    assert len(found) == 0
    assert found.watched_years == pytest.approx(6.0, abs=0.01)


def test_offsets_are_read_as_local_time_and_short_ones_left_out():
    found = read_history(past(("2024-03-01T03:00:00Z", "1 h"), ("2025-01-01T00:00:00", "4 min")), TODAY, ZONE)
    assert (found.began[0].day, found.began[0].hour) == (29, 22)
    assert len(found) == 1
    assert "five minutes" in found.notes[0]


@pytest.mark.parametrize(
    ("rows", "since", "match"),
    [
        (
            [("2024-01-01T00:00:00", "30 h"), ("2024-01-02T00:00:00", "1 h")],
            None,
            "runs into the outage of 2024-01-02",
        ),
        ([("2026-10-15T00:00:00", "1 h")], None, "lies after today"),
        ([("2026-10-14T20:00:00", "8 h")], None, "Note it when it is over"),
        ([("2020-01-01T00:00:00", "100 days")], None, "at most 90 days"),
        ([("2020-01-01T00:00:00", "0 h")], None, "lasts 0 h"),
        ([], None, "holds no outage"),
        ([], date(2027, 1, 1), "said to begin on 2027-01-01"),
        ([("2020-01-01T00:00:00", "3 h")], date(2021, 1, 1), "after its first outage"),
    ],
)
def test_histories_that_cannot_be_are_refused(rows, since, match):
    with pytest.raises(InputError, match=match):
        read_history(past(*rows), TODAY, ZONE, since=since)
