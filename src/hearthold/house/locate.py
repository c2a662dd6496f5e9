"""Where a key stands in a TOML text: the parser gives no line numbers, and errors need them.

The text has already been read by the parser, so this walk may trust its grammar and only counts lines.
"""

from __future__ import annotations

import re
import tomllib
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

Path = tuple[str | int, ...]

_TOKEN = re.compile(
    r'''(?P<text>"""(?:[^\\]|\\.)*?"{3,5}|\'\'\'.*?'{3,5}|"(?:[^"\\\n]|\\.)*"|'[^'\n]*')'''
    r"""|(?P<skip>\#[^\n]*|[ \t\r]+)|(?P<mark>[\[\]{},=\n])|(?P<word>[^\s\[\]{},="'\#]+|.)""",
    re.S,
)


@dataclass(frozen=True, slots=True)
class _Token:
    kind: str
    text: str
    line: int


_END = _Token("end", "", 0)


def line_index(text: str) -> dict[Path, int]:
    """First line (1-based) of every table, key and list entry in the text, by path as pydantic reports it."""
    return _Walk(text).document()


def line_of(index: dict[Path, int], path: Path) -> int | None:
    """Line of the path, or of the nearest thing around it; None where nothing is known."""
    for depth in range(len(path), 0, -1):
        if path[:depth] in index:
            return index[path[:depth]]
    return None


class _Walk:
    """One pass over the tokens of a document, noting the line of each path."""

    def __init__(self, text: str) -> None:
        self.tokens = list(_tokens(text))
        self.at = 0
        self.index: dict[Path, int] = {}
        self.counts: dict[Path, int] = defaultdict(int)

    def document(self) -> dict[Path, int]:
        table: Path = ()
        while (token := self.peek()) is not _END:
            if token.text == "\n":
                self.at += 1
            elif token.text == "[":
                table = self.header()
            else:
                self.pair(table)
        return self.index

    def peek(self) -> _Token:
        return self.tokens[self.at] if self.at < len(self.tokens) else _END

    def next(self) -> _Token:
        token = self.peek()
        self.at += 1
        return token

    def note(self, path: Path, line: int) -> None:
        for depth in range(len(path), 0, -1):
            self.index.setdefault(path[:depth], line)

    def header(self) -> Path:
        """Path of a table header, with the running number of each array of tables on the way."""
        line = self.next().line
        is_array = self.peek().text == "["
        self.at += is_array
        path: Path = ()
        names = self.key("]")
        for depth, name in enumerate(names, start=1):
            path += (name,)
            if depth == len(names) and is_array:
                self.counts[path] += 1
            if self.counts.get(path):
                path += (self.counts[path] - 1,)
        self.at += is_array
        self.note(path, line)
        return path

    def pair(self, table: Path) -> None:
        """A key and its value."""
        line = self.peek().line
        path = table + self.key("=")
        self.note(path, line)
        self.value(path)

    def key(self, end: str) -> Path:
        """Parts of a dotted key, up to and with the mark that ends it."""
        parts: list[str] = []
        while (token := self.next()) is not _END and token.text != end:
            if token.kind == "text":
                parts.append(str(tomllib.loads(f"key = {token.text}")["key"]))
            else:
                parts += [part for part in token.text.split(".") if part]
        return tuple(parts)

    def value(self, path: Path) -> None:
        """Whatever stands after the equals sign, noting what is inside lists and inline tables."""
        opening = self.peek().text
        if opening not in ("[", "{"):
            while self.peek().kind in ("text", "word"):
                self.at += 1
            if self.peek().text not in (",", "]", "}"):
                self.at += 1
            return
        self.at += 1
        entry = 0
        while (token := self.peek()) is not _END and token.text not in ("]", "}"):
            if token.text in (",", "\n"):
                self.at += 1
                entry += token.text == ","
            elif opening == "{":
                self.pair(path)
            else:
                self.note((*path, entry), token.line)
                self.value((*path, entry))
        self.at += 1


def _tokens(text: str) -> Iterator[_Token]:
    line = 1
    for match in _TOKEN.finditer(text):
        kind, found = match.lastgroup or "", match.group()
        if kind != "skip":
            yield _Token(kind, found, line)
        line += found.count("\n")
