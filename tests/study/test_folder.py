"""A folder of homes: broken ones are listed and the others run; a stopped study goes on; figures add up by hand."""

import json
import os
from dataclasses import replace

import pytest

from hearthold.errors import InputError
from hearthold.study import crew, folder
from hearthold.study.folder import remedy_worths, study_folder
from hearthold.study.ledger import Ledger, key_of
from hearthold.study.onehome import Asked, Done, Job, study_home
from hearthold.study.tablefile import read_rows
from hearthold.study.village import village, write_village

ASKED = Asked("2026-11-01", rounds=2, each=4)


@pytest.fixture(scope="module")
def homes(tmp_path_factory):
    where = tmp_path_factory.mktemp("homes")
    write_village(where, 6, seed=1)
    (where / "broken.toml").write_text("format = 1\n[house\n")
    (where / "wrong.toml").write_text("format = 1\n[house]\nname = 5\n")
    (where / "binary.toml").write_bytes(b"\xff\xfe\x00\x01")
    (where / "minus.toml").write_text(village(1, seed=1)[0].text + '\n[prices]\ngasoline = "-3 /gal"\n')
    (where / "notes.txt").write_text("not a house file")
    (where / "a_folder.toml").mkdir()
    return where


@pytest.fixture(scope="module")
def found(homes, tmp_path_factory):
    return study_folder(homes, tmp_path_factory.mktemp("out"), ASKED, workers=0)


def test_good_homes_run_and_bad_ones_are_listed(found, homes):
    failed = {file.rsplit("/", 1)[1]: reason for file, reason in found.failures}
    assert set(failed) == {"broken.toml", "wrong.toml", "binary.toml", "minus.toml", "a_folder.toml"}
    assert "not valid TOML" in failed["broken.toml"]
    assert "is not text" in failed["binary.toml"]
    assert "gasoline" in failed["minus.toml"]
    assert found.homes == 11
    assert not any("a fault in the program" in reason for reason in failed.values())


def test_rows_and_figures_agree(found):
    rows = read_rows(folder.Path(found.results))
    assert len(rows) == 6
    for name, count in found.losing.items():
        assert count == sum(row[f"loses_{name}"] for row in rows)
    anything = found.mean_any_year_frac
    assert anything.value == pytest.approx(sum(r["any_year_frac"] for r in rows) / 6)
    assert 0.0 <= anything.low < anything.value < anything.high <= 1.0
    for row in rows:
        assert 0.0 <= row["any_low_year_frac"] <= row["any_year_frac"] <= row["any_high_year_frac"] <= 1.0
        assert row["food_low_per_year"] <= row["food_per_year"] <= row["food_high_per_year"]
    assert all(row["water_tank_harm_saved_per_year"] is None or row["has_well"] for row in rows)


def test_a_home_without_power_and_with_little_water_loses_it():
    """No machine: three days of a household's draw against what the tank and jugs hold, by hand."""
    from hearthold.house.reader import house_from_text

    job = next(
        j for j in (Job(h.file, h.text, ASKED) for h in village(60, seed=1))
        if "\n[generator]" not in j.text and "[water]" in j.text and 'stored = "0 gal"' in j.text
    )  # fmt: skip
    water = house_from_text(job.text, job.file).water
    assert water.drawdown_m3 + water.below_cut_in_m3 + water.stored_m3 < 3.0 * water.use_day_m3
    row = study_home(job).row
    assert row["loses_water"]
    assert row["water_tank_keeps_water"]


def test_a_stopped_study_goes_on_where_it_was(homes, found, tmp_path, monkeypatch):
    """Stopped after the first piece; then the rest alone is run, and the answer is the whole."""
    real, run = crew.here, []

    def stops(jobs, work=crew.study_homes):
        for piece in crew.pieces(jobs)[:1]:
            run.extend(job.file for job in piece)
            yield work(piece)
        raise KeyboardInterrupt

    monkeypatch.setattr(crew, "here", stops)
    with pytest.raises(KeyboardInterrupt):
        study_folder(homes, tmp_path, ASKED, workers=0)
    assert len(run) == crew.PIECE
    again = []

    def notes(jobs, work=crew.study_homes):
        again.extend(job.file for job in jobs)
        yield from real(jobs, work)

    monkeypatch.setattr(crew, "here", notes)
    whole = study_folder(homes, tmp_path, ASKED, workers=0)
    assert not set(run) & set(again)
    assert whole.resumed == crew.PIECE
    assert replace(whole, resumed=0, results="") == replace(found, results="")


