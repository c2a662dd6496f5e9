"""The run sheet: one page for the panel door, to be followed at arm's length by flashlight."""

from __future__ import annotations

from collections.abc import Iterator
from math import isinf
from typing import TYPE_CHECKING, Any

from hearthold.papers.blocks import breakable
from hearthold.papers.changes import changes, off_words, on_words, rest_words, when
from hearthold.papers.code import code_svg
from hearthold.papers.setting import set_pdf
from hearthold.papers.words import steps
from hearthold.papers.words.fuel import leaving, outlasted
from hearthold.papers.words.heater import reach
from hearthold.papers.words.kept import broken, drain_words, given_up_words
from hearthold.papers.words.onbattery import lasts_sentence, spared_words, unstartable_words
from hearthold.papers.words.phrases import month, plain, sentence
from hearthold.papers.words.say import clock, counted, duration, names
from hearthold.papers.words.short import STRETCH, by_itself, lost
from hearthold.quantities.spans import hours
from hearthold.reference.food import food_rule_c, food_rule_s

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.plan.panel import PanelPlan
    from hearthold.plan.routine import Routine

PHONES = {
    True: ("Electrician", "Utility, outage", "Fuel", "Neighbor", "Doctor or nurse"),
    False: ("Electrician", "Network operator, power cut", "Fuel", "Neighbour", "Doctor or nurse"),
}
_MOST_NEVER = 8
_MOST_STEPS = 16  # circuits with a line of their own; the rest follow in one paragraph


def run_sheet(job: Job) -> bytes:
    """The sheet as PDF, always one page."""
    return set_pdf("runsheet.typ", run_sheet_data(job), job.today)


def run_sheet_data(job: Job) -> dict[str, Any]:
    """Everything on the sheet, as words."""
    season = (
        f"{month(job.plan.conditions.month)}, bad spell"
        if job.plan.conditions.harsh
        else month(job.plan.conditions.month)
    )
    runs = job.source is not None
    return {
        "title": breakable(f"Run sheet, {job.house.name}"),
        "house": breakable(job.house.name),
        "paper": job.typst_paper,
        "date": [job.today.year, job.today.month, job.today.day],
        "stamp": job.stamp,
        "season": season,
        "runs": runs,
        "machine": breakable(_machine(job)),
        "mend": breakable(_mend(job)),
        "danger": job.caution("never_indoors") if runs else "",
        "symptoms": job.caution("co_symptoms") if runs else "",
        "before": _list(steps.before(job)) if runs else [],
        "start": _list(steps.start(job)) if runs else [],
        "switch": _list(steps.switch(job)) if runs else [],
        "backfeed": job.caution("no_backfeed") if runs else "",
        "order_head": "Plug in" if job.on_cords else "Breaker ON",
        "order": list(_order(job)),
        "order_rest": breakable(_order_rest(job)),
        "turns": list(_turns(job)),
        "by_hand": breakable(_by_hand(job)),
        "routine": _routine(job),
        "refuel": _list(steps.refuel(job)),
        "end": _list(steps.end(job)) if runs else [],
        "back": _list((*steps.sign(job), *steps.back(job))) if runs else [],
        "trip": _list(steps.tripped(job)) if runs else [],
        "food": _list(tuple(_food(job))),
        "phones": list(PHONES[job.nec]),
        "emergency": job.emergency,
        "url": job.url,
        "code": code_svg(job.url) if job.url else "",
    }


def _machine(job: Job) -> str:
    if job.plan.on_battery is not None:
        return "The house battery carries the house: this sheet tells which breakers are on when."
    if job.source is None:
        return "No machine is in the house file: this sheet tells what keeps, and for how long."
    kinds = len(job.plan.supplies)
    fuel = f" on {job.fuel_word}" if kinds > 1 else ""
    return (
        f"{job.source.name}{fuel}: hold at most {plain(job.say.power(job.source.held_w))}{_on_battery(job)}"
    )


def _on_battery(job: Job) -> str:
    """What the battery's inverter holds and cannot start, which is another figure than the set's."""
    found = job.plan.battery_chain
    if found is None:
        return ""
    circuit = {x.id: job.circuit(x.circuit) for x in job.house.loads}
    hard = [circuit[start.load] for start in job.plan.inverter_starts if start.alone_frac > 1.0]
    off = f"; OFF before the set stops: {names(hard, 6)}" if hard else ""
    return f"; on the battery at most {plain(job.say.power(found.delivered_w))}{off}"


def _mend(job: Job) -> str:
    """What forbids relying on this sheet, in a line or two."""
    grave = [f.title for f in job.plan.findings if f.severity == "danger"]
    others = sum(f.severity == "act" for f in job.plan.findings)
    vital = lost(job.plan)
    said = [f"VITAL, NOT CARRIED: {'; '.join(vital)}. Another way, or another place to go."] if vital else []
    said += [f"Mend first, then rely on this sheet: {'; '.join(grave)}."] if grave else []
    said += [sentence(f"{counted(others, 'thing')} to mend: see the plan report, Findings")] if others else []
    return " ".join(said)


def _order(job: Job) -> Iterator[dict[str, str | bool]]:
    """The first turn, circuit by circuit; on cords, cord by cord."""
    vital = {x.circuit for x in job.running.vital_loads}
    for step in job.orders[0].steps[:_MOST_STEPS] if job.orders else ():
        yield {
            "name": breakable(_plugged(job, step.circuit) if job.on_cords else step.name),
            "wait": f"{step.wait_s:.0f} s",
            "vital": step.circuit in vital,
        }


def _plugged(job: Job, cord: str) -> str:
    """What hangs on one cord, each with its watts."""
    loads = job.running.loads_on(cord)
    return "; ".join(f"{job.on_a_cord(x)}, {plain(job.say.power(x.running_w))}" for x in loads)


