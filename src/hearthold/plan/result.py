"""`Plan`: everything computed for one house in one season, frozen, in SI, each part naming its sources."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.house.house import House
from hearthold.house.loads import Assumption
from hearthold.house.supply import FuelKind
from hearthold.plan.balance import Balance
from hearthold.plan.choice import Choice
from hearthold.plan.cost import Cost
from hearthold.plan.panel import PanelPlan
from hearthold.plan.routine import Routine
from hearthold.rules.finding import Finding
from hearthold.sizing.burn import Burn
from hearthold.sizing.calculation import LoadCalculation
from hearthold.sizing.chain import Chain
from hearthold.sizing.conditions import Conditions
from hearthold.sizing.demand import Demand
from hearthold.sizing.fuel import StockItem, TankRun
from hearthold.sizing.gas import GasPipe, Vapour
from hearthold.sizing.hold import Hold
from hearthold.sizing.inverter import InverterStart
from hearthold.sizing.order import SwitchOn
from hearthold.sizing.supply import MotorStart, Supply
from hearthold.sizing.wiring import Wiring

FORMAT = 1


@dataclass(frozen=True, slots=True)
class PlaceInHand:
    """Which house this is, for headings and units; the house itself stays in its file."""

    name: str
    place: str
    country: str
    system: str
    code: str
    planned_outage_s: float

    @classmethod
    def of(cls, house: House) -> PlaceInHand:
        """The heading of a house."""
        site = house.site
        return cls(
            house.name, site.place, site.country, site.system.value, site.code, house.outages.plan_for_s
        )


@dataclass(frozen=True, slots=True)
class FuelPlan:
    """What the machine burns, how long tank and stock last, and what the cold does to propane."""

    burn: Burn
    tank_runs: tuple[TankRun, ...]
    stock: tuple[StockItem, ...]
    day_need_m3: float | None  # under the routine
    stock_days: float | None
    other_fuels_days: tuple[tuple[FuelKind, float], ...]
    vapour: Vapour | None
    gas_pipe: GasPipe | None
    by_itself_day_m3: float | None  # burned by an automatic set that nobody stops; None for others
    by_itself_days: float | None  # that the stock then lasts


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan of one house for one month. Parts are None or empty where the house has no such thing."""

    format: int
    house: PlaceInHand
    conditions: Conditions
    demand: Demand
    supplies: tuple[Supply, ...]
    starts: tuple[MotorStart, ...]
    chain: Chain | None  # from the machine
    battery_chain: Chain | None  # from the battery's inverter, while the machine rests
    inverter_starts: tuple[InverterStart, ...]
    choice: Choice | None
    balance: Balance | None
    switch_on: SwitchOn
    wiring: Wiring
    load_calculation: LoadCalculation | None
    fuel: FuelPlan | None
    holds: tuple[Hold, ...]
    routine: Routine | None
    on_battery: PanelPlan | None  # of a house with a battery and no machine
    findings: tuple[Finding, ...]
    cost: Cost
    assumptions: tuple[Assumption, ...]

    @property
    def needs_action(self) -> bool:
        """True where something must be mended before anybody relies on the power."""
        return any(finding.needs_action for finding in self.findings)
