"""The sheet of paper that a country writes on."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


def writes_on_letter(country: str) -> bool:
    """Whether the country writes on Letter rather than on A4. Source: from memory."""
    return country in _table()["letter"]


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(files("hearthold.papers").joinpath("words/local.toml").read_text("utf-8"))
