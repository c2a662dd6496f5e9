"""Every circuit, cord and feeder: breaker against conductor, and voltage lost running and starting."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.house.loads import Load, Pattern
from hearthold.house.motorcircuit import MotorDevice, motor_device
from hearthold.house.site import VoltageSystem
from hearthold.house.wire import table_size
from hearthold.physics.conductors import required_rating_a, voltage_drop_two_wire_v
from hearthold.physics.feeder import FarEnd, far_end_of_currents
from hearthold.physics.legs import Connection, LegCurrents
from hearthold.reference import ampacity as nec
from hearthold.reference import conductors
from hearthold.sizing.carrying import Carrying, Lay, carrying, circuit_carrying, sizes_above
from hearthold.sizing.chain import chain_voltage_v
from hearthold.sizing.demand import (
    SELF_STARTING,
    LegDemand,
    figures,
    is_lighting,
    running_currents,
    start_on_top_currents,
    worst_start,
)
from hearthold.sizing.placement import Placement, placement

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.loads import Circuit
    from hearthold.house.supply import Run


# Two temperatures that are easily taken for one: that of the copper for the drop, and that of the ampacity column.
_TAKEN = {
    VoltageSystem.SPLIT_120_240: "resistance for the drop at 75 degC; may carry by the 60 degC column for NM-B, UF-B "
    "and ends up to 100 A, air at 30 degC",
    VoltageSystem.SINGLE_230: "resistance for the drop at 70 degC; may carry by method C, clipped direct, PVC 70 degC, "
    "air at 30 degC",
}


@dataclass(frozen=True, slots=True)
class Drop:
    """Voltage lost, as a share of the load's own nominal voltage."""

    running_v: float
    running_frac: float
    start_frac: float | None  # with its heaviest motor starting; None where nothing starts
    limit_frac: float  # advice, not a rule, in the NEC

    @property
    def is_over(self) -> bool:
        """True where more is lost than advised, by what a tenth of a per cent shows: the advice is no finer."""
        return round(self.running_frac, 3) > self.limit_frac


@dataclass(frozen=True, slots=True)
class CircuitWiring:
    """One branch circuit: what its cable may carry, what protects it, what it carries, what it loses."""

    circuit: str
    name: str
    carrying: Carrying
    breaker_a: float
    load_a: float  # everything on it running
    required_a: float  # with continuous load at 125 % where that is the rule
    motor_circuit: bool  # only motors on it, none of them a plug-in compressor: a larger device may do
    motor_device: MotorDevice | None  # the bounds of that larger device; None where it is no motor circuit
    device_over_conductor: bool
    drop: Drop  # on the branch alone
    whole_path: Drop | None  # from the machine's terminals; None where the hookup does not feed it
    suggested_size: str | None  # smallest size that keeps the branch within its limit; None if it does


@dataclass(frozen=True, slots=True)
class RunWiring:
    """The cord or the feeder: what it may carry, its worst leg, and the share of voltage lost on it."""

    kind: str
    wire: str
    length_m: float
    carrying: Carrying
    leg_a: float  # worst leg with everything that starts by itself running
    running_frac: float
    start_frac: float | None


@dataclass(frozen=True, slots=True)
class Wiring:
    """All circuits and runs of a house."""

    circuits: tuple[CircuitWiring, ...]
    runs: tuple[RunWiring, ...]
    notes: tuple[str, ...]


def wiring(house: House, legs: Placement | None = None) -> Wiring:
    """Carrying capacity and voltage drop of every circuit, and of cord and feeder where there are any.

    Running drop: everything on the circuit on. Whole path: the cord and feeder also carry every load that
    starts by itself. Starting: the circuit's heaviest motor at its start power factor, on top of those.
    Conductors are taken at 75 degC (70 degC metric). The machine's own dip is not in it (see supply).
    Raises: InputError for a conductor size of the other system; TableError beyond a table's edge.

    Source: NFPA 70 (NEC) Chapter 9 and informational notes to 210.19(A) and 215.2(A); IEC 60364-5-52 Annex G.
    """
    seats = legs or placement(house)
    work = _Work(house, seats)
    fed = {c.id for c in house.fed_circuits}
    circuits = tuple(work.circuit(c, c.id in fed and house.hookup is not None) for c in house.circuits)
    notes = (seats.note, _TAKEN[house.system])
    return Wiring(circuits, work.runs(), tuple(n for n in notes if n))


