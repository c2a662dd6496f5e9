"""What the household says its losses are worth to it: nothing is priced that nobody priced, apart from food."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.study.money import price

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from hearthold.house.house import House
    from hearthold.study.measure import Array, Year

HOUR_S = 3600.0
# What may be priced: word, account or loss, how much of its own unit one price is for, what it means.
AMOUNTS = {
    "cold_hour": ("air_below_s", HOUR_S, "an hour of a house below the lowest you allow"),
    "medical_hour": ("medical_unpowered_s", HOUR_S, "an hour of a medical device without power"),
    "water_m3": ("unmet_water_m3", 1.0, "a cubic metre of water wanted and not to be had"),
    "hot_m3": ("unmet_hot_m3", 1.0, "a cubic metre of hot water wanted and not to be had"),
    "night": ("woken", 1.0, "getting up once at night for the machine"),
}
ONCE = {
    "pipes": "frozen pipes, each time they are at risk",
    "house": "a house that falls below the lowest you allow, each time",
    "water": "being without water, each time",
}
WORDS = (*AMOUNTS, *ONCE)


@dataclass(frozen=True, slots=True)
class Worth:
    """Prices by word, in the currency of the house file. What is left out is counted and not priced."""

    prices: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Raises InputError for a word that is none or a price below 0."""
        for word, value in self.prices.items():
            if word not in WORDS:
                raise InputError(
                    f'"{word}" cannot be priced; allowed: {", ".join(WORDS)}.', code="no_such_worth"
                )
            price(f"the worth of {word}", value)

    @property
    def said(self) -> bool:
        """Whether anything was priced."""
        return any(value > 0.0 for value in self.prices.values())


def read_worth(texts: Iterable[str]) -> Worth:
    """Prices as a person writes them: "cold_hour=15". Raises InputError for one that cannot be read."""
    found = {}
    for text in texts:
        word, mark, value = text.partition("=")
        try:
            found[word.strip()] = float(value)
        except ValueError:
            mark = ""
        if not mark:
            raise InputError(
                f'"{text}" is not understood; write for example cold_hour=15. Words: {", ".join(WORDS)}.',
                code="no_worth",
            )
    return Worth(found)


def food_per_year(year: Year, house: House) -> Array:
    """(r,) expected value of food lost in a year, by round: contents at the household's own figures."""
    total = 0.0 * year.count[:, 0]
    for store in house.cold:
        if store.contents_value:
            total = total + store.contents_value * year.times(store.id)
    return total


def comfort_per_year(year: Year, worth: Worth) -> Array:
    """(r,) expected worth of everything else that was priced, in a year."""
    total = 0.0 * year.count[:, 0]
    for word, value in worth.prices.items():
        if word in AMOUNTS:
            account, per, _ = AMOUNTS[word]
            total = total + value * year.sum(account) / per
        elif year.has(word):
            total = total + value * year.times(word)
    return total
