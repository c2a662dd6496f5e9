"""The course of one outage under the plan's routine, replayed in the engine for the timeline."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING, Protocol

import numpy as np

from hearthold.engine.run import simulate
from hearthold.errors import InputError
from hearthold.papers.charts.timeline import Course, Curve, Panel, spells_of
from hearthold.plan.routine import steady_hours
from hearthold.quantities.units import in_unit

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from hearthold.engine.trace import Trace
    from hearthold.house.house import House
    from hearthold.papers.job import Job
    from hearthold.papers.words.say import Say

_MOST_CIRCUITS = 5  # drawn each; the rest together
_MINUTE_S = 60.0
_MARGIN = 10  # minutes shown before and after a spell


class Teller(Protocol):
    """What panels need to know of a house: a job of papers is one, and so is a bare house with units."""

    @property
    def house(self) -> House:
        """The house of the trace."""

    @property
    def say(self) -> Say:
        """The reader's units."""

    @property
    def nec(self) -> bool:
        """True where there are two legs."""

    def circuit(self, ident: str) -> str:
        """A circuit's name."""


@dataclass(frozen=True, slots=True)
class Replayed:
    """The whole outage, and its first spell close up; None where the machine never runs."""

    whole: Course
    spell: Course | None


def course_of(job: Job) -> Replayed:
    """The replay of the routine. Raises InputError where the plan has none."""
    found = job.plan.routine
    if found is None:
        raise InputError("the plan has no routine to replay.", code="no_routine")
    outside = steady_hours(job.plan.conditions, days=ceil(found.tested_s / 86400.0) + 3, house=job.house)
    hours = found.tested_s / 3600.0
    trace = simulate(job.running, outside, found.control, start_s=found.fails_at_s, hours=hours)
    return course_of_trace(job, trace)


def course_of_trace(told: Teller, trace: Trace) -> Replayed:
    """A trace as panels: food, house, power, fuel; and the power by circuit of its first spell."""
    minutes = tuple(float(x) for x in trace.minute_s)
    drawn = (_food, _house, _total, _fuel)
    panels = tuple(panel for part in drawn for panel in part(told, trace, minutes))
    spells = spells_of(minutes[:-1], trace.machine_frac.tolist())
    whole = Course(trace.start_s % 86400.0, trace.length_s, spells, panels)
    return Replayed(whole, _close_up(told, trace, minutes, spells[0]) if spells else None)


def _close_up(told: Teller, trace: Trace, at_s: tuple[float, ...], spell: tuple[float, float]) -> Course:
    """The minutes of one spell with a margin, counted from the first of them."""
    first = max(0, int(spell[0] // _MINUTE_S) - _MARGIN)
    last = min(len(at_s) - 1, int(spell[1] // _MINUTE_S) + _MARGIN)
    begins_s = first * _MINUTE_S
    inside = (max(0.0, spell[0] - begins_s), min(spell[1], at_s[last]) - begins_s)
    panels = tuple(_power(told, trace, at_s, first, last))
    return Course((trace.start_s + begins_s) % 86400.0, (last - first) * _MINUTE_S, (inside,), panels)


def _food(told: Teller, trace: Trace, at_s: tuple[float, ...]) -> Iterator[Panel]:
    stores = {store.id: store for store in told.house.cold}
    for head, frozen in (("Fridge food", False), ("Freezer food", True)):
        curves = [
            _degrees(
                told, stores[ident].name, at_s, trace.cold_c[:, k], None if frozen else stores[ident].limit_c
            )
            for k, ident in enumerate(trace.house.cold_ids)
            if stores[ident].is_freezer is frozen
        ]
        if curves:
            yield Panel(f"{head}, {told.say.temperature_unit}", tuple(curves), 78.0)


def _house(told: Teller, trace: Trace, at_s: tuple[float, ...]) -> Iterator[Panel]:
    heat = told.house.heat
    if heat is None:
        return
    curves = [_degrees(told, "indoor air", at_s, trace.air_c, heat.lowest_c)]
    if not heat.pipes_drained:
        curves.append(_degrees(told, "coldest pipe", at_s, trace.pipe_c, 0.0))
    curves.append(_degrees(told, "outdoors", at_s, trace.outdoor_c, None))
    yield Panel(f"House, {told.say.temperature_unit}", tuple(curves), 78.0)


def _total(told: Teller, trace: Trace, at_s: tuple[float, ...]) -> Iterator[Panel]:
    """Mean power of everything, by leg where there are two."""
    if not told.nec:
        whole = _watts("all circuits", at_s, trace.load_w, "power_a")
        yield Panel("Power, W", (whole,), 64.0, stacked=True)
        return
    roles = ("power_a", "power_b")
    legs = (_watts(f"leg {leg}", at_s, trace.leg_w[:, i], roles[i]) for i, leg in enumerate("AB"))
    yield Panel("Power, W", tuple(legs), 64.0, stacked=True)


def _power(told: Teller, trace: Trace, at_s: tuple[float, ...], first: int, last: int) -> Iterator[Panel]:
    """Mean power of the circuits that take most, stacked; the rest as one."""
    watts_w = trace.circuit_w[first:last]
    energy = watts_w.sum(axis=0)
    order = [int(i) for i in np.argsort(-energy, kind="stable") if energy[i] > 0.0]
    if not order:
        return
    begin = tuple(t - at_s[first] for t in at_s[first : last + 1])
    names = trace.house.circuit_ids
    curves = [_watts(told.circuit(names[i]), begin, watts_w[:, i]) for i in order[:_MOST_CIRCUITS]]
    if len(order) > _MOST_CIRCUITS:
        rest = watts_w[:, order[_MOST_CIRCUITS:]].sum(axis=1)
        others = len(order) - _MOST_CIRCUITS
        curves.append(_watts(f"{others} other circuit{'s' if others > 1 else ''}", begin, rest))
    yield Panel("Power by circuit, W", tuple(curves), 120.0, stacked=True)


def _fuel(told: Teller, trace: Trace, at_s: tuple[float, ...]) -> Iterator[Panel]:
    held = trace.fuel_m3 + trace.stock_m3
    if not np.all(np.isfinite(held)) or float(held.max()) > 1e3:
        return  # it comes by a main, or from a tank without end
    unit = told.say.volume_unit
    values = tuple(in_unit(float(x), unit, "volume") for x in held)
    yield Panel(f"Fuel at home, {unit}", (Curve("tank and stock", at_s, values, 0.0),), 48.0)


def _degrees(
    told: Teller, name: str, at_s: tuple[float, ...], values_c: NDArray[np.float64], limit_c: float | None
) -> Curve:
    unit = "F" if told.say.us else "C"
    values = tuple(in_unit(float(x), unit, "temperature") for x in values_c)
    return Curve(
        name, at_s, values, None if limit_c is None else round(in_unit(limit_c, unit, "temperature"), 1)
    )


def _watts(name: str, at_s: tuple[float, ...], watts_w: NDArray[np.float64], role: str = "") -> Curve:
    """Means of a minute, at the minute's middle."""
    middles_s = tuple(t + _MINUTE_S / 2.0 for t in at_s[:-1])
    return Curve(name, middles_s, tuple(float(x) for x in watts_w), role=role)
