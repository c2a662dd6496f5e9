"""The need of a day does not follow what is at home, and with so much at home no fuel is wanting."""

import pytest
from running_houses import running_house

from hearthold.plan.fuelneed import day_need_m3
from hearthold.plan.routine import find_routine
from hearthold.sizing.conditions import conditions


def test_the_need_is_the_same_with_little_and_with_less_at_home_and_so_much_is_enough():
    needs_m3 = []
    for amount in ("1 gal", "2 gal"):
        house = running_house(fuel=amount)
        weather = conditions(house, 1)
        routine = find_routine(house, weather)
        assert not routine.kept  # else the case says nothing
        needs_m3.append(day_need_m3(house, weather, routine, "gasoline"))
        assert needs_m3[-1] > 1.2 * routine.fuel_day_m3
    assert needs_m3[0] == pytest.approx(needs_m3[1], rel=1e-3)
    kept_m3 = 1.05 * needs_m3[0] * house.outages.plan_for_s / 86400.0
    assert not find_routine(house, weather, fuel_m3=kept_m3).outlasts_its_fuel


def test_a_routine_that_keeps_every_limit_says_its_need_itself():
    house = running_house(night="true", spells="6", headroom="100 gal")
    weather = conditions(house, 7)
    routine = find_routine(house, weather)
    assert routine.kept
    assert day_need_m3(house, weather, routine, "gasoline") == routine.fuel_day_m3
