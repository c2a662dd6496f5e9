"""Drawings: well formed whatever the words, with title and alternative; lines that fit."""

from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.papers.houses import MARKUP

from hearthold.papers.fontfile import printable, text_width_pt
from hearthold.papers.look import look
from hearthold.papers.svg import CSS, Drawing, wrapped

SVG = "{http://www.w3.org/2000/svg}"


def drawing_of(words: str, theme: str = "light") -> ElementTree.Element:
    draw = Drawing(100.0, theme)
    draw.text((1.0, 10.0), words)
    draw.line((0.0, 0.0), (10.0, 10.0))
    return ElementTree.fromstring(draw.finished(words, "caption", words).svg)


@settings(derandomize=True, max_examples=150, deadline=None)
@given(st.text(max_size=60))
def test_any_words_give_a_well_formed_drawing_that_says_them(words: str) -> None:
    root = drawing_of(words)
    assert root.findtext(f"{SVG}text") == printable(words) or (
        not printable(words) and root.findtext(f"{SVG}text") == ""
    )
    assert root.get("role") == "img"
    assert len(list(root)) == 4  # title, desc, text, line: no element came out of the words


def test_markup_stays_words() -> None:
    root = drawing_of(MARKUP)
    assert root.findtext(f"{SVG}title") == MARKUP
    assert root.find(f".//{SVG}script") is None


def test_a_page_gets_custom_properties_and_print_gets_colours() -> None:
    assert ElementTree.tostring(drawing_of("x", CSS)).decode().count("var(--ink)") == 2
    assert "var(" not in ElementTree.tostring(drawing_of("x")).decode()


def test_a_figure_that_is_no_number_is_refused() -> None:
    draw = Drawing(100.0)
    with pytest.raises(ValueError, match="cannot be drawn"):
        draw.line((0.0, 0.0), (float("nan"), 1.0))


@settings(derandomize=True, max_examples=200, deadline=None)
@given(st.text(max_size=120), st.floats(30.0, 300.0))
def test_wrapped_lines_fit_and_lose_no_letter(text: str, width_pt: float) -> None:
    lines = wrapped(text, width_pt)
    size_pt = look().size_pt["table"]
    assert all(text_width_pt(line, size_pt) <= width_pt or len(line) == 1 for line in lines)
    assert "".join("".join(lines).split()) == "".join(printable(text).split())
