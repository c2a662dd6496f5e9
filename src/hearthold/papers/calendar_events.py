"""What has to be done between outages, and when: exercise, oil, fuel, batteries, alarms, drills, seasons."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from hearthold.house.supply import FuelKind
from hearthold.papers.words.phrases import month, plain, sentence, words
from hearthold.papers.words.say import duration
from hearthold.reference.fuels import shelf_life
from hearthold.reference.upkeep import UpkeepTask, upkeep_task
from hearthold.sizing.conditions import HEATING_BASE_C
from hearthold.sizing.fuel import StockItem, lots

if TYPE_CHECKING:
    from hearthold.house.supply import Generator
    from hearthold.papers.job import Job
    from hearthold.plan.result import Plan

DAY_S = 86400.0
MONTH_S = 365.25 / 12.0 * DAY_S
SATURDAY = 5
# Alarms tested every month and given batteries every year, a drill before and after the heating season:
# common practice, no source. The maker's leaflet comes first.
DRILL_MONTHS = (4, 10)
BATTERY_MONTH = 10


Rule = dict[str, str | int | list[int]]


@dataclass(frozen=True, slots=True)
class Due:
    """One thing to do: from a first day on, again by a rule of RFC 5545, with a warning before."""

    id: str
    title: str
    text: tuple[str, ...]
    first: date
    again: Rule
    length_s: float
    ahead_s: float
    topic: str


def due(job: Job) -> tuple[Due, ...]:
    """Everything that is to be done, in the order in which it is first due."""
    found = [*_machine(job), *_fuel(job), *_alarms(job), *_drills(job), *_seasons(job), *_house_battery(job)]
    return tuple(sorted(found, key=lambda d: (d.first, d.id)))


def nth_weekday(year: int, number: int, nth: int, weekday: int = SATURDAY) -> date:
    """The nth such weekday of a month."""
    first = date(year, number, 1)
    return first + timedelta(days=(weekday - first.weekday()) % 7 + 7 * (nth - 1))


def next_nth_weekday(day: date, nth: int, months: tuple[int, ...] = tuple(range(1, 13))) -> date:
    """The first nth Saturday of one of the months that is not before a day."""
    found = (nth_weekday(year, m, nth) for year in (day.year, day.year + 1) for m in sorted(months))
    return next(one for one in found if one >= day)


def add_months(day: date, months: int) -> date:
    """The same day some months on, or the last day of a month that is too short."""
    year, number = divmod(day.year * 12 + day.month - 1 + months, 12)
    last = (date(year + (number == 11), (number + 1) % 12 + 1, 1) - timedelta(days=1)).day
    return date(year, number + 1, min(day.day, last))


def repeatable(day: date) -> date:
    """A day that every month has: the 29th to 31st become the first of the next month."""
    return day if day.day <= 28 else add_months(day.replace(day=1), 1)


def _machine(job: Job) -> Iterator[Due]:
    machine = job.house.generator
    if machine is None or not machine.owned:
        return
    yield _exercise(machine, job)
    yield _oil(machine, job)
    if machine.electric_start:
        task = upkeep_task("start_battery")
        life = (
            f"{(task.life_low_s or 0.0) / MONTH_S / 12:.0f} to {(task.life_high_s or 0.0) / MONTH_S / 12:.0f}"
        )
        text = ("Charge it, clean the clamps, try a start.", f"Renew it at {life} years.")
        yield _yearly("start-battery", "Starting battery", text, BATTERY_MONTH, job)


def _exercise(machine: Generator, job: Job) -> Due:
    """Monthly, under load, on the first Saturday: the table says every 30 days."""
    task = upkeep_task("exercise")
    today, last = job.today, machine.last_exercised
    earliest = today if last is None else max(today, last + timedelta(seconds=(task.calendar_s or 0.0) / 2.0))
    text = (
        f"Run {machine.name} for {duration(task.exercise_s or 0.0)} {_load(task, job)}, outdoors.",
        "Circuits on in the order of the run sheet. Look for drips, listen, write down the hour meter.",
        *_told(job, "never_indoors", "co_distance", "no_backfeed"),
        "Oil checked before; fuel valve as the manual says after.",
    )
    first = next_nth_weekday(earliest, 1)
    return Due(
        "exercise",
        "Run the machine under load",
        text,
        first,
        _monthly(1),
        task.exercise_s or 900.0,
        DAY_S,
        "machine",
    )


def _load(task: UpkeepTask, job: Job) -> str:
    low, high = task.load_low_frac or 0.0, task.load_high_frac or 0.0
    share = f"at {100 * low:.0f} to {100 * high:.0f} % load"
    if job.plan.fuel is None:
        return share
    rated_w = job.plan.fuel.burn.rated_w
    return f"{share} ({job.say.power(low * rated_w)} to {job.say.power(high * rated_w)})"


def _oil(machine: Generator, job: Job) -> Due:
    """By date, or at once where the hours are used up; hours to go are in the text."""
    task = upkeep_task("oil_and_filter" if machine.kind == "standby" else "oil_change_no_filter")
    limit_s, months = task.running_low_s or 0.0, round((task.calendar_s or 0.0) / MONTH_S)
    left_s = limit_s - machine.oil_hours_s if machine.oil_hours_s is not None else None
    by_date = add_months(machine.last_oil, months) if machine.last_oil is not None else job.today
    first = max(job.today, by_date if left_s is None or left_s > 0.0 else job.today)
    text = (
        f"Change the oil every {months} months or {duration_h(limit_s)} of running, whichever comes first.",
        *_hours_left(left_s, job.plan),
        "Look at spark plug, air filter and fuel filter on the same day. The machine's manual comes first.",
        *_told(job, "cool_before_refuel"),
    )
    again: Rule = {"FREQ": "MONTHLY", "INTERVAL": months}
    return Due(
        "oil", "Change the machine's oil", text, repeatable(first), again, 3600.0, 7 * DAY_S, "machine"
    )


def _hours_left(left_s: float | None, plan: Plan) -> tuple[str, ...]:
    if left_s is None:
        return ("Hours since the last change are not written down: start counting.",)
    if left_s <= 0.0:
        return ("The hours are used up: change it now.",)
    routine = plan.routine
    if routine is None or routine.run_day_s <= 0.0:
        return (f"{duration_h(left_s)} of running to go.",)
    days = left_s / routine.run_day_s
    return (f"{duration_h(left_s)} of running to go: {days:.0f} days of an outage by the routine.",)


def duration_h(length_s: float) -> str:
    """Running hours as an hour meter counts them."""
    return plain(f"{length_s / 3600.0:.1f} h")


def _fuel(job: Job) -> Iterator[Due]:
    """Turnover of every lot that ages, from the day it keeps until."""
    if job.plan.fuel is None:
        return
    kept = [lot for lot in lots(job.house) if not lot.mains]
    for number, (item, lot) in enumerate(zip(job.plan.fuel.stock, kept, strict=True), start=1):
        if item.fuel in (FuelKind.GASOLINE, FuelKind.DIESEL):
            yield _turnover(number, item, lot.stabilised, job)


def _turnover(number: int, item: StockItem, stabilised: bool, job: Job) -> Due:
    treatment = "stabilised" if stabilised and item.fuel is FuelKind.GASOLINE else "untreated"
    months = max(1, round((shelf_life(item.fuel.value, treatment).plan_s or 0.0) / MONTH_S))
    kind = job.fuel(item.fuel)
    place = "" if item.place == "unknown" else f", {words(item.place)}"
    lot = f"{plain(job.say.volume(item.amount_m3))} of {kind}{place}, {treatment}"
    text = (
        f"{lot}; plan on {months} months.",
        "Use it up in a vehicle that may burn it, or in the exercise; fill fresh fuel.",
        "Write the day on the can and into the house file.",
        *(() if item.keeps_until else ("The day of purchase is not in the house file: treat it as old.",)),
        *_told(job, "cool_before_refuel", "store_fuel"),
    )
    first = repeatable(max(job.today, item.keeps_until or job.today))
    again: Rule = {"FREQ": "MONTHLY", "INTERVAL": months}
    return Due(f"fuel-{number}", f"Turn over the {kind}", text, first, again, 3600.0, 14 * DAY_S, "fuel")


def _alarms(job: Job) -> Iterator[Due]:
    count = job.house.safety.co_alarms
    held = "how many CO alarms there are is not in the house file" if count is None else f"CO alarms: {count}"
    text = (
        "Press the button of every CO and smoke alarm until it sounds.",
        sentence(held),
        *_told(job, "co_alarm"),
    )
    first = next_nth_weekday(job.today, 1)
    yield Due("alarms", "Test CO and smoke alarms", text, first, _monthly(1), 900.0, 900.0, "safety")
    fresh = (
        "New batteries in every alarm that takes them.",
        "Read the date on the back: CO alarms wear out after five to ten years.",
    )
    yield _yearly("alarm-batteries", "Batteries of CO and smoke alarms", fresh, BATTERY_MONTH, job)


def _drills(job: Job) -> Iterator[Due]:
    """Twice a year, second Saturday."""
    if job.house.hookup is None and job.house.generator is None:
        return
    text = (
        "Main off for an hour, by the drill sheet: start, switch over, readings, back to the grid.",
        "Tell everybody in the house before, and anybody who depends on a device.",
        *_told(job, "no_backfeed", "never_indoors", "open_panel"),
    )
    again: Rule = {"FREQ": "YEARLY", "BYMONTH": list(DRILL_MONTHS), "BYDAY": "2SA"}
    first = next_nth_weekday(job.today, 2, DRILL_MONTHS)
    yield Due("drill", "Outage drill", text, first, again, 3600.0, 7 * DAY_S, "drill")


def _seasons(job: Job) -> Iterator[Due]:
    """The first day of the months in which the heating season begins and ends, by the house's own normals."""
    means_c = job.house.climate.mean_c
    if len(means_c) != 12 or job.plan.routine is None:
        return
    for number in range(1, 13):
        cold, before = means_c[number - 1] < HEATING_BASE_C, means_c[number - 2] < HEATING_BASE_C
        if cold != before:
            yield _season(job, number, cold)


