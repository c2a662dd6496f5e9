"""Refrigerators and freezers: heat loss, contents, label lines, published hold times."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.errors import TableError
from hearthold.quantities.source import Source
from hearthold.reference.between import between
from hearthold.reference.reader import table


@dataclass(frozen=True, slots=True)
class ColdAppliance:
    """One set of the cautious model. A fridge has `content_j_per_k`, a freezer the food fields.

    `coupling_w_per_k_kg` joins shell and core, per kg of food; None where the table is silent.
    """

    id: str
    meaning: str
    compartment: str
    ua_w_per_k: float
    cabinet_j_per_k: float
    full_load_kg: float | None
    content_j_per_k: float | None
    shell_frac: float | None
    coupling_w_per_k_kg: float | None
    start_c: float
    cooling_w: float | None
    running_w: float | None
    start_va: float | None
    source: Source
    caution: str


@dataclass(frozen=True, slots=True)
class LabelLine:
    """Largest yearly mean power by volume: slope x adjusted volume + base."""

    kind: str
    slope_w_per_m3: float
    base_w: float
    source: Source


def cold_appliance(name: str) -> ColdAppliance:
    """A set by id, such as chest_15_ft3 or fresh_food_18_ft3. Raises TableError with near names.

    `caution` says that the sets are calibrated to the published hours, not physics.
    """
    row = table("cold_appliances").row(name)
    return ColdAppliance(
        id=name,
        meaning=row.text("meaning"),
        compartment=row.text("compartment"),
        ua_w_per_k=row.si("ua_w_per_k"),
        cabinet_j_per_k=row.si("cabinet_kj_per_k"),
        full_load_kg=row.si_or_none("full_load_kg"),
        content_j_per_k=row.si_or_none("content_kj_per_k"),
        shell_frac=row.si_or_none("shell_frac"),
        coupling_w_per_k_kg=row.si_or_none("coupling_w_per_k_kg"),
        start_c=row.si("start_c"),
        cooling_w=row.si_or_none("cooling_w"),
        running_w=row.si_or_none("running_w"),
        start_va=row.si_or_none("start_va"),
        source=row.source("ua_w_per_k", "cabinet_kj_per_k"),
        caution=table("cold_appliances").note,
    )


def cold_appliances() -> tuple[str, ...]:
    """Ids of the sets."""
    return tuple(str(n) for n in table("cold_appliances").names())


def label_line(kind: str) -> LabelLine:
    """The largest-energy line of a kind of appliance, such as chest_freezer. Raises TableError.

    Source: 10 CFR 430.32(a), standards of September 2014.
    """
    row = table("cold_label_lines").row(kind)
    return LabelLine(kind, row.si("slope_kwh_per_year_ft3"), row.si("base_kwh_per_year"), row.source())


def freezer_ua_w_per_k(kind: str, volume_m3: float) -> float:
    """Heat loss of a freezer by size: chest, upright_manual or upright_auto, between the computed sizes.

    Raises: TableError for an unknown kind or a volume outside the table.
    Source: computed from the DOE maximum-energy lines with COP 1.35.
    """
    rows = table("freezer_heat_loss").where(kind=kind)
    if not rows:
        raise TableError(f"no freezer kind {kind!r}; known: {', '.join(map(str, _kinds()))}")
    return between(volume_m3, [(r.si("volume_ft3"), r.si("ua_w_per_k")) for r in rows], "freezer volume, m3,")


def freezer_density_kg_per_m3(load: str = "mixed_packages") -> float:
    """Food over volume in a full freezer: mixed_packages or cut_meat. Raises TableError. From memory."""
    return table("freezer_fill").row(load).si("density_lb_per_ft3")


def model_hold_s(name: str, room_c: float, full: bool = True) -> float:
    """Hours the cautious set answers, at a tabulated room temperature: a guard against change, not proof.

    Raises: TableError for an appliance or a room the table lacks.
    """
    return table("cold_hold_hours").row(name, room_c).si("full_h" if full else "half_h")


def _kinds() -> tuple[object, ...]:
    return table("freezer_heat_loss").names()
