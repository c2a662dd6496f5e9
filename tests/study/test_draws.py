import numpy as np
import pytest

from hearthold.engine.weather import LAG_ONE_DAY_FRAC
from hearthold.errors import InputError
from hearthold.house.weatherfile import WeatherHours
from hearthold.study.draws import DAY_S, draw
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
    assert np.bincount(found.month, minlength=12) / 4096 == pytest.approx(
        region.major.month_share_frac, abs=2e-3
    )
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
    found = draw(climate, region.routine, seed=2, number=0, longest_s=LONGEST_S, each=4096)
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


def test_rare_long_outages_are_followed_by_a_quarter_that_counts_fourfold(climate, region):
    found = draw(climate, region.major, seed=1, number=0, longest_s=LONGEST_S, each=64)
    assert found.long_count == 16
    assert list(found.counts([3600.0, 3 * DAY_S])) == [1.0, 4.0]
    short = draw(climate, region.routine, seed=1, number=0, longest_s=2 * DAY_S, each=64)
    assert short.long_count == 64


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
