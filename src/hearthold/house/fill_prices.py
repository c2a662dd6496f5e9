"""Prices with the gap filled: what a dollar of the cost table is in the household's money."""

from __future__ import annotations

from hearthold.house.loads import Assumption
from hearthold.house.supply import Prices
from hearthold.reference.costs import for_a_dollar
from hearthold.reference.reader import table

_MOVES = 0.1  # how far a rate strays from a year's mean in a few years; common practice, no source


def fill_prices(prices: Prices) -> tuple[Prices, tuple[Assumption, ...]]:
    """The prices with a rate for the dollar, and the rate where it was assumed.

    Raises: TableError for a currency whose rate is not known; the document's checks ask for it before.
    """
    if prices.for_a_dollar is not None:
        return prices, ()
    rate = for_a_dollar(prices.currency)
    filled = prices.model_copy(update={"for_a_dollar": rate})
    if prices.currency == "USD":
        return filled, ()
    source = table("exchange_rates").row(prices.currency).source()
    low, high = (1.0 - _MOVES) * rate, (1.0 + _MOVES) * rate
    return filled, (Assumption("prices: for_a_dollar", rate, prices.currency, low, high, source),)
