"""Random cases for the comparison with the integrator: house, weather, routine and start from one seed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from engine_houses import HOUR_S, house

from hearthold.engine.compile import compile_house
from hearthold.engine.control import DailySpell, Routine
from hearthold.engine.weather import year_hours


def case(seed):
    """House, compiled house, hours outside, routine and start of one case."""
    rng = np.random.default_rng(1000 + seed)
    given = house()
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
    given = replace(given, heat=heat, cold=cold, hot_water=hot)
    first = rng.uniform(5.0, 8.0) * HOUR_S
    spells = (
        DailySpell(first, rng.uniform(1.0, 3.0) * HOUR_S),
        DailySpell(first + 6.0 * HOUR_S, rng.uniform(0.5, 2.0) * HOUR_S),
        DailySpell(first + 12.0 * HOUR_S, rng.uniform(1.0, 4.0) * HOUR_S),
    )
    start_s = np.floor(rng.uniform(0.0, 340.0 * 24.0)) * HOUR_S + rng.uniform(0.0, 3600.0)
    return given, compile_house(given), year_hours(given, seed=seed), Routine(spells), float(start_s)
