"""Small invented houses for the tests of the engine, as house files, and shorthands to run them."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from hearthold.engine.weather import Hours, hours
from hearthold.house.house import House
from hearthold.house.reader import house_from_text

HOUR_S = 3600.0

BASE = """
format = 1
[house]
name = "Test house"
[site]
place = "Nowhere"
latitude = 45.0
longitude = -70.0
system = "split_120_240"
[people]
count = 2
[climate]
mean = [-8, -7, -2, 5, 12, 17, 20, 19, 14, 8, 2, -5]
daily_range = 10
cold_spell = 8
[[circuit]]
id = "well"
name = "Well"
breaker = 15
poles = 2
wire = "12 AWG"
length = "30 m"
leg = "AB"
panel = "essential"
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
id = "tank"
name = "Water heater"
breaker = 30
poles = 2
wire = "10 AWG"
length = "10 m"
leg = "AB"
panel = "essential"
[[circuit]]
id = "other"
name = "Not fed"
breaker = 20
wire = "12 AWG"
length = "10 m"
leg = "A"
[[load]]
id = "well_pump"
kind = "well_three_quarter_hp_three_wire"
circuit = "well"
volts = 240
running = 1300
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
id = "lamps"
kind = "led_house"
circuit = "kitchen"
running = 100
pattern = "scheduled"
use = [{ from = "06:00", to = "08:00" }, { from = "17:00", to = "22:00" }]
[[load]]
id = "router"
kind = "modem_router"
circuit = "kitchen"
running = 15
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
id = "heater"
kind = "heater_storage_4500_w"
circuit = "tank"
running = 4500
[[load]]
id = "iron"
kind = "microwave_700_w"
circuit = "other"
[[cold]]
id = "fridge"
kind = "fridge"
load = "fridge"
volume = "14 cu ft"
[[cold]]
id = "chest"
kind = "chest_freezer"
load = "chest"
volume = "15 cu ft"
fill = 1.0
[heat]
house_class = "partly_insulated"
floor_area = "150 m2"
set = "20 C"
lowest = "10 C"
heater = { load = "boiler", output = 20000, fuel = "oil" }
[water]
pump_load = "well_pump"
lift = "40 m"
flow = "9 gpm"
tank = "44 gal"
[hot_water]
load = "heater"
heated_by = "electric"
volume = "50 gal"
set = "52 C"
lowest = "40 C"
inlet = "8 C"
showers_per_day = 2
[[pit]]
id = "sump"
name = "Sump"
kind = "sump"
load = "sump_pump"
headroom = "24 gal"
cycle = "8 gal"
inflow = "6 gal/h"
pump = "30 gpm"
[generator]
name = "7 kW portable"
voltage = 240
breaker = 30
receptacle = "L14-30"
[[generator.on]]
fuel = "gasoline"
running = 7000
start = 8800
tank = "6 gal"
[fuel]
preferred = "gasoline"
[[fuel.stock]]
fuel = "gasoline"
amount = "20 gal"
[hookup]
kind = "manual_transfer"
cord = { wire = "10 AWG", cable = "cord", length = "8 m" }
inlet = "L14-30"
inlet_breaker = 30
"""


@cache
def house(extra: str = "") -> House:
    """The test house, with more sections appended."""
    return house_from_text(BASE + extra)


def still(outdoor_c: float = -5.0, days: int = 20) -> Hours:
    """The same temperature for some days."""
    return hours(np.full(24 * days, outdoor_c))


def without_heat(given: House) -> House:
    """A house whose air is constant, so that stores can be compared with closed forms in a still room."""
    return replace(given, heat=None)
