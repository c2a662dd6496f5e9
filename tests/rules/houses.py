"""Two invented households on which few rules fire, and small tools that change one thing about them."""

from dataclasses import dataclass, replace
from datetime import date

from hearthold.house.house import House
from hearthold.house.reader import house_from_text
from hearthold.house.supply import Battery, HookupKind
from hearthold.rules.case import Case, Played
from hearthold.rules.check import check
from hearthold.rules.finding import Severity
from hearthold.sizing.conditions import conditions

TODAY = date(2026, 11, 25)

COMMON = """
format = 1
[house]
name = "Test house"
[people]
count = 2
[outages]
plan_for = "12 h"
[climate]
unit = "C"
mean = [18, 18, 18, 18, 18, 18, 18, 18, 18, 18, 18, 18]
[safety]
co_alarms = 3
co_alarm_battery = true
floors = 2
extinguisher = true
fridge_thermometer = true
freezer_thermometer = true
[wishes]
run_at_night = true
spells_per_day = 12
"""

SPLIT = (
    COMMON
    + """
[site]
place = "Nowhere"
latitude = 44.0
longitude = -72.0
altitude = "0 m"
system = "split_120_240"
code = "NEC 2023"
[generator]
name = "big set"
kind = "inverter"
voltage = 240
breaker = 30
receptacle = "L14-30"
leg_limit = "6 kW"
neutral = "floating"
gfci_receptacles = false
co_shutoff = true
electric_start = false
distance = "10 m"
place = "open_ground"
exhaust_away = true
last_exercised = 2026-11-10
last_oil = 2026-06-01
oil_hours = "5 h"
[[generator.on]]
fuel = "gasoline"
running = "7 kW"
start = "12 kW"
tank = "8 gal"
[[generator.on]]
fuel = "propane"
running = "7 kW"
start = "12 kW"
[fuel]
preferred = "gasoline"
trip = { time = "1 h", brings = "10 gal", works_in_outage = true }
[[fuel.stock]]
fuel = "gasoline"
amount = "20 gal"
container = "2 gal"
stabilised = true
bought = 2026-09-01
place = "detached_shed"
[hookup]
kind = "manual_transfer"
cord = { wire = "10 AWG", cable = "cord", length = "15 ft" }
inlet = "L14-30"
inlet_breaker = 30
feeder = { wire = "8 AWG", cable = "NM-B", length = "15 ft" }
grid_breaker = 40
transfer = 60
switched_neutral = false
panel_bus = 100
panel_main = 60
panel_spaces = 12
panel_neutral_bonded = false
inlet_sign = true
service_sign = true
permit = "yes"
installed_by = "electrician"
[[circuit]]
id = "well"
name = "Well circuit"
breaker = 20
poles = 2
wire = "10 AWG"
cable = "UF-B"
length = "20 m"
leg = "AB"
panel = "essential"
[[circuit]]
id = "fridge"
name = "Fridge circuit"
breaker = 15
wire = "12 AWG"
cable = "NM-B"
length = "10 m"
leg = "A"
panel = "essential"
[[circuit]]
id = "freezer"
name = "Freezer circuit"
breaker = 15
wire = "12 AWG"
cable = "NM-B"
length = "10 m"
leg = "B"
panel = "essential"
[[circuit]]
id = "boiler"
name = "Boiler circuit"
breaker = 15
wire = "14 AWG"
cable = "NM-B"
length = "10 m"
leg = "A"
panel = "essential"
[[circuit]]
id = "rooms"
name = "Rooms circuit"
breaker = 15
wire = "14 AWG"
cable = "NM-B"
length = "10 m"
leg = "B"
panel = "essential"
[[circuit]]
id = "range"
name = "Range circuit"
breaker = 40
poles = 2
wire = "8 AWG"
cable = "NM-B"
length = "10 m"
leg = "AB"
[[load]]
id = "well_pump"
name = "Well pump"
kind = "well_half_hp_three_wire"
circuit = "well"
volts = 240
running = 960
start = 3000
priority = "essential"
[[load]]
id = "fridge"
name = "Fridge"
kind = "fridge_frost_free"
circuit = "fridge"
running = 150
start = 900
[[load]]
id = "freezer"
name = "Freezer"
kind = "chest_freezer"
circuit = "freezer"
running = 150
start = 900
[[load]]
id = "boiler"
name = "Boiler"
kind = "boiler_oil"
circuit = "boiler"
running = 250
start = 900
priority = "essential"
[[load]]
id = "lamp"
name = "Lamps"
circuit = "rooms"
running = 250
power_factor = 1.0
priority = "essential"
pattern = "on_demand"
[[load]]
id = "range"
name = "Range"
circuit = "range"
volts = 240
running = 5000
power_factor = 1.0
priority = "defer"
pattern = "on_demand"
"""
)

