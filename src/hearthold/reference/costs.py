"""Costs: generic ranges in US dollars, and what a dollar is elsewhere. Editable, nearly all from memory."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.errors import TableError
from hearthold.quantities.source import Source
from hearthold.quantities.units import si
from hearthold.reference.reader import table

_DIMENSION = {"gal": "volume", "kWh": "energy", "lb": "mass", "h": "time", "year": "time"}


@dataclass(frozen=True, slots=True)
class Cost:
    """A range of price; `per` says for how much of it (each, h, year, kWh, gal, lb)."""

    item: str
    meaning: str
    meaning_230: str
    per: str
    low_usd: float
    typical_usd: float
    high_usd: float
    price_year: int
    source: Source

    def called(self, system: str) -> str:
        """What it is called where the supply is of this voltage system."""
        return self.meaning_230 if system == "single_230" else self.meaning

    @property
    def low_usd_per_si(self) -> float:
        """Low price per m3, J, kg or s. Raises TableError where it is a price each."""
        return self.low_usd / _si_amount(self)

    @property
    def typical_usd_per_si(self) -> float:
        """Typical price per m3, J, kg or s. Raises TableError where it is a price each."""
        return self.typical_usd / _si_amount(self)

    @property
    def high_usd_per_si(self) -> float:
        """High price per m3, J, kg or s. Raises TableError where it is a price each."""
        return self.high_usd / _si_amount(self)


def cost(item: str) -> Cost:
    """A cost by item, such as interlock; the middle of the range where no typical figure is known.

    Raises: TableError with near names.
    """
    row = table("costs").row(item)
    low_usd, high_usd = row.si("low_usd"), row.si("high_usd")
    typical_usd = row.si_or_none("typical_usd")
    return Cost(
        item=item,
        meaning=row.text("meaning"),
        meaning_230=row.text("meaning_230" if "meaning_230" in row else "meaning"),
        per=row.text("per"),
        low_usd=low_usd,
        typical_usd=(low_usd + high_usd) / 2.0 if typical_usd is None else typical_usd,
        high_usd=high_usd,
        price_year=int(row.number("price_year")),
        source=row.source(),
    )


def cost_items() -> tuple[str, ...]:
    """Items with a cost."""
    return tuple(str(n) for n in table("costs").names())


def propane_price_usd_per_m3(state: str) -> float:
    """Residential propane in a US state, October 2025. Raises TableError. Source: EIA."""
    return table("propane_prices").row(state).si("price_usd") / si(1.0, "gal", "volume")


def for_a_dollar(currency: str) -> float:
    """How many of a currency for one US dollar, mean of 2024. Raises TableError with near names.

    Source: table exchange_rates, from memory.
    """
    return table("exchange_rates").row(currency).number("dollar_ratio")


def currencies() -> tuple[str, ...]:
    """Currencies whose rate is known."""
    return tuple(str(n) for n in table("exchange_rates").names())


def _si_amount(found: Cost) -> float:
    if found.per not in _DIMENSION:
        raise TableError(f"{found.item} is priced {found.per}, not by a quantity")
    return si(1.0, found.per, _DIMENSION[found.per])
