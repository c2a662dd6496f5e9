"""The plan as a page. The short one is for the household: what is lost, what to do, what to mend, cautions.
With `every` come the tables that the electrician asks for, every finding in full, and every assumed value.
"""

from __future__ import annotations

from calendar import month_name
from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.assumptions import assumptions_section
from hearthold.faces.cli.report.cautions import last_cautions
from hearthold.faces.cli.report.chain import chain_section
from hearthold.faces.cli.report.choice import choice_section
from hearthold.faces.cli.report.conductors import conductors_section
from hearthold.faces.cli.report.cost import cost_section
from hearthold.faces.cli.report.demand import demand_section, order_section
from hearthold.faces.cli.report.electrician import electrician_section
from hearthold.faces.cli.report.findings import findings_section
from hearthold.faces.cli.report.fuel import fuel_section
from hearthold.faces.cli.report.holds import holds_section
from hearthold.faces.cli.report.legs import legs_section
from hearthold.faces.cli.report.loadcalc import loadcalc_section
from hearthold.faces.cli.report.onbattery import battery_section
from hearthold.faces.cli.report.parts import ASSUMED, heading, points, sentence, title
from hearthold.faces.cli.report.routine import routine_section
from hearthold.faces.cli.report.sheet import Sheet
from hearthold.faces.cli.report.short import in_short
from hearthold.faces.cli.report.supply import starts_section, supply_section
from hearthold.house.site import VoltageSystem

if TYPE_CHECKING:
    from hearthold.faces.cli.report.say import Say
    from hearthold.faces.service import Planned
    from hearthold.plan.result import Plan
    from hearthold.sizing.supply import Supply


def plan_report(found: Planned, say: Say, page: Console, *, every: bool) -> Iterator[RenderableType]:
    """Everything `plan` prints, in order."""
    sheet, plan = Sheet(page, say, found.house, every), found.plan
    yield title(_title(sheet, plan), page)
    yield sentence(_weather(sheet, plan))
    yield heading("In short", page)
    yield points(in_short(sheet, plan))
    yield from _household(sheet, plan)
    yield from findings_section(plan.findings, page, found.house.system, every=every, titles=not every)
    yield from _in_full(sheet, plan) if every else electrician_section(sheet, plan, _main(plan))
    yield from last_cautions(sheet)
    yield sentence(f"\n{_LAST[found.house.system]}")


def _in_full(sheet: Sheet, plan: Plan) -> Iterator[RenderableType]:
    """What the machine, the wiring and the money come to, table by table, and what was taken for granted."""
    yield from _machine(sheet, plan)
    yield from _wiring(sheet, plan)
    yield from cost_section(sheet, plan.cost)
    yield from assumptions_section(sheet.house, sheet.say, sheet.page)


_LAST = {
    VoltageSystem.SPLIT_120_240: (
        "This page advises. What may be built, and how, is for local code, your permit office and a licensed "
        "electrician to say."
    ),
    VoltageSystem.SINGLE_230: (
        "This page advises. What may be built, and how, is for the national wiring rules, the network "
        "operator and the competent electrician who certifies the work to say."
    ),
}


def _household(sheet: Sheet, plan: Plan) -> Iterator[RenderableType]:
    """What the people of the house want to know: what is on, when, in what order, for how long."""
    yield from routine_section(sheet, plan.routine) if plan.routine is not None else ()
    yield from battery_section(sheet, plan.on_battery) if plan.on_battery is not None else ()
    main = _main(plan)
    yield from order_section(sheet, plan.switch_on, main) if main is not None and plan.switch_on.steps else ()
    yield from choice_section(sheet, plan.choice) if plan.choice is not None and plan.choice.circuits else ()
    yield from holds_section(sheet, plan.holds)
    if plan.fuel is not None:
        yield from fuel_section(sheet, plan, plan.fuel)


def _machine(sheet: Sheet, plan: Plan) -> Iterator[RenderableType]:
    """The machine and what it has to carry."""
    yield from supply_section(sheet, plan.supplies) if plan.supplies else ()
    yield from demand_section(sheet, plan.demand)
    main = _main(plan)
    yield from starts_section(sheet, main, plan.starts) if main is not None else ()


def _wiring(sheet: Sheet, plan: Plan) -> Iterator[RenderableType]:
    """The way of the power through the house."""
    yield from chain_section(sheet, plan.chain) if plan.chain is not None else ()
    yield from legs_section(sheet, plan.balance) if plan.balance is not None and sheet.two_legs else ()
    yield from conductors_section(sheet, plan.wiring)
    yield from loadcalc_section(sheet, plan.load_calculation) if plan.load_calculation is not None else ()


def _main(plan: Plan) -> Supply | None:
    """The machine on the fuel that the plan is for; None where the house has no machine."""
    if not plan.supplies:
        return None
    fuel = plan.fuel.burn.fuel if plan.fuel is not None else plan.supplies[0].fuel
    return next(s for s in plan.supplies if s.fuel is fuel)


def _title(sheet: Sheet, plan: Plan) -> str:
    fuel = f" on {sheet.fuel(plan.fuel.burn.fuel)}" if plan.fuel is not None else ""
    return f"{plan.house.name}: plan for {month_name[plan.conditions.month]}{fuel}"


def _weather(sheet: Sheet, plan: Plan) -> str:
    weather, say = plan.conditions, sheet.say
    kind = "a bad spell" if weather.harsh else "a usual week"
    span = f"{say.temperature(weather.outdoor_low_c)} to {say.temperature(weather.outdoor_high_c)}"
    unsaid = f"{ASSUMED} marks what the file does not say."
    return f"Reckoned for {kind} at {plan.house.place}, {span} outdoors. {unsaid}"
