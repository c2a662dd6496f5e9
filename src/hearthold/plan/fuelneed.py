"""What fuel a day of an outage takes, whatever is at home: how much to keep, not how far it goes.

day_need_m3(house, conditions(house, 1), routine, "gasoline")
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.plan.routine import find_routine

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.plan.choice import Choice
    from hearthold.plan.routine import Routine
    from hearthold.sizing.conditions import Conditions

AMPLE_M3 = 1000.0  # no outage burns so much


def day_need_m3(
    house: House, weather: Conditions, routine: Routine, fuel: str, choice: Choice | None = None
) -> float:
    """The need of a day of the routine if it keeps every limit; else of one sought with fuel enough.

    A routine may break limits for want of fuel: it is then rationed to what is at home, and so would its need be.
    Raises: as `find_routine`.

    Source: the search of `find_routine`, with fuel enough.
    """
    if routine.kept:
        return routine.fuel_day_m3
    ample = find_routine(house, weather, fuel=fuel, fuel_m3=AMPLE_M3, choice=choice)
    return max(routine.fuel_day_m3, ample.fuel_day_m3)
