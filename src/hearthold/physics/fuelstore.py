"""Fuel in cans and tanks: how fast it ages, how long a stock lasts, how far to fill, how often to fetch.

Ageing is counted as equivalent time at the temperature of the stated shelf life; its speed doubles every
`doubling_k`. That doubling is a rule of chemistry used as a guide here, not a measurement of a given
gasoline: smell, colour and how the engine starts decide. Gasoline vapour burns and kills: store it outdoors
or in a detached shed, in listed cans, within the quantity the local fire code allows.
"""

from __future__ import annotations

from math import ceil, inf

import numpy as np

from hearthold.errors import InputError
from hearthold.physics.values import Values
from hearthold.quantities.glossary import require

REFERENCE_C = 20.0  # temperature at which shelf lives are usually stated
DOUBLING_K = 10.0


def ageing_rate_kernel(store_c: float, shelf_c: float, doubling_k: float) -> float:
    """Seconds of equivalent age for each second at that temperature."""
    rate: float = 2.0 ** ((store_c - shelf_c) / doubling_k)
    return rate


def age_equivalent_s(
    store_c: Values, step_s: float, shelf_c: float = REFERENCE_C, doubling_k: float = DOUBLING_K
) -> float:
    """Equivalent age after a series of temperatures, each held for `step_s`: sum of 2^((T - Tref)/k) dt.

    `store_c` is one temperature or an array of them along time. Because hot hours count more, use hourly or
    monthly *highs and lows*, not a yearly mean.

    Raises: InputError outside the glossary ranges.
    Source: doubling for each 10 K, rule of thumb after van 't Hoff, from memory; no fuel test behind it.
    """
    require(store_c=store_c, step_s=step_s, shelf_c=shelf_c, doubling_k=doubling_k)
    rates = 2.0 ** ((np.asarray(store_c, dtype=float) - shelf_c) / doubling_k)
    return float(rates.sum()) * step_s


def usable_life_s(
    shelf_s: float, store_c: float, shelf_c: float = REFERENCE_C, doubling_k: float = DOUBLING_K
) -> float:
    """Time until the fuel is stale at a steady storage temperature: shelf life / ageing rate.

    Cold storage comes out longer than any maker promises; never count on more than a year without stabiliser.

    Raises: InputError outside the glossary ranges.
    Source: see `age_equivalent_s`.
    """
    require(shelf_s=shelf_s, store_c=store_c, shelf_c=shelf_c, doubling_k=doubling_k)
    return shelf_s / ageing_rate_kernel(store_c, shelf_c, doubling_k)


def remaining_life_s(
    shelf_s: float,
    aged_s: float,
    store_c: float,
    shelf_c: float = REFERENCE_C,
    doubling_k: float = DOUBLING_K,
) -> float:
    """Time left from an equivalent age reached so far, at a steady temperature from now; 0 when stale.

    Raises: InputError outside the glossary ranges.
    Source: see `age_equivalent_s`.
    """
    require(aged_s=aged_s)
    left_s = max(0.0, shelf_s - aged_s)
    return usable_life_s(left_s, store_c, shelf_c, doubling_k)


def rotation_m3_per_s(stock_m3: float, duration_s: float) -> float:
    """Slowest mean use (in the car, the mower, on test runs) that turns the stock over within its life.

    `duration_s` is the usable life.

    Raises: InputError if the life is 0, or outside the glossary ranges.
    Source: volume balance, oldest can first.
    """
    require(stock_m3=stock_m3, duration_s=duration_s)
    if duration_s <= 0.0:
        raise InputError("duration_s is 0 s: the fuel is stale already; hand in the stock.", code="stale")
    return stock_m3 / duration_s


def stock_lasts_s(stock_m3: float, use_m3_per_s: float) -> float:
    """Time a stock lasts at a mean use; infinite at none.

    Raises: InputError outside the glossary ranges.
    Source: volume balance.
    """
    require(stock_m3=stock_m3, use_m3_per_s=use_m3_per_s)
    if stock_m3 == 0.0:
        return 0.0
    return stock_m3 / use_m3_per_s if use_m3_per_s > 0.0 else inf


def fill_fraction(
    expansion_per_k: float, fill_c: float, hottest_c: float, vapor_space_frac: float = 0.0
) -> float:
    """Part of a container to fill so that at its hottest it still has its vapour space: (1 - s)/(1 + b dT).

    1 - `vapor_space_frac` when it will not get hotter than it was filled. Ignores that the can grows a
    little.

    Raises: InputError outside the glossary ranges.
    Source: definition of cubic expansion; about 0.00095 per K for gasoline, from memory.
    """
    require(expansion_per_k=expansion_per_k, fill_c=fill_c, hottest_c=hottest_c)
    require(vapor_space_frac=vapor_space_frac)
    return (1.0 - vapor_space_frac) / (1.0 + expansion_per_k * max(0.0, hottest_c - fill_c))


def trips(need_m3: float, can_m3: float, cans_a_trip: int, can_fill_frac: float = 0.95) -> int:
    """Trips to fetch fuel: need over (cans x volume x fill), rounded up.

    `cans_a_trip` is the number of cans taken along, 1 or more.

    Raises: InputError if no can is taken along, or outside the glossary ranges.
    Source: arithmetic.
    """
    require(need_m3=need_m3, can_m3=can_m3, can_fill_frac=can_fill_frac)
    if cans_a_trip < 1:
        raise InputError(f"cans_a_trip is {cans_a_trip}; take one can or more.", code="no_cans")
    each_m3 = can_m3 * can_fill_frac * cans_a_trip
    return ceil(need_m3 / each_m3 - 1e-9)  # rounding of unit factors must not cost a trip
