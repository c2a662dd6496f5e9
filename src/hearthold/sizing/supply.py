"""What the machine can give on one fuel, here and in this air: running, starting, by leg; and its dips."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.house.site import VoltageSystem
from hearthold.house.supply import FuelKind
from hearthold.physics.alternator import largest_start_va, voltage_dip_frac
from hearthold.physics.derating import available_power_w, linear_derate_frac
from hearthold.reference import generator as practice
from hearthold.sizing.demand import SELF_STARTING, added, figures, one_start_currents, running_currents
from hearthold.sizing.placement import Placement, placement

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from hearthold.house.house import House
    from hearthold.house.loads import Load
    from hearthold.house.supply import FuelRating, Generator
    from hearthold.physics.legs import LegCurrents
    from hearthold.reference.generator import SetKind
    from hearthold.sizing.conditions import Conditions

_FUEL_ROW = {FuelKind.GASOLINE: "gasoline_e10"}  # the other fuels have their own name in the table
_SET_ROW = {"inverter": "inverter", "standby": "standby"}


@dataclass(frozen=True, slots=True)
class Supply:
    """One machine on one fuel at the site. Watts are what the engine holds, VA what the alternator holds."""

    name: str
    fuel: FuelKind
    rated_w: float  # running, as printed for this fuel (or for the fuel it was derived from)
    fuel_frac: float  # 1 where the household gave a rating on this fuel
    air_frac: float
    running_w: float
    running_va: float
    start_w: float
    start_va: float  # the maker's start rating read as VA: the careful reading of the trade
    dip_va: float  # VA that dips the voltage by the limit for a motor start; start_va on an inverter
    held_w: float  # the most that should be held for hours
    voltage_v: float
    leg_limit_w: float
    limits_current: bool  # an inverter set cuts off where an alternator dips
    reactance_frac: tuple[float, float, float]  # low, typical, high; zeros where current is limited
    notes: tuple[str, ...]

    @property
    def running_a(self) -> float:
        """Running current at its voltage and unity power factor."""
        return self.running_w / self.voltage_v


@dataclass(frozen=True, slots=True)
class MotorStart:
    """One motor's start on this machine: dip of voltage, and how far the start uses the ratings up."""

    load: str
    name: str
    start_va: float
    start_w: float
    dip_frac: float | None  # typical reactance; None where the set limits current instead
    dip_high_frac: float | None  # high reactance
    watts_frac: float  # running others and this start over the start rating, W
    va_frac: float  # the same in VA
    dip_use_frac: float  # the same VA over those that pull the voltage too deep; va_frac on an inverter

    @property
    def use_frac(self) -> float:
        """The worse share of the printed rating; above 1 the careful reading says no."""
        return max(self.watts_frac, self.va_frac)

    @property
    def hard_frac(self) -> float:
        """The worse share of what engine and alternator can do; above 1 the motor does not start."""
        return max(self.watts_frac, self.dip_use_frac)


def supply(house: House, weather: Conditions | None = None, fuel: FuelKind | None = None) -> Supply:
    """The machine on a fuel (the preferred one if none is named) in the warmest hour of the weather.

    P = min(alternator, rated x fuel x air). A rating that the household gives for the fuel is taken as it is;
    altitude and heat still count. Without weather the air is taken at 25 degC.
    Raises: InputError where the house has no machine, or it cannot burn the fuel.

    Source: altitude 3.5 % per 1000 ft and 1 % per 10 F above 25 degC, rules of manuals (from memory).
    """
    machine = machine_of(house)
    chosen = fuel or preferred_fuel(house)
    rating, fuel_frac = rating_on(machine, chosen)
    air = air_frac(house.site.altitude_m, weather.outdoor_high_c if weather else 25.0)
    usual = practice.set_kind(_set_row(machine))
    top = max(machine.on, key=lambda r: r.running_w)
    ratio = usual.surge_ratio.typical
    start_w = rating.start_w or rating.running_w * ratio
    top_start_w = max(r.start_w or r.running_w * ratio for r in machine.on)
    running_w = float(available_power_w(rating.running_w, top.running_w, fuel_frac, air))
    volts, split = _voltage(house, machine)
    return Supply(
        machine.name,
        chosen,
        rating.running_w,
        fuel_frac,
        air,
        running_w,
        top.running_w,
        float(available_power_w(start_w, top_start_w, fuel_frac, air)),
        top_start_w,
        _dip_va(machine, usual, top.running_w, top_start_w),
        running_w * practice.load_limit_frac("held_load"),
        volts,
        _leg_limit_w(machine, running_w, split),
        machine.kind == "inverter",
        _reactances(usual),
        _notes(machine, rating, chosen, fuel_frac, split),
    )


