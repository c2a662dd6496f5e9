from dataclasses import replace

import numpy as np
import pytest

from hearthold.engine.control import AlwaysOn, Handling, Off, Standby
from hearthold.errors import InputError
from hearthold.study import risk as module
from hearthold.study.design import design
from hearthold.study.draws import DAY_S
from hearthold.study.hookups import Way
from hearthold.study.result import Stopped
from hearthold.study.risk import Effort, longest_s, risk

QUICK = Effort(half_frac=0.02, least_rounds=4, most_rounds=4, each=32)


@pytest.fixture(scope="module")
def found(farm, routine, region):
    return risk(farm, routine, region, seed=3, effort=QUICK)


def test_every_store_of_the_house_is_in_the_answer(found, farm):
    assert {x.id for x in found.losses} >= {
        "anything", "fridge", "pantry_freezer", "chest_freezer", "house", "pipes", "water", "hot_water",
        "cpap", "fuel",
    }  # fmt: skip
    assert {x.account.id for x in found.amounts} >= {"fuel_m3", "fuel_trips", "woken", "medical_unpowered_s"}
    assert found.loss("chest_freezer").name == "Workshop chest freezer"
    assert found.loss("chest_freezer").value == 900.0
    assert "Ines" in found.loss("cpap").name


def test_every_figure_lies_in_its_interval_and_every_chance_in_its_band(found):
    for loss in found.losses:
        for figure in (loss.major_frac, loss.any_frac, loss.year_frac, *(x.lost_frac for x in loss.by_time)):
            assert 0.0 <= figure.low <= figure.value <= figure.high <= 1.0
        assert loss.year_band_frac[0] - 1e-9 <= loss.year_frac.value <= loss.year_band_frac[1] + 1e-9
        late = [x.lost_frac.value for x in loss.by_time]
        assert late == sorted(late)
    for amount in found.amounts:
        assert amount.major.low <= amount.major.value <= amount.major.high


def test_costs_are_counts_times_what_the_household_says_it_is_worth(found):
    priced = [x for x in found.losses if x.value]
    assert {x.id for x in priced} == {"fridge", "pantry_freezer", "chest_freezer"}
    assert found.cost_per_year.value == pytest.approx(sum(x.cost_per_year.value for x in priced))
    # Expected times a year are -ln(1 - chance of once or more) for one version of the statistics.
    for x in priced:
        assert x.cost_per_year.value == pytest.approx(-np.log1p(-x.year_frac.value) * x.value, rel=0.01)


def test_winter_is_harder_on_the_house_than_summer(found):
    winter, _, summer, _ = found.loss("house").season_frac
    assert winter.low > summer.high


def test_same_seed_same_answer_on_any_number_of_threads(found, farm, routine, region):
    again = risk(farm, routine, region, seed=3, effort=replace(QUICK, threads=1))
    assert again == found
    assert risk(farm, routine, region, seed=4, effort=QUICK) != found


def test_rounds_go_on_until_narrow_enough(farm, routine, region):
    loose = risk(farm, routine, region, effort=Effort(half_frac=0.5, least_rounds=2, most_rounds=9, each=16))
    assert (loose.stopped, loose.rounds) == (Stopped.NARROW, 2)
    tight = risk(farm, routine, region, effort=Effort(half_frac=1e-9, least_rounds=2, most_rounds=3, each=16))
    assert (tight.stopped, tight.rounds) == (Stopped.ROUNDS, 3)


def test_an_interruption_keeps_what_was_done(farm, routine, region):
    told = []

    def stop_after_three(text):
        told.append(text)
        if len(told) == 3:
            raise KeyboardInterrupt

    part = risk(farm, routine, region, seed=3, effort=QUICK, progress=stop_after_three)
    assert (part.stopped, part.rounds) == (Stopped.INTERRUPTED, 3)
    assert part.fuel is None
    assert "left" in told[0]
    assert part.loss("house").major_frac.high > part.loss("house").major_frac.low


