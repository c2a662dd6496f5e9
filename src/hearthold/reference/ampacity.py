"""How much current a conductor may carry in the North American system, and what protects it (NEC tables)."""

from __future__ import annotations

from hearthold.errors import TableError
from hearthold.quantities.source import Source
from hearthold.reference.reader import table

COPPER, ALUMINIUM = "cu", "al"


def ampacity_a(size_awg: str, material: str, insulation_c: float) -> float:
    """Allowable ampacity of a conductor at 30 C, from the 60, 75 or 90 C column.

    Raises: TableError for a size, metal or column the table lacks.
    Source: NFPA 70 (NEC) 2011-2023, Table 310.16.
    """
    return table("ampacity").row(material, insulation_c, size_awg).si("ampacity_a")


def ampacity_source(size_awg: str, material: str, insulation_c: float) -> Source:
    """Where one cell of the ampacity table comes from, with its standing. Raises TableError."""
    return table("ampacity").row(material, insulation_c, size_awg).source("ampacity_a")


def conductor_sizes(material: str, insulation_c: float = 75.0) -> tuple[str, ...]:
    """Sizes with an ampacity in this metal and column, smallest first. Raises TableError if there is none."""
    rows = table("ampacity").where(material=material, insulation_c=insulation_c)
    if not rows:
        raise TableError(
            f"table ampacity has no {material} at {insulation_c:g} C; metals: cu, al; columns: 60, 75, 90"
        )
    return tuple(r.text("size_awg") for r in rows)


def smallest_size(current_a: float, material: str, insulation_c: float) -> str:
    """Smallest size whose ampacity is at least this current. Raises TableError past the end of the table."""
    for size in conductor_sizes(material, insulation_c):
        if ampacity_a(size, material, insulation_c) >= current_a:
            return size
    raise TableError(f"table ampacity ends below {current_a:g} A for {material} at {insulation_c:g} C")


def ambient_factor(ambient_c: float, insulation_c: float) -> float:
    """Correction for the air around the conductor: the factor of the band that holds this temperature.

    Raises: TableError above the band where the column is still permitted.
    Source: NFPA 70 (NEC) 2020/2023, Table 310.15(B)(1).
    """
    rows = table("ambient_factors").where(insulation_c=insulation_c)
    if not rows:
        raise TableError(f"table ambient_factors has no column {insulation_c:g} C; there are 60, 75 and 90 C")
    for row in rows:
        if ambient_c <= row.number("band_top_c"):
            return row.number("ambient_factor")
    raise TableError(
        f"{insulation_c:g} C insulation is not permitted in air of {ambient_c:g} C; the table ends at "
        f"{rows[-1].number('band_top_c'):g} C"
    )


def bundling_factor(conductor_count: int) -> float:
    """Adjustment for the number of current-carrying conductors that lie together.

    Raises: TableError for fewer than one.
    Source: NFPA 70 (NEC) 2020/2023, Table 310.15(C)(1), from memory.
    """
    if conductor_count < 1:
        raise TableError(f"{conductor_count} current-carrying conductors; there is at least one")
    for row in table("bundling_factors"):
        if conductor_count <= row.number("most_count"):
            return row.number("bundling_factor")
    raise TableError(f"table bundling_factors ends below {conductor_count} conductors")


def small_conductor_limit_a(size_awg: str, material: str) -> float | None:
    """Largest overcurrent device on a small conductor; None where 240.4(D) sets no limit.

    Source: NFPA 70 (NEC) 2011-2020, 240.4(D).
    """
    rows = table("small_conductors").where(size_awg=size_awg, material=material)
    return rows[0].si("largest_device_a") if rows else None


def termination_column_c(where_used: str) -> float:
    """Insulation column in which the ampacity must finish.

    `where_used`: to_100_a, to_100_a_marked_75, over_100_a, nm_b_uf_b.
    Raises: TableError for an unknown kind of termination.
    Source: NFPA 70 (NEC) 110.14(C), 334.80, 340.80, from memory.
    """
    return table("terminations").row(where_used).si("insulation_c")


