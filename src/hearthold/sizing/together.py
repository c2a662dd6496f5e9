"""Whether some circuits can be carried at one time: what each draws, what the supply allows, and the test.

All running, with the heaviest single start on top, on the whole machine and on each leg; phasors, not plain
sums. On a circuit that serves more than what can wait, loads that can wait are left off, and are named.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.house.loads import Load, Priority
from hearthold.house.site import VoltageSystem
from hearthold.house.supply import HookupKind
from hearthold.physics.legs import Connection, reactive_kernel
from hearthold.sizing.chain import Chain, chain
from hearthold.sizing.placement import Placement, placement
from hearthold.sizing.supply import Supply

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.loads import Circuit

TOLERANCE_FRAC = 1e-9  # so that a limit met exactly is met


@dataclass(frozen=True, slots=True)
class Draw:
    """What one circuit asks for, as complex power (W + j var) on each leg."""

    circuit: str
    name: str
    priority: Priority
    poles: int
    leg_a_va: complex
    leg_b_va: complex
    mean_w: float
    surpluses: tuple[tuple[complex, complex], ...]  # of each motor: start less running of one piece, by leg
    needs_240: bool
    needs_neutral: bool
    left_off: tuple[str, ...]

    @property
    def total_va(self) -> complex:
        """Both legs."""
        return self.leg_a_va + self.leg_b_va

    @property
    def start_va(self) -> float:
        """Size of the heaviest start with the rest of the circuit running."""
        return max((abs(self.total_va + a + b) for a, b in self.surpluses), default=abs(self.total_va))


@dataclass(frozen=True, slots=True)
class Limits:
    """What may be asked at one time. Watts are the engine's, VA the alternator's and the chain's.

    A start must not ask more real power than the machine's start rating, nor more VA than dips the voltage by
    the limit for a motor start. `careful_va` is the start rating read as VA, as the trade reads it.
    """

    running_w: float
    running_va: float
    leg_va: float
    mean_w: (
        float  # for hours: the continuous rating of the chain and the share of rating a set may be held at
    )
    start_w: float
    start_va: float
    leg_start_va: float
    careful_va: float
    passes_240: bool
    passes_neutral: bool
    spaces: int | None


@dataclass(frozen=True, slots=True)
class Demanded:
    """One thing asked against one limit."""

    what: str
    asked: float
    limit: float
    unit: str

    @property
    def over(self) -> bool:
        """True where more is asked than allowed."""
        return self.asked > self.limit * (1.0 + TOLERANCE_FRAC)

    def __str__(self) -> str:
        return (
            f"{self.what} {self.asked / 1000:.1f} k{self.unit} exceeds {self.limit / 1000:.1f} k{self.unit}"
        )


def draws(
    house: House, circuit_ids: Iterable[str] | None = None, legs: Placement | None = None
) -> tuple[Draw, ...]:
    """What each circuit draws, in file order (all that the hookup feeds if none are named)."""
    seats = legs or placement(house)
    fed = [c.id for c in house.fed_circuits]
    chosen = set(fed if circuit_ids is None else circuit_ids)
    return tuple(_draw(house, seats, c) for c in house.circuits if c.id in chosen)


def on_together(house: House, circuit_ids: Iterable[str]) -> tuple[Load, ...]:
    """Loads that are on when these circuits are carried together: all of theirs but those left off."""
    off = {load for draw in draws(house, circuit_ids) for load in draw.left_off}
    return tuple(x for c in circuit_ids for x in house.loads_on(c) if x.id not in off)


def limits(house: House, source: Supply, path: Chain | None = None) -> Limits:
    """What machine and chain allow together. Raises InputError where the house has no hookup."""
    if house.on_cords:
        return _of_machine(house, source)
    found = path or chain(house, source)
    beyond_va = min((x.rated_w for x in found.links[1:]), default=float("inf"))
    leg_va = found.leg_a * found.leg_voltage_v
    hookup = house.hookup
    panel = hookup is not None and hookup.kind is HookupKind.MANUAL_TRANSFER
    return Limits(
        source.running_w,
        min(source.running_va, beyond_va),
        leg_va,
        min(found.continuous_w, source.held_w),
        source.start_w,
        source.dip_va,
        source.dip_va * source.leg_limit_w / source.running_w,
        source.start_va,
        found.passes_240 or house.system is VoltageSystem.SINGLE_230,
        found.passes_neutral,
        hookup.panel_spaces if hookup is not None and panel else None,
    )


def _of_machine(house: House, source: Supply) -> Limits:
    """The machine's own: cords side by side share nothing else, and what each carries is seen to as it is laid."""
    return Limits(
        source.running_w,
        source.running_va,
        source.leg_limit_w,
        source.held_w,
        source.start_w,
        source.dip_va,
        source.dip_va * source.leg_limit_w / source.running_w,
        source.start_va,
        house.system is VoltageSystem.SINGLE_230,
        True,
        None,
    )


