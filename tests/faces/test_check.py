"""`hearthold check` and `demo`: what they print, and the code they end with."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from hearthold.faces import service
from hearthold.faces.cli import main as cli
from hearthold.faces.cli.exits import Exit

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "examples" / "tarn_hollow.toml"


def test_the_page_says_what_was_read(capsys):
    assert cli.main(["check", str(HOUSE)]) == Exit.FINDINGS
    page = " ".join(capsys.readouterr().out.split())
    assert page.startswith("Tarn Hollow, Aldersey Notch")
    for words in (
        "120/240 V, two legs",
        "21 on 15 circuits",
        "manual transfer",
        "Kitchen fridge",
        "3 days without",
    ):
        assert words in page


def test_units_follow_the_option_over_the_setting_over_the_house(capsys, monkeypatch):
    def height(*arguments):
        cli.main(["check", str(HOUSE), *arguments])
        return capsys.readouterr().out

    assert "1,420 ft above the sea" in height()
    monkeypatch.setenv("HEARTHOLD_UNITS", "metric")
    assert "433 m above the sea" in height()
    assert "1,420 ft above the sea" in height("--units", "us")


def test_json_holds_findings_and_assumptions(capsys):
    assert cli.main(["check", str(HOUSE), "--json"]) == Exit.FINDINGS
    told = json.loads(capsys.readouterr().out)
    assert {"rule", "severity", "where", "why", "remedy", "source", "values"} <= set(told["findings"][0])
    assert {"item", "value", "unit", "low", "high", "source"} == set(told["assumptions"][0])


def test_a_house_with_a_weather_file_alone_is_checked(tmp_path, capsys):
    """Twelve months of -9 C all day long: the coldest month is that, and the findings reckon with it."""
    text = HOUSE.read_text("utf-8")
    start, end = text.index("unit = "), text.index("[outages]")
    page = tmp_path / "house.toml"
    page.write_text(text[:start] + 'weather_file = "hours.csv"\n\n' + text[end:], "utf-8")
    (tmp_path / "hours.csv").write_text("outdoor_c\n" + "-9.0\n" * 8760, "utf-8")
    assert cli.main(["check", str(page), "--all", "--json"]) == Exit.FINDINGS
    told = {f["rule"]: f for f in json.loads(capsys.readouterr().out)["findings"]}
    assert told["house-falls-below-limit"]["values"]["outdoor_c"] == pytest.approx(-9.0, abs=0.01)
    assert cli.main(["check", str(page), "--units", "metric"]) == Exit.FINDINGS
    assert "-9" in capsys.readouterr().out


def test_findings_are_counted_as_they_are(capsys):
    from datetime import date

    found = service.check(HOUSE, date.today()).findings
    cli.main(["check", str(HOUSE), "--all"])
    page = capsys.readouterr().out
    for severity in ("danger", "act", "consider", "note"):
        count = sum(f.severity == severity for f in found)
        assert page.count(f"\n  {severity.upper()} ") == count


def test_standard_input():
    done = subprocess.run(
        [sys.executable, "-m", "hearthold", "check", "-"],
        input=HOUSE.read_bytes(),
        capture_output=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == Exit.FINDINGS
    assert done.stdout.startswith(b"Tarn Hollow")
    broken = subprocess.run(
        [sys.executable, "-m", "hearthold", "check", "-"],
        input=b"x",
        capture_output=True,
        timeout=120,
        check=False,
    )
    assert broken.returncode == Exit.BAD_INPUT
    assert b"standard input cannot be used" in broken.stderr


def test_a_name_the_terminal_cannot_print_stops_nothing(tmp_path):
    path = tmp_path / "farm.toml"
    path.write_text(HOUSE.read_text("utf-8").replace('name = "Tarn Hollow"', 'name = "Bjørnøya 雪"'), "utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "hearthold", "check", str(path)],
        env={"PYTHONIOENCODING": "ascii", "PATH": "/usr/bin:/bin"},
        capture_output=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == Exit.FINDINGS
    assert done.stdout.startswith(b"Bj?rn?ya ?")


@pytest.mark.parametrize("arguments", [(), ("--230",)])
def test_demo(arguments, capsys):
    assert cli.main(["demo", *arguments]) == Exit.DONE
    seen = capsys.readouterr()
    assert ("Skerrow Croft" if arguments else "Tarn Hollow") in seen.out.splitlines()[0]
    assert "hearthold new my_house.toml" in seen.err


def test_examples_are_found_for_both_systems():
    for system in service.EXAMPLES:
        assert service.example_path(system).is_file()


def test_an_outage_to_come_is_a_fault_of_the_file(tmp_path, capsys):
    file = tmp_path / "farm.toml"
    text = (ROOT / "examples" / "tarn_hollow.toml").read_text("utf-8")
    file.write_text(f'{text}\n[[past_outage]]\nstart = 2999-07-02T16:00:00\nlength = "9 h"\n', "utf-8")
    assert cli.main(["check", str(file)]) == Exit.BAD_INPUT
    told = " ".join(capsys.readouterr().err.split())
    assert ".start = 2999-07-02T16:00:00 lies after today" in told
    assert "Correct the date, or take it out." in told
