"""Field types of the house file: quantities with units, clock times, ids; and the rule from name to key.

Inside the program a quantity's name ends in its SI unit (`tank_m3`); in the house file the key does not
(`tank = "6.6 gal"`), because there the value carries its own unit.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from datetime import date, datetime, time
from functools import cache
from typing import Annotated, Any, ClassVar, Literal, cast, get_args, get_origin

from pydantic import (
    AwareDatetime,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    NaiveDatetime,
    StringConstraints,
    ValidationInfo,
    WithJsonSchema,
    field_validator,
)
from pydantic_core import CoreSchema, core_schema

from hearthold.errors import InputError
from hearthold.quantities import units

_CLOCK = re.compile(r"([01]?\d|2[0-4]):([0-5]\d)")
DAY_S = 86400.0


def key_of(name: str) -> str:
    """House-file key of a field name: the name without its SI unit suffix."""
    for suffix in sorted(units.si_suffixes(), key=len, reverse=True):
        if name.endswith(f"_{suffix}"):
            return name[: -len(suffix) - 1]
    return name


class Section(BaseModel):
    """Base of every section of the house file: frozen, no unknown keys, keys without unit suffixes."""

    wanted: ClassVar[str] = ""  # what a section without required keys still has to say
    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        alias_generator=key_of,
        hide_input_in_errors=False,
        ser_json_inf_nan="null",
    )

    @field_validator("*", mode="before")
    @classmethod
    def _not_lenient(cls, value: object, info: ValidationInfo) -> object:
        """Refuses what would be converted in silence: true as the number 1, 5 as a date in 1970."""
        kinds = _kinds(cast(Hashable, cls.model_fields[str(info.field_name)].annotation))
        if isinstance(value, bool) and kinds & {int, float} and bool not in kinds:
            raise ValueError("needs a number, not true or false.")
        if isinstance(value, int | float) and kinds & {date, datetime}:
            raise ValueError("needs a date without quotes, such as 2025-11-30.")
        return value


@cache
def _kinds(annotation: Any) -> frozenset[Any]:
    """The plain types inside an annotation, pydantic's dates counted as dates."""
    if annotation in (NaiveDatetime, AwareDatetime):
        return frozenset({datetime})
    inner = () if get_origin(annotation) is Literal else get_args(annotation)
    return frozenset({annotation}).union(*(_kinds(part) for part in inner if isinstance(part, Hashable)))


@dataclass(frozen=True, slots=True)
class Quantity:
    """Marks a float field as a quantity of `dimension`, read into SI and refused outside [low, high] (SI)."""

    dimension: str
    low: float
    high: float

    def read(self, value: object) -> float:
        """SI value of what the file holds. Raises ValueError, as the validator wants it."""
        dim = units.dimensions()[self.dimension]
        try:
            si_value = units.parse(value, self.dimension)
        except InputError as problem:
            raise ValueError(str(problem)) from None
        if not self.low <= si_value <= self.high:
            unit = _written_unit(value, dim)
            span = " to ".join(_plainly(dim.from_si(edge, unit)) for edge in (self.low, self.high))
            raise ValueError(f"is outside the allowed {span} {unit}.")
        return si_value

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read before the plain float is checked."""
        return core_schema.no_info_before_validator_function(self.read, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Text with a unit; a bare number too where only one unit is usual."""
        dim = units.dimensions()[self.dimension]
        kinds = [{"type": "string"}, {"type": "number"}] if dim.plain else [{"type": "string"}]
        told = f"{self.dimension.replace('_', ' ')}, for example {units.example(dim)}"
        return {"anyOf": kinds, "description": told}


def _plainly(value: float) -> str:
    """Four digits that count, written out as they may be written in the file."""
    return f"{float(f'{value:.4g}'):.15g}"


def _written_unit(value: object, dim: units.Dimension) -> str:
    """The unit the user wrote, so that the allowed range is told in it."""
    text = str(value)
    written = [u for u in dim.units if text.rstrip().endswith(u)]
    return max(written, key=len) if written else (dim.plain or next(iter(dim.units)))


def _clock(value: object) -> float:
    """Seconds after midnight of "HH:MM" (24:00 allowed) or of a TOML local time."""
    if isinstance(value, time):
        return value.hour * 3600.0 + value.minute * 60.0 + value.second
    match = _CLOCK.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None or (match[1] == "24" and match[2] != "00"):
        raise ValueError('needs a time of day such as "06:30".')
    return int(match[1]) * 3600.0 + int(match[2]) * 60.0


Clock = Annotated[
    float, BeforeValidator(_clock), WithJsonSchema({"type": "string", "pattern": r"^\d{1,2}:\d{2}$"})
]
Id = Annotated[str, StringConstraints(strip_whitespace=True, pattern=r"^[A-Za-z0-9][A-Za-z0-9_.-]{0,39}$")]
Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=120)]
Fraction = Annotated[float, Quantity("fraction", 0.0, 1.0)]
Watts = Annotated[float, Quantity("power", 0.0, 200e3)]
VoltAmps = Annotated[float, Quantity("apparent_power", 0.0, 500e3)]
Volts = Annotated[float, Quantity("voltage", 1.0, 600.0)]
Amps = Annotated[float, Quantity("current", 0.0, 1000.0)]
# What a breaker, fuse, switch or bus is marked with.
Rating = Annotated[float, Quantity("current", 1.0, 1000.0)]
Length = Annotated[float, Quantity("length", 0.0, 3000.0)]
Altitude = Annotated[float, Quantity("length", -450.0, 5500.0)]
Volume = Annotated[float, Quantity("volume", 0.0, 500.0)]
Mass = Annotated[float, Quantity("mass", 0.0, 20e3)]
Pressure = Annotated[float, Quantity("pressure", 0.0, 2e6)]
Flow = Annotated[float, Quantity("flow", 0.0, 1.0)]
Celsius = Annotated[float, Quantity("temperature", -60.0, 120.0)]
KelvinStep = Annotated[float, Quantity("temperature_difference", 0.0, 60.0)]
Duration = Annotated[float, Quantity("time", 0.0, 3.2e9)]
Energy = Annotated[float, Quantity("energy", 0.0, 1e12)]
YearlyPower = Annotated[float, Quantity("power", 0.0, 50e3)]
Conductance = Annotated[float, Quantity("conductance", 0.1, 5000.0)]
HeatCapacity = Annotated[float, Quantity("heat_capacity", 1e3, 1e10)]
Area = Annotated[float, Quantity("area", 5.0, 5000.0)]
Money = Annotated[float, Field(ge=0.0, le=1e7)]


def choice(*words: str) -> Callable[[object], object]:
    """A before-validator that folds case and spaces so that "Manual transfer" finds "manual_transfer"."""

    def read(value: object) -> object:
        if isinstance(value, str):
            folded = value.strip().lower().replace(" ", "_").replace("-", "_")
            return folded if folded in words else value
        return value

    return read
