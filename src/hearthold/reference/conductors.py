"""What a conductor is made of: area, resistance and reactance by American wire gauge or metric size."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.errors import TableError
from hearthold.quantities.source import Source
from hearthold.reference.reader import table
from hearthold.reference.shape import Row

_METALS = {"cu": "copper", "al": "aluminium"}
_CONDUITS = ("pvc", "steel")


@dataclass(frozen=True, slots=True)
class Conductor:
    """One conductor of a circuit at its working temperature, with resistance and reactance of one way."""

    size: str
    material: str
    area_m2: float
    working_c: float
    resistance_ohm_per_m: float
    reactance_ohm_per_m: float
    source: Source


def conductor(size: str, material: str = "cu", conduit: str = "pvc") -> Conductor:
    """A conductor by size: "10", "1/0" (AWG, stranded, 75 C) or "2.5 mm2" (metric copper cable, 70 C).

    Raises: TableError for an unknown size, metal or conduit.
    Source: NFPA 70 (NEC) Chapter 9 Tables 8 and 9; IEC 60228 and BS 7671 Appendix 4 for metric sizes.
    """
    if size.endswith("mm2"):
        return _metric(size, material)
    dc = _stranded(size)
    return Conductor(
        size=size,
        material=material,
        area_m2=dc.si("area_cmil"),
        working_c=75.0,
        resistance_ohm_per_m=dc.si(f"{_metal(material)}_ohm_per_kft"),
        reactance_ohm_per_m=reactance_ohm_per_m(size, conduit),
        source=dc.source(f"{_metal(material)}_ohm_per_kft"),
    )


def awg_sizes() -> tuple[str, ...]:
    """American wire gauge sizes of the resistance table, smallest conductor first."""
    return tuple(str(n) for n in table("wire_resistance_dc").names("size_awg"))


def metric_sizes_mm2() -> tuple[float, ...]:
    """Metric sizes of the resistance table, smallest first."""
    return tuple(r.number("size_mm2") for r in table("metric_wire"))


def dc_resistance_ohm_per_m(size_awg: str, material: str, strand_count: int | None = None) -> float:
    """Resistance of one conductor at 75 C; the stranded one unless the number of strands is given.

    Raises: TableError for an unknown size, stranding or metal.
    Source: NFPA 70 (NEC) Chapter 9 Table 8.
    """
    row = (
        _stranded(size_awg)
        if strand_count is None
        else table("wire_resistance_dc").row(size_awg, strand_count)
    )
    return row.si(f"{_metal(material)}_ohm_per_kft")


def ac_resistance_ohm_per_m(size_awg: str, material: str, conduit: str = "pvc") -> float:
    """Resistance of one conductor at 60 Hz and 75 C in conduit (rounded to two figures from 14 to 6 AWG).

    Raises: TableError for an unknown size, metal or conduit, or a pair the table leaves blank.
    Source: NFPA 70 (NEC) Chapter 9 Table 9.
    """
    return table("wire_impedance_ac").row(size_awg).si(f"{_metal(material)}_{_conduit(conduit)}_ohm_per_kft")


def reactance_ohm_per_m(size_awg: str, conduit: str = "pvc") -> float:
    """Reactance of one conductor at 60 Hz in conduit; sizes below 14 AWG are given that of 14 AWG.

    Raises: TableError for an unknown size or conduit.
    Source: NFPA 70 (NEC) Chapter 9 Table 9.
    """
    sizes = awg_sizes()
    small = size_awg in sizes and sizes.index(size_awg) < sizes.index("14")
    return (
        table("wire_impedance_ac")
        .row("14" if small else size_awg)
        .si(f"reactance_{_conduit(conduit)}_ohm_per_kft")
    )


def effective_z_ohm_per_m(size_awg: str, material: str, conduit: str = "pvc") -> float:
    """Tabulated effective impedance at 0.85 power factor. Raises TableError.

    Source: NFPA 70 (NEC) Chapter 9 Table 9.
    """
    return table("wire_impedance_ac").row(size_awg).si(
        f"{_metal(material)}_{_conduit(conduit)}_effective_z_ohm_per_kft"
    )  # fmt: skip


def wire_constant(name: str) -> float:
    """A pure constant of the conductor tables, such as copper_coefficient_75c. Raises TableError."""
    row = table("wire_constants").row(name)
    return row.number("constant_ratio" if "constant_ratio" in row else "coefficient_ratio")


def _metric(size: str, material: str) -> Conductor:
    if material != "cu":
        raise TableError(f"metric sizes are given for copper alone, not {material!r}")
    row = table("metric_wire").row(_mm2(size))
    rise = wire_constant("metric_working_rise")
    return Conductor(
        size=size,
        material=material,
        area_m2=row.si("size_mm2"),
        working_c=70.0,
        resistance_ohm_per_m=row.si("resistance_20c_ohm_per_km") * rise,
        reactance_ohm_per_m=table("wire_constants").row("metric_reactance").si("resistance_mohm_per_m"),
        source=row.source("resistance_20c_ohm_per_km"),
    )


def _mm2(size: str) -> float:
    try:
        return float(size.removesuffix("mm2"))
    except ValueError as error:
        raise TableError(f'{size!r} is not a metric size; write for example "2.5 mm2"') from error


def _stranded(size_awg: str) -> Row:
    """The row with most strands of this size."""
    rows = table("wire_resistance_dc").where(size_awg=size_awg)
    if not rows:
        raise TableError(
            f"table wire_resistance_dc has no size {size_awg!r}; known: {', '.join(awg_sizes())}"
        )
    return max(rows, key=lambda r: r.number("strand_count"))


def _metal(material: str) -> str:
    if material not in _METALS:
        raise TableError(f"unknown conductor metal {material!r}; use {' or '.join(_METALS)}")
    return _METALS[material]


def _conduit(conduit: str) -> str:
    if conduit not in _CONDUITS:
        raise TableError(f"unknown conduit {conduit!r}; use {' or '.join(_CONDUITS)}")
    return conduit
