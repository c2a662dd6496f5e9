"""Decaying exponentials: their integrals, and the first time a sum of two reaches a level.

    x(t) = x0 + a_fast E(k_fast, t) + a_slow E(k_slow, t),    E(k, t) = (1 - exp(-k t)) / k

is every temperature in the engine while its inputs are constant (`physics.twonode` derives it). The crossing
here is the one of `physics.twonode` with a looser last digit and fewer exponentials; the tests compare the two.
"""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from math import copysign, exp, log, sqrt

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.layout import FAR

_SERIES_BELOW = 0.02  # six terms are exact to 1e-14 here, and above it 1 - exp(-x) keeps its digits
_NEAR = 1e-9  # a start this close to the level stands on it: only a later return counts


@kernel(inline=True)
def decay(k_per_s: float, dt_s: float) -> tuple[float, float]:
    """Integral of exp(-k t) over 0..dt, and the integral of that integral. Good to 1e-13 for any k dt >= 0."""
    x = k_per_s * dt_s
    if x < _SERIES_BELOW:
        once = 1.0 - x * (1 / 2 - x * (1 / 6 - x * (1 / 24 - x * (1 / 120 - x * (1 / 720)))))
        twice = 1 / 2 - x * (1 / 6 - x * (1 / 24 - x * (1 / 120 - x * (1 / 720 - x * (1 / 5040)))))
        return dt_s * once, dt_s * dt_s * twice
    e = (1.0 - exp(-x)) / k_per_s
    return e, (dt_s - e) / k_per_s


@kernel(inline=True)
def third(k_per_s: float, dt_s: float, twice: float) -> float:
    """Integral of the second of `decay`, over 0..dt."""
    x = k_per_s * dt_s
    if x < _SERIES_BELOW:
        return dt_s * dt_s * dt_s * (1 / 6 - x * (1 / 24 - x * (1 / 120 - x * (1 / 720 - x * (1 / 5040)))))
    return (0.5 * dt_s * dt_s - twice) / k_per_s


@kernel(inline=True)
def stays(x0: float, a_fast: float, a_slow: float, below: float, above: float, dt_s: float) -> bool:
    """Whether x stays inside by its steepest alone: it never moves faster than both its parts at the start."""
    reach = (abs(a_fast) + abs(a_slow)) * dt_s
    return x0 - reach > below and x0 + reach < above


@kernel
def _at(x0: float, a_fast: float, a_slow: float, k_fast: float, k_slow: float, t_s: float) -> float:
    e_fast, _ = decay(k_fast, t_s)
    e_slow, _ = decay(k_slow, t_s)
    return x0 + a_fast * e_fast + a_slow * e_slow


@kernel
def _root(
    gap: float, a_fast: float, a_slow: float, k_fast: float, k_slow: float,
    low: float, at_low: float, high: float, at_high: float, within_s: float,
) -> float:  # fmt: skip
    """Zero of gap + a_fast E + a_slow E in a monotone bracket: Newton from a parabola, halving if it strays.

    The parabola is the one that starts as the path does; where that misses the bracket, the chord.
    """
    start, bend = a_fast + a_slow, 0.5 * (k_fast * a_fast + k_slow * a_slow)
    under = start * start + 4.0 * bend * gap
    t = -2.0 * gap / (start + copysign(sqrt(under), start)) if under > 0.0 else low
    if not low < t < high:
        t = low + (high - low) * at_low / (at_low - at_high)
    for _ in range(60):
        e_fast, _s = decay(k_fast, t)
        e_slow, _s = decay(k_slow, t)
        value = gap + a_fast * e_fast + a_slow * e_slow
        slope = a_fast * (1.0 - k_fast * e_fast) + a_slow * (1.0 - k_slow * e_slow)
        step = t - value / slope if slope != 0.0 else low
        if abs(step - t) < within_s:
            return step
        if (value < 0.0) == (at_high < 0.0):
            high = t
        else:
            low = t
        if not low < step < high:
            step = 0.5 * (low + high)
        t = step
    return high


@kernel
def first_crossing(
    x0: float, a_fast: float, a_slow: float, k_fast: float, k_slow: float,
    below: float, above: float, dt_s: float, x_end: float, within_s: float,
) -> float:  # fmt: skip
    """First time in (0, dt] at which x leaves (below, above), FAR if it stays inside. x_end is x(dt)."""
    inside = below < x_end < above
    if a_fast * a_slow < 0.0 and abs(a_fast) > abs(a_slow) and k_fast > k_slow:
        # before it turns x goes the fast part's way, less far than that alone; after it, straight to x_end
        farthest = x0 + a_fast / k_fast
        if inside and (farthest < above if a_fast > 0.0 else farthest > below):
            return FAR
        turn = (log(abs(a_fast)) - log(abs(a_slow))) / (k_fast - k_slow)
        if turn < dt_s:
            x_turn = _at(x0, a_fast, a_slow, k_fast, k_slow, turn)
            found = _one_way(
                x0, a_fast, a_slow, k_fast, k_slow, below, above, 0.0, x0, turn, x_turn, within_s
            )
            if found < FAR:
                return found
            return _one_way(
                x0, a_fast, a_slow, k_fast, k_slow, below, above, turn, x_turn, dt_s, x_end, within_s
            )
    if inside:
        return FAR
    return _one_way(x0, a_fast, a_slow, k_fast, k_slow, below, above, 0.0, x0, dt_s, x_end, within_s)


@kernel
def _one_way(
    x0: float, a_fast: float, a_slow: float, k_fast: float, k_slow: float,
    below: float, above: float, low: float, x_low: float, high: float, x_high: float, within_s: float,
) -> float:  # fmt: skip
    """The crossing in a stretch in which x only rises or only falls."""
    if x_high >= above and x_low < above - _NEAR:
        return _root(
            x0 - above, a_fast, a_slow, k_fast, k_slow, low, x_low - above, high, x_high - above, within_s
        )
    if x_high <= below and x_low > below + _NEAR:
        return _root(
            x0 - below, a_fast, a_slow, k_fast, k_slow, low, x_low - below, high, x_high - below, within_s
        )
    return FAR
