"""Between two printed rows of a table: straight lines, and a refusal beyond the first and the last."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from hearthold.errors import TableError


def between(value: float, points: Sequence[tuple[float, float]], what: str) -> float:
    """Straight-line value between printed points (x rising). Raises TableError outside the printed range."""
    low, high = points[0][0], points[-1][0]
    if not low <= value <= high:
        raise TableError(f"{what} is {value:.4g}; the table runs from {low:.4g} to {high:.4g}")
    for (x0, y0), (x1, y1) in pairwise(points):
        if value <= x1:
            return y0 + (y1 - y0) * (value - x0) / (x1 - x0)
    return points[-1][1]
