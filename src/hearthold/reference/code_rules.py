"""Rules of the codes in our words: what a check rests on. The code text governs."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.errors import TableError
from hearthold.quantities.source import Source
from hearthold.reference.reader import table
from hearthold.reference.shape import Row


@dataclass(frozen=True, slots=True)
class CodeRule:
    """One rule: where it stands, in which edition, for which voltage systems, and how far it was read."""

    id: str
    family: str
    article: str
    text: str
    edition: str
    systems: tuple[str, ...]
    source: Source
    note: str
    article_2023: str = ""  # where the numbering used is older; empty where it is not known


@dataclass(frozen=True, slots=True)
class NeutralPairing:
    """A set's neutral against the transfer equipment: right, wrong or lower (weaker protection)."""

    transfer_neutral: str
    generator_neutral: str
    verdict: str
    outcome: str
    rule: str
    source: Source


@dataclass(frozen=True, slots=True)
class LoadFactor:
    """One entry of the optional dwelling calculation; None where it has no such figure."""

    id: str
    meaning: str
    general_va: float | None
    demand_factor: float | None
    second_factor: float | None
    source: Source


def code_rule(name: str) -> CodeRule:
    """A rule by id, such as transfer_equipment. Raises TableError with near names."""
    return _rule(table("code_rules").row(name))


def code_rules(system: str = "", family: str = "") -> tuple[CodeRule, ...]:
    """Rules of a voltage system and family; each may be left open.

    Raises TableError for an unknown family.
    """
    families = table("code_rules").columns["family"].choices
    if family and family not in families:
        raise TableError(f"family {family!r} is not one of {', '.join(families)}")
    rows = table("code_rules").where(family=family) if family else table("code_rules").rows
    return tuple(_rule(r) for r in rows if not system or system in r.systems)


def neutral_pairing(transfer_neutral: str, generator_neutral: str) -> NeutralPairing:
    """How transfer equipment (solid, switched, cords_only) and set (floating, bonded) fit. Raises TableError.

    Source: derived from NEC 250.30, 250.34, 250.35, 250.142.
    """
    row = table("neutral_pairings").row(transfer_neutral, generator_neutral)
    return NeutralPairing(
        transfer_neutral,
        generator_neutral,
        row.text("verdict"),
        row.text("outcome"),
        row.text("rule"),
        row.source(),
    )


def load_factor(name: str) -> LoadFactor:
    """An entry of the optional dwelling calculation, such as per_square_foot. Raises TableError.

    Source: NFPA 70 (NEC) 220.82 (2008-2023).
    """
    row = table("dwelling_load").row(name)
    return LoadFactor(
        id=name,
        meaning=row.text("meaning"),
        general_va=row.si_or_none("general_va"),
        demand_factor=row.si_or_none("demand_factor"),
        second_factor=row.si_or_none("second_factor"),
        source=row.source(),
    )


def _rule(row: Row) -> CodeRule:
    return CodeRule(
        id=row.text("id"),
        family=row.text("family"),
        article=row.text("article"),
        text=row.text("rule"),
        edition=row.text("edition") if "edition" in row else "",
        systems=row.systems,
        source=row.source(),
        note=row.note,
        article_2023=row.text("article_2023") if "article_2023" in row else "",
    )
