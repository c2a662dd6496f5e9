"""The guide to the house file in print: docs/house-file.md is this page, and a test keeps them equal.

Print it again with: python -m hearthold.house.page > docs/house-file.md
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from hearthold.house import schema
from hearthold.house.document import HouseDocument
from hearthold.house.fields import Quantity, key_of
from hearthold.quantities import units
from hearthold.reference.connectors import connectors

_PATTERNS = {
    r"^\d{1,2}:\d{2}$": 'time of day, such as `"06:30"`',
    "^[CF]$": '`"C"` or `"F"`',
    "^[A-HJ-NPR-V]$": "one letter, A to V without I, O and Q",
    "^[A-Z]{2}$": 'two letters, such as `"US"`',
    "^[A-Z]{3}$": 'three letters, such as `"USD"`',
}

_PLUGS = ("generator.receptacle", "hookup.inlet")


def house_page() -> str:
    """The whole page as Markdown: how to write, nameplates, a first file, every section, the units."""
    words = guide()
    lines = [words[part].strip() + "\n" for part in ("head", "writing", "nameplates", "example")]
    for section in _in_file_order():
        lines += _section(section)
    return "\n".join([*lines, *_plugs(), "", *_units(), ""])


@cache
def guide() -> dict[str, Any]:
    """The words of guide.toml."""
    return tomllib.loads(files("hearthold.house").joinpath("guide.toml").read_text("utf-8"))


def _in_file_order() -> list[type[BaseModel]]:
    """Sections as the document has them, each followed by the tables inside it."""
    order = [key_of(name) for name in HouseDocument.model_fields]
    named = {schema.section_name(section): section for section in schema.sections()}
    named.pop("")
    return [named[name] for name in sorted(named, key=lambda n: (order.index(n.split(".")[0]), n))]


def _section(section: type[BaseModel]) -> Iterator[str]:
    name = schema.section_name(section)
    brackets = f"[[{name}]]" if _is_list(name) else f"[{name}]"
    yield f"## `{brackets}`\n"
    yield guide()["section"][name] + "\n"
    yield "| key | what it is | how it is written | left out |"
    yield "| --- | --- | --- | --- |"
    entries = schema.house_schema()["$defs"][section.__name__]["properties"]
    notes = schema.key_notes()[name]
    for field_name, field in section.model_fields.items():
        key = key_of(field_name)
        form = _form(f"{name}.{key}", field, entries[key])
        cells = (f"`{key}`", notes[key], form, _left_out(name, key, field, entries[key]))
        yield f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in cells)} |"
    yield ""


def _is_list(name: str) -> bool:
    """Whether the table stands once for each thing, in double brackets."""
    section: type[BaseModel] = HouseDocument
    for key in name.split("."):
        field = next(f for n, f in section.model_fields.items() if key_of(n) == key)
        section = next(s for s in schema.sections() if s.__name__ in _names_in(field.annotation))
    return get_origin(field.annotation) is tuple


def _names_in(annotation: Any) -> set[str]:
    inner = set().union(*(_names_in(part) for part in get_args(annotation)))
    return inner | {getattr(annotation, "__name__", "")}


def _form(place: str, field: FieldInfo, entry: dict[str, Any]) -> str:
    """How a value is written, with its range."""
    quantity = _quantity(field)
    if quantity is not None:
        return _quantity_form(place, quantity)
    if place in _PLUGS:
        return "a word of [receptacles and inlets](#receptacles-and-inlets)"
    if "pattern" in entry:
        return _PATTERNS.get(entry["pattern"], _size_or_id(entry["pattern"]))
    if "$ref" in entry or entry.get("type") == "array":
        return _table_or_list(entry)
    if "enum" in entry:
        return " or ".join(f"`{word}`" if isinstance(word, int) else f'`"{word}"`' for word in entry["enum"])
    return _plain(entry)


def _quantity_form(place: str, quantity: Quantity) -> str:
    shown, kinds = guide()["written"], guide()["kind"]
    sample = shown.get(place, shown[quantity.dimension])
    if quantity.dimension in kinds:
        return f'{kinds[quantity.dimension]}, such as `"{sample}"`'
    low, high = (schema.written(edge, quantity.dimension) for edge in (quantity.low, quantity.high))
    return f'{quantity.dimension.replace("_", " ")}, such as `"{sample}"`; {low} to {high}'


def _plain(entry: dict[str, Any]) -> str:
    kind = entry.get("type", "")
    if "anyOf" in entry:
        return 'shaft power, such as `"1-1/2"` or `"0.55 kW"`'
    if entry.get("format") in ("date", "date-time"):
        return "date" if entry["format"] == "date" else "date and time"
    if kind in ("integer", "number"):
        low = entry.get("minimum", entry.get("exclusiveMinimum"))
        high = entry.get("maximum", entry.get("exclusiveMaximum"))
        span = f", {low:g} to {high:g}" if low is not None and high is not None else ""
        return ("whole number" if kind == "integer" else "number") + span
    return {"boolean": "`true` or `false`", "string": "text"}.get(kind, "see above")


def _size_or_id(pattern: str) -> str:
    return 'conductor size, such as `"12 AWG"` or `"2.5 mm2"`' if "AWG" in pattern else "id"


def _table_or_list(entry: dict[str, Any]) -> str:
    definitions = schema.house_schema()["$defs"]
    inner = entry.get("items", entry)
    target = definitions.get(inner.get("$ref", "").rsplit("/", 1)[-1], {})
    if target.get("type") == "object":
        return "tables of their own, below" if "items" in entry else "a table of its own, below"
    words = target.get("enum") or inner.get("enum")
    if words:
        listed = ", ".join(f'`"{word}"`' for word in words)
        return f"list of {listed}" if "items" in entry else listed
    return f"list of {entry.get('minItems', '')} numbers".replace("  ", " ")


def _quantity(field: FieldInfo) -> Quantity | None:
    """The mark of a quantity, wherever it stands in the annotation."""
    marks = [*field.metadata, *_metadata(field.annotation)]
    return next((mark for mark in marks if isinstance(mark, Quantity)), None)


def _metadata(annotation: Any) -> list[Any]:
    inner = [mark for part in get_args(annotation) for mark in _metadata(part)]
    return [*getattr(annotation, "__metadata__", ()), *inner]


def _left_out(name: str, key: str, field: FieldInfo, entry: dict[str, Any]) -> str:
    if field.is_required():
        return "**must be given**"
    told = guide()["assumed"].get(name, {}).get(key)
    if told is not None:
        return str(told)
    default = entry.get("default")
    if default is None:
        return "" if field.default in ("", ()) or isinstance(field.default, BaseModel) else "not known"
    if isinstance(default, bool):
        return str(default).lower()
    return f"{default:g}" if isinstance(default, float) else str(default)


def _plugs() -> Iterator[str]:
    yield "## Receptacles and inlets\n"
    yield guide()["plugs"]["head"].strip() + "\n"
    yield "| word | what it is | A | V | wires of its cord | also |"
    yield "| --- | --- | --- | --- | --- | --- |"
    for plug in connectors():
        volts = "120/240" if plug.wires == 4 else f"{plug.working_v:g}"
        also = ", ".join(f"`{name}`" for name in plug.also)
        yield f"| `{plug.id}` | {plug.meaning} | {plug.rating_a:g} | {volts} | {plug.wire_words} | {also} |"


def _units() -> Iterator[str]:
    yield "## Units\n"
    yield "| a quantity of | may be written in | a bare number |"
    yield "| --- | --- | --- |"
    for name in (n for n in guide()["written"] if "." not in n):
        dim = units.dimensions()[name]
        bare = f"is in {dim.plain}" if dim.plain else "is refused"
        yield f"| {name.replace('_', ' ')} | {', '.join(f'`{unit}`' for unit in dim.units)} | {bare} |"


if __name__ == "__main__":
    sys.stdout.write(house_page())
