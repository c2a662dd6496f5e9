"""The band between the nearest level below and above a temperature: the next event is its first edge reached."""

from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.layout import LEVEL_K


@kernel(inline=True)
def nearer(below: float, above: float, level: float, here: float) -> tuple[float, float]:
    """Narrow the band around `here` by one more level, unless `here` stands on it."""
    if level > here + LEVEL_K:
        return below, min(above, level)
    if level < here - LEVEL_K:
        return max(below, level), above
    return below, above
