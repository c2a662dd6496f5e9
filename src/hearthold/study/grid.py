"""What a sweep varies: one list a question, and every combination of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import product
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.house.supply import Generator
from hearthold.quantities.units import si
from hearthold.study.batterysize import battery_for, need
from hearthold.study.rewire import must_carry, wanted_circuits

if TYPE_CHECKING:
    from hearthold.house.house import House

MOST_DESIGNS = 20_000
GALLON_M3 = si(1.0, "gal", "volume")


class Running(StrEnum):
    """How the machine is run."""

    ROUTINE = "routine"  # the planner's, found for the house as it is
    BY_NEED = "by_need"  # started when a store nears its limit
    ALWAYS = "always"


@dataclass(frozen=True, slots=True)
class Grid:
    """Values to try. An empty list means the house as it is; a battery of 0 means none."""

    machine_w: tuple[float, ...] = ()
    fuel_m3: tuple[float, ...] = ()
    battery_j: tuple[float, ...] = ()
    fuel_tank_m3: tuple[float, ...] = ()
    water_tank_ratio: tuple[float, ...] = ()  # pressure tank over the one that is there
    running: tuple[Running, ...] = (Running.ROUTINE,)

    def __post_init__(self) -> None:
        """Raises InputError for values below 0 or more designs than can be told apart."""
        may_be_0 = ("fuel_m3", "battery_j")
        for name in ("machine_w", "fuel_m3", "battery_j", "fuel_tank_m3", "water_tank_ratio"):
            for value in getattr(self, name):
                if not (0.0 < value < float("inf") or (value == 0.0 and name in may_be_0)):
                    raise InputError(f"{name} holds {value:g}; allowed above 0.", code="out_of_range")
        if len(self) > MOST_DESIGNS:
            raise InputError(f"{len(self)} designs are asked for; at most {MOST_DESIGNS}.", code="too_many")

    def __len__(self) -> int:
        lists = (
            self.machine_w,
            self.fuel_m3,
            self.battery_j,
            self.fuel_tank_m3,
            self.water_tank_ratio,
            self.running,
        )
        count = 1
        for values in lists:
            count *= max(1, len(values))
        return count

    def bases(self) -> Iterator[Base]:
        """Every combination but for the fuel, which tracks share."""
        for machine, battery, tank, water, running in product(
            self.machine_w or (None,),
            self.battery_j or (None,),
            self.fuel_tank_m3 or (None,),
            self.water_tank_ratio or (None,),
            self.running,
        ):
            yield Base(machine, battery, tank, water, running)


@dataclass(frozen=True, slots=True)
class Base:
    """One combination; None means as the house has it."""

    machine_w: float | None
    battery_j: float | None
    fuel_tank_m3: float | None
    water_tank_ratio: float | None
    running: Running

    def house(self, house: House) -> House:
        """The house with this combination. Raises InputError where it has no machine or no water to vary."""
        made = replace(house, generator=self._machine(house), battery=house.battery)
        if self.battery_j is not None:
            made = replace(made, battery=None)
            made = _with_battery(made, self.battery_j) if self.battery_j > 0.0 else made
        if self.water_tank_ratio is not None:
            made = _with_water_tank(made, self.water_tank_ratio)
        return made

    def _machine(self, house: House) -> Generator:
        machine = house.generator
        if machine is None:
            raise InputError(
                "a sweep needs a machine; add [generator] to the house file.", code="no_generator"
            )
        if self.machine_w is None and self.fuel_tank_m3 is None:
            return machine
        own_w = max(rating.running_w for rating in machine.on)
        factor = 1.0 if self.machine_w is None else self.machine_w / own_w
        ratings = []
        for rating in machine.on:
            more = {
                "running_w": rating.running_w * factor,
                "printed": () if factor != 1.0 else rating.printed,
            }
            more |= {"start_w": rating.start_w * factor} if rating.start_w is not None else {}
            more |= (
                {"tank_m3": self.fuel_tank_m3, "printed": ()} if self.fuel_tank_m3 and rating.tank_m3 else {}
            )
            ratings.append(rating.model_copy(update=more))
        return machine.model_copy(update={"on": tuple(ratings), "owned": factor == 1.0 and machine.owned})


def usual_grid(house: House) -> Grid:
    """About two hundred designs around a house: three sizes, nine stocks, with and without a battery, two tanks, two
    ways to run it.

    Raises: InputError where the house has no machine.
    """
    if house.generator is None:
        raise InputError("a sweep needs a machine; add [generator] to the house file.", code="no_generator")
    own_w = max(rating.running_w for rating in house.generator.on)
    fuel = tuple(5.0 * GALLON_M3 * n for n in (1, 2, 3, 4, 5, 6, 8, 10, 12))
    return Grid(
        machine_w=(0.67 * own_w, own_w, 1.33 * own_w),
        fuel_m3=fuel,
        battery_j=(0.0, 10.0 * 3.6e6),
        fuel_tank_m3=() if house.water is not None else (3.0 * GALLON_M3, 8.0 * GALLON_M3),
        water_tank_ratio=(1.0, 2.0) if house.water is not None else (),
        running=(Running.ROUTINE, Running.BY_NEED),
    )


def _with_battery(house: House, capacity_j: float) -> House:
    """A battery of one's own size with the inverter that the circuits that matter need."""
    circuits = must_carry(house, wanted_circuits(house)) or wanted_circuits(house)
    made = battery_for(need(house, circuits), 3600.0, 0.5 * capacity_j / 3600.0)
    return replace(house, battery=made.model_copy(update={"capacity_j": capacity_j}))


def _with_water_tank(house: House, ratio: float) -> House:
    """The pressure tank at another size: what it gives goes with its volume (Boyle's law at the same pressures)."""
    if house.water is None:
        raise InputError("the house file has no [water], so its tank cannot be varied.", code="no_water")
    given_m3, below_m3 = ratio * house.water.drawdown_m3, ratio * house.water.below_cut_in_m3
    return replace(house, water=replace(house.water, drawdown_m3=given_m3, below_cut_in_m3=below_m3))
