"""Which clocks the page shows: every hold that ends, what stops it, and which run renews it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, isfinite
from typing import TYPE_CHECKING

from hearthold.papers.words.phrases import plain
from hearthold.papers.words.say import duration

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.papers.job import Job
    from hearthold.plan.result import Plan
    from hearthold.sizing.hold import Hold

# Load share of the clock of the machine's own tank: what a careful person counts on.
_TANK_LOAD_FRAC = 0.5
_KEPT_AS = {"house_lowest": "house"}
_DAY_S = 86400.0
_COLOUR = {
    "fridge": "cold",
    "freezer": "cold",
    "house": "warm",
    "pipes": "warm",
    "hot_water": "warm",
} | dict.fromkeys(("pressure_tank", "stored_water", "pit"), "water")


@dataclass(frozen=True, slots=True)
class Clock:
    """A clock that runs down while its store has no power, or while the machine runs.

    `renew_s`: a run as long as this starts it anew; None where a run only stops it.
    """

    id: str
    name: str
    colour: str
    hold_s: float
    counts: str  # "unpowered" | "running"
    circuit: str | None  # None: powered whenever the machine runs
    renew_s: float | None
    limit: str
    answers: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Clocks:
    """The clocks in the order in which they run out, and the stores that need none."""

    clocks: tuple[Clock, ...]
    without_end: tuple[str, ...]


def clocks(job: Job) -> Clocks:
    """Clocks of a plan; the tank of the machine is one more, with the hours a filling gives at half load."""
    held = job.plan.holds
    made = [_clock(job, hold) for hold in held if isfinite(hold.strictest_s)]
    return Clocks(
        tuple(sorted([*made, *_tank(job.plan)], key=lambda c: c.counts == "running")),
        tuple(hold.name for hold in held if not isfinite(hold.strictest_s)),
    )


def _clock(job: Job, hold: Hold) -> Clock:
    fuel = hold.kind == "fuel"
    return Clock(
        hold.store,
        job.hold_name(hold),
        _COLOUR.get(hold.kind, "fuel" if fuel else "power-a"),
        hold.strictest_s,
        "running" if fuel else "unpowered",
        circuit_of(job.running, hold),
        None if fuel else renew_s(job, hold),
        plain(job.told(hold.limit)),
        _answers(hold),
        tuple(plain(job.told(note)) for note in hold.notes),
    )


def circuit_of(house: House, hold: Hold) -> str | None:
    """The circuit that a store needs, by the load that serves it."""
    load = next((c.load for c in house.cold if c.id == hold.store), None)
    load = load or next((p.load for p in house.pits if p.id == hold.store), None)
    if hold.kind in ("house", "pipes") and house.heat is not None:
        load = house.heat.heater_load
    if hold.kind in ("pressure_tank", "stored_water") and house.water is not None:
        load = house.water.pump_load
    if hold.kind == "hot_water":
        load = house.tank_load
    if hold.kind == "medical":
        load = hold.store
    return house.load_by_id[load].circuit if load is not None else None


def renew_s(job: Job, hold: Hold) -> float | None:
    """The run that starts a clock anew: a pump's time to make good, else one of a routine that keeps it."""
    house = job.house
    if hold.kind == "pressure_tank" and house.water is not None:
        water = house.water
        gain_m3_per_s = water.pump_m3_per_s - water.use_day_m3 / _DAY_S
        return _whole_minutes_s(water.drawdown_m3 + water.below_cut_in_m3, gain_m3_per_s)
    pit = next((p for p in house.pits if p.id == hold.store), None)
    if pit is not None:
        return _whole_minutes_s(pit.headroom_m3 + pit.cycle_m3, pit.pump_m3_per_s - pit.inflow_m3_per_s)
    return _routine_s(job.plan, hold)


def _whole_minutes_s(volume_m3: float, gain_m3_per_s: float) -> float | None:
    return 60.0 * ceil(volume_m3 / gain_m3_per_s / 60.0) if gain_m3_per_s > 0.0 else None


def _routine_s(plan: Plan, hold: Hold) -> float | None:
    """Shortest run of the routine, where its replay keeps this store within its limit."""
    routine = plan.routine
    if routine is None or not routine.runs:
        return None
    wanted = _KEPT_AS.get(hold.store, hold.store)
    kept = any(s.store == wanted and s.kept for s in routine.stores)
    return min(run.length_s for run in routine.runs) if kept else None


def _answers(hold: Hold) -> tuple[tuple[str, str], ...]:
    told = [("careful", hold.planning_s), ("likely", hold.likely_s)]
    told += [("public-health rule", hold.rule_s)] if hold.rule_s is not None else []
    return tuple((what, duration(length_s)) for what, length_s in told)


def _tank(plan: Plan) -> list[Clock]:
    runs = plan.fuel.tank_runs if plan.fuel is not None else ()
    half = next((r for r in runs if r.load_frac == _TANK_LOAD_FRAC), None)
    if half is None or not isfinite(half.run_s):
        return []
    answers = tuple((f"{100 * r.load_frac:.0f} % load", duration(r.run_s)) for r in runs)
    return [
        Clock(
            "machine_tank", "the machine's own tank", "fuel", half.run_s, "running", None, None,
            "a full tank, at half load", answers, ("“Tank filled” starts it anew",),
        )
    ]  # fmt: skip
