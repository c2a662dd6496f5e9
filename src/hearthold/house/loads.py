"""Loads and circuits: as the file gives them, and as the program uses them once gaps are filled."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from hearthold.errors import InputError
from hearthold.house.fields import (
    Amps,
    Clock,
    Fraction,
    Id,
    Length,
    Name,
    Rating,
    Section,
    VoltAmps,
    Volts,
    Watts,
    YearlyPower,
    choice,
)
from hearthold.quantities import units
from hearthold.quantities.source import Source
from hearthold.reference import motors


class Priority(StrEnum):
    """How badly a load is wanted while the grid is down; vital is never traded for anything."""

    VITAL = "vital"
    ESSENTIAL = "essential"
    COMFORT = "comfort"
    DEFER = "defer"

    @property
    def rank(self) -> int:
        """0 for vital, 3 for what can wait."""
        return list(Priority).index(self)


class Pattern(StrEnum):
    """What makes a load run."""

    CYCLING = "cycling"  # a thermostat or float switches it
    CONTINUOUS = "continuous"  # always on while its circuit is live
    SCHEDULED = "scheduled"  # at known times of day
    ON_DEMAND = "on_demand"  # when somebody switches it


class UseWindow(Section):
    """A time of day at which a scheduled load is used."""

    from_s: Clock
    to_s: Clock


def _horsepower(value: object) -> object:
    """Shaft power in horsepower from 0.75, "3/4", "1-1/2 hp" or "0.55 kW"."""
    if isinstance(value, str):
        text = value if any(c.isalpha() for c in value) else f"{value} hp"
        try:
            return units.in_unit(units.parse(text, "power"), "hp", "power")
        except InputError as problem:
            raise ValueError(str(problem)) from None
    return value


Horsepower = Annotated[
    float,
    BeforeValidator(_horsepower),
    Field(gt=0.0, le=50.0),
    WithJsonSchema(
        {"anyOf": [{"type": "string"}, {"type": "number", "exclusiveMinimum": 0.0, "maximum": 50.0}]}
    ),
]


class LoadEntry(Section):
    """One load as the house file gives it; what is left out comes from its catalogue kind."""

    id: Id
    kind: Id | None = None
    name: Name | None = None
    circuit: Id
    priority: Annotated[Priority, BeforeValidator(choice(*(p.value for p in Priority)))] | None = None
    count: Annotated[int, Field(ge=1, le=500)] = 1
    volts_v: Volts | None = None
    running_w: Watts | None = None
    amps_a: Amps | None = None
    power_factor: Annotated[float, Field(gt=0.0, le=1.0)] | None = None
    horsepower: Horsepower | None = None
    code_letter: Annotated[str, Field(pattern=r"^[A-HJ-NPR-V]$")] | None = None
    lra_a: Amps | None = None
    start_va: VoltAmps | None = None
    start_kind: Id | None = None
    soft_start: bool = False
    energy_w: YearlyPower | None = None
    duty: Fraction | None = None
    pattern: Annotated[Pattern, BeforeValidator(choice(*(p.value for p in Pattern)))] | None = None
    use: tuple[UseWindow, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class Assumption:
    """A value the household did not give: what was used, its plausible range, and where it comes from."""

    item: str  # dotted place, e.g. "load well: start_va"
    value: float
    unit: str
    low: float
    high: float
    source: Source


@dataclass(frozen=True, slots=True)
class Load:
    """One load with every figure the computations need; `count` alike pieces are one load."""

    id: str
    name: str
    kind: str | None
    circuit: str
    group: str
    priority: Priority
    count: int
    voltage_v: float
    running_w: float  # of all pieces together, while running
    low_w: float
    high_w: float
    power_factor: float  # running, lagging
    start_va: float  # of ONE piece, in its first second
    start_power_factor: float
    start_kind: str
    run_up_s: float
    duty_frac: float  # share of the day it wants to run while needed
    energy_day_j: float  # energy a day in normal use
    pattern: Pattern
    use: tuple[tuple[float, float], ...]  # seconds of day, from and to; may wrap past midnight
    note: str

    @property
    def running_va(self) -> float:
        """Apparent power while running."""
        return self.running_w / self.power_factor

    @property
    def running_a(self) -> float:
        """Current while running, in each of its conductors."""
        return self.running_va / self.voltage_v

    @property
    def start_w(self) -> float:
        """Real power that the engine must find in the first second of one piece's start."""
        return self.start_va * self.start_power_factor

    @property
    def is_motor(self) -> bool:
        """True where a start draws clearly more than running."""
        return self.start_va > motors.start_ratio() * self.running_va / self.count


class Circuit(Section):
    """One branch circuit: its breaker, cable, legs and the panel it sits in."""

    id: Id
    name: Name
    breaker_a: Rating
    poles: Literal[1, 2] = 1
    wire: Annotated[str, Field(pattern=r"^(\d{1,2}|[1-4]/0) AWG$|^\d{1,3}(\.\d{1,2})? mm2$")]
    material: Literal["copper", "aluminium"] = "copper"
    cable: Literal["NM-B", "UF-B", "THHN", "XHHW", "PVC70", "XLPE90"] | None = None
    length_m: Length
    leg: Literal["A", "B", "AB"] | None = None
    panel: Literal["essential", "main"] = "main"
    multiwire_with: Id | None = None
    protection: tuple[Literal["gfci", "afci", "rcd", "rcbo", "afdd"], ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class Cord:
    """One extension cord, by the id of the circuit that it makes, and the ids of what is plugged into it."""

    id: str
    loads: tuple[str, ...]
