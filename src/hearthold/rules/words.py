"""Figures into words: a value's suffix says its unit, the house's system says which unit people read."""

from __future__ import annotations

import string
from collections.abc import Callable, Iterable, Mapping
from math import inf

from hearthold.house.site import VoltageSystem
from hearthold.quantities import units
from hearthold.quantities.spans import DAY_S, duration, hours
from hearthold.reference.local_words import in_local_words
from hearthold.rules.finding import Value

_PARSE = string.Formatter().parse


def filled(template: str, values: Mapping[str, Value], system: VoltageSystem) -> str:
    """The template with each {name} replaced by its value in the unit that its suffix and the system ask for.

    Raises: KeyError if the template names a value that is not there.
    """
    return "".join(
        literal + ("" if name is None else spoken(name, values[name], system))
        for literal, name, _, _ in _PARSE(template)
    )


def blanked(template: str, limits: Mapping[str, Value], system: VoltageSystem) -> str:
    """The template with the rule's own limits filled in and every figure of a house shown as a blank."""
    blanks = {name: limits.get(name, f"<{_bare(name)}>") for name in names_in(template)}
    return filled(template, blanks, system)


def names_in(template: str) -> tuple[str, ...]:
    """Names of the values that a template asks for."""
    return tuple(name for _, name, _, _ in _PARSE(template) if name is not None)


def spoken(name: str, value: Value, system: VoltageSystem) -> str:
    """One value in words; text and counts stand as they are.

    Raises: ValueError for a fraction number whose name does not end in a unit known here.
    """
    if isinstance(value, str | bool):
        return str(value)
    for suffix, say in _SAY.items():
        if name.endswith(suffix):
            return say(float(value), system is VoltageSystem.SPLIT_120_240)
    if float(value).is_integer():
        return f"{int(value):,}"
    raise ValueError(f"{name} = {value!r} does not end in a unit that words.py can say")


def fuel_words(fuels: Iterable[str], system: VoltageSystem) -> str:
    """Fuels as people call them where they live, listed, each once."""
    return listed(in_local_words(str(fuel).replace("_", " "), system) for fuel in fuels)


def listed(items: Iterable[str], most: int = 6) -> str:
    """Names as a person lists them, each once: "a, b and c", or "a, b, c and 4 more"."""
    names = list(dict.fromkeys(items))
    if len(names) > most:
        return f"{', '.join(names[: most - 1])} and {len(names) - most + 1} more"
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def likely_words(likely_s: float, system: VoltageSystem) -> str:
    """The likely answer of a hold as half a sentence; a store may never reach its limit."""
    if likely_s == inf:
        return "while the likely answer is that it never gets there"
    return f"while {spoken('likely_s', likely_s, system)} is likely"


def _bare(name: str) -> str:
    """The name of a value in words, without its unit."""
    suffix = next((s for s in _SAY if name.endswith(s)), "")
    return name.removesuffix(suffix).replace("_", " ")


def _round(value: float, digits: int = 3) -> str:
    """A figure with so many digits that count, thousands kept whole, no trailing zeros."""
    if abs(value) >= 10 ** (digits - 1):
        step = 10 ** max(0, len(str(int(abs(value)))) - digits)
        return f"{round(value / step) * step:,.0f}"
    return f"{value:.{digits}g}"


def _time(seconds: float) -> str:
    if 5400.0 <= seconds < 120 * DAY_S:
        return duration(seconds)  # in the words of every page
    for unit, top in (("s", 90.0), ("min", 90.0), ("h", 48.0), ("days", 120.0), ("months", 36.0)):
        value = units.in_unit(seconds, unit, "time")
        if abs(value) < top:
            return f"{_round(value, 2 if unit != 's' else 3)} {unit}"
    return f"{_round(units.in_unit(seconds, 'years', 'time'), 2)} years"


def _temperature(value_c: float, imperial: bool) -> str:
    metric = f"{value_c:.1f}".removesuffix(".0") + " °C"
    return f"{units.in_unit(value_c, '°F', 'temperature'):.0f} °F ({metric})" if imperial else metric


def _both(dimension: str, imperial: str, metric: str) -> Callable[[float, bool], str]:
    """Says a quantity in the everyday unit of the place, with the metric one beside it where that differs."""

    def say(value: float, is_imperial: bool) -> str:
        si_words = f"{_round(units.in_unit(value, metric, dimension))} {metric}"
        if not is_imperial:
            return si_words
        return f"{_round(units.in_unit(value, imperial, dimension))} {imperial} ({si_words})"

    return say


def _plain(unit: str) -> Callable[[float, bool], str]:
    return lambda value, _: f"{_round(value)} {unit}"


# longest suffix first: "_w_per_k" must be found before "_k"
_SAY: dict[str, Callable[[float, bool], str]] = {
    "_m3_per_s": _both("flow", "gal/h", "L/h"),
    "_w_per_k": _plain("W/K"),
    "_kg_per_s": lambda v, us: f"{_round(v * 3600 / 0.45359237)} lb/h" if us else f"{_round(v * 3600)} kg/h",
    "_money": lambda v, _: f"{v:,.0f}",
    "_frac": lambda v, _: f"{_round(100 * v, 3 if v >= 0.1 else 2)} %",
    "_ohm": lambda v, _: f"{_round(v, 4)} ohm",
    "_dba": _plain("dBA"),
    "_box_m3": _both("volume", "cu ft", "L"),  # a fridge or freezer is sold by the cubic foot
    "_m3": _both("volume", "gal", "L"),
    "_m2": _both("area", "sq ft", "m²"),
    "_kg": _both("mass", "lb", "kg"),
    "_va": _plain("VA"),
    "_hz": _plain("Hz"),
    "_j": lambda v, _: f"{_round(units.in_unit(v, 'kWh', 'energy'))} kWh",
    "_w": _plain("W"),
    "_a": _plain("A"),
    "_v": _plain("V"),
    "_m": _both("length", "ft", "m"),
    "_c": _temperature,
    "_k": lambda v, us: f"{_round(v * 1.8)} °F" if us else f"{_round(v)} K",
    "_engine_s": lambda v, _: f"{_round(v / 3600)} h",  # as its hour meter counts
    "_clock_s": lambda v, _: hours(v),  # as food guidance does
    "_s": lambda v, _: _time(v),
}