def _voltage(house: House, machine: Generator) -> tuple[float, bool]:
    """The machine's voltage, and whether it has two legs."""
    volts = machine.voltage_v or house.system.full_voltage_v
    return volts, house.system is VoltageSystem.SPLIT_120_240 and volts > 200.0


def supplies(house: House, weather: Conditions | None = None) -> tuple[Supply, ...]:
    """The machine on every fuel it is rated for. Raises InputError where the house has no machine."""
    return tuple(supply(house, weather, rating.fuel) for rating in machine_of(house).on)


def preferred_fuel(house: House) -> FuelKind:
    """The household's preferred fuel, or the machine's first. Raises InputError where there is no machine."""
    machine = machine_of(house)
    return house.fuel.preferred if house.fuel is not None else machine.on[0].fuel


def air_frac(altitude_m: float, intake_c: float) -> float:
    """Share of rated power left at an altitude and intake temperature; never above 1.

    Source: linear rule of manuals; figures from the derating tables (from memory).
    """
    climb, warmth = practice.altitude_rule(), practice.temperature_rule()
    return float(
        linear_derate_frac(
            altitude_m,
            intake_c,
            climb.loss_per_m_frac,
            warmth.loss_per_k_frac,
            climb.starts_at_m,
            warmth.starts_at_c,
        )
    )


def motor_starts(
    house: House,
    source: Supply,
    circuit_ids: Iterable[str] | None = None,
    legs: Placement | None = None,
    idle: bool = False,
) -> tuple[MotorStart, ...]:
    """Every motor's start on this machine, deepest dip first, on top of what runs by itself (or `idle`).

    Source: physics.alternator.voltage_dip_frac; start ratings as the maker prints them.
    """
    chosen = {c.id for c in house.fed_circuits} if circuit_ids is None else set(circuit_ids)
    loads = [x for x in house.loads if x.circuit in chosen]
    beside = [] if idle else [x for x in loads if x.pattern in SELF_STARTING]
    seats = legs or placement(house)
    found = [_motor_start(house, source, seats, x, beside) for x in loads if x.is_motor]
    return tuple(sorted(found, key=lambda m: (-(m.dip_frac or 0.0), -m.use_frac, m.load)))


@dataclass(frozen=True, slots=True)
class Asked:
    """The most that a set of loads asks of a machine: all of them running, and the hardest start on top."""

    running_w: float
    running_va: float
    start_w: float
    start_va: float


def most_asked(house: House, on: Sequence[Load], legs: Placement | None = None) -> Asked:
    """What loads that are on at one time ask, with one piece of the hardest motor starting on top of the rest.

    Source: planning peak of the trade (no source); phasor sums.
    """
    seats = legs or placement(house)
    running = figures(running_currents(house, seats, on))
    starts = [figures(_start_beside(house, seats, x, on)) for x in on if x.is_motor]
    peaks = [running, *starts]
    return Asked(
        running.total_w, running.total_va, max(p.total_w for p in peaks), max(p.total_va for p in peaks)
    )


def _start_beside(house: House, seats: Placement, load: Load, on: Sequence[Load]) -> LegCurrents:
    """Currents while one piece of a load starts and everything else of the set runs, its other pieces too."""
    running = running_currents(house, seats, on, lambda x: _others_frac(x, load))
    return added(running, one_start_currents(house, seats, load))


def _others_frac(load: Load, starting: Load) -> float:
    """Share of a load that runs while one piece of another, or of its own, starts."""
    return (load.count - 1) / load.count if load.id == starting.id else 1.0


def hardest_starts(
    house: House, source: Supply, sets: Sequence[Sequence[Load]], legs: Placement | None = None
) -> tuple[MotorStart, ...]:
    """Every motor's start, of fed circuits and of the sets, in the hardest set of loads that are on at one time.

    `sets`: of each, everything runs, what people switch too, and one piece of the motor starts on top. A motor of
    none of the sets starts alone.

    Source: as `motor_starts`; the same sum by which circuits are chosen (sizing.together).
    """
    seats, fed = legs or placement(house), {c.id for c in house.fed_circuits}
    in_a_set = {x.id for on in sets for x in on}
    motors = [x for x in house.loads if x.is_motor and (x.circuit in fed or x.id in in_a_set)]
    found = []
    for motor in motors:
        beside = [on for on in sets if motor in on] or [()]
        tried = [_motor_start(house, source, seats, motor, on) for on in beside]
        found.append(max(tried, key=lambda m: (m.hard_frac, m.use_frac)))
    return tuple(sorted(found, key=lambda m: (-m.hard_frac, -m.use_frac, m.load)))


