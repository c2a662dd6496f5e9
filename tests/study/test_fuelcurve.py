from dataclasses import replace

import numpy as np
import pytest

from hearthold.engine.kernels import layout as c
from hearthold.engine.run import with_fuel
from hearthold.study.draws import DAY_S, draw
from hearthold.study.fuelcurve import endless, fuel_risk
from hearthold.study.losses import crossing_s
from hearthold.study.tracks import follow
from hearthold.study.weather import climate_of
from hearthold.study.words import dry_words

GAL_M3 = 0.003785411784


@pytest.fixture(scope="module")
def rounds(farm, compiled, routine, region):
    plenty, climate = endless(compiled), climate_of(farm)
    return [
        tuple(
            follow(plenty, routine, draw(climate, s, seed=6, number=n, longest_s=10 * DAY_S, each=16))
            for s in region.streams
        )
        for n in range(3)
    ]


def test_one_track_without_end_is_every_smaller_stock_until_it_is_dry(rounds, compiled, routine, region):
    tracks, late_s = rounds[0][1], []
    for gallons in (3.0, 8.0, 15.0):
        stock = with_fuel(compiled, gallons * GAL_M3)
        par = stock.world.par.copy()
        par[c.P_TRIPS_MOST] = 0.0
        own = follow(_with(stock, par), routine, tracks.scenarios).first_of("fuel")
        shared = crossing_s(tracks.until_s, tracks.course_of("fuel_m3"), gallons * GAL_M3)
        assert np.array_equal(np.isfinite(own), np.isfinite(shared))
        both = np.isfinite(own)
        # Burned fuel is taken as straight between checkpoints, so a time lies in the right stretch between two.
        stretch = np.searchsorted(tracks.until_s, own[both])
        assert np.array_equal(stretch, np.searchsorted(tracks.until_s, shared[both]))
        late_s.append(shared[both] - own[both])
    # Stretches are up to eight hours; late and early nearly cancel over many outages.
    assert abs(np.concatenate(late_s).mean()) < 3600.0


def _with(house, par):
    return replace(house, world=house.world._replace(par=par))


def test_more_fuel_runs_dry_less_often(rounds, farm, region, compiled):
    found = fuel_risk(farm, "gasoline", compiled.start_fuel_m3, rounds, region)
    dry = [x.year_frac.value for x in found.kept]
    assert dry == sorted(dry, reverse=True)
    assert [x.fuel_m3 for x in found.kept] == sorted(x.fuel_m3 for x in found.kept)
    assert any(x.fuel_m3 == pytest.approx(found.have_m3, abs=1e-6) for x in found.kept)
    assert found.container_m3 == pytest.approx(5 * GAL_M3)


def test_percentiles_are_where_the_curve_says(rounds, farm, region, compiled):
    found = fuel_risk(farm, "gasoline", compiled.start_fuel_m3, rounds, region)
    for enough in (found.major_m3, found.year_m3):
        amounts = [x.m3.value for x in enough]
        assert amounts == sorted(amounts)
        for x in enough:
            assert x.m3.low <= x.m3.value <= x.m3.high
            assert x.band_m3[0] - 1e-9 <= x.m3.value <= x.band_m3[1] + 1e-9
    kept = np.array([(x.fuel_m3, 1.0 - x.major_frac.value) for x in found.kept])
    for x in found.major_m3:
        if kept[0, 0] < x.m3.value < kept[-1, 0]:
            assert np.interp(x.m3.value, kept[:, 0], kept[:, 1]) == pytest.approx(x.share_frac, abs=0.04)


def test_what_outages_longer_than_the_tracks_would_burn_is_told_as_at_least(rounds, farm, region, compiled):
    """Half of the outages burn 4 L a day, half 2 L. Dry with V is then ½ S(V / 4 L) + ½ S(V / 2 L) days, by hand."""
    days = rounds[0][1].until_s / DAY_S
    assert days[-1] == 10.0

    def burning(tracks):
        course = tracks.course.copy()
        fuel = [a.id for a in tracks.accounts].index("fuel_m3")
        seen = np.minimum(days[None, :], tracks.scenarios.end_s[:, None] / DAY_S)
        fast = np.arange(len(tracks)) % 2 == 0
        course[fuel] = np.where(fast[:, None], 0.004, 0.002) * seen
        return replace(tracks, course=course)

    found = fuel_risk(farm, "gasoline", 0.005, [(burning(a), burning(b)) for a, b in rounds], region)
    survival = region.major.survival_frac
    cut = {True: 0, False: 0}
    for x in found.kept:
        true = 0.5 * survival([x.fuel_m3 / 0.004 * DAY_S])[0] + 0.5 * survival([x.fuel_m3 / 0.002 * DAY_S])[0]
        cut[x.cut] += 1
        assert x.cut is (x.fuel_m3 > 0.02)  # ten days of the slower
        if x.cut:
            assert x.major_frac.value < true
            assert dry_words(x.major_frac, x.cut).startswith(">")
        else:
            assert x.major_frac.value == pytest.approx(true, rel=0.02)
        assert x.major_band_frac[1] >= true
    assert min(cut.values()) > 0


def test_a_house_without_a_machine_has_no_curve(farm):
    from hearthold.engine.compile import compile_house

    assert endless(compile_house(replace(farm, generator=None))) is None
