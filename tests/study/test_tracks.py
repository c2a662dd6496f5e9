import numpy as np
import pytest

from hearthold.engine.control import DailySpell, Off, Routine, RunPlan, Spell, Watchful
from hearthold.engine.run import simulate_many
from hearthold.errors import InputError
from hearthold.study.draws import DAY_S, draw
from hearthold.study.losses import crossing_s
from hearthold.study.tracks import checkpoints_s, follow
from hearthold.study.weather import climate_of


@pytest.fixture(scope="module")
def scenarios(farm, region):
    return draw(climate_of(farm), region.major, seed=9, number=0, longest_s=6 * DAY_S, each=16)


@pytest.fixture(scope="module")
def tracks(compiled, routine, scenarios):
    return follow(compiled, routine, scenarios)


def test_a_track_is_the_outage_that_the_engine_runs(tracks, compiled, routine, scenarios):
    alone = simulate_many(compiled, scenarios.hours, routine, scenarios.start_s, scenarios.end_s)
    assert np.array_equal(tracks.first_of("chest_freezer"), alone.food_lost_s[:, 2])
    assert np.array_equal(tracks.first_of("house"), alone.air_first_s)
    assert np.array_equal(tracks.course_of("starts")[:, -1], alone.starts)
    assert tracks.course_of("fuel_m3")[:, -1] == pytest.approx(alone.fuel_m3, rel=1e-12)


def test_each_checkpoint_is_the_outage_that_ended_there(tracks, compiled, routine, scenarios):
    for k in (3, 20, 29):  # the last is a day: until then all are followed
        length_s = np.full(16, tracks.until_s[k])
        ended = simulate_many(compiled, scenarios.hours, routine, scenarios.start_s, length_s)
        assert tracks.course_of("fuel_m3")[:, k] == pytest.approx(ended.fuel_m3, rel=1e-9)
        assert tracks.course_of("air_below_s")[:, k] == pytest.approx(ended.air_below_s, abs=1e-3)
        assert tracks.course_of("medical_unpowered_s")[:, k] == pytest.approx(
            ended.medical_unpowered_s.sum(axis=1), abs=1e-6
        )
        assert np.array_equal(tracks.course_of("starts")[:, k], ended.starts)


def test_any_number_of_threads_gives_the_same_to_the_bit(tracks, compiled, routine, scenarios):
    alone = follow(compiled, routine, scenarios, threads=1)
    assert np.array_equal(alone.first_s, tracks.first_s)
    assert np.array_equal(alone.course, tracks.course)


def test_each_month_follows_its_own_control(compiled, routine, scenarios):
    winter = (0, 1, 2, 10, 11)
    twelve = [routine if m in winter else Off() for m in range(12)]
    mixed = follow(compiled, twelve, scenarios)
    starts = mixed.course_of("starts")[:, -1]
    cold = np.isin(scenarios.month, winter)
    assert np.all(starts[cold] > 0)
    assert np.all(starts[~cold] == 0)


def test_nights_are_broken_by_a_spell_at_three_and_not_by_one_at_noon(compiled, scenarios):
    def woken(at_h):
        rule = Routine((DailySpell(at_h * 3600.0, 7200.0),))
        return follow(compiled, rule, scenarios).course_of("woken")[: scenarios.followed[-1], -1]

    assert np.all(woken(12) == 0)
    # Six days hold six nights, each with a start at 3:00 and a stop at 5:00, two hours apart.
    assert np.all(np.abs(woken(3) - 12) <= 2)


def test_a_loss_of_any_kind_is_the_first_of_all(tracks):
    harm = [
        x.id for x in tracks.losses if x.kind.value in ("food", "house", "pipes", "water", "medical", "pit")
    ]
    assert np.array_equal(tracks.first_of("anything"), np.min([tracks.first_of(x) for x in harm], axis=0))


def test_a_house_without_power_loses_more_and_earlier(tracks, compiled, scenarios):
    dark = follow(compiled, Off(), scenarios)
    assert np.all(dark.first_of("chest_freezer") <= tracks.first_of("chest_freezer"))
    assert np.all(dark.course_of("fuel_m3") == 0.0)


def test_checkpoints_end_with_the_longest_and_lie_apart():
    until = checkpoints_s(14 * DAY_S)
    assert until[-1] == 14 * DAY_S
    assert np.all(np.diff(until) > 0.0)
    assert 2 * DAY_S in until


def test_crossings_are_straight_between_checkpoints():
    until = np.array([10.0, 20.0, 40.0])
    values = np.array([[0.0, 2.0, 2.0], [0.0, 0.0, 0.0], [4.0, 4.0, 8.0]])
    assert list(crossing_s(until, values, 1.0)) == [15.0, np.inf, 2.5]
    assert crossing_s(until, values, np.array([1.0, 6.0])).tolist() == [
        [15.0, np.inf, 2.5],
        [np.inf, np.inf, 30.0],
    ]


def test_controls_that_know_too_much_or_too_few_are_refused(compiled, scenarios, routine):
    with pytest.raises(InputError, match="made for one outage"):
        follow(compiled, RunPlan((Spell(0.0, 3600.0),)), scenarios)
    with pytest.raises(InputError, match="11 controls"):
        follow(compiled, [routine] * 11, scenarios)


def test_a_watchful_hand_can_be_followed_too(compiled, scenarios):
    found = follow(compiled, Watchful(), scenarios)
    assert np.any(found.course_of("starts") > 0)


def test_a_well_without_power_runs_dry_once_what_is_stored_is_used(farm, compiled, scenarios):
    """Showers and cans wait for the machine; drinking and flushing do not, and use up what is kept."""
    dark = follow(compiled, Off(), scenarios)
    dry_s = dark.first_of("water")[: scenarios.followed[-1]]
    kept_m3 = farm.water.stored_m3 + farm.water.drawdown_m3 + farm.water.below_cut_in_m3
    assert np.all(dry_s > kept_m3 / farm.water.use_day_m3 * DAY_S)  # not sooner than all of a day's use would
    assert np.all(np.isfinite(dry_s))