def _motor_start(
    house: House, source: Supply, seats: Placement, load: Load, beside: Sequence[Load]
) -> MotorStart:
    """One piece's start; the other pieces of a load that is on run already."""
    running = figures(running_currents(house, seats, beside, lambda x: _others_frac(x, load)))
    together = figures(_start_beside(house, seats, load, beside))
    factor = running.total_w / running.total_va if running.total_va else 1.0
    dips = [_dip(source, load, x, running.total_va, factor) for x in source.reactance_frac[1:]]
    return MotorStart(
        load.id,
        load.name,
        load.start_va,
        load.start_w,
        dips[0],
        dips[1],
        together.total_w / source.start_w,
        together.total_va / source.start_va,
        together.total_va / source.dip_va,
    )


def _dip(source: Supply, load: Load, reactance_frac: float, running_va: float, factor: float) -> float | None:
    if source.limits_current:
        return None
    found = voltage_dip_frac(
        load.start_va, source.running_va, reactance_frac, running_va, load.start_power_factor, factor
    )
    return float(found)


def machine_of(house: House) -> Generator:
    """The house's machine. Raises InputError where there is none."""
    if house.generator is None:
        raise InputError(
            "the house file has no [generator]; describe the machine in hand or in mind.", code="no_generator"
        )
    return house.generator


def rating_on(machine: Generator, fuel: FuelKind) -> tuple[FuelRating, float]:
    """The printed rating on this fuel with factor 1, or the gasoline one with the table's factor.

    Raises: InputError where neither serves.
    """
    for rating in machine.on:
        if rating.fuel == fuel:
            return rating, 1.0
    spark = [r for r in machine.on if r.fuel == FuelKind.GASOLINE]
    if fuel == FuelKind.DIESEL or not spark:
        burns = ", ".join(r.fuel for r in machine.on)
        raise InputError(
            f"the machine has no rating on {fuel}; it burns {burns}. Add the rating from its plate.",
            code="fuel_not_rated",
        )
    return spark[0], practice.fuel_power_ratio(_FUEL_ROW.get(fuel, fuel.value)).typical


def _set_row(machine: Generator) -> str:
    if machine.on[0].fuel == FuelKind.DIESEL and machine.kind != "inverter":
        return "diesel"
    return _SET_ROW.get(machine.kind, "open_frame")


def _dip_va(machine: Generator, usual: SetKind, running_va: float, start_va: float) -> float:
    """VA before the voltage falls too far, everything taken as reactive (the bound)."""
    if machine.kind == "inverter" or usual.reactance_ratio is None:
        return start_va
    limit_frac = practice.dip_limit_frac("motor_start")
    taken_va = largest_start_va(limit_frac, running_va, usual.reactance_ratio.typical)
    return max(start_va, float(taken_va))


def _reactances(usual: SetKind) -> tuple[float, float, float]:
    spread = usual.reactance_ratio
    return (spread.low, spread.typical, spread.high) if spread is not None else (0.0, 0.0, 0.0)


def _leg_limit_w(machine: Generator, running_w: float, split: bool) -> float:
    """What one leg may carry: the maker's figure, else half of the whole on a 120/240 V set."""
    if machine.leg_limit_w is not None:
        return float(min(machine.leg_limit_w, running_w))
    return running_w / 2.0 if split else running_w


def _notes(
    machine: Generator, rating: FuelRating, fuel: FuelKind, fuel_frac: float, split: bool
) -> tuple[str, ...]:
    notes = []
    if fuel_frac != 1.0:
        notes.append(f"no rating on {fuel} given; {fuel_frac:g} of the {rating.fuel} rating assumed")
    if rating.start_w is None:
        notes.append("start rating not given; a usual surge ratio assumed (from memory)")
    if machine.leg_limit_w is None and split:
        notes.append("limit of one leg not given; half of the whole assumed")
    if machine.kind != "inverter":
        notes.append("transient reactance assumed for the kind of set (from memory)")
    return tuple(notes)
