"""Outages: what utilities report, and two-part models of how often and how long by region."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.quantities.source import Source
from hearthold.reference.reader import table
from hearthold.reference.shape import Row


@dataclass(frozen=True, slots=True)
class OutageIndices:
    """Reliability indices of a year: seconds and interruptions per customer and year (IEEE 1366)."""

    saidi_s: float
    saifi_per_year: float
    saidi_without_major_s: float
    saifi_without_major_per_year: float
    source: Source

    @property
    def caidi_s(self) -> float:
        """Mean length of an interruption, major events included."""
        return self.saidi_s / self.saifi_per_year


@dataclass(frozen=True, slots=True)
class OutageStream:
    """One Poisson stream of outages with lognormal lengths; sigma is of the logarithm."""

    rate_per_year: float
    mean_s: float
    sigma: float


@dataclass(frozen=True, slots=True)
class OutageModel:
    """Routine outages and those of major events in one region."""

    region: str
    meaning: str
    routine: OutageStream
    major: OutageStream
    source: Source
    caution: str

    @property
    def saifi_per_year(self) -> float:
        """Interruptions a year."""
        return self.routine.rate_per_year + self.major.rate_per_year

    @property
    def saidi_s(self) -> float:
        """Seconds without power a year."""
        streams = (self.routine, self.major)
        return sum(s.rate_per_year * s.mean_s for s in streams)


def outage_model(region: str) -> OutageModel:
    """A model: us_average, rural_coop or storm_prone_rural. Raises TableError with near names.

    Means are set from EIA tables, spreads are judgement: every tail probability is an assumption.
    """
    row = table("outage_models").row(region)
    return OutageModel(
        region=region,
        meaning=row.text("meaning"),
        routine=_stream(row, "routine"),
        major=_stream(row, "major"),
        source=row.source("routine_mean_h", "major_mean_h"),
        caution=table("outage_models").note,
    )


def outage_regions() -> tuple[str, ...]:
    """Regions with a model."""
    return tuple(str(n) for n in table("outage_models").names())


def national_indices(year: int, method: str = "ieee") -> OutageIndices:
    """Indices of US utilities in a year, by reporting method (ieee, any). Raises TableError.

    Source: EIA Electric Power Annual, Table 11.1.
    """
    return _indices(table("outage_years").row(method, year))


def state_indices(state: str, year: int) -> OutageIndices:
    """Indices of a US state (maine, vermont, ...) in 2022 or 2023. Raises TableError.

    Source: EIA Electric Power Annual, Table 11.3.
    """
    return _indices(table("outage_states").row(state, year))


def reported_years(method: str = "ieee") -> tuple[int, ...]:
    """Years in the national table for a reporting method."""
    return tuple(int(r.number("year")) for r in table("outage_years").where(method=method))


def month_share_frac() -> tuple[float, ...]:
    """Share of major events in January to December, northern rural. Judgement, from memory."""
    return tuple(r.si("share_frac") for r in table("outage_months"))


def tail_band_frac(region: str, over_h: int) -> tuple[float, float]:
    """Lowest and highest chance in a year of an outage longer than 24, 72 or 168 h, over the spreads.

    Raises: TableError for another length or region.
    """
    table("outage_models").row(region)
    found = [r.si(f"over_{over_h}_h_frac") for r in table("outage_tails").where(region=region)]
    return min(found), max(found)


def _stream(row: Row, name: str) -> OutageStream:
    return OutageStream(
        row.number(f"{name}_rate_per_year"), row.si(f"{name}_mean_h"), row.number(f"{name}_sigma_ratio")
    )


def _indices(row: Row) -> OutageIndices:
    return OutageIndices(
        saidi_s=row.si("with_major_saidi_min"),
        saifi_per_year=row.number("with_major_saifi_per_year"),
        saidi_without_major_s=row.si("without_major_saidi_min"),
        saifi_without_major_per_year=row.number("without_major_saifi_per_year"),
        source=row.source(),
    )
