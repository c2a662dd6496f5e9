"""The check as a whole: order, wording on every house, faulty entries, the given day, both examples."""

import importlib
import re
from datetime import date
from pathlib import Path

import pytest
from tests.rules.houses import CALM, CALM_230, TODAY, changed, findings, found, item

from hearthold.errors import TableError
from hearthold.house.reader import read_house
from hearthold.rules.case import Case
from hearthold.rules.check import check
from hearthold.rules.finding import Severity
from hearthold.rules.registry import rule
from hearthold.rules.rows import families
from hearthold.sizing.conditions import conditions, harshest_month

ROOT = Path(__file__).parents[2]
PROBES = [p for family in families() for p in importlib.import_module(f"tests.rules.probes.{family}").PROBES]


def test_calm_houses_need_no_action():
    for house in (CALM, CALM_230):
        assert not [f for f in findings(house) if f.needs_action]


def test_gravest_comes_first():
    idle = {"exhaust_away": None, "last_exercised": date(2026, 1, 1)}
    house = changed(CALM, generator={"place": "garage", **idle})
    ranks = [f.severity.rank for f in findings(house)]
    assert ranks == sorted(ranks)
    assert findings(house)[0].rule == "engine-in-deadly-place"
    assert [s.rank for s in Severity] == [0, 1, 2, 3]


@pytest.mark.parametrize("probe", PROBES, ids=[f"{p.rule}-{n}" for n, p in enumerate(PROBES)])
def test_every_finding_is_a_finished_text(probe):
    for f in findings(probe.fires, probe.air_c):
        text = f"{f.title} {f.where} {f.why} {f.remedy}"
        assert not re.search(r"[{}<]|\bnan\b|\binf\b|\bNone\b|  ", text), text
        assert f.source.text
        assert f.where


def test_the_day_is_given():
    house = changed(CALM, generator={"last_exercised": date(2026, 11, 10)})
    assert not found("not-exercised", house, today=date(2026, 12, 10))
    assert found("not-exercised", house, today=date(2026, 12, 11))


def test_a_faulty_entry_is_named_and_the_other_rules_still_speak():
    house = item(changed(CALM, generator={"place": "garage"}), "circuits", "rooms", wire="2.5 mm2")
    left_out = found("not-checked", house)
    assert len(left_out) == 1
    assert "2.5 mm2 does not belong" in left_out[0].why
    assert "Voltage lost on the way to the load" in left_out[0].why
    assert found("engine-in-deadly-place", house)


def test_a_second_function_for_a_rule_is_refused():
    with pytest.raises(TableError, match="two functions answer rule engine-too-close"):
        rule("engine-too-close")(lambda case, row: iter(()))


def test_values_are_in_si_with_the_limits_beside_them():
    hit = found("engine-too-close", changed(CALM, generator={"distance_m": 3.0}))[0]
    assert hit.values["given_m"] == 3.0
    assert hit.values["distance_m"] == pytest.approx(6.096)
    with pytest.raises(TypeError, match="does not support item assignment"):
        hit.values["given_m"] = 9.0


# Read from the house files by hand: what an electrician and a neighbour would say first.
EXPECTED = {
    "tarn_hollow": "neutral-two-bonds fridge-hold-shorter-than-gap",
    "skerrow_croft": "generator-neutral-floats co-alarms-too-few stock-too-old not-exercised",
}


@pytest.mark.parametrize(("name", "must"), EXPECTED.items())
def test_examples_find_what_was_put_into_them(name, must):
    house = read_house(ROOT / "examples" / f"{name}.toml")
    fired = {f.rule for f in check(Case(house, conditions(house, harshest_month(house)), TODAY))}
    assert set(must.split()) <= fired
    assert "not-checked" not in fired
