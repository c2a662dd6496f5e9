"""When two hookups come out even."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hearthold.study.comparison import BreakEven
from hearthold.study.lifetime import Account, base_point
from hearthold.study.money import annuity_factor, payback_years

if TYPE_CHECKING:
    from collections.abc import Sequence

    from hearthold.study.money import Terms

Array = NDArray[np.float64]
_FACTORS = np.geomspace(0.02, 50.0, 400)  # times the outages: beyond, "never" is the honest word


def break_evens(accounts: Sequence[Account], terms: Terms) -> tuple[BreakEven, ...]:
    """Every pair, the one with the smaller first cost named first."""
    found = []
    for a, b in combinations(accounts, 2):
        first, second = sorted((a, b), key=lambda x: x.spending.to_spend.typical)
        found.append(break_even(first, second, terms))
    return tuple(found)


def break_even(first: Account, second: Account, terms: Terms) -> BreakEven:
    """When the one that is dearer at first has come even: years, times the outages, price of an own hour.

    Years: discounted payback of the extra first cost from what a year costs less, replacements left out.
    Source: annuity solved for its years; the rest by where the two totals cross.
    """
    extra = second.spending.to_spend.typical - first.spending.to_spend.typical
    saved = _a_year(first, terms) - _a_year(second, terms)
    point = base_point(terms, [first.way, second.way])
    gap = second.total(point | {"outages": _FACTORS}) - first.total(point | {"outages": _FACTORS})
    return BreakEven(
        first.way,
        second.way,
        payback_years(extra, saved, terms.discount_frac),
        _crossing(gap),
        _hour(first, second, terms),
    )


def _a_year(account: Account, terms: Terms) -> float:
    """A usual year: upkeep, fuel, losses and priced work."""
    point = base_point(terms, [account.way])
    spent = account.spending
    fuel_m3 = float(account.yearly.at("fuel_m3", 1.0)) + spent.test_fuel_m3_per_year.typical
    losses = float(account.yearly.at("food", 1.0) + account.yearly.at("comfort", 1.0))
    work = account.own_hour * float(account.hands_h(point))
    return (
        spent.upkeep_per_year.typical
        - spent.credit_per_year
        + fuel_m3 * spent.fuel_per_m3.typical
        + losses
        + work
    )


def _crossing(gap: Array) -> float | None:
    """The factor at which the gap changes its sign, nearest to 1; None where it never does."""
    at = np.flatnonzero(np.sign(gap[:-1]) * np.sign(gap[1:]) < 0.0)
    if len(at) == 0:
        return None
    share = gap[at] / (gap[at] - gap[at + 1])
    found = _FACTORS[at] + share * (_FACTORS[at + 1] - _FACTORS[at])
    return float(found[np.argmin(np.abs(np.log(found)))])


def _hour(first: Account, second: Account, terms: Terms) -> float | None:
    """Price of an own hour at which they are even, on top of what was priced; None where work does not differ."""
    point = base_point(terms, [first.way, second.way])
    hours = float(first.hands_h(point) - second.hands_h(point))
    if abs(hours) < 0.01:
        return None
    dearer = float(second.total(point) - first.total(point))
    per_hour = dearer / (hours * float(annuity_factor(terms.discount_frac, terms.years)))
    found = per_hour + first.own_hour
    return found if found > 0.0 else None
