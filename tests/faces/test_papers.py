"""`hearthold papers` and `plan --out`: files are written where asked, never over older ones unasked."""

from __future__ import annotations

from io import BytesIO, TextIOWrapper
from pathlib import Path

import pytest

from hearthold.faces import service
from hearthold.faces.cli import main as cli
from hearthold.faces.cli.exits import Exit
from hearthold.papers.make import files_of

HOUSE = Path(__file__).parents[2] / "examples" / "skerrow_croft.toml"


@pytest.fixture(scope="module")
def planned() -> service.Planned:
    from datetime import date

    return service.plan(HOUSE, date(2026, 11, 25))


@pytest.fixture(autouse=True)
def _plan_once(planned: service.Planned, monkeypatch: pytest.MonkeyPatch) -> None:
    """The search for a routine is tested elsewhere and takes seconds; the papers of its plan are what is meant here."""
    monkeypatch.setattr(service, "plan", lambda *_: planned)


def test_all_papers_are_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code = cli.main(["papers", str(HOUSE), "--out", str(tmp_path / "new")])
    assert code == Exit.FINDINGS
    assert {p.name for p in (tmp_path / "new").iterdir()} == set(files_of())
    told = capsys.readouterr()
    assert told.out == ""
    assert "run-sheet.pdf" in told.err


def test_one_paper_on_another_sheet(tmp_path: Path) -> None:
    from pypdf import PdfReader

    cli.main(["papers", str(HOUSE), "--out", str(tmp_path), "--only", "run-sheet", "--paper", "letter"])
    assert [p.name for p in tmp_path.iterdir()] == ["run-sheet.pdf"]
    assert float(PdfReader(tmp_path / "run-sheet.pdf").pages[0].mediabox.width) == 612.0


def test_older_papers_are_not_overwritten_unasked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    old = tmp_path / "drill-sheet.pdf"
    old.write_bytes(b"mine")
    asked = ["papers", str(HOUSE), "--out", str(tmp_path), "--only", "drill"]
    assert cli.main(asked) == Exit.BAD_INPUT
    assert old.read_bytes() == b"mine"
    assert "--force" in capsys.readouterr().err
    assert cli.main([*asked, "--force"]) == Exit.FINDINGS
    assert old.read_bytes().startswith(b"%PDF")


def test_an_unknown_paper_is_told_with_the_known_ones(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["papers", str(HOUSE), "--out", str(tmp_path), "--only", "poster"]) == Exit.BAD_INPUT
    assert "run-sheet, brief" in capsys.readouterr().err


def test_plan_out_writes_the_papers_too(tmp_path: Path) -> None:
    assert cli.main(["plan", str(HOUSE), "--out", str(tmp_path)]) == Exit.FINDINGS
    assert {p.name for p in tmp_path.iterdir()} == {"plan.txt", "plan.json", *files_of()}


def test_a_report_without_outlook_is_the_shorter_one(tmp_path: Path) -> None:
    from pypdf import PdfReader

    heads = {}
    for choice in ("--outlook", "--no-outlook"):
        folder = tmp_path / choice[2:]
        cli.main(["papers", str(HOUSE), "--out", str(folder), "--only", "report", choice])
        heads[choice] = {
            x.title for x in PdfReader(folder / "plan-report.pdf").outline if not isinstance(x, list)
        }
    assert heads["--outlook"] - heads["--no-outlook"] == {"Risk", "Ways to get power into the house"}
    assert not heads["--no-outlook"] - heads["--outlook"]


def test_the_house_may_come_through_standard_input(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It can be read once only; plan and outlook share it."""
    monkeypatch.undo()
    monkeypatch.setattr("sys.stdin", TextIOWrapper(BytesIO(HOUSE.read_bytes())))
    assert cli.main(["papers", "-", "--out", str(tmp_path), "--only", "report"]) == Exit.FINDINGS
    assert (tmp_path / "plan-report.pdf").stat().st_size > 0
