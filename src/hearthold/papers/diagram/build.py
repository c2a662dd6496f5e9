"""From a house to the graph of its one-line diagram, for every kind of hookup and for none."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hearthold.house.site import VoltageSystem
from hearthold.house.supply import HookupKind
from hearthold.papers.diagram.graph import Diagram, Edge, Kind, Node, Tie
from hearthold.papers.diagram.signs import sign_of, takes_cords
from hearthold.papers.words.phrases import counted_poles, plain, wire
from hearthold.papers.words.say import Say
from hearthold.physics.legs import Connection
from hearthold.reference.local_words import in_local_words
from hearthold.sizing.chain import chain_voltage_v
from hearthold.sizing.placement import placement

if TYPE_CHECKING:
    from collections.abc import Iterable

    from hearthold.house.house import House
    from hearthold.house.loads import Circuit, Load
    from hearthold.house.supply import Generator, Hookup, Run

_TWO_HOTS_V = 200.0
_TO_READ = "rating to be read on site"
_CHEMISTRY = {"lfp": "lithium iron phosphate", "lead_acid": "lead-acid"}
_LEG = {Connection.A: "A", Connection.B: "B", Connection.BOTH: "AB"}


def one_line(house: House, say: Say, on_cords: Iterable[Load] = ()) -> Diagram:
    """The diagram of a house. `on_cords`: appliances that extension cords feed, where that is the hookup.

    Source: one-line practice; symbols of IEEE 315 / ANSI Y32.2 and IEC 60617, chosen by the voltage system.
    """
    work = _Work(house, say)
    work.grid_side()
    work.machine_side()
    work.joined(tuple(on_cords))
    work.earth()
    return Diagram(tuple(work.nodes), tuple(work.edges), work.nec)


class _Work:
    """Collects nodes and edges of one house."""

    def __init__(self, house: House, say: Say) -> None:
        self.house, self.say = house, say
        self.nec = house.system is VoltageSystem.SPLIT_120_240
        self.nodes: list[Node] = []
        self.edges: list[Edge] = []
        self.kind = house.hookup.kind if house.hookup is not None else None
        self.seats = placement(house)
        # a set, or a plug, of 120 V on a house of two legs
        self.one_hot = self.nec and chain_voltage_v(house) < _TWO_HOTS_V
        self.last_of_machine = ""

    def local(self, name: str) -> str:
        """A part as it is called where the house stands."""
        return in_local_words(name, self.house.system.value)

    def add(self, node: Node, after: str = "", tie: Tie = Tie.POWER, label: str = "") -> str:
        """Add a part behind another one; returns its id."""
        self.nodes.append(node)
        if after:
            self.edges.append(Edge(after, node.id, tie, label))
        return node.id

    def grid_side(self) -> None:
        """Utility, meter, main and service panel; with an automatic switch that comes before the panel."""
        volts = "120/240 V, 60 Hz" if self.nec else "230 V, 50 Hz"
        last = self.add(
            Node("utility", Kind.UTILITY, self.local("Utility supply"), (volts, *self._earthing()))
        )
        if not self.nec:
            cutout = Node("cutout", Kind.CUTOUT, "Supplier's cut-out", ("fuse to be read on site",))
            last = self.add(cutout, last)
        last = self.add(Node("meter", Kind.METER, "Meter"), last)
        if self.kind is HookupKind.INTERLOCK:  # the main that is locked stands beside the back-fed breaker
            last = self.add(self._panel_main(), last)
        else:
            label = "Service disconnect" if self.nec else "Main switch"
            last = self.add(
                Node("main", Kind.MAIN, label, (self._main_rating(),), 2, state=self._switch()), last
            )
        tie, label = Tie.POWER, ""
        if self.kind is HookupKind.AUTOMATIC_STANDBY:
            last = self.add(self._transfer(self.local("Automatic transfer switch")), last)
            last, tie, label = self._fed_main(last)
        fed = self.kind in (HookupKind.AUTOMATIC_STANDBY, HookupKind.INTERLOCK)
        bus = self._bus() if fed else ()
        self.add(Node("panel", Kind.SERVICE_PANEL, self.local("Main panel"), bus), last, tie, label)

    def machine_side(self) -> None:
        """The set to its own receptacle; a standby set is wired in."""
        machine = self.house.generator
        if machine is None:
            return
        last = self.add(self._set(machine))
        if self.kind is HookupKind.CORDS and not takes_cords(machine):
            outlets = f"{self.house.system.leg_voltage_v:g} V {self.local('outlets')} of the set"
            self.last_of_machine = self.add(Node("receptacle", Kind.RECEPTACLE, outlets, (_TO_READ,)), last)
            return
        if machine.breaker_a is not None:
            poles = self._feed_poles()
            last = self.add(
                Node("set_breaker", Kind.SET_BREAKER, f"{machine.breaker_a:g} A", poles=poles), last
            )
        if machine.kind != "standby":
            last = self.add(Node("receptacle", Kind.RECEPTACLE, machine.receptacle, ("on the set",)), last)
        self.last_of_machine = last

    def joined(self, on_cords: tuple[Load, ...]) -> None:
        """Where the two sides meet, and what hangs on it."""
        hookup = self.house.hookup
        if hookup is None or hookup.kind is HookupKind.CORDS:
            self._cords(on_cords if hookup is not None else ())
            self._branches(self.house.circuits, "panel")
            return
        if hookup.kind is HookupKind.AUTOMATIC_STANDBY:
            self._into("transfer")
            self._branches(self.house.circuits, "panel")
            return
        self._inlet(hookup)
        {
            HookupKind.INTERLOCK: self._interlocked,
            HookupKind.MANUAL_TRANSFER: self._by_hand,
            HookupKind.BATTERY_INVERTER: self._by_inverter,
        }[hookup.kind]()

    def earth(self) -> None:
        """The service's electrode, and the set's own where there is one."""
        tt = self.house.hookup is not None and self.house.hookup.earthing == "TT"
        words = "Earth electrode of the house" if tt else "Grounding electrode of the service"
        if self.nec or tt:
            service = "panel_main" if self.kind is HookupKind.INTERLOCK else "main"
            self.add(Node("electrode", Kind.ELECTRODE, words), service, Tie.EARTH)
        hookup = self.house.hookup
        if self.house.generator is not None and hookup is not None and hookup.own_electrode:
            label = "Electrode for running on the set"
            self.add(Node("set_electrode", Kind.ELECTRODE, label), "generator", Tie.EARTH)

    # ------------------------------------------------------------ ways in

    def _inlet(self, hookup: Hookup) -> None:
        if hookup.inlet is not None and self.last_of_machine:
            words = self._run(hookup.cord) or "cord: size not given"
            node = Node("inlet", Kind.INLET, hookup.inlet, ("inlet on the wall",))
            self.last_of_machine = self.add(node, self.last_of_machine, Tie.CORD, words)
        locked = self.kind is HookupKind.INTERLOCK
        tie = self._feeder() if locked else (Tie.POWER, "")
        if locked and self._join_legs(*tie):
            tie = (Tie.POWER, "")
        if hookup.inlet_breaker_a is not None and self.last_of_machine:
            poles = self._panel_poles() if locked else self._feed_poles()
            node = Node("inlet_breaker", Kind.INLET_BREAKER, f"{hookup.inlet_breaker_a:g} A", poles=poles)
            self.last_of_machine = self.add(node, self.last_of_machine, *tie)

    def _join_legs(self, tie: Tie = Tie.POWER, label: str = "") -> bool:
        """A set of one hot wire on a panel of two legs: both are joined on the set's side of the switch alone.

        Source: NEC 702.5 (transfer equipment keeps the sources apart) and practice of 120 V inlets; from memory.
        """
        if not self.one_hot or not self.last_of_machine:
            return False
        node = Node("joint", Kind.JOINT, "A and B joined", ("on the set's side of the switch only",))
        self.last_of_machine = self.add(node, self.last_of_machine, tie, label)
        return True

    def _into(self, switch: str) -> None:
        """The set's side into transfer equipment that opens both hot wires of the house."""
        self._join_legs()
        if self.last_of_machine:
            self.edges.append(Edge(self.last_of_machine, switch))

    def _interlocked(self) -> None:
        if self.last_of_machine:
            self.edges.append(Edge(self.last_of_machine, "panel"))
        if self.last_of_machine == "inlet_breaker":
            self.edges.append(Edge("panel_main", "inlet_breaker", Tie.LOCK, "only one can be on"))
        self._branches(self.house.circuits, "panel")

    def _by_hand(self) -> None:
        label = "Manual transfer switch" if self.nec else "Changeover switch"
        self.add(self._transfer(label), self._panel_breaker())
        self._into("transfer")
        self._essential("transfer")

    def _by_inverter(self) -> None:
        battery = self.house.battery
        detail = () if battery is None else (plain(self.say.power(battery.discharge_w)),)
        self.add(Node("inverter", Kind.INVERTER, "Inverter and charger", detail), self._panel_breaker())
        if battery is not None:
            held = plain(self.say.energy(battery.capacity_j))
            self.add(Node("battery", Kind.BATTERY, "Battery", (held, _CHEMISTRY[battery.chemistry])))
            self.edges.append(Edge("battery", "inverter", Tie.DIRECT))
        if self.last_of_machine:
            self.edges.append(Edge(self.last_of_machine, "inverter"))
        self._essential("inverter")

    def _main_rating(self) -> str:
        """Of the service: known where it is the breaker ahead of an automatic switch."""
        hookup = self.house.hookup
        if hookup is None or self.kind is not HookupKind.AUTOMATIC_STANDBY or hookup.grid_breaker_a is None:
            return _TO_READ
        return f"{hookup.grid_breaker_a:g} A"

    def _panel_breaker(self) -> str:
        """The device in the main panel that the transfer equipment hangs on; read on site where the file lacks it."""
        label, detail = self.local("Breaker in the main panel"), _TO_READ
        rated_a = self.house.hookup.grid_breaker_a if self.house.hookup is not None else None
        if rated_a is not None:
            label, detail = f"{rated_a:g} A", self.local("in the main panel")
        return self.add(
            Node("panel_breaker", Kind.PANEL_BREAKER, label, (detail,), self._panel_poles()), "panel"
        )

    def _panel_main(self) -> Node:
        """The main of the panel that is fed: a breaker in North America, a switch elsewhere."""
        hookup = self.house.hookup
        rated_a = hookup.panel_main_a if hookup is not None else None
        what = "main of the panel" if self.nec else "its main switch"
        detail = (what,) if rated_a is not None else (what, _TO_READ)
        label = f"{rated_a:g} A" if rated_a is not None else ("Main breaker" if self.nec else "Main switch")
        return Node("panel_main", Kind.PANEL_MAIN, label, detail, 2, state=self._switch())

    def _fed_main(self, after: str) -> tuple[str, Tie, str]:
        """The main of a panel behind the switch where the file has one; what the panel hangs on, and by what."""
        tie, label = self._feeder()
        if self.house.hookup is None or self.house.hookup.panel_main_a is None:
            return after, tie, label
        return self.add(self._panel_main(), after, tie, label), Tie.POWER, ""

    def _essential(self, after: str) -> None:
        after, tie, label = self._fed_main(after)
        panel = Node("essential", Kind.ESSENTIAL_PANEL, self.local("Essential panel"), self._bus())
        self.add(panel, after, tie, label)
        self._branches(self.house.fed_circuits, "essential")
        others = len(self.house.circuits) - len(self.house.fed_circuits)
        if others:
            words = "one circuit stays" if others == 1 else f"{others} circuits stay"
            self.add(Node("others", Kind.OTHERS, f"{words} on the grid alone"), "panel")

    def _cords(self, on_cords: tuple[Load, ...]) -> None:
        hookup = self.house.hookup
        run = self._run(hookup.cord) if hookup is not None else ""
        words = f"extension cord, {run}" if run else "extension cord"
        for load in on_cords:
            node = Node(
                f"cord:{load.id}", Kind.APPLIANCE, load.name, (plain(self.say.power(load.running_w)),)
            )
            self.add(node, self.last_of_machine, Tie.CORD, words)

    def _branches(self, circuits: Iterable[Circuit], panel: str) -> None:
        for circuit in circuits:
            self._branch(circuit, panel)

    def _branch(self, circuit: Circuit, panel: str) -> None:
        loads = self.house.loads_on(circuit.id)
        leg = _LEG[self.seats.leg_of[circuit.id]] if self.nec else "L"
        assumed = "assumed" if circuit in self.seats.assumed else ""
        guard = (f"{', '.join(circuit.protection).upper()}",) if circuit.protection else ()
        size = f"{circuit.breaker_a:g} A" + (f" {counted_poles(circuit.poles)}" if circuit.poles > 1 else "")
        details = (" · ".join((size, *guard)), self._wire(circuit))
        ident = f"branch:{circuit.id}"
        self.add(Node(ident, Kind.BRANCH, circuit.name, details, circuit.poles, leg, assumed), panel)
        names = tuple(x.name if x.count == 1 else f"{x.count} × {x.name}" for x in loads)
        self.add(Node(f"loads:{circuit.id}", Kind.LOADS, circuit.name, names, state=sign_of(loads)), ident)

    # ------------------------------------------------------------ words of parts

    def _set(self, machine: Generator) -> Node:
        best = max(machine.on, key=lambda r: r.running_w)
        volts = machine.voltage_v or self.house.system.full_voltage_v
        details = (f"{self.say.power(best.running_w)}, {volts:g} V", f"neutral {machine.neutral}")
        return Node(
            "generator", Kind.GENERATOR, machine.name, details, self._feed_poles(), state=machine.neutral
        )

    def _transfer(self, label: str) -> Node:
        hookup = self.house.hookup
        size = (
            f"{hookup.transfer_a:g} A"
            if hookup is not None and hookup.transfer_a is not None
            else "size not given"
        )
        switched = hookup.switched_neutral if hookup is not None else None
        poles = self._transfer_poles(switched)
        said = {True: "neutral switched", False: "neutral not switched", None: "neutral: not known"}[switched]
        details = (size, f"{counted_poles(poles)}, {said}" if poles else said)
        state = {True: "switched", False: "solid", None: "unknown"}[switched]
        return Node("transfer", Kind.TRANSFER, label, details, poles, state=state)

    def _transfer_poles(self, switched: bool | None) -> int:
        """Hot conductors, and the neutral where it is switched; 0 where that is not known."""
        return 0 if switched is None else self._panel_poles() + int(switched)

    def _feeder(self) -> tuple[Tie, str]:
        run = self.house.hookup.feeder if self.house.hookup is not None else None
        return Tie.FEEDER, self._run(run) or "feeder: size not given"

    def _bus(self) -> tuple[str, ...]:
        hookup = self.house.hookup
        parts = []
        if hookup is not None and hookup.panel_bus_a is not None:
            parts.append(f"bus {hookup.panel_bus_a:g} A")
        if hookup is not None and hookup.panel_spaces is not None:
            parts.append(f"{hookup.panel_spaces} spaces")
        return (", ".join(parts),) if parts else ()

    def _run(self, run: Run | None) -> str:
        if run is None:
            return ""
        metal = "" if run.material == "copper" else f" {run.material}"
        return f"{wire(run.wire)}{metal} {run.cable or 'cord'}, {plain(self.say.length(run.length_m))}"

    def _wire(self, circuit: Circuit) -> str:
        metal = "" if circuit.material == "copper" else f" {circuit.material}"
        cable = f" {circuit.cable}" if circuit.cable else ""
        return f"{wire(circuit.wire)}{metal}{cable}, {plain(self.say.length(circuit.length_m))}"

    def _panel_poles(self) -> int:
        """Poles that open every hot wire of the house: by its panel, whatever the set gives."""
        return 2 if self.nec else 1

    def _feed_poles(self) -> int:
        """Poles that open every hot wire between set and switch."""
        return 1 if self.one_hot else self._panel_poles()

    def _switch(self) -> str:
        """The state of a main: elsewhere than in North America it is a switch, which protects nothing."""
        return "" if self.nec else "switch"

    def _earthing(self) -> Iterator[str]:
        hookup = self.house.hookup
        if not self.nec and hookup is not None and hookup.earthing != "unknown":
            yield f"earthing {hookup.earthing}"