def test_an_interruption_before_there_is_an_answer_is_one(farm, routine, region):
    def stop(_):
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        risk(farm, routine, region, effort=QUICK, progress=stop)


def test_one_month_alone(farm, routine, region):
    january = risk(farm, routine, region, seed=3, month=1, effort=QUICK)
    assert january.loss("house").season_frac == ()
    assert january.outages.major_per_year == pytest.approx(0.1 * 1.335)
    year = risk(farm, routine, region, seed=3, effort=QUICK)
    assert january.loss("house").major_frac.value > year.loss("house").major_frac.value
    assert january.loss("house").year_frac.value < year.loss("house").year_frac.value
    with pytest.raises(InputError, match="allowed 1 to 12"):
        risk(farm, routine, region, month=13)


def test_no_power_at_all_burns_no_fuel_and_loses_more(found, farm, region):
    dark = risk(farm, Off(), region, seed=3, effort=QUICK)
    assert dark.amount("fuel_m3").year.value == 0.0
    assert dark.loss("chest_freezer").year_frac.value > found.loss("chest_freezer").year_frac.value


def test_a_machine_that_starts_by_itself_wakes_nobody(farm, region):
    effort = replace(QUICK, least_rounds=2, most_rounds=2)
    assert risk(farm, Standby(), region, effort=effort).amount("woken").year.value == 0.0
    assert risk(farm, AlwaysOn(), region, effort=effort).amount("woken").year.value > 0.0


def test_panels_give_what_the_sun_is_reckoned_to_give(farm, region):
    """A battery behind panels keeps the fridge longer than the battery alone; the estimate of the sun is told."""
    lit = design(farm, Way.BATTERY_PV).house
    effort = replace(QUICK, least_rounds=2, most_rounds=2)
    fed = Off(Handling(battery_circuits=tuple(c.id for c in lit.circuits)))
    sunny = risk(lit, fed, region, seed=3, month=7, effort=effort)
    dull = risk(replace(lit, solar=None), fed, region, seed=3, month=7, effort=effort)
    assert sunny.loss("fridge").year_frac.value < dull.loss("fridge").year_frac.low
    assert any("the sun is estimated" in note for note in sunny.assumptions)
    assert not any("the sun" in note for note in dull.assumptions)


def test_what_never_happened_is_not_called_impossible(farm, routine, region):
    """The rule of three by hand; fewer tracks (of 32, 8, then 4) show late losses, and fewer outages last so long.

    Twenty-seven of 32 parts of the weather have five eighths of the tracks: each of those counts for 27/20.
    """
    july = risk(farm, routine, region, month=7, effort=QUICK)
    pipes, july_major = july.loss("pipes"), region.in_month(7).major
    first = 27 / 20 * 3.0 / 128
    late = july_major.survival_frac([1.5 * DAY_S, 4 * DAY_S]) * [4 * first, 8 * first]
    bound = max(first, *late)
    assert pipes.major_frac.value == pipes.major_frac.low == 0.0
    assert pipes.major_frac.high == pytest.approx(bound)
    assert pipes.by_time[0].lost_frac.high == pytest.approx(first)
    assert pipes.by_time[-1].lost_frac.high == pytest.approx(8 * first)
    count = 2 * first * region.in_month(7).routine.usual_per_year + bound * july_major.usual_per_year
    assert pipes.year_frac.high == pytest.approx(
        1.0 - np.exp(-count), rel=0.2
    )  # routine: two levels of its own


def test_tracks_are_as_long_as_outages_are_likely(region, believed):
    assert longest_s(region.routine) == 2 * DAY_S
    assert longest_s(region.major) == module.LONGEST_DAYS * DAY_S


def test_assumptions_and_sources_are_told(found):
    assert any("days wander" in str(s) for s in found.sources)
    assert any("longer than 14 days" in note for note in found.assumptions)
    assert found.outages.basis == "the figures of a region"
