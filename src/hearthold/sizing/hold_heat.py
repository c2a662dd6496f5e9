"""Holds that are a matter of heat: food, the house, its pipes, hot water."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import TYPE_CHECKING

from hearthold.house.fill_cold import mixed_load_curve
from hearthold.physics.cold import cold_box, fridge_hold_s, hold_likely_s, hold_planning_s
from hearthold.physics.heat import HouseNodes, house_hold_s, steady_mass_c
from hearthold.physics.pipes import FREEZE_CLOCK_S, freeze_risk_s
from hearthold.physics.tankheater import tank_hold_s, tank_rate_kernel
from hearthold.physics.twonode import onenode_crossing_kernel
from hearthold.quantities.source import Source, Standing
from hearthold.reference.food import food_rule_s
from hearthold.sizing.hold import Hold

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.stores import ColdStore, HotWater, HouseHeat
    from hearthold.sizing.conditions import Conditions

DAY_S = 86400.0
NEVER_S = 1e9
# Guidance knows full and half full alone; this full counts as full. Own reading.
FULL_FRAC = 0.9


def cold_hold(store: ColdStore, weather: Conditions) -> Hold:
    """One fridge or freezer, shut, from its present temperature."""
    room_c = weather.room_c(store.room)
    planning_s, likely_s = _freezer_s(store, room_c) if store.is_freezer else _fridge_s(store, room_c)
    rule_s: float | None = _clock_s(store)
    notes = ["door kept shut", "a thermometer reading beats every figure here"]
    if store.start_c > store.set_c + 1.0:
        rule_s, notes = None, [*notes, "the clock of guidance starts from the set point; a reading was given"]
    if store.is_freezer:
        notes.append(
            "planning is calibrated to the guidance of 48 h for a full freezer: pessimistic, not physics"
        )
    return Hold(
        store.id,
        store.name,
        "freezer" if store.is_freezer else "fridge",
        planning_s,
        likely_s,
        rule_s,
        f"{store.limit_c:.1f} degC in the food",
        tuple(notes),
        Source(
            "clock: FoodSafety.gov and USDA FSIS; models: two-node planning, one-node likely", Standing.SEEN
        ),
    )


def house_nodes_of(heat: HouseHeat) -> HouseNodes:
    """The house's two stores as the physics layer wants them."""
    return HouseNodes(
        heat.air_j_per_k,
        heat.mass_j_per_k,
        heat.air_outdoor_w_per_k,
        heat.mass_outdoor_w_per_k,
        heat.air_mass_w_per_k,
    )


def _freezer_s(store: ColdStore, room_c: float) -> tuple[float, float]:
    box = cold_box(
        store.ua_w_per_k,
        store.contents_kg,
        store.cabinet_j_per_k,
        mixed_load_curve(),
        store.shell_frac,
        store.coupling_w_per_k_kg,
    )
    planning_s = hold_planning_s(box, store.start_c, store.start_c, room_c, store.limit_c)
    return planning_s, hold_likely_s(box, store.start_c, room_c, store.limit_c)


def _fridge_s(store: ColdStore, room_c: float) -> tuple[float, float]:
    """Planning on the calibrated capacity, likely on what is really in it."""
    real_j_per_k = store.contents_kg * mixed_load_curve().heat_j_per_kg_k[-1] + store.cabinet_j_per_k
    capacities = (store.fresh_j_per_k, float(max(real_j_per_k, store.fresh_j_per_k)))
    planning_s, likely_s = (
        fridge_hold_s(c, store.ua_w_per_k, store.start_c, room_c, store.limit_c) for c in capacities
    )
    return planning_s, likely_s


def _clock_s(store: ColdStore) -> float:
    if not store.is_freezer:
        return food_rule_s("fridge_closed")
    return food_rule_s("freezer_full" if store.fill_frac >= FULL_FRAC else "freezer_half_full")


def warmth_holds(house: House, weather: Conditions) -> Iterator[Hold]:
    """The house to comfort and to its lowest, and its pipes; nothing outside the heating season."""
    heat = house.heat
    if heat is None or not weather.heating_season:
        return
    for store, limit_c in (("house_comfort", heat.comfort_c), ("house_lowest", heat.lowest_c)):
        planning_s, likely_s = _cooling_s(heat, weather, limit_c, (0.0, heat.gains_w))
        yield Hold(
            store,
            "house, comfort" if store == "house_comfort" else "house, lowest",
            "house",
            planning_s,
            likely_s,
            None,
            f"{limit_c:.1f} degC indoors at {weather.outdoor_mean_c:.1f} degC outdoors",
            _stove_notes(heat, weather, limit_c),
            Source("two-node house; planning without gains, likely with them", Standing.COMPUTED),
        )
    yield _pipes(heat, weather)


