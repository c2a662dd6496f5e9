"""Random cases for the comparison with the integrator: house, weather, routine and start from one seed.

`case` is the plain house; `full_case` has all at once: battery and sun, an inverter that may or may not carry the
pump, cans, a tank on element, boiler or pilot flame, own batteries, readings at the start, a pump that nothing feeds,
and more loads than one word of a set holds.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from engine_houses import HOUR_S, WATER, house
from house_parts import branch, load, table

from hearthold.engine.compile import compile_house
from hearthold.engine.control import DailySpell, Handling, Routine
from hearthold.engine.weather import year_hours
from hearthold.house.supply import Battery

HEATED_BY = ("electric", "boiler", "gas_pilot")
BEDROOM = (
    branch("Bedroom")
    + load("cpap", "cpap_with_humidifier", "bedroom", running=60)
    + load("oxygen", "cpap_with_humidifier", "bedroom", running=40)
    + table(
        "[[medical]]", load="cpap", hours_per_day=9, own_battery="4 h", recharge="6 h", **{"from": "21:30"}
    )
    + table(
        "[[medical]]", load="oxygen", hours_per_day=12, own_battery="3 h", recharge="5 h", **{"from": "09:00"}
    )
)
LAMPS = "".join(
    load(
        f"lamp_{i}", "led_house", "kitchen" if i % 2 else "bedroom", running=5, pattern="scheduled",
        use=f'[{{ from = "{6 + i % 9:02d}:{10 + i % 5}", to = "{18 + i % 5}:{20 + i % 7}" }}]',
    )
    for i in range(24)
)  # fmt: skip
FILLS = (
    'livestock_day = "80 gal"\n'
    + table("[[water.fill]]", name="Stock tank", amount="40 gal", flow="4 gpm", **{"from": "06:40"})
    + table("[[water.fill]]", name="Cans", amount="6 gal", flow="3 gpm", **{"from": "16:20"})
)


def _varied(given, rng):
    """House and stores with random figures."""
    heat = given.heat
    scale = rng.uniform(0.6, 1.6)
    heat = replace(
        heat,
        air_outdoor_w_per_k=heat.air_outdoor_w_per_k * scale,
        mass_outdoor_w_per_k=heat.mass_outdoor_w_per_k * scale,
        set_c=rng.uniform(17.0, 21.0),
        heater_output_w=rng.uniform(8e3, 25e3),
        gains_w=rng.uniform(100.0, 600.0),
    )
    rooms = ["house", "unheated", "outside"]
    cold = tuple(
        replace(
            s,
            room=rooms[rng.integers(2 if not s.is_freezer else 3)],
            cooling_w=s.cooling_w * rng.uniform(0.8, 1.5),
        )
        for s in given.cold
    )
    cold = tuple(replace(s, contents_kg=s.contents_kg * rng.uniform(0.4, 1.0)) for s in cold)
    hot = replace(given.hot_water, draw_day_m3=rng.uniform(0.0, 0.3))
    return replace(given, heat=heat, cold=cold, hot_water=hot)


def _spells(rng):
    """Three spells a day, and a start of the outage."""
    first = rng.uniform(5.0, 8.0) * HOUR_S
    spells = (
        DailySpell(first, rng.uniform(1.0, 3.0) * HOUR_S),
        DailySpell(first + 6.0 * HOUR_S, rng.uniform(0.5, 2.0) * HOUR_S),
        DailySpell(first + 12.0 * HOUR_S, rng.uniform(1.0, 4.0) * HOUR_S),
    )
    start_s = np.floor(rng.uniform(0.0, 340.0 * 24.0)) * HOUR_S + rng.uniform(0.0, 3600.0)
    return spells, float(start_s)


def case(seed):
    """House, compiled house, hours outside, routine and start of one case."""
    rng = np.random.default_rng(1000 + seed)
    given = _varied(house(), rng)
    spells, start_s = _spells(rng)
    return given, compile_house(given), year_hours(given, seed=seed), Routine(spells), start_s


def full_case(seed):
    """The same with everything at once; tank, wiring of the inverter, readings and the pump's circuit go in turns."""
    rng = np.random.default_rng(2000 + seed)
    heated_by = HEATED_BY[seed % 3]
    heat = {"load": "heater", "element": "4.5 kW"} if heated_by == "electric" else {"output": "9 kW"}
    tank = table(
        "[hot_water]", heated_by=heated_by, volume="50 gal", set="52 C", lowest="40 C", inlet="8 C",
        showers_per_day=2, **heat,
    )  # fmt: skip
    given = _varied(house(BEDROOM + LAMPS, water=WATER + FILLS, hot_water=tank), rng)
    capacity_kwh, charge_w, discharge_w = rng.uniform((0.8, 1e3, 2.5e3), (5.0, 3e3, 6e3)).tolist()
    battery = Battery(
        capacity=f"{capacity_kwh} kWh", charge=f"{charge_w} W", discharge=f"{discharge_w} W", surge="12 kVA",
        idle=f"{rng.uniform(0.0, 60.0)} W",
    )  # fmt: skip
    given = replace(given, battery=battery)
    if seed % 4 == 3:  # nothing feeds the pump
        off = [x.model_copy(update={"panel": "main"}) if x.id == "well" else x for x in given.circuits]
        given = replace(given, circuits=tuple(off))
    if seed % 2:
        given = replace(
            given,
            heat=replace(given.heat, start_c=rng.uniform(10.0, 24.0)),
            hot_water=replace(given.hot_water, start_c=rng.uniform(25.0, 54.0)),
            cold=tuple(replace(s, start_c=s.set_c + rng.uniform(-1.0, 6.0)) for s in given.cold),
        )
    some = (
        ("kitchen", "freezer", "bedroom")
        if seed % 5 == 4
        else ("well", "kitchen", "freezer", "sump", "bedroom")
    )
    spells, start_s = _spells(rng)
    outside = year_hours(given, seed=seed)
    noon = np.arange(len(outside.outdoor_c)) % 24 - 12.0
    sun_w = rng.uniform(0.0, 2500.0) * np.maximum(0.0, 1.0 - (noon / 4.5) ** 2)
    rule = Routine(spells, Handling(warm_up_s=rng.uniform(60.0, 300.0), battery_circuits=some))
    return given, compile_house(given), replace(outside, solar_w=sun_w), rule, start_s
