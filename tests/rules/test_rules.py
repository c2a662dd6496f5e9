"""Each rule both ways: it fires where it should and says the figures of the house, and not beside it."""

import importlib

import pytest
from tests.rules.houses import found

from hearthold.rules.finding import Severity
from hearthold.rules.rows import families, rule_book

PROBES = [p for family in families() for p in importlib.import_module(f"tests.rules.probes.{family}").PROBES]
IDS = [f"{p.rule}-{n}" for n, p in enumerate(PROBES)]


@pytest.mark.parametrize("probe", PROBES, ids=IDS)
def test_rule_fires_and_says_the_figures(probe):
    hits = found(probe.rule, probe.fires, probe.air_c, probe.today, probe.played)
    assert hits, f"{probe.rule} did not fire"
    words = " ".join((hits[0].title, hits[0].where, hits[0].why, hits[0].remedy))
    for piece in probe.says:
        assert piece in words
    assert hits[0].severity is Severity(probe.severity or rule_book()[probe.rule].severity)


@pytest.mark.parametrize("probe", PROBES, ids=IDS)
def test_rule_is_quiet_beside_it(probe):
    air_c = probe.air_c if probe.quiet_air_c is None else probe.quiet_air_c
    if probe.quiet is probe.fires and air_c == probe.air_c:
        pytest.fail(f"{probe.rule}: the quiet house is the one on which it fires")
    assert not found(probe.rule, probe.quiet, air_c, probe.today)


def test_every_rule_is_probed_both_ways():
    assert {p.rule for p in PROBES} == set(rule_book())
