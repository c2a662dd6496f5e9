"""`hearthold risk`: the page says what the JSON says, doubts are told, misuse and interruption end as they should."""

import json
import re
from datetime import date
from pathlib import Path

import pytest

from hearthold.faces import studies
from hearthold.faces.cli import main as cli
from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.page import plain_text
from hearthold.faces.cli.report.risk import _bar, risk_report
from hearthold.faces.cli.report.say import say_for
from hearthold.study.estimate import Estimate
from hearthold.study.words import band, chance, percent, summary

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "examples" / "skerrow_croft.toml"
TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def found():
    return studies.risk(HOUSE, TODAY, seed=1)


@pytest.fixture(scope="module")
def page(found):
    return plain_text(lambda page: risk_report(found, say_for(found.house, "metric"), page, every=True))


def test_the_page_fits_and_is_plain(page):
    assert page.isascii()
    assert max(len(line) for line in page.splitlines()) <= 80


def test_every_loss_stands_on_the_page_with_its_chance_and_its_band(page, found):
    rows = [line for line in page.splitlines() if "|" in line]
    for loss in found.risk.losses:
        row = next(line for line in rows if line.strip().startswith(loss.name[:18]))
        assert chance(loss.year_frac) in row
        assert band(loss.year_band_frac) in row


def test_what_health_rides_on_is_said_first():
    """The farm has a CPAP: first of the sentences, and first of the rows below the sum of all."""
    answer = studies.risk(ROOT / "examples" / "tarn_hollow.toml", TODAY, seed=1).risk
    assert summary(answer)[0].startswith("Medical power, CPAP")
    assert [x.kind.value for x in answer.losses[:2]] == ["any", "medical"]


def test_no_chance_is_shown_as_impossible_or_beyond_certain(found):
    for loss in found.risk.losses:
        for shown in (loss.major_frac, loss.year_frac, *(x.lost_frac for x in loss.by_time)):
            assert chance(shown) != "0 %" or shown.high == 0.0
            assert 0.0 <= shown.low <= shown.value <= shown.high <= 1.0
    assert chance(Estimate(0.0, 0.0, 0.0234)) == "under 2.4 %"
    low, high = found.risk.cost_band
    assert low <= found.risk.cost_per_year.value <= high


def test_what_cannot_be_known_is_said(page):
    assert "what the outage record and the unknown" in " ".join(page.split())
    assert "routine to follow" not in page
    assert "every tail probability is an assumption" in " ".join(page.split())


def test_cautions_stand_where_food_cold_and_fuel_are_judged(page):
    text = " ".join(page.split())
    assert "When in doubt, throw it out" in text
    assert "A cold house harms the old" in text
    assert "outside the house" in text


def test_the_summary_is_said_first(page, found):
    said = " ".join(page.split())
    for sentence in summary(found.risk):
        assert sentence in said


def test_json_is_the_answer_in_si(capsys):
    code = cli.main(["risk", str(HOUSE), "--json", "--month", "1", "--seed", "1"])
    answer = json.loads(capsys.readouterr().out)
    assert code == Exit.DONE
    assert answer["month"] == 1
    loss = next(x for x in answer["losses"] if x["id"] == "byre_freezer")
    assert loss["year_frac"]["low"] <= loss["year_frac"]["value"] <= loss["year_frac"]["high"]
    assert answer["outages"]["source"]["text"].startswith("4 outages of your own")


def test_an_interrupted_answer_is_shown_and_told(found, monkeypatch, capsys):
    from dataclasses import replace

    from hearthold.study.result import Stopped

    part = replace(found, risk=replace(found.risk, stopped=Stopped.INTERRUPTED))
    monkeypatch.setattr(studies, "risk", lambda *_: part)
    assert cli.main(["risk", str(HOUSE)]) == Exit.INTERRUPTED
    shown = capsys.readouterr().out
    assert "Stopped early" in shown
    assert "What may be lost" in shown


@pytest.mark.parametrize("command", ["risk", "compare", "sweep", "plan"])
def test_a_history_that_cannot_be_is_told_where_it_stands(tmp_path, capsys, command):
    text = HOUSE.read_text("utf-8").replace("start = 2025-01-24T09:15:00", "start = 2031-01-24T09:15:00")
    bad = tmp_path / "bad.toml"
    bad.write_text(text, "utf-8")
    assert cli.main([command, str(bad)]) == Exit.BAD_INPUT
    told = capsys.readouterr().err
    assert "start = 2031-01-24T09:15:00 lies after today" in " ".join(told.split())
    assert re.search(r"bad\.toml:\d+", told)
    assert "Traceback" not in told


def test_chances_are_never_called_impossible_or_certain():
    assert percent(0.0) == "0 %"
    assert percent(0.0002) == "under 0.1 %"
    assert percent(0.034) == "3.4 %"
    assert percent(0.27) == "27 %"
    assert percent(0.9995) == "over 99.9 %"


def test_bars_mark_the_chance_within_its_band():
    assert _bar(0.5, (0.25, 0.75)) == "....----|----..."
    assert _bar(0.0, (0.0, 0.0)) == "|..............."
    assert _bar(1.0, (1.0, 1.0))[-1] == "|"
