"""The machine, its fuel, the hookup, battery and sun."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from hearthold.house.fields import (
    Duration,
    Energy,
    Fraction,
    Length,
    Mass,
    Money,
    Name,
    Quantity,
    Rating,
    Section,
    VoltAmps,
    Volts,
    Volume,
    Watts,
    choice,
)
from hearthold.reference.connectors import connector_id

# The least that is still a machine: derated for height and fuel, it must leave what the models can use.
MachineWatts = Annotated[float, Quantity("power", 300.0, 200e3)]


class FuelKind(StrEnum):
    """What the machine burns."""

    GASOLINE = "gasoline"
    PROPANE = "propane"
    NATURAL_GAS = "natural_gas"
    DIESEL = "diesel"


FuelChoice = Annotated[FuelKind, BeforeValidator(choice(*(f.value for f in FuelKind)))]


class PrintedRun(Section):
    """What the maker prints: hours from one tank (or one cylinder) at a share of rated load."""

    load: Fraction
    hours_s: Duration


class FuelRating(Section):
    """What the machine gives and burns on one fuel."""

    fuel: FuelChoice
    running_w: MachineWatts
    start_w: MachineWatts | None = None
    tank_m3: Volume | None = None  # the machine's own tank
    cylinder_kg: Mass | None = None  # one propane cylinder, when full
    cylinders_joined: Annotated[int, Field(ge=1, le=12)] = 1
    gas_pipe: str | None = None
    printed: tuple[PrintedRun, ...] = ()


def _plug(word: object) -> object:
    """A name of the trade as the table of connectors has it; what it does not know, pairing refuses."""
    return (connector_id(word) or word) if isinstance(word, str) else word


Plug = Annotated[Name, BeforeValidator(_plug), WithJsonSchema({"type": "string"})]


class Generator(Section):
    """The machine in hand or in mind."""

    name: Name
    kind: Literal["portable", "inverter", "standby", "pto"] = "portable"
    owned: bool = True
    on: Annotated[tuple[FuelRating, ...], Field(min_length=1)]
    voltage_v: Volts | None = None
    breaker_a: Rating | None = None
    receptacle: Plug
    leg_limit_w: Watts | None = None
    speed_rpm: Annotated[int, Field(ge=1000, le=6000)] | None = None
    neutral: Literal["bonded", "floating", "unknown"] = "unknown"
    gfci_receptacles: bool | None = None
    co_shutoff: bool | None = None
    electric_start: bool | None = None
    start_battery_bought: date | None = None
    mass_kg: Mass | None = None
    noise_dba: Annotated[float, Field(ge=30.0, le=120.0)] | None = None
    distance_m: Length | None = None
    place: Literal["open_ground", "shelter", "porch", "garage", "shed", "indoors", "unknown"] = "unknown"
    exhaust_away: bool | None = None
    hours_run_s: Duration | None = None
    last_exercised: date | None = None
    last_oil: date | None = None
    oil_hours_s: Duration | None = None


class FuelStock(Section):
    """Fuel kept at home."""

    fuel: FuelChoice
    amount_m3: Volume | None = None
    mass_kg: Mass | None = None
    container_m3: Volume | None = None
    container_mass_kg: Mass | None = None
    stabilised: bool = False
    bought: date | None = None
    place: Literal["outside", "detached_shed", "attached_garage", "house", "basement", "tank", "unknown"] = (
        "unknown"
    )
    mains: bool = False


class FuelTrip(Section):
    """Fetching more fuel while the grid is down."""

    time_s: Duration = 5400.0
    brings_m3: Volume | None = None
    works_in_outage: bool | None = None


class Fuel(Section):
    """Stocks, the preferred fuel and the trip for more."""

    preferred: FuelChoice
    stock: tuple[FuelStock, ...] = ()
    trip: FuelTrip = FuelTrip()


class HookupKind(StrEnum):
    """Ways to get power into the house."""

    CORDS = "cords"
    INTERLOCK = "interlock"
    MANUAL_TRANSFER = "manual_transfer"
    AUTOMATIC_STANDBY = "automatic_standby"
    BATTERY_INVERTER = "battery_inverter"


class Run(Section):
    """A run of conductors: cord or feeder."""

    wire: Annotated[str, Field(pattern=r"^(\d{1,2}|[1-4]/0) AWG$|^\d{1,3}(\.\d{1,2})? mm2$")]
    material: Literal["copper", "aluminium"] = "copper"
    cable: Literal["NM-B", "UF-B", "THHN", "XHHW", "PVC70", "XLPE90", "cord"] | None = None
    length_m: Length
    live_conductors: Annotated[int, Field(ge=2, le=4)] = 2


class Hookup(Section):
    """How the machine's power enters the house, end to end."""

    kind: Annotated[HookupKind, BeforeValidator(choice(*(k.value for k in HookupKind)))]
    cord: Run | None = None
    inlet: Plug | None = None
    inlet_breaker_a: Rating | None = None
    feeder: Run | None = None
    grid_breaker_a: Rating | None = None
    transfer_a: Rating | None = None
    switched_neutral: bool | None = None
    panel_bus_a: Rating | None = None
    panel_main_a: Rating | None = None
    panel_spaces: Annotated[int, Field(ge=1, le=84)] | None = None
    panel_neutral_bonded: bool | None = None
    own_electrode: bool | None = None
    earthing: Literal["TN-C-S", "TN-S", "TT", "unknown"] = "unknown"
    inlet_place: Literal["outside", "inside", "unknown"] = "unknown"
    inlet_sign: bool | None = None
    service_sign: bool | None = None
    permit: Literal["yes", "no", "unknown"] = "unknown"
    installed_by: Literal["electrician", "household", "unknown"] = "unknown"
    installed: bool = True


