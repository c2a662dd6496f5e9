"""The page of `outage`: what to do now, the spells, the panel, what is kept, how good the plan is, what helps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.kept import harm, kept_table
from hearthold.faces.cli.report.parts import Column, heading, pairs, sentence, table, title
from hearthold.faces.cli.report.ran import fuel_words, gave_way, ran_words
from hearthold.faces.cli.report.say import Say, clock, counted, duration, names, share
from hearthold.faces.cli.report.sheet import Sheet
from hearthold.faces.cli.report.unread import unread_words
from hearthold.faces.fuel_now import READ, STOCK, TANK
from hearthold.faces.outage import proof_words, sorted_out
from hearthold.faces.simulation import finite
from hearthold.papers.words.kept import broken, drain_words, given_up_words
from hearthold.quantities.spans import day_clock, day_number

if TYPE_CHECKING:
    from hearthold.faces.outage import PlannedOutage
    from hearthold.plan.fuelcourse import FuelTrip, PlannedSpell
    from hearthold.plan.infeasible import Infeasible, Remedy
    from hearthold.plan.runplan import Refuel, RunPlan
    from hearthold.plan.unknown import Weighed

BETTER_SHOWN = 8  # of what is not enough; the rest loses more
OUTLAYS = {
    "nothing to buy": "nothing to buy",
    "a little": "next to nothing",
    "fuel": "more fuel",
    "a purchase": "a large purchase",
}


def outage_report(found: PlannedOutage, say: Say, page: Console) -> Iterator[RenderableType]:
    """Everything `outage` prints, in order."""
    sheet, planned = Sheet(page, say, found.house), found.planned
    plan, down_s = planned.plan, planned.now.elapsed_s
    yield title(_title(found), page)
    yield sentence(say.retold(planned.answer.sentence))
    yield sentence(_verdict(plan))
    for text in (given_up_words(plan.stores), drain_words(plan.stores)):
        if text:
            yield sentence(text)
    yield from (sentence(text) for text in (*unread_words(found.house, down_s, found.unread), *_span(found)))
    yield heading("When to run", page)
    yield from _spells(plan)
    yield pairs([*_figures(plan, say), *_fuel_now(found, say)])
    yield from cautions_of(sheet, "never_indoors", "co_distance", "cool_before_refuel")
    cords = found.house.on_cords
    if plan.spells:
        yield heading("At the machine" if cords else "At the panel", page)
        yield from _panel(sheet, plan, cords)
    yield heading("What is kept", page)
    yield kept_table(plan.stores, say)
    yield sentence(
        "Times count from now, as the simulation plays the plan in the weather of the month's bad spell."
    )
    yield from cautions_of(sheet, "food_doubt", "medical" if found.house.medical else "cold_house")
    if planned.trouble is not None:
        yield heading("What would help", page)
        yield from _trouble(planned.trouble, say)
    yield heading("How good this plan is", page)
    yield sentence(proof_words(planned))


def _title(found: PlannedOutage) -> str:
    down = found.planned.now.elapsed_s
    since = f"the grid down for {duration(down)}" if down > 0.0 else "the grid has just failed"
    return f"{found.house.name}: {found.asked.start}, {since}"


def _verdict(plan: RunPlan) -> str:
    if plan.kept:
        every = "Every other limit" if given_up_words(plan.stores) else "Every limit"
        return f"{every} is kept for {duration(plan.horizon_s)}."
    told = names([f"{s.name} ({harm(s)})" for s in broken(plan.stores)])
    return f"No plan was found that keeps every limit for {duration(plan.horizon_s)}. Not kept: {told}."


def _span(found: PlannedOutage) -> Iterator[str]:
    """What an unknown length was taken as and, where that is known, whether a shorter one changes the first act."""
    if found.asked.sure_frac is None:
        return
    answer = found.planned.answer
    sure, ahead = f"{100.0 * found.asked.sure_frac:.0f} of 100", duration(answer.planned_for_s)
    yield (
        f"Nobody knows how long it lasts. It is planned for {ahead} from now on: {sure} outages like this one "
        f"are over by then, and a day is the least that is planned. {_spent(found.planned.weighed)}"
    )
    sooner = answer.changes_if_shorter_s
    if found.planned.weighed is not None:
        return  # what would be done for a shorter time is not known
    if sooner is None:
        yield "Planned for a quarter, half or three quarters of that, the first act is the same."
    else:
        yield f"If you were sure that it ends within {duration(sooner)}, the first act would be another."


def _spent(weighed: Weighed | None) -> str:
    """Whether fuel is saved for all of that time or spent sooner, and on what ground."""
    if weighed is None:
        return "Fuel is spent as for all of that time."
    if not weighed.saves_less:
        return (
            "Fuel is spent as for all of that time: none of the plans tried that spend it sooner loses clearly less, "
            "on average over how long such outages last."
        )
    less = 1.0 - weighed.mean_j / weighed.whole_mean_j
    return (
        f"Early hours are sure to come and late ones are not: fuel is spent as for {duration(weighed.made_for_s)}, "
        f"which on average over how long such outages last loses {share(less)} less than saving it for all of the time."
    )


def _spells(plan: RunPlan) -> Iterator[RenderableType]:
    if not plan.spells:
        yield sentence(_never(plan))
        return
    columns = (Column("day", True), Column("from", True), Column("to", True), Column("for"), Column("then"))
    yield table(columns, _spell_rows(plan))


def _never(plan: RunPlan) -> str:
    """Why it never runs: nothing needs it, or there is nothing to burn, or it would not gain what it costs."""
    if plan.kept:
        return "Not at all: everything lasts."
    if plan.fuel_left_m3 <= 0.0:
        return "Not at all: there is no fuel."
    return "Not at all: no running was found that would save more than it costs."


def _spell_rows(plan: RunPlan) -> Iterator[tuple[str, ...]]:
    ends = [*(s.start_s for s in plan.spells[1:]), plan.horizon_s]
    for spell, until_s in zip(plan.spells, ends, strict=True):
        at_s = plan.fails_at_s + spell.start_s
        poured = [r for r in plan.refuels if spell.start_s < r.at_s <= until_s]
        yield (
            str(day_number(at_s)),
            clock(at_s),
            clock(plan.fails_at_s + spell.end_s),
            duration(spell.length_s),
            _dry_words(plan, spell) if spell.runs_dry else _then(poured, until_s),
        )


def _dry_words(plan: RunPlan, spell: PlannedSpell) -> str:
    more = any(trip.back_s >= spell.end_s for trip in plan.trips)
    return "dry, until somebody is back with more" if more else "the fuel ends"


def _then(poured: Sequence[Refuel], next_s: float) -> str:
    """When the tank is filled after a spell: once the set is cold, or in the morning where everybody sleeps by then."""
    if not poured:
        return ""
    return "refuel before the next" if all(r.at_s == next_s for r in poured) else "let it cool, refuel"


def _figures(plan: RunPlan, say: Say) -> Iterator[tuple[str, str]]:
    yield "runs", ran_words(plan.run_s, plan.starts, plan.night_run_s)
    fuel = fuel_words(say, plan.fuel_m3, finite(plan.fuel_left_m3))
    yield "fuel", f"{fuel}; {counted(len(plan.refuels), 'refill')}"
    if plan.trips:
        yield "fetch fuel", "; ".join(_trip_words(plan, trip, say) for trip in plan.trips)
    if plan.spells and plan.fuel_ends_s < plan.horizon_s:
        yield "fuel ends", f"{_day_clock(plan, plan.fuel_ends_s)}; from then on nothing runs"


def _trip_words(plan: RunPlan, trip: FuelTrip, say: Say) -> str:
    """When somebody has to leave, as the simulation plays it, and what comes back when."""
    leave = "leave now" if trip.leave_s <= 0.0 else f"leave {_day_clock(plan, trip.leave_s)}"
    return f"{leave}, back {_day_clock(plan, trip.back_s)} with {say.volume(trip.brings_m3)}"


def _day_clock(plan: RunPlan, from_now_s: float) -> str:
    """A moment with its day, as the table of spells counts them."""
    return f"on {day_clock(plan.fails_at_s + from_now_s)}"


def _fuel_now(found: PlannedOutage, say: Say) -> Iterator[tuple[str, str]]:
    """What the plan reckons to be in tank and stock, where it matters: in the middle of an outage, or when read."""
    fuel, now = found.fuel_now, found.planned.now
    if fuel is None or not (fuel.read or now.elapsed_s > 0.0 or now.running):
        return
    told = f"{say.volume(fuel.tank_m3)} {'in the tank' if fuel.poured else 'in all'} ({fuel.tank_known})"
    if fuel.poured:
        told += f" and {say.volume(fuel.stock_m3)} beside it ({fuel.stock_known})"
    known = {TANK: fuel.tank_known, STOCK: fuel.stock_known} if fuel.poured else {STOCK: fuel.tank_known}
    unread = [name for name, how in known.items() if how != READ]
    more = f". Nobody read {' and '.join(unread)}: look, and give it with --reading" if unread else ""
    yield "fuel now", f"{told}{more}"


def _panel(sheet: Sheet, plan: RunPlan, cords: bool) -> Iterator[RenderableType]:
    """Circuits in the order of least peak, and what is switched later in a spell; of cords both are one sentence."""
    if not cords:
        yield sentence(
            f"One at a time, in this order: {names([sheet.circuit(c) for c in plan.circuits], 60)}."
        )
    if plan.switching:
        yield sentence(plan.switching)
    yield from gave_way(plan.gave_way)
    yield from cautions_of(sheet, "cords" if cords else "transfer_order")


def _trouble(trouble: Infeasible, say: Say) -> Iterator[RenderableType]:
    """Why it cannot be, then each remedy or combination on a line of its own, what is of no help last."""
    yield sentence(say.retold(trouble.statement))
    found = sorted_out(trouble)
    if found.enough:
        columns = (Column("every limit is kept if you"), Column("it takes"), Column("burns", True))
        yield table(
            columns, ((_told(r, say), OUTLAYS[r.outlay], say.volume(r.fuel_m3)) for r in found.enough)
        )
    if found.better:
        head = "not enough alone, but better" if found.enough else "not enough, but better"
        columns = (Column(head), Column("it takes"), Column("still not kept"))
        yield table(columns, (_better_row(r, say) for r in found.better[:BETTER_SHOWN]))
    if not (found.enough or found.better):
        yield sentence("Nothing that was tried keeps more.")
    if found.no_help:
        yield sentence(f"Of no help: {'; '.join(_lower(_told(r, say)) for r in found.no_help)}.")
    yield sentence("Each was planned and simulated like the plan above.")


def _better_row(remedy: Remedy, say: Say) -> tuple[str, ...]:
    return _told(remedy, say), OUTLAYS[remedy.outlay], names(list(remedy.breaks))


def _told(remedy: Remedy, say: Say) -> str:
    return say.retold(remedy.what)


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
