"""From what the validator found to what a person can act on: file, line, key, value, remedy."""

from __future__ import annotations

import difflib
from datetime import date, time
from typing import Any, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from hearthold.errors import Fault
from hearthold.house import locate
from hearthold.house.fields import key_of

_PLAIN = {
    "int_type": "needs a whole number.",
    "int_parsing": "needs a whole number.",
    "int_parsing_size": "needs a whole number of a usual size.",
    "int_from_float": "needs a whole number.",
    "float_type": "needs a number.",
    "float_parsing": "needs a number.",
    "finite_number": "needs a finite number.",
    "bool_type": "needs true or false.",
    "bool_parsing": "needs true or false.",
    "string_type": "needs text in quotes.",
    "tuple_type": "needs a list in square brackets.",
    "string_too_short": "must not be empty.",
    "model_type": "needs a table of keys, not a single value.",
    "model_attributes_type": "needs a table of keys, not a single value.",
}
_SIGNS = {"gt": "more than", "ge": "at least", "lt": "less than", "le": "at most"}
_LONGEST_SHOWN = 80


def faults_of(problem: ValidationError, model: type[BaseModel], path: str, text: str) -> tuple[Fault, ...]:
    """One fault for each place the validator refused, in file order."""
    index = locate.line_index(text)
    found: dict[tuple[int | None, str], Fault] = {}
    for error in problem.errors(include_url=False):
        if _counted_short(error):
            continue
        where = _place(error, model)
        fault = _fault(error, where, model, path, locate.line_of(index, where))
        found.setdefault((fault.line, fault.key), fault)
    return tuple(sorted(found.values(), key=lambda f: (f.line or 0, f.key)))


def _counted_short(error: Any) -> bool:
    """A list said to be too short because its entries were refused, each of which is told by itself."""
    return bool(error["type"] == "too_short") and len(error["input"]) >= error["ctx"]["min_length"]


def dotted(where: locate.Path) -> str:
    """Path as a person reads it: load[3].running, counted from 1."""
    text = ""
    for part in where:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part}" if text else part
    return text


def _place(error: Any, model: type[BaseModel]) -> locate.Path:
    """The path without the validator's own marks for unions and functions: only keys the models know.

    The last part of an unknown key is kept as it stands in the file.
    """
    loc, section = error["loc"], model
    if error["type"] == "extra_forbidden":
        return (*_place({"loc": loc[:-1], "type": ""}, model), loc[-1])
    where: list[str | int] = []
    for part in loc:
        field = None if isinstance(part, int) else _field(section, part)
        if isinstance(part, int) or field is not None:
            where.append(part)
        if field is not None:
            section = _model_in(field.annotation) or BaseModel
    return tuple(where)


def _fault(error: Any, where: locate.Path, model: type[BaseModel], path: str, line: int | None) -> Fault:
    kind, shown = error["type"], as_written(error.get("input"))
    if kind == "missing":
        return Fault(path, line, dotted(where), "", "is missing.", _wanted(model, where))
    if kind == "extra_forbidden":
        return Fault(path, line, dotted(where), shown, "is not a key known here.", _nearest(model, where))
    problem, remedy = _explain(error, kind, model, where)
    return Fault(path, line, dotted(where), shown, problem, remedy)


def as_written(value: Any) -> str:
    """The value as the file has it, cut short; nothing for whole tables and lists."""
    if value is None or isinstance(value, dict | list):
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, int) and value.bit_length() > 300:
        return "a number of more than 90 digits"
    text = repr(value)
    return text if len(text) <= _LONGEST_SHOWN else text[:_LONGEST_SHOWN] + "..."


def _explain(error: Any, kind: str, model: type[BaseModel], where: locate.Path) -> tuple[str, str]:
    context = error.get("ctx", {})
    if kind in _PLAIN:
        return _PLAIN[kind], ""
    if kind in ("literal_error", "enum"):
        words = str(context.get("expected", "")).replace("'", "")
        return f"is not one of the words allowed: {words}.", _near_word(str(error.get("input")), words)
    if kind in ("greater_than", "greater_than_equal", "less_than", "less_than_equal"):
        key = next(k for k in _SIGNS if k in context)
        return f"must be {_SIGNS[key]} {context[key]:g}.", ""
    if kind in ("too_short", "too_long", "string_too_long"):
        return _wrong_length(error, model, where), ""
    if kind == "string_pattern_mismatch":
        return "is not written as expected.", _pattern_hint(str(context.get("pattern")))
    if kind.startswith(("date_", "datetime_", "timezone_")):
        return "is not a date that can be read.", _DATE_HINT[kind.startswith("date_")]
    message = str(error["msg"]).removeprefix("Value error, ")
    return (message if message.endswith((".", "?")) else message + "."), ""


