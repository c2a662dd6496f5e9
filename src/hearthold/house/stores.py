"""What lasts a while without power: food, warmth, water, pits. File sections and resolved stores."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field

from hearthold.house.fields import (
    Area,
    Celsius,
    Clock,
    Conductance,
    Duration,
    Flow,
    Fraction,
    HeatCapacity,
    Id,
    Money,
    Name,
    Quantity,
    Section,
    Volume,
    Watts,
)

# Narrower than the shared types: a value that reads must also be one the models can use.
BoxVolume = Annotated[float, Quantity("volume", 0.01, 5.0)]
LabelPower = Annotated[float, Quantity("power", 1.0, 500.0)]
Lift = Annotated[float, Quantity("length", 0.0, 500.0)]
PumpFlow = Annotated[float, Quantity("flow", 1e-6, 0.1)]
CutIn = Annotated[float, Quantity("pressure", 20e3, 1.0e6)]
CutOut = Annotated[float, Quantity("pressure", 20e3, 1.4e6)]
Precharge = Annotated[float, Quantity("pressure", 0.0, 1.0e6)]
Vessel = Annotated[float, Quantity("volume", 0.0005, 10.0)]
FillVolume = Annotated[float, Quantity("volume", 0.0005, 10.0)]
TankHeat = Annotated[float, Quantity("power", 100.0, 500e3)]
HeaterTank = Annotated[float, Quantity("volume", 0.005, 5.0)]

ColdKind = Literal["fridge", "chest_freezer", "upright_freezer", "fridge_freezer"]


class ColdEntry(Section):
    """A fridge or freezer as the file gives it."""

    id: Id
    name: Name | None = None
    kind: ColdKind
    load: Id
    volume_m3: BoxVolume | None = None
    fill: Fraction = 0.75
    room: Literal["house", "unheated", "outside"] = "house"
    set_c: Celsius | None = None
    reading_c: Celsius | None = None
    label_w: LabelPower | None = None  # energy label, e.g. "380 kWh/yr"
    built: Annotated[int, Field(ge=1950, le=2100)] | None = None
    contents_value: Money | None = None
    jugs_m3: Volume = 0.0  # water frozen in jugs, part of the contents


class Stove(Section):
    """A wood stove; its blower, if any, is a load."""

    output_w: Watts
    hours_per_day: Annotated[float, Field(ge=0.0, le=24.0)] = 12.0
    blower_load: Id | None = None
    without_blower: Fraction = 0.7
    wood_days: Annotated[float, Field(ge=0.0, le=1000.0)] | None = None


class Heater(Section):
    """The boiler, furnace or heat pump that needs electricity."""

    load: Id
    output_w: Watts
    fuel: Literal["oil", "propane", "natural_gas", "wood_pellet", "electric"] = "oil"


class HeatEntry(Section):
    """The house as a warm body, as the file gives it."""

    house_class: Id | None = None
    floor_area_m2: Area
    ua_w_per_k: Conductance | None = None
    capacity_j_per_k: HeatCapacity | None = None
    set_c: Celsius = 20.0
    lowest_c: Celsius = 10.0
    gains_w: Watts | None = None
    heater: Heater | None = None
    stove: Stove | None = None
    pipe_ratio: Fraction | None = None
    pipes_drained: bool = False


class Filling(Section):
    """Cans, jugs or a stock tank filled every day once the pump runs; part of the day's water."""

    name: Name
    amount_m3: FillVolume
    flow_m3_per_s: PumpFlow | None = None
    from_s: Clock | None = None


class WaterEntry(Section):
    """The well, its pump and pressure tank, and the day's need."""

    pump_load: Id
    lift_m: Lift | None = None
    flow_m3_per_s: PumpFlow | None = None
    cut_in_pa: CutIn = 275790.0
    cut_out_pa: CutOut = 413685.0
    tank_m3: Vessel | None = None
    precharge_pa: Precharge | None = None
    per_person_day_m3: Volume | None = None
    livestock_day_m3: Volume = 0.0
    stored_m3: Volume = 0.0
    well_yield_m3_per_s: Flow | None = None
    fill: tuple[Filling, ...] = ()


