"""The shape of a reference table: columns with units, rows with a source, lookups that explain a miss."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from hearthold.errors import TableError
from hearthold.quantities.source import Source, Standing
from hearthold.quantities.units import dimensions

Cell = str | float | bool

# Weakest last: a cell is never trusted more than its row or its column.
TRUST = (Standing.SEEN, Standing.COMPUTED, Standing.PRACTICE, Standing.MEMORY)


@dataclass(frozen=True, slots=True)
class ColumnUnit:
    """A unit that a column may carry: the endings of its name and, for a quantity, its dimension."""

    name: str
    ends: tuple[str, ...]
    dimension: str
    spelt: str

    def to_si(self, value: float) -> float:
        """SI value; a pure number (ratio, count, year) stays as it is."""
        return dimensions()[self.dimension].to_si(value, self.spelt) if self.dimension else value


@dataclass(frozen=True, slots=True)
class Column:
    """One column as its table declares it."""

    name: str
    unit: ColumnUnit
    meaning: str
    required: bool = True
    low: float = float("-inf")
    high: float = float("inf")
    choices: tuple[str, ...] = ()
    refers_to: str = ""
    monotone: str = ""
    within: tuple[str, ...] = ()
    standing: Standing | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its cells as published, and where they come from."""

    place: str
    columns: Mapping[str, Column]
    cells: Mapping[str, Cell]
    cited: str
    standing: Standing
    note: str
    seen: frozenset[str] | None
    systems: tuple[str, ...]

    def __contains__(self, column: str) -> bool:
        return column in self.cells

    def text(self, column: str) -> str:
        """Text of a cell. Raises TableError if it is blank or not text."""
        value = self._cell(column)
        if not isinstance(value, str):
            raise TableError(f"{self.place}, column {column}: {value!r} is not text")
        return value

    def number(self, column: str) -> float:
        """Number of a cell in its published unit. Raises TableError if it is blank or not a number."""
        value = self._cell(column)
        if isinstance(value, bool | str):
            raise TableError(f"{self.place}, column {column}: {value!r} is not a number")
        return value

    def flag(self, column: str) -> bool:
        """True or false of a cell. Raises TableError if it is blank or neither."""
        value = self._cell(column)
        if not isinstance(value, bool):
            raise TableError(f"{self.place}, column {column}: {value!r} is neither true nor false")
        return value

    def si(self, column: str) -> float:
        """Number of a cell in SI. Raises TableError if it is blank or not a number."""
        value = self.number(column)
        return self.columns[column].unit.to_si(value)

    def si_or_none(self, column: str) -> float | None:
        """Number of a cell in SI, or None where the table leaves it blank."""
        return self.si(column) if column in self.cells else None

    def source(self, *columns: str) -> Source:
        """Where the row's figures, or the named cells, come from; the standing is the weakest of them."""
        figures = (n for n, v in self.cells.items() if not isinstance(v, str | bool))
        names = columns or tuple(figures) or tuple(self.cells)
        return Source(self.cited, max((self.standing_of(c) for c in names), key=TRUST.index))

    def standing_of(self, column: str) -> Standing:
        """How far one cell can be trusted: never more than its row, its column or its list of seen cells."""
        if self.seen is not None:
            return Standing.SEEN if column in self.seen else Standing.MEMORY
        of_column = self.columns[column].standing
        return max(self.standing, of_column or self.standing, key=TRUST.index)

    def _cell(self, column: str) -> Cell:
        if column not in self.columns:
            raise TableError(f"{self.place}: no column {column}; there are {', '.join(self.columns)}")
        if column not in self.cells:
            raise TableError(f"{self.place}, column {column}: the table leaves this blank")
        return self.cells[column]


@dataclass(frozen=True, slots=True)
class Table:
    """One published table: head, columns, rows, and the columns that name a row."""

    name: str
    title: str
    meaning: str
    source: Source
    edition: str
    systems: tuple[str, ...]
    note: str
    key: tuple[str, ...]
    columns: Mapping[str, Column]
    rows: tuple[Row, ...]
    index: Mapping[tuple[Cell, ...], Row]

    def __iter__(self) -> Iterator[Row]:
        return iter(self.rows)

    def __len__(self) -> int:
        return len(self.rows)

    def row(self, *key: Cell) -> Row:
        """The row of this key, given in the order of the key columns. Raises TableError with near names."""
        found = self.index.get(tuple(_plain(k) for k in key))
        if found is None:
            raise TableError(self._miss(key))
        return found

    def where(self, **equal: Cell) -> tuple[Row, ...]:
        """Rows whose cells equal the given ones, in the order of the file."""
        wanted = {name: _plain(value) for name, value in equal.items()}
        return tuple(r for r in self.rows if all(r.cells.get(n) == v for n, v in wanted.items()))

    def names(self, column: str = "") -> tuple[Cell, ...]:
        """Different values of a column (the first key column if none is named), in the order of the file."""
        name = column or self.key[0]
        return tuple(dict.fromkeys(r.cells[name] for r in self.rows if name in r.cells))

    def _miss(self, key: tuple[Cell, ...]) -> str:
        asked, known = _show(key), [_show(k) for k in self.index]
        near = difflib.get_close_matches(asked, known, n=4, cutoff=0.5)
        columns = ", ".join(self.key)
        hint = f"near: {'; '.join(near)}" if near else f"known: {_clip(known)}"
        return f"table {self.name} has no row with {columns} = {asked}; {hint}"


def _plain(value: Cell) -> Cell:
    """Numbers compare as floats, so that 60 finds 60.0."""
    return value if isinstance(value, str | bool) else float(value)


def _show(key: tuple[Cell, ...]) -> str:
    return ", ".join(k if isinstance(k, str) else f"{k:g}" for k in key)


def _clip(known: list[str], most: int = 40) -> str:
    return "; ".join(known[:most]) + ("; ..." if len(known) > most else "")
