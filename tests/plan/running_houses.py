"""Invented households for the tests of the running, as house files, with the parts that a test changes
named.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from hearthold.engine.weather import Hours, hours
from hearthold.house.house import House
from hearthold.house.reader import house_from_text

HOUR_S = 3600.0
LAMP = """
[[load]]
id = "{id}"
kind = "{kind}"
circuit = "kitchen"
"""
BASE = """
format = 1
[house]
name = "Running house"
[site]
place = "Nowhere"
latitude = 45.0
longitude = -70.0
system = "split_120_240"
[people]
count = 2
awake_from = "06:00"
awake_to = "22:00"
quiet_from = "22:00"
quiet_to = "06:00"
[climate]
mean = [-8, -7, -2, 5, 12, 17, 20, 19, 14, 8, 2, -5]
daily_range = 10
cold_spell = 8
[[circuit]]
id = "boiler"
name = "Boiler"
breaker = 15
wire = "14 AWG"
length = "10 m"
leg = "A"
panel = "essential"
[[circuit]]
id = "kitchen"
name = "Kitchen"
breaker = 20
wire = "12 AWG"
length = "10 m"
leg = "B"
panel = "essential"
[[circuit]]
id = "freezer"
name = "Freezer"
breaker = 15
wire = "14 AWG"
length = "10 m"
leg = "A"
panel = "essential"
[[circuit]]
id = "sump"
name = "Sump"
breaker = 15
wire = "14 AWG"
length = "10 m"
leg = "B"
panel = "essential"
[[circuit]]
id = "bedroom"
name = "Bedroom"
breaker = 15
wire = "14 AWG"
length = "10 m"
leg = "A"
panel = "essential"
[[load]]
id = "boiler"
kind = "boiler_oil"
circuit = "boiler"
[[load]]
id = "fridge"
kind = "fridge_frost_free"
circuit = "kitchen"
running = 150
[[load]]
id = "chest"
kind = "chest_freezer"
circuit = "freezer"
running = 130
[[load]]
id = "sump_pump"
kind = "sump_third_hp"
circuit = "sump"
[[load]]
id = "oven"
kind = "microwave_700_w"
circuit = "kitchen"
[[load]]
id = "cpap"
kind = "cpap_with_humidifier"
circuit = "bedroom"
priority = "{cpap}"
{medical}
[[cold]]
id = "fridge"
name = "Fridge"
kind = "fridge"
load = "fridge"
volume = "14 cu ft"
[[cold]]
id = "chest"
name = "Chest freezer"
kind = "chest_freezer"
load = "chest"
volume = "15 cu ft"
[heat]
house_class = "partly_insulated"
floor_area = "120 m2"
set = "20 C"
lowest = "10 C"
pipes_drained = {drained}
heater = {{ load = "boiler", output = 20000, fuel = "oil" }}
[[pit]]
id = "sump"
name = "Sump"
kind = "sump"
load = "sump_pump"
headroom = "{headroom}"
cycle = "8 gal"
inflow = "{inflow}"
pump = "30 gpm"
[generator]
name = "5 kW portable"
voltage = 240
breaker = 30
receptacle = "L14-30"
[[generator.on]]
fuel = "gasoline"
running = 5000
start = 6500
tank = "{tank}"
[fuel]
preferred = "gasoline"
{trip}
[[fuel.stock]]
fuel = "gasoline"
amount = "{fuel}"
[hookup]
kind = "manual_transfer"
cord = {{ wire = "10 AWG", cable = "cord", length = "8 m" }}
inlet = "L14-30"
inlet_breaker = 30
[wishes]
shortest_spell = "{shortest}"
longest_spell = "{longest}"
spells_per_day = {spells}
run_at_night = {night}
indoor_comfort = "15 C"
"""
MEDICAL = """
[[medical]]
load = "cpap"
hours_per_day = 7
from = "22:30"
own_battery = "{own}"
"""
USUAL = {
    "cpap": "comfort",
    "medical": "",
    "drained": "true",
    "headroom": "24 gal",
    "inflow": "1 gal/h",
    "tank": "5 gal",
    "trip": "",
    "fuel": "20 gal",
    "shortest": "45 min",
    "longest": "4 h",
    "spells": "3",
    "night": "false",
}


@cache
def running_house(extra: str = "", **changes: str) -> House:
    """The test house with some of its parts changed and more sections appended."""
    return house_from_text(BASE.format(**{**USUAL, **changes}) + extra)


def steady(mean_c: float = 8.0, days: int = 20, swing_k: float = 4.0) -> Hours:
    """Days that are all alike, warmest in mid-afternoon."""
    clock = np.arange(24 * days)
    return hours(mean_c + swing_k * np.cos((clock - 15.0) * np.pi / 12.0))
