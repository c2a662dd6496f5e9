"""Small invented houses for the tests of the engine, as house files, and shorthands to run them."""

from __future__ import annotations

import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np

from hearthold.engine.weather import Hours, hours
from hearthold.house.house import House
from hearthold.house.reader import house_from_text

sys.path.insert(0, str(Path(__file__).parents[1] / "builders"))
from house_parts import (
    boiler_heat,
    branch,
    head,
    kitchen_stores,
    load,
    machine,
    sump,
    table,
)

HOUR_S = 3600.0

WIRING = (
    branch("Well", "AB", poles=2, wire="12 AWG", length="30 m")
    + branch("Boiler")
    + branch("Kitchen", "B", breaker=20, wire="12 AWG")
    + branch("Freezer")
    + branch("Sump", "B")
    + branch("Tank", "AB", breaker=30, poles=2, wire="10 AWG")
    + branch("Other", breaker=20, wire="12 AWG", panel="main")
)
EVENING = '[{ from = "06:00", to = "08:00" }, { from = "17:00", to = "22:00" }]'
LOADS = (
    load("well_pump", "well_three_quarter_hp_three_wire", "well", volts=240, running=1300)
    + load("boiler", "boiler_oil", "boiler")
    + load("fridge", "fridge_frost_free", "kitchen", running=150)
    + load("lamps", "led_house", "kitchen", running=100, pattern="scheduled", use=EVENING)
    + load("router", "modem_router", "kitchen", running=15)
    + load("chest", "chest_freezer", "freezer", running=130)
    + load("sump_pump", "sump_third_hp", "sump")
    + load("heater", "heater_storage_4500_w", "tank", running=4500)
    + load("iron", "microwave_700_w", "other")
)
WATER = table("[water]", pump_load="well_pump", lift="40 m", flow="9 gpm", tank="44 gal")
HOT_WATER = table(
    "[hot_water]", load="heater", heated_by="electric", volume="50 gal", set="52 C", lowest="40 C", inlet="8 C",
    showers_per_day=2,
)  # fmt: skip
BASE = (
    head("Test house")
    + WIRING
    + LOADS
    + kitchen_stores(fill=1.0)
    + boiler_heat("150 m2")
    + WATER
    + HOT_WATER
    + sump("24 gal", "6 gal/h")
    + machine("7 kW portable", 7000, 8800, "6 gal", "20 gal")
)


@cache
def house(extra: str = "", **changes: str) -> House:
    """The test house with some sections replaced (`water`, `hot_water`) and more appended."""
    text = BASE
    for name, section in changes.items():
        text = text.replace({"water": WATER, "hot_water": HOT_WATER}[name], section)
    return house_from_text(text + extra)


def still(outdoor_c: float = -5.0, days: int = 20) -> Hours:
    """The same temperature for some days."""
    return hours(np.full(24 * days, outdoor_c))


def without_heat(given: House) -> House:
    """A house whose air is constant, so that stores can be compared with closed forms in a still room."""
    return replace(given, heat=None)
