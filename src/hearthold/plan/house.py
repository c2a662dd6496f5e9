"""`plan_house`: from a house to its `Plan`. The order of the parts here is the order of the thought."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from hearthold.engine import jit
from hearthold.errors import InputError
from hearthold.house.supply import FuelKind
from hearthold.plan.balance import balance
from hearthold.plan.byitself import by_itself_day_m3
from hearthold.plan.choice import Choice, choose, sets_on
from hearthold.plan.cost import hookup_cost
from hearthold.plan.objective import DAY_S
from hearthold.plan.panel import find_panel, has_panel_alone
from hearthold.plan.result import FORMAT, FuelPlan, PlaceInHand, Plan
from hearthold.plan.routine import find_routine
from hearthold.rules.case import Case, Played
from hearthold.rules.check import check
from hearthold.sizing import fuel as fuel_sizing
from hearthold.sizing.burn import Burn, burn
from hearthold.sizing.calculation import LoadCalculation
from hearthold.sizing.chain import Chain, battery_chain, chain, cord_chain
from hearthold.sizing.conditions import Conditions, conditions, harshest_month
from hearthold.sizing.demand import demand
from hearthold.sizing.gas import gas_pipe, vapour
from hearthold.sizing.holds import holds
from hearthold.sizing.inverter import InverterStart, inverter, inverter_starts
from hearthold.sizing.loadcalc import essential_panel, whole_house
from hearthold.sizing.order import switch_on_order
from hearthold.sizing.supply import MotorStart, Supply, hardest_starts, preferred_fuel, supplies

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.plan.panel import PanelPlan
    from hearthold.plan.routine import Routine

Progress = Callable[[str], None]
SMALL_START_VA = 300.0  # starts below this decide nothing


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a plan is asked for: the day it is made, the month it is for, the fuel to run on."""

    today: date
    month: int
    fuel: FuelKind | None


def plan_house(
    house: House,
    *,
    today: date,
    month: int | None = None,
    fuel: str | None = None,
    progress: Progress | None = None,
) -> Plan:
    """The plan of a house for a month (the coldest if none is named) on a fuel (the preferred one).

    Raises InputError for a month, a fuel or a weather that cannot be used.
    """
    asked = _asked(house, today, month, fuel)
    weather = conditions(house, asked.month)
    found = supplies(house, weather) if house.generator is not None else ()
    main = next((s for s in found if s.fuel is asked.fuel), None)
    line = burn(house, asked.fuel) if main is not None else None
    path = _way_in(house, main) if main is not None and house.hookup is not None else None
    # on cords no circuit is fed and there is nothing to choose among; a routine serves what the cords reach
    fed = () if house.on_cords else None
    to_panel = None if house.on_cords else path
    chosen = choose(house, main, fed, path=to_panel) if main is not None and path is not None else None
    served = None if house.on_cords else chosen
    routine = _routine(house.running, weather, asked.fuel, served, progress) if main is not None else None
    fuel_plan = _fuel_plan(house, asked, weather, found, line, routine) if line is not None else None
    case = Case(house, weather, today, _played(routine, fuel_plan))
    return Plan(
        format=FORMAT,
        house=PlaceInHand.of(house),
        conditions=weather,
        demand=demand(house.running),
        supplies=found,
        starts=_starts(case, main, chosen),
        chain=path,
        battery_chain=battery_chain(house),
        inverter_starts=_inverter_starts(house),
        choice=chosen,
        balance=balance(house) if _has_legs_to_even(house) else None,
        switch_on=switch_on_order(house, chosen.together if chosen is not None else None),
        wiring=case.wiring,
        load_calculation=_load_calculation(house),
        fuel=fuel_plan,
        holds=holds(house, weather),
        routine=routine,
        on_battery=_on_battery(house.running, weather, progress),
        findings=check(case),
        cost=hookup_cost(house, line),
        assumptions=house.assumptions,
    )


def _routine(
    house: House,
    weather: Conditions,
    fuel: FuelKind | None,
    chosen: Choice | None,
    progress: Progress | None,
) -> Routine:
    """The best simple daily rule; says so first where the engine has yet to be compiled for this machine."""
    _tell_compiling(progress)
    return find_routine(house, weather, fuel=fuel.value if fuel is not None else None, choice=chosen)


def _on_battery(house: House, weather: Conditions, progress: Progress | None) -> PanelPlan | None:
    """The way to keep the panel where a battery is all there is."""
    if not has_panel_alone(house):
        return None
    _tell_compiling(progress)
    return find_panel(house, weather)


def _tell_compiling(progress: Progress | None) -> None:
    if progress is not None and not jit.is_compiled():
        progress("preparing the simulation for this computer, once; this takes a few seconds ...")