_DATE_HINT = {
    True: "Write the date without quotes, such as 2025-11-30.",
    False: "Write date and time without quotes, such as 2025-11-30T04:20:00.",
}


def _bound_of(model: type[BaseModel], where: locate.Path, name: str) -> int | None:
    """Least or most entries of the field at this path, where it has such a bound."""
    section = _section(model, where[:-1])
    field = _field(section, str(where[-1])) if section is not None and where else None
    bounds = [getattr(m, name) for m in field.metadata if hasattr(m, name)] if field is not None else []
    return bounds[0] if bounds else None


def _wrong_length(error: Any, model: type[BaseModel], where: locate.Path) -> str:
    context = error["ctx"]
    if "min_length" in context:
        least, most = context["min_length"], _bound_of(model, where, "max_length")
        return f"has {len(error['input'])} entries; needs {least}{' or more' if most != least else ''}."
    if context["max_length"] == _bound_of(model, where, "min_length") and not isinstance(error["input"], str):
        return f"has {len(error['input'])} entries; needs {context['max_length']}."
    what = "characters" if isinstance(error["input"], str) else "entries"
    return f"has {len(error['input'])} {what}; at most {context['max_length']} are allowed."


def _pattern_hint(pattern: str) -> str:
    if "AWG" in pattern:
        return 'Write a conductor size such as "12 AWG", "2/0 AWG" or "2.5 mm2".'
    if "A-HJ" in pattern:
        return "Write the motor's code letter, A to V without I, O and Q."
    if "{0,39}" in pattern:
        return "Use letters, digits, dot, dash and underscore, at most 40, no spaces."
    if pattern == "^[CF]$":
        return 'Write "C" or "F".'
    if pattern == "^[A-Z]{2}$":
        return 'Write the two-letter code of the country, such as "US" or "GB".'
    if pattern == "^[A-Z]{3}$":
        return 'Write the three-letter code of the currency, such as "USD" or "GBP".'
    return f"Expected the form {pattern}."


def _near_word(word: str, words: str) -> str:
    options = [w.strip() for part in words.split(",") for w in part.split(" or ")]
    near = difflib.get_close_matches(word.lower(), options, n=1, cutoff=0.4)
    return f'Did you mean "{near[0]}"?' if near else ""


def _nearest(model: type[BaseModel], where: locate.Path) -> str:
    section = _section(model, where[:-1])
    if section is None:
        return ""
    keys = [key_of(name) for name in section.model_fields]
    near = difflib.get_close_matches(str(where[-1]), keys, n=1, cutoff=0.5)
    hint = f'Did you mean "{near[0]}"? ' if near else ""
    return f"{hint}Keys here: {', '.join(keys)}."


def _wanted(model: type[BaseModel], where: locate.Path) -> str:
    section = _section(model, where[:-1])
    field = _field(section, str(where[-1])) if section is not None else None
    child = _model_in(field.annotation) if field is not None else None
    if field is None or child is None:
        return f"Add {where[-1]} = ... to {dotted(where[:-1]) or 'the file'}."
    name = ".".join(part for part in where if isinstance(part, str))
    head = f"[[{name}]]" if get_origin(field.annotation) is tuple else f"[{name}]"
    needed = ", ".join(key_of(n) for n, f in child.model_fields.items() if f.is_required())
    told = needed or getattr(child, "wanted", "")
    return f"Add a {head} section with {told}." if told else f"Add a {head} section."


def _section(model: type[BaseModel], where: locate.Path) -> type[BaseModel] | None:
    """The model that describes the table at this path."""
    current: type[BaseModel] | None = model
    for part in where:
        if isinstance(part, int) or current is None:
            continue
        field = _field(current, part)
        current = _model_in(field.annotation) if field is not None else None
    return current


def _field(section: type[BaseModel], key: str) -> FieldInfo | None:
    """The field that a key of the file fills."""
    return next((f for n, f in section.model_fields.items() if key_of(n) == key), None)


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    if get_origin(annotation) is None:
        return None
    return next((m for a in get_args(annotation) if (m := _model_in(a)) is not None), None)
