"""`hearthold simulate`: what was asked is what was run, account and course agree, misuse is told."""

import csv
import json
from datetime import date
from io import BytesIO, StringIO
from pathlib import Path
from xml.etree import ElementTree

import pytest

from hearthold.errors import InputError
from hearthold.faces import service
from hearthold.faces.cli import main as cli
from hearthold.faces.cli.exits import Exit
from hearthold.faces.simulation import (
    BY_ROUTINE,
    MACHINES,
    Outage,
    chart_bytes,
    clock_s,
    running_of,
    trace_bytes,
    trace_csv,
    turns_left_out,
)
from hearthold.house.reader import read_house
from hearthold.papers.words.say import Say

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "examples" / "tarn_hollow.toml"
TWO_RUNS = ("06:30/90min", "18:00/2h")


@pytest.fixture(scope="module")
def two_runs():
    """Two spells a day for two days, with the course as its CSV says it."""
    found = service.simulate(HOUSE, Outage(month=1, start="06:00", hours=48, runs=TWO_RUNS))
    rows = csv.DictReader(StringIO(trace_csv(found.trace)))
    return found, [{key: float(value) for key, value in row.items()} for row in rows]


def test_the_machine_runs_as_asked(two_runs):
    found, _ = two_runs
    assert found.account.starts == 4
    assert found.account.run_s == pytest.approx(2 * (5400 + 7200), abs=1.0)
    assert found.account.hours == 48


def test_the_course_has_a_row_a_minute(two_runs):
    _, rows = two_runs
    assert len(rows) == 48 * 60
    assert [row["at_s"] for row in rows[:3]] == [0.0, 60.0, 120.0]


def test_account_and_course_agree(two_runs):
    """Energy is the sum of the minutes' mean power; fuel burned is the sum of the minutes' rates."""
    found, rows = two_runs
    energy_j = sum(row["load_w"] for row in rows) * 60.0
    burned_m3 = sum(row["burn_m3_per_s"] for row in rows) * 60.0
    assert energy_j == pytest.approx(found.account.energy_j, rel=1e-3)
    assert burned_m3 == pytest.approx(found.account.fuel_m3, rel=1e-3)


def test_fuel_burned_and_left_is_what_there_was(two_runs):
    """15 gal of gasoline at home (NIST SP 811: 3.785412 L each); the machine's tank is filled from it."""
    found, _ = two_runs
    assert found.account.fuel_m3 + found.account.fuel_left_m3 == pytest.approx(15 * 3.785412e-3, rel=1e-3)


def test_a_machine_that_is_off_burns_nothing():
    account = service.simulate(HOUSE, Outage(month=1, hours=12, machine="off")).account
    assert (account.starts, account.run_s, account.fuel_m3, account.energy_j) == (0, 0.0, 0.0, 0.0)
    assert "house" in {store.name for store in account.broken}


def test_the_routine_of_plan_comes_out_as_plan_tells_it():
    """Two ways to one outage: the rule search's own replay, and this command in the same three days."""
    told = service.plan(HOUSE, date(2026, 11, 25), month=1).plan.routine
    found = service.simulate(HOUSE, Outage(month=1, start="18:00", hours=72, machine=BY_ROUTINE))
    figures = [
        [(x.name, x.kept, x.low, x.high, x.beyond_s, x.first_s, x.missed) for x in stores]
        for stores in (found.account.stores, told.stores)
    ]
    assert [x[:2] for x in figures[0]] == [x[:2] for x in figures[1]]
    for one, other in zip(*figures, strict=True):
        assert one[2:] == pytest.approx(other[2:], rel=1e-6, nan_ok=True)
    assert found.account.fuel_m3 == pytest.approx(3 * told.fuel_day_m3)
    assert found.running.sentence == told.sentence


def test_circuits_go_in_turns_unless_all_are_wanted_together():
    """The example's heater and well pump are not carried beside the rest (docs/guide.md): at once, more power."""
    in_turns, at_once = (
        service.simulate(HOUSE, Outage(month=1, hours=30, runs=TWO_RUNS, together=together))
        for together in (False, True)
    )
    assert in_turns.running.turns.changes > 0
    assert at_once.running.turns.changes == 0
    assert in_turns.account.energy_j < at_once.account.energy_j
    assert not turns_left_out(in_turns)
    assert turns_left_out(at_once)


