"""What a short history says about outages: a posterior, with the region as the prior.

How often: Gamma prior, Poisson counts. How long: logarithms normal, normal-inverse-gamma prior. Which stream
an outage belongs to is not known, so it is drawn too (Gibbs sampling with the label as missing data); given
labels every step is closed form. Many chains run side by side and each gives one version, so versions are
independent.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.quantities.source import Source, Standing
from hearthold.study.history import History
from hearthold.study.outages import Array, Basis, Outages, Stream

# How much the region is worth as a prior: judgement (common practice, no source).
RATE_SHAPE = 2.0  # a Gamma of this shape: lines of one region differ by 70 % about its mean
LENGTH_WORTH = 2.0  # outages that the region's typical length is worth
SIGMA_SHAPE = 4.0  # inverse gamma of the variance of the logarithm, of mean the region's: 70 % about it
MONTH_WORTH = 24.0  # outages that the table of months is worth
VERSIONS = 512
SWEEPS = 40


@dataclass(frozen=True, slots=True)
class LengthPrior:
    """Normal-inverse-gamma: mean of the logarithm, its worth, and shape and scale of the variance."""

    log_mean: float
    worth: float
    shape: float
    scale: float


def rate_posterior(shape: float, years: float, count: ArrayLike, watched_years: float) -> tuple[Array, float]:
    """Shape and years of the Gamma posterior of a rate: both priors and counts add up.

    Source: Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.6, Poisson with Gamma prior (from
    memory).
    """
    return shape + np.asarray(count, dtype=float), years + watched_years


def length_posterior(
    prior: LengthPrior, count: ArrayLike, mean: ArrayLike, squares: ArrayLike
) -> tuple[Array, ...]:
    """Mean, worth, shape and scale after `count` logarithms of that mean and sum of squares about it.

    Source: Gelman et al., Bayesian Data Analysis, 3rd ed., section 3.3, in inverse-gamma form (from memory).
    """
    n = np.asarray(count, dtype=float)
    worth = prior.worth + n
    gap = np.asarray(mean) - prior.log_mean
    middle = prior.log_mean + gap * n / worth
    scale = prior.scale + (np.asarray(squares) + gap**2 * prior.worth * n / worth) / 2.0
    return middle, worth, prior.shape + n / 2.0, scale


def length_prior(stream: Stream) -> LengthPrior:
    """The prior that a region's stream stands for."""
    variance = float(np.mean(stream.sigma)) ** 2
    return LengthPrior(
        float(np.log(stream.typical_s)), LENGTH_WORTH, SIGMA_SHAPE, variance * (SIGMA_SHAPE - 1.0)
    )


def believe(
    history: History, region: Outages, *, seed: int = 0, versions: int = VERSIONS, sweeps: int = SWEEPS
) -> Outages:
    """The outages to reckon with after a history, as equally likely versions. Same seed, same versions."""
    rng = np.random.default_rng(seed)
    labels, figures = _sample(history, region, rng, versions, sweeps)
    major_frac = labels.mean(axis=0)
    made = [
        Stream(name, rate, np.exp(log_mean), sigma, _months(prior, history, share))
        for (rate, log_mean, sigma), name, prior, share in zip(
            figures, ("routine", "major"), region.streams, (1.0 - major_frac, major_frac), strict=True
        )
    ]
    source = Source(
        f"{len(history)} outages of your own in {history.watched_years:.1f} years; "
        f"start: {region.source.text}",
        Standing.GIVEN,
    )
    return Outages(made[0], made[1], Basis.HISTORY, source, (*history.notes, *region.notes))


def _sample(
    history: History, region: Outages, rng: np.random.Generator, versions: int, sweeps: int
) -> tuple[NDArray[np.bool_], list[tuple[Array, Array, Array]]]:
    """Labels (versions, outages) and, a stream, arrays (versions,) of rate, log median and sigma."""
    logs = np.log(history.length_s)
    priors = [length_prior(s) for s in region.streams]
    shares = np.array([s.month_share_frac[history.month] for s in region.streams])
    nothing = np.zeros((versions, len(history)), dtype=bool)
    figures = [_draw(rng, s, p, nothing, history, 0.0) for s, p in zip(region.streams, priors, strict=True)]
    major = nothing
    for _ in range(sweeps):
        odds = [
            np.log(rate)[:, None] + np.log(share) - np.log(sigma)[:, None]
            - ((logs - log_mean[:, None]) / sigma[:, None]) ** 2 / 2.0
            for (rate, log_mean, sigma), share in zip(figures, shares, strict=True)
        ]  # fmt: skip
        major = rng.random(major.shape) < 1.0 / (1.0 + np.exp(odds[0] - odds[1]))
        figures = [
            _draw(rng, stream, prior, mine, history, history.watched_years)
            for stream, prior, mine in zip(region.streams, priors, (~major, major), strict=True)
        ]
    return major, figures


def _draw(
    rng: np.random.Generator,
    stream: Stream,
    prior: LengthPrior,
    mine: NDArray[np.bool_],
    history: History,
    watched_years: float,
) -> tuple[Array, Array, Array]:
    """Rate, log median and sigma of a stream, given which outages are its own: all closed form."""
    shape, years = rate_posterior(
        RATE_SHAPE, RATE_SHAPE / stream.usual_per_year, mine[:, history.counts].sum(axis=1), watched_years
    )
    logs = np.log(history.length_s)
    count = mine.sum(axis=1)
    mean = (mine @ logs) / np.maximum(count, 1)
    squares = np.sum(mine * (logs - mean[:, None]) ** 2, axis=1)
    middle, worth, var_shape, scale = length_posterior(prior, count, mean, squares)
    variance = scale / rng.standard_gamma(var_shape)
    log_mean = rng.normal(middle, np.sqrt(variance / worth))
    return rng.standard_gamma(shape) / years, log_mean, np.sqrt(variance)


def _months(prior: Stream, history: History, share: Array) -> Array:
    """Shares by month: the table, and the household's own outages as counts beside it (Dirichlet)."""
    own = np.bincount(history.month, weights=share, minlength=12)
    found: Array = (MONTH_WORTH * prior.month_share_frac + own) / (MONTH_WORTH + own.sum())
    return found
