"""Designs are sized by the house: what it needs decides, the limits of the trade hold."""

from dataclasses import replace
from pathlib import Path

import pytest

from hearthold.house.cords import plan_cords
from hearthold.house.reader import read_house
from hearthold.house.supply import HookupKind
from hearthold.physics.conductors import voltage_drop_two_wire_v
from hearthold.reference.conductors import conductor
from hearthold.sizing.chain import chain
from hearthold.sizing.gridside import grid_feeder, grid_load_a
from hearthold.sizing.loadcalc import whole_house
from hearthold.sizing.supply import supply
from hearthold.study.batterysize import MARGIN_FRAC, NIGHT_S, USABLE, battery_for, need
from hearthold.study.design import Design, NotPossible, design
from hearthold.study.hookups import COMPARED, TRAITS, Way
from hearthold.study.path import smallest_run
from hearthold.study.rewire import must_carry, wanted_circuits
from hearthold.study.spending import spending

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def croft():
    return read_house(EXAMPLES / "skerrow_croft.toml")


@pytest.fixture(scope="module")
def designs(farm):
    return {way: design(farm, way) for way in Way}


@pytest.fixture(scope="module")
def bare(farm):
    """The farm before anything was bought."""
    return replace(farm, generator=None, fuel=None, hookup=None)


def test_at_least_six_ways_are_designed(farm, croft):
    for house in (farm, croft):
        made = [design(house, way) for way in COMPARED]
        assert sum(isinstance(d, Design) for d in made) >= 6


def test_no_gas_main_no_standby_on_it(designs):
    refused = designs[Way.STANDBY_MAINS]
    assert isinstance(refused, NotPossible)
    assert "no gas main" in refused.reason


def test_the_machine_in_hand_is_kept_where_it_serves(designs):
    for way in (Way.CORDS, Way.INTERLOCK, Way.MANUAL_TRANSFER, Way.BATTERY_PORTABLE):
        assert designs[way].owned_machine, way
    assert not designs[Way.STANDBY_PROPANE].owned_machine


def test_a_bare_house_gets_the_smallest_machine_that_carries_what_matters(bare):
    made = design(bare, Way.INTERLOCK)
    core = must_carry(bare, wanted_circuits(bare))
    from hearthold.reference.hookups import machine_sizes
    from hearthold.study.ladder import carries

    assert made.serves
    sizes = [s.running_w for s in machine_sizes("split_120_240", "portable")]
    own_w = made.house.generator.on[0].running_w
    assert own_w in sizes
    assert carries(made.house, core)
    smaller = [w for w in sizes if w < own_w]
    assert smaller, "the smallest size would say nothing"
    tried = made.house.generator.on[0].model_copy(
        update={"running_w": smaller[-1], "start_w": 1.25 * smaller[-1]}
    )
    less = replace(made.house, generator=made.house.generator.model_copy(update={"on": (tried,)}))
    assert not carries(less, core)


def test_standby_is_sized_for_the_whole_house_by_its_load_calculation(designs, farm):
    made = designs[Way.STANDBY_PROPANE].house
    assert supply(made).running_w >= whole_house(farm).total_va
    assert made.hookup.kind is HookupKind.AUTOMATIC_STANDBY


def test_two_to_four_outlets_are_the_limit_of_cords(farm, croft, designs):
    """Common practice, no source: a portable with cords feeds two to four outlets."""
    for house in (farm, croft):
        assert 2 <= len(plan_cords(house)) <= 4
    cords = designs[Way.CORDS]
    plugged = {load for cord in cords.cords for load in cord.loads}
    assert not plugged & {"well_pump", "boiler", "water_heater", "effluent_pump"}, (
        "wired in: no cord reaches them"
    )
    assert not cords.serves


def test_vital_loads_get_the_first_cord(farm):
    assert plan_cords(farm)[0].loads == ("cpap",)


def test_the_battery_carries_the_night_by_hand(farm, designs):
    asked = need(farm, designs[Way.BATTERY_PORTABLE].circuits)
    found = battery_for(asked, NIGHT_S, 1e6)
    lasts_s = found.capacity_j * USABLE / (asked.mean_w / found.discharge_efficiency + found.idle_w)
    assert lasts_s >= MARGIN_FRAC * NIGHT_S * 0.999
    assert lasts_s <= MARGIN_FRAC * NIGHT_S * 1.3  # not more than one step of size above
    assert found.discharge_w >= asked.running_w
    assert found.surge_va >= asked.start_va


