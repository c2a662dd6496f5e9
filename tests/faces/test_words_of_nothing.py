"""Pages where nothing runs, nothing is left, or a plan's turns are left out say so in plain words."""

from pathlib import Path

import pytest

from hearthold.faces.cli import main as cli

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "examples" / "tarn_hollow.toml"


@pytest.fixture(scope="module")
def without_fuel(tmp_path_factory):
    """The example with neither gasoline nor propane at home."""
    text = HOUSE.read_text("utf-8")
    for amount, nothing in (('amount = "15 gal"', 'amount = "0 gal"'), ('mass = "80 lb"', 'mass = "0 lb"')):
        assert amount in text
        text = text.replace(amount, nothing)
    path = tmp_path_factory.mktemp("nothing") / "house.toml"
    path.write_text(text, "utf-8")
    return path


def told_by(capsys, *arguments):
    cli.main([*map(str, arguments)])
    return " ".join(capsys.readouterr().out.split())


def test_an_outage_without_fuel(without_fuel, capsys):
    told = told_by(capsys, "outage", without_fuel, "--hours", "12", "--month", "1")
    assert "Not at all: there is no fuel." in told
    assert "runs not at all" in told
    assert "everything lasts" not in told
    assert "Pipes may freeze: shut off and drain those at risk within" in told


def test_where_limits_break_nothing_is_said_of_the_first_act_in_a_shorter_outage(without_fuel, capsys):
    told = told_by(capsys, "outage", without_fuel, "--sure", "80", "--month", "1")
    assert "Nobody knows how long it lasts." in told
    assert "No plan was found that keeps every limit" in told
    assert "first act" not in told


def test_a_plan_without_fuel(without_fuel, capsys):
    told = told_by(capsys, "plan", without_fuel, "--month", "1", "--no-outlook")
    assert "a day no running, no fuel" in told
    assert "With nothing running, the first to fail is" in told
    assert "the first to fail is gasoline" not in told
    assert "First to fail: gasoline" not in told
    assert "Pipes may freeze: shut off and drain" in told


def test_all_circuits_at_once_say_that_turns_are_left_out(capsys):
    told = told_by(capsys, "simulate", HOUSE, "--run", "06:30/90min", "--hours", "24", "--together")
    assert "The turns in which plan and outage switch circuits are left out" in told


def test_kinds_of_the_catalogue_can_be_copied(capsys):
    cli.main(["loads", "well", "--system", "split_120_240"])
    lines = capsys.readouterr().out.splitlines()
    assert any(line.split()[:1] == ["well_three_quarter_hp_three_wire"] for line in lines)
    assert max(map(len, lines)) <= 80
