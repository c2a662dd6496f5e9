"""Lengths of outages against scipy: survival, fits, and the predictive distribution of a short history."""

from datetime import datetime

import numpy as np
import pytest
from scipy import stats

from hearthold.reference.outages import outage_model
from hearthold.study.belief import believe, length_posterior, length_prior
from hearthold.study.history import History
from hearthold.study.outages import from_model, lognormal_median_s

REGION = from_model(outage_model("rural_coop"))
HOUR_S = 3600.0


def history(length_s, years):
    n = len(length_s)
    return History(
        (datetime(2020, 1, 1),) * n,
        np.asarray(length_s),
        np.zeros(n, dtype=np.int64),
        np.ones(n, dtype=bool),
        years,
        (),
    )


@pytest.mark.parametrize("stream", REGION.streams, ids=lambda s: s.name)
def test_survival_is_that_of_scipys_lognormal(stream):
    time_s = np.geomspace(60.0, 30 * 86400.0, 50)
    expect = stats.lognorm(s=stream.sigma[0], scale=stream.median_s[0]).sf(time_s)
    assert stream.survival_frac(time_s) == pytest.approx(expect, rel=1e-12, abs=1e-300)


def test_the_median_from_a_mean_is_scipys():
    for sigma in (0.5, 0.9, 1.5):
        median_s = lognormal_median_s(12.4 * HOUR_S, sigma)
        assert stats.lognorm(s=sigma, scale=median_s).mean() == pytest.approx(12.4 * HOUR_S)


def test_a_long_record_is_fitted_as_scipy_fits_it():
    length_s = stats.lognorm(s=0.7, scale=40 * HOUR_S).rvs(400, random_state=5)
    sigma, _, median_s = stats.lognorm.fit(length_s, floc=0.0)
    found = believe(history(length_s, 100.0), REGION, seed=2)
    assert found.major.typical_s == pytest.approx(median_s, rel=0.08)
    assert np.mean(found.major.sigma) == pytest.approx(sigma, rel=0.1)


def test_the_next_outage_is_student_distributed_in_its_logarithm():
    """Posterior predictive of normal data under its conjugate prior: t with 2 a degrees of freedom."""
    length_s = np.array([70.0, 90.0, 120.0, 160.0, 220.0]) * HOUR_S  # too long to be routine
    found = believe(history(length_s, 8.0), REGION, seed=3, versions=20000)
    logs = np.log(length_s)
    middle, worth, shape, scale = length_posterior(
        length_prior(REGION.major), 5, logs.mean(), np.sum((logs - logs.mean()) ** 2)
    )
    spread = np.sqrt(scale * (worth + 1.0) / (shape * worth))
    time_s = np.array([6.0, 24.0, 72.0, 168.0, 500.0]) * HOUR_S
    expect = stats.t(df=2.0 * shape, loc=middle, scale=spread).sf(np.log(time_s))
    assert found.major.survival_each_frac(time_s).mean(axis=0) == pytest.approx(expect, abs=0.012)


def test_rates_are_scipys_gamma():
    length_s = np.full(6, 90.0) * HOUR_S
    found = believe(history(length_s, 12.0), REGION, seed=3, versions=20000)
    expect = stats.gamma(a=2.0 + 6, scale=1.0 / (2.0 / REGION.major.usual_per_year + 12.0))
    shares = np.array([0.05, 0.25, 0.5, 0.75, 0.95])
    assert np.quantile(found.major.rate_per_year, shares) == pytest.approx(expect.ppf(shares), rel=0.03)
