"""compare, sweep and study at the command line: pages, JSON, files, exit codes and messages."""

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.main import main

FARM = str(Path(__file__).parents[2] / "examples" / "tarn_hollow.toml")


def test_compare_begins_with_what_to_do(capsys):
    assert main(["compare", FARM]) == Exit.DONE
    page = capsys.readouterr().out
    assert page.startswith("Tarn Hollow: ways to get power into the house")
    assert page.index("1. Manual transfer") < page.index("What each costs (USD)")
    for head in (
        "Chance of a loss in a year",
        "Cost against risk",
        "How each is designed",
        "What would change the order",
    ):
        assert head in page
    assert "CAUTION Never feed the house" in page
    assert "a licensed electrician" in page
    assert all(len(line) <= 80 for line in page.splitlines())
    assert page.isascii()


def test_compare_draws_a_picture_once(capsys, tmp_path):
    file = tmp_path / "ways.svg"
    assert main(["compare", FARM, "--picture", str(file), "--json"]) == Exit.DONE
    found = json.loads(capsys.readouterr().out)
    root = ElementTree.parse(file).getroot()
    told = root.findtext("{http://www.w3.org/2000/svg}desc")
    assert all(c["name"] in told for c in found["candidates"])
    assert main(["compare", FARM, "--picture", str(file)]) == Exit.BAD_INPUT
    assert "is already there" in " ".join(capsys.readouterr().err.split())


def test_compare_as_json(capsys):
    assert main(["compare", FARM, "--json", "--worth", "cold_hour=10"]) == Exit.DONE
    found = json.loads(capsys.readouterr().out)
    assert len(found["candidates"]) >= 6
    assert found["recommended"] in {c["way"] for c in found["candidates"]}
    assert found["comfort_priced"] is True
    assert all(c["comfort_per_year"]["value"] >= 0.0 for c in found["candidates"])


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["compare", FARM, "--worth", "cold_hour=-3"], "a price is 0 or more"),
        (["compare", FARM, "--worth", "x=3"], '"x" cannot be priced'),
        (["compare", FARM, "--picture", "a.png"], "ends in .png; write .svg"),
        (["compare", "none.toml"], "does not exist"),
        (["sweep", FARM, "--machine", "-5 kW"], "machine"),
        (["sweep", FARM, "--running", "no"], '"no" is no way of running'),
        (["sweep", FARM, "--out", "a.xls"], "write .parquet or .csv"),
        (["study", "no_such_folder"], "is not a folder"),
    ],
)
def test_what_cannot_be_used_is_said(capsys, arguments, message):
    assert main(arguments) == Exit.BAD_INPUT
    captured = capsys.readouterr()
    assert message in " ".join(captured.err.split())
    assert captured.out == ""


def test_sweep_writes_every_design(capsys, tmp_path):
    out = tmp_path / "designs.csv"
    lists = [
        "--machine",
        "7.5 kW",
        "--fuel-kept",
        "10 gal, 20 gal",
        "--battery",
        "0 kWh",
        "--water-tank",
        "1",
    ]
    assert main(["sweep", FARM, *lists, "--running", "by_need", "--out", str(out)]) == Exit.DONE
    captured = capsys.readouterr()
    assert "2 designs tried" in captured.out
    assert f"Wrote 2 designs to {out}" in captured.err
    assert len(out.read_text().splitlines()) == 3
    assert main(["sweep", FARM, "--out", str(out)]) == Exit.BAD_INPUT
    assert "already there" in capsys.readouterr().err


def test_study_invents_runs_and_resumes(capsys, tmp_path):
    homes = tmp_path / "homes"
    assert main(["study", str(homes), "--invent", "3", "--workers", "1"]) == Exit.DONE
    first = capsys.readouterr().out
    assert first.startswith("homes: 3 of 3 homes run")
    assert "run out of water" in first
    assert "Which remedy saves most for its money" in first
    (homes / "broken.toml").write_text("format = 1\n[house\n")
    assert main(["study", str(homes), "--workers", "1"]) == Exit.FINDINGS
    second = capsys.readouterr().out
    assert "3 of them were finished before" in second
    assert "broken.toml" in "".join(second.split())


def test_study_of_an_empty_folder(capsys, tmp_path):
    assert main(["study", str(tmp_path)]) == Exit.BAD_INPUT
    assert "holds no house file" in " ".join(capsys.readouterr().err.split())
