"""How far the fuel at home goes under a routine, and what becomes of the routine when it is gone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.papers.words.say import counted, duration, names
from hearthold.quantities.spans import day_clock

if TYPE_CHECKING:
    from hearthold.plan.routine import Routine

_TOLD = 4  # trips that are told each; of more the rest are counted


def outlasted(found: Routine) -> str:
    """That the routine outlasts its fuel, and when; empty where it does not."""
    if not found.outlasts_its_fuel:
        return ""
    when = f"after {duration(found.fuel_lasts_s)}, {_on_day(found, found.fuel_lasts_s)},"
    if found.fuel_lasts_s <= 0.0:
        when = "from the start"
    if found.trips:
        trips = f"{counted(len(found.trips), 'trip')} in {duration(found.tested_s)}"
        return f"The routine outlasts its fuel: {when} it has to wait until somebody is back with more ({trips})."
    return f"The routine outlasts its fuel: {when} nothing is left, and from then on nothing runs."


def trips_words(found: Routine) -> str:
    """Trips for fuel in the replay of a routine."""
    if found.trips:
        told = f"{counted(len(found.trips), 'trip')} for fuel in all, {leaving(found)}"
        brought_m3 = sum(trip.brings_m3 for trip in found.trips)
        if found.fuel_left_m3 < brought_m3 or found.outlasts_its_fuel:
            return told
        return f"{told}, ahead of need: what is at home lasts for {duration(found.tested_s)}"
    short = found.outlasts_its_fuel or found.fuel_left_m3 <= 0.0
    return "no trip for fuel is counted on" if short else "no trip for fuel needed"


def leaving(found: Routine) -> str:
    """When somebody has to leave for fuel in the replay of a routine."""
    return f"leaving {names([_on_day(found, trip.leave_s) for trip in found.trips], _TOLD)}"


def _on_day(found: Routine, after_s: float) -> str:
    """A moment of the outage with its day."""
    return f"on {day_clock(found.fails_at_s + after_s)}"
