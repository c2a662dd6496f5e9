"""Each way to get power in, designed for one house: machine, path, battery, panels and fuel from what it must carry."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil
from typing import TYPE_CHECKING

from hearthold.errors import HeartholdError
from hearthold.house.cords import with_cords
from hearthold.house.supply import Fuel, FuelKind, FuelStock, HookupKind
from hearthold.plan.choice import Choice, choose
from hearthold.reference.generator import fuel_power_ratio
from hearthold.reference.reader import table
from hearthold.sizing.burn import burn
from hearthold.sizing.fuel import amount_m3, stock_m3
from hearthold.sizing.loadcalc import whole_house
from hearthold.sizing.supply import supply
from hearthold.study import batterysize, ladder
from hearthold.study.hookups import TRAITS, Traits, Way, hindrance
from hearthold.study.path import hookup_of
from hearthold.study.rewire import must_carry, wanted_circuits, with_panel

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.loads import Cord
    from hearthold.house.supply import Generator

DAY_S = 86400.0
CAN_M3 = 0.018927  # 5 gal
TANK_M3 = 1.8927  # a 500 gal propane tank
_SPELLS_FRAC = (
    0.3  # of a day that a machine run in spells is on, for the first guess of the stock (judgement)
)
_LOAD_FRAC = 0.35  # of its rating that it then carries (judgement)


@dataclass(frozen=True, slots=True)
class Design:
    """One way, designed: the house as it would be, and what was decided on the way."""

    way: Way
    name: str
    house: House
    circuits: tuple[str, ...]  # that it is meant to feed
    cords: tuple[Cord, ...]
    choice: Choice | None
    serves: bool  # carries every vital and essential circuit, at least in turns
    has_tank: bool
    owned_machine: bool
    notes: tuple[str, ...]

    @property
    def traits(self) -> Traits:
        """What the way is made of."""
        return TRAITS[self.way]


@dataclass(frozen=True, slots=True)
class NotPossible:
    """A way that a house cannot have, and why."""

    way: Way
    name: str
    reason: str


def design(house: House, way: Way) -> Design | NotPossible:
    """A way designed for a house: sized from its own loads, circuits, weather and planned outage.

    Machine in hand first, then the smallest size that carries the vital and essential circuits together (a
    standby set: the whole house by its load calculation). Sources: sizing functions; sizes of the market from memory.
    """
    reason = hindrance(house, way)
    if reason:
        return NotPossible(way, TRAITS[way].name, reason)
    try:
        return _MAKERS[way](replace(house, battery=None, solar=None), way)
    except HeartholdError as problem:
        return NotPossible(way, TRAITS[way].name, str(problem))


def _nothing(house: House, way: Way) -> Design:
    bare = replace(house, generator=None, fuel=None, hookup=None, battery=None, solar=None)
    return Design(way, TRAITS[way].name, bare, (), (), None, False, False, False, ())


def _cords(house: House, way: Way) -> Design:
    there = in_place(house, HookupKind.CORDS)
    wired = (
        house.running
        if there
        else replace(with_cords(replace(house, generator=None)), generator=house.generator)
    )
    cords = wired.cords or ()
    circuits = tuple(cord.id for cord in cords)
    made, notes = _portable(wired, TRAITS[way].sets, circuits, HookupKind.CORDS)
    left = [x.name for x in house.vital_loads if x.id not in {i for cord in cords for i in cord.loads}]
    notes += (f"no cord reaches {', '.join(left)}",) if left else ()
    return _finished(way, made, circuits, cords, house, notes)


def _panel(house: House, way: Way) -> Design:
    circuits = wanted_circuits(house)
    kind = TRAITS[way].kind or HookupKind.MANUAL_TRANSFER
    made, notes = _portable(with_panel(house, circuits), TRAITS[way].sets, circuits, kind)
    return _finished(way, made, circuits, (), house, notes)


def _standby(house: House, way: Way) -> Design:
    fuel = FuelKind.NATURAL_GAS if way is Way.STANDBY_MAINS else FuelKind.PROPANE
    share = fuel_power_ratio("natural_gas").typical / fuel_power_ratio("propane").typical
    needed_va = whole_house(house).total_va
    circuits = tuple(c.id for c in house.circuits)

    def serves(machine: Generator) -> bool:
        tried = ladder.on_fuel(house, machine, fuel)
        return supply(tried).running_w >= needed_va

    share = share if fuel is FuelKind.NATURAL_GAS else 1.0
    machine, enough = ladder.smallest(house, ("standby",), fuel, share, serves)
    made = ladder.on_fuel(house, machine, fuel)
    tank = FuelStock(fuel=fuel, mains=True) if way is Way.STANDBY_MAINS else _tank()
    made = replace(made, fuel=Fuel(preferred=fuel, stock=(tank,)))
    made = replace(made, hookup=hookup_of(made, machine, HookupKind.AUTOMATIC_STANDBY, 0))
    notes: tuple[str, ...] = (
        f"sized for the whole house, {needed_va / 1000:.1f} kVA by its load calculation",
    )
    notes += (
        () if enough else ("the largest size falls short of that: a load manager must shed what can wait",)
    )
    return _finished(way, made, circuits, (), house, notes)


def _battery(house: House, way: Way) -> Design:
    circuits = must_carry(house, wanted_circuits(house)) or wanted_circuits(house)
    base = with_panel(house, circuits)
    asked = batterysize.need(base, circuits)
    notes: tuple[str, ...] = ()
    if way is Way.BATTERY_PV:
        battery = batterysize.battery_for(asked, batterysize.DARK_S, 1e6)
        solar = batterysize.panels_for(house, asked, battery)
        made = replace(base, generator=None, fuel=None, battery=battery, solar=solar)
        notes = ("panels for the darkest month; no machine stands behind them",)
    else:
        made, notes = _portable(base, TRAITS[way].sets, circuits, HookupKind.BATTERY_INVERTER, together=False)
        charger_w = 0.8 * supply(made).running_w
        made = replace(made, battery=batterysize.battery_for(asked, batterysize.NIGHT_S, charger_w))
    hookup = hookup_of(made, made.generator, HookupKind.BATTERY_INVERTER, 0)
    return _finished(way, replace(made, hookup=hookup), circuits, (), house, notes)


_MAKERS = {
    Way.NOTHING: _nothing,
    Way.CORDS: _cords,
    Way.INTERLOCK: _panel,
    Way.MANUAL_TRANSFER: _panel,
    Way.STANDBY_PROPANE: _standby,
    Way.STANDBY_MAINS: _standby,
    Way.BATTERY_PORTABLE: _battery,
    Way.BATTERY_PV: _battery,
}


def _portable(
    house: House, kinds: tuple[str, ...], circuits: tuple[str, ...], kind: HookupKind, together: bool = True
) -> tuple[House, tuple[str, ...]]:
    """The house with a portable on a hookup: the one in hand if it serves, else the smallest that does."""
    owned = ladder.in_hand(house, kinds)
    fuel = house.fuel.preferred if owned is not None and house.fuel is not None else FuelKind.GASOLINE
    core = must_carry(house, circuits) or circuits

    def fitted(machine: Generator) -> House:
        tried = ladder.on_fuel(house, machine, fuel)
        if in_place(house, kind) and machine is owned:
            return tried
        return replace(tried, hookup=hookup_of(tried, machine, kind, 2 * len(house.circuits)))

    def serves(machine: Generator) -> bool:
        tried = fitted(machine)
        wanted = [core] if together else [(c,) for c in core]
        return all(ladder.carries(tried, some) for some in wanted)

    if owned is not None and (serves(owned) or _in_turns(fitted(owned), core)):
        return _with_stock(fitted(owned)), ("the machine in hand serves",)
    machine, enough = ladder.smallest(house, kinds, fuel, 1.0, serves)
    notes = () if enough else ("no size of portable carries all that matters at one time",)
    return _with_stock(fitted(machine)), notes


def in_place(house: House, kind: HookupKind | None) -> bool:
    """Whether the household has this kind of hookup already."""
    return house.hookup is not None and house.hookup.installed and house.hookup.kind is kind


def _in_turns(house: House, core: tuple[str, ...]) -> bool:
    """Whether each circuit that matters can be carried by itself."""
    return all(ladder.carries(house, (circuit,)) for circuit in core)


def _with_stock(house: House) -> House:
    """Fuel for the planned outage in spells, in whole cans, within what a home may keep; never less than is there."""
    line = burn(house)
    if line.fuel is FuelKind.NATURAL_GAS or house.fuel is None:
        return house
    day_m3 = line.m3_per_s(_LOAD_FRAC * line.rated_w) * _SPELLS_FRAC * DAY_S
    wanted = CAN_M3 * ceil(day_m3 * house.outages.plan_for_s / DAY_S / CAN_M3)
    most = table("fuel_storage_limits").row("dwelling_total").si("limit_gal")
    have = stock_m3(house, line.fuel)
    short = (min(wanted, most) if line.fuel is FuelKind.GASOLINE else wanted) - have
    if short <= 0.0:
        return house
    more = FuelStock.model_construct(
        fuel=line.fuel, amount_m3=short, mass_kg=None, container_m3=CAN_M3, container_mass_kg=None, stabilised=True,
        bought=None, place="detached_shed", mains=False,
    )  # fmt: skip
    return replace(house, fuel=house.fuel.model_copy(update={"stock": (*house.fuel.stock, more)}))


def _tank() -> FuelStock:
    """A 500 gal propane tank at four fifths of its filling limit, as it is found on an average day."""
    liquid_m3 = 0.8 * 0.8 * TANK_M3
    return FuelStock.model_construct(
        fuel=FuelKind.PROPANE, amount_m3=liquid_m3, mass_kg=None, container_m3=TANK_M3, container_mass_kg=None,
        stabilised=False, bought=None, place="tank", mains=False,
    )  # fmt: skip


def _finished(
    way: Way,
    made: House,
    circuits: tuple[str, ...],
    cords: tuple[Cord, ...],
    before: House,
    notes: tuple[str, ...],
) -> Design:
    """The design with what it carries, found exactly where a machine feeds it directly."""
    chosen = None
    if made.generator is not None:
        chosen = choose(made, supply(made), circuits, time_limit_s=2.0)
    core = set(must_carry(before, wanted_circuits(before)))
    fed = set(circuits) if not cords else set()
    never = set(chosen.never) if chosen is not None else set()
    serves = core <= fed - never
    owned = made.generator is not None and made.generator.owned
    return Design(
        way, TRAITS[way].name, made, circuits, cords, chosen, serves, way is Way.STANDBY_PROPANE, owned, notes
    )


def added_stock_m3(house: House, made: Design) -> float:
    """Fuel that the design keeps beyond what is at home now."""
    if made.house.fuel is None:
        return 0.0
    fuel = made.house.fuel.preferred
    have = sum(
        amount_m3(lot) for lot in (house.fuel.stock if house.fuel is not None else ()) if lot.fuel is fuel
    )
    kept = stock_m3(made.house, fuel)
    return max(0.0, kept - have) if kept < float("inf") else 0.0
