"""Every setting of the faces: one row each with its name, default and help. Removed ones still answer."""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import NamedTuple

from hearthold.errors import InputError

PREFIX = "HEARTHOLD_"


class Setting(NamedTuple):
    """One setting, read from the environment under PREFIX + its name in capitals."""

    name: str
    default: str
    allowed: tuple[str, ...]  # empty: any whole number
    help: str


SETTINGS = (
    Setting("units", "auto", ("auto", "us", "metric"), "units of the printed page; auto follows the house"),
    Setting("color", "auto", ("auto", "never"), "colour at a terminal; NO_COLOR also switches it off"),
    Setting("width", "0", (), "width of the printed page in columns; 0 follows the terminal, at most 100"),
)
REMOVED: dict[str, str] = {}  # name of a setting that is gone: what to do instead


def setting(name: str, environment: Mapping[str, str] | None = None) -> str:
    """Value of a setting. Raises InputError on a value that is not allowed."""
    row = next(row for row in SETTINGS if row.name == name)
    value = (
        (os.environ if environment is None else environment).get(PREFIX + name.upper(), row.default).strip()
    )
    good = value in row.allowed if row.allowed else value.isdecimal() and len(value) < 5
    if not good:
        wanted = " or ".join(row.allowed) if row.allowed else "a whole number"
        raise InputError(
            f"{PREFIX}{name.upper()} = {value[:40]!r} is not allowed; use {wanted}, or unset it.",
            code="bad_setting",
            name=name,
            value=value,
        )
    return value


def removed_in_use(environment: Mapping[str, str] | None = None) -> tuple[str, ...]:
    """One sentence for each removed setting that the environment still gives."""
    given = os.environ if environment is None else environment
    return tuple(
        f"{PREFIX}{n.upper()} is no longer used: {why}"
        for n, why in REMOVED.items()
        if PREFIX + n.upper() in given
    )
