"""What a document is made of: headings, sentences, tables, figures, cautions, as plain values.

Text is text: no piece of it is ever read as markup, by the typesetter or by anything else.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass, field
from typing import Any

from hearthold.papers.fontfile import printable
from hearthold.papers.svg import Figure

BOLD, QUIET, ALARM, ASSUMED, TICK, TICKED = "bold", "quiet", "alarm", "assumed", "tick", "ticked"
# A figure keeps its unit.
_UNIT = re.compile(r"(?<=\d) (?=(?:h|min|s|d|W|kW|VA|kVA|A|V|gal|L|ft|m|°F|°C|%)\b|%)")
_LONGEST = 18  # letters of a word that a narrow column still holds whole


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of a table: words, and how they stand out."""

    text: str
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: head with its unit, figures to the right, share of the width (0: as needed)."""

    head: str
    figures: bool = False
    share: float = 0.0


@dataclass(frozen=True, slots=True)
class Heading:
    """The head of a section; levels 1 and 2 are in the bookmarks."""

    text: str
    level: int = 1
    kind: str = field(default="heading", init=False)


@dataclass(frozen=True, slots=True)
class Words:
    """Running text; `role` may be lead, quiet or plain."""

    text: str
    role: str = "plain"
    kind: str = field(default="words", init=False)


@dataclass(frozen=True, slots=True)
class Points:
    """A list; `numbered` where the order matters, `boxes` to tick, `quiet` for sources that bear their number."""

    items: tuple[str, ...]
    numbered: bool = False
    boxes: bool = False
    quiet: bool = False
    kind: str = field(default="points", init=False)


@dataclass(frozen=True, slots=True)
class Pairs:
    """Names and values side by side."""

    rows: tuple[tuple[str, str], ...]
    kind: str = field(default="pairs", init=False)


@dataclass(frozen=True, slots=True)
class Table:
    """A table with heads that repeat on every page. `caption` names it, with units."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    caption: str = ""
    kind: str = field(default="table", init=False)


@dataclass(frozen=True, slots=True)
class Drawn:
    """A figure with its caption and text alternative; one that floats may head a page near by."""

    svg: str
    alt: str
    caption: str
    floats: bool = False
    kind: str = field(default="figure", init=False)


@dataclass(frozen=True, slots=True)
class Warn:
    """A caution, printed where the danger is."""

    text: str
    kind: str = field(default="caution", init=False)


@dataclass(frozen=True, slots=True)
class Found:
    """One finding: severity in words, title, place, why, what to do, and whose rule it is.

    `warned`: its caution follows and belongs on the same page.
    """

    severity: str
    title: str
    where: str
    why: str
    remedy: str
    source: str
    warned: bool = False
    kind: str = field(default="finding", init=False)


@dataclass(frozen=True, slots=True)
class Blanks:
    """Lines to fill in by hand, each with its label."""

    labels: tuple[str, ...]
    kind: str = field(default="blanks", init=False)


@dataclass(frozen=True, slots=True)
class Break:
    """A new page."""

    kind: str = field(default="break", init=False)


@dataclass(frozen=True, slots=True)
class Together:
    """Blocks that stay on one page; to be kept well below a page's height."""

    blocks: tuple[Block, ...]
    kind: str = field(default="together", init=False)


Block = Heading | Words | Points | Pairs | Table | Drawn | Warn | Found | Blanks | Break | Together


def drawn(figure: Figure, floats: bool = False) -> Drawn:
    """A figure as a block."""
    return Drawn(figure.svg, figure.text, figure.caption, floats)


def table(columns: Sequence[Column], rows: Iterable[Iterable[str | Cell]], caption: str = "") -> Table:
    """A table from plain words and marked cells."""
    made = tuple(tuple(c if isinstance(c, Cell) else Cell(c) for c in row) for row in rows)
    return Table(tuple(columns), made, caption)


def data_of(block: Block) -> dict[str, Any]:
    """A block as JSON values, every text printable and able to break."""
    return {key: _ready(key, value) for key, value in asdict(block).items()}


def breakable(text: str) -> str:
    """The text as it can be set: letters that exist, and words too long for a line given places to break."""
    shown = printable(text).replace(" degC", " °C")  # as the layers below write it, in plain letters
    return _UNIT.sub("\u00a0", " ".join(_split(word) for word in shown.split(" ")))


def _split(word: str) -> str:
    if len(word) <= _LONGEST or not any(c.isalnum() for c in word):
        return word
    return "\u200b".join(word[i : i + _LONGEST] for i in range(0, len(word), _LONGEST))


def _ready(key: str, value: Any) -> Any:
    if key == "svg":
        return value
    if isinstance(value, str):
        return breakable(value)
    if isinstance(value, dict):
        return {k: _ready(k, v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_ready(key, v) for v in value]
    return value