def standard_breakers_a() -> tuple[float, ...]:
    """Standard ratings of overcurrent devices, smallest first. Source: NEC 240.6(A), from memory."""
    return tuple(r.si("rating_a") for r in table("standard_breakers"))


def cable_column(cable: str) -> tuple[float, bool]:
    """Insulation column (degC) a cable is corrected from, and whether it must finish in the 60 degC column.

    Raises: TableError with near names.
    Source: NFPA 70 (NEC) 310.4, 334.80, 340.80, from memory.
    """
    row = table("cable_kinds").row(cable)
    return row.number("insulation_c"), row.flag("finishes_60")


def next_breaker_a(current_a: float) -> float:
    """Smallest standard rating not below this current. Raises TableError past the largest."""
    for rating in standard_breakers_a():
        if rating >= current_a:
            return rating
    raise TableError(f"no standard overcurrent device of {current_a:g} A or more in the table")


def grounding_conductor_awg(device_a: float, material: str = COPPER) -> str:
    """Smallest equipment grounding conductor behind an overcurrent device.

    Raises: TableError past the largest device or for an unknown metal.
    Source: NFPA 70 (NEC) Table 250.122, from memory.
    """
    for row in table("grounding_conductors"):
        if device_a <= row.number("device_a"):
            return row.text(_metal_column(material))
    raise TableError(f"table grounding_conductors ends below {device_a:g} A")


def dwelling_feeder_awg(rating_a: float, material: str = COPPER) -> str:
    """Smallest conductor that carries a whole dwelling at this service rating (never an essential sub-panel).

    Raises: TableError for a rating the table lacks or an unknown metal.
    Source: NFPA 70 (NEC) 2020/2023, Table 310.12(A), from memory.
    """
    return table("dwelling_feeders").row(rating_a).text(_metal_column(material))


def dwelling_ratings_a() -> tuple[float, ...]:
    """Ratings of that table, smallest first. Source: NFPA 70 (NEC) 2020/2023, Table 310.12(A), from memory."""
    return tuple(r.si("rating_a") for r in table("dwelling_feeders"))


def cord_ampacity_a(size_awg: str, column: str) -> float:
    """Ampacity of a flexible cord, column "a" (three current-carrying conductors) or "b" (two).

    A four-wire 120/240 V generator cord uses column b: its neutral carries only the unbalance.
    Raises: TableError for an unknown size or column.
    Source: NFPA 70 (NEC) 2014-2023, Table 400.5(A)(1).
    """
    return table("cords").row(size_awg).si(f"column_{column}_a")


def cord_sizes() -> tuple[str, ...]:
    """Sizes of flexible cord in the table, smallest first."""
    return tuple(r.text("size_awg") for r in table("cords"))


def continuous_factor() -> float:
    """Device and conductor over a load of three hours or more. Source: NFPA 70 (NEC) 210.20(A), 215.3."""
    return table("wire_constants").row("continuous_factor").number("constant_ratio")


def drop_limit_frac(where_used: str, system: str) -> float:
    """Advised limit of voltage drop, as a share of the load's voltage; advice, not a rule, in the NEC.

    `where_used`: branch, feeder_and_branch, electronics (split_120_240); lighting, other_uses (single_230).
    Raises: TableError for a pair the table lacks.
    Source: NEC informational notes to 210.19(A) and 215.2(A); BS 7671 Appendix 4 (from memory).
    """
    return table("voltage_drop_advice").row(where_used, system).si("limit_pct")


def _metal_column(material: str) -> str:
    columns = {COPPER: "copper_awg", ALUMINIUM: "aluminium_awg"}
    if material not in columns:
        raise TableError(f"unknown conductor metal {material!r}; use cu or al")
    return columns[material]