def test_every_part_of_the_path_passes_the_current(designs):
    made = designs[Way.INTERLOCK].house
    links = {link.kind: link for link in chain(made, supply(made)).links}
    device_a = made.hookup.inlet_breaker_a
    assert links["cord"].rated_a >= device_a
    assert links["feeder"].rated_a >= device_a


def test_a_long_run_is_thick_enough_for_its_drop(farm):
    """By the table's resistance: 3 % of 240 V at 30 A over 60 m."""
    run = smallest_run(farm, "NM-B", 60.0, 30.0)
    part = conductor(run.wire.removesuffix(" AWG"))
    lost = voltage_drop_two_wire_v(30.0, part.resistance_ohm_per_m, part.reactance_ohm_per_m, 60.0, 0.9)
    assert lost <= 0.03 * 240.0
    assert int(run.wire.split()[0]) < int(smallest_run(farm, "NM-B", 5.0, 30.0).wire.split()[0])


def test_a_feeder_carries_what_its_panel_may_draw_from_the_grid(bare, croft):
    """Behind transfer equipment grid power passes it every day: NEC 215.2(A)(1), IEC 60364-4-43 433.1 (from memory)."""
    fed = 0
    for house in (bare, replace(croft, generator=None, fuel=None, hookup=None)):
        for made in (design(house, way) for way in COMPARED):
            feeder = grid_feeder(made.house) if isinstance(made, Design) else None
            if feeder is not None:
                load_a, fed = grid_load_a(made.house), fed + 1
                assert load_a <= feeder.breaker_a <= feeder.most_a, made.name
                assert load_a <= feeder.holds_a, made.name
    assert fed >= 6


def test_the_manual_way_costs_about_1400_at_favour_prices(bare):
    """The trade's own sum (common practice, no source), from the low ends of our table: machine of 7.5 kW, inlet, cord,
    interlock, labour and permit.
    """
    made = design(bare, Way.INTERLOCK)
    machine = made.house.generator
    seven = machine.model_copy(update={"on": (machine.on[0].model_copy(update={"running_w": 7500.0}),)})
    made = replace(made, house=replace(made.house, generator=seven))
    parts = [p for p in spending(made, bare).parts if "fuel" not in p.item]
    assert sum(p.price.low for p in parts) == pytest.approx(1400.0, abs=100.0)


def test_standby_lies_where_the_trade_sees_it(designs, farm):
    """10,000 to 15,000 installed (common practice, no source) lies within our range."""
    item = next(p for p in spending(designs[Way.STANDBY_PROPANE], farm).parts if "standby" in p.item)
    assert item.price.low <= 10000.0 <= item.price.typical <= 15000.0 <= item.price.high


def test_what_is_in_place_is_not_spent_again(farm, designs):
    assert spending(designs[Way.MANUAL_TRANSFER], farm).to_spend.typical == 0.0
    reused = {p.item for p in spending(designs[Way.INTERLOCK], farm).parts if p.in_place}
    assert {"inlet box 30 A", "generator cord 30 A"} <= reused


def test_parts_are_known_by_their_local_names(farm, croft):
    """A lead of a 230 V house wears out as a cord does, and its inlet serves another way too."""
    life = {}
    for house, word in ((farm, "extension cord"), (croft, "extension lead")):
        part = next(p for p in spending(design(house, Way.CORDS), house).parts if word in p.item)
        life[word] = part.life_years
    assert life["extension lead"] == life["extension cord"]
    reused = {p.item for p in spending(design(croft, Way.INTERLOCK), croft).parts if p.in_place}
    assert any("lead 32 A" in item for item in reused)


def test_every_way_has_its_traits_and_its_work():
    from hearthold.reference.hookups import hands_on, part_life_s

    assert set(TRAITS) == set(Way)
    for row in (
        "nothing",
        "cords",
        "interlock",
        "manual_transfer",
        "automatic_standby",
        "battery_portable",
        "battery_pv",
    ):
        assert hands_on(row).yearly_s >= 0.0
    assert part_life_s("battery").low < part_life_s("panels").low
