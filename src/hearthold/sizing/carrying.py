"""What a conductor, cable or cord may carry where it lies, and the largest device that may protect it.

North America: the insulation's own column, then ambient and bundling factors, then the terminal's column,
then the cap on small conductors. IEC: the method's table and the ambient factor. The two never mix.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.house import wire as wires
from hearthold.house.site import VoltageSystem
from hearthold.physics.conductors import corrected_ampacity_a
from hearthold.quantities.source import Source, Standing
from hearthold.reference import ampacity as nec
from hearthold.reference import metric

if TYPE_CHECKING:
    from hearthold.house.loads import Circuit
    from hearthold.house.supply import Run

TABLE_AMBIENT_C = 30.0  # every table here is printed for air of 30 degC


@dataclass(frozen=True, slots=True)
class Carrying:
    """The current one conductor may carry, step by step, and what may protect it."""

    size: str
    material: str
    cable: str
    table_a: float  # as printed for its insulation
    ambient_frac: float
    bundling_frac: float
    terminal_a: float  # ceiling of the terminals, or of the cable's own finish
    allowed_a: float  # what it may carry here
    continuous_a: float  # what it may carry for three hours or more
    largest_device_a: float  # the largest breaker the general rule allows on it
    notes: tuple[str, ...]
    source: Source


@dataclass(frozen=True, slots=True)
class Lay:
    """How a conductor lies and ends: what corrects its table value."""

    ambient_c: float = TABLE_AMBIENT_C
    live_count: int = 2
    device_a: float = 0.0  # the breaker at its end; over 100 A the terminals are 75 degC ones


def circuit_carrying(circuit: Circuit, system: VoltageSystem, ambient_c: float = TABLE_AMBIENT_C) -> Carrying:
    """What a branch circuit's cable may carry. Raises InputError for a size of the other system."""
    lay = Lay(ambient_c, 2, circuit.breaker_a)
    return carrying(circuit.wire, circuit.material, circuit.cable, system, lay)


def run_carrying(run: Run, system: VoltageSystem, lay: Lay) -> Carrying:
    """What a cord or feeder may carry. Raises InputError for a size of the other system."""
    return carrying(run.wire, run.material, run.cable, system, lay)


def carrying(wire: str, material: str, cable: str | None, system: VoltageSystem, lay: Lay) -> Carrying:
    """What a conductor may carry, by size ("10 AWG", "2.5 mm2"), metal and cable.

    Raises: InputError where the size belongs to the other system; TableError beyond a table's edge.
    Source: NFPA 70 (NEC) 310.15, 310.16, 110.14(C), 240.4, 334.80, 400.5; IEC 60364-5-52.
    """
    number, unit = wire.split(" ")
    if (unit == "AWG") is not (system is VoltageSystem.SPLIT_120_240):
        want = "AWG" if system is VoltageSystem.SPLIT_120_240 else "mm2"
        raise InputError(
            f"conductor size {wire} does not belong to the {system} system; write it in {want}.",
            code="wire_of_other_system",
            wire=wire,
        )
    if unit == "mm2":
        return _metric_cord(number, lay) if cable == "cord" else _metric(number, material, cable, lay)
    return _cord(number, lay) if cable == "cord" else _building_wire(number, material, cable, lay)


def next_size(found: Carrying, wanted_a: float) -> str | None:
    """The smallest size above this one that carries `wanted_a` the same way; None where the table ends."""
    sizes = sizes_above(found.size, found.material, found.cable)
    share = found.ambient_frac * found.bundling_frac
    return next((s for s in sizes if _bare_a(s, found) * share >= wanted_a), None)


def sizes_above(size: str, material: str, cable: str) -> tuple[str, ...]:
    """Table sizes thicker than `size`, thinnest first, written as the house file writes them."""
    if size.endswith("mm2"):
        known = metric.metric_cord_sizes_mm2() if cable == "cord" else metric.metric_sizes_mm2("C")
        every = tuple(f"{mm2:g} mm2" for mm2 in known)
        return tuple(s for s in every if float(s.split()[0]) > float(size.split()[0]))
    listed = nec.cord_sizes() if cable == "cord" else nec.conductor_sizes(wires.metal(material), 60.0)
    every = tuple(f"{s} AWG" for s in listed)
    return every[every.index(size) + 1 :] if size in every else ()


