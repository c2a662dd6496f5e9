"""Lays a one-line diagram out, sheet by sheet: sources above, the panel of circuits as a bus below (bus.py)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.papers.diagram import symbols
from hearthold.papers.diagram.bus import BUS_X, Bus, bus_node, rows_of
from hearthold.papers.diagram.graph import Diagram, Kind, Node, Tie
from hearthold.papers.look import LIGHT
from hearthold.papers.svg import Drawing, Figure, wrapped

if TYPE_CHECKING:
    pass

WIDE_PT = 512.0
_GRID_X, _SET_X, _MID_X = 96.0, 360.0, 228.0
_STEP_PT = 38.0
_MOST_CORDS = 10
_ALONG = (Tie.POWER, Tie.CORD, Tie.FEEDER)
_ENDS = (Kind.SERVICE_PANEL, Kind.ESSENTIAL_PANEL, Kind.TRANSFER, Kind.INVERTER, Kind.APPLIANCE)


def sheets(diagram: Diagram, title: str, theme: str = LIGHT) -> tuple[Figure, ...]:
    """The drawing, on as many sheets as the circuits need."""
    rows = list(rows_of(diagram))
    found: list[Figure] = []
    first = _Sheet(diagram, theme)
    y = first.sources()
    while True:
        sheet = _Sheet(diagram, theme) if found else first
        start = 18.0 if found else y
        rows = Bus(diagram, sheet.draw).drawn(rows, start, continued=bool(found))
        name = title if not found else f"{title}, continued"
        found.append(sheet.draw.finished(name, _caption(diagram), _told(diagram, not found), below_pt=6.0))
        if not rows:
            return tuple(found)


class _Sheet:
    """One sheet being drawn."""

    def __init__(self, diagram: Diagram, theme: str) -> None:
        self.diagram, self.nec = diagram, diagram.nec
        self.draw = Drawing(WIDE_PT, theme)
        self.at: dict[str, tuple[float, float]] = {}  # middle of each part that stands in a column

    # ------------------------------------------------------------ sources

    def sources(self) -> float:
        """Both sources down to where they meet; returns the height of the lead to the bus."""
        graph = self.diagram
        grid = self._column(_GRID_X, self._line_from("utility"), 24.0)
        machine = self._machine(24.0)
        self._electrodes()
        if graph.has("transfer") and graph.has("panel_breaker"):
            return self._meet("transfer", self._service_panel(grid), machine)
        if graph.has("inverter"):
            return self._meet("inverter", self._service_panel(grid), machine)
        if graph.has("transfer"):
            return self._meet("transfer", grid, machine)
        return self._no_meeting(grid, machine)

    def _line_from(self, source: str) -> list[str]:
        """The parts that follow a source one by one, up to where the line ends or two sources meet."""
        found = [source]
        while True:
            after = [e.target for e in self.diagram.edges if e.source == found[-1] and e.tie in _ALONG]
            if len(after) != 1 or self.diagram.node(after[0]).kind in _ENDS:
                return found
            found.append(after[0])

    def _column(self, x: float, present: list[str], y: float) -> float:
        """Parts one below the other on a line; returns the line's lower end."""
        for k, ident in enumerate(present):
            at = y + k * _STEP_PT
            if k:
                first = 14.0 if present[k - 1] == "generator" else 10.0
                self.draw.line((x, at - _STEP_PT + first), (x, at), weight="thin")
                self._along(present[k - 1], ident, x, at - _STEP_PT / 2.0)
            self._symbol(self.diagram.node(ident), x, at)
            self.at[ident] = (x, at)
        return y + (len(present) - 1) * _STEP_PT + 10.0

    def _machine(self, y: float) -> float | None:
        if not self.diagram.has("generator"):
            return None
        return self._column(_SET_X, self._line_from("generator"), y)

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
        elif node.kind is Kind.CUTOUT:
            symbols.fuse(draw, x, y)
        elif node.kind is Kind.JOINT:
            symbols.joint(draw, x, y)
        else:
            self._device(node, x, y)
        wide = node.kind is Kind.GENERATOR
        self._words(node, x + (36.0 if wide else 20.0), y, 114.0 if wide else 130.0)

    def _device(self, node: Node, x: float, y: float) -> None:
        """A breaker, or the switch that a main is where breakers stand behind it."""
        if node.state == "switch":
            symbols.isolator(self.draw, x, y, node.poles)
        else:
            symbols.breaker(self.draw, x, y, self.nec, node.poles)

    def _words(self, node: Node, x: float, y: float, room: float) -> None:
        """A part's name and details to its right."""
        lines = [(line, True) for line in wrapped(node.label, room, "table", True)]
        lines += [(line, False) for text in node.details for line in wrapped(text, room, "note")]
        top = y - 4.2 * (len(lines) - 1) + 2.5
        for k, (line, strong) in enumerate(lines):
            size, role = ("table", "ink") if strong else ("note", "quiet")
            self.draw.text((x, top + 8.6 * k), line, size=size, role=role, bold=strong)

    def _electrodes(self) -> None:
        """Earth leads: from the service and from the set."""
        for edge in self.diagram.edges:
            if edge.tie is not Tie.EARTH:
                continue
            node = self.diagram.node(edge.target)
            x, y = self.at[edge.source]
            y += 14.0
            left = x - 30.0
            self.draw.line((x, y), (left, y), (left, y + 5.0), role="earth", dash="3 2")
            symbols.earth(self.draw, left, y + 5.0)
            for k, line in enumerate(wrapped(node.label, 54.0, "note")):
                self.draw.text((left - 9.0, y + 4.0 + 8.0 * k), line, size="note", role="quiet", anchor="end")

    def _service_panel(self, y: float) -> float:
        """A short bus for the panel that stays on the grid, and the device that feeds on from it; returns its foot."""
        at = y + 30.0
        self.draw.line((_GRID_X, y), (_GRID_X, at))
        self.draw.line((_GRID_X - 34.0, at), (_GRID_X + 34.0, at), weight="bus")
        self.draw.text((_GRID_X + 40.0, at + 3.0), self.diagram.node("panel").label, bold=True)
        if self.diagram.has("others"):
            x = _GRID_X - 24.0
            self.draw.line((x, at), (x, at + 12.0))
            self.draw.area([(x - 3.5, at + 11.0), (x + 3.5, at + 11.0), (x, at + 18.0)], "ink")
            for k, line in enumerate(wrapped(self.diagram.node("others").label, 62.0, "note")):
                self.draw.text((x - 6.0, at + 12.0 + 8.0 * k), line, size="note", role="quiet", anchor="end")
        device = at + 24.0
        self.draw.line((_GRID_X, at), (_GRID_X, device + 10.0))
        self._symbol(self.diagram.node("panel_breaker"), _GRID_X, device)
        return device + 10.0

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
        first = "panel_main" if self.diagram.has("panel_main") else bus_node(self.diagram).id
        edge = self.diagram.tie(ident, first)
        foot = y + 30.0
        self.draw.line((_MID_X, y), (_MID_X, foot))
        for k, line in enumerate(wrapped(edge.label if edge else "", 128.0, "note")):
            self.draw.text((_MID_X - 8.0, y + 20.0 + 8.0 * k), line, size="note", role="quiet", anchor="end")
        if self.diagram.has("panel_main"):
            self._device(self.diagram.node("panel_main"), _MID_X, foot + 4.0)
            self._words(self.diagram.node("panel_main"), _MID_X + 34.0, foot + 6.0, 150.0)
            self.draw.line((_MID_X, foot + 12.0), (_MID_X, foot + 26.0))
            foot += 26.0
        self.draw.line((_MID_X, foot), (BUS_X, foot), (BUS_X, foot + 10.0))
        return foot + 10.0

    def _no_meeting(self, grid: float, machine: float | None) -> float:
        """An interlocked pair on one panel, or two sides that never meet."""
        locked = self.diagram.tie("panel_main", "inlet_breaker")
        joined = sum(e.target == "panel" for e in self.diagram.edges) > 1
        y = max(grid, machine or 0.0) + 14.0
        if joined and machine is not None:
            self.draw.line((_SET_X, machine), (_SET_X, y), (BUS_X, y))
        self.draw.line((_GRID_X, grid), (_GRID_X, y), (BUS_X, y), (BUS_X, y + 12.0))
        if locked is not None and machine is not None:
            self._lock(locked.label)
        foot = self._cord_ends(machine) if machine is not None and not joined else y
        if foot <= y:
            return y + 12.0
        self.draw.line((BUS_X, y), (BUS_X, foot))
        return foot

    def _lock(self, label: str) -> None:
        """A dashed link between two breakers that cannot both be on."""
        main_y, inlet_y, x = self.at["panel_main"][1], self.at["inlet_breaker"][1], _SET_X - 26.0
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
        run = next((e.label for e in self.diagram.edges if ends and e.target == ends[0].id), "")
        self.draw.line((_SET_X, y), (_SET_X, y + 10.0))
        self.draw.text((_SET_X + 10.0, y + 13.0), words, bold=True)
        at = y + 25.0
        if run:
            at = self._lines(run, y + 20.0) + 4.0
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
