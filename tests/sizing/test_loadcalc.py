"""Load calculations against the code's own worked example and hand sums."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sizing_houses import circuit, cottage, farm, farm_generator, farm_heat, farm_hookup, load, motor

from hearthold.errors import InputError
from hearthold.house.loads import Pattern
from hearthold.house.reader import read_house
from hearthold.quantities.units import si
from hearthold.sizing.loadcalc import essential_panel, whole_house

EXAMPLES = Path(__file__).parents[2] / "examples"


def annex_d_house():
    """NEC 2005 Annex D, Example D2(a): 1500 ft2, four appliances, heat in five rooms, air conditioning."""
    loads = (
        load("range", "r", 12000.0, voltage_v=240.0, kind="range_electric"),
        load("heater", "w", 2500.0, voltage_v=240.0, kind="heater_storage_4500_w"),
        load("dishes", "d", 1200.0, kind="dishwasher"),
        load("dryer", "y", 5000.0, voltage_v=240.0, kind="dryer_electric"),
        load("heat", "h", 9000.0, voltage_v=240.0, count=5, kind="baseboard_1500_w"),
        load("air", "a", 6.0 * 230.0, voltage_v=240.0, kind="central_ac_3_ton"),
        load("lamps", "l", 500.0, kind="led_house"),
    )
    circuits = tuple(circuit(x.circuit, 50.0, 2 if x.voltage_v > 200.0 else 1, "6 AWG") for x in loads)
    return farm(loads=loads, circuits=circuits, heat=farm_heat(floor_area_m2=si(1500.0, "sq ft", "area")))


def test_optional_method_gives_the_printed_answer():
    # general 29 700 VA, after demand 17 880, heat 3600 (40 % of 9 kW in five rooms), total 21 480 VA, 89.5 A
    found = whole_house(annex_d_house())
    assert found.general_va == pytest.approx(29700.0)
    assert found.general_demand_va == pytest.approx(17880.0)
    assert found.hvac_va == pytest.approx(3600.0)
    assert found.total_va == pytest.approx(21480.0)
    assert found.current_a == pytest.approx(89.5)


def test_every_row_of_the_optional_method_is_there_and_the_rows_sum():
    """Annex D, Example D2(a) row by row: 4500 + 4500 + 12 000 + 2500 + 1200 + 5000 = 29 700; 10 000 + 40 % of
    19 700; 40 % of 9000."""
    found = whole_house(annex_d_house())
    assert [x.counted_va for x in found.lines] == pytest.approx(
        [4500.0, 4500.0, 12000.0, 2500.0, 1200.0, 5000.0]
    )
    assert sum(x.counted_va for x in found.lines) == pytest.approx(found.general_va)
    assert [(x.rated_va, x.factor) for x in found.steps] == [
        pytest.approx(pair) for pair in [(10000.0, 1.0), (19700.0, 0.4), (9000.0, 0.4)]
    ]
    assert sum(x.counted_va for x in found.steps) == pytest.approx(found.total_va)


def test_a_clothes_washer_is_what_the_laundry_circuit_counts_for():
    """Example D2(a) is a house with laundry circuit and dryer, and lists no washer beside them."""
    house = annex_d_house()
    washer = load("washer", "laundry", 800.0, kind="clothes_washer")
    more = replace(
        house, loads=(*house.loads, washer), circuits=(*house.circuits, circuit("laundry", 20.0, 1, "12 AWG"))
    )
    assert whole_house(more).total_va == pytest.approx(21480.0)


@pytest.mark.parametrize("area_sqft", [300.0, 5000.0])
def test_steps_sum_to_the_total_below_the_first_block_and_above(area_sqft):
    # 300 sq ft: 900 + 4500 VA are below 10 kVA and count in full; 5000: 19 500 VA give 13 800 VA
    house = replace(annex_d_house(), loads=(), heat=farm_heat(floor_area_m2=si(area_sqft, "sq ft", "area")))
    found = whole_house(house)
    wanted_va = 3.0 * area_sqft + 4500.0
    assert found.total_va == pytest.approx(min(wanted_va, 10e3) + 0.4 * max(0.0, wanted_va - 10e3))
    assert sum(x.counted_va for x in found.steps) == pytest.approx(found.total_va)


def test_optional_method_needs_the_floor_area():
    with pytest.raises(InputError, match="starts from the floor area"):
        whole_house(farm(heat=None))


def test_essential_panel_is_its_own_list():
    # 16 A of continuous heater at 120 V counts as 20 A; the pump, largest motor, a quarter more
    house = farm(
        loads=(
            load("c", "a", 1920.0, pattern=Pattern.CONTINUOUS),
            motor("p", "b", 1000.0, 5000.0, power_factor=1.0, voltage_v=240.0),
            motor("q", "a", 100.0, 600.0, power_factor=1.0),
        ),
        circuits=(circuit("a", 20.0), circuit("b", 20.0, 2)),
    )
    found = essential_panel(house)
    assert [x.counted_va for x in found.lines] == pytest.approx([2400.0, 1250.0, 100.0])
    assert found.total_va == pytest.approx(3750.0)
    assert found.current_a == pytest.approx(15.625)


def two_legs(**machine):
    """1920 VA of continuous load on leg A, 600 VA on leg B, and a 240 V pump of 1000 VA, the largest motor."""
    return farm(
        loads=(
            load("c", "a", 1920.0, pattern=Pattern.CONTINUOUS),
            motor("p", "ab", 1000.0, 5000.0, power_factor=1.0, voltage_v=240.0),
            load("l", "b", 600.0),
        ),
        circuits=(circuit("a", 20.0, leg="A"), circuit("ab", 20.0, 2), circuit("b", 20.0, leg="B")),
        **machine,
    )


def test_legs_carry_their_own_loads_and_half_of_those_across_both():
    # A: 1.25 x 1920 + 1.25 x 1000 / 2 = 3025 VA, 25.2 A at 120 V; B: 600 + 625 = 1225 VA, 10.2 A
    found = essential_panel(two_legs())
    assert [(x.leg, x.va) for x in found.legs] == [("A", pytest.approx(3025.0)), ("B", pytest.approx(1225.0))]
    assert [x.current_a for x in found.legs] == pytest.approx([3025.0 / 120.0, 1225.0 / 120.0])
    assert found.worst_leg == found.legs[0]
    assert found.current_a == pytest.approx(4250.0 / 240.0)  # the even split that a panel never has


def test_a_set_of_one_hot_wire_carries_both_legs_on_it():
    # 1.25 x 1920 + 600 = 3000 VA on one wire of 120 V: 25 A; the pump of 240 V cannot run on it
    machine = farm_generator(voltage="120 V", receptacle="L5-30")
    found = essential_panel(two_legs(generator=machine, hookup=farm_hookup(inlet="L5-30")))
    assert (found.voltage_v, found.current_a) == (120.0, pytest.approx(25.0))
    assert found.total_va == pytest.approx(4250.0)
    assert any("1250 VA" in note for note in found.notes)
    assert found.worst_leg.current_a == pytest.approx(3025.0 / 120.0)  # on the grid as before


def test_legs_of_the_example_are_those_of_an_electricians_own_sum():
    """Summed by hand from the file's legs in a review: leg A 8,105 VA and 67.5 A, leg B 53.6 A; 60.6 A when even."""
    found = essential_panel(read_house(EXAMPLES / "tarn_hollow.toml"))
    assert found.worst_leg.leg == "A"
    assert found.worst_leg.va == pytest.approx(8105.0, abs=1.0)
    assert [x.current_a for x in found.legs] == pytest.approx([67.5, 53.6], abs=0.06)
    assert found.current_a == pytest.approx(60.6, abs=0.05)


