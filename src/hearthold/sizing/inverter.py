"""The inverter of a house battery: what it holds and starts, in all and on one leg, while no set runs.

Between spells it carries every circuit whose breaker is on, and nobody is there to take turns. Asked for more it
cuts off, and everything behind it goes dark, so its rating is a limit and not a matter of a dip.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.sizing.demand import SELF_STARTING, LegDemand, figures, running_currents, start_on_top_currents
from hearthold.sizing.placement import Placement, placement

if TYPE_CHECKING:
    from collections.abc import Sequence

    from hearthold.house.house import House
    from hearthold.house.loads import Load

SURGE_RATIO = 1.5  # of the running rating for a second or two (judgement), where none is given


@dataclass(frozen=True, slots=True)
class Inverter:
    """What an inverter gives. Watts are read as VA too: no plate of a small one gives more."""

    running_w: float
    start_va: float
    leg_limit_w: float
    leg_start_va: float
    voltage_v: float
    surge_given: bool

    @property
    def start_w(self) -> float:
        """The same surge read as watts."""
        return self.start_va

    def running_frac(self, asked: LegDemand) -> float:
        """Share of its rating that a demand takes, of the whole or of the worse leg."""
        worst_leg_va = max(asked.leg_a_va, asked.leg_b_va)
        return max(asked.total_va / self.running_w, worst_leg_va / self.leg_limit_w)

    def start_frac(self, asked: LegDemand) -> float:
        """Share of its surge that a start with what runs beside it takes, of the whole or of the worse leg."""
        worst_leg_va = max(asked.leg_a_va, asked.leg_b_va)
        return max(asked.total_va / self.start_va, worst_leg_va / self.leg_start_va)


@dataclass(frozen=True, slots=True)
class InverterStart:
    """One motor's start on the inverter: shares of its surge, alone and beside what runs by itself."""

    load: str
    name: str
    start_va: float
    alone_frac: float
    beside_frac: float


def inverter(house: House) -> Inverter | None:
    """The inverter of the house's battery; None without one. One leg has half of it (the usual build, from memory)."""
    battery = house.battery
    if battery is None:
        return None
    legs = len(house.system.legs)
    most_w = battery.discharge_w
    surge_va = battery.surge_va or SURGE_RATIO * most_w
    volts = house.system.full_voltage_v
    return Inverter(most_w, surge_va, most_w / legs, surge_va / legs, volts, battery.surge_va is not None)


def by_itself(house: House, legs: Placement | None = None) -> LegDemand:
    """What the fed circuits may ask of it at one time with nobody at the panel: all that switches itself on."""
    return figures(running_currents(house, legs or placement(house), _calling(house)))


def inverter_starts(
    house: House, source: Inverter, legs: Placement | None = None
) -> tuple[InverterStart, ...]:
    """Every motor's start on the inverter, the hardest first.

    Source: planning peak of the trade, what runs plus one start (no source); phasor sums by leg.
    """
    seats, fed = legs or placement(house), {c.id for c in house.fed_circuits}
    motors = [x for x in house.loads if x.is_motor and x.circuit in fed]
    found = [_start(house, source, seats, x) for x in motors]
    return tuple(sorted(found, key=lambda s: (-s.alone_frac, s.load)))


def unstartable(house: House) -> tuple[Load, ...]:
    """Fed motors whose start alone is beyond the surge of the battery's inverter; none without a battery."""
    source = inverter(house)
    if source is None:
        return ()
    beyond = {start.load for start in inverter_starts(house, source) if start.alone_frac > 1.0}
    return tuple(load for load in house.loads if load.id in beyond)


def _start(house: House, source: Inverter, seats: Placement, load: Load) -> InverterStart:
    alone, beside = (
        source.start_frac(figures(start_on_top_currents(house, seats, load, others)))
        for others in ((), _calling(house))
    )
    return InverterStart(load.id, load.name, load.start_va, alone, beside)


def _calling(house: House) -> Sequence[Load]:
    fed = {c.id for c in house.fed_circuits}
    return [x for x in house.loads if x.circuit in fed and x.pattern in SELF_STARTING]
