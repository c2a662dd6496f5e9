"""The bus of a panel with its branches, as a panel is built: circuits to the left and to the right in turn.

On a 120/240 V supply it has two bars, and each circuit is tapped from the leg it sits on.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.papers.diagram import symbols
from hearthold.papers.diagram.graph import Diagram, Kind, Node
from hearthold.papers.svg import Drawing, wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

BUS_X = 256.0
TALL_PT = 612.0  # with head and caption, what a Letter sheet holds
_APART_PT = 9.0
_MANY = 24
_TEXT_PT = 160.0  # room for the words of a branch


@dataclass(frozen=True, slots=True)
class Row:
    """Words of one branch, wrapped, with the number it has in the schedule."""

    number: int
    branch: Node
    loads: Node
    name: list[str]
    details: list[str]

    @property
    def height_pt(self) -> float:
        """Room it takes."""
        return 9.4 * (len(self.name) + len(self.details)) + 5.0


def bus_node(diagram: Diagram) -> Node:
    """The panel whose circuits are drawn."""
    return diagram.node("essential" if diagram.has("essential") else "panel")


def rows_of(diagram: Diagram) -> Iterator[Row]:
    """Branches in order, their words wrapped; where they are many, loads stand in the schedule alone."""
    many = len(diagram.of_kind(Kind.BRANCH)) > _MANY
    for number, branch in enumerate(diagram.of_kind(Kind.BRANCH), start=1):
        loads = diagram.node(f"loads:{branch.id.removeprefix('branch:')}")
        leg = f"leg {branch.leg}" if diagram.nec else ""
        leg += " (assumed)" if branch.state == "assumed" and leg else ""
        size, wire = branch.details
        said = [" · ".join(t for t in (size, leg, wire) if t)]
        said += [] if many else [", ".join(loads.details) or "nothing listed on it"]
        details = [line for text in said for line in wrapped(text, _TEXT_PT, "note")]
        yield Row(
            number, branch, loads, wrapped(f"{number}  {branch.label}", _TEXT_PT, "table", True), details
        )


class Bus:
    """The bus of one sheet being drawn."""

    def __init__(self, diagram: Diagram, draw: Drawing) -> None:
        self.diagram, self.nec, self.draw = diagram, diagram.nec, draw

    def drawn(self, rows: list[Row], top: float, continued: bool) -> list[Row]:
        """Branches left and right of the bus until the sheet is full; returns those left over."""
        self._head(bus_node(self.diagram), top, continued)
        y = top + 22.0
        places: list[tuple[Row, float, float]] = []
        # so that no line meets the tap of its neighbour on the other leg
        lower = _APART_PT if self.nec else 0.0
        for pair in (rows[i : i + 2] for i in range(0, len(rows), 2)):
            room = max(row.height_pt + down for row, down in zip(pair, (0.0, lower), strict=False))
            if places and y + room > TALL_PT:
                break
            places += [
                (row, y + 6.0 + down, side)
                for row, down, side in zip(pair, (0.0, lower), (-1.0, 1.0), strict=False)
            ]
            y += room
        back = 6.0 if self.nec else 0.0
        for _, at, side in places:
            self.draw.line((BUS_X - side * back, at), (BUS_X + side * 72.0, at))
        self._bars(top, y)
        for row, at, side in places:
            self._branch(row, at, side)
        return rows[len(places) :]

    def _head(self, node: Node, top: float, continued: bool) -> None:
        words = ", ".join((node.label + (" (continued)" if continued else ""), *node.details))
        for k, line in enumerate(wrapped(words, 200.0, "table", True)):
            self.draw.text((BUS_X + 24.0, top + 3.0 + 9.0 * k), line, bold=True)
        if self.nec:
            for leg, x, anchor in (("A", -6.0, "end"), ("B", 6.0, "start")):
                self.draw.text((BUS_X + 1.7 * x, top + 3.0), leg, size="note", bold=True, anchor=anchor)

    def _bars(self, top: float, foot: float) -> None:
        """Two bars on a supply of two legs, else one."""
        if not self.nec:
            self.draw.line((BUS_X, top), (BUS_X, foot), weight="bus", role="power_a")
            return
        self.draw.line((BUS_X - 6.0, top), (BUS_X + 6.0, top), weight="plain")
        for x, role in ((-6.0, "power_a"), (6.0, "power_b")):
            self.draw.line((BUS_X + x, top), (BUS_X + x, foot), weight="bus", role=role)

    def _branch(self, row: Row, y: float, side: float) -> None:
        """Taps, breaker and loads on the line; the words beyond."""
        node = row.branch
        far = BUS_X + side * 72.0
        for x, role in self._taps(node.leg):
            self.draw.circle((BUS_X + x, y), 3.4, fill="paper", role=role, weight="plain")
        symbols.branch_breaker(self.draw, BUS_X + side * 32.0, y, self.nec, node.poles, side)
        symbols.loads(self.draw, far, y, row.loads.state, side)
        self._branch_words(row, far + side * 12.0, y, "end" if side < 0 else "start")

    def _branch_words(self, row: Row, x: float, y: float, anchor: str) -> None:
        at = y + 2.6
        for line in row.name:
            self.draw.text((x, at), line, anchor=anchor, bold=True)
            at += 9.4
        for line in row.details:
            self.draw.text((x, at), line, size="note", role="quiet", anchor=anchor)
            at += 9.0

    def _taps(self, leg: str) -> list[tuple[float, str]]:
        if not self.nec:
            return [(0.0, "power_a")]
        both = [(-6.0, "power_a"), (6.0, "power_b")]
        return [tap for tap, name in zip(both, "AB", strict=True) if name in leg]
