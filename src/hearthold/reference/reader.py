"""The door to the published tables: `table("cold_appliances")` reads one once, checks it and keeps it."""

from __future__ import annotations

import difflib
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable

from hearthold.errors import TableError
from hearthold.reference.parsing import parse_table
from hearthold.reference.shape import Table

_HEAD = "_head.toml"


@cache
def table_places() -> dict[str, Traversable]:
    """Where each table lies, by name: a file `name.toml`, or a folder with `_head.toml` and pages of rows."""
    root = files("hearthold.reference").joinpath("tables")
    found = {}
    for place in sorted(root.iterdir(), key=lambda p: p.name):
        if place.is_dir() and place.joinpath(_HEAD).is_file():
            found[place.name] = place
        elif place.name.endswith(".toml"):
            found[place.name.removesuffix(".toml")] = place
    return found


@cache
def table(name: str) -> Table:
    """A table by name, read on first use.

    Raises: TableError if there is none of that name (with near names), or if its file breaks a rule.
    """
    places = table_places()
    if name not in places:
        near = difflib.get_close_matches(name, places, n=4, cutoff=0.4)
        raise TableError(f"no table {name!r}; {'near: ' if near else 'known: '}{', '.join(near or places)}")
    found = read_place(name, places[name])
    _check_references(found)
    return found


def read_place(name: str, place: Traversable) -> Table:
    """The table in a file, or in a folder of pages. Raises TableError if it breaks a rule."""
    if place.is_file():
        return parse_table(f"{name}.toml", place.read_text("utf-8"))
    pages = sorted(
        (p for p in place.iterdir() if p.name.endswith(".toml") and p.name != _HEAD), key=lambda p: p.name
    )
    head = place.joinpath(_HEAD).read_text("utf-8")
    return parse_table(f"{name}/", head, [(f"{name}/{p.name}", p.read_text("utf-8")) for p in pages])


def _check_references(found: Table) -> None:
    """Refuse a cell that should name a row of another table and does not."""
    for column in found.columns.values():
        if not column.refers_to:
            continue
        known = set(table(column.refers_to).names())
        for row in (r for r in found if column.name in r):
            named = row.text(column.name)
            if named not in known:
                raise TableError(
                    f"{row.place}, column {column.name}: {named!r} is no row of {column.refers_to}"
                )
