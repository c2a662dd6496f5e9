"""The pieces every report is built from: headings, sentences, tables, marked values. Plain ASCII throughout.

Meaning never rests on colour: severities are words, assumed values carry a sign, and a page sent to a file
reads the same as one at a terminal.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from rich.box import Box
from rich.console import Console, ConsoleOptions, Group, RenderableType, RenderResult
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

INDENT = 2
_GAP = 2  # blanks between columns
_NOTHING = ("", "-")  # a cell with nothing to say
_READABLE = 12  # a column of words is never narrower than this, or than its words
ASSUMED = "~"  # stands before a value the household did not give

# Only the line below the heads, broken between columns; everything else is white space.
_OPEN = Box("    \n    \n -  \n    \n    \n    \n    \n    \n", ascii=True)

STYLES = {
    "danger": "bold red",
    "act": "bold yellow",
    "consider": "bold",
    "note": "",
    "head": "bold",
    "quiet": "dim",
    "caution": "bold red",
}


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its head with unit, and whether it holds figures."""

    head: str
    figures: bool = False
    narrow: int | None = None  # least width
    copied: bool = False  # words to be copied as they stand, so never broken


def plain(text: str) -> str:
    """The words of a rule or table as this page prints units: F and C without the ring, m2 for square metres."""
    return text.replace("\N{DEGREE SIGN}", "").replace("\N{SUPERSCRIPT TWO}", "2")


def title(text: str, page: Console) -> RenderableType:
    """The page's first line, with a double rule below it."""
    return Group(Text(text, style="bold"), Text("=" * min(len(text), page.width)))


def heading(text: str, page: Console) -> RenderableType:
    """A section's head: a blank line, the words, and a rule as long as the words."""
    return Group(
        Text(""),
        Text(text, style=STYLES["head"]),
        Text("-" * min(len(text), page.width), style=STYLES["quiet"]),
    )


def sentence(text: str | Text, indent: int = 0) -> RenderableType:
    """Running text, wrapped at words."""
    return Padding(text if isinstance(text, Text) else Text(text), (0, 0, 0, indent))


def points(items: Iterable[str], indent: int = INDENT) -> RenderableType:
    """Numbered sentences with a hanging indent."""
    grid = Table.grid(padding=(0, 1))
    grid.add_column(justify="right", no_wrap=True)
    grid.add_column()
    for number, item in enumerate(items, start=1):
        grid.add_row(Text(f"{number}."), Text(item))
    return Padding(grid, (0, 0, 0, indent))


def table(
    columns: Sequence[Column], rows: Iterable[Sequence[str | Text]], indent: int = INDENT
) -> RenderableType:
    """Figures to the right, words to the left, heads underlined, nothing boxed in; on a page too narrow for
    that, each row as a sentence.
    """
    return _Fitting(tuple(columns), tuple(tuple(row) for row in rows), indent)


@dataclass(frozen=True, slots=True)
class _Fitting:
    """A table where the page is wide enough for it, else the same rows one below the other."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str | Text, ...], ...]
    indent: int

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        fits = self._least() <= options.max_width
        yield Padding(self._table() if fits else Group(*self._stacked()), (0, 0, 0, self.indent))

    def _least(self) -> int:
        """Columns of the page below which words would be cut in two."""
        cells = zip(*[[column.head for column in self.columns], *self.rows], strict=True)
        widths = (
            _least_width(c, [str(x) for x in found]) for c, found in zip(self.columns, cells, strict=True)
        )
        return sum(widths) + _GAP * (len(self.columns) - 1) + self.indent

    def _table(self) -> RenderableType:
        made = Table(box=_OPEN, pad_edge=False, padding=(0, 1, 0, 0), show_edge=False, header_style="bold")
        for column in self.columns:
            made.add_column(
                column.head,
                justify="right" if column.figures else "left",
                vertical="top",
                no_wrap=column.figures or column.copied,
                min_width=column.narrow,
                overflow="fold",
            )
        for row in self.rows:
            made.add_row(*(cell if isinstance(cell, Text) else Text(cell) for cell in row))
        return made

    def _stacked(self) -> Iterator[RenderableType]:
        for row in self.rows:
            names = 1 if self.columns[0].head else 2  # a number in front of the name belongs to it
            yield Text(" ".join(str(cell) for cell in row[:names]), style="bold")
            told = zip(self.columns[names:], row[names:], strict=True)
            text = "; ".join(f"{c.head} {cell}".strip() for c, cell in told if str(cell) not in _NOTHING)
            if text:
                yield Padding(Text(text), (0, 0, 0, 2 * INDENT))


def _least_width(column: Column, cells: list[str]) -> int:
    """Figures are never broken; words are broken only between each other."""
    if column.figures or column.copied:
        return max(map(len, cells))
    longest_word = max(len(word) for cell in cells for word in [*cell.split(), ""])
    return max(longest_word, min(_READABLE, max(map(len, cells))), column.narrow or 0)


def pairs(rows: Iterable[tuple[str, str]], indent: int = INDENT) -> RenderableType:
    """Name and value side by side, values hanging."""
    grid = Table.grid(padding=(0, 2))
    grid.add_column(no_wrap=True)
    grid.add_column()
    for name, value in rows:
        grid.add_row(Text(name), Text(value))
    return Padding(grid, (0, 0, 0, indent))


def listing(name: str, meaning: str, tail: str) -> RenderableType:
    """One entry of a long list: its name, then the meaning and a detail on the next line."""
    text = Text(f"{meaning} ({tail})" if tail else meaning)
    return Group(Text(name, style="bold"), Padding(text, (0, 0, 0, 4)))


def caution(text: str, indent: int = INDENT) -> RenderableType:
    """A warning where the danger is; the word stands without its colour too."""
    grid = Table.grid(padding=(0, 1))
    grid.add_column(no_wrap=True)
    grid.add_column()
    grid.add_row(Text("CAUTION", style=STYLES["caution"]), Text(text))
    return Padding(grid, (0, 0, 0, indent))


def blank() -> RenderableType:
    """An empty line."""
    return Text("")


def remarks(notes: Iterable[str], indent: int = 0) -> Iterator[RenderableType]:
    """What was taken for granted, each once, quietly."""
    said = tuple(dict.fromkeys(note for note in notes if note))
    if said:
        text = "Taken for granted: " + "; ".join(note.rstrip(".") for note in said) + "."
        yield Padding(Text(text, style=STYLES["quiet"]), (0, 0, 0, indent))
