"""How motors start and run: ways to start, code letters, full-load and locked-rotor currents, pumps."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from hearthold.errors import TableError
from hearthold.quantities.source import Source
from hearthold.reference.reader import table
from hearthold.reference.shape import Row


@dataclass(frozen=True, slots=True)
class Spread:
    """A figure with its low, typical and high value."""

    low: float
    typical: float
    high: float


@dataclass(frozen=True, slots=True)
class StartKind:
    """One way to start: apparent power over running (ratio), power factor at standstill, time to run up."""

    kind: str
    meaning: str
    start_ratio: Spread
    start_power_factor: Spread
    run_up_s: float
    source: Source


@dataclass(frozen=True, slots=True)
class SubmersiblePump:
    """Motor of a submersible well pump; plan on the service-factor current and the largest input."""

    size: str
    wiring: str
    voltage_v: float
    rated_output_w: float
    full_load_a: float
    service_factor_a: float
    rated_input_w: float
    largest_input_w: float
    locked_rotor_a: float
    code_letter: str
    source: Source
    note: str


@dataclass(frozen=True, slots=True)
class Compressor:
    """Hermetic compressor: rated-load current and the spread of its locked-rotor current."""

    id: str
    meaning: str
    voltage_v: float
    rated_load_a: float
    locked_rotor_low_a: float
    locked_rotor_typical_a: float
    locked_rotor_high_a: float
    source: Source


@dataclass(frozen=True, slots=True)
class OtherPump:
    """Jet, sump, effluent or grinder pump."""

    id: str
    meaning: str
    voltage_v: float
    running_w: float
    locked_rotor_a: float
    source: Source


def start_kinds() -> tuple[str, ...]:
    """The closed list of ways to start."""
    return tuple(str(n) for n in table("start_kinds").names())


def start_kind(kind: str) -> StartKind:
    """A way to start, by name. Raises TableError with near names. Source: machine handbooks, from memory."""
    row = table("start_kinds").row(kind)
    return StartKind(
        kind=kind,
        meaning=row.text("meaning"),
        start_ratio=_spread(row, "start_ratio"),
        start_power_factor=_spread(row, "start_power_factor"),
        run_up_s=row.si("run_up_s"),
        source=row.source(),
    )


def running_power_factor(kind: str) -> float:
    """Power factor at usual load of a machine that starts this way. Raises TableError. From memory."""
    return table("running_power_factors").row(kind).number("running_power_factor")


def code_letter_low_va_per_w(letter: str) -> float:
    """Lower end of a code letter's band, VA of locked rotor per W of rated output. Raises TableError.

    Source: NFPA 70 (NEC) Table 430.7(B); NEMA MG 1-10.37.2.
    """
    return _letter(letter).si("low_kva_per_hp")


def code_letter_high_va_per_w(letter: str) -> float:
    """Upper end of a code letter's band; letter V is open and is refused. Raises TableError.

    Source: NFPA 70 (NEC) Table 430.7(B); NEMA MG 1-10.37.2.
    """
    return _letter(letter).si("high_kva_per_hp")


def motor_sizes() -> tuple[str, ...]:
    """Horsepower sizes of the full-load table as the trade writes them, smallest first."""
    return tuple(str(n) for n in table("motor_full_load").names())


def full_load_a(size: str, voltage_v: int) -> float:
    """Full-load current of a single-phase motor, size as "1-1/2" (horsepower), voltage 115, 200, 208 or 230.

    Raises: TableError for an unknown size or voltage.
    Source: NFPA 70 (NEC) Table 430.248.
    """
    return table("motor_full_load").row(size).si(f"at_{voltage_v}_v_a")


def locked_rotor_a(size: str, voltage_v: int) -> float:
    """Locked-rotor current of a motor without a nameplate (six times full load), 115, 208 or 230 V.

    Raises: TableError for an unknown size or voltage.
    Source: NFPA 70 (NEC) Table 430.251(A), from memory.
    """
    return table("motor_locked_rotor").row(size).si(f"at_{voltage_v}_v_a")


def design_limit_a(design: str, size: str, voltage_v: int) -> float:
    """Largest locked-rotor current of a motor of design N, L or M. Raises TableError.

    Source: NEMA MG 1-12.33 and 12.34, from memory.
    """
    return table("motor_design_limits").row(design, size).si(f"at_{voltage_v}_v_a")


def submersible_pump(size: str, wiring: str = "2-wire", voltage_v: int = 230) -> SubmersiblePump:
    """A submersible pump motor by size ("1/2"), wiring ("2-wire", "3-wire") and voltage.

    Raises: TableError for a motor the table lacks.
    Source: handbook values, from memory; ask for the nameplate.
    """
    return _submersible(table("submersible_pumps").row(size, wiring, voltage_v))


def submersible_pumps() -> tuple[SubmersiblePump, ...]:
    """Every submersible pump motor of the table."""
    return tuple(_submersible(r) for r in table("submersible_pumps"))


def compressor(name: str) -> Compressor:
    """A hermetic compressor by name, such as central_ac_3_ton. Raises TableError with near names."""
    row = table("compressors").row(name)
    return Compressor(
        id=name,
        meaning=row.text("meaning"),
        voltage_v=row.si("motor_v"),
        rated_load_a=row.si("rated_load_a"),
        locked_rotor_low_a=row.si("low_locked_rotor_a"),
        locked_rotor_typical_a=row.si("typical_locked_rotor_a"),
        locked_rotor_high_a=row.si("high_locked_rotor_a"),
        source=row.source(),
    )


def other_pump(name: str) -> OtherPump:
    """A jet, sump, effluent or grinder pump by name, such as jet_half_hp. Raises TableError."""
    row = table("other_pumps").row(name)
    return OtherPump(
        name,
        row.text("meaning"),
        row.si("motor_v"),
        row.si("running_w"),
        row.si("locked_rotor_a"),
        row.source(),
    )


def _submersible(row: Row) -> SubmersiblePump:
    return SubmersiblePump(
        size=row.text("size"),
        wiring=row.text("wiring"),
        voltage_v=row.si("motor_v"),
        rated_output_w=row.si("rating_hp"),
        full_load_a=row.si("full_load_a"),
        service_factor_a=row.si("service_factor_a"),
        rated_input_w=row.si("rated_w"),
        largest_input_w=row.si("largest_w"),
        locked_rotor_a=row.si("locked_rotor_a"),
        code_letter=row.text("code_letter"),
        source=row.source(),
        note=row.note,
    )


def _spread(row: Row, name: str) -> Spread:
    return Spread(*(row.number(f"{end}_{name}") for end in ("low", "typical", "high")))


def _letter(letter: str) -> Row:
    if len(letter) != 1:
        raise TableError(f"{letter!r} is not a code letter; the nameplate gives one letter from A to V")
    return table("motor_code_letters").row(letter.upper())


@cache
def start_ratio(*, surely: bool = False) -> float:
    """From this start over running on, in VA, a load counts as a motor; `surely`: without a doubt."""
    return table("house_defaults").row("motor_start").number("high_ratio" if surely else "low_ratio")
