"""From what the validator found to what a person can act on: file, line, key, value, remedy."""

from __future__ import annotations

import difflib
from typing import Any, get_args, get_origin

from pydantic import BaseModel, ValidationError

from hearthold.errors import Fault
from hearthold.house import locate
from hearthold.house.fields import key_of

_PLAIN = {
    "int_type": "needs a whole number.",
    "int_parsing": "needs a whole number.",
    "int_from_float": "needs a whole number.",
    "float_type": "needs a number.",
    "float_parsing": "needs a number.",
    "bool_type": "needs true or false.",
    "bool_parsing": "needs true or false.",
    "string_type": "needs text in quotes.",
    "tuple_type": "needs a list in square brackets.",
    "string_too_short": "must not be empty.",
}


def faults_of(problem: ValidationError, model: type[BaseModel], path: str, text: str) -> tuple[Fault, ...]:
    """One fault for each place the validator refused, in file order."""
    index = locate.line_index(text)
    found: dict[tuple[int | None, str], Fault] = {}
    for error in problem.errors(include_url=False):
        where = _place(error["loc"])
        fault = _fault(error, where, model, path, locate.line_of(index, where))
        found.setdefault((fault.line, fault.key), fault)
    return tuple(sorted(found.values(), key=lambda f: (f.line or 0, f.key)))


def dotted(where: locate.Path) -> str:
    """Path as a person reads it: load[3].running, counted from 1."""
    text = ""
    for part in where:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part}" if text else part
    return text


def _place(loc: tuple[int | str, ...]) -> locate.Path:
    """The path without the validator's own marks for unions and functions."""
    return tuple(part for part in loc if isinstance(part, int) or part.replace("_", "").isalnum())


def _fault(error: Any, where: locate.Path, model: type[BaseModel], path: str, line: int | None) -> Fault:
    kind, value = error["type"], error.get("input")
    shown = "" if isinstance(value, dict | list) else repr(value) if value is not None else ""
    if kind == "missing":
        return Fault(path, line, dotted(where), "", "is missing.", _wanted(model, where))
    if kind == "extra_forbidden":
        return Fault(path, line, dotted(where), shown, "is not a key known here.", _nearest(model, where))
    problem, remedy = _explain(error, kind)
    return Fault(path, line, dotted(where), shown[:80], problem, remedy)


def _explain(error: Any, kind: str) -> tuple[str, str]:
    context = error.get("ctx", {})
    if kind in _PLAIN:
        return _PLAIN[kind], ""
    if kind in ("literal_error", "enum"):
        words = str(context.get("expected", "")).replace("'", "")
        return f"is not one of the words allowed: {words}.", _near_word(str(error.get("input")), words)
    if kind in ("greater_than", "greater_than_equal", "less_than", "less_than_equal"):
        sign = {"gt": "more than", "ge": "at least", "lt": "less than", "le": "at most"}
        key = next(k for k in sign if k in context)
        return f"must be {sign[key]} {context[key]:g}.", ""
    if kind in ("too_short", "too_long"):
        want = context.get("min_length", context.get("max_length"))
        return f"has {context.get('actual_length')} entries; needs {want}.", ""
    if kind == "string_pattern_mismatch":
        return "is not written as expected.", _pattern_hint(str(context.get("pattern")))
    message = str(error["msg"]).removeprefix("Value error, ")
    return (message if message.endswith((".", "?")) else message + "."), ""


def _pattern_hint(pattern: str) -> str:
    if "AWG" in pattern:
        return 'Write a conductor size such as "12 AWG", "2/0 AWG" or "2.5 mm2".'
    if "A-HJ" in pattern:
        return "Write the motor's code letter, A to V without I, O and Q."
    if "{0,39}" in pattern:
        return "Use letters, digits, dot, dash and underscore, at most 40, no spaces."
    if pattern == "^[CF]$":
        return 'Write "C" or "F".'
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
    if section is None:
        return ""
    field = next((f for n, f in section.model_fields.items() if key_of(n) == where[-1]), None)
    child = _model_in(field.annotation) if field is not None else None
    if child is not None:
        needed = [key_of(n) for n, f in child.model_fields.items() if f.is_required()]
        return f"Add a [{where[-1]}] section with {', '.join(needed)}." if len(where) == 1 else ""
    return f"Add {where[-1]} = ... to {dotted(where[:-1]) or 'the file'}."


def _section(model: type[BaseModel], where: locate.Path) -> type[BaseModel] | None:
    """The model that describes the table at this path."""
    current: type[BaseModel] | None = model
    for part in where:
        if isinstance(part, int) or current is None:
            continue
        field = next((f for n, f in current.model_fields.items() if key_of(n) == part), None)
        current = _model_in(field.annotation) if field is not None else None
    return current


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    if get_origin(annotation) is None:
        return None
    return next((m for a in get_args(annotation) if (m := _model_in(a)) is not None), None)