def _asked(house: House, today: date, month: int | None, fuel: str | None) -> Wanted:
    if house.generator is None and fuel is not None:
        raise InputError(
            f'fuel is "{fuel}"; the house file names no machine that could burn it. Leave it out.',
            code="no_such_fuel",
            fuel=fuel,
        )
    if house.generator is None:
        return Wanted(today, month or harshest_month(house), None)
    kind = preferred_fuel(house)
    if fuel is not None:
        burned = [rating.fuel.value for rating in house.generator.on]
        if fuel not in burned:
            raise InputError(
                f'fuel is "{fuel}"; this generator burns {", ".join(burned)}.', code="no_such_fuel", fuel=fuel
            )
        kind = FuelKind(fuel)
    return Wanted(today, month or harshest_month(house), kind)


def _way_in(house: House, main: Supply) -> Chain:
    """The way from the machine to the panel, or that of one cord where there is no other."""
    return cord_chain(house, main) if house.on_cords else chain(house, main)


def _has_legs_to_even(house: House) -> bool:
    """Whether an electrician could move circuits from leg to leg; cords are plugged in as they come."""
    return house.hookup is not None and not house.on_cords and len(house.system.legs) > 1


def _starts(case: Case, main: Supply | None, chosen: Choice | None) -> tuple[MotorStart, ...]:
    """Starts of the motors, each in the hardest set of loads that are on at one time."""
    if main is None:
        return ()
    sets = (case.fed_loads,) if case.house.on_cords else sets_on(case.house, chosen)
    unplugged = (
        {x.id for x in case.house.loads} - {x.id for x in case.fed_loads} if case.house.on_cords else set()
    )
    found = hardest_starts(case.house, main, sets)
    return tuple(start for start in found if start.start_va > SMALL_START_VA and start.load not in unplugged)


def _inverter_starts(house: House) -> tuple[InverterStart, ...]:
    """The same starts on the battery's inverter, which carries the house while the set rests."""
    source = inverter(house)
    found = inverter_starts(house, source) if source is not None else ()
    return tuple(start for start in found if start.start_va > SMALL_START_VA)


def _load_calculation(house: House) -> LoadCalculation | None:
    """The essential panel's own list, or the whole house where it is fed without load shedding by hand."""
    if house.hookup is None or house.on_cords:
        return None
    return whole_house(house) if house.takes_over else essential_panel(house)


def _played(routine: Routine | None, fuel: FuelPlan | None) -> Played | None:
    """What the rules may take from the routine; an automatic set does not wait for one."""
    if routine is None or not routine.runs or fuel is None or fuel.stock_days is None:
        return None
    runs = sorted(routine.runs, key=lambda run: run.at_s)
    nexts = [*runs[1:], replace(runs[0], at_s=runs[0].at_s + DAY_S)]
    gap_s = max(later.at_s - run.at_s - run.length_s for run, later in zip(runs, nexts, strict=True))
    days = fuel.stock_days + sum(more for _, more in fuel.other_fuels_days)
    run_day_s = routine.run_day_s
    if fuel.by_itself_days is not None:
        days, run_day_s = fuel.by_itself_days, DAY_S
    kept = frozenset(s.store for s in routine.stores if s.kept)
    return Played(routine.fails_at_s, max(0.0, gap_s), run_day_s, days * DAY_S, kept, routine.kept)


def _fuel_plan(
    house: House,
    asked: Wanted,
    weather: Conditions,
    found: tuple[Supply, ...],
    line: Burn,
    routine: Routine | None,
) -> FuelPlan:
    day_m3 = routine.fuel_day_m3 if routine is not None else None
    others = (s.fuel for s in found if s.fuel is not asked.fuel)
    alone_m3 = by_itself_day_m3(house, weather, asked.fuel)
    return FuelPlan(
        burn=line,
        tank_runs=fuel_sizing.tank_runs(house, line),
        stock=fuel_sizing.stock(house, asked.today, weather),
        day_need_m3=day_m3,
        stock_days=_stock_days(house, line, routine) if routine is not None else None,
        other_fuels_days=tuple((kind, _days_on(house, kind, line, day_m3)) for kind in others)
        if day_m3
        else (),
        vapour=vapour(house, line, weather.outdoor_mean_c),
        gas_pipe=gas_pipe(house, line),
        by_itself_day_m3=alone_m3,
        by_itself_days=fuel_sizing.stock_days(house, line, alone_m3) if alone_m3 else None,
    )


def _stock_days(house: House, line: Burn, routine: Routine) -> float | None:
    """Days that the stock lasts under the routine: as it was played through where it ends in it and nobody fetches
    more, else at the need of a day.
    """
    if routine.fuel_day_m3 <= 0.0:
        return None
    at_need = fuel_sizing.stock_days(house, line, routine.fuel_day_m3)
    ends_in_it = routine.outlasts_its_fuel and not routine.trips and at_need > 0.0
    return routine.fuel_lasts_s / DAY_S if ends_in_it else at_need


def _days_on(house: House, kind: FuelKind, line: Burn, day_m3: float) -> float:
    """Days that the stock of another fuel lasts, for the same heat of fuel a day as on the main one."""
    other = burn(house, kind)
    heat_j = day_m3 * line.lhv_j_per_m3
    return fuel_sizing.stock_days(house, other, heat_j / other.lhv_j_per_m3)