@pytest.mark.parametrize("machine", [*sorted(MACHINES), BY_ROUTINE])
def test_every_way_of_running(machine, capsys):
    code = cli.main(["simulate", str(HOUSE), "--machine", machine, "--hours", "6", "--json"])
    account = json.loads(capsys.readouterr().out)
    assert code == (Exit.FINDINGS if not all(store["kept"] for store in account["stores"]) else Exit.DONE)
    assert (account["run_s"] > 0) is (machine != "off")


def test_the_page(capsys, tmp_path):
    out = tmp_path / "course.csv"
    cli.main(["simulate", str(HOUSE), "--run", "19:00/2h", "--hours", "6", "--month", "7", "--out", str(out)])
    seen = capsys.readouterr()
    assert "the grid fails at 18:00 for 6 h" in seen.out
    assert "machine ran  2 h in one spell" in seen.out
    assert all(len(line) <= 80 and line.isascii() for line in seen.out.splitlines())
    assert out.read_text().startswith("at_s,machine_frac,")
    assert cli.main(["simulate", str(HOUSE), "--out", str(out)]) == Exit.BAD_INPUT


def test_parquet_holds_what_the_trace_holds(two_runs):
    """Read back by pyarrow."""
    parquet = pytest.importorskip("pyarrow.parquet")
    found, rows = two_runs
    table = parquet.read_table(BytesIO(trace_bytes(found.trace, ".parquet")))
    assert table.column_names == list(rows[0])
    assert table["load_w"].to_pylist() == pytest.approx([row["load_w"] for row in rows], rel=1e-5)


def test_chart_as_svg_and_png(two_runs):
    """The SVG is XML with the spells told in words; the PNG has the signature of its standard (ISO 15948)."""
    found, _ = two_runs
    say = Say(us=True)
    root = ElementTree.fromstring(chart_bytes(found, say, ".svg"))
    assert "06:30 for 1.5 h" in root.findtext("{http://www.w3.org/2000/svg}desc")
    assert chart_bytes(found, say, ".png").startswith(b"\x89PNG\r\n\x1a\n")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--run", "6/90"], "--run '6/90': '6' is not a time of day"),
        (["--run", "06:30"], "--run '06:30' is not understood; write for example \"06:30/90min\""),
        (["--run", "06:30/90"], "--run '06:30/90': 90 has no unit"),
        (["--run", "06:00/0h"], "--run '06:00/0h': a daily spell lasts from a minute to 24 h"),
        (["--run", "06:00/30h"], "--run '06:00/30h': a daily spell lasts from a minute to 24 h"),
        (["--run", "06:30/9h", "--run", "07:00/2h"], "overlap"),
        (["--start", "25:00"], "'25:00' is not a time of day"),
        (["--hours", "0"], "Invalid value for '--hours'"),
        (["--out", "course.xls"], "course.xls ends in .xls; write .csv or .parquet."),
        (["--chart", "course"], "course ends in nothing; write .svg or .png."),
        (["--machine", "magic"], "Invalid value for '--machine'"),
    ],
)
def test_misuse_is_told(arguments, told, capsys):
    assert cli.main(["simulate", str(HOUSE), *arguments]) == Exit.BAD_INPUT
    assert told in " ".join(capsys.readouterr().err.split())


def test_clock():
    assert clock_s("00:00") == 0.0
    assert clock_s("23:59") == 86340.0
    for wrong in ("24:00", "7", "7:60", "-1:00", "07:00:00", ""):
        with pytest.raises(InputError, match="is not a time of day"):
            clock_s(wrong)


def test_runs_come_before_the_way_of_running():
    control = running_of(Outage(runs=TWO_RUNS, machine="off"), read_house(HOUSE), month=1).control
    assert [(s.at_s, s.length_s) for s in control.spells] == [(23400.0, 5400.0), (64800.0, 7200.0)]
