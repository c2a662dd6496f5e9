"""What a design costs over the years at one or many points of the doubtful inputs, all at once as arrays.

The outages' part is linear in how many there are and was worked out beforehand for several lengths, so a point costs
nothing: thousands of them tell what would change the order.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hearthold.study.money import Terms, annuity_factor, owning_factor
from hearthold.study.worth import Worth, comfort_per_year, food_per_year

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.study.measure import Measured, Survivals, Year
    from hearthold.study.spending import Spending

Array = NDArray[np.float64]
Point = Mapping[str, Array | float]
LENGTHS = (0.5, 0.71, 1.0, 1.41, 2.0)  # typical length of an outage over the one reckoned with
_HOUR_S = 3600.0


@dataclass(frozen=True, slots=True, eq=False)
class Yearly:
    """What a year of outages brings, a row a length of `LENGTHS` and a column a round."""

    fuel_m3: Array
    food: Array
    comfort: Array
    hands_s: Array

    def at(self, name: str, length: Array | float) -> Array:
        """Mean over the rounds at one or many lengths, straight between the logarithms."""
        rows = np.asarray(getattr(self, name)).mean(axis=1)
        return np.asarray(np.interp(np.log(length), np.log(LENGTHS), rows))


@dataclass(frozen=True, slots=True, eq=False)
class Account:
    """One design's money and work: what it costs to have, and what a year brings."""

    way: str
    spending: Spending
    yearly: Yearly
    own_hour: float  # price of an hour of one's own; 0 where nobody gave one

    def total(self, point: Point) -> Array:
        """Everything over the years, in today's money: parts, upkeep, fuel, losses and priced work."""
        return self.owning(point) + self.losing(point)

    def owning(self, point: Point) -> Array:
        """To have and to run: parts, upkeep, fuel, priced work."""
        rate, years = point["discount"], point["years"]
        level = annuity_factor(rate, years)
        spent = self._parts(point) + level * (
            self.spending.upkeep_per_year.typical - self.spending.credit_per_year
        )
        fuel_m3 = self.yearly.at("fuel_m3", point["length"]) * point["outages"]
        fuel = self.spending.fuel_per_m3.typical * (fuel_m3 + self.spending.test_fuel_m3_per_year.typical)
        spent = spent + annuity_factor(rate, years, point["fuel_rise"]) * fuel * point["fuel"]
        hours = (
            self.yearly.at("hands_s", point["length"]) * point["outages"] + self.spending.hands_yearly_s
        ) / _HOUR_S
        return np.asarray(spent + level * hours * self.own_hour * point["own_hour"])

    def losing(self, point: Point) -> Array:
        """Losses: food, and what was priced of the rest."""
        food = self.yearly.at("food", point["length"]) * point["food"]
        comfort = self.yearly.at("comfort", point["length"]) * point["worth"]
        return np.asarray(
            annuity_factor(point["discount"], point["years"]) * (food + comfort) * point["outages"]
        )

    def hands_h(self, point: Point) -> Array:
        """Hours of work a year."""
        outage_s = self.yearly.at("hands_s", point["length"]) * point["outages"]
        return np.asarray((outage_s + self.spending.hands_yearly_s) / _HOUR_S)

    def _parts(self, point: Point) -> Array:
        """Bought now and whenever worn out; of a part in hand only what comes after it."""
        total = np.zeros(np.broadcast_shapes(*(np.shape(x) for x in point.values())))
        place = point.get(f"price of {self.way}", 0.0)
        for part in self.spending.parts:
            owned = owning_factor(part.life_years.at(point["lives"]), point["discount"], point["years"])
            factor = np.maximum(0.0, owned - 1.0) if part.in_place else owned
            total = total + part.price.at(place) * factor
        return total


def account_of(
    found: Measured, spent: Spending, house: House, worth: Worth, survivals: Sequence[Survivals]
) -> Account:
    """The account of a measured design; `survivals` are those of each length of `LENGTHS`."""
    years = [found.usual_year(survival) for survival in survivals]
    yearly = Yearly(
        np.array([year.sum("fuel_m3") for year in years]),
        np.array([food_per_year(year, house) for year in years]),
        np.array([comfort_per_year(year, worth) for year in years]),
        np.array([hands_s(year, spent) for year in years]),
    )
    return Account(found.design.way.value, spent, yearly, house.prices.own_hour or 0.0)


def hands_s(year: Year, spent: Spending) -> Array:
    """(r,) work that a year's outages bring, apart from upkeep."""
    setups = spent.setup_s * year.times("machine_out")
    tending = spent.start_s * year.sum("starts") + spent.refill_s * year.sum("refills")
    return np.asarray(setups + tending + spent.trip_s * year.sum("fuel_trips"))


def base_point(terms: Terms, ways: Sequence[str]) -> dict[str, Array | float]:
    """The inputs as they are reckoned with."""
    point: dict[str, Array | float] = {
        "years": terms.years, "discount": terms.discount_frac, "fuel_rise": terms.fuel_rise_frac, "lives": 0.0,
        "fuel": 1.0, "outages": 1.0, "length": 1.0, "food": 1.0, "worth": 1.0, "own_hour": 1.0,
    }  # fmt: skip
    return point | {f"price of {way}": 0.0 for way in ways}
