"""Where the house stands, who lives in it, its weather and its outages."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum
from typing import Annotated, ClassVar
from zoneinfo import ZoneInfo, available_timezones

from pydantic import AwareDatetime, Field, NaiveDatetime, field_validator, model_validator

from hearthold.house.fields import (
    Altitude,
    Celsius,
    Clock,
    Duration,
    Id,
    KelvinStep,
    Money,
    Name,
    Quantity,
    Section,
)
from hearthold.quantities import units

CarryMass = Annotated[float, Quantity("mass", 0.0, 200.0)]
PlanFor = Annotated[float, Quantity("time", 3600.0, 30 * 86400.0)]
ShortestSpell = Annotated[float, Quantity("time", 60.0, 86400.0)]
LongestSpell = Annotated[float, Quantity("time", 600.0, 86400.0)]
Recharge = Annotated[float, Quantity("time", 600.0, 7 * 86400.0)]
CoolDown = Annotated[float, Quantity("time", 0.0, 7200.0)]


class VoltageSystem(StrEnum):
    """The two supplies the program knows."""

    SPLIT_120_240 = "split_120_240"  # North American split phase, 60 Hz
    SINGLE_230 = "single_230"  # IEC single phase, 50 Hz

    @property
    def leg_voltage_v(self) -> float:
        """Voltage from one live conductor to neutral."""
        return 120.0 if self is VoltageSystem.SPLIT_120_240 else 230.0

    @property
    def full_voltage_v(self) -> float:
        """Voltage of the whole supply: leg to leg, or line to neutral where there is one leg."""
        return 240.0 if self is VoltageSystem.SPLIT_120_240 else 230.0

    @property
    def legs(self) -> tuple[str, ...]:
        """Names of the legs."""
        return ("A", "B") if self is VoltageSystem.SPLIT_120_240 else ("A",)

    @property
    def frequency_hz(self) -> float:
        """Nominal frequency."""
        return 60.0 if self is VoltageSystem.SPLIT_120_240 else 50.0


class HouseTitle(Section):
    """What the house is called."""

    name: Name
    note: str = ""


class Site(Section):
    """Place, altitude and the electrical system of the place."""

    place: Name
    country: Annotated[str, Field(pattern=r"^[A-Z]{2}$", description="ISO 3166 two-letter code")] = "US"
    latitude: Annotated[float, Field(ge=-66.0, le=72.0)]
    longitude: Annotated[float, Field(ge=-180.0, le=180.0)]
    altitude_m: Altitude = 0.0
    time_zone: str = "UTC"
    system: VoltageSystem
    code: Annotated[
        str, Field(description="wiring rules in force, with edition, as the local authority says")
    ] = ""

    @field_validator("time_zone")
    @classmethod
    def _known_zone(cls, value: str) -> str:
        if value not in available_timezones():
            raise ValueError('is not a time zone; write an IANA name such as "America/New_York".')
        return value

    @property
    def zone(self) -> ZoneInfo:
        """The time zone of the house."""
        return ZoneInfo(self.time_zone)


class People(Section):
    """How many live here and when they are awake, quiet and able to tend a machine."""

    count: Annotated[int, Field(ge=1, le=60)]
    awake_from_s: Clock = 6 * 3600.0
    awake_to_s: Clock = 22 * 3600.0
    quiet_from_s: Clock = 22 * 3600.0
    quiet_to_s: Clock = 6 * 3600.0
    can_lift_kg: CarryMass = 20.0


class Medical(Section):
    """One need of one person that rides on a load: vital, and never traded away."""

    load: Id
    person: Name = "one person"
    hours_per_day: Annotated[float, Field(gt=0.0, le=24.0)]
    from_s: Clock = 22 * 3600.0
    own_battery_s: Duration = 0.0
    recharge_s: Recharge | None = None
    note: str = ""


class Climate(Section):
    """Monthly normals, or a weather file; and how much colder a storm week is than its month."""

    wanted: ClassVar[str] = "twelve monthly means (mean = [...]) or a weather_file"
    unit: Annotated[str, Field(pattern=r"^[CF]$")] = "C"
    mean: Annotated[tuple[float, ...], Field(min_length=12, max_length=12)] = ()
    daily_range: Annotated[float, Field(ge=0.0, le=50.0)] = 0.0
    cold_spell: Annotated[
        float, Field(ge=0.0, le=60.0, description="how far a bad winter week lies below the month's mean")
    ] = 0.0
    weather_file: str | None = None
    source: str = ""

    @model_validator(mode="after")
    def _one_of_two(self) -> Climate:
        if not self.mean and self.weather_file is None:
            raise ValueError(f"needs {self.wanted}.")
        low, high = (-60.0, 45.0) if self.unit == "C" else (-76.0, 113.0)
        if any(not low <= m <= high for m in self.mean):
            raise ValueError(
                f"has a monthly mean outside {low:g} to {high:g} {self.unit}; is the unit right?"
            )
        return self

    @property
    def mean_c(self) -> tuple[float, ...]:
        """Monthly mean outdoor temperature, January first."""
        return tuple(units.si(m, self.unit, "temperature") for m in self.mean)

    @property
    def daily_range_k(self) -> float:
        """Mean difference between the day's warmest and coldest hour."""
        return units.si(self.daily_range, self.unit, "temperature_difference")

    @property
    def cold_spell_k(self) -> float:
        """How far a bad week lies below the monthly mean."""
        return units.si(self.cold_spell, self.unit, "temperature_difference")

    @property
    def coldest_hour_c(self) -> float:
        """Coldest hour of a cold spell in the coldest month; needs monthly means."""
        return min(self.mean_c) - self.cold_spell_k - self.daily_range_k / 2.0


class PastOutage(Section):
    """One outage the household remembers."""

    start: NaiveDatetime | AwareDatetime
    length_s: Duration
    note: str = ""

    @property
    def began(self) -> datetime:
        """When the grid failed, as written (local time where no offset is given)."""
        return self.start


class OutageStatistics(Section):
    """Outage statistics of the utility or of a region of the reference table."""

    region: Id | None = None
    saidi_s: Duration | None = None
    saifi: Annotated[float, Field(ge=0.0, le=200.0)] | None = None
    caidi_s: Duration | None = None
    with_major_events: bool = True
    plan_for_s: PlanFor = 72 * 3600.0


class Budget(Section):
    """What the household can spend, in the currency of [prices]."""

    first: Money | None = None
    yearly: Money | None = None


class Wishes(Section):
    """Limits on the running that people live by."""

    shortest_spell_s: ShortestSpell = 30 * 60.0
    longest_spell_s: LongestSpell = 6 * 3600.0
    spells_per_day: Annotated[int, Field(ge=1, le=24)] = 3
    run_at_night: bool = False
    cool_down_s: CoolDown = 15 * 60.0
    indoor_comfort_c: Celsius = 16.0
    night_setback_k: KelvinStep = 0.0
