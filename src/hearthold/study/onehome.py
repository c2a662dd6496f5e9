"""One home of a folder: a three-day outage in one month, a year of outages, and what each remedy would change.

Quick enough for thousands of homes: the machine is run by need rather than by a searched routine. Everything goes in
and out as plain text and numbers, so that it can travel between processes and machines.
"""

from __future__ import annotations

import traceback
from collections.abc import Iterator
from dataclasses import asdict, dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.control import Control, Handling, Off, Standby, Step, Watchful
from hearthold.engine.run import simulate_many
from hearthold.engine.sunshine import month_with_sun
from hearthold.errors import HeartholdError
from hearthold.house.reader import house_from_text
from hearthold.study.chosen import outages_of
from hearthold.study.draws import Scenarios, draw
from hearthold.study.estimate import Estimate, estimate
from hearthold.study.gathering import chance, unseen_fracs
from hearthold.study.losses import HARM, Kind, watched
from hearthold.study.remedies import remedies
from hearthold.study.sunlight import with_sun
from hearthold.study.tracks import Tracks, follow
from hearthold.study.weather import climate_of
from hearthold.study.weigh import gather_both, weigh

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.study.outages import Outages

Array = NDArray[np.float64]
HOUR_S, DAY_S = 3600.0, 86400.0
SHORTEST_TRACK_S, LONGEST_TRACK_S = 2 * DAY_S, 7 * DAY_S


@dataclass(frozen=True, slots=True)
class Asked:
    """What a study asks of every home; part of what a finished home is known by."""

    today: str  # ISO date: outages after it are refused
    month: int = 1
    hours: float = 72.0
    start_h: float = 18.0  # of the day on which the grid fails
    seed: int = 0
    rounds: int = 4  # two or more, so that their scatter gives an interval
    each: int = 8


@dataclass(frozen=True, slots=True)
class Job:
    """One house file as text."""

    file: str
    text: str
    asked: Asked


@dataclass(frozen=True, slots=True)
class Done:
    """One home finished: its row, or why there is none."""

    file: str
    row: dict[str, Any] | None
    error: str = ""
    fault: str = ""  # the traceback, where the fault is the program's own


_NOTHING = Estimate(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, eq=False)
class _Met:
    """The outages that a home meets as it is and with every remedy: drawn once, so that what is saved is no noise."""

    asked: Asked
    outages: Outages
    rounds: tuple[tuple[Scenarios, ...], ...]  # routine and major of each


@dataclass(slots=True)
class _Facts:
    """What is worked out for one version of a home."""

    lost: dict[str, bool] = field(default_factory=dict)
    first_water_s: float = float("inf")
    any_year_frac: Estimate = _NOTHING
    harm_per_year: Array = field(default_factory=lambda: np.zeros(2))  # (rounds,)
    food_per_year: Array = field(default_factory=lambda: np.zeros(2))


def study_home(job: Job) -> Done:
    """The row of one home. Never raises for a bad file: the failure is the answer."""
    try:
        house = house_from_text(job.text, job.file, date.fromisoformat(job.asked.today))
        return Done(job.file, _row(house, job))
    except HeartholdError as problem:
        return Done(job.file, None, str(problem))
    except Exception as problem:  # a fault of ours in one home must not stop the others
        told = f"a fault in the program itself ({type(problem).__name__}: {problem})"
        return Done(job.file, None, told, traceback.format_exc())


def study_homes(jobs: list[Job]) -> list[Done]:
    """Several homes, one after another: the unit that travels."""
    return [study_home(job) for job in jobs]


def _row(house: House, job: Job) -> dict[str, Any]:
    asked = job.asked
    outages = outages_of(house, date.fromisoformat(asked.today), seed=asked.seed)
    met = _Met(asked, outages, tuple(_drawn(house, outages, asked)))
    base = _facts(house, met)
    machine_w = (
        max((r.running_w for r in house.generator.on), default=0.0) if house.generator is not None else 0.0
    )
    row: dict[str, Any] = {
        "file": job.file,
        "house": house.name,
        "has_machine": house.generator is not None,
        "machine_w": machine_w,
        "hookup": house.hookup.kind.value if house.hookup is not None else "none",
        "has_well": house.water is not None,
        "first_dry_h": base.first_water_s / HOUR_S if np.isfinite(base.first_water_s) else None,
        **_with_ends("any", "year_frac", base.any_year_frac),
        **_with_ends("harm", "per_year", estimate(base.harm_per_year, least=0.0)),
        **_with_ends("food", "per_year", estimate(base.food_per_year, least=0.0)),
        "currency": house.prices.currency,
    }
    row |= {f"loses_{name}": lost for name, lost in base.lost.items()}
    for remedy in remedies(house):
        found = _facts(remedy.house, met, remedy.circuits)
        row |= {
            f"{remedy.id}_cost": remedy.first_cost,
            **_with_ends(
                f"{remedy.id}_harm_saved", "per_year", estimate(base.harm_per_year - found.harm_per_year)
            ),
            **_with_ends(
                f"{remedy.id}_food_saved", "per_year", estimate(base.food_per_year - found.food_per_year)
            ),
            f"{remedy.id}_keeps_water": base.lost["water"] and not found.lost["water"],
        }
    return row


