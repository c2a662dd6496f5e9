"""Twelve varied cases for the benches of the planner: cold, mild and hot; machines small and large; fuel
scarce, with
trips, plentiful; a battery; a vital load at night; the two example households."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from hearthold.engine.weather import Hours
from hearthold.house.house import House
from hearthold.house.reader import read_house
from hearthold.plan.routine import steady_hours
from hearthold.sizing.conditions import conditions

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tests" / "plan"), str(ROOT / "bench")]  # houses of the tests; `growth`
from running_houses import MEDICAL, running_house, steady  # noqa: E402

BATTERY = '[battery]\ncapacity = "10 kWh"\ncharge = "2 kW"\ndischarge = "3 kW"\n'
TRIP = 'trip = { time = "2 h", brings = "10 gal", works_in_outage = true }'
NIGHT = {"night": "true", "spells": "5"}
Case = tuple[str, Callable[[], tuple[House, Hours]]]


def _made(mean_c: float, extra: str = "", **changes: str) -> Callable[[], tuple[House, Hours]]:
    return lambda: (running_house(extra, **changes), steady(mean_c))


def _example(name: str, month: int) -> Callable[[], tuple[House, Hours]]:
    def load() -> tuple[House, Hours]:
        house = read_house(ROOT / "examples" / f"{name}.toml")
        return house, steady_hours(conditions(house, month), 20)

    return load


CASES: tuple[Case, ...] = (
    ("cold, night runs", _made(-12.0, fuel="60 gal", **NIGHT)),
    ("cold, wet cellar", _made(-8.0, fuel="60 gal", inflow="4 gal/h", **NIGHT)),
    ("mild, night runs", _made(8.0, fuel="60 gal", **NIGHT)),
    ("mild, quiet nights", _made(8.0, fuel="60 gal")),
    ("hot, night runs", _made(27.0, fuel="60 gal", **NIGHT)),
    ("hot, short spells", _made(25.0, fuel="60 gal", longest="90 min", shortest="30 min", **NIGHT)),
    ("small tank", _made(2.0, fuel="60 gal", tank="1 gal", **NIGHT)),
    ("scarce fuel, trips", _made(-5.0, fuel="3 gal", trip=TRIP, **NIGHT)),
    ("scarce fuel, none to be had", _made(5.0, fuel="5 gal", **NIGHT)),
    (
        "battery and vital load",
        _made(5.0, BATTERY, fuel="60 gal", cpap="vital", medical=MEDICAL.format(own="0 min")),
    ),
    ("example, split phase, April", _example("tarn_hollow", 4)),
    ("example, single phase, January", _example("skerrow_croft", 1)),
)
