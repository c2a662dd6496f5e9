"""Words of a place: its names for things, and the sheet it writes on."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


def swapped(text: str, system: str) -> str:
    """The text with the words of this voltage system for those of the other: petrol for gasoline, or back."""
    for word, ours in _table()["swap"][system].items():
        text = text.replace(word, ours).replace(word.capitalize(), ours.capitalize())
    return text


def writes_on_letter(country: str) -> bool:
    """Whether the country writes on Letter rather than on A4. Source: from memory."""
    return country in _table()["letter"]


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(files("hearthold.papers").joinpath("words/local.toml").read_text("utf-8"))
