"""The catalogue of loads: whole, consistent with itself and with physics, honest about what was read."""

import re

import pytest

from hearthold.errors import TableError
from hearthold.quantities.source import Standing
from hearthold.reference import motors
from hearthold.reference.loads import load, load_groups, load_ids, loads
from hearthold.reference.plugs import Connection, connection
from hearthold.reference.reader import table

ALL = loads()


def test_there_are_enough_for_both_systems():
    assert len(ALL) == len(load_ids()) >= 150
    assert len(loads("single_230")) >= 80
    assert len(loads("split_120_240")) >= 120
    assert len(loads(group="medical")) >= 12
    assert all(loads(group=g) for g in load_groups())


def test_every_kind_says_how_it_is_connected_and_what_has_no_kind_is_taken_to_plug_in():
    assert set(table("connections").names()) == set(load_ids())
    assert connection(None, "split_120_240") is Connection.PLUG
    with pytest.raises(TableError):
        connection("fridge_frost_fre", "split_120_240")


def test_a_kind_of_both_supplies_may_be_connected_in_two_ways():
    """A ventilator has a line cord in North America and a fused spur elsewhere: common practice, no source."""
    assert connection("heat_recovery_ventilator", "split_120_240") is Connection.PLUG
    assert connection("heat_recovery_ventilator", "single_230") is Connection.WIRED
    differ = [row for row in table("connections") if "connection_230" in row]
    assert differ
    assert all(len(load(row.text("kind")).systems) == 2 for row in differ)


OF_230_V = [
    "kettle_230",
    "combi_boiler_gas",
    "oil_range_cooker",
    "fridge_freezer_230",
    "chest_freezer_230",
    "borehole_0_75_kw",
    "septic_air_blower",
    "fence_energiser",
    "heat_pump_circulator",
    "shower_pump",
    "modem_router",
    "cpap_with_humidifier",
    "cpap_without_humidifier",
    "oxygen_5_l",
    "oxygen_10_l",
    "nebuliser",
    "dialysis_night_cycler",
    "powered_bed",
    "stair_lift",
    "medicine_cooler",
    "feeding_pump",
    "suction_machine",
]


@pytest.mark.parametrize("name", OF_230_V)
def test_a_230_v_house_finds_its_loads(name):
    assert load(name).voltage_in_v("single_230") == 230.0


@pytest.mark.parametrize("found", ALL, ids=lambda x: x.id)
class TestEachLoad:
    def test_id_is_plain_words(self, found):
        assert re.fullmatch(r"[a-z][a-z0-9]*(_[a-z0-9]+)*", found.id)

    def test_running_lies_in_its_range(self, found):
        assert found.low_w <= found.running_w <= found.high_w
        assert found.mean_low_w <= found.mean_high_w

    def test_a_day_takes_no_more_than_running_all_day(self, found):
        assert found.mean_high_w <= found.high_w + 1e-9

    def test_duty_and_daily_energy_are_of_one_mind(self, found):
        mean_w = found.running_w * found.duty_frac
        assert 0.6 * found.mean_low_w <= mean_w <= 1.5 * found.mean_high_w

    def test_start_is_possible_for_its_kind(self, found):
        """Not below running, not far above the highest start of its kind (partly loaded motors look high)."""
        ratio = motors.start_kind(found.start_kind).start_ratio
        assert 0.9 * found.running_va <= found.start_va <= 1.3 * ratio.high * found.running_va

    def test_voltage_fits_the_system(self, found):
        assert found.voltage_v in ({230.0} if found.systems == ("single_230",) else {120.0, 240.0})

    def test_life_safety_means_people(self, found):
        if found.group == "medical":
            assert found.load_class == "life_safety"


def test_a_seen_row_lists_what_was_seen():
    """A page that was read gives some figures of a row, never all: the row names those."""
    for row in table("loads"):
        assert (row.standing is Standing.SEEN) == bool(row.seen), row.place


def test_start_values_are_memory_throughout():
    assert all(r.standing_of("start_va") is Standing.MEMORY for r in table("loads"))


def test_seen_figures_are_those_of_the_public_lists():
    # US DOE list (Penn State EGEE 102): furnace fan 750 W, heater 750-1500 W, hair dryer up to 1875 W
    assert load("furnace_psc_blower").running_w == 750.0
    assert load("furnace_psc_blower").source.standing is Standing.SEEN
    assert (load("space_heater_1500_w").low_w, load("space_heater_1500_w").high_w) == (750.0, 1500.0)
    assert load("hair_dryer").high_w == 1875.0
    # and the DOE rule: a refrigerator runs at full wattage for a third of the hours it is plugged in
    assert load("fridge_frost_free").duty_frac == pytest.approx(1 / 3, abs=0.01)


def test_a_split_phase_load_keeps_its_voltage():
    assert load("well_half_hp_two_wire").voltage_in_v("split_120_240") == 240.0
    with pytest.raises(TableError, match="load kettle_230 is not of the split_120_240 system"):
        load("kettle_230").voltage_in_v("split_120_240")


@pytest.mark.parametrize("ask", [{"system": "dc_12"}, {"group": "toys"}, {"load_class": "vital"}])
def test_an_unknown_choice_lists_the_known(ask):
    with pytest.raises(TableError, match=r"is not one of \w+"):
        loads(**ask)


def test_a_misspelt_load_names_what_is_near():
    with pytest.raises(TableError, match="near: well_half_hp_two_wire"):
        load("well_half_hp_two_wires")
