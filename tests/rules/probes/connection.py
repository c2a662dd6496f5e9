"""The hookup, both ways."""

from dataclasses import replace

from tests.rules.houses import CALM, CALM_230, changed, item, probe, rating

from hearthold.house.loads import Priority
from hearthold.house.supply import Hookup, HookupKind

CORDS = Hookup.model_validate({"kind": "cords"})
ON_CORDS = changed(
    CALM, hookup=CORDS, circuits=tuple(c.model_copy(update={"panel": "main"}) for c in CALM.circuits)
)
ONE_LEG = changed(CALM, generator={"receptacle": "L5-30", "voltage_v": 120.0}, hookup={"inlet": "L5-30"})
PLUGS = changed(
    ON_CORDS,
    loads=tuple(x for x in CALM.loads if x.id in ("fridge", "freezer", "lamp", "range")),
    heat=None,
    water=None,
)
LAMPS = tuple(replace(CALM.load_by_id["lamp"], id=name, name=name) for name in ("a", "b"))
MANY = changed(PLUGS, loads=PLUGS.loads + LAMPS)


def hookup(**values):
    """The calm house with its hookup changed."""
    return changed(CALM, hookup=values)


def hookup_230(**values):
    """The calm 230 V house with its hookup changed."""
    return changed(CALM_230, hookup=values)


PAIR = item(ONE_LEG, "circuits", "rooms", multiwire_with="boiler")
INTERLOCK = hookup(kind=HookupKind.INTERLOCK)
AUTOMATIC = changed(hookup(kind=HookupKind.AUTOMATIC_STANDBY), generator={"kind": "standby"})
BIG_SET = [r.model_copy(update={"running_w": 40e3}) for r in CALM.generator.on]
THIN = {"cord": CALM.hookup.cord.model_copy(update={"wire": "12 AWG"})}
THIN_230 = {"cord": CALM_230.hookup.cord.model_copy(update={"wire": "2.5 mm2"})}
UNKNOWN = {"breaker_a": None}

PROBES = [
    probe("backfeed", changed(CALM, hookup=CORDS), "Well circuit", "Never feed a house through an outlet"),
    probe("backfeed", changed(CALM, hookup=None), "Well circuit", quiet=ON_CORDS),
    probe("no-changeover", changed(CALM_230, hookup=CORDS), "Borehole circuit", "Never feed a house"),
    probe("cords-many-loads", MANY, "With a plug and on none, though they matter: Lamps", quiet=PLUGS),
    probe("cords-cannot-reach", ON_CORDS, "Well pump; Boiler", quiet=PLUGS),
    probe("hookup-missing", changed(CALM, hookup=None), "big set"),
    probe(
        "plug-and-inlet-differ",
        changed(CALM, generator={"receptacle": "14-50"}),
        "14-50 receptacle (50 A)",
        "L14-30 (30 A)",
    ),
    probe(
        "inlet-below-its-source",
        changed(CALM, generator={"receptacle": "14-50", "breaker_a": 50.0}),
        "30 A",
        "50 A",
    ),
    probe("inlet-breaker-over-inlet", hookup(inlet_breaker_a=40.0), "40 A", "30 A"),
    probe("breaker-over-cord", hookup(**THIN), "12 AWG carries 25 A", "30 A through", "10 AWG or more"),
    # appliance cords hang on the set's small outlets, not behind its main breaker
    probe("breaker-over-cord", hookup(**THIN), quiet=hookup(kind=HookupKind.CORDS, **THIN)),
    probe("device-over-flex", hookup_230(**THIN_230), "2.5 mm2 carries 25 A", "32 A through"),
    probe(
        "inlet-breaker-over-cord",
        changed(hookup(**THIN), generator=UNKNOWN),
        "30 A",
        "25 A",
        quiet=changed(CALM, generator=UNKNOWN),
    ),
    probe(
        "inlet-device-over-flex",
        changed(hookup_230(**THIN_230), generator=UNKNOWN),
        "32 A",
        "25 A",
        quiet=changed(CALM_230, generator=UNKNOWN),
    ),
    probe(
        "one-voltage-inlet-multiwire",
        PAIR,
        "up to 30 A",
        "protected for 15 A",
        quiet=item(CALM, "circuits", "rooms", multiwire_with="boiler"),
    ),
    probe("chain-has-no-240", ONE_LEG, "L5-30", "Well pump"),
    probe("chain-has-no-neutral", hookup(inlet="L6-30"), "L6-30", "Fridge"),
    probe(
        "chain-is-the-limit",
        changed(CALM, generator={"on": tuple(BIG_SET)}),
        "40,000 W",
        "7,200 W arrive",
        "5,760 W",
    ),
    probe(
        "leg-current-over-chain",
        item(hookup(transfer_a=20.0), "loads", "lamp", running_w=2400.0, high_w=2400.0),
        "passes 20 A",
        quiet=hookup(transfer_a=20.0),
    ),
    probe("transfer-below-breaker", hookup(transfer_a=20.0), "20 A", "30 A"),
    probe(
        "transfer-below-breaker", hookup(grid_breaker_a=70.0), "60 A", "breaker on the grid side lets 70 A"
    ),
    probe("panel-main-over-bus", hookup(panel_main_a=125.0), "125 A", "100 A"),
    probe("board-main-over-rating", hookup_230(panel_main_a=125.0), "125 A", "100 A"),
    probe("panel-spaces-short", hookup(panel_spaces=5), "take 6 spaces", "has 5"),
    probe("sign-at-service", hookup(service_sign=None), "type and place"),
    probe("sign-at-inlet", hookup(inlet_sign=False), "bonded neutral only"),
    probe("inlet-outdoors", CALM, "L14-30", quiet=hookup(inlet_place="outside")),
    probe("inlet-outdoors", CALM, "L14-30", quiet=hookup(inlet=None)),
    probe("inlet-inside", hookup(inlet_place="inside"), "L14-30", "outside wall"),
    probe("large-portable", changed(CALM, generator={"on": tuple(BIG_SET)}), "40,000 W", "15,000 W"),
    probe("emergency-shutdown", AUTOMATIC, "outside the dwelling"),
    probe(
        "interlock-sheds-by-hand",
        rating(INTERLOCK, running_w=6e3),
        "6,760 W if it all ran",
        "6,000 W",
        "Range",
        quiet=INTERLOCK,
    ),
    probe(
        "automatic-over-capacity",
        AUTOMATIC,
        "7,000 W",
        "Article 220",
        quiet=changed(AUTOMATIC, generator={"on": tuple(BIG_SET)}),
    ),
    probe(
        "essential-left-out",
        item(CALM, "loads", "range", priority=Priority.ESSENTIAL),
        "Range",
        "Range circuit",
    ),
]
