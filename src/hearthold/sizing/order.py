"""The order in which circuits are switched on after a start of the machine, and what each step asks of it.

The peak of a step is what runs already plus the start of what is switched on. To make the largest peak as
small as can be, switch first the circuit whose start exceeds its own running by most. Proof by exchange: with
R running, i before j peaks at max(R + s_i, R + r_i + s_j); if s_i - r_i >= s_j - r_j then s_i + r_j is at
least both s_i and r_i + s_j, and s_i + r_j is what j before i costs. So two neighbours in the wrong order can
be exchanged without raising the peak, and sorting is optimal. (The trade says "largest motor first"; that is
this rule where running is small beside starting.) The sums in the rule are plain sums of VA, which the phasor
sums that are reported never exceed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.house.loads import Load
from hearthold.physics.legs import LegCurrents
from hearthold.reference.generator import performance_class
from hearthold.sizing.demand import (
    SELF_STARTING,
    LegDemand,
    added,
    chosen_circuits,
    figures,
    running_currents,
    start_currents,
)
from hearthold.sizing.placement import Placement, placement

if TYPE_CHECKING:
    from hearthold.house.house import House

# Heaters and lights need no settling; the pause is for the person at the panel. Common practice, no source.
PLAIN_PAUSE_S = 3.0


@dataclass(frozen=True, slots=True)
class Item:
    """One circuit as the order sees it."""

    circuit: str
    start_va: float
    running_va: float
    wait_s: float
    allowed_s: float  # latest time after the first step at which it must be on; inf where it may wait

    @property
    def surplus_va(self) -> float:
        """How much its start exceeds its running."""
        return self.start_va - self.running_va


@dataclass(frozen=True, slots=True)
class Step:
    """One circuit switched on: its start, the peak on the machine, what runs afterwards, and the pause."""

    position: int
    circuit: str
    name: str
    at_s: float
    wait_s: float
    own_start_va: float
    own_start_w: float
    peak: LegDemand
    after: LegDemand


@dataclass(frozen=True, slots=True)
class SwitchOn:
    """A switch-on order, its worst step, and what the order that ignores vital loads would have cost."""

    steps: tuple[Step, ...]
    moved_ahead: tuple[str, ...]  # vital circuits that could not wait for their turn by the rule
    peak_va: float
    peak_w: float
    together_va: float  # everything switched on in the same second
    by_hand: tuple[str, ...]  # loads a person switches, off during the sequence
    notes: tuple[str, ...]

    @property
    def lasts_s(self) -> float:
        """From the first switch to the end of the last pause."""
        return self.steps[-1].at_s + self.steps[-1].wait_s if self.steps else 0.0


def switch_on_order(
    house: House,
    circuit_ids: Iterable[str] | None = None,
    legs: Placement | None = None,
    already_on: Iterable[str] = (),
) -> SwitchOn:
    """The order of least peak for some circuits (all that the hookup feeds if none are named).

    `already_on`: circuits that run meanwhile, so that every peak stands on theirs.

    Everything that starts by itself is taken to call for power (cold-load pickup); what a person switches is
    taken to be off. A vital circuit moves to the head only where its person's own battery would not last
    until its turn. Raises KeyError on an unknown circuit.

    Source: exchange argument in this module's text; largest start first is common practice, no source.
    """
    chosen = chosen_circuits(house, circuit_ids)
    seats = legs or placement(house)
    items = [_item(house, seats, c) for c in chosen]
    ahead = _cannot_wait(least_peak_order(items))
    ordered = least_peak_order([i for i in items if i.circuit in ahead])
    ordered += least_peak_order([i for i in items if i.circuit not in ahead])
    calling = [x for c in already_on for x in _calling(house, c)]
    running = running_currents(house, seats, calling)
    steps = _steps(house, seats, ordered, running)
    together = added(running, _starting(house, seats, chosen))
    return SwitchOn(
        steps,
        tuple(i.circuit for i in ordered if i.circuit in ahead),
        max((s.peak.total_va for s in steps), default=0.0),
        max((s.peak.total_w for s in steps), default=0.0),
        figures(together).total_va,
        tuple(x.id for x in house.loads if x.circuit in chosen and x.pattern not in SELF_STARTING),
        tuple(n for n in (seats.note, _waiting_note(ahead)) if n),
    )


def least_peak_order(items: Sequence[Item]) -> list[Item]:
    """Items sorted so that the largest of (running before + start) is least; ties by size, then by id."""
    return sorted(items, key=lambda i: (-i.surplus_va, -i.start_va, i.circuit))


def peak_of_order_va(items: Sequence[Item]) -> float:
    """Largest of (running before + start) over an order, by plain sums."""
    peak_va = running_va = 0.0
    for item in items:
        peak_va = max(peak_va, running_va + item.start_va)
        running_va += item.running_va
    return peak_va


def _cannot_wait(ordered: Sequence[Item]) -> frozenset[str]:
    """Circuits whose turn by the rule comes later than they can wait."""
    at_s, late = 0.0, set()
    for item in ordered:
        if at_s > item.allowed_s:
            late.add(item.circuit)
        at_s += item.wait_s
    return frozenset(late)


def _item(house: House, seats: Placement, circuit_id: str) -> Item:
    loads = _calling(house, circuit_id)
    start = figures(start_currents(house, seats, loads))
    running = figures(running_currents(house, seats, loads))
    return Item(circuit_id, start.total_va, running.total_va, _wait_s(loads), _allowed_s(house, loads))


def _wait_s(loads: Sequence[Load]) -> float:
    """Run-up of the slowest motor and the machine's recovery after it."""
    motors = [x.run_up_s for x in loads if x.is_motor]
    return max(motors) + performance_class("G1").voltage_recovery_s if motors else PLAIN_PAUSE_S


def _allowed_s(house: House, loads: Sequence[Load]) -> float:
    """How long the vital loads here can wait: a person's own battery, or not at all where none is known."""
    vital = {x.id for x in house.vital_loads}
    own = {need.load: need.own_battery_s for need in house.medical}
    return min((own.get(x.id, 0.0) for x in loads if x.id in vital), default=float("inf"))


def _calling(house: House, circuit_id: str) -> list[Load]:
    return [x for x in house.loads_on(circuit_id) if x.pattern in SELF_STARTING]


def _starting(house: House, seats: Placement, circuit_ids: Iterable[str]) -> LegCurrents:
    return start_currents(house, seats, [x for c in circuit_ids for x in _calling(house, c)])


def _steps(house: House, seats: Placement, ordered: Sequence[Item], running: LegCurrents) -> tuple[Step, ...]:
    steps, at_s = [], 0.0
    for position, item in enumerate(ordered, start=1):
        start = _starting(house, seats, [item.circuit])
        after = added(running, running_currents(house, seats, _calling(house, item.circuit)))
        steps.append(_step(house, position, item, at_s, start, added(running, start), after))
        running, at_s = after, at_s + item.wait_s
    return tuple(steps)


def _step(
    house: House,
    position: int,
    item: Item,
    at_s: float,
    start: LegCurrents,
    peak: LegCurrents,
    after: LegCurrents,
) -> Step:
    own = figures(start)
    name = house.circuit_by_id[item.circuit].name
    return Step(
        position,
        item.circuit,
        name,
        at_s,
        item.wait_s,
        own.total_va,
        own.total_w,
        figures(peak),
        figures(after),
    )


def _waiting_note(ahead: frozenset[str]) -> str:
    if not ahead:
        return ""
    return f"vital, switched on first because it cannot wait: {', '.join(sorted(ahead))}"
