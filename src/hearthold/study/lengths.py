"""How long an outage may last that has lasted so long already, as equally likely lengths."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hearthold.study.outages import Outages

Array = NDArray[np.float64]
SHORTEST_S, LONGEST_S = 60.0, 1e8
GRID = 2000


def lengths_s(outages: Outages, elapsed_s: float = 0.0, count: int = 200) -> Array:
    """(count,) lengths in seconds at the middles of equal shares of chance, each above `elapsed_s`.

    Of outages of both streams, each as frequent as it is. Where hardly any lasts as long as this one, the tail
    that the streams' lognormals have is what is left to go by.
    Source: conditional quantiles of a mixture, S(t) / S(elapsed) = 1 - q.
    """
    time_s = np.geomspace(SHORTEST_S, LONGEST_S, GRID)
    rates = [s.usual_per_year for s in outages.streams]
    parts = [s.survival_frac(np.append(time_s, max(elapsed_s, 1e-3))) for s in outages.streams]
    survival = np.average(parts, axis=0, weights=rates)
    over, share = survival[:-1], (np.arange(count) + 0.5) / count
    wanted = survival[-1] * (1.0 - share)
    found = np.exp(np.interp(-wanted, -over, np.log(time_s)))  # survival falls, so both are turned round
    return np.asarray(np.maximum(found, elapsed_s * (1.0 + 1e-9)))
