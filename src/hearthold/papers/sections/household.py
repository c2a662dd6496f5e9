"""What the people of the house want to know, as blocks: holds, routine, circuits, fuel, assumptions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import isinf
from typing import TYPE_CHECKING

from hearthold.papers.blocks import (
    ALARM,
    BOLD,
    QUIET,
    Block,
    Cell,
    Column,
    Heading,
    Points,
    Warn,
    Words,
    drawn,
    table,
)
from hearthold.papers.charts.bars import Bar, hold_bars
from hearthold.papers.charts.burn import Rate, fuel_bars
from hearthold.papers.charts.timeline import timeline
from hearthold.papers.course import Replayed, course_of
from hearthold.papers.words import kept
from hearthold.papers.words.assumed import assumed_place, used, usual_range
from hearthold.papers.words.fuel import outlasted
from hearthold.papers.words.heater import reach
from hearthold.papers.words.phrases import PRIORITY_WORDS, sentence, words
from hearthold.papers.words.say import after, clock, duration, names, times, whole
from hearthold.papers.words.short import stove_words
from hearthold.quantities.units import in_unit

if TYPE_CHECKING:
    from hearthold.house.loads import Assumption
    from hearthold.papers.job import Job
    from hearthold.plan.choice import Choice, CircuitChoice
    from hearthold.plan.kept import StoreKept
    from hearthold.sizing.fuel import StockItem
    from hearthold.sizing.hold import Hold

_HOUR_S = 3600.0
_MOST_TURNS = 6  # columns that a table has room for
_FOOD = frozenset({"fridge", "freezer", "cold"})


def hold_blocks(job: Job) -> Iterator[Block]:
    """How long each store lasts without power, drawn and listed."""
    found = job.plan.holds
    yield Heading("How long things last without power")
    if not found:
        yield Words("The house file names no store: no fridge, no heat, no water.")
        return
    yield Words(
        f"First to fail: {found[0].name}, {after(found[0].strictest_s)}. Doors stay shut and "
        "nothing runs. A thermometer beats every clock."
    )
    bars = tuple(Bar(h.name, h.strictest_s, h.likely_s, h.rule_s) for h in found if h.kind != "fuel")
    if bars:
        yield drawn(hold_bars(bars, _scale_s(job), "Holds without power"))
    columns = (
        Column("What", share=2.0),
        Column("Plan on", True),
        Column("Likely", True),
        Column("Public rule", True),
        Column("Until", share=2.0),
        Column("By", share=2.2),
    )
    yield table(columns, (_hold(job, h) for h in found))
    yield from (Words(job.told(text)) for text in stove_words(found))
    kinds = {h.kind for h in found}
    if kinds & _FOOD:
        yield Warn(job.caution("food_doubt"))
    if "house" in kinds:
        yield Warn(job.caution("unvented_heat"))


def _scale_s(job: Job) -> float:
    """The scale ends with the planned outage, but shows at least a day and at most a week."""
    return min(7 * 86400.0, max(86400.0, job.plan.house.planned_outage_s))


def _hold(job: Job, hold: Hold) -> tuple[Cell, ...]:
    rule = "" if hold.rule_s is None else duration(hold.rule_s)
    return (
        Cell(job.hold_name(hold), BOLD),
        Cell(duration(hold.strictest_s)),
        Cell(duration(hold.likely_s)),
        Cell(rule),
        Cell(job.told(hold.limit)),
        Cell(job.source_words(hold.source), QUIET),
    )


def routine_blocks(job: Job) -> Iterator[Block]:
    """When to run, the course of one outage under it, and every limit in the replay."""
    found = job.plan.routine
    yield Heading("Run plan and routine")
    if found is None:
        yield Words(
            "Without a machine there is nothing to run."
            if job.source is None
            else "No routine has been worked out."
        )
        return
    daily = " Every day, by the clock" if found.runs else ""
    yield Words(
        f"{found.sentence}{daily} ({found.standing.words}; {whole(found.tried)} rules tried).",
        "lead",
    )
    said = [job.told(a.sentence) for a in found.alternatives]
    missed = kept.broken(found.stores)
    if missed:
        told = names([f"{s.name} ({kept.harm(s)}, {after(s.first_s)})" for s in missed], 60)
        said.insert(0, f"No such rule keeps every limit. Not kept: {told}.")
    said += [f"A wish gave way to a vital load: {w}." for w in found.gave_way]
    if said:
        yield Points(tuple(said))
    runs = duration(found.run_day_s) if found.run_day_s > 0.0 else "nothing"
    yield Words(
        f"A day: {runs} of running, {job.say.volume(found.fuel_day_m3)} of fuel, "
        f"{times(found.starts_day, 'start')}, {times(found.refills_day, 'refill')}. Played through minute "
        "by minute: the grid fails at "
        f"{clock(found.fails_at_s)} and stays down for {duration(found.tested_s)}."
    )
    course = course_of(job)
    yield drawn(
        timeline(course.whole, f"One outage under the routine, from {clock(found.fails_at_s)}"), floats=True
    )
    yield from kept_blocks(job, found.stores)
    yield from _spell(course)
    yield Warn(job.caution("cool_before_refuel"))


def kept_blocks(job: Job, stores: Iterable[StoreKept]) -> Iterator[Block]:
    """Every limit in a replay, what is not kept first; nothing where the house has none."""
    rows = [_kept(job, store) for store in _kept_order(stores)]
    if rows:
        columns = (
            Column("What", share=2.0),
            Column("Worst", True),
            Column("Limit", True),
            Column("First left after", True),
            Column("For", True),
            Column("", share=1.0),
        )
        yield table(columns, rows)


def _spell(course: Replayed) -> Iterator[Block]:
    """The first spell close up, power by circuit."""
    if course.spell is not None:
        yield drawn(timeline(course.spell, f"The first spell, from {clock(course.spell.starts_at_s)}"))


def _kept_order(stores: Iterable[StoreKept]) -> tuple[StoreKept, ...]:
    """What is not kept first, and there as everywhere what is vital first."""
    return tuple(sorted(kept.weightiest(stores), key=lambda s: s.kept or not s.hard))


def _kept(job: Job, store: StoreKept) -> Iterator[Cell]:
    yield Cell(store.name, BOLD)
    yield Cell(kept.worst(store, job.say))
    yield Cell(kept.limit(store, job.say))
    yield Cell(kept.first_left(store))
    yield Cell(kept.beyond(store))
    yield Cell(kept.verdict(store), "" if store.kept or not store.hard else ALARM)


def choice_blocks(job: Job) -> Iterator[Block]:
    """Which circuits can be on together, which in turns, which never."""
    found = job.plan.choice
    if found is None:
        return
    yield Heading("Which circuits can be on")
    on = names([job.circuit(c) for c in found.together], 60)
    yield Words(f"At the same time: {on} ({found.together_status}).")
    if found.vital_conflict:
        yield Words(f"The vital circuits cannot all be carried: {'; '.join(found.vital_conflict)}.")
    turns = len(found.turns)
    columns = [Column("Circuit", share=2.0), Column("Wanted"), Column("Together")]
    columns += [Column(f"Turn {n}") for n in range(1, min(turns, _MOST_TURNS) + 1)] if turns > 1 else []
    yield table([*columns, Column("Why", share=2.4)], (_choice(found, c) for c in found.circuits))


def _choice(found: Choice, circuit: CircuitChoice) -> Iterator[Cell]:
    yield Cell(circuit.name, BOLD)
    yield Cell(PRIORITY_WORDS[circuit.priority])
    yield Cell("on" if circuit.circuit in found.together else "–")
    if len(found.turns) > 1:
        yield from (
            Cell("on" if n in circuit.turns else "–")
            for n in range(1, min(len(found.turns), _MOST_TURNS) + 1)
        )
    yield Cell(_reason(circuit, len(found.turns)), QUIET)


def _reason(circuit: CircuitChoice, turns: int) -> str:
    """Why, where the columns do not tell it: who shares its turns stands there already."""
    shown = 1 < turns <= _MOST_TURNS and circuit.turns
    return circuit.reason.partition("; ")[2] if shown else circuit.reason


def fuel_blocks(job: Job) -> Iterator[Block]:
    """Fuel by load, the stock and how long it keeps."""
    found = job.plan.fuel
    if found is None:
        return
    yield Heading("Fuel")
    if found.day_need_m3 is not None and found.stock_days is not None:
        days = found.stock_days
        lasts = "without end" if isinf(days) else reach(job.plan, found.burn.fuel, days)
        home = f"what is at home lasts {lasts}" if found.stock_days > 0.0 else "none is at home"
        beyond = outlasted(job.plan.routine) if job.plan.routine is not None else ""
        need = f"{job.say.volume(found.day_need_m3)} of {job.fuel_word} a day under the routine; {home}."
        yield Words(f"{need} {beyond}".rstrip())
    if found.tank_runs:
        unit = job.say.volume_unit
        rates = tuple(
            Rate(r.output_w, in_unit(r.burn_m3_per_s, unit, "volume") * _HOUR_S, r.run_s)
            for r in found.tank_runs
        )
        yield drawn(fuel_bars(rates, unit, "Fuel by load"))
    if found.stock:
        columns = (
            Column("At home", share=1.0),
            Column("Amount", True),
            Column("Kept in", share=1.0),
            Column("Good until", share=1.0),
            Column("", share=1.4),
        )
        yield table(columns, (_lot(job, lot) for lot in found.stock))
    notes = " ".join(sentence(job.told(n)) for n in dict.fromkeys(found.burn.notes) if n)
    if notes:
        yield Words(notes, "quiet")
    yield Warn(job.caution("store_fuel"))


def _lot(job: Job, lot: StockItem) -> tuple[Cell, ...]:
    until = lot.keeps_until.isoformat() if lot.keeps_until else "not known"
    old = Cell("too old now", ALARM) if lot.stale else Cell(job.told(lot.note), QUIET)
    return (
        Cell(job.fuel(lot.fuel), BOLD),
        Cell(job.say.volume(lot.amount_m3)),
        Cell(words(lot.place)),
        Cell(until),
        old,
    )


def assumption_blocks(job: Job) -> Iterator[Block]:
    """Every value the household did not give, with its source."""
    found = job.plan.assumptions
    yield Heading("Assumptions and sources")
    if not found:
        yield Words("None: the house file gives every value that was used.")
        return
    yield Words(
        f"{len(found)} values are not in the house file. The nearer the truth, the better the "
        "plan: put in what a nameplate or label says."
    )
    sources = list(dict.fromkeys(str(a.source) for a in found))
    columns = (
        Column("What", share=3.0),
        Column("Used", True),
        Column("Usual range", True),
        Column("Source", True),
    )
    yield table(columns, (_assumed(job, a, sources) for a in found))
    yield Points(
        tuple(f"[{n}] {job.source_words(source)}" for n, source in enumerate(sources, start=1)), quiet=True
    )


def _assumed(job: Job, found: Assumption, sources: list[str]) -> tuple[str, ...]:
    number = sources.index(str(found.source)) + 1
    return (
        assumed_place(found.item, job.house),
        used(found, job.say),
        usual_range(found, job.say),
        f"[{number}]",
    )
