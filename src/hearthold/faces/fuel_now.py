"""Fuel at this moment: what is read in the tank and beside it, and what is reckoned where only one of them is.

Nothing is counted twice: a tank that nobody read holds what is left of the fuel in the house file when the reading
beside it is taken away, at most its fill; a store that nobody read is as the house file has it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

from hearthold.engine.compile import compile_house
from hearthold.engine.kernels import layout as c
from hearthold.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from hearthold.house.house import House

TANK, STOCK = "fuel_tank", "fuel_stock"
RIM_FRAC = 1.02  # a gauge, or a gallon said in litres, is not read finer (judgement)
READ, ASSUMED_FULL, LEFT, FILED, BESIDE = (
    "as read",
    "taken as full",
    "what the house file leaves for it",
    "as in the house file",
    "what the house file leaves beside the tank",
)


@dataclass(frozen=True, slots=True)
class FuelNow:
    """Fuel in tank and stock from which a plan starts, and how each is known."""

    tank_m3: float
    stock_m3: float
    tank_known: str
    stock_known: str
    poured: bool  # False: the machine draws straight from its one store, which stands as `tank_m3`

    @property
    def read(self) -> bool:
        """Whether anything was read at all."""
        return READ in (self.tank_known, self.stock_known)


def fuel_now(house: House, values: Mapping[str, float], fuel: str | None = None) -> FuelNow | None:
    """What is in tank and stock, m3, by readings of either; None where there is no machine or fuel comes by a main.

    Raises InputError for a tank read fuller than it is large, and for two readings of one store.
    """
    found = compile_house(house, fuel=fuel)
    par = found.world.par
    if house.generator is None or found.start_fuel_m3 == inf:
        return None
    if par[c.P_FUEL_TANK] >= c.FAR / 2.0:
        return _one_store(values, found.start_fuel_m3)
    holds_m3, all_m3 = float(par[c.P_FUEL_TANK]), found.start_fuel_m3
    tank_m3, stock_m3 = values.get(TANK), values.get(STOCK)
    if tank_m3 is not None and tank_m3 > RIM_FRAC * holds_m3:
        raise InputError(
            f"reading {TANK}: more than the tank holds, {_both(holds_m3)}. What stands beside it is {STOCK}.",
            code="bad_reading",
        )
    tank_known, stock_known = (READ if x is not None else "" for x in (tank_m3, stock_m3))
    if stock_m3 is None:
        stock_m3, stock_known = float(par[c.P_FUEL_STOCK0]), BESIDE
    if tank_m3 is None:
        tank_m3 = min(holds_m3, max(0.0, all_m3 - stock_m3))
        tank_known = ASSUMED_FULL if tank_m3 >= holds_m3 else LEFT
    return FuelNow(min(tank_m3, holds_m3), stock_m3, tank_known, stock_known, True)


def _one_store(values: Mapping[str, float], all_m3: float) -> FuelNow:
    """The machine draws straight from the store: either name means it."""
    read = [values[name] for name in (TANK, STOCK) if name in values]
    if len(read) > 1:
        raise InputError(
            f"readings {TANK} and {STOCK}: this machine draws from one store, so give one of them.",
            code="bad_reading",
        )
    known = READ if read else FILED
    return FuelNow(read[0] if read else all_m3, 0.0, known, known, False)


def _both(volume_m3: float) -> str:
    """A volume in gallons and litres, where the reader's units are not known."""
    return f"{volume_m3 / 0.003785411784:.3g} gal ({1000.0 * volume_m3:.3g} L)"
