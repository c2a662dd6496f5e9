"""The shopping and cost list: what is missing, what it must be rated for, what it may cost. No brands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import isinf
from typing import TYPE_CHECKING

from hearthold.house.supply import HookupKind
from hearthold.papers.blocks import (
    BOLD,
    QUIET,
    TICK,
    TICKED,
    Block,
    Cell,
    Column,
    Heading,
    Points,
    Warn,
    Words,
    table,
)
from hearthold.papers.document import document
from hearthold.papers.sections.cost import cost_blocks
from hearthold.papers.words.heater import with_heater
from hearthold.papers.words.phrases import plain, sentence, wire
from hearthold.papers.words.say import counted, duration, whole
from hearthold.plan.choice import sets_on
from hearthold.plan.fuelneed import day_need_m3
from hearthold.reference.connectors import connector
from hearthold.sizing.fuel import stock_m3
from hearthold.sizing.gridside import grid_feeder, grid_load_a
from hearthold.sizing.supply import most_asked

if TYPE_CHECKING:
    from hearthold.house.loads import Load
    from hearthold.house.supply import Generator, Hookup, Run
    from hearthold.papers.job import Job


@dataclass(frozen=True, slots=True)
class Wanted:
    """One thing to have: whether it is there, and what it must be rated for."""

    what: str
    there: bool | None
    rated_for: str


def shopping_list(job: Job) -> bytes:
    """The list as PDF."""
    return document(
        job, "Shopping and cost list", "What to buy, its ratings and price ranges", shopping_blocks(job)
    )


def shopping_blocks(job: Job) -> Iterator[Block]:
    """Things first, then money, then what to ask before paying."""
    wanted = list(_wanted(job))
    missing = [w for w in wanted if not w.there]
    yield Heading("To have")
    yield Words(
        "Nothing is missing by the house file."
        if not missing
        else f"{len(missing)} of {len(wanted)} {'is' if len(missing) == 1 else 'are'} not there or not known.",
        "lead",
    )
    columns = (
        Column("", share=0.0),
        Column("What", share=1.3),
        Column("Must be rated for", share=4.2),
        Column("State"),
    )
    yield table(columns, (_row(w) for w in sorted(wanted, key=lambda w: bool(w.there))))
    machine = job.house.generator
    if machine.kind != "standby" if machine is not None else job.plan.on_battery is None:
        yield Warn(job.caution("co_shutoff"))
    yield from cost_blocks(job)
    yield from _fuel(job)
    yield Heading("Before paying")
    yield Points(_ASK[job.nec], boxes=True)


_FIT = "The parts fit each other: plug to inlet, interlock to the very panel, breaker to the panel."
_ASK = {
    True: (
        "The electrician has seen the brief; the permit office has said what it wants to see.",
        "Transfer equipment, inlet and cord carry the mark of a testing laboratory.",
        _FIT,
        "Three quotes for the work, each with permit and inspection in it.",
    ),
    False: (
        "The electrician has seen the brief; the network operator has been asked.",
        "Changeover switch, inlet and cord carry the marks that the law of the country asks for.",
        _FIT,
        "Three quotes for the work, each with tests and certificate in it.",
    ),
}
_EXTINGUISHER = {True: "class A, B and C", False: "powder, or foam tested on live gear"}
_CANS = {True: "Approved cans", False: "Cans made for it"}
_GUARD = {True: "ground-fault protected", False: "on a residual-current device of 30 mA"}
_SEAL = {True: "listed", False: "made to the standard of its kind"}


def _row(found: Wanted) -> tuple[Cell, ...]:
    state = {True: "there", False: "to buy", None: "not known"}[found.there]
    return (
        Cell("", TICKED if found.there else TICK),
        Cell(found.what, BOLD),
        Cell(found.rated_for),
        Cell(state, QUIET if found.there else BOLD),
    )


def _wanted(job: Job) -> Iterator[Wanted]:
    house = job.house
    if house.generator is not None:
        yield _machine(job, house.generator)
    if house.hookup is not None:
        yield from _hookup(job, house.hookup)
    yield from _safety(job)


def _machine(job: Job, machine: Generator) -> Wanted:
    """The set, by what the circuits that are on together ask."""
    parts = [_asked_of_set(job)]
    volts = machine.voltage_v or house_voltage(job)
    parts += (
        [f"{volts:g} V", f"receptacle {machine.receptacle}"]
        if machine.kind != "standby"
        else [f"{volts:g} V"]
    )
    parts.append(f"burns {' or '.join(job.fuel(r.fuel) for r in machine.on)}")
    parts.append(_CO_SHUTOFF[machine.co_shutoff] if machine.kind == "portable" else "")
    return Wanted(machine.name, machine.owned, sentence("; ".join(p for p in parts if p)))


def _asked_of_set(job: Job) -> str:
    """What the set must give: the most of all turns, hand-switched loads too; behind an automatic switch the whole."""
    here = "at your altitude and temperature"
    found = job.plan.load_calculation
    if job.house.takes_over and found is not None:
        start_va = found.total_va + max(
            (x.start_va - x.running_va / x.count for x in _motors(job)), default=0.0
        )
        return (
            f"at least {whole(found.total_va)} W running by the load calculation and {whole(start_va)} VA starting "
            f"{here}, for all that the switch transfers, or a manager that sheds load"
        )
    sets = sets_on(job.house, job.plan.choice) if not job.on_cords else (job.on_cords,)
    most = [most_asked(job.running, on) for on in sets]
    running_w = max(x.running_w for x in most)
    start_w, start_va = max(x.start_w for x in most), max(x.start_va for x in most)
    if running_w == 0.0:
        return ""
    whom = "the appliances on cords, all at once" if job.on_cords else "the turn that asks most"
    cuts_off = job.source is not None and job.source.limits_current
    starting = f"{whole(start_va)} VA" if cuts_off else f"{whole(start_w)} W"
    slow = "" if cuts_off else f"; with {whole(start_va)} VA starting no start is slow"
    return (
        f"at least {whole(running_w)} W running and {starting} starting {here}, for {whom}, with what people "
        f"switch{slow}"
    )


def _motors(job: Job) -> list[Load]:
    fed = {c.id for c in job.house.fed_circuits}
    return [x for x in job.house.loads if x.circuit in fed and x.is_motor]


_CO_SHUTOFF = {
    True: "certified CO shut-off",
    False: "certified CO shut-off, which this one lacks",
    None: "certified CO shut-off: look whether it has one",
}


def house_voltage(job: Job) -> float:
    """Nominal voltage of the whole supply."""
    return job.house.system.full_voltage_v


def _hookup(job: Job, hookup: Hookup) -> Iterator[Wanted]:
    there = hookup.installed
    if hookup.cord is not None:
        far = plain(job.say.length(hookup.cord.length_m))
        parts = [f"{wire(hookup.cord.wire)} or thicker, {far}, outdoor, undamaged"]
        machine = job.house.generator
        if machine is not None and hookup.inlet is not None:
            parts.append(connector(hookup.inlet).wire_words)
            parts.append(f"plug {machine.receptacle} to connector {hookup.inlet}")
        yield Wanted(job.told("Generator cord"), there, sentence("; ".join(parts)))
    if job.house.on_cords:
        yield Wanted(
            "Extension cords",
            None,
            f"{counted(len(job.running.cords or ()), 'cord')}: three-wire, outdoor, thick enough for load and length; "
            f"{_GUARD[job.nec]} outdoors.",
        )
    if hookup.inlet is not None:
        plug = connector(hookup.inlet)
        neutral = "with neutral" if plug.has_neutral else "no neutral"
        yield Wanted(
            "Inlet",
            there,
            f"{plug.id}: {plug.rating_a:g} A, {plug.working_v:g} V, {neutral}; weatherproof box, "
            f"on the outside wall, {_SEAL[job.nec]}.",
        )
    if hookup.inlet_breaker_a is not None:
        yield Wanted(
            "Inlet breaker",
            there,
            f"{hookup.inlet_breaker_a:g} A, the type the panel's label names"
            + ("; held down where it is back-fed." if job.nec else "."),
        )
    yield from _meeting(job, hookup)
    if hookup.feeder is not None:
        yield Wanted("Feeder", there, _feeder(job, hookup.feeder))
    if hookup.kind in (HookupKind.MANUAL_TRANSFER, HookupKind.BATTERY_INVERTER):
        size = f"Bus {hookup.panel_bus_a:g} A or more; " if hookup.panel_bus_a is not None else ""
        spaces = sum(c.poles for c in job.house.fed_circuits)
        apart = (
            "neutral and ground on separate bars" if job.nec else "residual-current devices on every circuit"
        )
        words_of = f"{size}{spaces} breaker spaces in use, a few spare; {apart}."
        yield Wanted(job.told("Essential panel"), there, words_of)


def _feeder(job: Job, run: Run) -> str:
    """Size and length, and what grid power asks of it where that passes it too."""
    text = f"{wire(run.wire)} {run.material} or thicker, {plain(job.say.length(run.length_m))}"
    found = grid_feeder(job.house)
    if found is None:
        return f"{text}."
    load_a = grid_load_a(job.house)
    short = (
        f"; on grid power its panel may draw {load_a:.1f} A, which asks more"
        if load_a > found.holds_a
        else ""
    )
    return job.told(f"{text}; its breaker on the grid side {found.most_a:g} A at most{short}.")


def _meeting(job: Job, hookup: Hookup) -> Iterator[Wanted]:
    """What keeps the two sources apart."""
    there = hookup.installed
    neutral = {
        True: "switches the neutral",
        False: "leaves the neutral",
        None: "neutral: electrician to say",
    }[hookup.switched_neutral]
    size = f"{hookup.transfer_a:g} A" if hookup.transfer_a is not None else "size: electrician to say"
    if hookup.kind is HookupKind.INTERLOCK:
        yield Wanted(
            "Interlock",
            there,
            "Made for the very panel, so that main and inlet breaker can never both be on.",
        )
    if hookup.kind is HookupKind.MANUAL_TRANSFER:
        yield Wanted(
            "Transfer switch" if job.nec else "Changeover switch",
            there,
            f"{size}, {neutral}; {_SEAL[job.nec]}.",
        )
    if hookup.kind is HookupKind.AUTOMATIC_STANDBY:
        yield Wanted(
            job.told("Automatic transfer switch"),
            there,
            f"{size}, {neutral}; {_SEAL[job.nec]}; carries what it transfers, or sheds load.",
        )
    battery = job.house.battery
    if hookup.kind is HookupKind.BATTERY_INVERTER and battery is not None:
        surge = f", {job.say.volt_amps(battery.surge_va)} for a start" if battery.surge_va is not None else ""
        yield Wanted(
            "Battery and inverter",
            there,
            f"{job.say.energy(battery.capacity_j)}, {job.say.power(battery.discharge_w)} steadily"
            f"{surge}; able to take a set as its source.",
        )


def _safety(job: Job) -> Iterator[Wanted]:
    safety = job.house.safety
    alarms = "UL 2034" if job.nec else "EN 50291-1"
    floors = safety.floors
    count = None if safety.co_alarms is None else safety.co_alarms >= floors
    if job.house.generator is not None:
        yield Wanted(
            "CO alarms",
            count,
            f"{alarms}, battery or battery-backed, on every floor ({floors}) and outside the bedrooms.",
        )
        yield Wanted(
            "Fire extinguisher",
            safety.extinguisher,
            f"For burning liquids and live gear ({_EXTINGUISHER[job.nec]}), near the way out.",
        )
    if any(not c.is_freezer for c in job.house.cold):
        yield Wanted(
            "Fridge thermometer",
            safety.fridge_thermometer,
            plain(f"Reads {job.say.temperature(0.0)} to {job.say.temperature(10.0)}."),
        )
    if any(c.is_freezer for c in job.house.cold):
        yield Wanted(
            "Freezer thermometer",
            safety.freezer_thermometer,
            plain(
                f"Reads {job.say.temperature(-25.0)} to {job.say.temperature(5.0)}; keeps its highest reading "
            )
            + "if it can.",
        )


def _fuel(job: Job) -> Iterator[Block]:
    """Fuel for the outage that is planned for, against what is at home."""
    fuel, planned_s = job.plan.fuel, job.plan.house.planned_outage_s
    if fuel is None or fuel.day_need_m3 is None or fuel.stock_days is None or isinf(fuel.stock_days):
        return
    yield Heading("Fuel to keep")
    day_m3, routine = fuel.day_need_m3, job.plan.routine
    if routine is not None:
        day_m3 = day_need_m3(
            job.house.running, job.plan.conditions, routine, fuel.burn.fuel.value, job.plan.choice
        )
    saves = ", run as if none had to be saved" if day_m3 > fuel.day_need_m3 else " under the routine"
    need_m3 = day_m3 * planned_s / 86400.0
    have_m3 = stock_m3(job.house, fuel.burn.fuel)
    short_m3 = max(0.0, need_m3 - have_m3)
    shared = with_heater(job.plan, fuel.burn.fuel, fuel.stock_days)
    heater = f" What is at home lasts {shared}: count its part on top." if shared else ""
    enough = "that is enough" + (" for the set alone" if shared else "")
    more = f"buy {job.say.volume(short_m3)} more" if short_m3 > 0.0 else enough
    yield Words(
        f"{job.say.volume(need_m3)} of {job.fuel_word} for {duration(planned_s)}{saves}; at home "
        f"{job.say.volume(have_m3)}: {more}.{heater} {_CANS[job.nec]}, outside the house; note the day on each."
    )
    yield Warn(job.caution("store_fuel"))
