"""Which circuits an electrician could move to even the legs: the most even load first, then the mildest worst start.

The measure is the one of every page: all that is on the circuits running, VA summed as by hand (sizing.evenlegs and
sizing.placement). Where the leg of a circuit is not written down, nothing is told to move: nobody knows from where.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.house.site import VoltageSystem
from hearthold.physics.legs import Connection, imbalance_frac
from hearthold.plan.solver import Status
from hearthold.sizing.evenlegs import Item, even_legs
from hearthold.sizing.placement import Placement, circuit_surplus_va, circuit_va, placement

if TYPE_CHECKING:
    from hearthold.house.house import House


@dataclass(frozen=True, slots=True)
class Legs:
    """Both legs with everything on them running, and the heavier of the two with its worst start."""

    leg_a_va: float
    leg_b_va: float
    worst_start_va: float

    @property
    def difference_va(self) -> float:
        """How far the legs are apart."""
        return abs(self.leg_a_va - self.leg_b_va)

    @property
    def imbalance_frac(self) -> float:
        """Difference over the larger leg."""
        return float(imbalance_frac(self.leg_a_va, self.leg_b_va))


@dataclass(frozen=True, slots=True)
class Move:
    """One circuit to be moved from a leg to the other."""

    circuit: str
    name: str
    from_leg: str
    to_leg: str


@dataclass(frozen=True, slots=True)
class Balance:
    """The leg of every one-pole circuit, what it was, and what moving brings."""

    leg_of: tuple[tuple[str, str], ...]
    moves: tuple[Move, ...]
    before: Legs
    after: Legs
    status: Status
    notes: tuple[str, ...]
    assumed: tuple[str, ...] = ()  # names of circuits whose leg nobody wrote down

    def applied(self, legs: Placement) -> Placement:
        """A placement with this balance carried out."""
        return legs.with_legs({c: Connection[leg] for c, leg in self.leg_of})


def balance(
    house: House,
    circuit_ids: Collection[str] | None = None,
    fixed: Collection[str] = (),
    legs: Placement | None = None,
) -> Balance:
    """The most even legs of some circuits (all that the hookup feeds if none are named).

    `fixed` names circuits that must stay on their leg; two-pole circuits load both legs alike. Multi-wire
    partners stay on opposite legs, or their shared neutral would carry the sum of both. Where a leg is assumed
    nothing moves.
    Raises: InputError on a single-phase supply, or for partners fixed to one leg.

    Source: even legs are common practice, no source; opposite legs of a multi-wire circuit, NEC 210.4.
    """
    if house.system is not VoltageSystem.SPLIT_120_240:
        raise InputError("a single-phase supply has one leg, so there is nothing to balance.", code="one_leg")
    seats = legs or placement(house)
    fed = house.fed_circuits
    chosen = [
        c
        for c in (fed if circuit_ids is None else house.circuits)
        if circuit_ids is None or c.id in circuit_ids
    ]
    assumed = tuple(c.name for c in chosen if c in seats.assumed)
    va, surplus_va = circuit_va(house), circuit_surplus_va(house)
    items, both = [], []
    for circuit in chosen:
        where = seats.leg_of[circuit.id]
        if where is Connection.BOTH:
            both.append(circuit.id)
        else:
            held = bool(assumed) or circuit.id in fixed
            partner = None if assumed else circuit.multiwire_with
            items.append(Item(circuit.id, va[circuit.id], surplus_va[circuit.id], where.name, held, partner))
    common_va = sum(va[c] for c in both) / 2.0
    common_surplus_va = max((surplus_va[c] / 2.0 for c in both), default=0.0)
    names = {c.id: c.name for c in chosen}
    return replace(balance_items(items, common_va, common_surplus_va, names, seats.note), assumed=assumed)


def balance_items(
    items: Sequence[Item],
    common_va: float = 0.0,
    common_surplus_va: float = 0.0,
    names: dict[str, str] | None = None,
    note: str = "",
) -> Balance:
    """The balance of items whose loads are known; `common_va` runs on both legs, as two-pole circuits do.

    Raises: InputError for multi-wire partners fixed to one leg.
    """
    told = names or {}
    leg_of = even_legs(items, common_surplus_va, told)
    moves = tuple(
        Move(i.circuit, told.get(i.circuit, i.circuit), i.now, leg_of[i.circuit])
        for i in items
        if leg_of[i.circuit] != i.now
    )
    return Balance(
        tuple((i.circuit, leg_of[i.circuit]) for i in items),
        moves,
        _legs(items, {i.circuit: i.now for i in items}, common_va, common_surplus_va),
        _legs(items, leg_of, common_va, common_surplus_va),
        Status.PROVEN,
        tuple(n for n in (note, "a circuit is moved with its breaker off, by a licensed electrician") if n),
    )


def _legs(items: Sequence[Item], leg_of: dict[str, str], common_va: float, common_surplus_va: float) -> Legs:
    on = {leg: [i for i in items if leg_of[i.circuit] == leg] for leg in "AB"}
    sums = {leg: common_va + sum(i.running_va for i in on[leg]) for leg in "AB"}
    worst_va = max(sums[leg] + max([common_surplus_va, *(i.surplus_va for i in on[leg])]) for leg in "AB")
    return Legs(sums["A"], sums["B"], worst_va)
