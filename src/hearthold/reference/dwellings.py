"""Houses: heat loss and heat capacity by class, gains, pipes at risk, what heaters draw and give."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.quantities.source import Source
from hearthold.reference.reader import table


@dataclass(frozen=True, slots=True)
class HouseClass:
    """One class of house. Heat loss includes infiltration, for `floor_m2`; capacity is by floor area."""

    id: str
    meaning: str
    floor_m2: float
    ua_w_per_k: float
    ua_low_w_per_k: float
    ua_high_w_per_k: float
    capacity_j_per_m2_k: float
    air_changes_per_s: float
    source: Source

    @property
    def capacity_j_per_k(self) -> float:
        """Heat capacity of the whole house."""
        return self.capacity_j_per_m2_k * self.floor_m2

    @property
    def time_constant_s(self) -> float:
        """Heat capacity over heat loss."""
        return self.capacity_j_per_k / self.ua_w_per_k


@dataclass(frozen=True, slots=True)
class PowerRange:
    """A power with its low and high end."""

    id: str
    meaning: str
    low_w: float
    high_w: float
    source: Source

    @property
    def middle_w(self) -> float:
        """Half way between low and high."""
        return (self.low_w + self.high_w) / 2.0


@dataclass(frozen=True, slots=True)
class PipeRule:
    """A threshold of cold, or where a pipe lies between outdoors (0) and indoors (1)."""

    id: str
    meaning: str
    temperature_c: float | None
    low_frac: float | None
    high_frac: float | None
    duration_s: float | None
    source: Source


def house_class(name: str) -> HouseClass:
    """A class of house, such as leaky_farmhouse. Raises TableError with near names. From memory."""
    row = table("house_classes").row(name)
    return HouseClass(
        id=name,
        meaning=row.text("meaning"),
        floor_m2=row.si("floor_ft2"),
        ua_w_per_k=row.si("loss_btu_per_h_f"),
        ua_low_w_per_k=row.si("low_btu_per_h_f"),
        ua_high_w_per_k=row.si("high_btu_per_h_f"),
        capacity_j_per_m2_k=row.si("capacity_kj_per_m2_k"),
        air_changes_per_s=row.si("air_changes_per_h"),
        source=row.source(),
    )


def house_classes() -> tuple[str, ...]:
    """Classes of house, leakiest first."""
    return tuple(str(n) for n in table("house_classes").names())


def indoor_gain(name: str) -> PowerRange:
    """Heat given off indoors: person_sensible, person_total, house_in_outage.

    Raises TableError. From memory.
    """
    return _range("indoor_gains", name, "low_w", "high_w")


def heater_draw(name: str) -> PowerRange:
    """Electricity a heater draws, such as furnace_blower_psc. Raises TableError. From memory."""
    return _range("heater_draws", name, "low_w", "high_w")


def heater_output(name: str) -> PowerRange:
    """Heat a stove or furnace gives, such as wood_stove. Raises TableError."""
    return _range("heater_outputs", name, "low_btu_per_h", "high_btu_per_h")


def pipe_rule(name: str) -> PipeRule:
    """A rule for water pipes, such as exterior_wall or outdoor_alert. Raises TableError with near names."""
    row = table("pipe_rules").row(name)
    return PipeRule(
        id=name,
        meaning=row.text("meaning"),
        temperature_c=row.si_or_none("temperature_f"),
        low_frac=row.si_or_none("low_frac"),
        high_frac=row.si_or_none("high_frac"),
        duration_s=row.si_or_none("duration_h"),
        source=row.source(),
    )


def dry_wood_j_per_kg() -> float:
    """Higher heating value of oven-dry wood. Source: hearth-trade forum."""
    return table("firewood").row("dry_wood").si("heat_btu_per_lb")


def cord_j() -> float:
    """Heat in a cord of wood. Source: EIA About Btu (estimate)."""
    return table("firewood").row("cord").si("cord_btu")


def stove_efficiency_frac() -> tuple[float, float]:
    """Overall efficiency of a wood stove, low and high. Common practice, from memory."""
    row = table("firewood").row("stove_efficiency")
    return row.si("low_frac"), row.si("high_frac")


def _range(name: str, key: str, low: str, high: str) -> PowerRange:
    row = table(name).row(key)
    return PowerRange(key, row.text("meaning"), row.si(low), row.si(high), row.source(low, high))