def _with_ends(name: str, unit: str, found: Estimate) -> dict[str, float]:
    """A figure as three columns: itself and the ends of its 95 % interval, of the outages tried alone."""
    return {f"{name}_{unit}": found.value, f"{name}_low_{unit}": found.low, f"{name}_high_{unit}": found.high}


def _drawn(house: House, outages: Outages, asked: Asked) -> Iterator[tuple[Scenarios, ...]]:
    climate, longest_s = climate_of(house), (SHORTEST_TRACK_S, LONGEST_TRACK_S)
    for number in range(asked.rounds):
        yield tuple(
            draw(climate, stream, seed=asked.seed, number=number, longest_s=most_s, each=asked.each)
            for stream, most_s in zip(outages.streams, longest_s, strict=True)
        )


def _facts(house: House, met: _Met, circuits: tuple[str, ...] = ()) -> _Facts:
    house = house.running
    facts, compiled, control = _Facts(), watched(house), usual_control(house, circuits)
    _one_outage(facts, house, compiled, control, met.asked)
    _a_year(facts, house, compiled, control, met)
    return facts


def usual_control(house: House, circuits: tuple[str, ...] = ()) -> Control:
    """By itself, by need, or not at all; `circuits` are those switched on (all that are fed if none are named).

    A machine run by need is not started at night unless the house wishes it.
    """
    if house.generator is None:
        return Off()
    if house.takes_over:
        return Standby()
    steps = tuple(Step(c) for c in circuits)
    handling = Handling(battery_circuits=circuits or None)
    return Watchful(not_at_night=not house.wishes.run_at_night, steps=steps, handling=handling)


def _one_outage(facts: _Facts, house: House, compiled: CompiledHouse, control: Control, asked: Asked) -> None:
    """The one outage that every home of the study meets, in its own bad spell of that month."""
    outside = month_with_sun(house, asked.month, days=int(asked.hours // 24) + 3)
    hours = np.array([asked.hours * HOUR_S])
    out = simulate_many(compiled, outside, control, [asked.start_h * HOUR_S], hours, threads=1)
    facts.lost = {
        "water": bool(out.unmet_water_m3[0] > 1e-4) if house.water is not None else False,
        "food": bool(out.food_lost.any()),
        "warmth": bool(np.isfinite(out.air_first_s[0])) if house.heat is not None else False,
        "pipes": bool(out.pipes_at_risk[0]) if house.heat is not None else False,
        "medical": bool(np.isfinite(out.medical_first_s).any()) if house.medical else False,
    }
    facts.first_water_s = float(out.tap_first_s[0]) if house.water is not None else float("inf")


def _a_year(facts: _Facts, house: House, compiled: CompiledHouse, control: Control, met: _Met) -> None:
    rounds: list[tuple[Tracks, Tracks]] = []
    for drawn in met.rounds:
        routine, major = (
            follow(compiled, control, with_sun(some, house, met.asked.seed), threads=1) for some in drawn
        )
        rounds.append((routine, major))
    outages = met.outages
    found = weigh(gather_both(rounds, outages), outages)
    losses = rounds[0][0].losses
    for i, loss in enumerate(losses):
        if loss.kind is Kind.ANY:
            facts.any_year_frac = chance(found.year_chance[:, i], unseen_fracs(rounds, outages).year)
    facts.harm_per_year = found.year_count @ np.array([float(x.kind in HARM) for x in losses])
    values = {store.id: store.contents_value for store in house.cold}
    facts.food_per_year = found.year_count @ np.array([float(values.get(x.id) or 0.0) for x in losses])


def asked_text(asked: Asked) -> str:
    """The question as one line, for the key of a finished home."""
    return ";".join(f"{k}={v}" for k, v in sorted(asdict(asked).items()))
