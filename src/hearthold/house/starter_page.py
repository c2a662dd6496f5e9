"""How a new house file is written: tables, keys with their notes beside them, samples of further keys."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

import tomlkit

from hearthold.house.schema import key_notes
from hearthold.house.site import VoltageSystem

_COMMENT_AT = 46  # column of the comments
_GUESS = "(guess) "


def section(
    head: str, name: str, keys: dict[str, tuple[str, bool]], *, note: str = "", more: bool = True
) -> str:
    """One table of the file: its keys with comments, then samples of further keys as comments."""
    lines = [head + (f"  # {note}" if note else "")]
    lines += [_line(f"{key} = {value}", name, key, guess) for key, (value, guess) in keys.items()]
    samples = starter_data()["more"].get(name, {}) if more else {}
    lines += [
        _line(f"# {key} = {value}", name, key, False) for key, value in samples.items() if key not in keys
    ]
    return "\n".join(lines) + "\n"


def _line(text: str, section: str, key: str, guess: bool) -> str:
    return f"{text:<{_COMMENT_AT - 2}}  # {_GUESS if guess else ''}{key_notes()[section][key]}"


def explained_once(parts: list[str]) -> list[str]:
    """Alike tables in a row: keys are explained in the first; later ones only keep the mark of a guess."""
    return parts[:1] + [_unexplained(part) for part in parts[1:]]


def _unexplained(part: str) -> str:
    lines = [line for line in part.split("\n") if not line.startswith("# ")]
    return "\n".join(_bare(line) for line in lines)


def _bare(line: str) -> str:
    text, mark, note = line.partition("  # ")
    if not mark or text.startswith("["):
        return line
    return (
        f"{text.rstrip():<{_COMMENT_AT - 2}}  # {_GUESS.strip()}"
        if note.startswith(_GUESS)
        else text.rstrip()
    )


def quoted(value: str) -> str:
    """Text as TOML writes it."""
    return str(tomlkit.item(str(value)).as_string())


def inline(**values: str) -> str:
    """An inline table of texts."""
    return "{ " + ", ".join(f"{k} = {quoted(v)}" for k, v in values.items()) + " }"


@cache
def starter_data() -> dict[str, Any]:
    """The whole of starter.toml."""
    return tomllib.loads(files("hearthold.house").joinpath("starter.toml").read_text("utf-8"))


def system_data(system: VoltageSystem) -> dict[str, Any]:
    """The part of starter.toml for a voltage system."""
    data: dict[str, Any] = starter_data()[system.value]
    return data
