"""The machine and what runs, both ways."""

from tests.rules.houses import CALM, CALM_230, battery, changed, item, probe, rating, stock

from hearthold.house.loads import Priority
from hearthold.house.site import VoltageSystem
from hearthold.house.supply import FuelKind

BARE = changed(CALM, generator=None, battery=None)
NEEDED_W = 960 + 250 + 250 + 150 + 150  # essential loads of the calm house


def weak(running_w):
    """The calm house on a smaller machine without a leg limit of its own."""
    return changed(rating(CALM, running_w=running_w, start_w=12e3), generator={"leg_limit_w": None})


HIGH_UP = changed(weak(1900.0), site={"altitude_m": 1524.0})

PROBES = [
    # half of 5 kW on each leg; 2.6 kW on one leg of it is too much, 4.5 kW across both is not
    probe(
        "load-beyond-inverter",
        battery(lamp=2600.0),
        "2,600 VA",
        "5,000 W, 2,500 W on one leg",
        quiet=battery(),
    ),
    probe("inverter-below-load", battery(well=5000.0), "by itself", "holds 5,000 W", quiet=battery()),
    probe("nothing-carries-the-house", BARE, "12 h", "Well pump"),
    probe("running-over-rated", weak(1500.0), "1,760 W", "1,500 W", "Well pump is the largest, with 960 W"),
    probe("load-beyond-machine", item(CALM, "loads", "lamp", running_w=7001.0), "7,000 W", severity="act"),
    probe(
        "load-beyond-machine",
        item(CALM, "loads", "lamp", running_w=9000.0, priority=Priority.COMFORT),
        "9,000 W",
        "7,000 W",
        quiet=item(CALM, "loads", "lamp", running_w=7000.0, priority=Priority.COMFORT),
    ),
    probe(
        "leg-over-limit",
        item(changed(CALM, generator={"leg_limit_w": 1500.0}), "loads", "lamp", running_w=1200.0),
        "Leg B",
        "1,500 W",
        quiet=changed(CALM, generator={"leg_limit_w": 1500.0}),
    ),
    probe(
        "legs-unbalanced",
        item(CALM, "circuits", "freezer", leg="A"),
        "leg A carries",
        "25 %",
        quiet=item(CALM, "loads", "freezer", running_w=250.0),
    ),
    # nobody knows the leg of the range of lamps, so nobody knows how even the legs are
    probe(
        "legs-unbalanced",
        item(CALM, "circuits", "freezer", leg="A"),
        quiet=item(item(CALM, "circuits", "freezer", leg="A"), "circuits", "rooms", leg=None),
    ),
    probe("steady-above-held-share", weak(2000.0), "88 %", "2,000 W", "80 %"),
    probe(
        "air-eats-the-margin",
        HIGH_UP,
        "1,900 W",
        "1,760 W",
        "5,000 ft (1,520 m)",
        quiet=weak(1900.0),
        air_c=18.0,
    ),
    probe("runs-nearly-idle", CALM, "235 W", "3.4 %", quiet=rating(CALM, running_w=900.0)),
    probe(
        "fuel-not-rated",
        changed(CALM, fuel={"preferred": FuelKind.DIESEL}),
        "diesel",
        "gasoline and propane only",
    ),
    probe("stock-not-burnt", stock(CALM, fuel=FuelKind.DIESEL), "diesel"),
    probe("voltage-mismatch", changed(CALM_230, generator={"voltage_v": 120.0}), "120 V", "230 V"),
    probe("no-240-volts", changed(CALM, generator={"voltage_v": 120.0}), "Well pump"),
    probe(
        "wrong-frequency",
        changed(CALM, generator={"kind": "portable", "speed_rpm": 3000}),
        "3000 rpm",
        "50 Hz",
        "60 Hz",
        quiet=changed(CALM, generator={"kind": "portable", "speed_rpm": 1800}),
    ),
    probe(
        "rough-power-for-electronics",
        item(changed(CALM, generator={"kind": "portable"}), "loads", "lamp", start_kind="electronic"),
        "Lamps",
        "61.5 Hz to 63 Hz",
        "25 %",
        quiet=item(CALM, "loads", "lamp", start_kind="electronic"),
    ),
    probe(
        "rough-power-for-electronics",
        item(changed(CALM_230, generator={"kind": "portable"}), "loads", "freezer", start_kind="electronic"),
        "51.2 Hz to 52.5 Hz",
    ),
]

assert CALM.system is VoltageSystem.SPLIT_120_240
