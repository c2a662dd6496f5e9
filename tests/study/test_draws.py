import numpy as np
import pytest

from hearthold.engine.weather import LAG_ONE_DAY_FRAC
from hearthold.errors import InputError
from hearthold.house.weatherfile import WeatherHours
from hearthold.study import lots, tracks
from hearthold.study.draws import COLD, DAY_S, draw, levels
from hearthold.study.weather import STORM_SHARE_FRAC, climate_of

LONGEST_S = 14 * DAY_S


@pytest.fixture(scope="module")
def climate(farm):
    return climate_of(farm)


def days_c(scenarios):
    """(n, days) daily means, the day before the failure first."""
    return scenarios.hours.outdoor_c.reshape(len(scenarios), -1, 24).mean(axis=2)


def test_same_seed_same_outages_and_rounds_differ(climate, region):
    a, b, c = (draw(climate, region.major, seed=5, number=n, longest_s=LONGEST_S) for n in (2, 2, 3))
    assert np.array_equal(a.start_s, b.start_s)
    assert np.array_equal(a.hours.outdoor_c, b.hours.outdoor_c)
    assert not np.array_equal(a.start_s, c.start_s)


def test_months_come_as_the_stream_says_and_times_of_day_evenly(climate, region):
    found = draw(climate, region.major, seed=1, number=0, longest_s=LONGEST_S, each=4096)
    share = np.bincount(found.month, minlength=12) / 4096
    # Hours and weather are spread evenly, months only through their weather: three errors of plain sampling.
    assert share == pytest.approx(region.major.month_share_frac, abs=3.0 * (0.1 * 0.9 / 4096) ** 0.5)
    of_day = found.start_s % DAY_S
    assert np.histogram(of_day, 24, (0.0, DAY_S))[0] / 4096 == pytest.approx(np.full(24, 1 / 24), abs=2e-3)


def test_one_month_asked_gives_that_month_alone(climate, region):
    found = draw(climate, region.in_month(2).major, seed=1, number=0, longest_s=LONGEST_S)
    assert set(found.month) == {1}
    assert found.day.min() >= 31
    assert found.day.max() <= 58


def test_every_outage_lies_in_its_own_stretch_of_weather(climate, region):
    found = draw(climate, region.routine, seed=1, number=0, longest_s=3 * DAY_S)
    block_s = 3600.0 * len(found.hours.outdoor_c) / len(found)
    begin = np.arange(len(found)) * block_s
    assert np.all(found.start_s >= begin + DAY_S)
    assert np.all(found.start_s + found.longest_s <= begin + block_s)


def test_days_have_the_spread_and_the_memory_of_the_generator(climate, region):
    found = draw(climate, region.routine, seed=2, number=0, longest_s=LONGEST_S, each=8192)
    normal = climate.normal_c[(found.day[:, None] + np.arange(-1, 15)) % 365]
    off = (days_c(found) - normal) / climate.deviation_k
    assert off.mean(axis=0) == pytest.approx(np.zeros(16), abs=0.05)
    assert off.std(axis=0) == pytest.approx(np.ones(16), abs=0.05)
    lag = np.mean(off[:, 1:] * off[:, :-1], axis=0)
    assert lag == pytest.approx(np.full(15, LAG_ONE_DAY_FRAC), abs=0.05)


def test_a_major_failure_brings_its_weather_for_a_week(climate, region, farm):
    calm = draw(climate, region.in_month(1).routine, seed=3, number=0, longest_s=LONGEST_S, each=2048)
    storm = draw(climate, region.in_month(1).major, seed=3, number=0, longest_s=LONGEST_S, each=2048)
    gap = days_c(storm).mean(axis=0) - days_c(calm).mean(axis=0)
    whole = -STORM_SHARE_FRAC * farm.climate.cold_spell_k
    assert gap[0] == pytest.approx(0.0, abs=0.4)
    assert gap[1:8] == pytest.approx(np.full(7, whole), abs=0.4)
    assert abs(gap[14]) < abs(whole) / 4


def test_rare_long_outages_are_followed_by_a_few_that_stand_for_the_others(climate, region):
    found = draw(climate, region.major, seed=1, number=0, longest_s=LONGEST_S, each=64)
    root = region.major.survival_frac(np.array([1.5, 4.0, 7.0]) * DAY_S) ** 0.5
    assert np.all(np.abs(np.log2(found.followed[1:] / (64 * np.minimum(0.25, root)))) <= 0.5)
    assert list(found.followed) == [64, 16, 8, 8]
    assert list(found.counts([3600.0, 1.5 * DAY_S, 2 * DAY_S, 5 * DAY_S, LONGEST_S])) == [
        1.0,
        1.0,
        4.0,
        8.0,
        8.0,
    ]
    assert list(np.unique(found.end_s, return_counts=True)[1]) == [48, 8, 8]
    assert np.all(found.end_s[:8] == LONGEST_S)
    short = draw(climate, region.routine, seed=1, number=0, longest_s=DAY_S, each=64)
    assert np.all(short.end_s == DAY_S)