SINGLE = (
    COMMON
    + """
[site]
place = "Nowhere"
country = "GB"
latitude = 58.0
longitude = -6.0
altitude = "0 m"
system = "single_230"
code = "BS 7671:2018"
[generator]
name = "big set"
kind = "inverter"
voltage = 230
breaker = 32
receptacle = "CEE-32"
neutral = "bonded"
co_shutoff = true
electric_start = false
distance = "10 m"
place = "open_ground"
exhaust_away = true
last_exercised = 2026-11-10
last_oil = 2026-06-01
oil_hours = "5 h"
[[generator.on]]
fuel = "gasoline"
running = "7 kW"
start = "12 kW"
tank = "30 L"
[fuel]
preferred = "gasoline"
[[fuel.stock]]
fuel = "gasoline"
amount = "30 L"
container = "10 L"
stabilised = true
bought = 2026-09-01
place = "detached_shed"
[hookup]
kind = "manual_transfer"
cord = { wire = "6 mm2", cable = "cord", length = "5 m" }
inlet = "CEE-32"
inlet_breaker = 32
feeder = { wire = "10 mm2", cable = "PVC70", length = "5 m" }
grid_breaker = 40
transfer = 40
switched_neutral = true
panel_bus = 100
panel_main = 63
panel_spaces = 10
own_electrode = true
earthing = "TT"
permit = "yes"
installed_by = "electrician"
[[circuit]]
id = "borehole"
name = "Borehole circuit"
breaker = 16
wire = "4 mm2"
cable = "PVC70"
length = "20 m"
panel = "essential"
protection = ["rcbo"]
[[circuit]]
id = "sockets"
name = "Sockets circuit"
breaker = 20
wire = "2.5 mm2"
cable = "PVC70"
length = "10 m"
panel = "essential"
protection = ["rcbo"]
[[load]]
id = "pump"
name = "Borehole pump"
kind = "borehole_0_55_kw"
circuit = "borehole"
running = 900
start = 3000
priority = "essential"
[[load]]
id = "freezer"
name = "Freezer"
kind = "chest_freezer_230"
circuit = "sockets"
running = 120
start = 700
"""
)

COLD = """
[[cold]]
id = "chest"
name = "Chest"
kind = "chest_freezer"
load = "freezer"
volume = "300 L"
fill = "95 %"
contents_value = 100
"""
STORES = (
    COLD
    + """
[[cold]]
id = "cool"
name = "Cool box"
kind = "fridge"
load = "fridge"
volume = "300 L"
set = "3 C"
contents_value = 50
[heat]
house_class = "partly_insulated"
floor_area = "150 m2"
set = "20 C"
lowest = "10 C"
heater = { load = "boiler", output = "20 kW", fuel = "oil" }
stove = { output = "8 kW", hours_per_day = 12 }
[water]
pump_load = "well_pump"
lift = "40 m"
flow = "30 L/min"
tank = "500 L"
per_person_day = "70 L"
stored = "60 L"
"""
)


def split():
    """A calm house on 120/240 V."""
    return house_from_text(SPLIT + STORES)


def single():
    """A calm house on 230 V."""
    return house_from_text(SINGLE + COLD)


def split_with(text):
    """The calm 120/240 V house with more in its file."""
    return house_from_text(SPLIT + STORES + text)


def changed(house, **sections):
    """The house with values of one or more sections changed (names of fields, SI)."""
    new = {name: _section(getattr(house, name), value) for name, value in sections.items()}
    return replace(house, **new)


def _section(old, value):
    if not isinstance(value, dict):
        return value
    return old.model_copy(update=value) if hasattr(old, "model_copy") else replace(old, **value)


def item(house, among, ident, /, **values):
    """The house with one load, circuit, cold store or pit changed."""
    parts = [_section(x, values) if x.id == ident else x for x in getattr(house, among)]
    return replace(house, **{among: tuple(parts)})


def battery(lamp=250.0, well=960.0, fridge=900.0):
    """The calm house on a battery whose inverter holds 5 kW and starts 7 kVA."""
    given = Battery(capacity="10 kWh", charge="3 kW", discharge="5 kW", surge="7 kVA")
    house = replace(changed(CALM, hookup={"kind": HookupKind.BATTERY_INVERTER}), battery=given)
    house = item(house, "loads", "lamp", running_w=lamp)
    house = item(house, "loads", "well_pump", running_w=well, start_va=max(3000.0, well * 1.2))
    return item(house, "loads", "fridge", start_va=fridge)


def stock(house, index=0, **values):
    """The house with one lot of fuel changed."""
    lots = list(house.fuel.stock)
    lots[index] = lots[index].model_copy(update=values)
    return replace(house, fuel=house.fuel.model_copy(update={"stock": tuple(lots)}))


def rating(house, index=0, **values):
    """The house with one fuel rating of the machine changed."""
    on = list(house.generator.on)
    on[index] = on[index].model_copy(update=values)
    return replace(house, generator=house.generator.model_copy(update={"on": tuple(on)}))


@dataclass(frozen=True)
class Probe:
    """One rule both ways: where it fires, the near-identical house on which it does not, and its words."""

    rule: str
    fires: House
    quiet: House
    says: tuple[str, ...]
    air_c: float | None = None
    quiet_air_c: float | None = None
    severity: Severity | None = None
    today: date = TODAY
    played: Played | None = None


def findings(house, air_c=None, today=TODAY, played=None):
    """Every finding of a house, in January or at an outdoor temperature; with a routine that was played through."""
    return check(Case(house, conditions(house, 1, outdoor_mean_c=air_c), today, played))


def found(rule, house, air_c=None, today=TODAY, played=None):
    """Findings of one rule."""
    return [f for f in findings(house, air_c, today, played) if f.rule == rule]


CALM = split()
CALM_230 = single()


def probe(rule, fires, *says, quiet=None, **more):
    """A probe whose quiet house is the calm one of the same system unless another is given."""
    calm = CALM if len(fires.system.legs) == 2 else CALM_230
    return Probe(rule, fires, quiet or calm, says, **more)
