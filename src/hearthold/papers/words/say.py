"""Quantities in the reader's units: SI in, words out. Figures keep three digits unless more are needed."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import isinf

from hearthold.quantities import units
from hearthold.quantities.spans import clock as clock
from hearthold.quantities.spans import duration as duration

# Everyday unit of each dimension in which the two systems differ: US customary, metric.
_EVERYDAY = {
    "volume": ("gal", "L"),
    "length": ("ft", "m"),
    "mass": ("lb", "kg"),
    "temperature": ("F", "C"),
    "pressure": ("psi", "kPa"),
    "flow": ("gpm", "L/min"),
    "area": ("sq ft", "m2"),
}


@dataclass(frozen=True, slots=True)
class Say:
    """Says quantities in US customary or metric units."""

    us: bool
    currency: str = "USD"
    degree: str = ""  # the sign before F and C, where it can be set

    def power(self, value_w: float) -> str:
        """Watts below 10 kW, kilowatts above."""
        return f"{figure(value_w)} W" if abs(value_w) < 10e3 else f"{value_w / 1e3:.1f} kW"

    def volt_amps(self, value_va: float) -> str:
        """Apparent power."""
        return f"{figure(value_va)} VA" if abs(value_va) < 10e3 else f"{value_va / 1e3:.1f} kVA"

    def current(self, value_a: float) -> str:
        """Amperes."""
        return f"{value_a:.1f} A" if value_a < 99.95 else f"{value_a:.0f} A"

    def energy(self, value_j: float) -> str:
        """Kilowatt-hours."""
        return f"{figure(value_j / 3.6e6)} kWh"

    def temperature(self, value_c: float, *, fine: bool = False) -> str:
        """Degrees, as thermometers in the house show them, or finer; never a minus before nothing."""
        if self.us:
            fahrenheit = units.in_unit(value_c, "F", "temperature")
            shown = f"{round(fahrenheit, 1) + 0.0:.1f}" if fine else f"{round(fahrenheit) + 0:d}"
            return f"{shown} {self.temperature_unit}"
        return f"{round(value_c, 1) + 0.0:.1f} {self.temperature_unit}"

    def step(self, value_k: float) -> str:
        """A difference of temperatures."""
        return f"{value_k * 1.8:.0f} {self.temperature_unit}" if self.us else f"{value_k:.1f} K"

    def volume(self, value_m3: float) -> str:
        """Gallons or litres."""
        return self._of(value_m3, "volume", "gal", "L")

    def length(self, value_m: float) -> str:
        """Feet or metres."""
        return self._of(value_m, "length", "ft", "m")

    def mass(self, value_kg: float) -> str:
        """Pounds or kilograms."""
        return self._of(value_kg, "mass", "lb", "kg")

    def fuel_rate(self, value_m3_per_s: float) -> str:
        """Fuel burned in an hour."""
        per_hour = units.in_unit(value_m3_per_s, self.volume_unit, "volume") * 3600.0
        return f"{figure(per_hour)} {self.volume_unit}/h"

    @property
    def volume_unit(self) -> str:
        """gal or L."""
        return "gal" if self.us else "L"

    @property
    def length_unit(self) -> str:
        """ft or m."""
        return "ft" if self.us else "m"

    @property
    def temperature_unit(self) -> str:
        """F or C, with the sign of a degree where there is one."""
        return self.degree + ("F" if self.us else "C")

    def money(self, value: float) -> str:
        """A sum with its currency, whole units."""
        return f"{value:,.0f} {self.currency}"

    def in_words(self, value: float, unit: str) -> str:
        """A value in any unit the program knows, in the reader's unit where the two systems differ."""
        if unit == "of 1":
            return share(value)
        dimension = next((d for d in _EVERYDAY if unit in units.dimensions()[d].units), None)
        if dimension is None:
            return f"{figure(value)} {unit}".rstrip()
        wanted = _EVERYDAY[dimension][0 if self.us else 1]
        if dimension == "temperature":
            shown = round(units.convert(value, unit, wanted, dimension), 1) + 0.0
            return f"{shown:g} {self.temperature_unit}"
        return f"{figure(units.convert(value, unit, wanted, dimension))} {wanted}"

    def retold(self, text: str) -> str:
        """A sentence of the layers below, its temperatures, volumes and lengths in the reader's units."""
        if not self.us:
            text = _DEG_C.sub(lambda m: f"{float(m[1]) + 0.0:g} {self.temperature_unit}", text)
            text = _FEET.sub(lambda m: self.length(units.si(float(m[1]), "ft", "length")), text)
            return _GALLONS.sub(lambda m: self.volume(units.si(float(m[1]), "gal", "volume")), text)
        text = _DEG_C.sub(lambda m: self.temperature(float(m[1])), text)
        return _LITRES.sub(lambda m: self.volume(float(m[1]) / 1000.0), text)

    def _of(self, value: float, dimension: str, us_unit: str, metric_unit: str) -> str:
        unit = us_unit if self.us else metric_unit
        return f"{figure(units.in_unit(value, unit, dimension))} {unit}"


_DEG_C = re.compile(r"(-?\d+(?:\.\d+)?) degC\b")
_LITRES = re.compile(r"(\d+(?:\.\d+)?) [Ll]\b")
_FEET = re.compile(r"(\d+(?:\.\d+)?) ft\b(?! \()")
_GALLONS = re.compile(r"(\d+(?:\.\d+)?) gal\b(?! \()")


def figure(value: float) -> str:
    """A figure with three digits that count, thousands grouped."""
    if isinf(value):
        return "no end"
    if abs(value) >= 99.95:
        step = 10.0 ** max(0, len(str(int(abs(value)))) - 3)
        return f"{round(value / step) * step:,.0f}"
    if value == 0:
        return "0"
    return f"{value:.1f}" if abs(value) >= 9.995 else f"{value:.2f}"


def whole(value: float) -> str:
    """A figure for a column: no decimals, thousands grouped."""
    return "no end" if isinf(value) else f"{value:,.0f}"


def after(seconds: float) -> str:
    """When something comes, counted from now: at once, after 3 h, never."""
    if isinf(seconds):
        return "never"
    return duration(seconds) if seconds <= 0 else f"after {duration(seconds)}"


def share(fraction: float) -> str:
    """A fraction in per cent."""
    return (
        f"{100 * fraction:.0f} %" if abs(fraction) >= 0.0995 or fraction == 0 else f"{100 * fraction:.1f} %"
    )


def names(items: tuple[str, ...] | list[str], most: int = 8) -> str:
    """Names as a person lists them; with semicolons where a name has a comma of its own."""
    if not items:
        return "none"
    shown = [*items[: most - 1], f"{len(items) - most + 1} more"] if len(items) > most else list(items)
    if any("," in name for name in shown):
        return "; ".join(shown)
    return " and ".join([", ".join(shown[:-1]), shown[-1]] if len(shown) > 1 else shown)


def times(count: float, thing: str) -> str:
    """How often, on average: 3 starts, 1 refill, 0.4 refills."""
    tenths = f"{count:.1f}".removesuffix(".0")
    return f"{tenths} {thing}{'' if tenths == '1' else 's'}"


def counted(count: int, thing: str) -> str:
    """A number of things: no spell, one spell, 4 spells."""
    words = {0: f"no {thing}", 1: f"one {thing}"}
    return words.get(count, f"{count} {thing}s")
