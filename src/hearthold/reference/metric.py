"""The 230 V system: capacity of metric cables, ambient factors, tabulated voltage drop."""

from __future__ import annotations

from hearthold.errors import TableError
from hearthold.reference.reader import table


def metric_ampacity_a(size_mm2: float, method: str, loaded_count: int = 2) -> float:
    """Current-carrying capacity of PVC copper cable at 30 C by installation method.

    `method`: "C" (clipped direct), "B2" (multicore in conduit), "flat_twin_C" (UK flat cable),
    "uk_clipped_direct" (a published trade table).
    Raises: TableError for a size, method or number of loaded conductors the table lacks.
    Source: IEC 60364-5-52:2009 Tables B.52.2 and B.52.4; BS 7671:2018 Table 4D5.
    """
    return table("metric_ampacity").row(method, loaded_count, size_mm2).si("ampacity_a")


def metric_ambient_factor(ambient_c: float) -> float:
    """Ambient factor of PVC cable: that of the next tabulated temperature at or above this one.

    Raises: TableError above 60 C.
    Source: IEC 60364-5-52 Table B.52.14, from memory.
    """
    for row in table("metric_ambient_factors"):
        if ambient_c <= row.number("ambient_c"):
            return row.number("ambient_factor")
    raise TableError(f"PVC cable is not given a capacity in air of {ambient_c:g} C; the table ends at 60 C")


def metric_drop_ohm_per_m(size_mm2: float) -> float:
    """Tabulated drop of a two-core cable, volts per ampere and metre of route (both conductors).

    Raises: TableError for an unknown size.
    Source: BS 7671 Appendix 4 (mV/A/m), from memory.
    """
    return table("metric_wire").row(size_mm2).si("drop_mv_per_a_m")


def metric_sizes_mm2(method: str = "C", loaded_count: int = 2) -> tuple[float, ...]:
    """Sizes with a capacity in this method, smallest first. Raises TableError if the method is unknown."""
    rows = table("metric_ampacity").where(method=method, loaded_count=loaded_count)
    if not rows:
        raise TableError(
            f"table metric_ampacity has no method {method!r} with {loaded_count} loaded conductors"
        )
    return tuple(r.number("size_mm2") for r in rows)
