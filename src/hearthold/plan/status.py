"""The four things that may be said of an answer. They are different words everywhere."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

PROVEN_FRAC = 1e-6  # a gap below this is rounding


class Status(StrEnum):
    """What is known about an answer."""

    PROVEN = "proven best"
    WITHIN = "best found, at most x % dearer than the best possible"
    IN_TIME = "best found in the time"
    CANNOT = "cannot be done"


@dataclass(frozen=True, slots=True)
class Standing:
    """A status with its gap, and the words to show."""

    status: Status
    gap_frac: float | None = None

    @property
    def words(self) -> str:
        """The status as it is shown."""
        if self.status is Status.WITHIN and self.gap_frac is not None:
            return self.status.value.replace("x %", f"{100.0 * self.gap_frac:.1f} %")
        return self.status.value


def standing(cost_j: float, bound_j: float | None, kept: bool) -> Standing:
    """What may be said of a cost, given a lower bound that holds for the same problem, or none.

    `kept`: whether all limits are kept. Where they are not, only a bound that contains the breach says it
    must be so; the words stay "cannot be done" for what was asked, and the plan shown is the least breach
    found.
    """
    if not kept:
        return Standing(Status.CANNOT)
    if bound_j is None or bound_j <= 0.0:
        return Standing(Status.IN_TIME)
    gap = max(0.0, cost_j / bound_j - 1.0)
    return Standing(Status.PROVEN if gap <= PROVEN_FRAC else Status.WITHIN, gap)
