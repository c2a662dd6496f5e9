"""Lays a one-line diagram out, sheet by sheet: sources above, the panel of circuits as a bus below.

The bus is drawn as a panel is built, circuits to the left and to the right in turn; on a 120/240 V supply it
has two bars, and each circuit is tapped from the leg it sits on.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.papers.diagram import symbols
from hearthold.papers.diagram.graph import Diagram, Kind, Node, Tie
from hearthold.papers.look import LIGHT
from hearthold.papers.svg import Drawing, Figure, wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

WIDE_PT = 512.0
TALL_PT = 612.0  # with head and caption, what a Letter sheet holds
_GRID_X, _SET_X, _MID_X = 96.0, 360.0, 228.0
_APART_PT = 9.0
_BUS_X = WIDE_PT / 2.0
_STEP_PT = 38.0
_MOST_CORDS = 10
_MANY = 24
_TEXT_PT = 160.0  # room for the words of a branch


@dataclass(frozen=True, slots=True)
class _Row:
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


def sheets(diagram: Diagram, title: str, theme: str = LIGHT) -> tuple[Figure, ...]:
    """The drawing, on as many sheets as the circuits need."""
    rows = list(_rows(diagram))
    found: list[Figure] = []
    first = _Sheet(diagram, theme)
    y = first.sources()
    while True:
        sheet = _Sheet(diagram, theme) if found else first
        start = 18.0 if found else y
        rows = sheet.bus(rows, start, continued=bool(found))
        name = title if not found else f"{title}, continued"
        found.append(sheet.draw.finished(name, _caption(diagram), _told(diagram, not found), below_pt=6.0))
        if not rows:
            return tuple(found)


class _Sheet:
    """One sheet being drawn."""

    def __init__(self, diagram: Diagram, theme: str) -> None:
        self.diagram, self.nec = diagram, diagram.nec
        self.draw = Drawing(WIDE_PT, theme)

    # ------------------------------------------------------------ sources

    def sources(self) -> float:
        """Both sources down to where they meet; returns the height of the lead to the bus."""
        graph = self.diagram
        grid = self._column(_GRID_X, ("utility", "meter", "main"), 24.0)
        machine = self._machine(24.0)
        self._electrodes()
        if graph.has("transfer") and graph.tie("transfer", "panel") is None:
            return self._meet("transfer", self._service_panel(grid), machine)
        if graph.has("inverter"):
            return self._meet("inverter", self._service_panel(grid), machine)
        if graph.has("transfer"):
            return self._meet("transfer", grid, machine)
        return self._no_meeting(grid, machine)

    def _column(self, x: float, idents: Sequence[str], y: float) -> float:
        """Parts one below the other on a line; returns the line's lower end."""
        present = [i for i in idents if self.diagram.has(i)]
        for k, ident in enumerate(present):
            at = y + k * _STEP_PT
            if k:
                first = 14.0 if present[k - 1] == "generator" else 10.0
                self.draw.line((x, at - _STEP_PT + first), (x, at), weight="thin")
                self._along(present[k - 1], ident, x, at - _STEP_PT / 2.0)
            self._symbol(self.diagram.node(ident), x, at)
        return y + (len(present) - 1) * _STEP_PT + 10.0 if present else y

    def _machine(self, y: float) -> float | None:
        if not self.diagram.has("generator"):
            return None
        return self._column(_SET_X, ("generator", "set_breaker", "receptacle", "inlet", "inlet_breaker"), y)

    def _along(self, source: str, target: str, x: float, y: float) -> None:
        """What is written along a tie, and the cord's own stroke."""
        edge = self.diagram.tie(source, target)
        if edge is None:
            return
        if edge.tie is Tie.CORD:
            self.draw.line((x, y - 13.0), (x, y + 15.0), role="paper", weight="strong")
            self.draw.line((x, y - 13.0), (x, y + 15.0), weight="plain", dash="4 2")
        for i, line in enumerate(wrapped(edge.label, 136.0, "note")):
            self.draw.text((x + 20.0, y + 2.0 + 8.0 * i), line, size="note", role="quiet")

    def _symbol(self, node: Node, x: float, y: float) -> None:
        nec, draw = self.nec, self.draw
        if node.kind is Kind.UTILITY:
            symbols.utility(draw, x, y - 2.0, nec)
        elif node.kind is Kind.METER:
            symbols.meter(draw, x, y, nec)
        elif node.kind is Kind.GENERATOR:
            symbols.generator(draw, x, y, node.state)
        elif node.kind in (Kind.RECEPTACLE, Kind.INLET):
            symbols.separable(draw, x, y, nec, node.kind is Kind.INLET)
        else:
            symbols.breaker(draw, x, y, nec, node.poles)
        wide = node.kind is Kind.GENERATOR
        self._words(node, x + (36.0 if wide else 20.0), y, 114.0 if wide else 130.0)

    def _words(self, node: Node, x: float, y: float, room: float) -> None:
        """A part's name and details to its right."""
        lines = [(line, True) for line in wrapped(node.label, room, "table", True)]
        lines += [(line, False) for text in node.details for line in wrapped(text, room, "note")]
        top = y - 4.2 * (len(lines) - 1) + 2.5
        for k, (line, strong) in enumerate(lines):
            size, role = ("table", "ink") if strong else ("note", "quiet")
            self.draw.text((x, top + 8.6 * k), line, size=size, role=role, bold=strong)

    def _electrodes(self) -> None:
        """Earth leads: from the service disconnect and from the set."""
        main_y = 24.0 + 2 * _STEP_PT + 14.0
        for ident, x, y in (("electrode", _GRID_X, main_y), ("set_electrode", _SET_X, 38.0)):
            if not self.diagram.has(ident):
                continue
            node = self.diagram.node(ident)
            left = x - 30.0
            self.draw.line((x, y), (left, y), (left, y + 5.0), role="earth", dash="3 2")
            symbols.earth(self.draw, left, y + 5.0)
            for k, line in enumerate(wrapped(node.label, 54.0, "note")):
                self.draw.text((left - 9.0, y + 4.0 + 8.0 * k), line, size="note", role="quiet", anchor="end")

    def _service_panel(self, y: float) -> float:
        """A short bus for the panel that stays on the grid; returns the height of the lead from it."""
        at = y + 30.0
        self.draw.line((_GRID_X, y), (_GRID_X, at))
        self.draw.line((_GRID_X - 34.0, at), (_GRID_X + 34.0, at), weight="bus")
        self.draw.text((_GRID_X + 40.0, at + 3.0), self.diagram.node("panel").label, bold=True)
        if self.diagram.has("others"):
            x = _GRID_X + 24.0
            self.draw.line((x, at), (x, at + 12.0))
            self.draw.area([(x - 3.5, at + 11.0), (x + 3.5, at + 11.0), (x, at + 18.0)], "ink")
            for k, line in enumerate(wrapped(self.diagram.node("others").label, 110.0, "note")):
                self.draw.text((x + 8.0, at + 16.0 + 8.0 * k), line, size="note", role="quiet")
        return at

    # ------------------------------------------------------------ meeting

    def _meet(self, ident: str, grid: float, machine: float | None) -> float:
        """Two sources into a transfer switch or an inverter; returns the height of the lead below."""
        node = self.diagram.node(ident)
        y = max(grid, machine or 0.0) + 40.0
        wide = 17.0 if ident == "inverter" else 22.0
        up = 14.0 if ident == "inverter" else 12.0
        self._elbow(_GRID_X, grid, _MID_X - wide, y - up, ident)
        if machine is not None:
            self._elbow(_SET_X, machine, _MID_X + wide, y - up, ident)
        if ident == "inverter":
            symbols.inverter(self.draw, _MID_X, y)
            self._battery(y)
        else:
            symbols.changeover(self.draw, _MID_X, y, wide)
        self._words(node, _MID_X + 34.0, y + 8.0, 150.0)
        down = y + (14.0 if ident == "inverter" else 11.0)
        return self._to_bus(ident, down)

    def _elbow(self, x: float, y: float, to_x: float, to_y: float, ident: str) -> None:
        """Down, across, and into the switch from above; on the inverter into its side."""
        turn = to_y - 14.0 if ident != "inverter" else to_y - 8.0
        self.draw.line((x, y), (x, turn), (to_x, turn), (to_x, to_y))

    def _battery(self, y: float) -> None:
        if not self.diagram.has("battery"):
            return
        node = self.diagram.node("battery")
        x = _MID_X - 180.0  # its words end before those of the feeder begin
        self.draw.line((_MID_X - 17.0, y), (x, y), (x, y + 18.0), dash="3 2")
        symbols.battery(self.draw, x, y + 24.0)
        self._words(node, x + 14.0, y + 24.0, 80.0)

    def _to_bus(self, ident: str, y: float) -> float:
        """The feeder from the meeting point to the bus, with the panel's main on it."""
        first = "panel_main" if self.diagram.has("panel_main") else self._bus_node().id
        edge = self.diagram.tie(ident, first)
        foot = y + 30.0
        self.draw.line((_MID_X, y), (_MID_X, foot))
        for k, line in enumerate(wrapped(edge.label if edge else "", 128.0, "note")):
            self.draw.text((_MID_X - 8.0, y + 20.0 + 8.0 * k), line, size="note", role="quiet", anchor="end")
        if self.diagram.has("panel_main"):
            symbols.breaker(self.draw, _MID_X, foot + 4.0, self.nec, self.diagram.node("panel_main").poles)
            self._words(self.diagram.node("panel_main"), _MID_X + 34.0, foot + 6.0, 150.0)
            self.draw.line((_MID_X, foot + 12.0), (_MID_X, foot + 26.0))
            foot += 26.0
        self.draw.line((_MID_X, foot), (_BUS_X, foot), (_BUS_X, foot + 10.0))
        return foot + 10.0

    def _no_meeting(self, grid: float, machine: float | None) -> float:
        """An interlocked pair on one panel, or two sides that never meet."""
        locked = self.diagram.tie("main", "inlet_breaker")
        joined = any(e.target == "panel" and e.source != "main" for e in self.diagram.edges)
        y = max(grid, machine or 0.0) + 14.0
        if joined and machine is not None:
            self.draw.line((_SET_X, machine), (_SET_X, y), (_BUS_X, y))
        self.draw.line((_GRID_X, grid), (_GRID_X, y), (_BUS_X, y), (_BUS_X, y + 12.0))
        if locked is not None and machine is not None:
            self._lock(locked.label, machine - 10.0)
        foot = self._cord_ends(machine) if machine is not None and not joined else y
        if foot <= y:
            return y + 12.0
        self.draw.line((_BUS_X, y), (_BUS_X, foot))
        return foot

    def _lock(self, label: str, inlet_y: float) -> None:
        """A dashed link between two breakers that cannot both be on."""
        main_y, x = 24.0 + 2 * _STEP_PT, _SET_X - 26.0
        bend = [(_GRID_X + 6.0, main_y), (_GRID_X + 13.0, main_y), (_GRID_X + 13.0, main_y - 14.0)]
        self.draw.line(*bend, (x, main_y - 14.0), (x, inlet_y), (_SET_X - 8.0, inlet_y), dash="4 3")
        self.draw.box(x - 6.0, main_y + 12.0, 12.0, 12.0, fill="paper", role="ink")
        self.draw.text((x, main_y + 21.0), "K", size="note", anchor="middle", bold=True)
        for k, line in enumerate(wrapped(f"interlock: {label}", 74.0, "note")):
            self.draw.text((x - 11.0, main_y + 17.0 + 8.0 * k), line, size="note", role="quiet", anchor="end")

    def _cord_ends(self, y: float) -> float:
        """Appliances on extension cords below the set, apart from the house's wiring. Returns the foot."""
        ends = self.diagram.of_kind(Kind.APPLIANCE)
        words = "Cords to single appliances" if ends else "No way into the house is described"
        self.draw.line((_SET_X, y), (_SET_X, y + 10.0))
        self.draw.text((_SET_X + 10.0, y + 13.0), words, bold=True)
        at = y + 25.0
        for node in ends[:_MOST_CORDS]:
            self.draw.line((_SET_X, y + 10.0), (_SET_X, at), (_SET_X + 8.0, at), weight="plain", dash="4 2")
            at = self._lines(f"{node.label}, {', '.join(node.details)}", at)
        if len(ends) > _MOST_CORDS:
            at = self._lines(f"and {len(ends) - _MOST_CORDS} more, in the list of loads", at)
        return at + 8.0

    def _lines(self, words: str, y: float) -> float:
        """Words beside the end of a cord; returns where the next one goes."""
        lines = wrapped(words, WIDE_PT - _SET_X - 14.0, "note")
        for k, line in enumerate(lines):
            self.draw.text((_SET_X + 12.0, y + 2.5 + 8.0 * k), line, size="note")
        return y + 8.0 * len(lines) + 4.0

    # ------------------------------------------------------------ the bus

    def _bus_node(self) -> Node:
        return self.diagram.node("essential" if self.diagram.has("essential") else "panel")

    def bus(self, rows: list[_Row], top: float, continued: bool) -> list[_Row]:
        """Branches left and right of the bus until the sheet is full; returns those left over."""
        self._bus_head(self._bus_node(), top, continued)
        y = top + 22.0
        places: list[tuple[_Row, float, float]] = []
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
            self.draw.line((_BUS_X - side * back, at), (_BUS_X + side * 72.0, at))
        self._bars(top, y)
        for row, at, side in places:
            self._branch(row, at, side)
        return rows[len(places) :]

    def _bus_head(self, node: Node, top: float, continued: bool) -> None:
        words = ", ".join((node.label + (" (continued)" if continued else ""), *node.details))
        for k, line in enumerate(wrapped(words, 200.0, "table", True)):
            self.draw.text((_BUS_X + 24.0, top + 3.0 + 9.0 * k), line, bold=True)
        if self.nec:
            for leg, x, anchor in (("A", -6.0, "end"), ("B", 6.0, "start")):
                self.draw.text((_BUS_X + 1.7 * x, top + 3.0), leg, size="note", bold=True, anchor=anchor)

    def _bars(self, top: float, foot: float) -> None:
        """Two bars on a supply of two legs, else one."""
        if not self.nec:
            self.draw.line((_BUS_X, top), (_BUS_X, foot), weight="bus", role="power_a")
            return
        self.draw.line((_BUS_X - 6.0, top), (_BUS_X + 6.0, top), weight="plain")
        for x, role in ((-6.0, "power_a"), (6.0, "power_b")):
            self.draw.line((_BUS_X + x, top), (_BUS_X + x, foot), weight="bus", role=role)

    def _branch(self, row: _Row, y: float, side: float) -> None:
        """Taps, breaker and loads on the line; the words beyond."""
        node = row.branch
        far = _BUS_X + side * 72.0
        for x, role in self._taps(node.leg):
            self.draw.circle((_BUS_X + x, y), 3.4, fill="paper", role=role, weight="plain")
        symbols.branch_breaker(self.draw, _BUS_X + side * 32.0, y, self.nec, node.poles, side)
        symbols.loads(self.draw, far, y, row.loads.state, side)
        self._branch_words(row, far + side * 12.0, y, "end" if side < 0 else "start")

    def _branch_words(self, row: _Row, x: float, y: float, anchor: str) -> None:
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


def _rows(diagram: Diagram) -> Iterator[_Row]:
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
        yield _Row(
            number, branch, loads, wrapped(f"{number}  {branch.label}", _TEXT_PT, "table", True), details
        )


def _caption(diagram: Diagram) -> str:
    kind = "IEEE 315 / ANSI Y32.2" if diagram.nec else "IEC 60617"
    legs = " Dots: the leg a circuit is tapped from." if diagram.nec else ""
    return (
        f"One-line diagram, symbols after {kind}; sizes as the house file gives them.{legs} Not for "
        "construction."
    )


def _told(diagram: Diagram, whole: bool) -> str:
    """The diagram in words: every part that is no load, with what it is tied to."""
    if not whole:
        return "Further branch circuits of the same panel."
    labels = {n.id: n.label for n in diagram.nodes}
    main = [e for e in diagram.edges if not e.source.startswith("branch:") and e.tie is not Tie.EARTH]
    ties = [f"{labels[e.source]} to {labels[e.target]}" + (f" ({e.label})" if e.label else "") for e in main]
    return "; ".join(ties) + "."
