"""Tracks weighed by outage statistics: chances and expected amounts, without running anything again.

An outage of random length T, independent of what happens in it, meets a loss that would come at time t with
chance S(t) = P(T > t). So the chance of the loss is the mean of S over the tracks' first times, and the
expected amount of anything that adds up is the integral of S along its course. Both are linear in S, so
tracks are first gathered into weights on a grid of times; any statistics are then one product of matrices.

Source: conditional Monte Carlo on the length, e.g. Owen, Monte Carlo theory, methods and examples, ch. 8
(from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hearthold.errors import InputError
from hearthold.study.draws import Scenarios
from hearthold.study.outages import Outages, Stream
from hearthold.study.tracks import Tracks

Array = NDArray[np.float64]
FIRST_S = 60.0
STEP_FRAC = 0.03  # between neighbouring times: survival is straight between them to 1e-4
Rounds = Sequence[tuple[Tracks, Tracks]]  # routine and major tracks of each round


@dataclass(frozen=True, eq=False)
class Gathered:
    """One stream's tracks of r rounds as weights on a grid of g times, 0 first and the longest last."""

    time_s: Array  # (g,)
    chance: Array  # (r, losses, g)
    amount: Array  # (r, accounts, g)

    def chances(self, survival: Array) -> Array:
        """(..., r, losses) from survival on the grid, (..., g)."""
        return _product(self.chance, survival)

    def amounts(self, survival: Array) -> Array:
        """(..., r, accounts)."""
        return _product(self.amount, survival)


def _product(weights: Array, survival: Array) -> Array:
    flat = survival @ weights.reshape(-1, weights.shape[-1]).T
    return np.asarray(flat.reshape(*survival.shape[:-1], *weights.shape[:-1]))


@dataclass(frozen=True, eq=False)
class Weighed:
    """Chances and amounts of each round, r rounds: what estimates and their intervals are made of."""

    major_chance: Array  # (r, losses) in one major outage
    any_chance: Array  # (r, losses) in one outage of either stream
    year_chance: Array  # (r, losses) of once or more in a year
    year_count: Array  # (r, losses) expected times in a year
    major_amount: Array  # (r, accounts)
    year_amount: Array  # (r, accounts)
    beyond_frac: tuple[float, float]  # chance that an outage of each stream lasts longer than its tracks


def gather(tracks: Sequence[Tracks], stream: Stream) -> Gathered:
    """Weights of one stream's rounds. Raises InputError where it wants months that were never drawn."""
    time_s = grid_s(tracks[0])
    weights = [_month_weights(t, stream) for t in tracks]
    chance = [_chance_weights(t, w, time_s) for t, w in zip(tracks, weights, strict=True)]
    integral = _integral_weights(time_s, tracks[0].until_s)
    amount = [_increments(t, w) @ integral for t, w in zip(tracks, weights, strict=True)]
    return Gathered(time_s, np.array(chance), np.array(amount))


def weigh(parts: tuple[Gathered, Gathered], outages: Outages) -> Weighed:
    """Chances and amounts of every gathered round under these outages."""
    usual = [s.usual_per_year for s in outages.streams]
    mean = [s.survival_frac(p.time_s) for s, p in zip(outages.streams, parts, strict=True)]
    chances = [p.chances(s) for p, s in zip(parts, mean, strict=True)]
    amounts = [p.amounts(s) for p, s in zip(parts, mean, strict=True)]
    count = sum(rate * c for rate, c in zip(usual, chances, strict=True))
    return Weighed(
        major_chance=chances[1],
        any_chance=np.asarray(count / sum(usual)),
        year_chance=year_chances(parts, outages).mean(axis=0),
        year_count=np.asarray(count),
        major_amount=amounts[1],
        year_amount=np.asarray(sum(rate * a for rate, a in zip(usual, amounts, strict=True))),
        beyond_frac=(float(mean[0][-1]), float(mean[1][-1])),
    )


def gather_both(rounds: Rounds, outages: Outages) -> tuple[Gathered, Gathered]:
    """Both streams."""
    return (
        gather([pair[0] for pair in rounds], outages.routine),
        gather([pair[1] for pair in rounds], outages.major),
    )


