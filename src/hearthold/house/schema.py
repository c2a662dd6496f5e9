"""The house file's JSON Schema, for editors: what the models say, defaults written as a person would."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any, get_args, get_origin

from pydantic import BaseModel

from hearthold.house.document import HouseDocument
from hearthold.house.fields import key_of
from hearthold.quantities import units

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_CLOSE = 1e-5  # a written default may differ from the stored SI value by rounding in print, not more


def house_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of the house file; keys as written in the file, without unit suffixes."""
    schema = HouseDocument.model_json_schema(by_alias=True)
    definitions = schema.get("$defs", {})
    for section in sections():
        target = schema if section is HouseDocument else definitions.get(section.__name__)
        if target is not None:
            _describe(target.get("properties", {}), section)
    schema["title"] = "House file of Hearthold"
    return {"$schema": DIALECT, **schema}


def sections() -> tuple[type[BaseModel], ...]:
    """Every section model that a house file can hold, outermost first, each once."""
    found: dict[type[BaseModel], None] = {HouseDocument: None}
    waiting: list[type[BaseModel]] = [HouseDocument]
    while waiting:
        for field in waiting.pop(0).model_fields.values():
            for inner in _models_in(field.annotation):
                if inner not in found:
                    found[inner] = None
                    waiting.append(inner)
    return tuple(found)


def section_name(section: type[BaseModel]) -> str:
    """The table that a section model stands for, such as "load" or "load.use"; "" for the whole file."""
    return _section_names()[section]


@cache
def key_notes() -> dict[str, dict[str, str]]:
    """One line on every key, by section: {"load": {"running": "..."}}."""
    text = files("hearthold.house").joinpath("keys.toml").read_text("utf-8")
    notes: dict[str, dict[str, str]] = tomllib.loads(text)
    return notes


def written(si_value: float, dimension: str) -> str:
    """The shortest way to write an SI value of this dimension in a house file: 40 psi, not 275790 Pa."""
    dim = units.dimensions()[dimension]
    candidates = []
    for unit in dim.units:
        number = f"{dim.from_si(si_value, unit):.6g}"
        if "e" not in number and abs(dim.to_si(float(number), unit) - si_value) <= _CLOSE * abs(si_value):
            candidates.append((("." in number, len(number), len(unit)), f"{number} {unit}"))
    return min(candidates)[1] if candidates else f"{si_value:g} {next(iter(dim.units))}"


def dimension_of(name: str) -> str | None:
    """The dimension that a field's unit suffix stands for; None for plain numbers, words and lists."""
    if key_of(name) == name:
        return None
    suffix = name[len(key_of(name)) + 1 :]
    return next((d.name for d in units.dimensions().values() if d.si == suffix), None)


def clock(seconds_of_day: float) -> str:
    """Time of day as the house file writes it."""
    minutes = round(seconds_of_day / 60.0)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def _describe(properties: dict[str, Any], section: type[BaseModel]) -> None:
    """Put the note of each key in, and write its default with a unit instead of a bare SI number."""
    notes = key_notes().get(section_name(section) or "file", {})
    for name, field in section.model_fields.items():
        key = key_of(name)
        entry = properties[key] = _plain(properties[key])
        entry["description"] = ". ".join(part for part in (notes.get(key), _unit_note(entry, name)) if part)
        default = entry.pop("default", None)
        if isinstance(default, float) and key != name:
            entry["default"] = _written_default(entry, name, default)
        elif default not in (None, "", [], ()) and not isinstance(default, dict):
            entry["default"] = field.default


def _plain(entry: dict[str, Any]) -> dict[str, Any]:
    """The entry without titles and without "or null": TOML has no null, a key left out is simply absent."""
    entry = {key: value for key, value in entry.items() if key != "title"}
    options = [option for option in entry.get("anyOf", ()) if option != {"type": "null"}]
    if len(options) == 1:
        entry.pop("anyOf")
        entry = _plain({**entry, **options[0]})
    return entry


def _unit_note(entry: dict[str, Any], name: str) -> str:
    """The units a quantity may be written in; times of day need none."""
    dimension = dimension_of(name)
    if dimension is None or "pattern" in entry:
        return ""
    dim = units.dimensions()[dimension]
    plain = f"; a bare number is in {dim.plain}" if dim.plain else ""
    return f"Units: {', '.join(dim.units)}{plain}"


def _written_default(entry: dict[str, Any], name: str, value: float) -> str | float:
    if str(entry.get("pattern", "")).endswith(r":\d{2}$"):
        return clock(value)
    dimension = dimension_of(name)
    if dimension is None or units.dimensions()[dimension].plain:
        return value
    return written(value, dimension)


@cache
def _section_names() -> dict[type[BaseModel], str]:
    names: dict[type[BaseModel], str] = {HouseDocument: ""}
    for section in sections():
        for name, field in section.model_fields.items():
            for inner in _models_in(field.annotation):
                parent = names[section]
                names.setdefault(inner, f"{parent}.{key_of(name)}" if parent else key_of(name))
    return names


def _models_in(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and get_origin(annotation) is None:
        return [annotation] if issubclass(annotation, BaseModel) else []
    return [model for part in get_args(annotation) for model in _models_in(part)]
