"""`Comparison`: hookups side by side, frozen, in the currency of the house file, with what each answer rests on.

Three kinds of doubt: an `Estimate` carries the error of sampling; a `Range` the spread of prices; `lifetime_range` and
`cheapest_frac` what all doubtful inputs together leave open.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.study.estimate import Estimate
from hearthold.study.losses import Kind
from hearthold.study.money import Range, Terms
from hearthold.study.result import Band, OutageFigures
from hearthold.study.sensitivity import Share, Swing

if TYPE_CHECKING:
    from hearthold.study.spending import Part


@dataclass(frozen=True, slots=True)
class Carried:
    """What a design feeds, by circuit name."""

    together: tuple[str, ...]
    in_turns: tuple[str, ...]
    never: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LossChance:
    """One loss: its chance in a year, and what that may be."""

    id: str
    kind: Kind
    year_frac: Estimate
    year_band_frac: Band  # what the outage statistics leave open


@dataclass(frozen=True, slots=True)
class Candidate:
    """One way, designed, run and reckoned."""

    way: str
    name: str
    machine: str
    machine_in_hand: bool
    battery_j: float
    panels_w: float
    fuel: str
    fuel_kept_m3: float | None  # None: by a main, or none at all
    cord_count: int
    routines: tuple[str, ...]  # in words, each with its season where there are two
    carried: Carried
    serves: bool  # carries every vital and essential circuit, at least in turns
    notes: tuple[str, ...]
    first: Range
    to_spend: Range
    to_buy: tuple[Part, ...]  # what of it is not in place
    upkeep_per_year: Range
    test_fuel_per_year: Range  # money
    fuel_per_year: Estimate  # money, outages alone
    hands_h_per_year: Estimate
    nights_per_year: Estimate
    losses: tuple[LossChance, ...]
    food_per_year: Estimate
    comfort_per_year: Estimate | None  # None where nothing was priced
    unserved: tuple[tuple[str, Estimate], ...]  # account id, expected amount a year, priced or not
    lifetime: Estimate  # everything, sampling error alone
    owning: float  # of that, to have and to run
    lifetime_range: tuple[float, float]  # middle nine tenths over all doubtful inputs
    cheapest_frac: float  # share of the points at which it is the cheapest of those that serve; 0 for others
    beside_best: Estimate  # lifetime less the recommended one's, over the same outages
    on_front: bool  # no other is both cheaper to have and less likely to lose anything

    def loss(self, ident: str) -> LossChance | None:
        """One loss by id; None where the design cannot have it."""
        return next((x for x in self.losses if x.id == ident), None)

    @property
    def medical(self) -> LossChance | None:
        """The likelier loss of medical power; None where health rides on no circuit."""
        found = [x for x in self.losses if x.kind is Kind.MEDICAL]
        return max(found, key=lambda x: x.year_frac.value, default=None)

    @property
    def per_year(self) -> float:
        """Money of a usual year: upkeep, fuel of outages and tests, food lost, and want where it was priced."""
        wanted = self.comfort_per_year.value if self.comfort_per_year is not None else 0.0
        fuel = self.fuel_per_year.value + self.test_fuel_per_year.typical
        return self.upkeep_per_year.typical + fuel + self.food_per_year.value + wanted

    @property
    def any_loss_frac(self) -> Estimate:
        """Chance of any loss at all in a year; 0 where the house has nothing to lose."""
        return next((x.year_frac for x in self.losses if x.id == "anything"), Estimate(0.0, 0.0, 0.0))


@dataclass(frozen=True, slots=True)
class BreakEven:
    """When two ways come out even: after so many years, at so many times the outages, at a price of one's own hour.

    inf or None where they never do.
    """

    cheaper_first: str
    dearer_first: str
    years: float
    outages_factor: float | None
    own_hour: float | None


@dataclass(frozen=True, slots=True)
class Comparison:
    """The ways that a house can have, with none of them as the yardstick."""

    house: str
    currency: str
    terms: Terms
    outages: OutageFigures
    candidates: tuple[Candidate, ...]
    nothing: Candidate
    not_possible: tuple[tuple[str, str], ...]  # name and reason
    recommended: str | None
    next_best: str | None
    sentences: tuple[str, str, str]
    break_even: tuple[BreakEven, ...]
    swings: tuple[Swing, ...]
    shares: tuple[Share, ...]  # empty where SALib is not installed, or nobody asked
    labour_priced: bool
    comfort_priced: bool
    outages_tried: int
    assumptions: tuple[str, ...]

    def candidate(self, way: str) -> Candidate:
        """One way by its id; raises KeyError where it was not compared."""
        for found in (*self.candidates, self.nothing):
            if found.way == way:
                return found
        raise KeyError(way)