def _order_rest(job: Job) -> str:
    """What does not find room in the table, in one paragraph."""
    if not job.orders or len(job.orders[0].steps) <= _MOST_STEPS:
        return ""
    steps_left = job.orders[0].steps[_MOST_STEPS:]
    wait_s = max(step.wait_s for step in steps_left)
    told = "; ".join(f"{step.position} {step.name}" for step in steps_left)
    return f"Then, one by one, {wait_s:.0f} s apart: {told}."


def _turns(job: Job) -> Iterator[dict[str, str]]:
    """What else can be carried: when, what must be off first, and what comes on."""
    for change in changes(job):
        yield {
            "when": when(change),
            "off": breakable(off_words(job, change)),
            "on": breakable(on_words(job, change)),
            "rest": breakable(rest_words(job, change)),
        }


def _by_hand(job: Job) -> str:
    """What is never carried: by name, or as all that is not named where these are many."""
    choice = job.plan.choice
    never = [job.circuit(c) for c in choice.never] if choice is not None and job.turns else []
    if len(never) > _MOST_NEVER:
        return f"Every breaker not named above stays OFF all the time: {len(never)} of them."
    if job.on_cords and job.source is not None:
        together = f"All together no more than {plain(job.say.power(job.source.held_w))} for hours"
        path = job.plan.chain
        each = f", each cord {plain(job.say.power(path.continuous_w))}" if path is not None else ""
        return " ".join([f"{together}{each}.", *job.off_cords])
    return f"Stays OFF all the time: {names(never, 60)}." if never else ""


def _routine(job: Job) -> dict[str, Any]:
    """Times in large type, and what they cost a day."""
    found = job.plan.routine
    if job.plan.on_battery is not None:
        return _panel(job, job.plan.on_battery)
    if found is None:
        return {"times": [], "words": ["No routine has been worked out. " + _holds_words(job)], "after": ""}
    times = [{"at": clock(r.at_s), "length": _length(r.length_s)} for r in found.runs]
    alone = by_itself(job.say, job.plan)
    return {
        "times": times,
        "words": [
            *_list((alone, STRETCH) if alone else ()),
            _price(job, found),
            *_list(steps.meanwhile(job)),
        ],
        "after": breakable(_not_kept(job, found)),
    }


def _panel(job: Job, found: PanelPlan) -> dict[str, Any]:
    """Which breakers are on when, on a battery alone, and how long that lasts."""
    lists = (("ON at all hours", found.always), (_in_hours(found), found.in_hours), ("OFF", found.off))
    words = [f"{head}: {names([job.circuit(c) for c in some], 60)}." for head, some in lists if some]
    told = [
        *(words or [found.sentence]),
        unstartable_words(job.house, found, job.say),
        lasts_sentence(found),
        spared_words(job.house, found, job.say),
    ]
    missed = [s.name for s in broken(found.stores)]
    after = f"Does not keep: {names(missed, 6)}. {drain_words(found.stores)}".rstrip() if missed else ""
    return {"times": [], "words": [breakable(text) for text in told if text], "after": breakable(after)}


def _in_hours(found: PanelPlan) -> str:
    return f"ON only {names([f'{clock(r.at_s)} to {clock(r.at_s + r.length_s)}' for r in found.hours])}"


def _length(seconds: float) -> str:
    """A length as it is read by the clock: 90 min, 8 h 30 min."""
    minutes = round(seconds / 60.0)
    if minutes < 120:
        return f"{minutes} min"
    return f"{minutes // 60} h" + (f" {minutes % 60} min" if minutes % 60 else "")


def _price(job: Job, found: Routine) -> str:
    text = f"In a day of these runs, {plain(job.say.volume(found.fuel_day_m3))} of fuel"
    fuel = job.plan.fuel
    if fuel is not None and fuel.stock_days is not None and not isinf(fuel.stock_days):
        lasts = f"lasts {reach(job.plan, fuel.burn.fuel, fuel.stock_days)}"
        text += f"; what is at home {lasts}" if fuel.stock_days > 0.0 else "; none is at home"
    trips = f" Fetch fuel, {leaving(found)}, if a station has power." if found.trips else ""
    return f"{text}. {outlasted(found)}".rstrip() + trips


def _not_kept(job: Job, found: Routine) -> str:
    """What this rule does not keep, so that nobody trusts it further than it goes."""
    missed = [s.name for s in broken(found.stores)]
    told = [f"Does not keep: {names(missed, 6)}. Watch, and run when needed."] if missed else []
    return " ".join(w for w in (*told, given_up_words(found.stores), drain_words(found.stores)) if w)


def _holds_words(job: Job) -> str:
    first = job.plan.holds[:3]
    return (
        "Without power: " + "; ".join(f"{h.name} {duration(h.strictest_s)}" for h in first) + "."
        if first
        else ""
    )


def _food(job: Job) -> Iterator[str]:
    """The rules of public guidance in the reader's units."""
    warm = job.say.temperature(food_rule_c("danger_temperature"))
    closed, full = hours(food_rule_s("fridge_closed")), hours(food_rule_s("freezer_full"))
    half, over = hours(food_rule_s("freezer_half_full")), hours(food_rule_s("time_above_danger"))
    yield f"Doors shut: fridge {closed}, full freezer {full}, half full {half}."
    yield f"Over {over} above {warm}: throw out meat, fish, milk, eggs, soft cheese, cooked food."
    yield f"Ice crystals left, or {warm} and below: may be frozen again."
    yield job.caution("food_doubt")


def _list(items: tuple[str, ...]) -> list[str]:
    return [breakable(item) for item in items]
