"""From TOML to a Table: everything a table must say, refused with file, row and column when it does not."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from importlib.resources import files
from itertools import pairwise
from types import MappingProxyType
from typing import Any

from hearthold.errors import TableError
from hearthold.quantities.source import Source, Standing
from hearthold.quantities.units import dimensions
from hearthold.reference.shape import TRUST, Cell, Column, ColumnUnit, Row, Table

SYSTEMS = ("split_120_240", "single_230")
_HEAD_NEEDED = {"title", "meaning", "source", "standing", "key", "columns"}
_HEAD_KNOWN = _HEAD_NEEDED | {"edition", "systems", "note"}
_COLUMN_KNOWN = {
    "unit",
    "meaning",
    "required",
    "range",
    "choices",
    "refers_to",
    "monotone",
    "within",
    "standing",
}
_ROW_EXTRA = {"source", "standing", "note", "seen", "systems"}
_TURNS: dict[str, Callable[[float, float], bool]] = {
    "up": lambda a, b: b >= a,
    "strict_up": lambda a, b: b > a,
    "down": lambda a, b: b <= a,
    "strict_down": lambda a, b: b < a,
}

Raw = Mapping[str, Any]


@cache
def column_units() -> Mapping[str, ColumnUnit]:
    """Every unit a column may carry, read once from column_units.toml. Raises TableError."""
    raw = tomllib.loads(files("hearthold.reference").joinpath("column_units.toml").read_text("utf-8"))
    found = {}
    for name, row in raw.items():
        unit = ColumnUnit(name, tuple(row["ends"]), row.get("dimension", ""), row.get("unit", name))
        if unit.dimension and unit.spelt not in dimensions()[unit.dimension].units:
            raise TableError(f"column_units.toml: {unit.spelt} is not a unit of {unit.dimension}")
        found[name] = unit
    return MappingProxyType(found)


def parse_table(place: str, head: str, pages: Iterable[tuple[str, str]] = ()) -> Table:
    """A table from the text of its file, or of its head and (file name, text) pages of rows.

    Raises: TableError naming file, row and column of what is missing, unknown, out of range or order.
    """
    raw = _toml(place, head)
    table_head = _checked_head(place, raw)
    columns = {n: _column(place, n, c) for n, c in table_head["columns"].items()}
    rows = [_row(p, table_head, columns, r) for p, r in _rows(place, raw)]
    for page, text in pages:
        rows += [_row(p, table_head, columns, r) for p, r in _rows(page, _toml(page, text))]
    if not rows:
        raise TableError(f"{place}: no rows")
    table = _assembled(place, table_head, columns, rows)
    _check_order(table)
    return table


def _assembled(name: str, head: Raw, columns: dict[str, Column], rows: list[Row]) -> Table:
    key = tuple(head["key"])
    return Table(
        name=name.removesuffix(".toml").removesuffix("/"),
        title=head["title"],
        meaning=head["meaning"],
        source=Source(head["source"], _standing(name, head["standing"])),
        edition=head.get("edition", ""),
        systems=_systems(name, head.get("systems", SYSTEMS)),
        note=head.get("note", ""),
        key=key,
        columns=MappingProxyType(columns),
        rows=tuple(rows),
        index=MappingProxyType(_index(name, key, columns, rows)),
    )


def _toml(place: str, text: str) -> Raw:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise TableError(f"{place}: not readable as TOML: {error}") from error


def _checked_head(name: str, raw: Raw) -> Raw:
    head: Raw = raw.get("table", {})
    missing = sorted(_HEAD_NEEDED - set(head))
    if missing:
        raise TableError(f"{name}: the head lacks {', '.join(missing)}")
    unknown = sorted((set(head) - _HEAD_KNOWN) | (set(raw) - {"table", "row", "grid"}))
    if unknown:
        raise TableError(f"{name}: unknown key {', '.join(unknown)} in the head")
    blank = [k for k in ("title", "meaning", "source") if not str(head[k]).strip()]
    if blank:
        raise TableError(f"{name}: {', '.join(blank)} is empty")
    return head


def _column(table: str, name: str, raw: Raw) -> Column:
    place = f"{table}, column {name}"
    unknown = sorted(set(raw) - _COLUMN_KNOWN)
    if unknown or not raw.get("meaning") or "unit" not in raw:
        raise TableError(
            f"{place}: needs unit and meaning" + (f"; unknown key {', '.join(unknown)}" if unknown else "")
        )
    low, high = raw.get("range", (float("-inf"), float("inf")))
    monotone = raw.get("monotone", "")
    if monotone and monotone not in _TURNS:
        raise TableError(f"{place}: monotone is {monotone!r}; use one of {', '.join(_TURNS)}")
    return Column(
        name=name,
        unit=_unit(place, name, raw["unit"]),
        meaning=raw["meaning"],
        required=raw.get("required", True),
        low=float(low),
        high=float(high),
        choices=tuple(raw.get("choices", ())),
        refers_to=raw.get("refers_to", ""),
        monotone=monotone,
        within=tuple(raw.get("within", ())),
        standing=_standing(place, raw["standing"]) if "standing" in raw else None,
    )


def _unit(place: str, name: str, unit: str) -> ColumnUnit:
    known = column_units()
    if unit not in known:
        raise TableError(f"{place}: unknown unit {unit!r}; column_units.toml lists those known")
    ends = known[unit].ends
    if ends and not any(name == e or name.endswith(f"_{e}") for e in ends):
        raise TableError(f"{place}: the name must end in {' or '.join(ends)}, its unit being {unit}")
    return known[unit]


def _standing(place: str, text: str) -> Standing:
    if text not in {s.value for s in TRUST}:
        raise TableError(f"{place}: standing is {text!r}; use one of {', '.join(s.value for s in TRUST)}")
    return Standing(text)


def _systems(place: str, names: Iterable[str]) -> tuple[str, ...]:
    strange = sorted(set(names) - set(SYSTEMS))
    if strange:
        raise TableError(f"{place}: unknown voltage system {', '.join(strange)}; use {' or '.join(SYSTEMS)}")
    return tuple(names)


def _rows(place: str, raw: Raw) -> Iterable[tuple[str, Raw]]:
    """Rows written as [[row]] blocks, then those of [grid], a blank cell there being an empty string."""
    for number, row in enumerate(raw.get("row", []), 1):
        yield f"{place}, row {number}", row
    grid = raw.get("grid", {"columns": [], "rows": []})
    for number, cells in enumerate(grid["rows"], 1):
        where = f"{place}, grid row {number}"
        if len(cells) != len(grid["columns"]):
            raise TableError(f"{where}: {len(cells)} cells for {len(grid['columns'])} columns")
        yield where, {n: c for n, c in zip(grid["columns"], cells, strict=True) if c != ""}


def _row(place: str, head: Raw, columns: dict[str, Column], raw: Raw) -> Row:
    unknown = sorted(set(raw) - set(columns) - _ROW_EXTRA)
    if unknown:
        raise TableError(f"{place}: unknown column {', '.join(unknown)}")
    for name, column in columns.items():
        if column.required and name not in raw:
            raise TableError(f"{place}: column {name} is missing")
    cells = {n: _cell(f"{place}, column {n}", columns[n], raw[n]) for n in columns if n in raw}
    seen = frozenset(raw["seen"]) if "seen" in raw else None
    if seen is not None and not seen <= set(cells):
        raise TableError(
            f"{place}: seen names {', '.join(sorted(seen - set(cells)))}, which the row does not hold"
        )
    return Row(
        place=place,
        columns=MappingProxyType(columns),
        cells=MappingProxyType(cells),
        cited=str(raw.get("source", head["source"])),
        standing=_standing(place, raw.get("standing", head["standing"])),
        note=raw.get("note", ""),
        seen=seen,
        systems=_systems(place, raw.get("systems", head.get("systems", SYSTEMS))),
    )


def _cell(place: str, column: Column, value: Any) -> Cell:
    kind = column.unit.name
    if kind in ("text", "AWG"):
        return _text_cell(place, column, value)
    if kind == "flag":
        if not isinstance(value, bool):
            raise TableError(f"{place}: {value!r} is neither true nor false")
        return value
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TableError(f"{place}: {value!r} is not a number")
    if not column.low <= value <= column.high:
        raise TableError(f"{place}: {value:g} {kind} is outside {column.low:g} to {column.high:g}")
    return float(value)


def _text_cell(place: str, column: Column, value: Any) -> str:
    if not isinstance(value, str) or not value.strip():
        raise TableError(f"{place}: {value!r} is not text")
    if column.choices and value not in column.choices:
        raise TableError(f"{place}: {value!r} is not one of {', '.join(column.choices)}")
    return value


def _index(
    name: str, key: tuple[str, ...], columns: dict[str, Column], rows: list[Row]
) -> dict[tuple[Cell, ...], Row]:
    strange = [k for k in key if k not in columns]
    if strange or not key:
        raise TableError(f"{name}: key names {', '.join(strange) or 'nothing'}, which is no column")
    found: dict[tuple[Cell, ...], Row] = {}
    for row in rows:
        try:
            value = tuple(row.cells[k] for k in key)
        except KeyError as error:
            raise TableError(f"{row.place}: column {error.args[0]} names the row and is blank") from error
        if value in found:
            raise TableError(f"{row.place}: {', '.join(map(str, value))} is named twice")
        found[value] = row
    return found


def _check_order(table: Table) -> None:
    """Refuse a column that does not rise or fall as it says, within rows alike in its `within` columns."""
    for column in table.columns.values():
        if not column.monotone:
            continue
        groups: dict[tuple[Cell | None, ...], list[Row]] = {}
        for row in (r for r in table.rows if column.name in r):
            groups.setdefault(tuple(row.cells.get(w) for w in column.within), []).append(row)
        for rows in groups.values():
            _check_run(column, rows)


def _check_run(column: Column, rows: list[Row]) -> None:
    holds = _TURNS[column.monotone]
    for before, after in pairwise(rows):
        a, b = before.number(column.name), after.number(column.name)
        if not holds(a, b):
            raise TableError(
                f"{after.place}, column {column.name}: {b:g} follows {a:g}, but it is {column.monotone}"
            )
