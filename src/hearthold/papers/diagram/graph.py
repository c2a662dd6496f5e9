"""A one-line diagram as a graph: parts, and what ties them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hearthold.errors import InputError


class Kind(StrEnum):
    """What a part is; each kind has a symbol in both standards."""

    UTILITY = "utility supply"
    METER = "meter"
    CUTOUT = "supplier's cut-out"
    MAIN = "main breaker or switch"
    SERVICE_PANEL = "service panel"
    OTHERS = "other circuits"
    PANEL_BREAKER = "breaker ahead of the transfer equipment"
    TRANSFER = "transfer switch"
    GENERATOR = "generator"
    SET_BREAKER = "breaker on the set"
    RECEPTACLE = "receptacle on the set"
    INLET = "inlet"
    INLET_BREAKER = "inlet breaker"
    JOINT = "both hot wires joined"
    BATTERY = "battery"
    INVERTER = "inverter"
    ESSENTIAL_PANEL = "essential panel"
    PANEL_MAIN = "main of the panel that is fed"
    BRANCH = "branch breaker"
    LOADS = "loads of a circuit"
    APPLIANCE = "appliance on a cord"
    ELECTRODE = "grounding electrode"


class Tie(StrEnum):
    """How two parts are joined."""

    POWER = "power"
    CORD = "cord"
    FEEDER = "feeder"
    DIRECT = "direct current"
    EARTH = "earth"
    LOCK = "mechanical interlock"


@dataclass(frozen=True, slots=True)
class Node:
    """One part. `poles` of a breaker or switch; `leg` of a branch; `state` is what its symbol shows."""

    id: str
    kind: Kind
    label: str
    details: tuple[str, ...] = ()
    poles: int = 1
    leg: str = ""
    state: str = ""


@dataclass(frozen=True, slots=True)
class Edge:
    """A tie from the part nearer the source to the next, with what is written along it."""

    source: str
    target: str
    tie: Tie = Tie.POWER
    label: str = ""


@dataclass(frozen=True)
class Diagram:
    """Parts and ties of one house; `nec` chooses the symbols."""

    nodes: tuple[Node, ...]
    edges: tuple[Edge, ...]
    nec: bool

    def node(self, ident: str) -> Node:
        """The part of this id. Raises InputError where there is none."""
        found = next((n for n in self.nodes if n.id == ident), None)
        if found is None:
            raise InputError(f"the diagram has no part {ident!r}.", code="no_part")
        return found

    def has(self, ident: str) -> bool:
        """Whether there is such a part."""
        return any(n.id == ident for n in self.nodes)

    def of_kind(self, kind: Kind) -> tuple[Node, ...]:
        """All parts of a kind, in order."""
        return tuple(n for n in self.nodes if n.kind is kind)

    def tie(self, source: str, target: str) -> Edge | None:
        """The tie between two parts, if there is one."""
        return next((e for e in self.edges if (e.source, e.target) == (source, target)), None)

    def fed_from(self, ident: str) -> frozenset[str]:
        """Every part that power reaches from a source, along the ties as they point."""
        reached, todo = {ident}, [ident]
        while todo:
            here = todo.pop()
            for edge in self.edges:
                carries = edge.tie not in (Tie.EARTH, Tie.LOCK)
                if carries and edge.source == here and edge.target not in reached:
                    reached.add(edge.target)
                    todo.append(edge.target)
        return frozenset(reached - {ident})
