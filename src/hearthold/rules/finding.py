"""What a check says: where something is wrong, why it matters, and what mends it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

from hearthold.quantities.source import Source

Value = float | int | str
Values = dict[str, Value]


class Severity(StrEnum):
    """How much a finding matters, gravest first."""

    DANGER = "danger"  # can hurt or kill
    ACT = "act"  # must be mended before anybody relies on the power
    CONSIDER = "consider"  # would make the plan better or the margin wider
    NOTE = "note"  # good to know

    @property
    def rank(self) -> int:
        """0 for danger, 3 for a note."""
        return list(Severity).index(self)


@dataclass(frozen=True, slots=True)
class Hit:
    """One place where a rule applies: in words, with its figures, and a severity if not the row's."""

    where: str
    values: Mapping[str, Value] = field(default_factory=dict)
    severity: Severity | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """One result of a check: words with the figures filled in, and where the rule comes from."""

    rule: str
    family: str
    severity: Severity
    title: str
    where: str
    why: str
    remedy: str
    source: Source
    edition: str  # which edition of a code the numbering follows; empty where no code is cited
    caution: str  # id of the reference caution to print beside it; empty where there is none
    values: Mapping[str, Value]  # the figures of the message, in SI, limits included

    @property
    def needs_action(self) -> bool:
        """True for what must be mended before anybody relies on the power."""
        return self.severity in (Severity.DANGER, Severity.ACT)


def frozen_values(*parts: Mapping[str, Value]) -> Mapping[str, Value]:
    """Several maps of values as one that nobody can change."""
    merged: dict[str, Value] = {}
    for part in parts:
        merged |= part
    return MappingProxyType(merged)
