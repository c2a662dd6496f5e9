"""An error met while gaps are filled, tied to the part of the house file it is about."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from hearthold.errors import InputError, TableError
from hearthold.house.locate import Path


class PlacedError(InputError):
    """A value that passed its own check cannot be used with the others; `where` is its place in the file."""

    def __init__(self, message: str, where: Path) -> None:
        super().__init__(message, code="unresolved", where=where)
        self.where = where


@contextmanager
def placed(*where: str | int) -> Iterator[None]:
    """Gives an InputError or TableError raised inside the place `where`. Raises PlacedError."""
    try:
        yield
    except PlacedError:
        raise
    except (InputError, TableError) as problem:
        raise PlacedError(str(problem), where) from problem
