"""Where a value comes from: every figure shown to a user can say it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Standing(StrEnum):
    """How far a figure can be trusted."""

    SEEN = "seen"  # read in a published document
    MEMORY = "memory"  # recalled by its author, not confirmed in a document
    COMPUTED = "computed"  # worked out from other entries
    PRACTICE = "practice"  # common practice, no source
    GIVEN = "given"  # stated by the household
    ASSUMED = "assumed"  # filled in because the household did not say


@dataclass(frozen=True, slots=True)
class Source:
    """One citation with its standing."""

    text: str
    standing: Standing

    def __str__(self) -> str:
        tail = "" if self.standing in (Standing.SEEN, Standing.GIVEN) else f" ({self.standing})"
        return f"{self.text}{tail}"
