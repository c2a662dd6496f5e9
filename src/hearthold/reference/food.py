"""Food: the public-health rules of an outage, what to keep or throw out, and thermal properties."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.quantities.source import Source
from hearthold.reference.reader import table
from hearthold.reference.shape import Row


@dataclass(frozen=True, slots=True)
class FoodRule:
    """One rule of public-health guidance; None where the rule names no such figure."""

    id: str
    meaning: str
    duration_s: float | None
    temperature_c: float | None
    dry_ice_kg: float | None
    source: Source


@dataclass(frozen=True, slots=True)
class FridgeItem:
    """A kind of refrigerated food held above 40 F for more than two hours.

    `verdict`: discard, keep, or discard_past_limit (past `limit_s` above `limit_c`).
    """

    id: str
    food: str
    verdict: str
    limit_s: float | None
    limit_c: float | None
    source: Source


@dataclass(frozen=True, slots=True)
class FreezerItem:
    """A kind of frozen food: verdict with ice crystals, and once thawed and warm for two hours."""

    id: str
    food: str
    cold_verdict: str
    warm_verdict: str
    limit_s: float | None
    limit_c: float | None
    source: Source


@dataclass(frozen=True, slots=True)
class Food:
    """Thermal properties of one food."""

    name: str
    water_frac: float
    protein_frac: float | None
    freezing_c: float
    above_j_per_kg_k: float
    below_j_per_kg_k: float | None
    latent_j_per_kg: float | None
    source: Source
    note: str


def food_rule(name: str) -> FoodRule:
    """A rule by id, such as fridge_closed. Raises TableError with near names. Source: USDA FSIS, FDA."""
    row = table("food_rules").row(name)
    return FoodRule(
        id=name,
        meaning=row.text("meaning"),
        duration_s=row.si_or_none("duration_h"),
        temperature_c=row.si_or_none("temperature_f"),
        dry_ice_kg=row.si_or_none("dry_ice_lb"),
        source=row.source(),
    )


def food_rule_s(name: str) -> float:
    """Length of time of a rule. Raises TableError where the rule names none."""
    return table("food_rules").row(name).si("duration_h")


def food_rule_c(name: str) -> float:
    """Temperature of a rule. Raises TableError where the rule names none."""
    return table("food_rules").row(name).si("temperature_f")


def fridge_items() -> tuple[FridgeItem, ...]:
    """Every kind of refrigerated food, in the order of the chart. Source: FoodSafety.gov."""
    return tuple(
        FridgeItem(r.text("id"), r.text("food"), r.text("verdict"), *_limit(r), r.source())
        for r in table("fridge_items")
    )


def freezer_items() -> tuple[FreezerItem, ...]:
    """Every kind of frozen food, in the order of the chart. Source: county guideline after the USDA chart."""
    return tuple(
        FreezerItem(
            r.text("id"),
            r.text("food"),
            r.text("cold_verdict"),
            r.text("warm_verdict"),
            *_limit(r),
            r.source(),
        )
        for r in table("freezer_items")
    )


def food(name: str) -> Food:
    """A food by name, such as mixed_freezer_load. Raises TableError with near names."""
    row = table("foods").row(name)
    return Food(
        name=name,
        water_frac=row.si("water_frac"),
        protein_frac=row.si_or_none("protein_frac"),
        freezing_c=row.si("freezing_c"),
        above_j_per_kg_k=row.si("above_kj_per_kg_k"),
        below_j_per_kg_k=row.si_or_none("below_kj_per_kg_k"),
        latent_j_per_kg=row.si_or_none("latent_kj_per_kg"),
        source=row.source(),
        note=row.note,
    )


def food_names() -> tuple[str, ...]:
    """Names of the foods."""
    return tuple(str(n) for n in table("foods").names())


def _limit(row: Row) -> tuple[float | None, float | None]:
    return row.si_or_none("limit_h"), row.si_or_none("limit_f")
