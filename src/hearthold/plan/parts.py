"""The parts of a cost by name, with the replayed engine accounts behind them."""

from __future__ import annotations

from dataclasses import dataclass, fields

from hearthold.engine.kernels.layout import Array
from hearthold.plan.objective import LITRE_J


@dataclass(frozen=True, slots=True)
class CostParts:
    """What a pattern costs, in joules of fuel, part by part. The order is that of `kernels.price`."""

    fuel_j: float
    starts_j: float
    refills_j: float
    trips_j: float
    night_j: float
    comfort_j: float
    hot_water_j: float
    tasks_j: float
    jugs_j: float
    food_j: float
    house_j: float
    pipes_j: float
    pits_j: float
    water_j: float
    vital_j: float
    restore_j: float
    switching_j: float  # getting up at night to start or stop

    @classmethod
    def of(cls, parts: Array, switching_j: float = 0.0) -> CostParts:
        """From a row of the kernels."""
        values = [float(x) for x in parts]
        return cls(*values, *[switching_j])

    @property
    def total_j(self) -> float:
        """The whole cost."""
        return float(sum(getattr(self, f.name) for f in fields(self)))

    @property
    def breach_j(self) -> float:
        """What broken limits cost; zero where every limit is kept."""
        return self.food_j + self.house_j + self.pipes_j + self.pits_j + self.water_j + self.vital_j

    @property
    def kept(self) -> bool:
        """Whether every limit is kept."""
        return self.breach_j == 0.0

    @property
    def litres(self) -> dict[str, float]:
        """Parts that are not zero, as litres of gasoline with the same heat, for showing."""
        named = {f.name.removesuffix("_j"): getattr(self, f.name) / LITRE_J for f in fields(self)}
        return {name: value for name, value in named.items() if value != 0.0}