class Safety(Section):
    """Alarms and habits."""

    co_alarms: Annotated[int, Field(ge=0, le=50)] | None = None
    co_alarm_battery: bool | None = None
    co_alarm_near_bedrooms: bool | None = None
    co_alarms_replace_by: date | None = None
    floors: Annotated[int, Field(ge=1, le=6)] = 1
    extinguisher: bool | None = None
    fridge_thermometer: bool | None = None
    freezer_thermometer: bool | None = None


class Battery(Section):
    """A house battery with its inverter."""

    capacity_j: Energy
    usable: Fraction = 0.9
    chemistry: Literal["lfp", "lead_acid"] = "lfp"
    charge_w: Watts
    discharge_w: Watts
    charge_efficiency: Fraction = 0.95
    discharge_efficiency: Fraction = 0.95
    idle_w: Watts = 40.0
    surge_va: VoltAmps | None = None
    place: Literal["heated", "unheated"] = "heated"


class Solar(Section):
    """Photovoltaic array usable while the grid is down."""

    peak_w: Watts
    tilt_deg: Annotated[float, Field(ge=0.0, le=90.0)] = 40.0
    azimuth_deg: Annotated[float, Field(ge=0.0, lt=360.0)] = 180.0
    performance: Fraction = 0.8


FuelPrice = Annotated[float, Quantity("money_per_volume", 0.0, 50e3)]
PowerPrice = Annotated[float, Quantity("money_per_energy", 0.0, 1e-5)]


class Prices(Section):
    """Prices the household knows; what is left out comes from the cost table and is shown as assumed."""

    currency: Annotated[str, Field(pattern=r"^[A-Z]{3}$")] = "USD"
    for_a_dollar: Annotated[float, Field(gt=0.0, le=1e6)] | None = None
    gasoline_per_m3: FuelPrice | None = None
    propane_per_m3: FuelPrice | None = None
    diesel_per_m3: FuelPrice | None = None
    electricity_per_j: PowerPrice | None = None
    electrician_per_hour: Money | None = None
    own_hour: Money | None = None

    def of_usd(self, usd: float) -> float:
        """A price of the cost table, which is in US dollars, in the household's money."""
        return usd * (1.0 if self.for_a_dollar is None else self.for_a_dollar)