def asked(chosen: Sequence[Draw], allowed: Limits) -> tuple[Demanded, ...]:
    """Everything that these circuits ask at one time against its limit.

    Source: planning peak of the trade, what runs plus the start of the one worst motor (no source).
    """
    total = sum((d.total_va for d in chosen), 0j)
    leg_a, leg_b = (sum((leg(d) for d in chosen), 0j) for leg in (_leg_a, _leg_b))
    starts = [(0j, 0j), *(s for d in chosen for s in d.surpluses)]
    return (
        Demanded("running", total.real, allowed.running_w, "W"),
        Demanded("running", abs(total), allowed.running_va, "VA"),
        Demanded("leg A", abs(leg_a), allowed.leg_va, "VA"),
        Demanded("leg B", abs(leg_b), allowed.leg_va, "VA"),
        Demanded("mean load", sum(d.mean_w for d in chosen), allowed.mean_w, "W"),
        Demanded("start", max((total + a + b).real for a, b in starts), allowed.start_w, "W"),
        Demanded("start", max(abs(total + a + b) for a, b in starts), allowed.start_va, "VA"),
        Demanded("start on leg A", max(abs(leg_a + a) for a, _ in starts), allowed.leg_start_va, "VA"),
        Demanded("start on leg B", max(abs(leg_b + b) for _, b in starts), allowed.leg_start_va, "VA"),
    )


def misfits(chosen: Sequence[Draw], allowed: Limits) -> tuple[str, ...]:
    """Why these circuits cannot be carried at one time; empty where they can."""
    return (*_impossible(chosen, allowed), *(str(x) for x in asked(chosen, allowed) if x.over))


def fit(chosen: Sequence[Draw], allowed: Limits) -> bool:
    """Whether these circuits can be carried at one time."""
    return not misfits(chosen, allowed)


def _impossible(chosen: Sequence[Draw], allowed: Limits) -> Iterator[str]:
    """What no setting of switches can change."""
    if not allowed.passes_240 and any(d.needs_240 for d in chosen):
        yield "needs 240 V, and the chain passes 120 V alone"
    if not allowed.passes_neutral and any(d.needs_neutral for d in chosen):
        yield "needs a neutral, and the chain has none"


def _draw(house: House, seats: Placement, circuit: Circuit) -> Draw:
    vital = {x.id for x in house.vital_loads}
    loads = house.loads_on(circuit.id)
    ranks = [Priority.VITAL if x.id in vital else x.priority for x in loads]
    priority = min(ranks, key=lambda p: p.rank, default=Priority.DEFER)
    waits = [x for x in loads if x.priority is Priority.DEFER and x.id not in vital]
    left_off = tuple(x.id for x in waits) if priority is not Priority.DEFER else ()
    on = [x for x in loads if x.id not in left_off]
    where = seats.leg_of[circuit.id]
    parts = [_on_legs(_running(x), where) for x in on]
    full = 1.2 * house.system.leg_voltage_v
    return Draw(
        circuit.id,
        circuit.name,
        priority,
        circuit.poles,
        sum((a for a, _ in parts), 0j),
        sum((b for _, b in parts), 0j),
        sum(x.running_w * x.duty_frac for x in on),
        tuple(_on_legs(_surplus(x), where) for x in on if x.is_motor),
        any(x.voltage_v > full for x in on),
        any(x.voltage_v <= full for x in on),
        left_off,
    )


def _running(load: Load) -> complex:
    return complex(load.running_w, float(reactive_kernel(load.running_w, load.power_factor)))


def _surplus(load: Load) -> complex:
    """One piece's start less its running."""
    start_var = float(reactive_kernel(load.start_w, load.start_power_factor))
    return complex(load.start_w, start_var) - _running(load) / load.count


def _on_legs(power_va: complex, where: Connection) -> tuple[complex, complex]:
    if where is Connection.BOTH:
        return power_va / 2.0, power_va / 2.0
    return (power_va, 0j) if where is Connection.A else (0j, power_va)


def _leg_a(draw: Draw) -> complex:
    return draw.leg_a_va


def _leg_b(draw: Draw) -> complex:
    return draw.leg_b_va
