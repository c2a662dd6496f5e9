"""How long every store lasts from now without power: food, warmth, water, pits, battery, fuel.

Each hold gives two answers and, for food, a third. Planning: what a careful plan counts on. Likely: what the
model says of the thing itself. Rule: the clock that public-health guidance gives. The strictest decides, and
a thermometer beats them all.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import TYPE_CHECKING

from hearthold.house.loads import Load, Priority
from hearthold.physics import battery as cells
from hearthold.physics.pit import rise_time_kernel
from hearthold.quantities.source import Source, Standing
from hearthold.reference.local_words import in_local_words
from hearthold.sizing.burn import burn
from hearthold.sizing.fuel import stock_m3
from hearthold.sizing.hold import Hold
from hearthold.sizing.hold_heat import cold_hold, hot_water_holds, warmth_holds

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.stores import Pit
    from hearthold.house.supply import Battery
    from hearthold.sizing.conditions import Conditions

DAY_S = 86400.0


def holds(house: House, weather: Conditions) -> tuple[Hold, ...]:
    """Every store's hold in this weather, the first to fail first.

    Doors stay shut, nobody draws more than the outage's use, rooms keep their present temperature (the house
    itself aside). Raises InputError where a store's figures are out of range.

    Source: models of the physics layer, each named in its hold; clocks of FoodSafety.gov and USDA FSIS.
    """
    found = [cold_hold(store, weather) for store in house.cold]
    found += [*warmth_holds(house, weather), *hot_water_holds(house, weather), *_water(house)]
    found += [*_pits(house), *_vital(house), *_battery(house, weather), *_fuel(house)]
    return tuple(sorted(found, key=lambda h: (h.strictest_s, h.store)))


def _water(house: House) -> Iterator[Hold]:
    """Running water from the pressure tank, and what stands in jugs and buckets."""
    water = house.water
    if water is None:
        return
    use_m3_per_s = water.use_day_m3 / DAY_S
    below_m3, half_m3 = water.below_cut_in_m3, water.below_cut_in_m3 + water.drawdown_m3 / 2.0
    source = Source("Boyle's law; the outage's use of the house file, spread evenly", Standing.COMPUTED)
    yield Hold(
        "pressure_tank",
        "running water",
        "pressure_tank",
        rise_time_kernel(below_m3, use_m3_per_s),
        rise_time_kernel(half_m3, use_m3_per_s),
        None,
        f"{litres(below_m3)} from cut-in to empty, at falling pressure",
        ("planning: the tank stood at cut-in when the grid failed; likely: half way",),
        source,
    )
    if water.stored_m3 > 0.0:
        kept_s = rise_time_kernel(water.stored_m3, use_m3_per_s)
        limit = litres(water.stored_m3)
        yield Hold("stored_water", "stored water", "stored_water", kept_s, kept_s, None, limit, (), source)


def _pits(house: House) -> Iterator[Hold]:
    return (_pit(pit) for pit in house.pits)


def _pit(pit: Pit) -> Hold:
    """Planning: the pump was about to start; likely: half a cycle before that."""
    return Hold(
        pit.id,
        pit.name,
        "pit",
        rise_time_kernel(pit.headroom_m3, pit.inflow_m3_per_s),
        rise_time_kernel(pit.headroom_m3 + pit.cycle_m3 / 2.0, pit.inflow_m3_per_s),
        None,
        f"{litres(pit.headroom_m3)} of headroom",
        ("steady inflow; rain and thaw raise it", "stay out of standing water until its circuits are off"),
        Source("volume balance; inflow of the house file", Standing.COMPUTED),
    )


def _vital(house: House) -> Iterator[Hold]:
    """Medical devices on their own batteries."""
    for need in house.medical:
        notes = (
            () if need.own_battery_s > 0.0 else ("no battery of its own is given: it stops with the grid",)
        )
        yield Hold(
            need.load,
            f"{house.load_by_id[need.load].name} ({need.person})",
            "medical",
            need.own_battery_s,
            need.own_battery_s,
            None,
            "its own battery",
            notes,
            Source("the household", Standing.GIVEN),
        )


def _battery(house: House, weather: Conditions) -> Iterator[Hold]:
    store = house.battery
    if store is None:
        return
    loads = house.vital_loads or tuple(x for x in house.loads if x.priority is Priority.ESSENTIAL)
    what = "vital loads" if house.vital_loads else "essential loads"
    cell_c = weather.house_c if store.place == "heated" else weather.unheated_c
    held_j = cells.usable_capacity_j(store.capacity_j, store.usable, cell_c)
    full_w, mean_w = _asked_w(loads, all_on=True), _asked_w(loads, all_on=False)
    yield Hold(
        "battery",
        "battery",
        "battery",
        _empties_s(store, held_j, full_w),
        _empties_s(store, held_j, mean_w),
        None,
        f"{held_j / 3.6e6:.1f} kWh usable at {cell_c:.0f} degC",
        (f"{what}: planning all running, likely at their share of the day",),
        Source("energy balance; cold capacity from trade pages", Standing.COMPUTED),
    )


def _asked_w(loads: tuple[Load, ...], all_on: bool) -> float:
    return sum(x.running_w * (1.0 if all_on else x.duty_frac) for x in loads)


def _empties_s(store: Battery, held_j: float, load_w: float) -> float:
    net_w = cells.store_rate_w(load_w, 0.0, store.idle_w, store.discharge_efficiency, store.charge_efficiency)
    return cells.time_to_empty_s(held_j, net_w, held_j)


def _fuel(house: House) -> Iterator[Hold]:
    """Hours of running from the fuel at home: at half load, and at the average of what is fed."""
    if house.generator is None or house.fuel is None:
        return
    line = burn(house)
    held_m3 = stock_m3(house, line.fuel)
    fed = {c.id for c in house.running.fed_circuits}
    mean_w = min(
        line.rated_w, _asked_w(tuple(x for x in house.running.loads if x.circuit in fed), all_on=False)
    )
    half_s, mean_s = (inf, inf) if held_m3 == inf else (
        line.run_s(line.rated_w / 2.0, held_m3), line.run_s(mean_w, held_m3)
    )  # fmt: skip
    yield Hold(
        "fuel",
        in_local_words(f"{line.fuel.replace('_', ' ')} at home", house.system),
        "fuel",
        min(half_s, mean_s),
        mean_s,
        None,
        "gas main" if held_m3 == inf else litres(held_m3),
        ("fuel: hours of running, not of outage; planning at half load or the mean, whichever burns more",),
        Source("planning line; the household's stock", Standing.COMPUTED),
    )


def litres(volume_m3: float) -> str:
    """A volume for a sentence, to a tenth of a litre, so that it reads the same in gallons."""
    return f"{round(1000.0 * volume_m3, 1):g} L"