def test_each_part_of_a_round_has_its_turn_to_be_followed_to_the_end(climate, region):
    """An eighth of the hours are followed to the end in a round, all of them in eight."""
    rounds = [draw(climate, region.major, seed=6, number=n, longest_s=LONGEST_S, each=128) for n in range(8)]
    hours = np.concatenate([x.start_s[: x.followed[-1]] % DAY_S for x in rounds])
    assert list(np.bincount((hours / DAY_S * 128).astype(int), minlength=128)) == [1] * 128


def test_more_are_drawn_from_the_cold_and_count_for_less(climate, region):
    wide = draw(climate, region.major, seed=4, number=0, longest_s=3 * DAY_S, each=4096)
    rounds = [
        draw(climate, region.major, seed=4, number=n, longest_s=3 * DAY_S, each=512, shares=COLD)
        for n in range(8)
    ]
    cold_c = np.quantile(days_c(wide)[:, 1:3].mean(axis=1), 1 / 32)
    weight = np.concatenate([x.weight for x in rounds])
    coldest = np.concatenate([days_c(x)[:, 1:3].mean(axis=1) for x in rounds]) < cold_c
    assert all(x.weight.mean() == pytest.approx(1.0) for x in rounds)
    assert sorted(set(weight)) == pytest.approx([1 / 4, 1 / 2, 27 / 20])
    assert 3.0 / 32 < coldest.mean() < 4.2 / 32  # drawn by the hours ahead, looked at by whole days
    assert np.mean(weight * coldest) == pytest.approx(1 / 32, rel=0.1)
    share = np.bincount(np.concatenate([x.month for x in rounds]), weight, 12) / weight.sum()
    assert share == pytest.approx(region.major.month_share_frac, abs=0.01)


@pytest.mark.parametrize("longest_s", [DAY_S, 2 * DAY_S, 6 * DAY_S, LONGEST_S])
def test_what_is_read_is_read_where_outages_end(longest_s, region):
    for points in (tracks.checkpoints_s(longest_s), lots.checkpoints_s(longest_s)):
        assert set(levels(longest_s, 64, region.major)[0]) <= set(points)


def ahead_c(scenarios):
    """(n,) mean of the daily means over the thirty hours after each failure."""
    hourly, first = (
        np.repeat(days_c(scenarios), 24, axis=1),
        (scenarios.start_s % DAY_S // 3600.0).astype(int),
    )
    return hourly[np.arange(len(scenarios))[:, None], 24 + first[:, None] + np.arange(30)].mean(axis=1)


def test_a_round_leaves_no_hour_and_no_weather_out(climate, region):
    """Sixteen stretches of the day by eight of the temperature of the next thirty hours: one outage in each."""
    wide = draw(climate, region.major, seed=4, number=0, longest_s=3 * DAY_S, each=4096)
    edges_c = np.quantile(ahead_c(wide), np.arange(1, 8) / 8)
    found = draw(climate, region.major, seed=4, number=7, longest_s=3 * DAY_S, each=128)
    cold = np.searchsorted(edges_c, ahead_c(found))
    hour = (found.start_s % DAY_S // 5400.0).astype(int)
    assert list(np.bincount(hour, minlength=16)) == [8] * 16
    held = np.zeros((16, 8))
    np.add.at(held, (hour, cold), 1)
    assert (
        np.mean(held == 1) > 0.85
    )  # the quantiles of a round's own table differ a little from the wide ones
    assert np.all(np.abs(np.bincount(cold, minlength=8) - 16) <= 2)


def test_a_weather_file_is_used_hour_by_hour(farm, region):
    hour = np.arange(2 * 8760)
    file = WeatherHours(
        np.where(hour < 8760, 5.0, 15.0) + (hour % 24) / 100.0, np.zeros(2 * 8760), "two years"
    )
    climate = climate_of(farm, file)
    found = draw(climate, region.routine, seed=1, number=0, longest_s=2 * DAY_S, each=256)
    hours_c = found.hours.outdoor_c.reshape(256, -1, 24)
    assert np.allclose(hours_c[:, 0, 13] - hours_c[:, 0, 0], 0.13)
    assert np.mean(hours_c[:, 1, 0] == 15.0) == pytest.approx(0.5, abs=0.02)


def test_a_house_without_normals_is_refused(farm):
    from dataclasses import replace

    bare = replace(farm, climate=farm.climate.model_copy(update={"mean": ()}))
    with pytest.raises(InputError, match="no monthly means"):
        climate_of(bare)