def _building_wire(size: str, material: str, cable: str | None, lay: Lay) -> Carrying:
    kind = cable or "NM-B"
    column_c, finish_60 = nec.cable_column(kind)
    metal = wires.metal(material)
    table_a = nec.ampacity_a(size, metal, column_c)
    ambient = nec.ambient_factor(lay.ambient_c, column_c)
    bundling = nec.bundling_factor(lay.live_count)
    terminal_c = 60.0 if finish_60 else nec.termination_column_c(_terminal(lay.device_a))
    terminal_a = nec.ampacity_a(size, metal, terminal_c)
    cap_a = nec.small_conductor_limit_a(size, metal) or float("inf")
    held_a = corrected_ampacity_a(table_a, ambient * bundling, terminal_a)
    device_a = min(nec.next_breaker_a(float(held_a)), cap_a)
    allowed_a = min(float(held_a), cap_a)
    notes = () if cable else ("cable not given, taken as NM-B",)
    return Carrying(
        f"{size} AWG",
        material,
        kind,
        table_a,
        ambient,
        bundling,
        terminal_a,
        allowed_a,
        min(allowed_a, table_a / nec.continuous_factor(), terminal_a / nec.continuous_factor()),
        device_a,
        notes + _cap_note(size, material, cap_a, float(held_a)),
        nec.ampacity_source(size, metal, column_c),
    )


def _cord(size: str, lay: Lay) -> Carrying:
    """A flexible cord: a neutral that carries only the unbalance is not counted, so two live, column B."""
    column = "b" if lay.live_count <= 2 else "a"
    table_a = nec.cord_ampacity_a(size, column)
    # cord insulation is taken as 60 degC, the careful column of the ambient table
    ambient = min(1.0, nec.ambient_factor(lay.ambient_c, 60.0))
    allowed_a = table_a * ambient
    return Carrying(
        f"{size} AWG",
        "copper",
        "cord",
        table_a,
        ambient,
        1.0,
        table_a,
        allowed_a,
        allowed_a,
        nec.next_breaker_a(allowed_a),
        (f"flexible cord, column {column.upper()} of 400.5",),
        Source("NFPA 70 (NEC) Table 400.5(A)(1)", Standing.SEEN),
    )


def _metric_cord(number: str, lay: Lay) -> Carrying:
    """A rubber flexible cable on single phase; no credit for air cooler than the table's."""
    size_mm2 = float(number)
    table_a = metric.metric_cord_ampacity_a(size_mm2)
    ambient = metric.metric_cord_ambient_factor(lay.ambient_c)
    allowed_a = table_a * ambient
    return Carrying(
        f"{size_mm2:g} mm2",
        "copper",
        "cord",
        table_a,
        ambient,
        1.0,
        table_a,
        allowed_a,
        allowed_a,
        allowed_a,
        ("flexible cable in free air, wholly unwound from its drum",),
        metric.metric_cord_source(size_mm2),
    )


def _metric(number: str, material: str, cable: str | None, lay: Lay) -> Carrying:
    table_a = metric.metric_ampacity_a(float(number), "C")
    ambient = metric.metric_ambient_factor(lay.ambient_c)
    allowed_a = table_a * ambient
    notes = ["method C, PVC 70 degC; halve it where insulation covers 0.5 m or more"]
    if cable == "XLPE90":
        notes.append("XLPE carries more than the PVC table used here")
    return Carrying(
        f"{float(number):g} mm2",
        material,
        cable or "PVC70",
        table_a,
        ambient,
        1.0,
        table_a,
        allowed_a,
        allowed_a,
        allowed_a,
        tuple(notes),
        Source("IEC 60364-5-52:2009 Table B.52.2 column C", Standing.MEMORY),
    )


def _bare_a(size: str, like: Carrying) -> float:
    """Table value of another size of the same cable, held to the terminals' column."""
    number = size.split(" ")[0]
    if size.endswith("mm2"):
        mm2 = float(number)
        cord = like.cable == "cord"
        return metric.metric_cord_ampacity_a(mm2) if cord else metric.metric_ampacity_a(mm2, "C")
    if like.cable == "cord":
        return nec.cord_ampacity_a(number, "b")
    return nec.ampacity_a(number, wires.metal(like.material), 60.0)


def _terminal(device_a: float) -> str:
    return "over_100_a" if device_a > 100.0 else "to_100_a"


def _cap_note(size: str, material: str, cap_a: float, held_a: float) -> tuple[str, ...]:
    if held_a <= cap_a:
        return ()
    return (f"{size} AWG {material} is capped at {cap_a:g} A by 240.4(D)",)
