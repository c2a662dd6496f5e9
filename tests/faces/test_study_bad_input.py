"""What a study cannot use, as a person meets it: one message with file, field, value and remedy, exit code 2."""

import socket
from pathlib import Path

import pytest

from hearthold.faces.cli import main as cli
from hearthold.faces.cli.exits import Exit

FARM = (Path(__file__).parents[2] / "examples" / "tarn_hollow.toml").read_text()
ONE = '[[past_outage]]\nstart = 2019-11-01T02:10:00\nlength = "31 h"\n'


def told(capsys, *arguments):
    """The message, unwrapped; the exit code must be that of bad input and nothing may be printed as an answer."""
    assert cli.main([str(x) for x in arguments]) == Exit.BAD_INPUT
    out, err = capsys.readouterr()
    assert out == ""
    assert "Traceback" not in err
    return " ".join(err.split())


def farm(folder, old="", new="", name="farm.toml"):
    assert old in FARM
    path = folder / name
    path.write_text(FARM.replace(old, new, 1) if old else FARM)
    return path


@pytest.mark.parametrize("verb", ["risk", "compare", "sweep"])
@pytest.mark.parametrize(
    ("more", "words"),
    [
        (
            '[[past_outage]]\nstart = 2019-11-01T20:00:00\nlength = "3 h"\n',
            ("past_outage[2].length", "31 h", "runs into the outage of 2019-11-01 20:00", "Correct one"),
        ),
        (
            '[[past_outage]]\nstart = 2099-01-05T20:00:00\nlength = "3 h"\n',
            (".start", "2099-01-05T20:00:00 lies after today", "Correct the date"),
        ),
    ],
    ids=["overlapping", "to come"],
)
def test_dates_that_cannot_be(tmp_path, capsys, verb, more, words):
    message = told(capsys, verb, farm(tmp_path, ONE, more + ONE))
    for word in ("farm.toml", "past_outage", *words):
        assert word in message


def test_prices_below_nothing(tmp_path, capsys):
    message = told(capsys, "compare", farm(tmp_path, 'currency = "USD"', 'currency = "USD"\nown_hour = -5'))
    assert "farm.toml:" in message
    assert "prices.own_hour = -5" in message
    assert "at least 0" in message
    message = told(capsys, "compare", farm(tmp_path), "--worth", "cold_hour=-3")
    assert "cold_hour is -3" in message


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        (
            "hours.csv",
            "outdoor_c\n" + "nan\n" * 8760,
            ("every temperature is missing", "leave weather_file out"),
        ),
        ("hours.csv", "outdoor_c\n" + "3\n" * 100, ("has 100 hours", "8760")),
        ("hours.csv", "outdoor_c\n" + "3\n" * 10 + "cold\n", ("hours.csv:12", "needs a number in outdoor_c")),
        ("hours.csv", "temp\n" + "3\n" * 8760, ("no column outdoor_c", "write a CSV")),
        ("place.epw", "LOCATION,Nowhere\n1,2,3\n", ("EPW", "Fetch it again")),
        ("place.epw", "", ("EPW", "Fetch it again")),
    ],
    ids=["all missing", "too short", "a word", "no column", "broken EPW", "empty EPW"],
)
def test_weather_that_is_none(tmp_path, capsys, name, content, words):
    pytest.importorskip("pvlib")
    (tmp_path / name).write_text(content)
    message = told(capsys, "risk", farm(tmp_path, "[climate]\n", f'[climate]\nweather_file = "{name}"\n'))
    for word in (name, *words):
        assert word in message


def test_a_weather_file_that_is_a_folder_or_not_there(tmp_path, capsys):
    (tmp_path / "place.epw").mkdir()
    for name in ("place.epw", "none.epw"):
        message = told(capsys, "risk", farm(tmp_path, "[climate]\n", f'[climate]\nweather_file = "{name}"\n'))
        assert f"{name}: the weather file does not exist" in message


def test_folders_with_nothing_to_study(tmp_path, capsys):
    (tmp_path / "empty").mkdir()
    assert "holds no house file" in told(capsys, "study", tmp_path / "empty")
    assert "is not a folder" in told(capsys, "study", tmp_path / "nowhere")
    assert "is not a folder" in told(capsys, "study", farm(tmp_path))


@pytest.mark.parametrize("address", ["hello world", "host", "tcp://host"])
def test_an_address_that_is_none(tmp_path, capsys, address):
    pytest.importorskip("distributed")
    farm(tmp_path)
    message = told(capsys, "study", tmp_path, "--out", tmp_path / "out", "--cluster", address)
    assert f"--cluster is '{address}'" in message
    assert "tcp://host:8786" in message


def test_an_address_where_nobody_answers(tmp_path, capsys):
    pytest.importorskip("distributed")
    farm(tmp_path)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    message = told(
        capsys, "study", tmp_path, "--out", tmp_path / "out", "--cluster", f"tcp://127.0.0.1:{port}"
    )
    assert f"127.0.0.1:{port}: no scheduler answers" in message
    assert "leave --cluster out" in message


def test_good_files_run_beside_broken_ones(tmp_path, capsys):
    """Each broken file is listed with its fault; the code says that something needs doing, not that nothing ran."""
    homes = tmp_path / "homes"
    homes.mkdir()
    farm(homes, name="good.toml")
    farm(homes, 'plan_for = "72 h"', 'plan_for = "72 horses"', name="horses.toml")
    farm(
        homes,
        ONE,
        '[[past_outage]]\nstart = 2099-01-05T20:00:00\nlength = "3 h"\n' + ONE,
        name="to_come.toml",
    )
    (homes / "syntax.toml").write_text("[house\nname =")
    (homes / "bytes.toml").write_bytes(bytes(range(128, 256)))
    (homes / "empty.toml").write_text("")
    (homes / "folder.toml").mkdir()
    assert cli.main(["study", str(homes), "--workers", "1"]) == Exit.FINDINGS
    page = capsys.readouterr().out
    assert "1 of 7 homes run" in page
    listed = (tmp_path / "homes-results" / "failures.csv").read_text()
    for name, word in (
        ("horses", "plan_for"), ("to_come", "lies after today"), ("syntax", "not valid TOML"),
        ("bytes", "save it as UTF-8"), ("empty", "is empty"), ("folder", "cannot be read"),
    ):  # fmt: skip
        assert word in next(line for line in listed.splitlines() if f"{name}.toml" in line)
