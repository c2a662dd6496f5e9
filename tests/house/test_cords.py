"""Cords in place of wiring: what has a plug, what is fed, what is left out, and what no file can claim."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from tests.house.homes import home

from hearthold.house.cords import has_plug
from hearthold.house.house import House
from hearthold.house.reader import read_house
from hearthold.house.supply import HookupKind
from hearthold.reference.loads import load

EXAMPLES = Path(__file__).parents[2] / "examples"
MOST = 4  # two to four outlets are the limit of that way: common practice, no source

# A panel with circuits of the very names that the first and the third cord would get.
NAMED_LIKE_CORDS = (
    ('id = "pump"', 'id = "cord_1"'),
    ('circuit = "pump"', 'circuit = "cord_1"'),
    ('id = "kitchen"', 'id = "cord_3"'),
    ('circuit = "kitchen"', 'circuit = "cord_3"'),
)
FRIDGE = '[[load]]\nid = "fridge"\nkind = "fridge_frost_free"\ncircuit = "cord_3"\n[hookup]\nkind = "cords"\n'
HEATERS = FRIDGE + '[[load]]\nid = "heaters"\nkind = "space_heater_1500_w"\ncircuit = "cord_3"\n'


def example(name: str, kind: HookupKind) -> House:
    house = read_house(EXAMPLES / f"{name}.toml")
    assert house.hookup is not None
    return replace(house, hookup=house.hookup.model_copy(update={"kind": kind}))


@pytest.mark.parametrize("name", ["tarn_hollow", "skerrow_croft"])
def test_cords_feed_a_few_appliances_and_nothing_that_is_wired_in(name: str) -> None:
    read = example(name, HookupKind.CORDS)
    house = read.running
    fed = {x.id for c in house.fed_circuits for x in house.loads_on(c.id)}
    assert 1 <= len(house.fed_circuits) <= MOST
    assert {c.id for c in house.fed_circuits} == {f"cord_{i + 1}" for i in range(len(house.fed_circuits))}
    assert not [x.id for x in house.loads if x.id in fed and x.group in ("heat", "water")]
    assert {s.load for s in house.cold} & fed
    assert fed == {x.id for x in read.reach.on_cords}


@pytest.mark.parametrize("name", ["tarn_hollow", "skerrow_croft"])
def test_every_load_that_takes_power_is_on_a_cord_or_left_for_one_reason(name: str) -> None:
    house = example(name, HookupKind.CORDS)
    found = house.reach
    told = [x.id for part in (found.on_cords, found.no_cord, found.too_large, found.no_plug) for x in part]
    assert sorted(told) == sorted(x.id for x in house.loads if x.running_w > 0.0)
    assert found.on_cords
    assert found.no_cord
    assert found.no_plug


@pytest.mark.parametrize("kind", [k for k in HookupKind if k is not HookupKind.CORDS])
def test_any_other_house_runs_as_it_was_read(kind: HookupKind) -> None:
    house = example("tarn_hollow", kind)
    assert house.running is house


def test_before_cords_are_laid_nothing_is_fed_and_they_are_laid_once() -> None:
    read = example("tarn_hollow", HookupKind.CORDS)
    assert read.fed_circuits == ()
    assert read.running.running is read.running
    assert read.running.reach.on_cords == tuple(read.running.load_by_id[x.id] for x in read.reach.on_cords)


def test_a_file_cannot_claim_that_cords_are_laid() -> None:
    """Circuits of the panel with the names of cords stay circuits of the panel, and cords get names of their own."""
    read = home(*NAMED_LIKE_CORDS, extra=FRIDGE)
    assert read.fed_circuits == ()
    house = read.running
    assert {c.id for c in house.fed_circuits} == {"cord_2", "cord_4"}
    assert {house.load_by_id[x].circuit for x in ("fridge", "box")} == {"cord_2", "cord_4"}
    assert house.load_by_id["well"].circuit == "cord_1"
    assert [x.id for x in read.reach.no_plug] == ["well"]


def test_what_floods_or_spoils_first_gets_a_cord_first() -> None:
    """FoodSafety.gov: a fridge keeps 4 h, a freezer 24 to 48 h. The pit of the farm overflows within ten hours."""
    house = example("tarn_hollow", HookupKind.CORDS).running
    first = [house.loads_on(c.id)[0].id for c in house.fed_circuits]
    assert first[:3] == ["cpap", "sump_pump", "fridge"]


# How the trade usually connects them: common practice, no source.
PLUGGED = ("dryer_gas", "stair_lift", "stove_blower", "electric_blanket", "garage_door_opener", "heated_bucket",
           "camera_recorder", "sump_half_hp", "space_heater_1500_w", "pellet_stove", "oxygen_5_l")  # fmt: skip
WIRED = ("ceiling_fan", "boiler_oil", "furnace_ecm_blower", "smoke_co_alarms", "radon_fan", "septic_effluent",
         "jet_half_hp", "heated_waterer", "yard_light", "wood_stove")  # fmt: skip
OTHER_OUTLET = ("dryer_electric", "range_electric", "ev_level_2_24_a", "welder_small", "central_ac_3_ton")


@pytest.mark.parametrize(
    ("kind", "plug"),
    [*((k, True) for k in PLUGGED), *((k, False) for k in (*WIRED, *OTHER_OUTLET))],
)
def test_a_plug_is_what_the_trade_fits_of_that_voltage_and_current(kind: str, plug: bool) -> None:
    """NEMA 5-15 passes 15 A at 120 V: a welder of 2 400 W asks 20 A."""
    house = home(*NAMED_LIKE_CORDS, extra=FRIDGE)
    row = load(kind)
    asked = replace(
        house.load_by_id["fridge"],
        kind=kind,
        group=row.group,
        voltage_v=row.voltage_v,
        running_w=row.running_w,
        power_factor=row.power_factor,
    )
    assert has_plug(house, asked) is plug


def test_more_pieces_than_one_cord_carries_are_on_none() -> None:
    """Three heaters of 1 500 W at 120 V ask 37.5 A together; a plug of NEMA 5-15 passes 15 A."""
    one, three = (home(*NAMED_LIKE_CORDS, extra=HEATERS + more) for more in ("", "count = 3\n"))
    assert "heaters" in [x.id for x in one.reach.on_cords]
    assert [x.id for x in three.reach.too_large] == ["heaters"]


def test_a_cord_goes_to_what_the_machine_can_start() -> None:
    """By its plate alone: 1.8 kW start no pump of 1/3 hp, whose first second asks more real power than that."""
    house = example("tarn_hollow", HookupKind.CORDS)
    assert house.generator is not None
    plate = house.generator.on[0].model_copy(update={"running_w": 800.0, "start_w": 1800.0})
    small = replace(house, generator=house.generator.model_copy(update={"on": (plate,)}))
    assert house.load_by_id["sump_pump"].start_w > 1800.0
    assert "sump_pump" in [x.id for x in house.reach.on_cords]
    assert small.reach.too_large[0].id == "sump_pump"
    assert len(small.reach.on_cords) >= len(house.reach.on_cords)