class HotWaterEntry(Section):
    """A tank water heater."""

    load: Id | None = None
    heated_by: Literal["electric", "boiler", "gas_pilot", "heat_pump"] = "electric"
    volume_m3: HeaterTank
    element_w: Watts | None = None
    output_w: TankHeat | None = None  # heat from boiler, flame or heat pump
    set_c: Celsius = 52.0
    lowest_c: Celsius = 40.0
    inlet_c: Celsius = 10.0
    standby_w_per_k: Conductance | None = None
    showers_per_day: Annotated[float, Field(ge=0.0, le=60.0)] | None = None


class PitEntry(Section):
    """A sump or effluent pit: its pump, the room it has left, and what flows in."""

    id: Id
    name: Name
    kind: Literal["sump", "effluent", "sewage"]
    load: Id
    headroom_m3: Volume
    cycle_m3: Volume
    inflow_m3_per_s: Flow
    pump_m3_per_s: PumpFlow
    outage_inflow: Fraction = 1.0


class Reading(Section):
    """A thermometer or gauge reading that replaces an assumed start state."""

    store: Id
    value_c: Celsius | None = None
    age_s: Duration = 0.0


@dataclass(frozen=True, slots=True)
class ColdStore:
    """A cold appliance with every figure both hold models need."""

    id: str
    name: str
    kind: ColdKind
    load: str
    is_freezer: bool
    volume_m3: float
    fill_frac: float
    contents_kg: float
    ua_w_per_k: float
    cabinet_j_per_k: float
    shell_frac: float  # planning model: exposed share of the contents
    coupling_w_per_k_kg: float  # planning model: shell to core, per kg of contents
    cooling_w: float  # heat removed while the compressor runs
    set_c: float
    start_c: float  # a reading if there is one, else the set point
    limit_c: float
    room: str  # "house" | "unheated" | "outside"
    contents_value: float
    fresh_j_per_k: float  # one-node heat capacity of a fridge's fresh-food space


HEAT_BAND_K = 1.0  # of a room thermostat, from call to rest (common practice, no source)


@dataclass(frozen=True, slots=True)
class HouseHeat:
    """The house as two nodes, air and mass, with its heaters."""

    floor_area_m2: float
    ua_w_per_k: float
    air_j_per_k: float
    mass_j_per_k: float
    air_mass_w_per_k: float
    air_outdoor_w_per_k: float
    mass_outdoor_w_per_k: float
    gains_w: float
    set_c: float
    comfort_c: float
    lowest_c: float
    pipe_ratio: float
    pipes_drained: bool
    heater_load: str | None
    heater_output_w: float
    heater_fuel: str | None
    stove_output_w: float
    stove_hours_per_day: float
    stove_blower_load: str | None
    stove_without_blower_frac: float
    stove_wood_s: float | None = None  # how long the wood lasts; None = not known
    start_c: float | None = None  # a reading; None = the set point


@dataclass(frozen=True, slots=True)
class WaterFill:
    """Water drawn in one go each day: it waits until the pump can run."""

    name: str
    day_m3: float
    flow_m3_per_s: float
    due_s: float  # seconds of day from which it waits


@dataclass(frozen=True, slots=True)
class WaterSystem:
    """Well, pump and pressure tank; volumes are of water."""

    pump_load: str
    pump_m3_per_s: float
    drawdown_m3: float  # between cut-out and cut-in
    below_cut_in_m3: float  # still flows after cut-in, at falling pressure
    use_day_m3: float  # in an outage, all uses, `fills` among them
    stored_m3: float
    fills: tuple[WaterFill, ...] = ()


@dataclass(frozen=True, slots=True)
class HotWater:
    """Tank water heater as one node with draws."""

    load: str | None
    heated_by: str
    volume_m3: float
    heat_w: float  # into the water while it is heated, whatever heats it
    ua_w_per_k: float
    set_c: float
    lowest_c: float
    inlet_c: float
    draw_day_m3: float  # hot water drawn a day in an outage
    start_c: float | None = None  # a reading; None = the set point


@dataclass(frozen=True, slots=True)
class Pit:
    """Sump or effluent pit."""

    id: str
    name: str
    kind: str
    load: str
    headroom_m3: float
    cycle_m3: float
    inflow_m3_per_s: float
    pump_m3_per_s: float
