"""The drill sheet: what to expect on each circuit and leg, boxes to tick, blanks for readings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import (
    BOLD,
    TICK,
    Blanks,
    Block,
    Cell,
    Column,
    Heading,
    Points,
    Together,
    Warn,
    Words,
    table,
)
from hearthold.papers.changes import Change, changes, off_words, rest_words, when
from hearthold.papers.document import document
from hearthold.papers.words import steps
from hearthold.papers.words.phrases import plain
from hearthold.papers.words.say import clock, duration, names, whole
from hearthold.reference.reader import table as table_of
from hearthold.sizing.demand import SELF_STARTING
from hearthold.sizing.together import draws, on_together

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.sizing.order import Step, SwitchOn
    from hearthold.sizing.together import Draw

_BLANK = "________"
_MOST_KEPT = 24  # stores in a table that stays on one page with what comes after; half a page of rows


def drill_sheet(job: Job) -> bytes:
    """The sheet as PDF."""
    return document(job, "Drill sheet", "A rehearsed outage: expected against read", drill_blocks(job))


def drill_blocks(job: Job) -> Iterator[Block]:
    """Before, switching, readings, after."""
    yield Words(
        "Once a season, in daylight, two people: switch the grid off yourselves and run the "
        "house. Write down what you read.",
        "lead",
    )
    yield Blanks(("Date, time, who", "Outdoors, and in the house"))
    if job.plan.on_battery is not None:
        yield Words(
            f"Charge the battery full, note its gauge, and keep the panel so: {job.plan.on_battery.sentence} Read the "
            "gauge every hour, and beside it what is on."
        )
    elif job.source is None:
        yield Words(
            "No machine is in the house file: rehearse what is done without one, and read the thermometers."
        )
    else:
        yield from _start(job)
        if job.orders:
            yield Heading("Plug in, in this order" if job.on_cords else "Circuits on, in this order", 2)
            yield _readings(job, job.orders[0], with_note=True)
        for change in changes(job):
            yield from _change(job, change)
        if not job.orders:
            yield Words("No circuit is fed by a hookup: measure each appliance on its cord.")
        if job.off_cords:
            yield Words(" ".join(job.off_cords), "quiet")
    yield from _expected(job)
    last = (*_stores(job), *_after(job))
    # Both are read at the end of a drill: neither stands alone on a page, unless there are stores for a page.
    yield from (Together(last),) if len(job.plan.holds) <= _MOST_KEPT else last


def _start(job: Job) -> Iterator[Block]:
    yield Heading("Before and start")
    yield Warn(job.caution("never_indoors"))
    yield Points((*steps.before(job), *steps.start(job)), boxes=True)
    yield Blanks(
        (
            f"Volts, hertz, no load, on the set's meter ({_expected_supply(job)})",
            "Hour meter; fuel in the tank",
        )
    )
    yield Heading("Switch over")
    yield Warn(job.caution("no_backfeed"))
    yield Points(steps.switch(job), boxes=True)


def _expected_supply(job: Job) -> str:
    """Volts and hertz to expect, as the supply of the country has them; a set under load strays further."""
    row = table_of("supply_voltages").row(job.house.system.value)
    low, high = (f"{row.si(name):.0f}" for name in ("low_v", "high_v"))
    return f"{low} to {high} V, about {row.si('supply_hz'):.0f} Hz"


def _change(job: Job, change: Change) -> Iterator[Block]:
    """What goes off and what comes on at a change of turns."""
    yield Heading(when(change), 2)
    off = off_words(job, change)
    again = ", as at the start" if change.back and change.everything_off else ", then ON in this order"
    yield Words(f"OFF: {off}{again}. {rest_words(job, change)}".strip() if off else "ON in this order.")
    if not (change.back and change.everything_off):
        yield _readings(job, change.order, with_note=False)


def _readings(job: Job, order: SwitchOn, with_note: bool) -> Block:
    """Circuit by circuit: what should run after each step, and room for the readings."""
    columns = [
        Column("On"),
        Column("No.", True),
        Column("Cord" if job.on_cords else "Circuit", share=3.0),
        Column("Wait", True),
        Column("Start VA", True),
        Column("W then", True),
        Column("By hand W", True),
    ]
    columns += [Column("A on leg A", True), Column("A on leg B", True)] if job.nec else [Column("A", True)]
    columns += [Column("Read W", True)]
    note = (
        "Start VA, W then, A: with what is on already, everything that switches itself on running; less while "
        "a thermostat rests. By hand W: what people can switch on there, on top. Read W: on the set's own display, "
        "or on plug-in meters added up. Covers stay on: "
        f"amperes{' on a leg' if job.nec else ''} are for an electrician to read."
    )
    return table(columns, (_step(job, s) for s in order.steps), note if with_note else "")


def _step(job: Job, step: Step) -> Iterator[Cell]:
    yield Cell("", TICK)
    yield Cell(str(step.position), BOLD)
    yield Cell(step.name, BOLD)
    yield Cell(f"{step.wait_s:.0f} s")
    yield Cell(whole(step.peak.total_va))
    yield Cell(whole(step.after.total_w))
    yield Cell(_by_hand(job, step.circuit))
    yield Cell(f"{step.after.leg_a_a:.1f}")
    if job.nec:
        yield Cell(f"{step.after.leg_b_a:.1f}")
    yield Cell(_BLANK)


def _by_hand(job: Job, circuit: str) -> str:
    """What people can switch on a circuit, all of it but what is left off in a turn; nothing where there is none."""
    on = job.house.loads_on(circuit) if job.house.takes_over else on_together(job.running, [circuit])
    by_hand_w = sum(x.running_w for x in on if x.pattern not in SELF_STARTING)
    return whole(by_hand_w) if by_hand_w else ""


def _expected(job: Job) -> Iterator[Block]:
    """Each circuit alone, so that one reading tells which figure of the house file is wrong."""
    if job.on_cords:
        yield from _on_cords(job)
        return
    found = draws(job.house) if job.turns else ()
    if not found:
        return
    yield Heading("Each circuit alone")
    columns = [
        Column(""),
        Column("Circuit", share=3.0),
        Column("By itself W", True),
        Column("All on W", True),
    ]
    columns += (
        [Column("Leg A VA", True), Column("Leg B VA", True)] if job.nec else [Column("All on VA", True)]
    )
    note = (
        "By itself: what switches itself on. All on: with what people switch, but for what is left "
        "off in an outage."
    )
    yield table(
        [*columns, Column("Read W", True), Column("Works", True)], (_alone(job, d) for d in found), note
    )


def _on_cords(job: Job) -> Iterator[Block]:
    """Appliances on cords, in the order of plugging in."""
    yield Heading("Each appliance alone")
    columns = [Column(""), Column("Appliance", share=3.0), Column("Start VA", True), Column("Runs W", True)]
    columns += [Column("Read W", True), Column("Works", True)]
    rows = (
        (
            Cell("", TICK),
            Cell(job.on_a_cord(x), BOLD),
            whole(x.start_va),
            whole(x.running_w),
            _BLANK,
            Cell("", TICK),
        )
        for x in job.on_cords
    )
    yield table(columns, rows, "Start VA: in the first second, as the catalogue or the nameplate says.")


def _alone(job: Job, draw: Draw) -> Iterator[Cell]:
    self_w = sum(x.running_w for x in job.house.loads_on(draw.circuit) if x.pattern in SELF_STARTING)
    yield Cell("", TICK)
    yield Cell(draw.name, BOLD)
    yield Cell(whole(self_w))
    yield Cell(whole(draw.total_va.real))
    if job.nec:
        yield Cell(whole(abs(draw.leg_a_va)))
        yield Cell(whole(abs(draw.leg_b_va)))
    else:
        yield Cell(whole(abs(draw.total_va)))
    yield Cell(_BLANK)
    yield Cell("", TICK)


def _stores(job: Job) -> Iterator[Block]:
    """Stores at the start and end of the drill, with what the plan counts on."""
    if not job.plan.holds:
        return
    yield Heading("What keeps")
    columns = (
        Column("Store", share=3.0),
        Column("Plan on", True),
        Column("Limit", share=2.0),
        Column("At the start", True),
        Column("At the end", True),
    )
    rows = (
        (job.hold_name(h), duration(h.strictest_s), job.told(h.limit), _BLANK, _BLANK) for h in job.plan.holds
    )
    yield table(columns, rows, "Read the thermometer or gauge when the grid goes off and when it is back.")


def _after(job: Job) -> Iterator[Block]:
    yield Heading("After")
    done = [*steps.back(job)] if job.source is not None else []
    done += [
        "Clocks, thermostats and alarms are right again.",
        "CO alarms stayed silent. Nothing is hot that should not be.",
    ]
    yield Points(tuple(done), boxes=True)
    routine = job.plan.routine
    if routine is not None and routine.run_day_s > 0.0:
        per_h = routine.fuel_day_m3 / (routine.run_day_s / 3600.0)
        yield Words(
            f"Fuel to expect: about {plain(job.say.volume(per_h))} for each hour of running; "
            f"times of the routine: {names([clock(r.at_s) for r in routine.runs])}."
        )
    yield Blanks(
        (
            "Fuel used, hours run",
            "Not as expected; to change in house file, wiring or routine",
        )
    )