def year_chances(parts: tuple[Gathered, Gathered], outages: Outages) -> Array:
    """(versions, r, losses) chance of a loss once or more in a year: 1 - exp(-expected count)."""
    count: Array | float = 0.0
    for stream, part in zip(outages.streams, parts, strict=True):
        survival = stream.survival_each_frac(part.time_s)
        rate = stream.rate_per_year[:, None, None]
        count = count + rate * part.chances(survival)
    return np.asarray(-np.expm1(-np.asarray(count)))


def grid_s(tracks: Tracks) -> Array:
    """Times on which survival is taken: 0, then 3 % apart, with every checkpoint among them."""
    longest = tracks.until_s[-1]
    steps = int(np.ceil(np.log(longest / FIRST_S) / STEP_FRAC))
    fine = np.geomspace(FIRST_S, longest, steps + 1)
    return np.unique(np.concatenate([[0.0], fine[:-1], tracks.until_s]))


def _month_weights(tracks: Tracks, stream: Stream) -> Array:
    """(n,) how much each track counts, also where the months are not those it was drawn by."""
    drawn = tracks.scenarios.month_share_frac
    if np.any((stream.month_share_frac > 0.0) & (drawn <= 0.0)):
        raise InputError(
            "these outages fall in months in which no track begins; draw new ones.", code="months_not_drawn"
        )
    ratio = np.divide(stream.month_share_frac, drawn, out=np.zeros(12), where=drawn > 0.0)
    return np.asarray(tracks.scenarios.weight * ratio[tracks.scenarios.month])


def _chance_weights(tracks: Tracks, weight: Array, time_s: Array) -> Array:
    counts = loss_counts(tracks.first_s, tracks.scenarios, weight)
    return on_grid(tracks.first_s, weight * counts / len(weight), time_s)


def on_grid(first_s: Array, weight: Array, time_s: Array) -> Array:
    """(losses, g) first times (losses, n) of some weight (losses, n) on a grid, each shared between its neighbours: S
    is straight between them.
    """
    g = len(time_s)
    loss, outage = np.nonzero(first_s <= time_s[-1])
    t, w = first_s[loss, outage], weight[loss, outage]
    high = np.clip(np.searchsorted(time_s, t, side="right"), 1, g - 1)
    share = (t - time_s[high - 1]) / (time_s[high] - time_s[high - 1])
    at, size = loss * g + high, len(first_s) * g
    found = np.bincount(at - 1, w * (1.0 - share), size) + np.bincount(at, w * share, size)
    return np.asarray(found.reshape(-1, g))


def loss_counts(first_s: Array, drawn: Scenarios, weight: Array) -> Array:
    """(..., n) for how many each outage, of weight (..., n), stands for losses that first came at times (..., n).

    Once for a loss that came while all were followed. A later one stands for every outage that had not met the
    loss by then, not for a fixed number: so chances stay chances, and their scatter is smaller.
    Source: product-limit estimate, Kaplan and Meier, J. Am. Stat. Assoc. 53, 1958 (from memory).
    """
    found, stands_for = np.ones(first_s.shape), np.ones(first_s.shape[:-1])
    for end_s, before, after in zip(drawn.ends_s, drawn.followed, drawn.followed[1:], strict=False):
        late = first_s > end_s
        open_ = np.where(late, weight, 0.0)
        whole, still = open_[..., :before].sum(axis=-1), open_[..., :after].sum(axis=-1)
        stands_for = stands_for * np.divide(whole, still, out=np.zeros_like(whole), where=still > 0.0)
        found = np.where(late, stands_for[..., None], found)
    return found


def _increments(tracks: Tracks, weight: Array) -> Array:
    """(accounts, k) mean rate at which each account adds up between checkpoints."""
    before = np.concatenate([np.zeros((*tracks.course.shape[:2], 1)), tracks.course[:, :, :-1]], axis=2)
    mean = np.einsum("ank,n->ak", tracks.course - before, weight) / len(weight)
    return np.asarray(mean * tracks.scenarios.counts(tracks.until_s) / np.diff(tracks.until_s, prepend=0.0))


def _integral_weights(time_s: Array, until_s: Array) -> Array:
    """(k, g) weights whose product with S is its integral between neighbouring checkpoints (trapezoids)."""
    wide = np.diff(time_s)
    which = np.searchsorted(until_s, time_s[1:], side="left")
    found = np.zeros((len(until_s), len(time_s)))
    np.add.at(found, (which, np.arange(len(wide))), wide / 2.0)
    np.add.at(found, (which, np.arange(1, len(wide) + 1)), wide / 2.0)
    return found
