"""From what a nameplate says (watts; amps, volts; horsepower; kWh a year) to running and starting demand."""

from __future__ import annotations

from hearthold.house.loads import LoadEntry
from hearthold.house.site import VoltageSystem
from hearthold.quantities import units
from hearthold.reference import motors
from hearthold.reference.between import between
from hearthold.reference.loads import Load as LoadKind
from hearthold.reference.loads import load as catalogue_load
from hearthold.reference.loads import load_ids

# A motor's nameplate voltage lies a little under the supply's: 115 for 120, 230 for 240 (NEMA MG 1).
_MOTOR_TABLE_V = {True: 230, False: 115}


def kind_of(entry: LoadEntry) -> LoadKind | None:
    """The load's catalogue row, or None where it has none."""
    return catalogue_load(entry.kind) if entry.kind in load_ids() else None


def known_voltage(entry: LoadEntry, system: VoltageSystem) -> float | None:
    """Voltage as stated, else the catalogue's on this supply; None where neither says."""
    if entry.volts_v is not None:
        return entry.volts_v
    kind = kind_of(entry)
    return kind.voltage_in_v(system.value) if kind is not None and system.value in kind.systems else None


def running_power(entry: LoadEntry, system: VoltageSystem) -> float | None:
    """Running watts of all pieces: as stated, else from amps, horsepower, label or catalogue, or None."""
    stated = _stated_running(entry, system)
    if stated is not None:
        return stated * entry.count
    kind = kind_of(entry)
    return kind.running_w * entry.count if kind is not None else None


def states_running(entry: LoadEntry, system: VoltageSystem) -> bool:
    """True where the file itself fixes the running watts."""
    return _stated_running(entry, system) is not None


def nameplate_gap(entry: LoadEntry, system: VoltageSystem) -> str | None:
    """What is missing before this load can be computed, or None."""
    if entry.amps_a is not None and entry.running_w is None and known_voltage(entry, system) is None:
        return "gives amps without volts."
    if running_power(entry, system) is None:
        return "says neither what kind it is nor what it draws."
    if (entry.code_letter is not None) and entry.horsepower is None:
        return "gives a code letter without horsepower."
    if entry.lra_a is not None and known_voltage(entry, system) is None:
        return "gives locked-rotor amps without volts."
    return None


def base_start_kind(entry: LoadEntry) -> str:
    """How it starts without a soft starter: as stated, else the catalogue's, else what the plate implies."""
    if entry.start_kind is not None:
        return entry.start_kind
    kind = kind_of(entry)
    if kind is not None:
        return kind.start_kind
    return "capacitor_start" if entry.horsepower or entry.lra_a or entry.code_letter else "resistive"


def stated_power_factor(entry: LoadEntry) -> float:
    """Power factor as stated, else the catalogue's, else that of the way it starts."""
    if entry.power_factor is not None:
        return entry.power_factor
    kind = kind_of(entry)
    return kind.power_factor if kind is not None else motors.running_power_factor(base_start_kind(entry))


def _stated_running(entry: LoadEntry, system: VoltageSystem) -> float | None:
    """Running watts of one piece from the file alone."""
    if entry.running_w is not None:
        return entry.running_w
    voltage_v = known_voltage(entry, system)
    if entry.amps_a is not None and voltage_v is not None:
        return entry.amps_a * voltage_v * stated_power_factor(entry)
    if entry.horsepower is not None:
        return motor_running_w(
            entry.horsepower, voltage_v or system.full_voltage_v, stated_power_factor(entry)
        )
    if entry.energy_w is not None and entry.duty and kind_of(entry) is None:
        return entry.energy_w / entry.duty
    return None


def motor_running_w(horsepower: float, voltage_v: float, power_factor: float) -> float:
    """Input of a motor at full load: the table's full-load current at the table's voltage.

    Between table sizes on a straight line, outside them in proportion. Source: NEC Table 430.248.
    """
    table_v = _MOTOR_TABLE_V[voltage_v > 180.0]
    points = [(0.0, 0.0)] + [(_size_hp(s), motors.full_load_a(s, table_v)) for s in motors.motor_sizes()]
    largest_hp = points[-1][0]
    beyond = max(1.0, horsepower / largest_hp)
    full_load_a = between(min(horsepower, largest_hp), points, "motor size, hp,") * beyond
    return full_load_a * table_v * power_factor


def full_load_a(entry: LoadEntry, system: VoltageSystem) -> float | None:
    """Full-load current of all pieces of a motor: by the table where horsepower is given, else as it runs."""
    running_w, voltage_v = running_power(entry, system), known_voltage(entry, system)
    if running_w is None:
        return None
    volts = voltage_v or system.leg_voltage_v
    if entry.horsepower is not None and entry.running_w is None and entry.amps_a is None:
        volts = _MOTOR_TABLE_V[volts > 180.0]
    return running_w / stated_power_factor(entry) / volts


def start_va_stated(entry: LoadEntry, system: VoltageSystem) -> float | None:
    """Starting VA of one piece from the nameplate: stated, locked-rotor amps, or code letter."""
    voltage_v = known_voltage(entry, system)
    if entry.start_va is not None:
        return entry.start_va
    if entry.lra_a is not None and voltage_v is not None:
        return entry.lra_a * voltage_v
    if entry.code_letter is not None and entry.horsepower is not None:
        return _letter_va_per_w(entry.code_letter) * units.si(entry.horsepower, "hp", "power")
    return None


def _letter_va_per_w(letter: str) -> float:
    """Upper end of the letter's band, since a plan must carry the worst motor so marked; V is open-ended."""
    return (
        motors.code_letter_low_va_per_w(letter) if letter == "V" else motors.code_letter_high_va_per_w(letter)
    )


def _size_hp(size: str) -> float:
    return units.in_unit(units.parse(f"{size} hp", "power"), "hp", "power")
