"""Each setting is one row; bad values are refused with what is allowed; removed ones still answer."""

import pytest

from hearthold.errors import InputError
from hearthold.faces import settings


def test_rows_are_complete_and_unique():
    names = [row.name for row in settings.SETTINGS]
    assert len(set(names)) == len(names)
    assert all(row.help for row in settings.SETTINGS)
    assert not set(names) & set(settings.REMOVED)


@pytest.mark.parametrize("row", settings.SETTINGS, ids=lambda row: row.name)
def test_default_holds_and_is_allowed(row):
    assert settings.setting(row.name, {}) == row.default
    assert settings.setting(row.name, {f"HEARTHOLD_{row.name.upper()}": row.default}) == row.default


@pytest.mark.parametrize(
    ("name", "value", "wanted"),
    [
        ("units", "imperial", "auto or us or metric"),
        ("width", "wide", "a whole number"),
        ("width", "-3", "a whole number"),
        ("color", "always", "auto or never"),
    ],
)
def test_a_bad_value_is_refused(name, value, wanted):
    with pytest.raises(
        InputError, match=f"HEARTHOLD_{name.upper()} = '{value}' is not allowed; use {wanted}"
    ):
        settings.setting(name, {f"HEARTHOLD_{name.upper()}": value})


def test_a_removed_setting_answers(monkeypatch):
    monkeypatch.setitem(settings.REMOVED, "port", "the page has its own option now")
    assert settings.removed_in_use({"HEARTHOLD_PORT": "1"}) == (
        "HEARTHOLD_PORT is no longer used: the page has its own option now",
    )
    assert settings.removed_in_use({}) == ()
