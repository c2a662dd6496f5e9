"""`hearthold outage`: ahead of an outage and in the middle of one; misuse is told, nothing unproven claimed."""

import json
from pathlib import Path

import pytest

from hearthold.faces import service
from hearthold.faces.cli import main as cli
from hearthold.faces.cli.exits import Exit
from hearthold.faces.readings import read_now

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "examples" / "tarn_hollow.toml"


def test_the_plan_is_the_simulated_one(capsys):
    code = cli.main(["outage", str(HOUSE), "--hours", "24", "--month", "7", "--json"])
    told = json.loads(capsys.readouterr().out)
    assert code == (Exit.DONE if told["kept"] else Exit.FINDINGS)
    ran_s = sum(s["end_s"] - s["start_s"] for s in told["spells"])
    assert told["run_s"] == pytest.approx(ran_s, abs=1.0)
    assert told["proof"] is None
    assert told["planned_for_s"] == 24 * 3600.0


def test_what_is_proven_is_told_with_its_gap(capsys):
    cli.main(["outage", str(HOUSE), "--hours", "12", "--month", "7", "--prove", "2", "--json"])
    told = json.loads(capsys.readouterr().out)
    proof = told["proof"]
    assert proof["proven"]
    assert 0.0 <= proof["gap_frac"] < 1.0  # this house switches circuits within a spell
    assert "no plan in quarter hours costs less than" in proof["statement"]
    assert "takes rounding for granted" in proof["statement"]


def test_where_nothing_is_proven_it_says_so(capsys):
    cli.main(
        ["outage", str(HOUSE), "--hours", "12", "--down", "2 h", "--running", "--prove", "0.5", "--json"]
    )
    proof = json.loads(capsys.readouterr().out)["proof"]
    assert not proof["proven"]
    assert "the machine is running" in proof["statement"]


def test_readings_are_what_the_plan_starts_from():
    now = read_now(
        service.read(HOUSE), ["fridge = 41 F", "house=14 C", "fuel_tank=2 gal"], at_s=0.0, elapsed_s=3600.0
    )
    assert now.cold_c == {"fridge": pytest.approx(5.0)}
    assert now.air_c == 14.0
    assert now.fuel_tank_m3 == pytest.approx(2 * 0.003785411784)  # NIST SP 811: one US gallon


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--reading", "frige=41 F"], 'Did you mean "fridge"'),
        (["--reading", "fridge=41"], "has no unit"),
        (["--reading", "house=400 C"], "cannot be"),
        (["--hours", "12", "--sure", "80"], "give one of them"),
        (["--from", "25:00"], "not a time of day"),
        (["--down", "5 x"], "--down '5 x': \"x\" is not a unit of time"),
    ],
)
def test_misuse_is_one_clear_error(options, words, capsys):
    assert cli.main(["outage", str(HOUSE), *options]) == Exit.BAD_INPUT
    assert words in " ".join(capsys.readouterr().err.split())
