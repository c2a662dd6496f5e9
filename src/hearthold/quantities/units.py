"""Units at the edge: a string such as "1.5 hp" or "80 gal" becomes an SI float, once, here."""

from __future__ import annotations

import difflib
import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from math import inf, isfinite

from hearthold.errors import InputError

_NUMBER = re.compile(
    r"\s*([+-]?(?:\d+[- ]\d+/\d+|\d+/\d+|(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?))\s*(.*?)\s*$",
    re.S | re.A,
)
_ADDED = re.compile(r"([^\W\d]+)\s*(\d.*)", re.S | re.A)  # what follows the first number of "5 h 30 min"
_ADDS_UP = ("time", "length")
_MIXED = re.compile(r"([+-]?)(?:(\d+)[- ])?(\d+)/(\d+)", re.A)


@dataclass(frozen=True, slots=True)
class Dimension:
    """One kind of quantity: its SI suffix, the unit of a bare number ("" = refused), its units, and how it is usually
    written.
    """

    name: str
    si: str
    plain: str
    units: dict[str, float]
    add: dict[str, float]
    such_as: tuple[str, ...] = ()

    def to_si(self, value: float, unit: str) -> float:
        """SI value of `value` in `unit`, which must be one of this dimension's units."""
        return (value + self.add.get(unit, 0.0)) * self.units[unit]

    def from_si(self, si_value: float, unit: str) -> float:
        """Value in `unit` of an SI value."""
        return si_value / self.units[unit] - self.add.get(unit, 0.0)


@cache
def dimensions() -> dict[str, Dimension]:
    """Every dimension by name, read once from units.toml."""
    raw = tomllib.loads(files("hearthold.quantities").joinpath("units.toml").read_text("utf-8"))
    return {
        name: Dimension(
            name, row["si"], row["plain"], row["units"], row.get("add", {}), tuple(row.get("such_as", ()))
        )
        for name, row in raw.items()
    }


@cache
def si_suffixes() -> frozenset[str]:
    """Unit suffixes that end the names of SI quantities inside the program."""
    return frozenset(d.si for d in dimensions().values())


def parse(text: object, dimension: str) -> float:
    """SI value of a number or of a string with a unit.

    Bare numbers are taken in the dimension's plain unit, and refused where two everyday units compete
    (gallons or litres, Fahrenheit or Celsius), save a written 0. Times and lengths may be said in two: "5 h 30 min",
    "6 ft 2 in".
    Raises InputError.
    """
    dim = dimensions()[dimension]
    if isinstance(text, bool) or not isinstance(text, int | float | str):
        raise InputError(f"needs a quantity such as {example(dim)}.", code="not_a_quantity")
    if not isinstance(text, str):
        return _bare(_float(text), dim)
    match = _NUMBER.fullmatch(text.replace("\u2212", "-"))  # a typeset minus sign is a minus
    if match is None:
        raise InputError(f"has no number to read; write for example {example(dim)}.", code="not_a_quantity")
    value, unit = _number(match[1]), " ".join(match[2].split())
    if not unit:
        return 0.0 if value == 0.0 and not dim.add else _bare(value, dim)  # nothing is nothing in any unit
    more = _ADDED.fullmatch(unit) if dimension in _ADDS_UP else None
    if more is not None:
        return _in_two(value, _unit_of(more[1], dim), more[2], dim)
    return _checked(dim.to_si(value, _unit_of(unit, dim)))


def _in_two(value: float, unit: str, rest: str, dim: Dimension) -> float:
    """So many of a unit and so many of a smaller one, less than one of the first."""
    whole, part = dim.to_si(value, unit), parse(rest, dim.name)
    if value < 0.0 or value != int(value) or not 0.0 <= part < dim.units[unit]:
        wrong = f'"{value:g} {unit} {rest}" is said in two units, and the second is no part of one {unit}'
        raise InputError(f"{wrong}; write for example {example(dim)}.", code="not_a_quantity")
    return _checked(whole + part)


def convert(value: float, unit: str, to: str, dimension: str) -> float:
    """Value given in `unit`, in the unit `to` of the same dimension."""
    dim = dimensions()[dimension]
    return dim.from_si(dim.to_si(value, unit), to)


def in_unit(si_value: float, unit: str, dimension: str) -> float:
    """An SI value expressed in `unit`, for printing."""
    return dimensions()[dimension].from_si(si_value, unit)


def si(value: float, unit: str, dimension: str) -> float:
    """A value given in `unit`, in SI."""
    return dimensions()[dimension].to_si(value, unit)


def example(dim: Dimension) -> str:
    """A short example of how a quantity of this dimension is written, in both systems of units where they differ."""
    usual = dim.such_as or (f"10 {dim.plain or next(iter(dim.units))}",)
    told = " or ".join(f'"{text}"' for text in usual)
    return f"{told} or 0.5" if dim.name == "fraction" else told


def _bare(value: float, dim: Dimension) -> float:
    if not dim.plain:
        raise InputError(f"{value:g} has no unit; write for example {example(dim)}.", code="no_unit")
    return _checked(dim.to_si(value, dim.plain))


def _checked(value: float) -> float:
    if not isfinite(value):
        raise InputError("must be a finite number.", code="not_finite")
    return value


def _float(number: int | float) -> float:
    try:
        return float(number)
    except OverflowError:
        return inf


def _number(text: str) -> float:
    """A float, "1/2", or the trade's "1-1/2" and "1 1/2"."""
    mixed = _MIXED.fullmatch(text)
    if mixed is None:
        return float(text)
    sign, whole, top, bottom = mixed.groups()
    if float(bottom) == 0:
        raise InputError(f"{text} divides by zero.", code="not_a_quantity")
    size = float(whole or 0) + float(top) / float(bottom)
    return -size if sign == "-" else size


def _unit_of(unit: str, dim: Dimension) -> str:
    if unit in dim.units:
        return unit
    folded = _folded(unit, dim)
    if folded is not None:
        return folded
    if re.match(r",\d", unit):
        wrong = f'is read as a number followed by "{unit}": write the decimal with a point, thousands without'
        raise InputError(f"{wrong} a comma, as in {example(dim)}.", code="decimal_comma")
    near = difflib.get_close_matches(unit, dim.units, n=1, cutoff=0.5)
    hint = f' Did you mean "{near[0]}"?' if near else ""
    other = next((d.name.replace("_", " ") for d in dimensions().values() if unit in d.units), "")
    kind = dim.name.replace("_", " ")
    wrong = (
        f'"{unit}" is a unit of {other}, and this is a {kind}'
        if other
        else f'"{unit}" is not a unit of {kind} known here'
    )
    raise InputError(f"{wrong}; use one of {', '.join(dim.units)}.{hint}", code="wrong_unit", unit=unit)


def _folded(unit: str, dim: Dimension) -> str | None:
    """The unit meant by "PSI" or "KW"; never one a billion times off: "mW" is not "MW"."""
    for known in dim.units:
        if known.casefold() != unit.casefold():
            continue
        prefixed = known[0] in "mM" and known[1:] in dim.units
        if not (prefixed and known[0] != unit[0]):
            return known
    return None
