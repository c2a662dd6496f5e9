"""What the house asks for: steady, after a long outage, and in the second a motor starts; by leg and neutral.

Currents are phasors summed on each leg (`physics.legs`), so a motor's reactive current does not add to a
heater's as if both were watts. Every figure is at nominal voltage.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.house.loads import Load, Pattern
from hearthold.physics.legs import LegCurrents, imbalance_frac, leg_currents
from hearthold.sizing.placement import Placement, placement

if TYPE_CHECKING:
    from hearthold.house.house import House

SELF_STARTING = (Pattern.CYCLING, Pattern.CONTINUOUS)  # nobody has to switch these on


@dataclass(frozen=True, slots=True)
class LegDemand:
    """One demand as plain figures: total, legs and neutral."""

    total_w: float
    total_va: float
    leg_a_a: float
    leg_b_a: float
    neutral_a: float
    leg_voltage_v: float

    @property
    def leg_a_va(self) -> float:
        """Apparent power on leg A."""
        return self.leg_a_a * self.leg_voltage_v

    @property
    def leg_b_va(self) -> float:
        """Apparent power on leg B."""
        return self.leg_b_a * self.leg_voltage_v

    @property
    def worst_leg_a(self) -> float:
        """Current in the more heavily loaded leg."""
        return max(self.leg_a_a, self.leg_b_a)

    @property
    def imbalance_frac(self) -> float:
        """Difference of the legs over the larger one; means nothing where there is one leg."""
        return float(imbalance_frac(self.leg_a_va, self.leg_b_va))


@dataclass(frozen=True, slots=True)
class StartingDemand:
    """The moment one load (or a circuit's loads together) starts while others run."""

    what: str
    name: str
    own_va: float
    own_w: float
    demand: LegDemand


@dataclass(frozen=True, slots=True)
class Demand:
    """Everything the fed circuits can ask for, from the daily average to the worst second."""

    circuits: tuple[str, ...]
    average: LegDemand  # each load at its share of the day
    cold_pickup: LegDemand  # every thermostat calls, lights and the like at their share of the day
    all_on: LegDemand  # everything that is plugged in runs
    start_together: LegDemand  # everything that starts by itself starts in the same second
    worst_start: StartingDemand | None  # the heaviest single start on top of all other self-starting loads
    notes: tuple[str, ...]


def demand(house: House, circuit_ids: Iterable[str] | None = None, legs: Placement | None = None) -> Demand:
    """Demand of some circuits (all that the hookup feeds if none are named).

    Cold-load pickup: after hours without power no thermostat is satisfied, so the usual diversity is gone
    and every cycling load runs at once. `worst_start` is the planning peak of the trade: what runs already
    plus the start of the one heaviest motor. Raises KeyError on an unknown circuit.

    Source: cold-load pickup and planning peak are common practice, no source.
    """
    chosen = chosen_circuits(house, circuit_ids)
    seats = legs or placement(house)
    loads = [x for x in house.loads if x.circuit in chosen]
    pickup = [(x, 1.0 if x.pattern in SELF_STARTING else x.duty_frac) for x in loads]
    starting = [x for x in loads if x.pattern in SELF_STARTING]
    return Demand(
        chosen,
        figures(running_currents(house, seats, loads, lambda x: x.duty_frac)),
        figures(_weighted(house, seats, pickup)),
        figures(running_currents(house, seats, loads)),
        figures(start_currents(house, seats, starting)),
        worst_start(house, loads, seats),
        tuple(n for n in (seats.note,) if n),
    )


def chosen_circuits(house: House, circuit_ids: Iterable[str] | None) -> tuple[str, ...]:
    """The circuits named, in file order, or all that the hookup feeds. Raises KeyError on an unknown id."""
    if circuit_ids is None:
        return tuple(c.id for c in house.fed_circuits)
    wanted = {house.circuit_by_id[c].id for c in circuit_ids}
    return tuple(c.id for c in house.circuits if c.id in wanted)


def running_currents(
    house: House, seats: Placement, loads: Sequence[Load], share: Callable[[Load], float] = lambda _: 1.0
) -> LegCurrents:
    """Phasor currents of loads that run, each at a share of its running power."""
    return _weighted(house, seats, [(x, share(x)) for x in loads])


def start_currents(house: House, seats: Placement, loads: Sequence[Load]) -> LegCurrents:
    """Phasor currents in the second in which all pieces of these loads start together."""
    return _sum(
        house,
        seats,
        [x.circuit for x in loads],
        [_start_w(x) for x in loads],
        [_start_factor(x) for x in loads],
    )


def worst_start(house: House, loads: Sequence[Load], seats: Placement) -> StartingDemand | None:
    """The one start that asks most of the source while every other self-starting load runs.

    A load that a person switches may start too, on top of everything that runs by itself.
    """
    peaks = [_start_on_top(house, seats, x, loads) for x in loads if x.is_motor]
    return max(peaks, key=lambda p: (p.demand.total_va, p.what), default=None)


def figures(currents: LegCurrents) -> LegDemand:
    """Plain figures of phasor currents."""
    leg_a_a, leg_b_a = complex(currents.leg_a_a), complex(currents.leg_b_a)
    total_va = complex(currents.total_va)
    return LegDemand(
        total_va.real,
        abs(total_va),
        abs(leg_a_a),
        abs(leg_b_a),
        abs(leg_a_a - leg_b_a),
        currents.leg_voltage_v,
    )


def is_lighting(load: Load) -> bool:
    """Whether a load is lamps, by the catalogue kind it was given."""
    return load.kind is not None and any(word in load.kind for word in ("led_", "light"))


def added(one: LegCurrents, other: LegCurrents) -> LegCurrents:
    """Two demands at the same time."""
    return LegCurrents(one.leg_a_a + other.leg_a_a, one.leg_b_a + other.leg_b_a, one.leg_voltage_v)


def start_on_top_currents(house: House, seats: Placement, load: Load, loads: Sequence[Load]) -> LegCurrents:
    """Currents while one piece of a load starts, its other pieces and every other self-starting load run."""
    others = [(x, 1.0) for x in loads if x.pattern in SELF_STARTING and x.id != load.id]
    siblings = [(load, (load.count - 1) / load.count)] if load.pattern in SELF_STARTING else []
    return added(_weighted(house, seats, others + siblings), one_start_currents(house, seats, load))


def one_start_currents(house: House, seats: Placement, load: Load) -> LegCurrents:
    """Currents of one piece of a load in its first second."""
    return _sum(house, seats, [load.circuit], [load.start_w], [load.start_power_factor])


def _start_on_top(house: House, seats: Placement, load: Load, loads: Sequence[Load]) -> StartingDemand:
    together = start_on_top_currents(house, seats, load, loads)
    return StartingDemand(load.id, load.name, load.start_va, load.start_w, figures(together))


def _start_w(load: Load) -> float:
    """Real power of all pieces in the first second; a load that is no motor just runs."""
    return load.start_w * load.count if load.is_motor else load.running_w


def _start_factor(load: Load) -> float:
    return load.start_power_factor if load.is_motor else load.power_factor


def _weighted(house: House, seats: Placement, weighted: Sequence[tuple[Load, float]]) -> LegCurrents:
    return _sum(
        house,
        seats,
        [x.circuit for x, _ in weighted],
        [x.running_w * share for x, share in weighted],
        [x.power_factor for x, _ in weighted],
    )


def _sum(
    house: House, seats: Placement, circuits: Sequence[str], watts_w: Sequence[float], factor: Sequence[float]
) -> LegCurrents:
    connection = [seats.leg_of[c] for c in circuits]
    return leg_currents(watts_w, factor, connection, house.system.leg_voltage_v)
