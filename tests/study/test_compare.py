"""The comparison as a whole: what must hold whatever the figures, and one small sum by hand."""

from dataclasses import replace
from math import isfinite
from pathlib import Path

import numpy as np
import pytest

from hearthold.errors import InputError
from hearthold.house.reader import read_house
from hearthold.study.compare import _front, compare
from hearthold.study.design import design
from hearthold.study.habit import usual_habit
from hearthold.study.hookups import Way
from hearthold.study.measure import accounted, course_of, measure, switched
from hearthold.study.money import Terms, annuity_factor
from hearthold.study.worth import Worth, read_worth

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def found(farm, believed):
    return compare(farm, believed, seed=3, rounds=4, each=32)


@pytest.fixture(scope="module")
def course(farm, believed):
    return course_of(farm, believed, seed=3, rounds=2, each=16)


def test_six_ways_side_by_side(found):
    assert len(found.candidates) >= 6
    assert found.recommended in {c.way for c in found.candidates if c.serves}
    assert found.not_possible == (("automatic standby, mains gas", "no gas main is named in the house file"),)
    assert found.outages_tried == 2 * 4 * 32


def test_three_plain_sentences(found):
    assert all(s.endswith(".") for s in found.sentences)
    best = found.candidate(found.recommended)
    assert found.sentences[0].lower().startswith(best.name)
    assert found.candidate(found.next_best).name in found.sentences[1]
    assert "over all prices, rates and outages tried" in found.sentences[2]


def test_medical_power_is_weighed_first_and_every_chance_has_its_band(found):
    """The farm has a CPAP: it is in the first sentence; what nobody saw lost is bounded, not called impossible."""
    best = found.candidate(found.recommended)
    medical = found.sentences[0].index("to lose medical power")
    assert medical < found.sentences[0].index("to lose anything at all")
    assert f"{best.medical.year_frac.value * 100:.1f} %" in found.sentences[0]
    for c in (*found.candidates, found.nothing):
        for loss in c.losses:
            low, high = loss.year_band_frac
            assert low - 1e-9 <= loss.year_frac.value <= high + 1e-9
            assert loss.year_frac.high > 0.0
    assert any(c.routines and c.routines[0].startswith("Cold months: ") for c in found.candidates)


def test_doing_nothing_is_never_safer(found):
    """Under the same outages, no design loses more than none at all."""
    for c in found.candidates:
        assert c.any_loss_frac.value <= found.nothing.any_loss_frac.value + 1e-9, c.way
        assert c.food_per_year.value <= found.nothing.food_per_year.value + 1e-9, c.way


def test_the_same_outages_give_the_same_fate_to_alike_designs(found):
    """Interlock and sub-panel feed the same circuits from the same machine by the same routine."""
    a, b = found.candidate("interlock"), found.candidate("manual_transfer")
    assert a.routines == b.routines
    assert a.any_loss_frac.value == pytest.approx(b.any_loss_frac.value, abs=1e-4)  # legs are laid out anew
    assert a.beside_best.half < 1.0  # of their difference nothing is left but prices


def test_the_recommended_way_is_the_cheapest_that_serves_within_the_budget(found, farm):
    serving = [c for c in found.candidates if c.serves and c.to_spend.typical <= farm.budget.first]
    assert found.recommended == min(serving, key=lambda c: c.lifetime.value).way
    assert sum(c.cheapest_frac for c in found.candidates) == pytest.approx(1.0)
    assert found.candidate(found.recommended).beside_best.value == 0.0


def test_what_is_to_be_bought_is_named_and_adds_up(found):
    for c in found.candidates:
        assert sum(part.price.typical for part in c.to_buy) == pytest.approx(c.to_spend.typical)
        assert not any(part.in_place for part in c.to_buy)
    assert found.candidate("manual_transfer").to_buy == ()
    assert "inlet box 30 A" not in {part.item for part in found.candidate("interlock").to_buy}  # it is there


def test_lifetime_by_hand(found, farm):
    """The way in place: parts of later years, then upkeep, fuel, tests and food, each times its annuity."""
    c = found.candidate("manual_transfer")
    terms = found.terms
    level = float(annuity_factor(terms.discount_frac, terms.years))
    rising = float(annuity_factor(terms.discount_frac, terms.years, terms.fuel_rise_frac))
    yearly = level * (c.upkeep_per_year.typical + c.food_per_year.value)
    yearly += rising * (c.fuel_per_year.value + c.test_fuel_per_year.typical)
    # machine and cord: 1200 and 95, life 15 years: bought again in year 15, of which 10 of 15 years are left
    again = (1200.0 + 95.0) * (1.03**-15 - 10.0 / 15.0 * 1.03**-20)
    assert c.lifetime.value == pytest.approx(yearly + again, rel=1e-3)
    assert c.owning == pytest.approx(c.lifetime.value - level * c.food_per_year.value, rel=1e-9)


