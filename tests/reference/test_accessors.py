"""The typed doors to the tables: SI at the edge, honest standing, messages that help."""

import dataclasses
import importlib
import inspect
import pkgutil

import pytest

import hearthold.reference
from hearthold.errors import TableError
from hearthold.reference import (
    ampacity,
    cautions,
    code_rules,
    cold,
    conductors,
    connectors,
    costs,
    dwellings,
    food,
    fuels,
    generator,
    metric,
    motors,
    outages,
    propane,
    storage,
    upkeep,
    water,
)
from hearthold.reference.between import between

MISSES = [
    (
        lambda: ampacity.ampacity_a("11", "cu", 75),
        "table ampacity has no row with material, insulation_c, size_awg",
    ),
    (
        lambda: ampacity.ampacity_a("14", "al", 75),
        "no row with material, insulation_c, size_awg = al, 75, 14",
    ),
    (lambda: ampacity.ambient_factor(61.0, 60.0), "60 C insulation is not permitted in air of 61 C"),
    (lambda: ampacity.ambient_factor(30.0, 105.0), "no column 105 C; there are 60, 75 and 90 C"),
    (lambda: ampacity.bundling_factor(0), "0 current-carrying conductors; there is at least one"),
    (lambda: ampacity.cord_ampacity_a("10", "c"), "no column column_c_a; there are size_awg, column_a_a"),
    (lambda: ampacity.next_breaker_a(500.0), "no standard overcurrent device of 500 A or more"),
    (lambda: ampacity.grounding_conductor_awg(500.0), "ends below 500 A"),
    (lambda: ampacity.grounding_conductor_awg(20.0, "tin"), "unknown conductor metal 'tin'; use cu or al"),
    (lambda: ampacity.smallest_size(400.0, "cu", 75.0), "ends below 400 A for cu at 75 C"),
    (lambda: ampacity.conductor_sizes("tin"), "no tin at 75 C; metals: cu, al"),
    (lambda: conductors.conductor("11"), "no size '11'; known: 18, 16, 14"),
    (lambda: conductors.conductor("10", "tin"), "unknown conductor metal 'tin'; use cu or al"),
    (lambda: conductors.conductor("10", "cu", "wood"), "unknown conduit 'wood'; use pvc or steel"),
    (lambda: conductors.conductor("3 mm2"), "no row with size_mm2 = 3"),
    (lambda: conductors.conductor("thick mm2"), "'thick mm2' is not a metric size"),
    (lambda: conductors.conductor("2.5 mm2", "al"), "metric sizes are given for copper alone"),
    (lambda: metric.metric_ambient_factor(65.0), "not given a capacity in air of 65 C"),
    (lambda: metric.metric_sizes_mm2("Z"), "no method 'Z' with 2 loaded conductors"),
    (lambda: motors.start_kind("compresor"), "near: compressor"),
    (lambda: motors.full_load_a("1", 240), "no column at_240_v_a"),
    (lambda: motors.code_letter_high_va_per_w("V"), "the table leaves this blank"),
    (lambda: motors.code_letter_low_va_per_w("MM"), "'MM' is not a code letter"),
    (lambda: motors.submersible_pump("4"), "no row with size, wiring, motor_v = 4, 2-wire, 230"),
    (lambda: connectors.connector("L14-3O"), "near: L14-30"),
    (lambda: generator.set_kind("inverters"), "near: inverter"),
    (lambda: fuels.fuel("gasolin_e10"), "near: gasoline_e10"),
    (
        lambda: fuels.lower_heat_j_per_m3("heating_oil"),
        "column lower_btu_per_gal: the table leaves this blank",
    ),
    (
        lambda: fuels.density_kg_per_m3("natural_gas"),
        "column density_lb_per_gal: the table leaves this blank",
    ),
    (
        lambda: propane.cylinder_draw_w(60.0, 0.0),
        "propane in the cylinder, kg, is 60; the table runs from 4.536 to",
    ),
    (
        lambda: propane.cylinder_draw_w(20.0, -30.0),
        "air temperature, degC, is -30; the table runs from -17.78 to",
    ),
    (lambda: propane.tank_chart_m3(1.0, 0.0), "the tank chart has no row for 1 m3/s at 0 degC"),
    (lambda: food.food_rule("fridge_close"), "near: fridge_closed"),
    (lambda: food.food_rule_c("freezer_full"), "column temperature_f: the table leaves this blank"),
    (
        lambda: cold.freezer_ua_w_per_k("chests", 0.3),
        "no freezer kind 'chests'; known: chest, upright_manual",
    ),
    (lambda: cold.freezer_ua_w_per_k("chest", 3.0), "freezer volume, m3, is 3; the table runs from"),
    (lambda: dwellings.house_class("leaky"), "near: leaky_farmhouse"),
    (lambda: water.heater_loss_w_per_k(0.5), "energy factor is 0.5; the table runs from 0.86 to 0.95"),
    (lambda: outages.outage_model("us"), "no row with region = us"),
    (lambda: outages.tail_band_frac("rural_coop", 48), "no column over_48_h_frac"),
    (lambda: costs.cost("interlocks"), "near: interlock"),
    (lambda: costs.cost("interlock").low_usd_per_si, "interlock is priced each, not by a quantity"),
    (lambda: cautions.cautions(moment="dancing"), "moment 'dancing' is not one of running"),
    (lambda: code_rules.code_rules(family="magic"), "family 'magic' is not one of capacity"),
    (lambda: code_rules.neutral_pairing("solid", "loose"), "solid, loose; near: solid, "),
    (lambda: upkeep.upkeep_task("oil_chang"), "near: oil_change"),
    (lambda: storage.battery_kind("lead"), "no row with chemistry = lead"),
    (lambda: between(3.0, [(0.0, 0.0), (2.0, 1.0)], "x"), "x is 3; the table runs from 0 to 2"),
]


@pytest.mark.parametrize(("ask", "message"), MISSES)
def test_a_miss_says_what_is_there(ask, message):
    with pytest.raises(TableError, match=message):
        ask()


def public_functions():
    for page in pkgutil.iter_modules(hearthold.reference.__path__):
        module = importlib.import_module(f"hearthold.reference.{page.name}")
        for name, member in vars(module).items():
            if not name.startswith("_") and getattr(member, "__module__", "") == module.__name__:
                yield pytest.param(member, id=f"{page.name}.{name}")


@pytest.mark.parametrize("member", list(public_functions()))
def test_public_names_are_documented_and_frozen(member):
    assert inspect.getdoc(member)
    if dataclasses.is_dataclass(member):
        assert member.__dataclass_params__.frozen
        assert hasattr(member, "__slots__")
