"""The 230 V system: capacity of metric cables, ambient factors, tabulated voltage drop."""

from __future__ import annotations

from hearthold.errors import TableError
from hearthold.quantities.source import Source
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
    return _ambient_factor("metric_ambient_factors", "PVC cable", ambient_c)


def metric_cord_ampacity_a(size_mm2: float) -> float:
    """Current-carrying capacity of a rubber flexible cable on single phase, 30 C air.

    Raises: TableError for a size the table lacks.
    Source: BS 7671:2018 Tables 4F3A and 4F1A, from memory.
    """
    return table("metric_cords").row(size_mm2).si("single_phase_a")


def metric_cord_sizes_mm2() -> tuple[float, ...]:
    """Sizes of the flexible-cable table, smallest first."""
    return tuple(r.number("size_mm2") for r in table("metric_cords"))


def metric_cord_source(size_mm2: float) -> Source:
    """Where the capacity of a flexible cable comes from. Raises TableError."""
    return table("metric_cords").row(size_mm2).source("single_phase_a")


def metric_cord_ambient_factor(ambient_c: float) -> float:
    """Ambient factor of rubber flexible cable; cooler air is given no credit.

    Raises: TableError above 55 C.
    Source: BS 7671:2018, foot of Tables 4F1A and 4F3A, from memory.
    """
    return _ambient_factor("metric_cord_ambient", "rubber flexible cable", ambient_c)


def standard_breakers_a() -> tuple[float, ...]:
    """Rated currents of miniature breakers, smallest first. Source: IEC 60898-1, from memory."""
    return tuple(r.number("rating_a") for r in table("iec_breakers"))


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


def _ambient_factor(name: str, cable: str, ambient_c: float) -> float:
    """Factor of the next tabulated temperature at or above this one. Raises TableError beyond the last."""
    rows = table(name).rows
    for row in rows:
        if ambient_c <= row.number("ambient_c"):
            return row.number("ambient_factor")
    last_c = rows[-1].number("ambient_c")
    raise TableError(
        f"{cable} is not given a capacity in air of {ambient_c:g} C; the table ends at {last_c:g} C"
    )
