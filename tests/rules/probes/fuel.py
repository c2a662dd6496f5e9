"""Fuel, both ways."""

from datetime import date

from tests.rules.houses import CALM, CALM_230, changed, probe, rating, stock

from hearthold.house.supply import FuelKind, PrintedRun
from hearthold.rules.case import Played

GALLON_M3 = 0.003785411784
PROPANE = stock(CALM, fuel=FuelKind.PROPANE, amount_m3=None, mass_kg=36.0, place="outside")
HEATED_BY_PROPANE = changed(  # but for the heater's fuel
    stock(CALM, fuel=FuelKind.PROPANE, amount_m3=10 * GALLON_M3, place="outside"),
    heat={"ua_w_per_k": 200.0, "gains_w": 0.0, "set_c": 20.0},
)
BOTTLES = rating(CALM, 1, cylinder_kg=9.07, cylinders_joined=1)
ON_GAS = changed(BOTTLES, fuel={"preferred": FuelKind.PROPANE})


def printed(hours):
    """The calm house with a run time printed for half load."""
    return rating(CALM, printed=(PrintedRun(load=0.5, hours=f"{hours} h"),))


PROBES = [
    probe(
        "stock-short-of-outage",
        changed(CALM, outages={"plan_for_s": 30 * 86400.0}),
        "30 days",
        "6 h of running a day, the least",
    ),
    probe(
        "stock-short-of-outage",
        changed(CALM, outages={"plan_for_s": 72 * 3600.0}),
        "With 10 h of running a day, as the routine has it, all fuel at home lasts about 2.9 days",
        "plans for 3 days",
        quiet=changed(CALM, outages={"plan_for_s": 69 * 3600.0}),
        played=Played(64800.0, 3600.0, 36000.0, 69 * 3600.0, frozenset()),
    ),
    probe(  # a routine that breaks limits may last by saving what the outage needs
        "stock-short-of-outage",
        changed(CALM, outages={"plan_for_s": 30 * 86400.0}),
        "6 h of running a day, the least",
        quiet=changed(CALM, outages={"plan_for_s": 3 * 86400.0}),
        played=Played(64800.0, 3600.0, 3600.0, 40 * 86400.0, frozenset(), keeps_all=False),
    ),
    probe(
        "preferred-fuel-not-at-home",
        stock(CALM, amount_m3=0.0),
        "big set is to run on gasoline",
        "no stock of it.",
    ),
    probe(
        "preferred-fuel-not-at-home",
        PROPANE,
        "while it has propane, on which the set runs too",
        quiet=CALM,
    ),
    probe(
        # EIA: 91,452 Btu a gallon of propane, so 5 kW at 80 % for a day are 540 MJ of 96.5 MJ each
        "heater-on-the-same-propane",
        changed(HEATED_BY_PROPANE, heat={"heater_fuel": "propane"}),
        "68 °F (20 °C)",
        "5,000 W of heat and 5.6 gal (21.2 L)",
        "10 gal (37.9 L)",
        "in about 43 h",
        quiet=HEATED_BY_PROPANE,
        air_c=-5.0,
    ),
    probe(
        "refuel-in-the-night",
        rating(CALM, tank_m3=1.5 * GALLON_M3),
        "quiet time is 8 h",
        quiet=changed(rating(CALM, tank_m3=1.5 * GALLON_M3), wishes={"run_at_night": False}),
    ),
    probe("stock-too-old", stock(CALM, bought=date(2025, 3, 1)), "2025-03-01", "2026-03-01", "8.8 months"),
    probe("stock-not-stabilised", stock(CALM, stabilised=False), "20 gal (75.7 L)", "91 days", "12 months"),
    probe("stock-age-unknown", stock(CALM, bought=None), "20 gal (75.7 L)"),
    probe("fuel-in-the-house", stock(CALM, place="basement"), "in the basement"),
    probe(
        "propane-indoors", stock(PROPANE, place="attached_garage"), "in the attached garage", quiet=PROPANE
    ),
    probe("fuel-in-attached-garage", stock(CALM, place="attached_garage"), "20 gal (75.7 L)"),
    probe(
        "fuel-over-usual-limit", stock(CALM, amount_m3=30 * GALLON_M3), "30 gal (114 L)", "25 gal (94.6 L)"
    ),
    probe("petrol-over-free-limit", stock(CALM_230, amount_m3=0.05), "50 L", "30 L"),
    probe(
        "petrol-over-free-limit",
        stock(CALM_230, amount_m3=0.05),
        "50 L",
        quiet=stock(changed(CALM_230, site={"country": "DE"}), amount_m3=0.05),
    ),
    probe("petrol-limit-unknown", changed(CALM_230, site={"country": "NO"}), "30 L", "NO", quiet=CALM_230),
    probe("can-too-heavy", stock(CALM, container_m3=10 * GALLON_M3), "61.9 lb (28.1 kg)", "44.1 lb (20 kg)"),
    probe("refuelling-too-hot", changed(CALM, wishes={"cool_down_s": 300.0}), "5 min", "15 min"),
    probe("one-fuel-only", CALM_230, "petrol only", quiet=CALM),
    probe(
        "station-needs-power",
        changed(CALM, fuel={"trip": CALM.fuel.trip.model_copy(update={"works_in_outage": None})}),
        "60 min",
        "does not say",
    ),
    probe("propane-too-cold", ON_GAS, "-4 °F (-20 °C)", "half load", air_c=-20.0, severity="act"),
    probe("propane-too-cold", BOTTLES, "-4 °F (-20 °C)", air_c=-20.0, severity="consider"),
    probe(
        "gas-pipe-too-small",
        rating(CALM, 1, gas_pipe="1/2 in, 100 ft"),
        "1/2 in",
        "150 ft (45.7 m)",
        quiet=rating(CALM, 1, gas_pipe="1-1/4 in, 20 ft"),
    ),
    probe("printed-run-implausible", printed(24), "24 h", "50 % load", quiet=printed(9)),
]
