from datetime import date, datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from hearthold.house.site import PastOutage
from hearthold.reference.outages import outage_model
from hearthold.study.belief import (
    RATE_SHAPE,
    LengthPrior,
    believe,
    length_posterior,
    length_prior,
    rate_posterior,
)
from hearthold.study.history import History, read_history
from hearthold.study.outages import from_model

REGION = from_model(outage_model("rural_coop"))
HOUR_S = 3600.0


def history(length_s, years, months=None):
    """A history in which every outage counts."""
    n = len(length_s)
    return History(
        (datetime(2020, 1, 1),) * n,
        np.asarray(length_s, dtype=float),
        np.zeros(n, dtype=np.int64) if months is None else np.asarray(months, dtype=np.int64),
        np.ones(n, dtype=bool),
        years,
        (),
    )


def test_rates_follow_the_textbook_example():
    # Bayesian Data Analysis, section 2.6 (from memory): Gamma(3, 5) prior, 3 deaths, exposure 2.
    shape, years = rate_posterior(3.0, 5.0, 3, 2.0)
    assert (float(shape), years) == (6.0, 7.0)
    assert shape / years == pytest.approx(0.857, abs=5e-4)


def test_lengths_one_at_a_time_or_all_at_once_are_the_same():
    logs = np.random.default_rng(2).normal(9.0, 1.1, 7)
    prior = LengthPrior(8.0, 2.0, 4.0, 3.0)
    at_once = length_posterior(prior, 7, logs.mean(), np.sum((logs - logs.mean()) ** 2))
    step = prior
    for x in logs:
        step = LengthPrior(*(float(v) for v in length_posterior(step, 1, x, 0.0)))
    assert [float(v) for v in at_once] == pytest.approx([step.log_mean, step.worth, step.shape, step.scale])


def test_rates_are_the_closed_form_where_streams_cannot_be_confused():
    # Nine outages of eighty hours in ten years: all major. Gamma-Poisson in closed form then.
    found = believe(history([80 * HOUR_S] * 9, 10.0), REGION, seed=4, versions=4000)
    shape, years = rate_posterior(RATE_SHAPE, RATE_SHAPE / REGION.major.usual_per_year, 9, 10.0)
    assert found.major.usual_per_year == pytest.approx(shape / years, rel=0.02)
    assert np.std(found.major.rate_per_year) == pytest.approx(np.sqrt(shape) / years, rel=0.05)
    quiet, long = rate_posterior(RATE_SHAPE, RATE_SHAPE / REGION.routine.usual_per_year, 0, 10.0)
    assert found.routine.usual_per_year == pytest.approx(quiet / long, rel=0.03)


def test_an_empty_record_leaves_the_region_and_a_long_one_overrules_it():
    nothing = believe(history([], 0.0), REGION, seed=1, versions=4000)
    assert nothing.major.usual_per_year == pytest.approx(REGION.major.usual_per_year, rel=0.05)
    length_s = 60 * HOUR_S * np.exp(np.random.default_rng(1).normal(0.0, 0.6, 300))
    much = believe(history(length_s, 100.0), REGION, seed=1)
    assert much.major.usual_per_year == pytest.approx(3.0, rel=0.1)
    assert much.major.typical_s == pytest.approx(60 * HOUR_S, rel=0.1)


def test_a_quiet_record_lowers_the_rate():
    found = believe(history([], 10.0), REGION, seed=1)
    assert found.saifi_per_year < 0.4 * REGION.saifi_per_year


def test_months_lean_towards_those_of_the_household():
    found = believe(history([60 * HOUR_S] * 12, 10.0, [11] * 12), REGION, seed=1)
    assert found.major.month_share_frac[11] == pytest.approx(
        (24 * REGION.major.month_share_frac[11] + 12) / 36, rel=0.02
    )
    assert found.major.month_share_frac.sum() == pytest.approx(1.0)


def test_same_seed_same_versions():
    a, b = (believe(history([5 * HOUR_S, 40 * HOUR_S], 4.0), REGION, seed=7) for _ in range(2))
    assert np.array_equal(a.major.rate_per_year, b.major.rate_per_year)
    assert not np.array_equal(
        a.major.rate_per_year, believe(history([5 * HOUR_S], 4.0), REGION).major.rate_per_year
    )


def test_intervals_hold_the_truth_as_often_as_they_say():
    """Households drawn from the region's prior, histories from the households: 90 % intervals hold 90 %."""
    rng = np.random.default_rng(11)
    held, tries = np.zeros(3), 300
    for trial in range(tries):
        truth, length_s, months = [], [], []
        for stream in REGION.streams:
            prior = length_prior(stream)
            rate = rng.gamma(RATE_SHAPE) / RATE_SHAPE * stream.usual_per_year
            sigma = np.sqrt(prior.scale / rng.gamma(prior.shape))
            log_mean = rng.normal(prior.log_mean, sigma / np.sqrt(prior.worth))
            count = rng.poisson(rate * 8.0)
            length_s += list(np.exp(rng.normal(log_mean, sigma, count)))
            months += list(rng.choice(12, count, p=stream.month_share_frac))
            truth += [(rate, log_mean)]
        found = believe(history(length_s, 8.0, months), REGION, seed=trial, versions=200)
        drawn = (
            found.routine.rate_per_year,
            found.major.rate_per_year,
            np.log(found.major.median_s),
        )
        for i, (values, true) in enumerate(zip(drawn, (truth[0][0], truth[1][0], truth[1][1]), strict=True)):
            low, high = np.quantile(values, [0.05, 0.95])
            held[i] += low <= true <= high
    # Binomial scatter of 300 tries at 90 %: standard deviation 1.7 points.
    assert held / tries == pytest.approx([0.9, 0.9, 0.9], abs=0.055)


def test_the_example_history_is_read_and_believed():
    past = [
        PastOutage.model_validate({"start": "2019-11-01T02:10:00", "length": "31 h"}),
        PastOutage.model_validate({"start": "2022-12-23T10:15:00", "length": "58 h"}),
    ]
    found = believe(read_history(past, date(2026, 10, 14), ZoneInfo("UTC")), REGION)
    assert "2 outages of your own in 7.0 years" in found.source.text
