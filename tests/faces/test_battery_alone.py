"""A house whose only backup is a battery: every command answers, or says one clear thing."""

import json
import re
import sys
from datetime import date
from pathlib import Path

import pytest

from hearthold.errors import InputError
from hearthold.faces import service
from hearthold.faces.cli import main as cli
from hearthold.faces.cli.exits import Exit
from hearthold.faces.outage import AskedOutage
from hearthold.faces.readings import read_now
from hearthold.house.reader import read_house

sys.path.insert(0, str(Path(__file__).parents[1] / "builders"))
from house_parts import battery

ROOT = Path(__file__).parents[2]
CROFT = (ROOT / "examples" / "skerrow_croft.toml").read_text("utf-8")


@pytest.fixture(scope="module")
def croft(tmp_path_factory):
    """The example with its machine, fuel and hookup replaced by a battery of 10 kWh."""
    without = re.sub(r"\n\[generator\].*?\n(?=\[safety\])", "\n", CROFT, flags=re.DOTALL)
    path = tmp_path_factory.mktemp("croft") / "croft.toml"
    path.write_text(without + "\n" + battery("10 kWh"), "utf-8")
    return path


def told(capsys, *args):
    code = cli.main([str(a) for a in args])
    found = capsys.readouterr()
    return code, " ".join(found.out.split()), found.err


def test_plan_says_what_to_have_on_and_how_long_it_lasts(capsys, croft):
    _, text, _ = told(capsys, "plan", croft)
    assert "Leave on at all hours:" in text
    assert "Kept so, from full, the battery is empty after" in text
    assert "with everything on the battery is empty after" in text
    assert "Which circuits are on when" in text
    assert "Do not switch on while the battery carries the house: Kettle (2,200 W)" in text
    assert "No machine with a hookup" not in text
    _, data, _ = told(capsys, "plan", croft, "--json")
    plan = json.loads(data)
    assert plan["routine"] is None
    found = plan["on_battery"]
    fed = {*found["always"], *found["in_hours"], *found["off"]}
    assert fed == {"borehole", "boiler", "kitchen", "byre", "drains", "lights", "desk"}
    assert found["sentence"].split(".")[0] in text


def test_outage_says_what_to_have_on_now(capsys, croft):
    asked = ("--from", "07:00", "--down", "13 h", "--reading", "battery=55 %", "--hours", "24")
    _, text, _ = told(capsys, "outage", croft, *asked)
    assert "Croft: 07:00, the grid down for 13 h" in text
    assert "On now: " in text or "Have every circuit on now." in text
    assert (
        "The battery has 4.50 kWh to give, as read." in text
    )  # 10 kWh x (55 % - the 10 % that is not usable)
    code, data, _ = told(capsys, "outage", croft, *asked, "--json")
    account = json.loads(data)
    assert account["battery_now_j"] == pytest.approx(4.5 * 3.6e6)
    assert code == (Exit.DONE if account["kept"] else Exit.FINDINGS)
    assert account["planned_for_s"] == 24 * 3600.0
    assert all(0.0 < s["at_s"] < 24 * 3600.0 for s in account["switches"])


def test_an_unread_gauge_is_asked_for(capsys, croft):
    _, text, _ = told(capsys, "outage", croft, "--down", "5 h", "--hours", "12")
    assert "taken as full: look, and give its charge with --reading 'battery=60 %'." in text


def test_what_nobody_read_is_named_in_the_middle_of_an_outage(capsys, croft):
    asked = ("outage", croft, "--hours", "12")
    _, text, _ = told(capsys, *asked, "--down", "5 h", "--reading", "house=14 C")
    warned = text[text.index("NOBODY READ") :].split(": taken as")[0]
    for store in read_house(croft).cold:
        assert store.name in warned
    assert "house" not in warned.replace("NOBODY READ", "").split()
    assert "NOBODY READ" not in told(capsys, *asked)[1]


@pytest.mark.parametrize(
    "asked", [AskedOutage(running=True), AskedOutage(prove_s=2.0), AskedOutage(fuel="gasoline")]
)
def test_what_only_a_machine_has_is_refused(croft, asked):
    with pytest.raises(InputError, match="is of a machine, and this house has a battery alone"):
        service.outage(croft, asked, date(2026, 11, 1))


def test_an_empty_gauge_leaves_nothing(croft):
    house = read_house(croft)
    for shown, left_kwh in (("100 %", 9.0), ("60 %", 5.0), ("10 %", 0.0), ("5 %", 0.0)):
        now = read_now(house, [f"battery={shown}"], at_s=0.0).now
        assert now.battery_j == pytest.approx(left_kwh * 3.6e6, abs=1.0)


def test_simulate_follows_the_plan_or_leaves_everything_on(capsys, croft):
    _, text, _ = told(capsys, "simulate", croft, "--machine", "routine", "--hours", "48")
    assert "circuits by the hours above" in text
    assert "out of fuel" not in text
    _, data, _ = told(capsys, "simulate", croft, "--machine", "routine", "--hours", "48", "--json")
    _, planned, _ = told(capsys, "plan", croft, "--json")
    stores = {s["store"]: s["kept"] for s in json.loads(planned)["on_battery"]["stores"]}
    assert {s["store"]: s["kept"] for s in json.loads(data)["stores"]} == stores


def test_risk_is_of_the_way_that_plan_tells(capsys, croft):
    _, text, _ = told(capsys, "risk", croft, "--month", "2")
    _, planned, _ = told(capsys, "plan", croft, "--month", "2", "--json")
    assert json.loads(planned)["on_battery"]["sentence"] in text
    assert "Nothing runs" not in text
    assert "the battery is full when the grid fails" in text
    assert "the machine starts" not in text
    assert "out of fuel" not in text
