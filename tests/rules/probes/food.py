"""Food, both ways."""

from dataclasses import replace

from tests.rules.houses import CALM, changed, item, probe

from hearthold.house.loads import Priority
from hearthold.rules.case import Played

FEW_SPELLS = {"run_at_night": False, "spells_per_day": 2}

NO_FRIDGE = replace(CALM, cold=tuple(x for x in CALM.cold if x.is_freezer))
DEAR_IN_POUNDS = changed(
    item(CALM, "cold", "chest", contents_value=450.0), prices={"currency": "GBP"}, assumptions=()
)

PROBES = [
    probe(
        "cold-store-not-fed",
        item(CALM, "circuits", "freezer", panel="main"),
        "Chest hangs on Freezer",
        "12 h",
    ),
    probe(
        "fridge-hold-shorter-than-gap",
        changed(CALM, wishes=FEW_SPELLS),
        "longest gap between spells is about 8 h",
        "spread from the wishes of the house file; a plan works out the routine",
        "Public guidance for it is 4 h",
    ),
    probe(
        "fridge-hold-shorter-than-gap",
        CALM,
        "longest gap between spells is about 8 h",
        "Played through from 18:00, the routine of this plan keeps it within its limit",
        severity="consider",
        quiet=NO_FRIDGE,
        played=Played(64800.0, 8 * 3600.0, 6 * 3600.0, 9e6, frozenset({"cool"})),
    ),
    probe(
        "fridge-hold-shorter-than-gap",
        CALM,
        "the routine of this plan does not keep it",
        quiet=NO_FRIDGE,
        played=Played(64800.0, 8 * 3600.0, 6 * 3600.0, 9e6, frozenset()),
    ),
    probe(
        "freezer-hold-shorter-than-gap",
        item(changed(CALM, wishes=FEW_SPELLS), "cold", "chest", start_c=3.9),
        "Chest keeps",
        "8 h",
        quiet=changed(CALM, wishes=FEW_SPELLS),
    ),
    probe(
        "freezer-shorter-than-outage",
        changed(CALM, outages={"plan_for_s": 60 * 3600.0}),
        "2.5 days",
        "48 h",
        "50 lb (22.7 kg)",
        severity="note",  # the machine runs it
    ),
    probe(
        "freezer-shorter-than-outage",
        item(changed(CALM, outages={"plan_for_s": 60 * 3600.0}), "circuits", "freezer", panel="main"),
        "2.5 days",
    ),
    probe(
        "no-fridge-thermometer", changed(CALM, safety={"fridge_thermometer": None}), "40 °F (4.4 °C)", "2 h"
    ),
    probe("no-freezer-thermometer", changed(CALM, safety={"freezer_thermometer": False}), "40 °F (4.4 °C)"),
    probe("freezer-half-empty", item(CALM, "cold", "chest", fill_frac=0.5), "50 %", "24 h", "48 h"),
    probe("food-value-at-stake", item(CALM, "cold", "chest", contents_value=450.0), "450 USD"),
    probe("food-value-at-stake", DEAR_IN_POUNDS, "450 GBP"),
    probe("fridge-set-warm", item(CALM, "cold", "cool", set_c=7.0), "45 °F (7 °C)", "40 °F (4.4 °C)"),
]

assert CALM.load_by_id["freezer"].priority is Priority.ESSENTIAL
