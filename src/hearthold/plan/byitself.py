"""What an automatic set burns where nobody stops it: it starts when the grid fails and runs until the grid is back."""

from __future__ import annotations

from math import ceil, inf
from typing import TYPE_CHECKING

from hearthold.engine.compile import compile_house
from hearthold.engine.control import Standby
from hearthold.engine.run import simulate
from hearthold.plan.routine import FAILS_AT_S, steady_hours

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.supply import FuelKind
    from hearthold.sizing.conditions import Conditions

DAY_S = 86400.0


def by_itself_day_m3(house: House, weather: Conditions, fuel: FuelKind | None) -> float | None:
    """Fuel a day (m3) over the outage that the house plans for; None without an automatic set."""
    if house.generator is None or not house.takes_over:
        return None
    length_s = house.outages.plan_for_s
    compiled = compile_house(house, fuel=fuel.value if fuel is not None else None)
    outside = steady_hours(weather, days=ceil(length_s / DAY_S) + 3, house=house)
    played = simulate(compiled, outside, Standby(), start_s=FAILS_AT_S, hours=length_s / 3600.0, fuel_m3=inf)
    return float(played.outcomes.fuel_m3[0]) * DAY_S / length_s
