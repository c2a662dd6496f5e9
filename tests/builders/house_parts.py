"""Parts of invented households as text of a house file, for the tests that build houses to run: one builder for all.

text = head("Test house") + branch("boiler", "Boiler") + load("boiler", "boiler_oil", "boiler")
house = house_from_text(text + table("heat", HEAT))
"""

from __future__ import annotations

PLACE = """
[site]
place = "Nowhere"
latitude = 45.0
longitude = -70.0
system = "split_120_240"
[climate]
mean = [-8, -7, -2, 5, 12, 17, 20, 19, 14, 8, 2, -5]
daily_range = 10
cold_spell = 8
"""
HOOKUP = """
[hookup]
kind = "manual_transfer"
cord = { wire = "10 AWG", cable = "cord", length = "8 m" }
inlet = "L14-30"
inlet_breaker = 30
"""


def table(header: str, **values: object) -> str:
    """One section; text is quoted, and what stands in braces or brackets is left as it is."""
    lines = [header, *(f"{key} = {_written(value)}" for key, value in values.items() if value is not None)]
    return "\n".join(lines) + "\n"


def _written(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str) and not value.startswith(("{", "[")):
        return f'"{value}"'
    return str(value)


def head(name: str, **people: object) -> str:
    """House, place, climate and two people."""
    return "format = 1\n" + table("[house]", name=name) + PLACE + table("[people]", **({"count": 2} | people))


def branch(name: str, leg: str = "A", **changes: object) -> str:
    """A branch circuit of the essential panel; its id is its name in small letters."""
    usual = {"breaker": 15, "wire": "14 AWG", "length": "10 m", "leg": leg, "panel": "essential"}
    return table("[[circuit]]", **({"id": name.lower(), "name": name} | usual | changes))


def load(id_: str, kind: str, circuit: str, **more: object) -> str:
    """A load of the catalogue on a circuit."""
    return table("[[load]]", id=id_, kind=kind, circuit=circuit, **more)


def five_circuits(name: str) -> str:
    """A house with a boiler, a fridge, a chest freezer, a sump pump and a bedroom, each on a circuit of its own."""
    return (
        head(name, awake_from="06:00", awake_to="22:00", quiet_from="22:00", quiet_to="06:00")
        + branch("Boiler")
        + branch("Kitchen", "B", breaker=20, wire="12 AWG")
        + branch("Freezer")
        + branch("Sump", "B")
        + branch("Bedroom")
        + load("boiler", "boiler_oil", "boiler")
        + load("fridge", "fridge_frost_free", "kitchen", running=150)
        + load("chest", "chest_freezer", "freezer", running=130)
        + load("sump_pump", "sump_third_hp", "sump")
    )


def kitchen_stores(**chest: object) -> str:
    """A fridge and a chest freezer."""
    fridge = table("[[cold]]", id="fridge", name="Fridge", kind="fridge", load="fridge", volume="14 cu ft")
    usual = {
        "id": "chest",
        "name": "Chest freezer",
        "kind": "chest_freezer",
        "load": "chest",
        "volume": "15 cu ft",
    }
    return fridge + table("[[cold]]", **(usual | chest))


def boiler_heat(floor_area: str, **more: object) -> str:
    """A house of middling insulation kept warm by its boiler."""
    return table(
        "[heat]", house_class="partly_insulated", floor_area=floor_area, set="20 C", lowest="10 C", **more,
        heater='{ load = "boiler", output = 20000, fuel = "oil" }',
    )  # fmt: skip


def sump(headroom: str, inflow: str) -> str:
    """A sump pit that its pump empties 8 gal at a time."""
    return table(
        "[[pit]]", id="sump", name="Sump", kind="sump", load="sump_pump", headroom=headroom, cycle="8 gal",
        inflow=inflow, pump="30 gpm",
    )  # fmt: skip


def machine(name: str, running_w: int, start_w: int, tank: str, stock: str, trip: str = "") -> str:
    """A gasoline portable on a 30 A cord with fuel in cans."""
    return (
        table("[generator]", name=name, voltage=240, breaker=30, receptacle="L14-30")
        + table("[[generator.on]]", fuel="gasoline", running=running_w, start=start_w, tank=tank)
        + table("[fuel]", preferred="gasoline")
        + (trip + "\n" if trip else "")
        + table("[[fuel.stock]]", fuel="gasoline", amount=stock)
        + HOOKUP
    )


def battery(capacity: str, **more: object) -> str:
    """A house battery with an inverter that feeds the essential panel, and no machine."""
    usual = {"usable": 0.9, "charge": "3 kW", "discharge": "4 kW", "surge": "8 kVA", "idle": "30 W"}
    return table("[battery]", capacity=capacity, **(usual | more)) + table(
        "[hookup]", kind="battery_inverter"
    )