def _season(job: Job, number: int, cold: bool) -> Due:
    name = "the heating season begins" if cold else "the heating season ends"
    text = (
        f"The routine in hand is for {month(job.plan.conditions.month)}.",
        f"Make the plan for {month(number)} and print the run sheet and the pocket page anew:",
        f"hearthold papers FILE --month {number}",
    )
    first = date(job.today.year + (date(job.today.year, number, 1) < job.today), number, 1)
    id_ = "season-heating" if cold else "season-mild"
    return Due(id_, f"Change of routine: {name}", text, first, {"FREQ": "YEARLY"}, 1800.0, DAY_S, "season")


def _house_battery(job: Job) -> Iterator[Due]:
    if job.house.battery is not None:
        text = (
            "Read its state and its faults. Let it carry the house for an hour, and note what it gave.",
            *_told(job, "battery_cold"),
        )
        yield _yearly("house-battery", "House battery", text, BATTERY_MONTH, job)


def _yearly(id_: str, title: str, text: tuple[str, ...], number: int, job: Job) -> Due:
    """Once a year, on the first Saturday of a month."""
    again: Rule = {"FREQ": "YEARLY", "BYMONTH": number, "BYDAY": "1SA"}
    first = next_nth_weekday(job.today, 1, (number,))
    return Due(id_, title, text, first, again, 1800.0, DAY_S, "battery")


def _monthly(nth: int) -> Rule:
    return {"FREQ": "MONTHLY", "BYDAY": f"{nth}SA"}


def _told(job: Job, *ids: str) -> tuple[str, ...]:
    """Cautions where the danger is."""
    return tuple(job.caution(one) for one in ids)
