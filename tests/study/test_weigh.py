"""Weights against closed forms: tracks whose losses and accounts are known functions of time."""

from dataclasses import replace

import numpy as np
import pytest

from hearthold.errors import InputError
from hearthold.study.draws import DAY_S, draw
from hearthold.study.losses import Account, Kind, Loss
from hearthold.study.outages import lognormal_median_s
from hearthold.study.tracks import Tracks, checkpoints_s
from hearthold.study.weather import climate_of
from hearthold.study.weigh import gather, gather_both, weigh

LONGEST_S = 14 * DAY_S
HOUR_S = 3600.0


def made(scenarios, first_s):
    """Tracks with one loss at given times, and an account that grows by one a second until they end."""
    until = checkpoints_s(scenarios.longest_s)
    end = scenarios.end_s
    seen = np.where(first_s <= end, first_s, np.inf)
    course = np.minimum(until[None, :], end[:, None])
    return Tracks(
        scenarios,
        until,
        (Loss("x", Kind.FOOD, ""),),
        seen[None, :],
        (Account("time_s", "s", ""),),
        course[None, :, :],
    )


@pytest.fixture(scope="module")
def rounds(farm, region):
    climate, found = climate_of(farm), []
    for number in range(4):
        pair = []
        for stream in region.streams:
            drawn = draw(climate, stream, seed=1, number=number, longest_s=LONGEST_S, each=256)
            first_s = np.random.default_rng(number).permutation(
                np.quantile([1.0, 100.0], (np.arange(256) + 0.5) / 256) * HOUR_S
            )
            pair.append(made(drawn, first_s))
        found.append(tuple(pair))
    return found


def test_a_loss_at_one_time_has_the_chance_that_an_outage_lasts_so_long(region, farm):
    drawn = draw(climate_of(farm), region.major, seed=1, number=0, longest_s=LONGEST_S, each=64)
    for hours in (0.5, 3.0, 30.0, 47.0, 60.0, 200.0):
        part = gather([made(drawn, np.full(64, hours * HOUR_S))] * 2, region.major)
        chance = part.chances(region.major.survival_frac(part.time_s))[0, 0]
        assert chance == pytest.approx(region.major.survival_frac([hours * HOUR_S])[0], abs=2e-4)


def test_what_grows_with_time_is_the_mean_length_cut_at_the_longest(region, farm):
    # Limited mean of a lognormal: E min(T, L) = mean Phi((ln L - mu - s^2)/s) + L (1 - Phi((ln L - mu)/s)).
    from scipy.stats import norm

    mean_s, sigma = 20.17 * HOUR_S, 1.2
    mu = np.log(lognormal_median_s(mean_s, sigma))
    z = (np.log(LONGEST_S) - mu) / sigma
    limited_s = mean_s * norm.cdf(z - sigma) + LONGEST_S * norm.sf(z)
    drawn = draw(climate_of(farm), region.major, seed=1, number=0, longest_s=LONGEST_S, each=64)
    part = gather([made(drawn, np.full(64, np.inf))] * 2, region.major)
    assert part.amounts(region.major.survival_frac(part.time_s))[0, 0] == pytest.approx(limited_s, rel=2e-4)


def test_losses_spread_evenly_have_the_mean_survival(rounds, region):
    found = weigh(gather_both(rounds, region), region)
    grid_h = np.linspace(1.0, 100.0, 20001)
    truth = region.major.survival_frac(grid_h * HOUR_S).mean()
    assert found.major_chance[:, 0].mean() == pytest.approx(truth, abs=4e-3)


def test_a_chance_never_passes_one_however_the_long_outages_fall(region, farm):
    """Late losses of the followed few stand for the outages still open, not for a fixed number each."""
    drawn = draw(climate_of(farm), region.major, seed=1, number=0, longest_s=LONGEST_S, each=64)
    followed = np.arange(64) < 16  # to four days
    sure = np.where(followed, 2 * DAY_S, 60.0)  # each is lost: 48 at once, 16 after two days
    part = gather([made(drawn, sure)] * 2, region.major)
    certain = np.ones(len(part.time_s))  # an outage that never ends
    assert part.chances(certain)[0, 0] == pytest.approx(1.0)
    some = np.where(followed & (np.arange(64) % 2 == 0), np.inf, sure)  # half of the followed are never lost
    half = gather([made(drawn, some)] * 2, region.major)
    assert half.chances(certain)[0, 0] == pytest.approx(48 / 64 + 16 / 64 / 2)


