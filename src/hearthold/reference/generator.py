"""Generator practice: surge, governor, classes, dips, derating, and what is plausible."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.quantities.source import Source
from hearthold.reference.motors import Spread
from hearthold.reference.reader import table
from hearthold.reference.shape import Row


@dataclass(frozen=True, slots=True)
class SetKind:
    """How one kind of set behaves. Surge is a ratio to the running rating; reactance is Xd' per unit.

    `no_load_hz` is (low, high); `reactance_ratio` is None for sets that limit current instead of dipping.
    """

    kind: str
    meaning: str
    surge_ratio: Spread
    surge_s: float
    no_load_hz: tuple[float, float]
    droop_frac: float
    distortion_frac: float
    reactance_ratio: Spread | None
    source: Source


@dataclass(frozen=True, slots=True)
class PerformanceClass:
    """One performance class of ISO 8528-5; shares are of rated frequency and voltage."""

    name: str
    frequency_droop_frac: float
    frequency_band_frac: float
    load_on_frequency_frac: float
    load_off_frequency_frac: float
    frequency_recovery_s: float
    voltage_band_frac: float
    load_on_voltage_frac: float
    load_off_voltage_frac: float
    voltage_recovery_s: float
    source: Source


@dataclass(frozen=True, slots=True)
class AltitudeRule:
    """Straight-line loss of power with altitude."""

    rule: str
    loss_per_m_frac: float
    starts_at_m: float
    source: Source


@dataclass(frozen=True, slots=True)
class TemperatureRule:
    """Straight-line loss of power with intake air temperature."""

    rule: str
    loss_per_k_frac: float
    starts_at_c: float
    source: Source


@dataclass(frozen=True, slots=True)
class EngineExponents:
    """Exponents of the ISO 3046-1 adjustment, and the mechanical efficiency when none is declared."""

    engine: str
    pressure_exponent: float
    temperature_exponent: float
    mechanical_efficiency_frac: float
    source: Source


@dataclass(frozen=True, slots=True)
class Bounds:
    """Lowest and highest plausible share."""

    low_frac: float
    high_frac: float
    source: Source


def set_kind(kind: str) -> SetKind:
    """A kind of set: open_frame, inverter, standby or diesel. Raises TableError. From memory."""
    row = table("generator_sets").row(kind)
    ends = ("low", "typical", "high")
    dips = "typical_reactance_ratio" in row
    return SetKind(
        kind=kind,
        meaning=row.text("meaning"),
        surge_ratio=Spread(*(row.number(f"{e}_surge_ratio") for e in ends)),
        surge_s=row.si("surge_s"),
        no_load_hz=(row.si("low_no_load_hz"), row.si("high_no_load_hz")),
        droop_frac=row.si("droop_pct"),
        distortion_frac=row.si("thd_pct"),
        reactance_ratio=Spread(*(row.number(f"{e}_reactance_ratio") for e in ends)) if dips else None,
        source=row.source(),
    )


def set_kinds() -> tuple[str, ...]:
    """Names of the kinds of set."""
    return tuple(str(n) for n in table("generator_sets").names())


def performance_class(name: str = "G1") -> PerformanceClass:
    """A performance class, G1 to G3. Raises TableError. Source: ISO 8528-5:2018, from memory."""
    row = table("generator_classes").row(name)
    return PerformanceClass(
        name=name,
        frequency_droop_frac=row.si("frequency_droop_pct"),
        frequency_band_frac=row.si("frequency_band_pct"),
        load_on_frequency_frac=row.si("load_on_frequency_pct"),
        load_off_frequency_frac=row.si("load_off_frequency_pct"),
        frequency_recovery_s=row.si("frequency_recovery_s"),
        voltage_band_frac=row.si("voltage_band_pct"),
        load_on_voltage_frac=row.si("load_on_voltage_pct"),
        load_off_voltage_frac=row.si("load_off_voltage_pct"),
        voltage_recovery_s=row.si("voltage_recovery_s"),
        source=row.source(),
    )


def dip_limit_frac(where_used: str) -> float:
    """Largest momentary dip: contactor_dropout, motor_start, with_electronics, motor_running.

    Raises TableError.
    """
    return table("dip_limits").row(where_used).si("limit_frac")


def dip_limit_source(where_used: str) -> Source:
    """Where a dip limit comes from. Raises TableError."""
    return table("dip_limits").row(where_used).source("limit_frac")


def load_limit_frac(name: str) -> float:
    """How hard to run a set: held_load, leg_unbalance. Raises TableError."""
    return table("load_limits").row(name).si("limit_frac")


def altitude_rule(rule: str = "spark_consumer") -> AltitudeRule:
    """A rule for altitude: naturally_aspirated (seen) or spark_consumer (from memory). Raises TableError."""
    row = table("derate_altitude").row(rule)
    per_m = row.si("loss_per_1000_ft_pct") / 304.8  # 1000 ft, exact
    return AltitudeRule(rule, per_m, row.si("starts_at_ft"), row.source())


def temperature_rule(rule: str = "engine_makers") -> TemperatureRule:
    """A rule for intake temperature: gas_compression (seen), engine_makers, engine_makers_late.

    Raises TableError.
    """
    row = table("derate_temperature").row(rule)
    per_k = row.si("loss_per_10_f_pct") / (10.0 / 1.8)  # 10 F in kelvin, exact
    return TemperatureRule(rule, per_k, row.si("starts_at_f"), row.source())


def fuel_power_ratio(fuel: str) -> Spread:
    """Power on a fuel over the petrol rating of the same engine. Raises TableError. From memory."""
    row = table("derate_fuel").row(fuel)
    return Spread(*(row.number(f"{e}_factor") for e in ("low", "typical", "high")))


def engine_exponents(engine: str) -> EngineExponents:
    """Exponents for spark_liquid, spark_gas or diesel_natural.

    Raises TableError. ISO 3046-1:2002, from memory.
    """
    row = table("engine_exponents").row(engine)
    return EngineExponents(
        engine,
        row.number("pressure_exponent"),
        row.number("temperature_exponent"),
        row.si("mechanical_efficiency_frac"),
        row.source(),
    )


def efficiency_bounds(name: str) -> Bounds:
    """Plausible electrical efficiency on the lower heating value, such as half_load_any_spark.

    Raises TableError.
    """
    row = table("set_efficiency_bounds").row(name)
    return Bounds(row.si("low_frac"), row.si("high_frac"), row.source())


def supply_band_v(system: str) -> tuple[float, float, float]:
    """Nominal, lowest and highest supply voltage to neutral of a system. Raises TableError. From memory."""
    row = _supply(system)
    return row.si("nominal_v"), row.si("low_v"), row.si("high_v")


def supply_hz(system: str) -> float:
    """Frequency of a voltage system. Raises TableError."""
    return _supply(system).si("supply_hz")


def _supply(system: str) -> Row:
    return table("supply_voltages").row(system)
