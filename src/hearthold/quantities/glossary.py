"""The glossary as data: every quantity's name, unit, meaning and range, and the check that uses them."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from math import isnan
from typing import Any

from hearthold.errors import InputError, TableError


@dataclass(frozen=True, slots=True)
class Term:
    """One quantity as the whole program names it."""

    name: str
    unit: str
    meaning: str
    low: float
    high: float
    family: str


@cache
def terms() -> dict[str, Term]:
    """Every term by name, read once from the files in pages/. Raises TableError on a name given twice."""
    found: dict[str, Term] = {}
    folder = files("hearthold.quantities").joinpath("pages")
    for page in sorted(folder.iterdir(), key=lambda p: p.name):
        if not page.name.endswith(".toml"):
            continue
        for name, row in tomllib.loads(page.read_text("utf-8")).items():
            if name in found:
                raise TableError(f"glossary: {name} is defined in {found[name].family} and in {page.name}")
            low, high = row["range"]
            found[name] = Term(name, row["unit"], row["meaning"], float(low), float(high), page.name[:-5])
    return found


def require(**values: Any) -> None:
    """Refuse values (scalars or arrays) outside their glossary range. Raises InputError, TableError."""
    table = terms()
    for name, value in values.items():
        term = table.get(name)
        if term is None:
            raise TableError(f"glossary: {name} is not defined")
        low, high = _extent(name, value)
        if not (term.low <= low and high <= term.high):
            shown = low if not term.low <= low else high
            raise InputError(
                f"{name} is {shown:g} {term.unit}; allowed {term.low:g} to {term.high:g} {term.unit} "
                f"({term.meaning}).",
                code="out_of_range",
                name=name,
                value=shown,
                low=term.low,
                high=term.high,
            )


def _extent(name: str, value: Any) -> tuple[float, float]:
    """Lowest and highest element; NaN anywhere is returned as NaN so that the range test fails."""
    if getattr(value, "size", 1) == 0:
        raise InputError(f"{name} is empty; give at least one value.", code="empty", name=name)
    try:
        low = float(value.min() if hasattr(value, "min") else value)
        high = float(value.max() if hasattr(value, "max") else value)
    except (TypeError, ValueError, OverflowError):
        raise InputError(f"{name} is {value!r:.60}; it must be a number.", code="not_a_number") from None
    return (low, high) if not (isnan(low) or isnan(high)) else (float("nan"), float("nan"))
