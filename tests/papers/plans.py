"""Plans for the tests of the papers: real sizing and choice, a routine set by hand to save the search."""

from __future__ import annotations

from datetime import date
from functools import cache

from hearthold.engine.control import DailySpell
from hearthold.engine.control import Routine as Control
from hearthold.house.house import House
from hearthold.house.supply import HookupKind
from hearthold.plan.balance import balance
from hearthold.plan.byitself import by_itself_day_m3
from hearthold.plan.choice import choose
from hearthold.plan.cost import hookup_cost
from hearthold.plan.parts import CostParts
from hearthold.plan.result import FuelPlan, PlaceInHand, Plan
from hearthold.plan.routine import Routine
from hearthold.plan.rule_play import DailyRun
from hearthold.plan.status import Standing, Status
from hearthold.plan.turns import usual_turns
from hearthold.rules.case import Case
from hearthold.rules.check import check
from hearthold.sizing import fuel as fuel_sizing
from hearthold.sizing.burn import burn
from hearthold.sizing.chain import battery_chain, chain
from hearthold.sizing.conditions import conditions, harshest_month
from hearthold.sizing.demand import demand
from hearthold.sizing.gas import gas_pipe, vapour
from hearthold.sizing.holds import holds
from hearthold.sizing.inverter import inverter, inverter_starts
from hearthold.sizing.loadcalc import essential_panel, whole_house
from hearthold.sizing.order import switch_on_order
from hearthold.sizing.supply import motor_starts, preferred_fuel, supplies
from hearthold.sizing.wiring import wiring

TODAY = date(2026, 11, 25)
_RUNS = (DailyRun(6.5 * 3600, 5400.0), DailyRun(12.5 * 3600, 3600.0), DailyRun(18.0 * 3600, 7200.0))


def plan_of(house: House, with_routine: bool = True) -> Plan:
    """A plan as the planner would make it, but for the routine."""
    weather = conditions(house, harshest_month(house))
    found = supplies(house, weather) if house.generator is not None else ()
    main = next((s for s in found if s.fuel is preferred_fuel(house)), None)
    line = burn(house) if main is not None else None
    ready = main is not None and house.hookup is not None and bool(house.fed_circuits)
    source = inverter(house)
    routine = _routine(house) if main is not None and with_routine else None
    return Plan(
        format=1,
        house=PlaceInHand.of(house),
        conditions=weather,
        demand=demand(house.running),
        supplies=found,
        starts=motor_starts(house, main) if main is not None else (),
        chain=chain(house, main) if main is not None and house.hookup is not None else None,
        battery_chain=battery_chain(house),
        inverter_starts=inverter_starts(house, source) if source is not None else (),
        choice=choose(house, main, time_limit_s=2.0) if ready and main is not None else None,
        balance=balance(house) if ready and len(house.system.legs) == 2 else None,
        switch_on=switch_on_order(house),
        wiring=wiring(house),
        load_calculation=_calculation(house),
        fuel=_fuel(house, line, found, weather, routine) if line is not None else None,
        holds=holds(house, weather),
        routine=routine,
        on_battery=None,
        findings=check(Case(house, weather, TODAY)),
        cost=hookup_cost(house, line),
        assumptions=house.assumptions,
    )


@cache
def plan_of_example(name: str) -> Plan:
    """The plan of tarn or skerrow, made once."""
    from tests.papers import houses

    return plan_of(getattr(houses, name)())


def _calculation(house: House) -> object:
    if house.hookup is None:
        return None
    return whole_house(house) if house.hookup.kind is HookupKind.AUTOMATIC_STANDBY else essential_panel(house)


def _fuel(house, line, found, weather, routine) -> FuelPlan:
    day_m3 = routine.fuel_day_m3 if routine is not None else None
    alone_m3 = by_itself_day_m3(house, weather, line.fuel)
    return FuelPlan(
        burn=line,
        tank_runs=fuel_sizing.tank_runs(house, line),
        stock=fuel_sizing.stock(house, TODAY, weather),
        day_need_m3=day_m3,
        stock_days=fuel_sizing.stock_days(house, line, day_m3) if day_m3 else None,
        other_fuels_days=(),
        vapour=vapour(house, line, weather.outdoor_mean_c),
        gas_pipe=gas_pipe(house, line),
        by_itself_day_m3=alone_m3,
        by_itself_days=fuel_sizing.stock_days(house, line, alone_m3) if alone_m3 else None,
    )


def _routine(house: House) -> Routine:
    turns = usual_turns(house.running)
    control = Control(tuple(DailySpell(r.at_s, r.length_s) for r in _RUNS))
    return Routine(
        runs=_RUNS,
        circuits=turns.order,
        turns=turns,
        switching=turns.sentence(house.running),
        sentence="Run it at 06:30 for 90 minutes; at 12:30 for 1 hour; at 18:00 for 2 hours.",
        standing=Standing(Status.IN_TIME),
        tested_s=72 * 3600.0,
        fails_at_s=18 * 3600.0,
        tried=100,
        fuel_day_m3=0.0095,
        run_day_s=4.5 * 3600,
        starts_day=3.0,
        refills_day=0.4,
        trips=(),
        fuel_left_m3=0.02,
        fuel_lasts_s=float("inf"),
        cost=CostParts(*([0.0] * 17)),
        stores=(),
        breaks_first=None,
        alternatives=(),
        gave_way=(),
        control=control,
    )
