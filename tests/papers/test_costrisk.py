"""Cost against risk: marks stand where the figures are, letters where nothing else is, words within the edges."""

from __future__ import annotations

from math import log10
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.papers.houses import LONG, MARKUP
from tests.papers.test_charts import SVG, beyond, root_of

from hearthold.papers.charts.costrisk import Way, cost_risk
from hearthold.papers.look import look
from hearthold.papers.svg import Figure

# Alike in kind to the example farm: two cheap ways close together, two dear ones that hardly ever fail.
WAYS = (
    Way("A", "cords from a portable", 1700.0, 0.39, 0.16, 0.67, False, False, "39 %", "16 to 67 %"),
    Way("B", "manual transfer", 1500.0, 0.31, 0.12, 0.57, True, True, "31 %", "12 to 57 %"),
    Way("C", "standby", 25000.0, 0.011, 0.0, 0.065, True, False, "1.1 %", "<0.1 to 6.5 %"),
    Way("D", "battery", 27500.0, 0.015, 0.0, 0.084, False, False, "1.5 %", "<0.1 to 8.4 %"),
)
NOTHING = Way("", "no machine", 0.0, 0.44, 0.19, 0.71, False, False, "44 %", "19 to 71 %")


def drawn(ways=WAYS, nothing=NOTHING, width_pt=320.0, **more) -> Figure:
    return cost_risk(ways, "Farm: cost against risk", "USD", 20.0, nothing, width_pt, **more)


def circles(figure: Figure) -> list[ElementTree.Element]:
    return list(root_of(figure).iter(f"{SVG}circle"))


def letters(figure: Figure) -> dict[str, tuple[float, float]]:
    """Where the letters in the picture stand; those of the key begin at the left edge."""
    found = [t for t in root_of(figure).iter(f"{SVG}text") if t.get("text-anchor") == "middle"]
    return {
        t.text or "": (float(t.get("x", "0")), float(t.get("y", "0")))
        for t in found
        if len(t.text or "") == 1
    }


def test_marks_stand_by_the_logarithm_of_cost_and_by_chance():
    dots = [c for c in circles(drawn()) if float(c.get("r", "0")) < 5.0]
    x, y = ([float(c.get(k, "0")) for c in dots] for k in ("cx", "cy"))
    ratio = (x[2] - x[1]) / (x[0] - x[1])
    assert ratio == pytest.approx(
        log10(25000 / 1500) / log10(1700 / 1500), rel=0.02
    )  # two decimals are drawn
    assert (y[2] - y[1]) / (y[0] - y[1]) == pytest.approx((0.011 - 0.31) / (0.39 - 0.31), rel=0.01)


def test_what_nothing_beats_is_filled_and_what_is_advised_has_a_ring():
    ink = look().colour("ink")
    dots = [c for c in circles(drawn()) if float(c.get("r", "0")) < 5.0]
    rings = [c for c in circles(drawn()) if float(c.get("r", "0")) > 5.0]
    assert [c.get("fill") == ink for c in dots] == [w.unbeaten for w in WAYS]
    assert [(r.get("cx"), r.get("cy")) for r in rings] == [(dots[1].get("cx"), dots[1].get("cy"))]


def test_letters_stand_apart_and_off_the_marks():
    figure = drawn()
    places = list(letters(figure).values())
    assert set(letters(figure)) == {"A", "B", "C", "D"}
    marks = [(float(c.get("cx", "0")), float(c.get("cy", "0")) + 3.0) for c in circles(figure)]
    for i, (x, y) in enumerate(places):
        for a, b in (*places[:i], *marks):
            assert abs(x - a) >= 8.9 or abs(y - b) >= 8.9


def test_it_tells_itself_with_units():
    figure = drawn()
    for way in WAYS:
        assert f"{way.letter} {way.name}" in figure.text
        assert f"any loss {way.chance} in a year, may be {way.may_be}" in figure.text
    assert "no machine: any loss 44 %" in figure.text
    assert "per cent" in figure.caption
    assert "USD" in figure.caption
    assert "20 years" in figure.caption


@pytest.mark.parametrize("width_pt", [320.0, 512.0])
@pytest.mark.parametrize("name", [LONG, MARKUP])
def test_words_stay_within_the_edges(name, width_pt):
    ways = [Way(w.letter, name, *[getattr(w, k) for k in w.__slots__[2:]]) for w in WAYS]
    assert beyond(drawn(ways, width_pt=width_pt)) == []


def test_a_file_of_its_own_has_head_caption_and_ground():
    figure = drawn(alone=True)
    words = " ".join(t.text or "" for t in root_of(figure).iter(f"{SVG}text"))
    assert "Farm: cost against risk" in words
    assert "by ratio" in words
    first = next(root_of(figure).iter(f"{SVG}rect"))
    assert first.get("fill") == look().colour("paper")
    assert float(first.get("width", "0")) == figure.width_pt > 320.0


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.floats(0.0, 1e6), st.floats(0.0, 1.0), st.booleans()), min_size=0, max_size=10))
def test_odd_values_break_nothing(rows):
    ways = [
        Way("ABCDEFGHIJ"[i], "way", c, p, p / 2, p, f, i == 0, "1 %", "0 to 1 %")
        for i, (c, p, f) in enumerate(rows)
    ]
    figure = drawn(ways, None)
    assert len(circles(figure)) == len(ways) + (1 if ways else 0)
    assert beyond(figure) == []
