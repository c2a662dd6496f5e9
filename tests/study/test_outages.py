import numpy as np
import pytest

from hearthold.errors import InputError
from hearthold.house.site import OutageStatistics
from hearthold.reference.outages import national_indices, outage_model, outage_regions, state_indices
from hearthold.reference.reader import table
from hearthold.study.fromindices import from_both, from_house, from_one
from hearthold.study.outages import from_model, sigma_factors

HOUR_S = 3600.0


def lost_s(outages):
    """Seconds without power in a usual year, from the streams' own figures."""
    return sum(s.usual_per_year * s.median_s[0] * np.exp(s.sigma[0] ** 2 / 2.0) for s in outages.streams)


@pytest.mark.parametrize("region", outage_regions())
def test_a_region_gives_its_own_indices_back(region):
    model = outage_model(region)
    made = from_model(model)
    assert made.saifi_per_year == pytest.approx(model.saifi_per_year)
    assert lost_s(made) == pytest.approx(model.saidi_s)


@pytest.mark.parametrize("region", outage_regions())
def test_chances_of_long_outages_are_those_of_the_published_table(region):
    # outage_tails was computed apart from this program, when the table of regions was drawn up.
    made = from_model(outage_model(region))
    for row in table("outage_tails").where(region=region):
        other = made.major.with_sigma_by(row.number("major_sigma_ratio") / 1.2)
        for hours in (24, 72, 168):
            chance = 1.0 - np.exp(
                -other.usual_per_year * other.survival_frac([hours * HOUR_S])[0]
                - made.routine.usual_per_year * made.routine.survival_frac([hours * HOUR_S])[0]
            )
            assert chance == pytest.approx(row.si(f"over_{hours}_h_frac"), abs=2e-4)


def test_the_band_spans_the_table_and_widens_with_length():
    made = from_model(outage_model("rural_coop"))
    assert sigma_factors() == pytest.approx((0.8 / 1.2, 1.0 / 1.2, 1.0, 1.5 / 1.2))
    low, high = made.chance_band_frac(168 * HOUR_S)
    assert (low, high) == pytest.approx((0.0002, 0.0042), abs=1e-4)
    assert low < made.chance_in_year_frac(168 * HOUR_S) < high


def test_another_spread_keeps_the_mean_length():
    stream = from_model(outage_model("us_average")).major
    for factor in (0.5, 1.3):
        other = stream.with_sigma_by(factor)
        mean_s = other.median_s[0] * np.exp(other.sigma[0] ** 2 / 2.0)
        assert mean_s == pytest.approx(12.4 * HOUR_S)


def test_months_share_a_year_between_them():
    made = from_model(outage_model("us_average"))
    months = [made.in_month(m) for m in range(1, 13)]
    assert sum(m.major.usual_per_year for m in months) == pytest.approx(made.major.usual_per_year)
    assert months[0].major.month_share_frac[0] == 1.0


@pytest.mark.parametrize("year", [2014, 2019, 2023])
def test_national_indices_with_and_without_major_events_are_reproduced(year):
    indices = national_indices(year)
    made = from_both(indices, outage_model("us_average"))
    assert made.saifi_per_year == pytest.approx(indices.saifi_per_year)
    assert lost_s(made) == pytest.approx(indices.saidi_s)
    assert made.routine.usual_per_year == pytest.approx(indices.saifi_without_major_per_year)


@pytest.mark.parametrize(("saidi_min", "saifi"), [(1863.0, 3.314), (120.0, 0.725), (40.0, 1.0)])
def test_one_pair_of_indices_is_reproduced_whatever_the_utility(saidi_min, saifi):
    made = from_one(saidi_min * 60.0, saifi, True, outage_model("us_average"))
    assert made.saifi_per_year == pytest.approx(saifi)
    assert lost_s(made) == pytest.approx(saidi_min * 60.0)


def test_a_division_by_the_region_comes_near_a_state_that_prints_both():
    # Maine 2023 prints 125 min without major events; only the pair with major events is given here.
    maine = state_indices("maine", 2023)
    made = from_one(maine.saidi_s, maine.saifi_per_year, True, outage_model("storm_prone_rural"))
    routine_min = made.routine.median_s[0] * np.exp(made.routine.sigma[0] ** 2 / 2.0) / 60.0
    assert routine_min == pytest.approx(125.0, rel=0.02)
    assert made.major.usual_per_year == pytest.approx(3.314 - 1.979, rel=0.02)


def test_indices_without_major_events_get_the_regions_major_ones():
    made = from_one(120.0 * 60.0, 1.1, False, outage_model("rural_coop"))
    assert made.routine.usual_per_year == 1.1
    assert made.major.usual_per_year == 0.45


def test_two_of_three_indices_are_enough_and_one_is_not():
    shape = outage_model("us_average")
    by_two = from_house(OutageStatistics(saifi=2.0, caidi="2 h"), shape)
    assert lost_s(by_two) == pytest.approx(4 * HOUR_S)
    assert from_house(OutageStatistics(saidi="4 h", caidi="2 h"), shape).saifi_per_year == pytest.approx(2.0)
    assert from_house(OutageStatistics(saifi=2.0), shape) is None


@pytest.mark.parametrize(
    ("given", "match"),
    [
        ({"saidi": "4 h", "saifi": 2.0, "caidi": "3 h"}, "leave one out"),
        ({"saidi": "0 h", "saifi": 2.0}, "must be above 0"),
        ({"saidi": "4 h", "saifi": 0.0}, "must be above 0"),
    ],
)
def test_indices_that_cannot_be_are_refused(given, match):
    with pytest.raises(InputError, match=match):
        from_house(OutageStatistics(**given), outage_model("us_average"))
