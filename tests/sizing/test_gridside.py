"""The feeder on grid power, by hand sums over NEC Tables 310.16 and 310.12 and IEC 60364-5-52 Table B.52.2."""

from dataclasses import replace

import pytest
from sizing_houses import circuit, cottage, farm, farm_hookup, load

from hearthold.house.loads import Pattern
from hearthold.house.supply import Run
from hearthold.sizing.gridside import grid_feeder, grid_load_a, grid_parts, grid_parts_below
from hearthold.sizing.loadcalc import whole_house

NM_8 = {"wire": "8 AWG", "cable": "NM-B", "length": "14 m"}


def feeder_of(**given):
    return grid_feeder(farm(hookup=farm_hookup(**given)))


def standby(wire, cable, material="copper"):
    run = {"wire": wire, "cable": cable, "material": material, "length": "9 m"}
    return feeder_of(kind="automatic_standby", feeder=run, transfer="200 A", panel_main="100 A")


def test_sheathed_cable_ends_in_the_sixty_degree_column():
    # Table 310.16 at 60 degC: 8 AWG copper 40 A, a standard breaker (240.6); 50 A of the 75 degC column is refused
    found = feeder_of(feeder=NM_8, transfer="60 A", panel_main="60 A")
    assert (found.carrying.allowed_a, found.largest_device_a, found.most_a) == (40.0, 40.0, 40.0)
    assert found.breaker_a is None
    assert not found.breaker_over


def test_between_two_sizes_the_next_standard_breaker_is_allowed():
    # 6 AWG copper at 60 degC: 55 A, next standard size 60 A (240.4(B))
    run = NM_8 | {"wire": "6 AWG"}
    assert feeder_of(feeder=run, transfer="100 A").largest_device_a == 60.0


def test_transfer_equipment_sets_a_lower_bound():
    assert feeder_of(feeder=NM_8 | {"wire": "6 AWG"}, transfer="30 A").most_a == 30.0


def test_breaker_that_is_there_is_held_against_the_wire():
    assert feeder_of(feeder=NM_8, transfer="60 A", grid_breaker="60 A").breaker_over
    assert not feeder_of(feeder=NM_8, transfer="60 A", grid_breaker="40 A").breaker_over


def test_ways_whose_feeder_never_sees_the_grid():
    assert feeder_of(kind="interlock", feeder=NM_8) is None
    assert feeder_of(kind="cords", feeder=NM_8) is None
    assert feeder_of(feeder=None) is None
    assert feeder_of(kind="battery_inverter", feeder=NM_8) is not None


def test_a_whole_dwelling_may_use_its_own_table_and_sheathed_cable_may_not():
    # Table 310.12(A): 4 AWG copper for 100 A, 1 AWG aluminium for 110 A; 4 AWG NM-B: 70 A in the 60 degC column
    assert standby("4 AWG", "THHN").largest_device_a == 100.0
    assert standby("4 AWG", "THHN").holds_a == 100.0
    assert standby("1 AWG", "XHHW", "aluminium").largest_device_a == 110.0
    assert standby("4 AWG", "NM-B").largest_device_a == 70.0
    assert standby("4 AWG", "NM-B").holds_a == 70.0


def test_an_essential_panel_has_no_part_in_the_dwelling_table():
    assert (
        feeder_of(feeder=NM_8 | {"wire": "4 AWG", "cable": "THHN"}, transfer="200 A").largest_device_a == 70.0
    )


def test_iec_device_is_at_most_the_carrying_capacity():
    # B.52.2 column C, copper: 6 mm2 46 A; the standard rating below it is 40 A (IEC 60898-1)
    house = cottage()
    run = {"wire": "6 mm2", "cable": "PVC70", "length": "8 m"}
    hookup = house.hookup.model_copy(update={"transfer_a": 63.0, "feeder": Run(**run)})
    found = grid_feeder(replace(house, hookup=hookup))
    assert (found.carrying.allowed_a, found.most_a) == (46.0, 40.0)


def test_grid_load_is_the_busier_leg_of_everything_at_once():
    # leg A 1200 W and half of 2400 W: 2400 VA over 120 V = 20 A; leg B 600 x 1.25 + 1200 = 1950 VA = 16.25 A
    loads = (
        load("kettle", "a", 1200.0, pattern=Pattern.ON_DEMAND),
        load("pump", "ab", 2400.0, voltage_v=240.0, pattern=Pattern.ON_DEMAND),
        load("fan", "b", 600.0, pattern=Pattern.CONTINUOUS),
    )
    circuits = (circuit("a", leg="A"), circuit("b", leg="B"), circuit("ab", poles=2, wire="12 AWG"))
    house = farm(loads=loads, circuits=circuits, cold=(), pits=(), water=None, hot_water=None)
    assert grid_load_a(house) == pytest.approx(20.0)


def test_breakers_hold_continuous_load_at_125_percent_and_the_rest_in_full():
    """NEC 215.3: 40 A for hours and 10 A for minutes on one leg want 40 x 1.25 + 10 = 60 A of the breaker."""
    loads = (
        load("heat", "a", 4800.0, pattern=Pattern.CONTINUOUS, power_factor=1.0),
        load("kettle", "a", 1200.0, pattern=Pattern.ON_DEMAND, power_factor=1.0),
    )
    rest = {"cold": (), "pits": (), "water": None, "hot_water": None}
    for grid_a, transfer_a, below in (
        (60, 60, []),
        (50, 60, [50.0]),
        (60, 50, [50.0]),
        (50, 30, [50.0, 30.0]),
    ):
        hookup = farm_hookup(grid_breaker=f"{grid_a} A", transfer=f"{transfer_a} A", panel_main="60 A")
        house = farm(loads=loads, circuits=(circuit("a", leg="A"),), hookup=hookup, **rest)
        assert grid_load_a(house) == pytest.approx(60.0)
        assert [a for _, a in grid_parts_below(house)] == below


def test_an_interlocked_panel_is_the_services_own():
    house = farm(hookup=farm_hookup(kind="interlock", panel_main="1 A"))
    assert grid_parts(house) == ()


def test_behind_an_automatic_switch_it_is_the_dwelling_method():
    house = farm(hookup=farm_hookup(kind="automatic_standby"))
    assert grid_load_a(house) == whole_house(house).current_a