def test_late_losses_are_the_product_limit_estimate(farm, region):
    """Kaplan and Meier by hand: of 64, 16 lost at once; of the 16 followed on, a third of 12; of 8, half of 4."""
    drawn = draw(climate_of(farm), region.major, seed=1, number=0, longest_s=LONGEST_S, each=64)
    first = np.full(64, np.inf)
    first[[0, 1, 8, 9, *range(20, 32)]] = HOUR_S  # 48 open, 12 of them followed on
    first[[2, 3, 10, 11]] = 2 * DAY_S  # 8 open of 12, 4 of them followed to the end
    first[[4, 5]] = 5 * DAY_S
    part = gather([made(drawn, first)] * 2, region.major)
    left = (48 / 64) * (8 / 12) * (2 / 4)
    assert part.chances(np.ones(len(part.time_s)))[0, 0] == pytest.approx(1.0 - left)


def test_streams_come_together_in_an_outage_and_in_a_year(rounds, region):
    found = weigh(gather_both(rounds, region), region)
    parts = [gather([p[i] for p in rounds], s) for i, s in enumerate(region.streams)]
    each = [p.chances(s.survival_frac(p.time_s))[:, 0] for p, s in zip(parts, region.streams, strict=True)]
    count = 1.98 * each[0] + 1.335 * each[1]
    assert found.year_count[:, 0] == pytest.approx(count)
    assert found.any_chance[:, 0] == pytest.approx(count / (1.98 + 1.335))
    assert found.year_chance[:, 0] == pytest.approx(1.0 - np.exp(-count))


def test_a_household_of_many_versions_gets_the_mean_of_their_years(rounds, believed):
    found = weigh(gather_both(rounds, believed), believed)
    counts = []
    for version in range(40):
        one = replace(
            believed,
            routine=only(believed.routine, version),
            major=only(believed.major, version),
        )
        counts.append(weigh(gather_both(rounds, one), one).year_chance[:, 0])
    some = replace(believed, routine=first(believed.routine, 40), major=first(believed.major, 40))
    assert weigh(gather_both(rounds, some), some).year_chance[:, 0] == pytest.approx(np.mean(counts, axis=0))
    assert found.year_chance.shape == (4, 1)


def only(stream, version):
    return replace(
        stream,
        rate_per_year=stream.rate_per_year[[version]],
        median_s=stream.median_s[[version]],
        sigma=stream.sigma[[version]],
    )


def first(stream, count):
    return replace(
        stream,
        rate_per_year=stream.rate_per_year[:count],
        median_s=stream.median_s[:count],
        sigma=stream.sigma[:count],
    )


def test_other_months_reweigh_the_same_tracks(rounds, region):
    # Losses that come in January alone: with January's share doubled they are twice as likely.
    january = [
        tuple(replace(t, first_s=np.where(t.scenarios.month == 0, 3600.0, np.inf)[None, :]) for t in pair)
        for pair in rounds
    ]
    share = region.major.month_share_frac.copy()
    share[0], share[1:] = 0.2, share[1:] * (0.8 / share[1:].sum())
    other = replace(region, major=replace(region.major, month_share_frac=share))
    before = weigh(gather_both(january, region), region).major_chance.mean()
    after = weigh(gather_both(january, other), other).major_chance.mean()
    assert after / before == pytest.approx(2.0, rel=1e-6)


def test_months_that_were_never_drawn_are_refused(farm, region):
    drawn = draw(climate_of(farm), region.in_month(1).major, seed=1, number=0, longest_s=LONGEST_S, each=16)
    with pytest.raises(InputError, match="no track begins"):
        gather([made(drawn, np.full(16, 1.0))], region.major)
