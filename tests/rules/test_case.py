"""What a case works out for the rules, against figures worked by hand."""

from dataclasses import replace

import pytest
from tests.rules.houses import CALM, TODAY, changed, item

from hearthold.house.supply import Hookup, HookupKind
from hearthold.rules.case import Case
from hearthold.rules.check import check
from hearthold.sizing.conditions import conditions

HOUR_S = 3600.0


def case(house):
    return Case(house, conditions(house, 1), TODAY)


def test_quiet_time_wraps_past_midnight():
    house = changed(CALM, people={"quiet_from_s": 22.5 * HOUR_S, "quiet_to_s": 7 * HOUR_S})
    assert case(house).quiet_s == 8.5 * HOUR_S


@pytest.mark.parametrize(
    ("night", "spells", "gap_h"),
    [
        (True, 12, 2.0),  # 24 h in twelve parts
        (True, 3, 8.0),
        (False, 4, 8.0),  # the night of 22:00 to 06:00 is longer than 16 h in four parts
        (False, 1, 16.0),  # the whole waking day
    ],
)
def test_longest_gap_between_spells(night, spells, gap_h):
    house = changed(CALM, wishes={"run_at_night": night, "spells_per_day": spells})
    assert case(house).gap_s == pytest.approx(gap_h * HOUR_S)


def test_an_automatic_set_leaves_no_gap():
    assert case(changed(CALM, hookup={"kind": HookupKind.AUTOMATIC_STANDBY})).gap_s == 0.0


def test_transfer_equipment_reaches_its_circuits_and_nothing_else():
    found = case(CALM)
    assert found.fed_ids == {"well", "fridge", "freezer", "boiler", "rooms"}
    assert [x.id for x in CALM.loads if not found.reaches(x)] == ["range"]


def test_cords_reach_what_has_a_plug_of_the_right_voltage():
    cords = changed(CALM, hookup=Hookup.model_validate({"kind": "cords"}))
    assert [x.id for x in case(cords).fed_loads] == ["fridge", "freezer", "lamp"]
    sump = item(cords, "loads", "boiler", group="sanitation", kind="sump_third_hp")
    assert "boiler" in [x.id for x in case(sump).fed_loads]


def test_no_essential_panel_is_spoken_of_where_cords_are_all_there_is():
    cords = changed(CALM, hookup=Hookup.model_validate({"kind": "cords"}))
    cords = item(cords, "circuits", "boiler", panel="main")
    (told,) = [f for f in check(case(cords)) if f.rule == "heater-not-fed"]
    assert "essential panel" not in told.remedy
    assert "put on transfer equipment, which has yet to be put in" in told.remedy


def test_nothing_is_reached_without_a_hookup():
    assert case(changed(CALM, hookup=None)).fed_loads == ()


def test_needed_power_is_the_sum_of_vital_and_essential_loads():
    found = case(CALM)
    assert found.needed.total_w == pytest.approx(960 + 150 + 150 + 250 + 250)
    duties = [(x.running_w, x.duty_frac) for x in found.needed_loads]
    assert found.needed_average_w == pytest.approx(sum(w * share for w, share in duties))
    assert "range" not in {x.id for x in found.needed_loads}


def test_without_a_machine_there_is_no_supply_and_no_start():
    found = case(replace(CALM, generator=None))
    assert (found.supply, found.chain, found.starts, found.rating) == (None, None, (), None)


def test_the_rating_follows_the_preferred_fuel():
    assert case(CALM).rating.fuel.value == "gasoline"
    assert case(replace(CALM, fuel=None)).rating.fuel.value == "gasoline"
