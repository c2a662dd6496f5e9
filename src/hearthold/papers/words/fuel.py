"""How far the fuel at home goes under a routine, and what becomes of the routine when it is gone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.papers.words.say import clock, counted, duration

if TYPE_CHECKING:
    from hearthold.plan.routine import Routine

_DAY_S = 86400.0


def outlasted(found: Routine) -> str:
    """That the routine outlasts its fuel, and when; empty where it does not."""
    if not found.outlasts_its_fuel:
        return ""
    # days are counted from the one on which the grid fails
    day, at_s = divmod(found.fails_at_s + found.fuel_lasts_s, _DAY_S)
    when = f"after {duration(found.fuel_lasts_s)}, on day {int(day) + 1} at {clock(at_s)}," * (
        found.fuel_lasts_s > 0
    )
    if found.trips:
        trips = f"{counted(found.trips, 'trip')} in {duration(found.tested_s)}"
        wait = f"{when} it has to wait until somebody is back with more ({trips})"
        return f"The routine outlasts its fuel: {wait.strip()}."
    return f"The routine outlasts its fuel: {when or 'from the start'} nothing is left, and from then on nothing runs."


def trips_words(found: Routine) -> str:
    """Trips for fuel in the replay of a routine."""
    if found.trips:
        return f"{counted(found.trips, 'trip')} for fuel in all"
    short = found.outlasts_its_fuel or found.fuel_left_m3 <= 0.0
    return "no trip for fuel is counted on" if short else "no trip for fuel needed"
