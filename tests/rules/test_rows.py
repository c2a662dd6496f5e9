"""Reading the rule book: what is missing, unknown or wrong in a row is refused by name."""

import pytest

from hearthold.errors import TableError
from hearthold.rules import rows
from hearthold.rules.rows import rule_row

GOOD = {
    "id": "made-up",
    "severity": "note",
    "title": "Made up",
    "why": "Because {limit_m}.",
    "remedy": "Do.",
    "source": "nobody",
    "standing": "practice",
}
HEAD = {"place": 1, "title": "T", "meaning": "M"}


def read(monkeypatch, *entries, head=HEAD):
    monkeypatch.setattr(rows, "_raw", lambda: {"made": {"family": head, "rule": list(entries)}})
    return rows.rule_book.__wrapped__()


def test_a_good_row_is_read_with_its_own_and_its_borrowed_limits(monkeypatch):
    entry = GOOD | {"limits": {"limit_m": 2.0}, "read": {"far_m": ["cautions", "co_distance", "distance_ft"]}}
    row = read(monkeypatch, entry)["made-up"]
    assert row.family == "made"
    assert row.number("limit_m") == 2.0
    assert row.number("far_m") == pytest.approx(6.096)
    assert not row.is_code


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"why": None}, "rule made-up: lacks why; unknown nothing"),
        ({"colour": "red"}, "rule made-up: lacks nothing; unknown colour"),
        ({"severity": "dire"}, "rule made-up: 'dire' is not a valid Severity"),
        ({"systems": ["dc_48"]}, "rule made-up: 'dc_48' is not a valid VoltageSystem"),
        ({"standing": "hearsay"}, "rule made-up: 'hearsay' is not a valid Standing"),
        (
            {"source": "{made_frac} of it"},
            "rule made-up: its source names 'made_frac', which is no limit of the row",
        ),
        ({"read": {"far_m": ["cautions", "co_distanse", "distance_ft"]}}, "no row with id = co_distanse"),
    ],
)
def test_a_bad_row_is_refused(monkeypatch, change, message):
    entry = {k: v for k, v in (GOOD | change).items() if v is not None}
    with pytest.raises(TableError, match=message):
        read(monkeypatch, entry)


def test_a_rule_named_twice_is_refused(monkeypatch):
    with pytest.raises(TableError, match=r"made\.toml: rule made-up is there twice"):
        read(monkeypatch, GOOD, GOOD)


def test_a_family_without_its_head_is_refused(monkeypatch):
    read(monkeypatch, GOOD, head={"title": "T"})
    with pytest.raises(TableError, match=r"made\.toml: needs \[family\] with place, title and meaning"):
        rows.families.__wrapped__()


def test_a_limit_that_is_not_there_is_refused():
    with pytest.raises(TableError, match="engine-too-close: no numeric limit depth_m; there are distance_m"):
        rule_row("engine-too-close").number("depth_m")


def test_a_word_is_not_a_number():
    with pytest.raises(TableError, match="rule oxygen: no numeric limit word; there are word"):
        rule_row("oxygen").number("word")