def _cooling_s(
    heat: HouseHeat, weather: Conditions, limit_c: float, heats_w: tuple[float, ...]
) -> tuple[float, ...]:
    """How long the house takes to a limit with each of these heats in it."""
    nodes, air_c, outdoor_c = house_nodes_of(heat), weather.house_c, weather.outdoor_mean_c
    mass_c = steady_mass_c(nodes, air_c, outdoor_c)
    return tuple(house_hold_s(nodes, air_c, mass_c, outdoor_c, heat_w, limit_c) for heat_w in heats_w)


def _pipes(heat: HouseHeat, weather: Conditions) -> Hold:
    nodes, outdoor_c = house_nodes_of(heat), weather.outdoor_mean_c
    mass_c = steady_mass_c(nodes, weather.house_c, outdoor_c)
    if heat.pipes_drained:
        planning_s = likely_s = inf
    else:
        share = max(0.05, heat.pipe_ratio)
        planning_s, likely_s = (
            freeze_risk_s(nodes, weather.house_c, mass_c, outdoor_c, gains_w, share)
            for gains_w in (0.0, heat.gains_w)
        )
    return Hold(
        "pipes",
        "pipes at risk of freezing",
        "pipes",
        planning_s,
        likely_s,
        None,
        f"coldest pipe below 0 degC for {FREEZE_CLOCK_S / 3600:.0f} h",
        ("pipes drained",)
        if heat.pipes_drained
        else ("drain well before; the place of the pipe is a guess",),
        Source(
            "fixed temperature index and a clock of three hours, judgement (from memory)", Standing.MEMORY
        ),
    )


def _stove_notes(heat: HouseHeat, weather: Conditions, limit_c: float) -> tuple[str, ...]:
    """What a fed stove, which needs no power, would make of it, without its blower."""
    if heat.stove_output_w <= 0.0:
        return ()
    mean_w = (
        heat.stove_output_w * heat.stove_without_blower_frac * heat.stove_hours_per_day / 24.0 + heat.gains_w
    )
    settles_c = weather.outdoor_mean_c + mean_w / heat.ua_w_per_k
    (lasts_s,) = _cooling_s(heat, weather, limit_c, (mean_w,))
    blower = " and without its blower" if heat.stove_blower_load is not None else ""
    lasts = (
        f"for about {lasts_s / 3600.0:.{0 if lasts_s > 36000.0 else 1}f} h" if lasts_s < inf else "for good"
    )
    fed = f"with the stove fed {heat.stove_hours_per_day:g} h a day, which needs no power,{blower}"
    return (f"{fed} it stays above {limit_c:.1f} degC {lasts} and settles near {settles_c:.1f} degC",)


def hot_water_holds(house: House, weather: Conditions) -> Iterator[Hold]:
    """The tank water heater, if there is one."""
    tank = house.hot_water
    if tank is not None:
        yield Hold(
            "hot_water",
            "hot water",
            "hot_water",
            _drawn_s(tank, weather.house_c),
            tank_hold_s(tank.volume_m3, tank.ua_w_per_k, tank.set_c, weather.house_c, tank.lowest_c),
            None,
            f"{tank.lowest_c:.1f} degC in the tank",
            ("planning draws the outage's use as a steady mixed flow; likely draws nothing",),
            Source("one-node tank", Standing.COMPUTED),
        )


def _drawn_s(tank: HotWater, room_c: float) -> float:
    """Time to the limit with the day's draw spread evenly over a fully mixed tank: the careful reading."""
    if tank.set_c <= tank.lowest_c:
        return 0.0
    draw_m3_per_s = tank.draw_day_m3 / DAY_S
    k, f = tank_rate_kernel(
        tank.volume_m3, tank.ua_w_per_k, tank.set_c, room_c, tank.inlet_c, draw_m3_per_s, 0.0
    )
    at_s = onenode_crossing_kernel(k, tank.set_c, f, tank.lowest_c, NEVER_S)
    return at_s if at_s > 0.0 else inf
