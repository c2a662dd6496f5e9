"""Conductor sizes as the house file writes them ("12 AWG", "2.5 mm2") against the reference tables."""

from __future__ import annotations

from hearthold.errors import TableError
from hearthold.house.loads import Circuit
from hearthold.reference import ampacity, conductors, metric

_METAL = {"copper": ampacity.COPPER, "aluminium": ampacity.ALUMINIUM}


def is_metric(wire: str) -> bool:
    """True for a size in mm2."""
    return wire.endswith("mm2")


def table_size(wire: str) -> str:
    """The size as the tables key it: "12" for "12 AWG", unchanged for mm2."""
    return wire.removesuffix(" AWG")


def size_mm2(wire: str) -> float:
    """Cross-section of a metric size, in mm2."""
    return float(wire.removesuffix(" mm2"))


def metal(material: str) -> str:
    """The tables' word for the metal. Raises TableError for an unknown one."""
    if material not in _METAL:
        raise TableError(f"unknown conductor metal {material!r}; use {' or '.join(_METAL)}")
    return _METAL[material]


def known(wire: str, material: str) -> bool:
    """True where both an ampacity and a resistance are known for this size and metal."""
    if is_metric(wire):
        return material == "copper" and size_mm2(wire) in metric.metric_sizes_mm2()
    return (
        table_size(wire) in ampacity.conductor_sizes(metal(material))
        and table_size(wire) in conductors.awg_sizes()
    )


def sizes_hint() -> str:
    """The sizes the tables hold, for a message."""
    awg = ", ".join(ampacity.conductor_sizes(ampacity.COPPER))
    mm2 = ", ".join(f"{s:g}" for s in metric.metric_sizes_mm2())
    return f'Write "12 AWG" (sizes {awg}) on a 120/240 V house, "2.5 mm2" ({mm2}) on a 230 V house.'


def largest_breaker_a(circuit: Circuit) -> float:
    """Largest breaker that the bare tables allow on this circuit's conductors (not a motor circuit's)."""
    if is_metric(circuit.wire):
        return metric.metric_ampacity_a(size_mm2(circuit.wire), "C")
    size, material = table_size(circuit.wire), metal(circuit.material)
    small = ampacity.small_conductor_limit_a(size, material)
    if small is not None:
        return small
    # the most that any terminal allows: what is refused here is right nowhere; sizing.carrying asks more
    finishes = "nm_b_uf_b" if circuit.cable and ampacity.cable_column(circuit.cable)[1] else "over_100_a"
    column_c = ampacity.termination_column_c(finishes)
    return ampacity.next_breaker_a(ampacity.ampacity_a(size, material, column_c))


def limit_source(circuit: Circuit) -> str:
    """The rule behind `largest_breaker_a`, for a message."""
    if is_metric(circuit.wire):
        return "IEC 60364-5-52, method C; your local rules decide"
    if ampacity.small_conductor_limit_a(table_size(circuit.wire), metal(circuit.material)) is not None:
        return "NEC 240.4(D); your local code decides"
    return "NEC Table 310.16 and 240.4(B); your local code decides"


def motor_source(circuit: Circuit) -> str:
    """The rule behind the largest breaker of a motor circuit, for a message."""
    return "your local rules decide" if is_metric(circuit.wire) else "NEC 430.52; your local code decides"
