"""`Risk`: the answer of the study, every figure with its unit, its interval and what it rests on.

Three kinds of doubt are kept apart. An `Estimate` carries the error of sampling. A band carries what the
outage statistics leave open: the household's short record, and the spread of long outages, which published
data hardly constrain. `assumptions` lists what was taken for granted.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hearthold.quantities.source import Source
from hearthold.study.estimate import Estimate
from hearthold.study.losses import Account, Kind

Band = tuple[float, float]


class Stopped(StrEnum):
    """Why no more outages were tried."""

    NARROW = "narrow enough"
    ROUNDS = "most rounds done"
    INTERRUPTED = "interrupted"


@dataclass(frozen=True, slots=True)
class ByTime:
    """Chance that a loss has come by a time, in a major outage that lasts so long."""

    time_s: float
    lost_frac: Estimate


@dataclass(frozen=True, slots=True)
class LossRisk:
    """One loss: its chance in an outage and in a year, and what it costs where the household priced it.

    "Year" is the span of `Risk.month`: a year, or one such month.
    """

    id: str
    name: str
    kind: Kind
    means: str
    major_frac: Estimate  # in one major outage
    major_band_frac: Band  # what the lengths of major outages leave open
    any_frac: Estimate  # in one outage, routine or major
    year_frac: Estimate  # once or more in a year
    year_band_frac: Band  # what the outage statistics leave open
    season_frac: tuple[
        Estimate, ...
    ]  # in one major outage of Dec-Feb, Mar-May, Jun-Aug, Sep-Nov; empty for one month
    by_time: tuple[ByTime, ...]
    value: float | None  # of what is lost, in the currency of the house file; None: not priced
    cost_per_year: Estimate | None


@dataclass(frozen=True, slots=True)
class AmountRisk:
    """One thing that adds up: expected in one major outage, and in a year, in the unit of `account`."""

    account: Account
    major: Estimate
    major_band: Band
    year: Estimate
    year_band: Band


@dataclass(frozen=True, slots=True)
class Kept:
    """Fuel kept at home, none fetched: the chance that it runs dry.

    `cut`: outages are not followed to the end of the longest, and had each of those run dry in what is left, the chance
    would be higher by more than its interval: it is at least what it is told to be.
    """

    fuel_m3: float
    major_frac: Estimate
    major_band_frac: Band
    year_frac: Estimate
    year_band_frac: Band
    cut: bool = False


@dataclass(frozen=True, slots=True)
class Enough:
    """The fuel that is enough for a share of outages, or of years; `cut`: at least so much, as in `Kept`."""

    share_frac: float
    m3: Estimate  # high is inf where no amount that was seen is enough beyond doubt
    band_m3: Band  # what the outage statistics leave open
    cut: bool = False


@dataclass(frozen=True, slots=True)
class FuelRisk:
    """Fuel that outages burn under this control, when it never runs out."""

    have_m3: float  # at home now
    container_m3: float
    major_m3: tuple[Enough, ...]  # for shares of major outages
    year_m3: tuple[Enough, ...]  # for every outage of shares of years
    kept: tuple[Kept, ...]


@dataclass(frozen=True, slots=True)
class OutageFigures:
    """The statistics in short: outages a year and chances of long ones, with their bands."""

    routine_per_year: float
    routine_band_per_year: Band
    major_per_year: float
    major_band_per_year: Band
    major_median_s: float
    major_median_band_s: Band
    longer: tuple[tuple[float, float, Band], ...]  # length, chance of a longer outage in a year, band
    basis: str
    source: Source


@dataclass(frozen=True, slots=True)
class Risk:
    """Chances and expected costs for one house under one control."""

    house: str
    month: int | None
    currency: str
    outages: OutageFigures
    losses: tuple[LossRisk, ...]
    amounts: tuple[AmountRisk, ...]
    fuel: FuelRisk | None
    cost_per_year: Estimate | None
    cost_band: Band | None  # of that, what the outage statistics leave open
    rounds: int
    tracks: int
    worth_count: float  # plain random outages that would give intervals as narrow, by the least certain loss
    longest_s: tuple[float, float]  # of routine and major tracks; longer outages count as this long
    beyond_frac: tuple[float, float]  # chance that one is longer
    stopped: Stopped
    assumptions: tuple[str, ...]
    sources: tuple[Source, ...]

    def loss(self, ident: str) -> LossRisk:
        """One loss by id."""
        return next(x for x in self.losses if x.id == ident)

    def amount(self, ident: str) -> AmountRisk:
        """One amount by the id of its account."""
        return next(x for x in self.amounts if x.account.id == ident)