class _Work:
    """What all circuits of one house share: legs, fed loads, and the impedance of cord and feeder."""

    def __init__(self, house: House, seats: Placement) -> None:
        self.house, self.seats = house, seats
        self.split = house.system is VoltageSystem.SPLIT_120_240
        self.one_hot = self.split and chain_voltage_v(house) < 200.0
        fed = {c.id for c in house.fed_circuits}
        self.fed = [x for x in house.loads if x.circuit in fed]
        hookup = house.hookup
        pairs = [("cord", hookup.cord), ("feeder", hookup.feeder)] if hookup is not None else []
        self.parts = [(kind, run) for kind, run in pairs if run is not None]
        self.path_ohm = sum((_ohm(run) for _, run in self.parts), 0j)

    def circuit(self, circuit: Circuit, is_fed: bool) -> CircuitWiring:
        """One circuit's wiring."""
        found = circuit_carrying(circuit, self.house.system)
        loads = self.house.loads_on(circuit.id)
        motors = bool(loads) and all(x.is_motor and not self._on_a_plug(x) for x in loads)
        branch = self._branch(circuit, loads, circuit.wire, circuit.material)
        volts = self._volts(circuit)
        return CircuitWiring(
            circuit.id,
            circuit.name,
            found,
            circuit.breaker_a,
            self._figures(loads).total_va / volts,
            self._required_a(loads, volts),
            motors,
            motor_device([x.running_a for x in loads]) if motors else None,
            circuit.breaker_a > found.largest_device_a,
            branch,
            self._whole_path(circuit, loads, branch) if is_fed else None,
            self._suggested(circuit, loads, branch, found),
        )

    def runs(self) -> tuple[RunWiring, ...]:
        """Cord and feeder."""
        running = self._merged(self._self_starting())
        worst = self._worst_overall()
        return tuple(self._run(kind, run, running, worst) for kind, run in self.parts)

    def _run(self, kind: str, run: Run, running: LegCurrents, worst: LegCurrents | None) -> RunWiring:
        hookup = self.house.hookup
        device_a = (hookup.inlet_breaker_a if hookup is not None else None) or 0.0
        cable = run.cable or ("cord" if kind == "cord" else None)
        lay = Lay(live_count=run.live_conductors, device_a=device_a)
        return RunWiring(
            kind,
            run.wire,
            run.length_m,
            carrying(run.wire, run.material, cable, self.house.system, lay),
            figures(running).worst_leg_a,
            self._worst_leg_frac(running, _ohm(run)),
            self._worst_leg_frac(worst, _ohm(run)) if worst is not None else None,
        )

    def _branch(self, circuit: Circuit, loads: Sequence[Load], wire: str, material: str) -> Drop:
        running_v = self._branch_v(circuit, self._figures(loads), wire, material)
        start = worst_start(self.house, loads, self.seats)
        start_v = self._branch_v(circuit, start.demand, wire, material) if start is not None else None
        volts = self._volts(circuit)
        return Drop(
            running_v, running_v / volts, start_v / volts if start_v is not None else None, self._limit(loads)
        )

    def _branch_v(self, circuit: Circuit, asked: LegDemand, wire: str, material: str) -> float:
        if asked.total_va == 0.0:
            return 0.0
        part = conductors.conductor(table_size(wire), "al" if material == "aluminium" else "cu")
        lost_v = voltage_drop_two_wire_v(
            asked.total_va / self._volts(circuit),
            part.resistance_ohm_per_m,
            part.reactance_ohm_per_m,
            circuit.length_m,
            min(1.0, asked.total_w / asked.total_va),
        )
        return float(lost_v)

    def _whole_path(self, circuit: Circuit, loads: Sequence[Load], branch: Drop) -> Drop:
        others = [x for x in self._self_starting() if x.circuit != circuit.id]
        running = self._lost_frac(circuit, self._merged([*others, *loads])) + branch.running_frac
        motor = max((x for x in loads if x.is_motor), key=lambda x: x.start_va, default=None)
        start = None
        if motor is not None and branch.start_frac is not None:
            currents = start_on_top_currents(self.house, self.seats, motor, self.fed)
            start = self._lost_frac(circuit, self._on_wires(currents)) + branch.start_frac
        return Drop(running * self._volts(circuit), running, start, self._path_limit(loads))

    def _lost_frac(self, circuit: Circuit, currents: LegCurrents) -> float:
        """Share lost on cord and feeder, seen by a load of this circuit."""
        a_v, b_v, both_v = self._far_end(currents, self.path_ohm).drop_v(self._leg_v)
        where = self.seats.leg_of[circuit.id]
        if where is Connection.BOTH:
            return float(both_v) / (2.0 * self._leg_v)
        on_b = where is Connection.B and not self.one_hot
        return float(b_v if on_b else a_v) / self._leg_v

    def _worst_leg_frac(self, currents: LegCurrents, ohm: complex) -> float:
        a_v, b_v, _ = self._far_end(currents, ohm).drop_v(self._leg_v)
        return float(max(a_v, b_v)) / self._leg_v

    def _far_end(self, currents: LegCurrents, ohm: complex) -> FarEnd:
        return far_end_of_currents(self._leg_v, currents.leg_a_a, currents.leg_b_a, ohm, ohm)

    def _merged(self, loads: Sequence[Load]) -> LegCurrents:
        return self._on_wires(running_currents(self.house, self.seats, loads))

    def _on_wires(self, currents: LegCurrents) -> LegCurrents:
        """Currents as the cord sees them: on a 120 V cord both legs share its one hot conductor."""
        if not self.one_hot:
            return currents
        return LegCurrents(currents.leg_a_a + currents.leg_b_a, 0j, currents.leg_voltage_v)

    def _worst_overall(self) -> LegCurrents | None:
        motor = max((x for x in self.fed if x.is_motor), key=lambda x: x.start_va, default=None)
        if motor is None:
            return None
        return self._on_wires(start_on_top_currents(self.house, self.seats, motor, self.fed))

    def _self_starting(self) -> list[Load]:
        return [x for x in self.fed if x.pattern in SELF_STARTING]

    def _figures(self, loads: Sequence[Load]) -> LegDemand:
        return figures(running_currents(self.house, self.seats, loads))

    def _required_a(self, loads: Sequence[Load], volts: float) -> float:
        """Least rating for what the circuit carries; a tank water heater counts as continuous (422.13)."""
        tank = self.house.tank_element
        steady = [x for x in loads if x.pattern is Pattern.CONTINUOUS or x.id == tank]
        other = [x for x in loads if x not in steady]
        factor = nec.continuous_factor() if self.split else 1.0
        return float(
            required_rating_a(
                self._figures(steady).total_va / volts, self._figures(other).total_va / volts, factor
            )
        )

    def _suggested(
        self, circuit: Circuit, loads: Sequence[Load], branch: Drop, found: Carrying
    ) -> str | None:
        if not branch.is_over:
            return None
        known = conductors.awg_sizes()
        for size in sizes_above(circuit.wire, circuit.material, found.cable):
            if size.endswith("AWG") and table_size(size) not in known:
                continue
            if not self._branch(circuit, loads, size, circuit.material).is_over:
                return size
        return None

    def _on_a_plug(self, load: Load) -> bool:
        """True for a fridge or freezer: its compressor is no motor circuit of its own."""
        return load.group == "cold" or load.id in {store.load for store in self.house.cold}

    def _volts(self, circuit: Circuit) -> float:
        both = self.seats.leg_of[circuit.id] is Connection.BOTH
        return self.house.system.full_voltage_v if both else self.house.system.leg_voltage_v

    @property
    def _leg_v(self) -> float:
        return self.house.system.leg_voltage_v

    def _limit(self, loads: Sequence[Load]) -> float:
        return nec.drop_limit_frac("branch" if self.split else _use(loads), self.house.system.value)

    def _path_limit(self, loads: Sequence[Load]) -> float:
        return nec.drop_limit_frac(
            "feeder_and_branch" if self.split else _use(loads), self.house.system.value
        )


def _ohm(run: Run) -> complex:
    """Impedance of one conductor of a run, whole length."""
    part = conductors.conductor(table_size(run.wire), "al" if run.material == "aluminium" else "cu")
    per_m = complex(part.resistance_ohm_per_m, part.reactance_ohm_per_m)
    return per_m * float(run.length_m)


def _use(loads: Sequence[Load]) -> str:
    """Which IEC limit holds: the lighting one where everything on the circuit is lighting."""
    return "lighting" if loads and all(is_lighting(x) for x in loads) else "other_uses"
