"""Fuel: running that is certain where the tank may run dry, and trips that have surely begun (lemma 8)."""

# mypy: disable-error-code="no-any-return"

from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.plan.bound.kernels.layout import (
    F_LOST_J,
    F_READY_S,
    F_TANK_M3,
    F_TRIP_AT,
    F_TRIP_FROM_M3,
    F_TRIP_J,
    F_TRIP_M3,
    G_CHECK,
    SLOT_S,
    Z_BACK,
    Z_DRY,
    Z_FUEL,
    Z_LATE,
    Z_SET_OUT,
    Array,
    Frame,
)  # fmt: skip

SPARE_M3 = 1e-7  # so much more must surely be burned than there is before a pattern is ruled out


@kernel(inline=True)
def ran_least(p: Array, age: int, most: float, z: Array, y: Array) -> float:
    """Seconds of running, less what is set aside for refilling, in a slot in which the tank may run dry (lemma 8)."""
    y[Z_DRY] = 1.0
    known = age > 0 and z[Z_DRY] != 0.0
    late = y[Z_LATE] if age == 0 else 0.0
    return SLOT_S - late - p[F_READY_S] * (min(1.0, most / p[F_TANK_M3]) + (0.0 if known else 1.0))


@kernel(inline=True)
def started(p: Array, age: int, z: Array, wet: bool) -> bool:
    """Whether a start falls to this slot: the first of a spell, or the second where in the first the tank may have
    been refilled instead (lemma 8)."""
    return wet if age == 0 else age == 1 and z[Z_DRY] != 0.0 and p[F_READY_S] < SLOT_S


@kernel
def trips_j(f: Frame, t: int, z: Array, y: Array) -> float:
    """Trips that have surely begun by a moment when somebody is awake, and are back by the next such moment noted."""
    p = f.par
    y[Z_SET_OUT], y[Z_BACK] = z[Z_SET_OUT], z[Z_BACK]
    if p[F_TRIP_M3] <= 0.0:
        return 0.0
    beyond, begun = z[Z_FUEL] - p[F_TRIP_FROM_M3], 0.0
    while beyond > 0.0:
        begun += 1.0
        beyond -= p[F_TRIP_M3]
    if f.slots[t, G_CHECK] != 0.0:
        y[Z_BACK] = z[Z_SET_OUT]
        y[Z_SET_OUT] = max(z[Z_SET_OUT], begun)
    return (p[F_TRIP_J] - max(0.0, p[F_LOST_J])) * begun if t == int(p[F_TRIP_AT]) else 0.0
