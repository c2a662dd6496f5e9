"""Which leg each circuit sits on, as the house says or, where it does not, as assumed here."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from hearthold.house.site import VoltageSystem
from hearthold.physics.legs import Connection

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from hearthold.house.house import House
    from hearthold.house.loads import Circuit

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


def placement(house: House) -> Placement:
    """The legs of all circuits: given ones kept, the rest spread, heaviest first, on the lighter leg.

    Multi-wire partners go to opposite legs. A single-phase house has one leg for everything. The spread is an
    assumption for reading a panel whose legs nobody wrote down; the exact balance is a matter of planning.
    """
    if house.system is VoltageSystem.SINGLE_230:
        return Placement(MappingProxyType({c.id: Connection.A for c in house.circuits}), ())
    leg_of = {c.id: _GIVEN[c.leg] for c in house.circuits if c.leg is not None}
    leg_of |= {c.id: Connection.BOTH for c in house.circuits if c.poles == 2}
    unknown = [c for c in house.circuits if c.id not in leg_of]
    weight_va = {c.id: sum(x.running_va for x in house.loads_on(c.id)) for c in house.circuits}
    # the panel that the hookup feeds is spread first, so that it comes out even on its own
    fed = {c.id for c in house.fed_circuits}
    for circuit in sorted(unknown, key=lambda c: (c.id not in fed, -weight_va[c.id], c.id)):
        leg_of[circuit.id] = _lighter(circuit, leg_of, weight_va, fed)
    return Placement(MappingProxyType(leg_of), tuple(unknown))


def _lighter(
    circuit: Circuit, leg_of: Mapping[str, Connection], weight_va: Mapping[str, float], fed: Iterable[str]
) -> Connection:
    """The leg opposite a multi-wire partner, else the one with less on it among circuits fed alike."""
    partner = leg_of.get(circuit.multiwire_with or "")
    if partner in (Connection.A, Connection.B):
        return Connection.B if partner is Connection.A else Connection.A
    alike = (circuit.id in fed) is True
    on_va = {
        leg: sum(weight_va[c] for c, where in leg_of.items() if where is leg and (c in fed) is alike)
        for leg in (Connection.A, Connection.B)
    }
    return Connection.A if on_va[Connection.A] <= on_va[Connection.B] else Connection.B
