"""Which leg each circuit sits on, as the house says or, where it does not, as assumed here."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from hearthold.house.site import VoltageSystem
from hearthold.physics.legs import Connection
from hearthold.sizing.evenlegs import Item, even_legs

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from hearthold.house.house import House
    from hearthold.house.loads import Circuit

_ONE_LEG = (Connection.A, Connection.B)
_GIVEN = {"A": Connection.A, "B": Connection.B, "AB": Connection.BOTH}


@dataclass(frozen=True, slots=True)
class Placement:
    """The leg of every circuit, and those whose leg had to be assumed."""

    leg_of: Mapping[str, Connection]
    assumed: tuple[Circuit, ...]

    @property
    def note(self) -> str:
        """One sentence on what was assumed; empty when every leg was given."""
        if not self.assumed:
            return ""
        return f"leg not given, assumed for an even split: {', '.join(c.name for c in self.assumed)}"

    def with_legs(self, legs: Mapping[str, Connection]) -> Placement:
        """This placement with some circuits moved, as a leg balance proposes."""
        merged = dict(self.leg_of) | dict(legs)
        return Placement(MappingProxyType(merged), tuple(c for c in self.assumed if c.id not in legs))


def circuit_va(house: House) -> dict[str, float]:
    """VA of every circuit with all that is on it running, summed as by hand."""
    return {c.id: sum(x.running_va for x in house.loads_on(c.id)) for c in house.circuits}


def circuit_surplus_va(house: House) -> dict[str, float]:
    """The heaviest start on every circuit above running, of one piece; 0 where nothing starts."""
    return {
        c.id: max(
            (x.start_va - x.running_va / x.count for x in house.loads_on(c.id) if x.is_motor), default=0.0
        )
        for c in house.circuits
    }


def fed_leg_va(house: House, seats: Placement) -> tuple[float, float]:
    """VA on leg A and on leg B with everything running that the hookup feeds."""
    va = circuit_va(house)
    on = {leg: sum(va[c.id] for c in house.fed_circuits if seats.leg_of[c.id] is leg) for leg in Connection}
    half = on[Connection.BOTH] / 2.0
    return on[Connection.A] + half, on[Connection.B] + half


def placement(house: House) -> Placement:
    """The legs of all circuits: given ones kept, the rest where they even the legs best.

    Multi-wire partners go to opposite legs. A single-phase house has one leg for everything. The panel that the
    hookup feeds is evened on its own, then the rest. It is an assumption for reading a panel whose legs nobody wrote
    down: the true split may be any other.
    """
    if house.system is VoltageSystem.SINGLE_230:
        return Placement(MappingProxyType({c.id: Connection.A for c in house.circuits}), ())
    leg_of = {c.id: _GIVEN[c.leg] for c in house.circuits if c.leg is not None}
    leg_of |= {c.id: Connection.BOTH for c in house.circuits if c.poles == 2}
    unknown = [c for c in house.circuits if c.id not in leg_of]
    if unknown:
        fed = {c.id for c in house.fed_circuits}
        va, surplus_va, partner_of = circuit_va(house), circuit_surplus_va(house), _partners(house)
        for is_fed in (True, False):
            alike = [c for c in house.circuits if (c.id in fed) is is_fed]
            leg_of |= _evened(alike, leg_of, partner_of, va, surplus_va)
    return Placement(MappingProxyType(leg_of), tuple(unknown))


def _evened(
    circuits: Sequence[Circuit],
    leg_of: Mapping[str, Connection],
    partner_of: Mapping[str, str],
    va: Mapping[str, float],
    surplus_va: Mapping[str, float],
) -> dict[str, Connection]:
    """The leg of those circuits of a panel that have none, by the most even split there is."""
    both = [c for c in circuits if leg_of.get(c.id) is Connection.BOTH]
    common_va = max((surplus_va[c.id] / 2.0 for c in both), default=0.0)
    one_pole = [c for c in circuits if c not in both]
    first = _first_guess(one_pole, leg_of, partner_of, va)
    items = []
    for c in one_pole:
        # a given leg stays, one opposite to a partner's too; two given partners on one leg are the rules' matter
        partner = partner_of.get(c.id)
        held = c.id in leg_of or leg_of.get(partner or "") in _ONE_LEG
        items.append(
            Item(c.id, va[c.id], surplus_va[c.id], first[c.id].name, held, None if held else partner)
        )
    found = _even_legs(tuple(items), common_va)
    return {c.id: Connection[found[c.id]] for c in one_pole if c.id not in leg_of}


@lru_cache(maxsize=256)
def _even_legs(items: tuple[Item, ...], common_surplus_va: float) -> dict[str, str]:
    """The same panel is asked about again and again."""
    return even_legs(items, common_surplus_va)


def _partners(house: House) -> dict[str, str]:
    """Both halves of every multi-wire circuit, whichever of them names the other."""
    named = {c.id: c.multiwire_with for c in house.circuits if c.multiwire_with is not None}
    return {other: circuit for circuit, other in named.items()} | named


def _first_guess(
    circuits: Sequence[Circuit],
    leg_of: Mapping[str, Connection],
    partner_of: Mapping[str, str],
    va: Mapping[str, float],
) -> dict[str, Connection]:
    """Heaviest first on the lighter leg: what the even split is reached from with the fewest changes."""
    seats = {c.id: leg_of[c.id] for c in circuits if c.id in leg_of}
    for circuit in sorted((c for c in circuits if c.id not in leg_of), key=lambda c: (-va[c.id], c.id)):
        partner = {**leg_of, **seats}.get(partner_of.get(circuit.id, ""))
        on_va = {leg: sum(va[c] for c, where in seats.items() if where is leg) for leg in _ONE_LEG}
        lighter = Connection.A if on_va[Connection.A] <= on_va[Connection.B] else Connection.B
        opposite = Connection.B if partner is Connection.A else Connection.A
        seats[circuit.id] = opposite if partner in _ONE_LEG else lighter
    return seats
