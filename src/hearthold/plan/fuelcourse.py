"""The course of fuel in a replay: what of each spell there is fuel for, who drives for more and when, where it ends.

A pattern may want the machine on when its tank is empty: that costs nothing, so no search minds. What is told of a
plan is what the machine did.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

from hearthold.engine.kernels import layout as c
from hearthold.engine.trace import Happening, Trace
from hearthold.plan.objective import SLOT_S

TINY_M3 = 1e-9
TINY_S = 1e-3


@dataclass(frozen=True, slots=True)
class PlannedSpell:
    """One run of the machine as it was replayed, in seconds since the grid failed."""

    start_s: float
    end_s: float
    runs_dry: bool = False  # it was to last longer: no fuel is left

    @property
    def length_s(self) -> float:
        """How long it runs."""
        return self.end_s - self.start_s


@dataclass(frozen=True, slots=True)
class FuelTrip:
    """One trip for more fuel in a replay, in seconds since the grid failed."""

    leave_s: float
    back_s: float
    brings_m3: float


def covered(trace: Trace, wanted: Sequence[tuple[float, float]]) -> tuple[PlannedSpell, ...]:
    """The spells wanted as far as there was fuel for them; those in which the machine never ran are left out.

    One that began late, because somebody had yet to bring fuel, begins when it did.
    """
    ran, dry = tuple(_ran(trace)), _dry_s(trace)
    return tuple(spell for a, b in wanted for spell in _covered(a, b, ran, dry))


def _covered(
    start_s: float, end_s: float, ran: Sequence[tuple[float, float]], dry: Sequence[float]
) -> Iterator[PlannedSpell]:
    within = [(max(a, start_s), min(b, end_s)) for a, b in ran if a < end_s - TINY_S and b > start_s + TINY_S]
    if not within:
        return
    first_s, last_s = within[0][0], within[-1][1]
    began_s = first_s if first_s > start_s + SLOT_S else start_s
    ended = last_s < end_s - TINY_S and any(abs(at_s - last_s) < TINY_S for at_s in dry)
    yield PlannedSpell(began_s, last_s if ended else end_s, ended)


def _ran(trace: Trace) -> Iterator[tuple[float, float]]:
    """Stretches in which the machine ran. The log has no line for what runs from the first moment on."""
    switches = [x for x in trace.log if x.what in (Happening.START, Happening.STOP)]
    from_the_start = switches[0].what is Happening.STOP if switches else bool(trace.machine_frac.any())
    edges_s = [0.0] * from_the_start + [x.at_s for x in switches]
    yield from zip(edges_s[::2], [*edges_s[1::2], trace.length_s], strict=False)


def _dry_s(trace: Trace) -> tuple[float, ...]:
    """Moments at which the tank ran dry and nothing was left beside it."""
    return tuple(x.at_s for x in trace.log if x.what is Happening.DRY and x.value <= TINY_M3)


def trips_of(trace: Trace) -> tuple[FuelTrip, ...]:
    """Every trip from which somebody came back."""
    par = trace.house.world.par
    takes_s, brings_m3 = float(par[c.P_TRIP_S]), float(par[c.P_TRIP_M3])
    back = (line.at_s for line in trace.log if line.what is Happening.BACK)
    return tuple(FuelTrip(at_s - takes_s, at_s, brings_m3) for at_s in back)


def fuel_ends_s(trace: Trace) -> float:
    """When the last of the fuel was burned; 0 where there was none at all, inf where some is left at the end."""
    if float(trace.outcomes.fuel_left_m3[0]) > TINY_M3:
        return inf
    return max(_dry_s(trace), default=0.0)
