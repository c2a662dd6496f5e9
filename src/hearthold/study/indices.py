"""Reliability indices as IEEE Std 1366 defines them, from a table of interruptions.

One row an interruption: how long it lasted and how many customers it took out. Momentary interruptions (five
minutes or less) count in none of the sustained indices.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.errors import InputError

MOMENTARY_S = 300.0  # longest interruption that is not sustained; IEEE Std 1366-2012, clause 3
DEVIATIONS = 2.5  # of the logarithm of daily SAIDI, above which a day is a major event day; clause 5
_LEAST_DAYS = 2


def saifi_per_customer(length_s: ArrayLike, customers_out_count: ArrayLike, served_count: float) -> float:
    """Sustained interruptions a customer served, over the period of the table.

    SAIFI = sum of customers interrupted / customers served. Arrays of shape (interruptions,).
    Raises: InputError for rows that do not match or nobody served.
    Source: IEEE Std 1366-2012, clause 3 (from memory).
    """
    _, out_count = _sustained(length_s, customers_out_count, served_count)
    return float(out_count.sum() / served_count)


def saidi_s(length_s: ArrayLike, customers_out_count: ArrayLike, served_count: float) -> float:
    """Seconds without power a customer served, over the period of the table.

    SAIDI = sum of length x customers interrupted / customers served. Arrays of shape (interruptions,).
    Raises: InputError for rows that do not match or nobody served.
    Source: IEEE Std 1366-2012, clause 3 (from memory).
    """
    lasted_s, out_count = _sustained(length_s, customers_out_count, served_count)
    return float((lasted_s * out_count).sum() / served_count)


def caidi_s(length_s: ArrayLike, customers_out_count: ArrayLike) -> float:
    """Mean length of a sustained interruption as a customer meets it: SAIDI / SAIFI.

    Raises: InputError for rows that do not match, or where no interruption was sustained.
    Source: IEEE Std 1366-2012, clause 3 (from memory).
    """
    lasted_s, out_count = _sustained(length_s, customers_out_count, 1.0)
    if out_count.sum() <= 0.0:
        raise InputError(
            "no sustained interruption is in the table, so there is no mean length.", code="no_outage"
        )
    return float((lasted_s * out_count).sum() / out_count.sum())


def asai_frac(
    length_s: ArrayLike, customers_out_count: ArrayLike, served_count: float, period_s: float
) -> float:
    """Share of the period in which an average customer had power: 1 - SAIDI / period.

    Raises: InputError for rows that do not match, nobody served, or a period shorter than SAIDI.
    Source: IEEE Std 1366-2012, clause 3 (from memory).
    """
    without_s = saidi_s(length_s, customers_out_count, served_count)
    if not period_s >= without_s > -1.0 or period_s <= 0.0:
        raise InputError(f"period_s is {period_s:g}; allowed: above 0 and at least SAIDI, {without_s:g} s.")
    return 1.0 - without_s / period_s


def major_day_threshold_s(daily_saidi_s: ArrayLike) -> float:
    """Daily SAIDI above which a day is a major event day: exp(alpha + 2.5 beta).

    alpha, beta: mean and standard deviation of the logarithms over several years of days; days without any
    interruption are left out. Raises: InputError for fewer than two such days.
    Source: IEEE Std 1366-2012, clause 5 (from memory).
    """
    days_s = np.asarray(daily_saidi_s, dtype=float)
    logs = np.log(days_s[days_s > 0.0])
    if logs.size < _LEAST_DAYS:
        raise InputError(
            f"{logs.size} days with interruptions; a threshold needs {_LEAST_DAYS} or more, better five "
            "years of them.",
            code="too_few_days",
        )
    return float(np.exp(logs.mean() + DEVIATIONS * logs.std(ddof=1)))


def _sustained(
    length_s: ArrayLike, customers_out_count: ArrayLike, served_count: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    lasted_s = np.asarray(length_s, dtype=float)
    out_count = np.asarray(customers_out_count, dtype=float)
    if lasted_s.ndim != 1 or lasted_s.shape != out_count.shape:
        raise InputError(
            f"length_s has shape {lasted_s.shape} and customers_out_count {out_count.shape}; "
            "give one of each for every interruption.",
            code="lengths",
        )
    if not (np.all(lasted_s >= 0.0) and np.all(out_count >= 0.0) and served_count > 0.0):
        raise InputError("lengths and customers must be 0 or more, and customers served above 0.")
    sustained = lasted_s > MOMENTARY_S
    return lasted_s[sustained], out_count[sustained]
