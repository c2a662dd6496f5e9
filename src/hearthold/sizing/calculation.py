"""What a load calculation is: lines, demand steps, legs and the sum, so that it can be printed and checked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.physics.loadcalc import service_current_a
from hearthold.quantities.source import Source

if TYPE_CHECKING:
    from hearthold.house.house import House


@dataclass(frozen=True, slots=True)
class LoadLine:
    """One line of a calculation: a load, its VA, the factor it counts with, and why."""

    load: str
    name: str
    rated_va: float
    factor: float
    why: str

    @property
    def counted_va(self) -> float:
        """What the line adds."""
        return self.rated_va * self.factor


@dataclass(frozen=True, slots=True)
class LegLoad:
    """What the lines of a calculation put on one leg of the panel."""

    leg: str
    va: float
    current_a: float


@dataclass(frozen=True, slots=True)
class LoadCalculation:
    """A calculation that can be printed and checked line by line.

    `lines` sum to `general_va` where `steps` follow, which take the demand factors and sum to `total_va`; without
    steps the lines sum to `total_va`. `legs` where the panel has two and the method goes load by load.
    """

    method: str
    lines: tuple[LoadLine, ...]
    steps: tuple[LoadLine, ...]
    general_va: float
    general_demand_va: float
    hvac_va: float
    total_va: float
    voltage_v: float
    current_a: float  # at `voltage_v`: both legs even, or the one hot wire of a 120 V set
    legs: tuple[LegLoad, ...]
    notes: tuple[str, ...]
    source: Source

    @property
    def worst_leg(self) -> LegLoad | None:
        """The more heavily loaded leg; None where there are no two."""
        return max(self.legs, key=lambda x: x.current_a, default=None)


def plain_sum(
    house: House,
    method: str,
    lines: tuple[LoadLine, ...],
    total_va: float,
    notes: tuple[str, ...],
    source: Source,
) -> LoadCalculation:
    """A plain sum at the full voltage: no demand factors, no legs."""
    volts = house.system.full_voltage_v
    current_a = float(service_current_a(total_va, volts))
    return LoadCalculation(
        method, lines, (), total_va, total_va, 0.0, total_va, volts, current_a, (), notes, source
    )
