"""Intervals against scipy's, against arithmetic by hand, and by how often they hold a truth that is known."""

from math import inf

import numpy as np
import pytest
from scipy import stats

from hearthold.study.estimate import enough, estimate, first_at, never_seen_frac, ratio, share_of
from hearthold.study.gathering import chance

TIMES = 2000
# Of 2,000 intervals that hold the truth 95 times in 100, so many do, 999 times in 1,000 (binomial).
LEAST = stats.binom.ppf(0.0005, TIMES, 0.95) / TIMES


def held(intervals, truth):
    return np.mean([x.low <= truth <= x.high for x in intervals])


def test_a_mean_has_the_interval_of_scipys_t_distribution():
    values = np.array([3.0, 5.0, 4.0, 8.0])
    found = estimate(values)
    low, high = stats.t.interval(0.95, 3, loc=values.mean(), scale=stats.sem(values))
    assert (found.value, found.low, found.high) == pytest.approx((5.0, low, high))


@pytest.mark.parametrize(("count", "homes"), [(0, 12), (1, 12), (6, 12), (12, 12), (37, 900)])
def test_a_share_has_the_wilson_interval_of_scipy(count, homes):
    theirs = stats.binomtest(count, homes).proportion_ci(method="wilson")
    found = share_of(count, homes)
    assert (found.low, found.high) == pytest.approx((theirs.low, theirs.high), abs=1e-12)
    assert found.low <= found.value == count / homes <= found.high


def test_a_share_of_nothing_may_be_anything():
    assert (share_of(0, 0).low, share_of(0, 0).high) == (0.0, 1.0)


@pytest.mark.parametrize("share", [0.1, 0.5])
def test_intervals_of_shares_hold_the_truth_by_simulation(share):
    counts = np.random.default_rng(3).binomial(40, share, TIMES)
    # Wilson's coverage swings about 95 % with the count: 93 to 98 % near here (Brown, Cai and DasGupta,
    # Statistical Science 16, 2001, fig. 5, from memory).
    assert 0.925 < held([share_of(int(c), 40) for c in counts], share) < 0.985


def test_a_ratio_by_hand():
    found = ratio([1.0, 3.0], [1.0, 1.0])  # of equal bottoms, the mean of the tops
    plain = estimate([1.0, 3.0])
    assert (found.value, found.low, found.high) == pytest.approx((plain.value, plain.low, plain.high))
    assert ratio([2.0], [4.0]).value == 0.5
    assert ratio([2.0], [4.0]).high == inf


def test_intervals_of_ratios_hold_the_truth_by_simulation():
    rng = np.random.default_rng(4)
    costs = rng.uniform(500.0, 1500.0, (TIMES, 60))
    saved = 0.002 * costs * rng.uniform(0.0, 2.0, costs.shape)
    coverage = held([ratio(s, c) for s, c in zip(saved, costs, strict=True)], 0.002)
    assert LEAST - 0.01 < coverage < 0.97  # linearised: a little short of 95 % with 60 pairs


def test_the_amount_that_is_enough_lies_straight_between():
    amounts = np.array([0.0, 10.0, 20.0, 40.0])
    rows = np.array([[0.2, 0.4, 0.8, 1.0], [0.2, 0.4, 0.6, 0.7], [0.9, 0.9, 0.9, 0.9]])
    assert first_at(amounts, rows, 0.6) == pytest.approx([15.0, 20.0, 0.0])
    assert first_at(amounts, rows, 0.95) == pytest.approx([35.0, inf, inf])


@pytest.mark.parametrize("share", [0.5, 0.8, 0.9, 0.95])
def test_intervals_of_what_is_enough_hold_the_truth_by_simulation(share):
    """Four rounds of 128 lognormal amounts; the truth is scipy's percentile."""
    rng = np.random.default_rng(5)
    amounts = np.concatenate([[0.0], np.geomspace(0.05, 40.0, 320)])

    def one():
        drawn = np.sort(rng.lognormal(0.0, 0.8, (4, 128)), axis=1)
        return enough(
            amounts, np.array([np.searchsorted(x, amounts, side="right") for x in drawn]) / 128, share
        )

    coverage = held([one() for _ in range(TIMES)], stats.lognorm.ppf(share, 0.8))
    # Counts come in whole numbers, so the interval is a little wide or narrow by turns.
    assert 0.93 < coverage < 0.975


def test_what_no_round_showed_leaves_the_high_end_open():
    amounts = np.array([0.0, 10.0, 20.0])
    rounds = np.array([[0.5, 0.9, 1.0], [0.5, 0.9, 1.0]])
    assert enough(amounts, rounds, 0.99, unseen=0.005).high < inf
    assert enough(amounts, rounds, 0.99, unseen=0.02).high == inf
    assert enough(amounts, rounds, 0.9, unseen=0.02).high == pytest.approx(10.0)


@pytest.mark.parametrize("chance_frac", [0.0005, 0.002, 0.01])
def test_intervals_of_rare_chances_hold_the_truth_by_simulation(chance_frac):
    """Eight rounds of 32 tries that hardly ever show it: scatter alone would say 0 for certain."""
    seen = np.random.default_rng(6).binomial(32, chance_frac, (TIMES, 8)) / 32
    found = [chance(rounds, never_seen_frac(8 * 32)) for rounds in seen]
    assert held([estimate(rounds) for rounds in seen], chance_frac) < 0.93
    assert held(found, chance_frac) > LEAST - 0.01
