"""`papers`: which files, where, the same bytes again."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from tests.papers import houses
from tests.papers.pages import letters, pages, reader
from tests.papers.plans import TODAY, plan_of_example

from hearthold.errors import InputError
from hearthold.house.house import House
from hearthold.papers.job import Job, Outlook, say_of, sheet_for
from hearthold.papers.make import PAPERS, Paper, files_of, job_of, papers
from hearthold.plan.result import Plan


@pytest.fixture(scope="module")
def tarn() -> tuple[Plan, House]:
    return plan_of_example("tarn"), houses.tarn()


def test_all_papers_are_written_and_named(tarn: tuple[Plan, House], tmp_path: Path) -> None:
    written = papers(*tarn, tmp_path, today=TODAY)
    assert tuple(path.name for path in written)[: len(PAPERS)] == files_of()
    assert {p.name for p in tmp_path.iterdir()} == {path.name for path in written}
    assert all(path.stat().st_size > 1000 for path in written)


def test_only_what_is_asked_for_is_written(tarn: tuple[Plan, House], tmp_path: Path) -> None:
    (written,) = papers(*tarn, tmp_path, today=TODAY, only=("drill",), paper="a4")
    assert written.name == "drill-sheet.pdf"
    assert pages(written.read_bytes())[0].height_pt == pytest.approx(841.89, abs=0.1)


def test_the_outlook_is_asked_for_last_and_nothing_is_written_without_it(
    tarn: tuple[Plan, House], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[str] = []

    def note(paper: Paper, job: Job) -> bytes:
        made.append(paper.name)
        return b"paper"

    def trouble() -> Outlook:
        made.append("asked")
        raise InputError("no outlook", code="none")

    monkeypatch.setattr(Paper, "made", note)
    with pytest.raises(InputError, match="no outlook"):
        papers(*tarn, tmp_path, today=TODAY, outlook=trouble)
    assert set(made[:-1]) == {p.name for p in PAPERS} - {"report"}
    assert made[-1] == "asked"
    assert not list(tmp_path.iterdir())


def test_the_same_plan_and_day_give_the_same_bytes(tarn: tuple[Plan, House], tmp_path: Path) -> None:
    (first,) = papers(*tarn, tmp_path, today=TODAY, only=("brief",))
    before = first.read_bytes()
    (again,) = papers(*tarn, tmp_path, today=TODAY, only=("brief",))
    assert again.read_bytes() == before


def test_unknown_papers_and_sheets_are_refused(tarn: tuple[Plan, House], tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"no paper 'runsheet'; there are: run-sheet"):
        papers(*tarn, tmp_path, today=TODAY, only=("runsheet",))
    with pytest.raises(InputError, match=r"paper is 'legal'; allowed: letter, a4"):
        papers(*tarn, tmp_path, today=TODAY, paper="legal")


def test_a_folder_that_is_not_there_is_told(tarn: tuple[Plan, House], tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be written"):
        papers(*tarn, tmp_path / "none", today=TODAY, only=("drill",))


def test_sheet_and_units_follow_the_country() -> None:
    assert (sheet_for(houses.tarn(), None), sheet_for(houses.skerrow(), None)) == ("letter", "a4")
    assert (say_of(houses.tarn()).us, say_of(houses.skerrow()).us) == (True, False)
    assert say_of(houses.tarn(), us=False).temperature(4.44) == "4.4 °C"


def test_day_version_and_address_are_on_the_run_sheet(tarn: tuple[Plan, House], tmp_path: Path) -> None:
    url = "http://192.168.1.20:8765/pocket"
    (written,) = papers(*tarn, tmp_path, today=date(2026, 2, 28), only=("run-sheet",), url=url)
    text = letters(written.read_bytes())
    assert "2026-02-28·Hearthold" in text
    assert url in text
    assert len(reader(written.read_bytes()).pages) == 1


def test_cautions_stand_where_the_danger_is(tarn: tuple[Plan, House]) -> None:
    job = job_of(*tarn, today=TODAY)
    sheet = letters(PAPERS[0].made(job))
    order = [
        "Beforestarting",
        "Neverinsideahome",
        "Switchover",
        "Neverfeedthehousethroughawallsocket",
        "Wellpump",
    ]
    places = [sheet.index(words) for words in order]
    assert places == sorted(places)
    brief = letters(next(p for p in PAPERS if p.name == "brief").made(job))
    assert "Forreviewbyalicensedelectrician;notforconstruction." in brief


def test_the_run_sheet_tells_seconds_between_circuits_of_the_first_turn(tarn: tuple[Plan, House]) -> None:
    job = job_of(*tarn, today=TODAY)
    text = letters(PAPERS[0].made(job))
    for number, step in enumerate(job.orders[0].steps, start=1):
        name = "".join(step.name.split())
        assert f"{number}{name}" in text
        assert f"{step.wait_s:.0f}s" in text
