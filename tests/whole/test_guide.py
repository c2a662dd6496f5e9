"""docs/guide.md quotes the program: each command of the page is run, and each quoted line is looked for."""

import importlib.util
from functools import cache
from pathlib import Path

import pytest

TOOL = Path(__file__).parents[2] / "tools" / "guide_quotes.py"
spec = importlib.util.spec_from_file_location("guide_quotes", TOOL)
guide = importlib.util.module_from_spec(spec)
spec.loader.exec_module(guide)
QUOTED = guide.quotes(guide.PAGE.read_text("utf-8"))


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    folder = tmp_path_factory.mktemp("guide")
    return cache(lambda command: guide.printed(command, folder))


@pytest.mark.parametrize(("command", "lines"), QUOTED, ids=[f"{n} {c}" for n, (c, _) in enumerate(QUOTED)])
def test_the_program_prints_what_the_guide_quotes(printed, command, lines):
    """Where only figures have changed, `python tools/guide_quotes.py` puts them right."""
    assert command.startswith("hearthold ")
    out, at = printed(command), 0
    for piece in guide.pieces(lines):
        found = guide.place(piece, out, at)
        assert found is not None, f"{command} prints no such lines after line {at}: {piece}"
        at = found + len(piece)


def test_the_guide_quotes_enough_to_be_worth_checking():
    assert len(QUOTED) >= 9
    assert sum(len(piece) for _, lines in QUOTED for piece in guide.pieces(lines)) >= 20


def test_a_quote_is_found_by_its_words_and_missed_by_its_figures():
    out = ["Run it at 06:00", "for 5 hours.", "The fuel lasts 3.1 days."]
    assert guide.place(["Run it at 07:00", "for 4 hours."], out, 0) is None
    assert guide.place(["Run it at 07:00", "for 4 hours."], out, 0, figures=False) == 0
    assert guide.place(["The fuel lasts 3.1 days."], out, 0) == 2
    assert guide.place(["Run it at 06:00"], out, 1) is None
