"""Widths and letters of the fonts, against the typesetter's own measure and its own refusal."""

import unicodedata

import pytest
import typst
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.papers.fontfile import REGULAR, can_set, folder, font, printable, text_width_pt

LINES = (
    "Well pump, 3/4 hp, three-wire",
    "0123456789",
    "iiiiiiii",
    "WWWWWWWW",
    "°C ≤ 4 · ½ – “x”",
    "井戸ポンプ",
    "помпа",
)


FAMILIES = '("B612", "DejaVu Sans", "Droid Sans Fallback")'


def measured_pt(text: str, weight: str) -> float:
    """The width the typesetter gives the text, without kerning."""
    source = (
        f"#set text(font: {FAMILIES}, size: 10pt, kerning: false, ligatures: false)\n"
        "#context [#metadata(measure(text(weight: sys.inputs.weight, sys.inputs.words)).width.pt()) <w>]"
    )
    compiler = typst.Compiler(
        source.encode(),
        font_paths=[str(folder())],
        ignore_system_fonts=True,
        sys_inputs={"words": text, "weight": weight},
    )
    return float(compiler.query("<w>", field="value", one=True))


@pytest.mark.parametrize("line", LINES)
def test_widths_agree_with_the_typesetter(line: str) -> None:
    assert text_width_pt(line, 10.0) == pytest.approx(measured_pt(line, "regular"), rel=0.01)


@pytest.mark.parametrize("line", LINES[:4])
def test_bold_widths_agree_with_the_typesetter(line: str) -> None:
    assert text_width_pt(line, 10.0, bold=True) == pytest.approx(measured_pt(line, "bold"), rel=0.01)


def test_figures_stand_under_one_another() -> None:
    assert len({text_width_pt(c, 10.0) for c in "0123456789"}) == 1


@pytest.mark.parametrize(
    ("letter", "known"),
    [("A", True), ("é", True), ("ש", True), ("ع", True), ("漢", True), ("\U0001f525", False), ("क", False)],
)
def test_letters_that_can_be_set(letter: str, known: bool) -> None:
    assert can_set(letter) is known


def test_the_font_has_all_of_latin_1() -> None:
    printing = [c for c in range(0x20, 0x100) if unicodedata.category(chr(c)) not in ("Cc", "Cf")]
    assert all(c in font(REGULAR).glyph_of for c in printing)


def test_letters_without_a_glyph_are_spelt_and_turning_marks_dropped() -> None:
    assert printable("a\u202eb\u0000c\U0001f525") == "ab c[U+1F525]"


@settings(derandomize=True, max_examples=200, deadline=None)
@given(st.text(max_size=40))
def test_what_is_printable_can_be_set(text: str) -> None:
    shown = printable(text)
    assert all(can_set(c) for c in shown)
    assert printable(shown) == shown


@settings(derandomize=True, max_examples=25, deadline=None)
@given(st.text(alphabet=st.characters(categories=("L", "N", "P", "S")), min_size=1, max_size=30))
def test_the_typesetter_accepts_what_is_printable(text: str) -> None:
    # PDF/UA-1 refuses a letter that no font has, so that the typesetter itself is the judge
    source = f'#set document(title: "x")\n#set text(font: {FAMILIES})\n#sys.inputs.words'
    made = typst.compile(
        source.encode(),
        font_paths=[str(folder())],
        ignore_system_fonts=True,
        format="pdf",
        pdf_standards=["ua-1"],
        sys_inputs={"words": printable(text)},
    )
    assert bytes(made).startswith(b"%PDF")