def test_labour_is_counted_and_priced_only_when_a_price_is_given(found, farm, believed):
    assert not found.labour_priced
    paid = replace(farm, prices=farm.prices.model_copy(update={"own_hour": 30.0}))
    ways = [Way.MANUAL_TRANSFER, Way.STANDBY_PROPANE]
    plain = compare(farm, believed, ways=ways, seed=3, rounds=2, each=16)
    priced = compare(paid, believed, ways=ways, seed=3, rounds=2, each=16)
    for way in ways:
        a, b = plain.candidate(way), priced.candidate(way)
        assert a.hands_h_per_year == b.hands_h_per_year
        more = 30.0 * a.hands_h_per_year.value * float(annuity_factor(0.03, 20.0))
        assert b.lifetime.value - a.lifetime.value == pytest.approx(more, rel=1e-9)


def test_comfort_is_worth_what_the_household_says(farm, believed):
    ways = [Way.CORDS, Way.MANUAL_TRANSFER]
    plain, priced = (
        compare(farm, believed, ways=ways, worth=w, seed=3, rounds=2, each=16)
        for w in (None, Worth({"cold_hour": 40.0}))
    )
    assert plain.candidate("cords").comfort_per_year is None
    cold_s = dict(priced.candidate("cords").unserved)["air_below_s"].value
    assert priced.candidate("cords").comfort_per_year.value == pytest.approx(40.0 * cold_s / 3600.0)
    assert priced.candidate("cords").lifetime.value > plain.candidate("cords").lifetime.value


def test_an_answer_is_repeated_to_the_bit(farm, believed):
    one, two = (
        compare(farm, believed, ways=[Way.MANUAL_TRANSFER], seed=5, rounds=2, each=16) for _ in range(2)
    )
    assert one.candidates == two.candidates


def test_an_unfed_medical_device_counts_as_unpowered(farm, course):
    """Cords that leave the device out do not make its need go away."""
    made = design(farm, Way.CORDS)
    without = replace(made, circuits=made.circuits[1:])  # the first cord is the device's
    assert "cpap" in {x.id for x in measure(without, course).losses}
    assert "cord_1" not in switched(without)
    house = accounted(without)
    assert house.load_by_id["cpap"].circuit in {c.id for c in house.fed_circuits}


def test_an_unfed_well_gives_no_water(farm, believed):
    """What nothing feeds runs dry just as without any machine, but for cans filled in spells (0.7 %)."""
    course = course_of(farm, believed, seed=3, rounds=2, each=64)
    cords, nothing = (measure(design(farm, way), course) for way in (Way.CORDS, Way.NOTHING))
    a, b = (m.usual_year(m.survivals()).times("water") for m in (cords, nothing))
    assert a == pytest.approx(b, rel=0.02)


def test_the_front_by_hand():
    assert _front([(1.0, 5.0), (2.0, 3.0), (3.0, 4.0), (4.0, 1.0), (1.0, 6.0)]) == [
        True,
        True,
        False,
        True,
        False,
    ]


def test_ranges_over_all_doubts_are_numbers(found):
    for c in found.candidates:
        low, high = c.lifetime_range
        assert isfinite(low)
        assert low < c.lifetime.value < high


@pytest.mark.parametrize(
    ("texts", "message"),
    [
        (["cold_hour=-3"], "the worth of cold_hour is -3; a price is 0 or more"),
        (["cold_hour=much"], '"cold_hour=much" is not understood'),
        (["cold_hour"], '"cold_hour" is not understood'),
        (["love=3"], '"love" cannot be priced'),
        (["night=nan"], "the worth of night is nan"),
    ],
)
def test_worth_that_cannot_be_is_refused(texts, message):
    with pytest.raises(InputError, match=message):
        read_worth(texts)


def test_worth_is_read():
    assert read_worth(["cold_hour=15", " pipes = 8000"]).prices == {"cold_hour": 15.0, "pipes": 8000.0}


def test_terms_change_the_sum(farm, believed):
    short, long = (
        compare(farm, believed, ways=[Way.MANUAL_TRANSFER], terms=Terms(years=y), seed=3, rounds=2, each=16)
        for y in (5.0, 30.0)
    )
    assert (
        short.candidate("manual_transfer").lifetime.value < long.candidate("manual_transfer").lifetime.value
    )
    assert np.isfinite(short.candidate("manual_transfer").lifetime.half)


@pytest.mark.parametrize("name", ["tarn_hollow", "skerrow_croft"])
def test_the_hookup_in_place_is_run_as_the_study_of_risk_has_it(name, region):
    """The same routines and turns by season: the two pages tell of one house."""
    house = read_house(EXAMPLES / f"{name}.toml")
    compared = measure(
        design(house, Way.MANUAL_TRANSFER), course_of(house, region, seed=3, rounds=1, each=1)
    ).routines
    risked = usual_habit(house)
    assert {r.control for r in compared} == set(risked.controls)
    assert all(said.endswith(r.sentence) for r, said in zip(compared, risked.words, strict=True))
