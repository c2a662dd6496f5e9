"""Scales: from values to points, with round marks."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, log10


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight scale from values to points."""

    low: float
    high: float
    from_pt: float
    to_pt: float

    def at(self, value: float) -> float:
        """Where a value stands; values beyond the ends stand at the ends."""
        share = (value - self.low) / (self.high - self.low)
        return self.from_pt + min(1.0, max(0.0, share)) * (self.to_pt - self.from_pt)


def steps(low: float, high: float, most: int) -> tuple[float, ...]:
    """Round marks that reach over low and high: steps of 1, 2 or 5 times a power of ten.

    Values that are one but for rounding get a scale of one about them.
    """
    if high - low < 1e-9 * max(1.0, abs(low), abs(high)):
        low, high = low - 0.5, low + 0.5
    rough = (high - low) / max(1, most)
    power = 10.0 ** floor(log10(rough))
    step = next(power * k for k in (1.0, 2.0, 5.0, 10.0) if power * k >= rough * (1 - 1e-9))
    first, last = floor(low / step + 1e-9), ceil(high / step - 1e-9)
    return tuple(k * step for k in range(first, last + 1))


def hour_step_s(length_s: float) -> float:
    """Distance of the marks of a time scale: quarters of an hour up to days, so that there are at most 13."""
    hours = length_s / 3600.0
    found = next((h for h in (0.25, 0.5, 1, 2, 3, 6, 12, 24, 48, 96) if hours / h <= 13), 168)
    return found * 3600.0