def test_the_list_of_an_interlock_is_that_of_the_main_panel():
    house = farm(hookup=farm_hookup(kind="interlock", feeder=None, transfer=None))
    assert essential_panel(house).method == "main panel"
    assert essential_panel(farm()).method == "essential panel"


def test_water_heater_counts_as_continuous():
    line = next(x for x in essential_panel(farm(), ["c_tank"]).lines if x.load == "heater_tank")
    assert line.factor == 1.25


def test_panel_counts_only_the_circuits_named():
    everything, some = essential_panel(farm()), essential_panel(farm(), ["c_fridge"])
    assert {x.load for x in some.lines} == {"fridge"}
    assert some.total_va < everything.total_va


def test_iec_house_never_sees_the_nec():
    for found in (essential_panel(cottage()), whole_house(cottage())):
        told = f"{found.method} {found.source} {' '.join(found.notes)} {' '.join(x.why for x in found.lines)}"
        assert "NEC" not in told
        assert "220" not in told
        assert all(x.factor <= 1.0 for x in found.lines)
    # 800 W / 0.75 + 100 W / 0.75 in full, 120 W of lights as the largest switched by hand
    assert whole_house(cottage()).total_va == pytest.approx(900.0 / 0.75 + 120.0)


def test_iec_diversity_is_said_line_by_line():
    lit = cottage()
    lights = tuple(
        x if x.id != "lights" else load("lights", "w_lights", 120.0, voltage_v=230.0, kind="led_house")
        for x in lit.loads
    )
    found = whole_house(replace(lit, loads=lights))
    assert {x.why for x in found.lines} == {"runs by itself", "lighting"}
    assert found.total_va == pytest.approx(1200.0 + 0.66 * 120.0)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(st.floats(1.0, 5000.0), st.sampled_from(list(Pattern)))
def test_adding_a_load_never_lowers_the_panel(watts, pattern):
    house = farm()
    more = replace(house, loads=(*house.loads, load("extra", "c_lights", watts, pattern=pattern)))
    assert essential_panel(more).total_va > essential_panel(house).total_va
