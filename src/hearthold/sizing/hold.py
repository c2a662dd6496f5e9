"""A hold: how long one store stays within its limit without power, with every answer there is."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.quantities.source import Source


@dataclass(frozen=True, slots=True)
class Hold:
    """How long one store stays within its limit from now, unpowered; `inf` means it never leaves it."""

    store: str
    name: str
    kind: str
    planning_s: float
    likely_s: float
    rule_s: float | None
    limit: str
    notes: tuple[str, ...]
    source: Source

    @property
    def strictest_s(self) -> float:
        """The shortest of the answers: the one to act on."""
        return min(self._answers().values())

    @property
    def decided_by(self) -> str:
        """Which answer is the shortest: planning, likely or rule."""
        answers = self._answers()
        return min(answers, key=lambda name: answers[name])

    def _answers(self) -> dict[str, float]:
        known = {"planning": self.planning_s, "likely": self.likely_s}
        return known if self.rule_s is None else known | {"rule": self.rule_s}
