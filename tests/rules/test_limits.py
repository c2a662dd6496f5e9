"""Limits of the rules against what was published outside the project."""

import pytest
from tests.rules.houses import CALM, changed, findings

from hearthold.house.supply import HookupKind
from hearthold.quantities import units
from hearthold.reference.code_rules import neutral_pairing
from hearthold.rules.rows import rule_row

# rule, limit, value, unit, dimension, source
PUBLISHED = [
    ("engine-too-close", "distance_m", 20.0, "ft", "length", "US CPSC release of 21 Dec 2022"),
    ("standby-set-too-close", "distance_m", 5.0, "ft", "length", "NFPA 37 section 4.1.4"),
    ("no-fridge-thermometer", "limit_c", 40.0, "F", "temperature", "FoodSafety.gov chart, 2010 copy"),
    ("no-fridge-thermometer", "above_s", 2.0, "h", "time", "FoodSafety.gov chart, 2010 copy"),
    ("freezer-half-empty", "full_clock_s", 48.0, "h", "time", "USDA FSIS guidance of 24 Oct 2007"),
    ("freezer-half-empty", "half_clock_s", 24.0, "h", "time", "USDA FSIS guidance of 24 Oct 2007"),
    ("steady-above-held-share", "limit_frac", 80.0, "%", "fraction", "Queensland Electrical Safety Office"),
    ("large-portable", "limit_w", 15.0, "kW", "power", "NEC 702.12(B)"),
    ("cold-snap-on-pipes", "alert_c", 20.0, "F", "temperature", "University of Illinois pipe tests"),
    ("not-exercised", "every_s", 30.0, "day", "time", "dealers' upkeep pages: monthly"),
    ("fuel-over-usual-limit", "limit_m3", 25.0, "gal", "volume", "articles quoting NFPA 30 and IFC"),
    ("stock-not-stabilised", "untreated_s", 3.0, "month", "time", "secondary pages: 3 to 6 months"),
    ("no-stored-water", "least_m3", 1.0, "gal", "volume", "Red Cross and FEMA, from memory"),
    ("petrol-over-free-limit", "limit_m3", 30.0, "L", "volume", "Petroleum Regulations 2014, from memory"),
]


@pytest.mark.parametrize(("rule", "name", "value", "unit", "dimension", "source"), PUBLISHED)
def test_limit_is_the_published_one(rule, name, value, unit, dimension, source):
    assert rule_row(rule).number(name) == pytest.approx(units.si(value, unit, dimension), rel=1e-4), source


def test_electrode_limit_follows_from_fifty_volts():
    """BS 7671 411.5.3 and IEC 60364-4-41 411.5: RA times the rated residual current is at most 50 V."""
    electrode_ohm = rule_row("no-residual-current-device").number("electrode_ohm")
    assert electrode_ohm == pytest.approx(50.0 / 0.030, rel=1e-4)


# The four cases of transfer pole and set neutral, and the two of cords, as NEC 250.30, 250.34, 250.35 and
# 250.142 have them (the reference table's own verdicts, derived from those articles and from EC&M).
FAULTS = {"neutral-two-bonds", "neutral-no-bond", "cords-floating-neutral"}
PAIRINGS = [(t, n) for t in ("solid", "switched", "cords_only") for n in ("floating", "bonded")]


@pytest.mark.parametrize(("transfer", "neutral"), PAIRINGS)
def test_neutral_findings_agree_with_the_decision_table(transfer, neutral):
    way = {"kind": HookupKind.CORDS, "inlet": None, "feeder": None} if transfer == "cords_only" else {}
    house = changed(
        CALM,
        generator={"neutral": neutral},
        hookup={"switched_neutral": transfer == "switched", "own_electrode": True, **way},
    )
    fired = FAULTS & {f.rule for f in findings(house)}
    assert bool(fired) is (neutral_pairing(transfer, neutral).verdict != "right")
