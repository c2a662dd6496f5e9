"""Reading a house file: bytes to a checked `House`, or one `HouseFileError` with every located fault."""

from __future__ import annotations

import re
import tomllib
from datetime import date
from pathlib import Path

from pydantic import ValidationError

from hearthold.errors import Fault, HouseFileError
from hearthold.house import locate
from hearthold.house.document import HouseDocument
from hearthold.house.faults import dotted, faults_of
from hearthold.house.house import House
from hearthold.house.pairing import pairing_faults
from hearthold.house.place import PlacedError
from hearthold.house.resolve import resolve

_AT_LINE = re.compile(r"\(at line (\d+)")
LARGEST_BYTES = 2_000_000  # two megabytes hold thousands of loads; more is not a house file


def read_house(path: str | Path, today: date | None = None) -> House:
    """The household in a house file; with a day, past outages must be past. Raises HouseFileError naming file, line,
    key, value and remedy.
    """
    return house_from_text(_text_of(Path(path)), str(path), today)


def house_from_bytes(data: bytes, name: str, today: date | None = None) -> House:
    """The household in the bytes of a house file, as from standard input. Raises HouseFileError."""
    if len(data) > LARGEST_BYTES:
        raise _too_large(len(data), name)
    return house_from_text(_decoded(data, name), name, today)


def house_from_text(text: str, path: str = "house.toml", today: date | None = None) -> House:
    """The household in the text of a house file; `path` is used in messages. Raises HouseFileError."""
    document = document_from_text(text, path)
    faults = pairing_faults(document, path, text, today)
    if faults:
        raise HouseFileError(faults)
    try:
        return resolve(document, Path(path).parent)
    except PlacedError as problem:
        line = locate.line_of(locate.line_index(text), problem.where)
        raise _single(path, line, dotted(problem.where), str(problem), "") from None


def document_from_text(text: str, path: str) -> HouseDocument:
    """The checked document, before pairing checks and catalogue. Raises HouseFileError."""
    raw = _parsed(text, path)
    if not raw:
        raise _single(path, None, "", "is empty.", "Write one with: hearthold new house.toml")
    try:
        return HouseDocument.model_validate(raw)
    except ValidationError as problem:
        raise HouseFileError(faults_of(problem, HouseDocument, path, text)) from None
    except RecursionError:
        raise _single(
            path, None, "", "is nested too deeply.", "A house file needs three levels at most."
        ) from None


def _text_of(path: Path) -> str:
    """The file's text, with every way of not getting it told apart."""
    name = str(path)
    try:
        size = path.stat().st_size
        if path.is_dir():
            raise _single(name, None, "", "is a folder.", "Name the house file inside it.")
        if size > LARGEST_BYTES:
            raise _too_large(size, name)
        with path.open("rb") as file:  # a device may have no end, whatever size it claims
            data = file.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        raise _single(
            name, None, "", "does not exist.", f"Write a starter with: hearthold new {name}"
        ) from None
    except PermissionError:
        raise _single(name, None, "", "may not be read by this user.", "Change its permissions.") from None
    except (OSError, ValueError) as problem:
        raise _single(name, None, "", f"cannot be read ({problem}).", "Check the path.") from None
    if len(data) > LARGEST_BYTES:
        raise _too_large(len(data), name)
    return _decoded(data, name)


def _too_large(size: int, name: str) -> HouseFileError:
    told = f"is {size / 1e6:.1f} MB; a house file has at most {LARGEST_BYTES // 1_000_000} MB."
    return _single(name, None, "", told, "Is this the right file?")


def _decoded(data: bytes, name: str) -> str:
    if b"\x00" in data:
        kind = "looks like UTF-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "is a binary file, not text"
        raise _single(name, None, "", f"{kind}.", "Save it as UTF-8 text.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = data.count(b"\n", 0, problem.start) + 1
        raise _single(
            name, line, "", "is not UTF-8 text at this line.", "Save it with the encoding UTF-8."
        ) from None


def _parsed(text: str, path: str) -> dict[str, object]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        message = str(problem)
        place = _AT_LINE.search(message)
        line = int(place[1]) if place else None
        reason = message.split(" (at")[0]
        raise _single(path, line, "", f"is not valid TOML here: {reason}.", _toml_hint(text, line)) from None
    except (RecursionError, ValueError) as problem:
        raise _single(
            path, None, "", f"is not valid TOML: {problem}.", "Look for a value far too long or deep."
        ) from None


def _toml_hint(text: str, line: int | None) -> str:
    lines = text.split("\n")  # as TOML counts them: a separator inside a value starts no line
    if line is None or line > len(lines):
        return "Is a bracket or a quote left open?"
    return f"The line reads: {lines[line - 1].strip()[:70]!r}. Text values need quotes."


def _single(path: str, line: int | None, key: str, problem: str, remedy: str) -> HouseFileError:
    return HouseFileError((Fault(path, line, key or "the file", "", problem, remedy),))
