"""The lists of a sweep as a person writes them: "5 kW, 7.5 kW"."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.quantities.units import parse
from hearthold.study.grid import Grid, Running, usual_grid

if TYPE_CHECKING:
    from hearthold.house.house import House

_DIMENSIONS = {
    "machine": ("machine_w", "power"),
    "fuel": ("fuel_m3", "volume"),
    "battery": ("battery_j", "energy"),
    "fuel_tank": ("fuel_tank_m3", "volume"),
}


def read_grid(house: House, lists: Mapping[str, str | None]) -> Grid:
    """The usual grid around a house with the lists that somebody gave in place of its own.

    Raises: InputError for a value that cannot be read or tried, or a house without a machine.
    """
    changed: dict[str, object] = {}
    for name, text in lists.items():
        if text is None:
            continue
        if name in _DIMENSIONS:
            field, dimension = _DIMENSIONS[name]
            changed[field] = tuple(_amount(name, part.strip(), dimension) for part in text.split(","))
        elif name == "water_tank":
            changed["water_tank_ratio"] = tuple(_ratio(part) for part in text.split(","))
        elif name == "running":
            changed["running"] = tuple(_running(part) for part in text.split(","))
    return replace(usual_grid(house), **changed)  # type: ignore[arg-type]


def _amount(name: str, text: str, dimension: str) -> float:
    try:
        return parse(text, dimension)
    except InputError as problem:
        raise InputError(f'{name.replace("_", " ")} "{text}": {problem}', code=problem.code) from None


def _ratio(text: str) -> float:
    try:
        return float(text.strip().rstrip("x"))
    except ValueError:
        raise InputError(
            f'"{text.strip()}" is no number; write for example 1, 2.', code="no_number"
        ) from None


def _running(text: str) -> Running:
    word = text.strip().lower().replace(" ", "_")
    if word not in [x.value for x in Running]:
        raise InputError(
            f'"{text.strip()}" is no way of running; allowed: {", ".join(x.value for x in Running)}.',
            code="no_running",
        )
    return Running(word)
