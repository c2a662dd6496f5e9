"""The household's rules of running as arrays of slots, and which of them give way to a vital load.

A vital load is never traded: where one is needed in quiet hours and neither its own battery nor the house's
can carry it, the machine may run then, and as long as the need lasts, whatever the wishes say. What gave way
is told.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.compile_day import clock_windows, medical_window
from hearthold.engine.compile_medical import charge_rate
from hearthold.engine.rows import Windows, inside, unwrapped
from hearthold.house.house import House
from hearthold.house.loads import Load
from hearthold.house.site import Medical, People
from hearthold.plan.objective import DAY_S, SLOT_S, Objective, Patterns

WARM_UP_MARGIN_S = 600.0  # a run that carries a vital load starts before the need and ends after it
# Nobody walks out to stop a machine and walks out again within the hour to start it, only that its turns begin anew;
# common practice, no source.
LEAST_PAUSE_S = 3600.0


@dataclass(frozen=True, slots=True)
class RunRules:
    """When the machine may run, in clock terms, after what vital loads demand."""

    awake: Windows
    quiet: Windows
    vital: Windows  # times of day at which the machine may have to run for a vital load; empty where none
    night: bool
    shortest_s: float
    longest_s: float
    least_off_s: float
    spells_per_day: int
    gave_way: tuple[str, ...]

    def may_run(self, at_s: float) -> bool:
        """Whether the machine may run in the slot that begins at this time of day."""
        return self.night or not inside(self.quiet, at_s % DAY_S)

    def is_awake(self, at_s: float) -> bool:
        """Whether somebody is up at this time of day, the edges of the night included."""
        here = at_s % DAY_S
        return inside(self.awake, here) or any(abs(here - end % DAY_S) < 1.0 for _, end in self.awake)

    def may_switch(self, at_s: float) -> bool:
        """Whether the machine may be started or stopped at this time of day."""
        return self.night or self.is_awake(at_s)


def run_rules(house: House) -> RunRules:
    """The wishes of a house as rules of running.

    Without a house battery, a vital load needed in quiet hours lifts the ban on night running and lengthens
    the longest spell to the need; with one, night running is allowed (at its price) but nothing is
    lengthened. Between spells the machine stands for an hour, or for its cool-down where that is longer; where a
    vital load waits for it and no battery carries it, for the cool-down alone.
    """
    wishes, people = house.wishes, house.people
    awake = unwrapped([(people.awake_from_s, people.awake_to_s)])
    quiet = unwrapped([(people.quiet_from_s, people.quiet_to_s)])
    needs = vital_windows(house)
    at_night = any(_overlap(window, quiet) for window in needs)
    lasts_s = max((_length(window) for window in needs), default=0.0) + WARM_UP_MARGIN_S
    gave_way: list[str] = []
    longest_s, per_day = wishes.longest_spell_s, wishes.spells_per_day
    urgent = bool(needs) and house.battery is None
    if at_night and not wishes.run_at_night:
        gave_way.append("no running at night: a vital load needs power then")
    if urgent and lasts_s > longest_s:
        gave_way.append(
            f"longest spell of {longest_s / 3600.0:g} h: a vital load needs {lasts_s / 3600.0:.1f} h"
        )
        longest_s = min(DAY_S, lasts_s + 2.0 * SLOT_S)
    return RunRules(
        awake, quiet, tuple(needs), wishes.run_at_night or at_night, wishes.shortest_spell_s, longest_s,
        max(wishes.cool_down_s, SLOT_S if urgent else LEAST_PAUSE_S), per_day, tuple(gave_way),
    )  # fmt: skip


def vital_windows(house: House) -> list[tuple[float, float]]:
    """Times of day (from, length end; may pass midnight) at which a fed vital load needs power beyond its own
    battery.
    """
    fed = {circuit.id for circuit in house.fed_circuits}
    found: list[tuple[float, float]] = []
    for load in house.vital_loads:
        if load.circuit not in fed:
            continue
        needs = [need for need in house.medical if need.load == load.id]
        for need in needs:
            found += _beyond_battery(house, need)
        if not needs:
            found += vital_clock(house, load)
    return found


def _beyond_battery(house: House, need: Medical) -> Windows:
    """When a need asks for the machine. Its own battery fills whenever its circuit is live, so it is full at the end
    of a run and carries the rest of the window; or, where the window begins in quiet hours that it lasts through, it
    carries those. It is counted on only where the spells of a day, by the wishes alone, give back what it gives.
    """
    start_s, end_s = medical_window(need)
    own_s, quiet_s = need.own_battery_s, _quiet_left_s(house.people, start_s)
    if own_s <= 0.0 or not _given_back(house, need):
        return ((start_s, end_s),)
    if own_s >= end_s - start_s:
        return ()
    if 0.0 < quiet_s <= own_s:
        return ((start_s + quiet_s, end_s),)
    return ((start_s, end_s - own_s),)


def _quiet_left_s(people: People, at_s: float) -> float:
    """How long quiet hours still last at a time of day; 0 outside of them."""
    lasts_s = (people.quiet_to_s - people.quiet_from_s) % DAY_S or DAY_S  # equal ends: the whole day
    return max(0.0, lasts_s - (at_s - people.quiet_from_s) % DAY_S)


def _given_back(house: House, need: Medical) -> bool:
    """Whether a day's spells outside quiet hours charge the battery by as much as it gives in a day."""
    wishes, people = house.wishes, house.people
    loud_s = (people.quiet_from_s - people.quiet_to_s) % DAY_S
    live_s = min(wishes.spells_per_day * wishes.longest_spell_s, loud_s)
    start_s, end_s = medical_window(need)
    return live_s * charge_rate(need) >= min(need.own_battery_s, end_s - start_s)


def vital_clock(house: House, load: Load) -> Windows:
    """When a vital load without a medical entry wants power by the clock; none where a store speaks for
    it.
    """
    return clock_windows(house, load) or ()


def _length(window: tuple[float, float]) -> float:
    return window[1] - window[0]


def _overlap(window: tuple[float, float], others: Windows) -> bool:
    return any(max(a, c) < min(b, d) for a, b in unwrapped([window]) for c, d in others)


def patterns(rules: RunRules, objective: Objective, start_s: float, slots: int) -> Patterns:
    """The rules laid out over slots from `start_s` (since midnight of day 0, at a slot's edge)."""
    at_s = np.asarray(start_s + SLOT_S * np.arange(slots), dtype=np.float64)
    awake = _each(rules.is_awake, at_s)
    return Patterns(
        may_run=_each(rules.may_run, at_s),
        may_switch=_each(rules.may_switch, at_s),
        switch_j=np.where(awake, 0.0, objective.wake_j),
        day=(at_s // DAY_S - start_s // DAY_S).astype(np.int64),
        least_on=max(1, ceil(rules.shortest_s / SLOT_S - 1e-9)),
        most_on=max(1, ceil(rules.shortest_s / SLOT_S - 1e-9), int(rules.longest_s / SLOT_S + 1e-9)),
        least_off=max(1, ceil(rules.least_off_s / SLOT_S - 1e-9)),
        starts_a_day=rules.spells_per_day,
    )


def _each(rule: Callable[[float], bool], at_s: NDArray[np.float64]) -> NDArray[np.bool_]:
    return np.array([rule(t) for t in at_s.tolist()], dtype=bool)
