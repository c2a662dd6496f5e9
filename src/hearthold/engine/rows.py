"""Small helpers of the compilers: a row of named columns, and windows of the day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np

from hearthold.engine.kernels.layout import DAY_S, Array

Windows = tuple[tuple[float, float], ...]


def row(width: int, values: Mapping[int, float]) -> Array:
    """A row of zeros with some columns set."""
    made = np.zeros(width)
    for column, value in values.items():
        made[column] = value
    return made


def stack(rows: Iterable[Array], width: int) -> Array:
    """Rows as a matrix, also where there are none."""
    held = list(rows)
    return np.ascontiguousarray(np.vstack(held)) if held else np.zeros((0, width))


def unwrapped(windows: Iterable[tuple[float, float]]) -> Windows:
    """Windows of the day without any that run past midnight; equal ends mean the whole day."""
    parts: list[tuple[float, float]] = []
    for start, end in windows:
        a, b = start % DAY_S, end % DAY_S
        if a < b:
            parts.append((a, b))
        else:
            parts += [(a, DAY_S), (0.0, b)]
    return tuple(p for p in parts if p[1] > p[0])


def inside(windows: Windows, at_s: float) -> bool:
    """Whether a time of day lies in one of the windows (their ends excluded)."""
    return any(start <= at_s < end for start, end in windows)