def test_a_changed_home_or_question_is_run_again():
    job = Job("a.toml", "text", ASKED)
    keys = {
        key_of(job),
        key_of(replace(job, text="text ")),
        key_of(replace(job, asked=replace(ASKED, hours=48.0))),
    }
    assert len(keys) == 3
    assert key_of(replace(job, file="b.toml")) in keys  # a renamed file is the same home


def test_a_torn_ledger_keeps_its_whole_lines(tmp_path):
    ledger = Ledger(tmp_path / "ledger.jsonl")
    ledger.add([("k1", Done("a", {"x": 1.0})), ("k2", Done("b", None, "bad"))])
    whole = ledger.path.read_text()
    ledger.path.write_text(whole + whole.splitlines()[0][:20])
    ledger.add([("k3", Done("c", {"x": 3.0}))])
    assert ledger.read() == {
        "k1": Done("a", {"x": 1.0}),
        "k2": Done("b", None, "bad"),
        "k3": Done("c", {"x": 3.0}),
    }


def test_an_empty_or_missing_folder_says_so(tmp_path):
    with pytest.raises(InputError, match="holds no house file"):
        study_folder(tmp_path, tmp_path / "out", ASKED)
    with pytest.raises(InputError, match="is not a folder"):
        study_folder(tmp_path / "none", tmp_path / "out", ASKED)


@pytest.mark.skipif(os.geteuid() == 0, reason="root reads everything")
def test_an_unreadable_file_is_listed(homes, tmp_path):
    (tmp_path / "a.toml").write_text(village(1)[0].text)
    (tmp_path / "a.toml").chmod(0)
    found = study_folder(tmp_path, tmp_path / "out", ASKED, workers=0)
    assert "cannot be read" in found.failures[0][1]


def test_a_file_too_large_is_listed(tmp_path, monkeypatch):
    monkeypatch.setattr(folder, "LARGEST_BYTES", 1000)
    (tmp_path / "a.toml").write_text(village(1)[0].text)
    found = study_folder(tmp_path, tmp_path / "out", ASKED, workers=0)
    assert "more than 0 MB" in found.failures[0][1]


def test_a_fault_of_the_program_in_one_home_is_kept_with_its_trace(monkeypatch):
    from hearthold.study import onehome

    monkeypatch.setattr(onehome, "_row", lambda *_: 1 / 0)
    done = study_home(Job("a.toml", village(1)[0].text, ASKED))
    assert done.row is None
    assert "a fault in the program itself (ZeroDivisionError" in done.error
    assert "division by zero" in done.fault


def test_what_a_remedy_saves_per_1000_by_hand():
    rows = [
        {"two_cans_cost": 100.0, "two_cans_harm_saved_per_year": 0.2, "two_cans_food_saved_per_year": 30.0,
         "two_cans_keeps_water": True},
        {"two_cans_cost": 300.0, "two_cans_harm_saved_per_year": 0.0, "two_cans_food_saved_per_year": 10.0,
         "two_cans_keeps_water": False},
        {"two_cans_cost": None},
        {"cords_cost": 500.0, "cords_harm_saved_per_year": 0.4, "cords_food_saved_per_year": 0.0,
         "cords_keeps_water": False},
    ]  # fmt: skip
    cords, cans = remedy_worths(rows)
    assert (cords.id, cords.harm_saved_per_1000.value) == ("cords", pytest.approx(0.8))
    assert (cans.homes, cans.cost_mean, cans.keeps_water) == (2, 200.0, 1)
    assert cans.harm_saved_per_1000.value == pytest.approx(0.5)
    assert cans.food_saved_per_1000.value == pytest.approx(100.0)


def test_rows_travel_as_plain_json():
    done = study_home(Job("a.toml", village(1, seed=1)[0].text, ASKED))
    assert json.loads(json.dumps(done.row, allow_nan=False)) == done.row
