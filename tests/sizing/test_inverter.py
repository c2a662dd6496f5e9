"""A battery's inverter against hand sums: half of its rating on each leg, the start on top of what runs by itself."""

import pytest
from sizing_houses import circuit, cottage, farm, farm_hookup, load, motor

from hearthold.house.loads import Pattern
from hearthold.house.supply import Battery
from hearthold.sizing.chain import battery_chain
from hearthold.sizing.demand import figures, running_currents
from hearthold.sizing.inverter import by_itself, inverter, inverter_starts
from hearthold.sizing.placement import placement

BATTERY = {"capacity": "10 kWh", "charge": "3 kW", "discharge": "5 kW"}


def on_battery(**given):
    return farm(
        battery=Battery(**(BATTERY | given)), hookup=farm_hookup(kind="battery_inverter", transfer="60 A")
    )


def small():
    """4 kW across both legs by itself, a 1.2 kW kettle and a 600 VA fridge on leg A."""
    loads = (
        load("tank", "ab", 3000.0, voltage_v=240.0),
        motor("fridge", "a", 600.0, 3600.0, power_factor=1.0, start_power_factor=1.0),
        load("kettle", "a", 1200.0, pattern=Pattern.ON_DEMAND),
    )
    circuits = (circuit("a", leg="A"), circuit("ab", poles=2, wire="12 AWG"))
    return farm(loads=loads, circuits=circuits, battery=Battery(**BATTERY, surge="7 kVA"), cold=(), pits=(), water=None,
                hot_water=None)  # fmt: skip


def test_one_leg_has_half_of_it():
    found = inverter(on_battery(surge="7 kVA"))
    assert (found.running_w, found.leg_limit_w) == (5000.0, 2500.0)
    assert (found.start_va, found.leg_start_va, found.surge_given) == (7000.0, 3500.0, True)


def test_a_surge_that_nobody_gave_is_one_and_a_half_times_the_rating():
    found = inverter(on_battery())
    assert (found.start_va, found.surge_given) == (7500.0, False)


def test_one_phase_has_one_leg():
    found = inverter(cottage(battery=Battery(**BATTERY)))
    assert found.leg_limit_w == found.running_w == 5000.0
    assert inverter(cottage()) is None


def test_what_runs_by_itself_leaves_the_kettle_out():
    # leg A: 1500 + 600 = 2100 W of 2500; in all 3600 of 5000: the leg decides
    house = small()
    asked = by_itself(house)
    assert asked.total_w == pytest.approx(3600.0)
    assert inverter(house).running_frac(asked) == pytest.approx(2100.0 / 2500.0)
    everything = figures(running_currents(house, placement(house), house.loads))
    assert inverter(house).running_frac(everything) == pytest.approx(3300.0 / 2500.0)


def test_a_start_alone_and_beside_the_rest():
    # alone 3600 VA on leg A against 3500; with the tank 1500 VA more on that leg
    (start,) = inverter_starts(small(), inverter(small()))
    assert start.alone_frac == pytest.approx(3600.0 / 3500.0)
    assert start.beside_frac == pytest.approx(5100.0 / 3500.0)


def test_start_across_both_legs_counts_whole():
    # the farm's well: 9360 VA at 240 V against 7 kVA
    found = {s.load: s for s in inverter_starts(on_battery(), inverter(on_battery(surge="7 kVA")))}
    assert found["well"].alone_frac == pytest.approx(9360.0 / 7000.0)


def test_the_inverter_is_the_first_link_of_its_own_chain():
    # 5 kW at 240 V are 20.8 A, below transfer switch, feeder and bus of the farm
    found = battery_chain(on_battery(surge="7 kVA"))
    assert [x.kind for x in found.links] == ["inverter", "transfer device", "feeder", "panel bus"]
    assert found.delivered_w == found.continuous_w == pytest.approx(5000.0)
    assert [x.kind for x in found.weakest] == ["inverter"]
    assert (found.start_w, found.start_va) == (7000.0, 7000.0)
    assert found.leg_a == pytest.approx(2500.0 / 120.0)


def test_no_battery_has_no_chain_of_its_own():
    assert battery_chain(farm()) is None
    assert battery_chain(farm(battery=Battery(**BATTERY), hookup=None)) is None
