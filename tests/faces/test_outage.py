"""`hearthold outage`: ahead of an outage and in the middle of one; misuse is told, nothing unproven claimed."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from hearthold.engine.sunshine import month_with_sun
from hearthold.errors import InputError
from hearthold.faces import service
from hearthold.faces.cli import main as cli
from hearthold.faces.cli.exits import Exit
from hearthold.faces.outage import proof_words
from hearthold.faces.readings import read_now, readable
from hearthold.house.reader import read_house
from hearthold.papers.words.say import Say
from hearthold.plan.now import Now
from hearthold.plan.outage import Span, plan_outage

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
    read_in = read_now(
        service.read(HOUSE), ["fridge = 41 F", "house=14 C", "fuel_tank=2 gal"], at_s=0.0, elapsed_s=3600.0
    )
    now = read_in.now
    assert now.cold_c == {"fridge": pytest.approx(5.0)}
    assert now.air_c == 14.0
    assert now.fuel_tank_m3 == pytest.approx(2 * 0.003785411784)  # NIST SP 811: one US gallon


GALLON_M3 = 0.003785411784  # NIST SP 811
# Tank 5.8 gal, 15 gal at home (of examples/tarn_hollow.toml): what is read, then tank and stock in gallons.
FUEL_READ = {
    "nothing": ((), 5.8, 9.2),
    "tank": (("fuel_tank=2 gal",), 2.0, 9.2),
    "stock": (("fuel_stock=10 gal",), 5.0, 10.0),
    "little_stock": (("fuel_stock=1 gal",), 5.8, 1.0),
    "more_than_there_was": (("fuel_stock=20 gal",), 0.0, 20.0),
    "both": (("fuel_stock=20 gal", "fuel_tank=3 gal"), 3.0, 20.0),
}


@pytest.mark.parametrize("case", FUEL_READ.values(), ids=FUEL_READ)
def test_a_reading_replaces_what_it_names_and_nothing_is_counted_twice(case):
    texts, tank, stock = case
    read_in = read_now(service.read(HOUSE), texts, at_s=0.0, elapsed_s=3600.0)
    assert read_in.fuel.tank_m3 == pytest.approx(tank * GALLON_M3, rel=1e-6)
    assert read_in.fuel.stock_m3 == pytest.approx(stock * GALLON_M3, rel=1e-6)
    if texts:
        assert (read_in.now.fuel_tank_m3, read_in.now.fuel_stock_m3) == (
            read_in.fuel.tank_m3, read_in.fuel.stock_m3,
        )  # fmt: skip
    else:
        assert read_in.now == Now(0.0, 3600.0)


def test_a_machine_that_draws_from_one_store_has_all_its_fuel_there(tmp_path):
    """Either name means the store: 100 gal read are 100 gal, not 100 beside a full tank."""
    text = HOUSE.read_text("utf-8").replace('tank = "5.8 gal"', "").replace('cylinder = "20 lb"', "")
    (tmp_path / "house.toml").write_text(text, "utf-8")
    house = service.read(tmp_path / "house.toml")
    for name in ("fuel_tank", "fuel_stock"):
        read_in = read_now(house, [f"{name}=7 gal"], at_s=0.0)
        assert read_in.now.fuel_tank_m3 == pytest.approx(7 * GALLON_M3)
        assert read_in.now.fuel_stock_m3 == 0.0
    with pytest.raises(InputError, match="draws from one store"):
        read_now(house, ["fuel_tank=7 gal", "fuel_stock=7 gal"], at_s=0.0)


def test_the_page_says_what_fuel_is_reckoned_with(capsys):
    cli.main([
        "outage", str(HOUSE), "--hours", "6", "--down", "2 h", "--month", "7", "--reading", "fuel_stock=10 gal",
    ])  # fmt: skip
    told = " ".join(capsys.readouterr().out.split())
    assert (
        "fuel now 5.00 gal in the tank (what the house file leaves for it) and 10.0 gal beside it (as read)"
        in told
    )
    assert "Nobody read fuel_tank" in told


def test_what_nobody_read_in_the_middle_of_an_outage_is_named(capsys):
    """Every store of the example, by the ids of its file; before an outage nothing is missing."""
    often = ["outage", str(HOUSE), "--hours", "4", "--month", "7"]
    cli.main([*often, "--down", "40 h", "--reading", "fridge=43 F"])
    told = " ".join(capsys.readouterr().out.split())
    assert (
        "NOBODY READ Pantry freezer, Workshop chest freezer, house and hot water: taken as in normal times"
        in told
    )
    assert "After 40 h that is too good" in told
    assert "(pantry_freezer, chest_freezer, house, hot_water)" in told
    assert (
        "nothing to give a reading of: Cellar sump, Effluent pump tank, pressure tank and jugs and own battery of "
        "CPAP with humidifier." in told
    )
    cli.main(often)
    assert "NOBODY READ" not in capsys.readouterr().out


def test_every_store_that_can_be_read_has_a_name():
    house = service.read(HOUSE)
    read_in = read_now(house, (), at_s=0.0, elapsed_s=3600.0)
    assert set(read_in.unread) == set(readable(house)) - {"fuel_tank", "fuel_stock"}


def with_fuel(tmp_path, amount, trip='trip = { time = "80 min", brings = "15 gal" }'):
    """Tarn Hollow with another amount of gasoline at home, and another trip for more."""
    text = HOUSE.read_text("utf-8").replace('amount = "15 gal"', f'amount = "{amount}"')
    made = text.replace('trip = { time = "80 min", brings = "15 gal" }', trip)
    (tmp_path / "house.toml").write_text(made, "utf-8")
    return str(tmp_path / "house.toml")


def test_no_spell_is_listed_that_no_fuel_covers(tmp_path, capsys):
    cli.main(["outage", with_fuel(tmp_path, "2 gal"), "--from", "20:00", "--hours", "40", "--json"])
    told = json.loads(capsys.readouterr().out)
    assert sum(s["end_s"] - s["start_s"] for s in told["spells"]) == pytest.approx(told["run_s"], abs=1.0)
    assert told["fuel_m3"] == pytest.approx(2.0 * GALLON_M3)
    assert told["fuel_ends_s"] == told["spells"][-1]["end_s"] < 40 * 3600.0


def test_a_trip_for_fuel_says_when_to_leave_and_when_one_is_back(tmp_path, capsys):
    trip = 'trip = { time = "80 min", brings = "15 gal", works_in_outage = true }'
    cli.main(
        ["outage", with_fuel(tmp_path, "0 gal", trip), "--from", "08:00", "--hours", "12", "--month", "7"]
    )
    told = " ".join(capsys.readouterr().out.split())
    assert "Somebody leaves for fuel now, to be back at 09:20: without it there is nothing to run on." in told
    assert "leave now, back on day 1 at 09:20 with 15.0 gal" in told


def test_an_amount_of_fuel_reads_as_the_round_figure_it_is():
    """25 gal are 94.635 L, 200 gal 757.08 L (NIST SP 811)."""
    told = "Have 757.1 L of fuel instead of 94.64 L"  # as remedies have it
    assert Say(us=True).retold(told) == "Have 200 gal of fuel instead of 25.0 gal"


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--reading", "fuel_tank=50 gal"], "more than the tank holds, 5.8 gal"),
        (["--down", "-2 h"], "--down '-2 h' is no time that it can have been down"),
        (["--down", "400 days"], "--down '400 days' is no time that it can have been down"),
        (["--down", "14"], '--down \'14\': 14 has no unit; write for example "90 min" or "14 h".'),
        (["--reading", "house=-40 F"], "-40 F cannot be, only -22 F (-30 C) to 122 F (50 C); look again"),
        (["--reading", "house=50 F", "--reading", "house=52 F"], "is the second of house"),
        (
            ["--reading", "fidge=43 F"],
            'nothing that can be read here. Did you mean "fridge"? Write NAME=VALUE',
        ),
        (["--reading", "fridge"], 'says no value; write for example "fridge=41 F"'),
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


def test_starts_are_told_where_they_say_more_than_the_costs() -> None:
    """A bound on starts stands beside one on costs only where it is the nearer of the two to the plan."""
    house = read_house(HOUSE)
    planned = plan_outage(house, month_with_sun(house, 5), Now(18 * 3600.0), Span(12.0), prove_s=1.0)
    assert planned.bound is not None
    assert planned.bound.proven
    starts = planned.plan.starts
    assert starts >= 1
    told = [proof_words(replace(planned, fewest_starts=n)) for n in (0, starts)]
    assert ["fewer than" in words for words in told] == [False, True]
    assert f"fewer than {starts} times; this one: {starts}." in told[1]
