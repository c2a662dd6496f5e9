"""Weather and rooms to plan with."""

import pytest
from sizing_houses import farm

from hearthold.errors import InputError
from hearthold.house.site import Climate
from hearthold.sizing.conditions import conditions, harshest_month


def test_bad_winter_spell_lies_below_the_month():
    usual, harsh = conditions(farm(), 1, harsh=False), conditions(farm(), 1)
    assert usual.outdoor_mean_c == -7.0
    assert harsh.outdoor_mean_c == -17.0
    assert harsh.heating_season
    assert harsh.outdoor_low_c == pytest.approx(-22.5)


def test_bad_summer_spell_is_warmer_and_is_marked_as_assumed():
    found = conditions(farm(), 7)
    assert found.outdoor_mean_c == pytest.approx(26.0)
    assert found.house_c == pytest.approx(26.0)
    assert any("half the cold spell" in n for n in found.notes)


def test_rooms():
    found = conditions(farm(), 1)
    assert found.room_c("house") == 20.0
    assert found.room_c("outside") == -17.0
    assert found.room_c("unheated") == pytest.approx(1.5)
    with pytest.raises(InputError, match="room is 'attic'"):
        found.room_c("attic")


def test_temperature_given_overrules_the_month():
    assert conditions(farm(), 1, outdoor_mean_c=-30.0).outdoor_mean_c == -30.0


def test_what_cannot_be_known_is_refused():
    with pytest.raises(InputError, match="month is 13"):
        conditions(farm(), 13)
    house = farm(climate=Climate(weather_file="there.epw"))
    with pytest.raises(InputError, match="no monthly means"):
        conditions(house, 1)
    assert conditions(house, 1, outdoor_mean_c=3.0).outdoor_mean_c == 3.0


def test_harshest_month_is_the_coldest():
    assert harshest_month(farm()) == 1
