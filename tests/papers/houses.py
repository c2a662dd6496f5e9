"""Houses for the tests of the papers: the examples, and variants of every hookup, size and kind of name."""

from dataclasses import replace
from functools import cache
from pathlib import Path

from hearthold.house.house import House
from hearthold.house.reader import read_house
from hearthold.house.supply import Battery, HookupKind

EXAMPLES = Path(__file__).parents[2] / "examples"
MARKUP = '#strong[x] *b* _i_ $z$ <script>alert("1")</script> & \\ `c` @ref // ]]> #panic("no")'
LONG = "Kitchen, pantry and scullery sockets with the old chest freezer behind the door"
UNBROKEN = "W" * 80
HEBREW = "מקפיא במרתף ליד הקיר הצפוני"
ARABIC = "مضخة البئر القديمة"
CHINESE = "地下室冷冻柜和井泵"
JAPANESE = "井戸ポンプと台所の冷蔵庫"


@cache
def tarn() -> House:
    """North America, transfer switch."""
    return read_house(EXAMPLES / "tarn_hollow.toml")


@cache
def skerrow() -> House:
    """IEC, changeover switch."""
    return read_house(EXAMPLES / "skerrow_croft.toml")


def with_hookup(house: House, kind: HookupKind | None) -> House:
    """The house with another way in; None for no way at all."""
    if kind is None or house.hookup is None:
        return replace(house, hookup=None)
    hookup = house.hookup.model_copy(update={"kind": kind})
    machine = house.generator
    if kind is HookupKind.AUTOMATIC_STANDBY and machine is not None:
        machine = machine.model_copy(update={"kind": "standby", "receptacle": "none"})
        hookup = hookup.model_copy(update={"inlet": None, "cord": None, "inlet_breaker_a": None})
    battery = house.battery
    if kind is HookupKind.BATTERY_INVERTER:
        battery = Battery.model_validate({"capacity": "10 kWh", "charge": "3 kW", "discharge": "5 kW"})
    if kind is HookupKind.CORDS:
        hookup = hookup.model_copy(
            update={"inlet": None, "inlet_breaker_a": None, "transfer_a": None, "feeder": None}
        )
    return replace(house, hookup=hookup, generator=machine, battery=battery)


def with_circuits(house: House, count: int) -> House:
    """The house with a number of circuits: its own ones again and again under new ids."""
    circuits, loads = [], []
    for i in range(count):
        model = house.circuits[i % len(house.circuits)]
        again = i // len(house.circuits)
        tail = f"_{again}" if again else ""
        circuits.append(
            model.model_copy(update={"id": model.id + tail, "panel": "essential", "multiwire_with": None})
        )
        loads += [replace(x, id=x.id + tail, circuit=x.circuit + tail) for x in house.loads_on(model.id)]
    kept = {x.id for x in loads}
    return replace(
        house,
        circuits=tuple(circuits),
        loads=tuple(loads),
        medical=tuple(m for m in house.medical if m.load in kept),
        cold=tuple(c for c in house.cold if c.load in kept),
        pits=tuple(p for p in house.pits if p.load in kept),
        water=house.water if house.water is not None and house.water.pump_load in kept else None,
        hot_water=house.hot_water if house.hot_water is not None and house.hot_water.load in kept else None,
        heat=_heat(house, kept),
    )


def renamed(house: House, name: str) -> House:
    """The house with one name for everything that has a name."""
    machine = house.generator
    return replace(
        house,
        name=name,
        site=house.site.model_copy(update={"place": name}),
        circuits=tuple(c.model_copy(update={"name": name}) for c in house.circuits),
        loads=tuple(replace(x, name=name) for x in house.loads),
        cold=tuple(replace(c, name=name) for c in house.cold),
        pits=tuple(replace(p, name=name) for p in house.pits),
        medical=tuple(m.model_copy(update={"person": name}) for m in house.medical),
        generator=machine.model_copy(update={"name": name}) if machine is not None else None,
    )


def bare(house: House) -> House:
    """No machine, no hookup, no stores: what a first look at a house gives."""
    return replace(
        house, generator=None, hookup=None, fuel=None, battery=None, solar=None, cold=(), heat=None,
        water=None, hot_water=None, pits=(), medical=(), assumptions=(),
    )  # fmt: skip


def _heat(house: House, kept: set[str]) -> object:
    heat = house.heat
    return heat if heat is None or heat.heater_load is None or heat.heater_load in kept else None
