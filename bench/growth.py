"""How time grows with size: least times taken in turns, and the slope of a line through their logarithms."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

import numpy as np


def least_s(works: Sequence[Callable[[], object]], rounds: int) -> np.ndarray:
    """Least processor seconds of each, taken in turns after one round that is not counted."""
    found = np.full((rounds, len(works)), np.inf)
    for work in works:
        work()
    for row in found:
        for i, work in enumerate(works):
            begun = time.process_time()
            work()
            row[i] = time.process_time() - begun
    return found.min(0)


def exponent(sizes: Sequence[float], values: Sequence[float]) -> float:
    """Slope of the line through the logarithms; 1 is in proportion."""
    return float(np.polyfit(np.log(sizes), np.log(values), 1)[0])
