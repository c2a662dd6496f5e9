"""Where a key stands in a TOML text: the parser gives no line numbers, and errors need them."""

from __future__ import annotations

import re
from collections import defaultdict

Path = tuple[str | int, ...]

_HEADER = re.compile(r"\s*(\[\[?)\s*([^\]]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(
    r"""\s*((?:"[^"]*"|'[^']*'|[A-Za-z0-9_-]+)(?:\s*\.\s*(?:"[^"]*"|'[^']*'|[A-Za-z0-9_-]+))*)\s*="""
)
_QUOTES = re.compile(r"'''|\"\"\"")


def line_index(text: str) -> dict[Path, int]:
    """First line (1-based) of every table and key in the text, by path as pydantic reports it."""
    index: dict[Path, int] = {}
    counts: dict[Path, int] = defaultdict(int)
    prefix: Path = ()
    fence: str | None = None
    for number, line in enumerate(text.splitlines(), start=1):
        if fence is not None:
            fence = None if fence in line else fence
            continue
        header = _HEADER.match(line)
        if header:
            prefix = _enter(_parts(header[2]), header[1] == "[[", counts)
            index.setdefault(prefix, number)
            continue
        key = _KEY.match(line)
        if key:
            index.setdefault(prefix + _parts(key[1]), number)
        fence = _opens_fence(line)
    return index


def line_of(index: dict[Path, int], path: Path) -> int | None:
    """Line of the path, or of the nearest thing around it; None where nothing is known."""
    for depth in range(len(path), 0, -1):
        if path[:depth] in index:
            return index[path[:depth]]
    return None


def _parts(dotted: str) -> Path:
    return tuple(p.strip().strip("\"'") for p in re.findall(r"\"[^\"]*\"|'[^']*'|[^.\s]+", dotted))


def _enter(names: Path, is_array: bool, counts: dict[Path, int]) -> Path:
    """Path of a table header, with the running number of each array of tables on the way."""
    path: Path = ()
    for depth, name in enumerate(names):
        path += (name,)
        last = depth == len(names) - 1
        if last and is_array:
            counts[path] += 1
        if counts.get(path):
            path += (counts[path] - 1,)
    return path


def _opens_fence(line: str) -> str | None:
    marks = _QUOTES.findall(line)
    return marks[0] if len(marks) % 2 else None
