"""Whatever comes out of `new` can be read: both systems, every kind of load, samples uncommented."""

import re
import tomllib
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError, TableError
from hearthold.house.document import HouseDocument
from hearthold.house.reader import house_from_text
from hearthold.house.site import VoltageSystem
from hearthold.house.starter import Answers, Machine, starter_text, usual
from hearthold.house.starter_page import starter_data
from hearthold.house.starter_wiring import planned_circuits
from hearthold.quantities import units
from hearthold.reference.loads import load, load_ids, loads

SYSTEMS = tuple(VoltageSystem)


def document(answers):
    return HouseDocument.model_validate(tomllib.loads(starter_text(answers)))


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_plain_starter_is_a_house(system):
    house = house_from_text(starter_text(Answers(system=system)))
    assert house.system is system
    assert {load.id for load in house.loads} == set(usual(system)["loads"])
    assert house.generator is not None
    assert house.cold


@pytest.mark.parametrize("system", SYSTEMS)
def test_uncommented_samples_are_good_too(system):
    text = starter_text(Answers(system=system))
    opened = re.sub(r"^# (?=\w+ = )", "", text, flags=re.M)
    assert opened.count("\n") == text.count("\n")
    assert opened != text
    house_from_text(opened)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("one_at_a_time", [True, False])
def test_every_kind_of_load_fits(system, one_at_a_time):
    kinds = [kind.id for kind in loads(system.value)]
    for chosen in ([kind] for kind in kinds) if one_at_a_time else [kinds]:
        made = document(Answers(system=system, loads=tuple(chosen)))
        assert {entry.kind for entry in made.load} == set(chosen)


@pytest.mark.parametrize("fuel", ["gasoline", "propane", "natural_gas", "diesel"])
@pytest.mark.parametrize("hookup", ["cords", "interlock", "manual_transfer", "automatic_standby", ""])
def test_every_machine_and_hookup(fuel, hookup):
    stock = {"propane": "80 lb", "natural_gas": ""}.get(fuel, "15 gal")
    machine = Machine(fuel, "7.5 kW", "9.4 kW", "L14-30", "", stock)
    house = house_from_text(starter_text(Answers(machine=machine, machine_asked=True, hookup=hookup)))
    assert house.fuel.preferred == fuel
    assert (house.hookup is None) is (hookup == "")


def test_without_a_machine():
    house = house_from_text(starter_text(Answers(machine_asked=True)))
    assert house.generator is None
    assert house.hookup is None


def test_a_small_machine_does_not_feed_what_it_cannot_run():
    machine = Machine("gasoline", "1 kW", "1.2 kW", "5-15", "1 gal", "5 gal")
    made = document(Answers(loads=("hot_plate", "led_house"), machine=machine, machine_asked=True))
    assert {c.id: c.panel for c in made.circuit} == {"hot_plate": "main", "lights_and_small": "essential"}


def test_nothing_that_a_rule_about_danger_reads_is_guessed():
    made = document(Answers())
    assert made.generator.place == "unknown"
    assert made.generator.distance_m is None
    assert made.generator.neutral == "unknown"
    assert made.safety.co_alarms is None
    assert made.hookup.permit == "unknown"
    assert made.hookup.installed_by == "unknown"


def test_every_value_nobody_gave_is_marked():
    text = starter_text(Answers(people="7"))
    assert re.search(r"^count = 7 +# how many", text, re.M)
    assert re.search(r"^latitude = 44.0 +# \(guess\)", text, re.M)
    assert re.search(r"^breaker = 15 +# \(guess\)", text, re.M)


def test_months_run_from_cold_to_warm_and_back():
    north = document(Answers(coldest="20 F", warmest="70 F"))
    assert north.climate.unit == "F"
    assert north.climate.mean[0] == min(north.climate.mean) == 20
    assert north.climate.mean[6] == max(north.climate.mean) == 70
    south = document(Answers(coldest="5 C", warmest="25 C", latitude="-40.0"))
    assert south.climate.mean[0] == 25
    assert south.climate.mean[6] == 5


@settings(max_examples=60, derandomize=True, deadline=None)
@given(
    st.text(min_size=1, max_size=60).filter(lambda s: s.strip() and s.encode("utf-8", "ignore").decode() == s)
)
def test_any_name_survives(name):
    assert document(Answers(name=name)).house.name.strip() == name.strip()


def test_an_unknown_kind_is_refused():
    with pytest.raises(TableError, match="perpetuum"):
        starter_text(Answers(loads=("perpetuum_mobile",)))


def test_a_quantity_without_unit_is_refused():
    with pytest.raises(InputError, match="has no unit"):
        starter_text(Answers(coldest="20"))


def test_breakers_hold_their_loads_within_four_fifths():
    """Held load of a breaker: 80 % of its rating, the rule for three hours and more in NEC 210.20(A)."""
    for system in SYSTEMS:
        kinds = [kind for kind in loads(system.value) if kind.running_w < 9000]
        for planned in planned_circuits(kinds, system, 1e9):
            volts = system.full_voltage_v if planned.circuit.poles == 2 else system.leg_voltage_v
            drawn_a = sum(kind.running_va for kind in planned.kinds) / volts
            if planned.circuit.id != "lights_and_small":
                assert drawn_a <= 0.8 * planned.circuit.breaker_a + 0.5, planned.circuit.id


def test_kinds_named_in_the_data_are_in_the_catalogue():
    data = starter_data()
    named = {kind for part in ("cold", "heater", "hot_water", "pit") for kind in data[part]}
    named |= {kind for system in SYSTEMS for kind in data[system.value]["usual"]["loads"]}
    assert named <= set(load_ids())
    for system in SYSTEMS:
        assert all(system.value in load(kind).systems for kind in usual(system)["loads"])


def test_answers_are_offered_with_units_that_read():
    for system in SYSTEMS:
        assert units.parse(usual(system)["floor_area"], "area") > 50
    assert replace(Answers(), people="3").said("people") == "3"
