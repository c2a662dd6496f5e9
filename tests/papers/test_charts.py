"""Charts: marks stand where the values are, every chart tells itself, and odd values break nothing."""

from __future__ import annotations

from itertools import pairwise
from math import inf
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.papers.houses import LONG, MARKUP, UNBROKEN

from hearthold.papers.charts.bars import Bar, hold_bars
from hearthold.papers.charts.burn import Rate, fuel_bars
from hearthold.papers.charts.narrowing import Part, narrowing
from hearthold.papers.charts.scale import Scale, hour_step_s, steps
from hearthold.papers.charts.timeline import Course, Curve, Panel, spells_of, timeline
from hearthold.papers.fontfile import text_width_pt
from hearthold.papers.svg import Figure

SVG = "{http://www.w3.org/2000/svg}"
HOUR_S = 3600.0


def root_of(figure: Figure) -> ElementTree.Element:
    return ElementTree.fromstring(figure.svg)


def beyond(figure: Figure) -> list[str]:
    """Words that reach over an edge of the drawing."""
    found = []
    for text in root_of(figure).iter(f"{SVG}text"):
        width = text_width_pt(
            text.text or "", float(text.get("font-size", "0")), text.get("font-weight") == "bold"
        )
        x, anchor = float(text.get("x", "0")), text.get("text-anchor")
        left = x - {"start": 0.0, "middle": width / 2, "end": width}[anchor or "start"]
        if (
            left < -1.0
            or left + width > figure.width_pt + 1.0
            or float(text.get("y", "0")) > figure.height_pt
        ):
            found.append(text.text or "")
    return found


def rectangles(figure: Figure, fill: str) -> list[tuple[float, float]]:
    """Left edge and width of the boxes of a colour."""
    return [
        (float(r.get("x", "0")), float(r.get("width", "0")))
        for r in root_of(figure).iter(f"{SVG}rect")
        if r.get("fill") == fill
    ]


def course(name: str = "Kitchen fridge") -> Course:
    at_s = tuple(60.0 * i for i in range(24 * 60 + 1))
    fridge = Curve(name, at_s, tuple(38.0 + (i % 300) / 60.0 for i in range(len(at_s))), 40.0)
    power = Curve(name, at_s[:-1], tuple(500.0 if i < 90 else 0.0 for i in range(len(at_s) - 1)))
    panels = (Panel("Food, °F", (fridge,)), Panel("Power, W", (power, power), stacked=True))
    return Course(18 * HOUR_S, 24 * HOUR_S, ((0.0, 1.5 * HOUR_S), (12 * HOUR_S, 14 * HOUR_S)), panels)


def test_spells_stand_to_scale() -> None:
    figure = timeline(course(), "One outage")
    first, second = rectangles(figure, "#161a1d")
    assert second[1] / first[1] == pytest.approx(2.0 / 1.5, rel=0.01)
    hour_pt = second[1] / 2.0
    assert second[0] - first[0] == pytest.approx(12.0 * hour_pt, rel=0.01)


def test_a_chart_tells_itself_with_units_and_limits() -> None:
    figure = timeline(course(), "One outage")
    assert "18:00 for 90 min" in figure.text.replace("1.5 h", "90 min")
    assert "Food, °F, Kitchen fridge: 38 to 42.98, limit 40" in figure.text
    assert "°F" in figure.caption
    root = root_of(figure)
    assert root.findtext(f"{SVG}title") == "One outage"
    assert "limit 40" in (root.findtext(f"{SVG}desc") or "")


@pytest.mark.parametrize("name", [LONG, UNBROKEN, MARKUP])
def test_long_names_stay_inside(name: str) -> None:
    assert beyond(timeline(course(name), name)) == []
    assert beyond(hold_bars((Bar(name, HOUR_S, inf, 2 * HOUR_S),), 24 * HOUR_S, name)) == []
    parts = tuple(Part("generator breaker", name, 7200.0, 5760.0, i == 0) for i in range(10))
    assert beyond(narrowing(parts, name)) == []
    assert beyond(fuel_bars((Rate(1000.0, 1.0, HOUR_S), Rate(2000.0, 1.5, HOUR_S)), "gal", name)) == []


def test_holds_are_to_scale_and_an_endless_one_has_an_arrow() -> None:
    figure = hold_bars((Bar("a", 6 * HOUR_S, 6 * HOUR_S), Bar("b", 12 * HOUR_S, inf)), 24 * HOUR_S, "Holds")
    (_, six), (_, twelve) = rectangles(figure, "#161a1d")
    assert twelve == pytest.approx(2 * six, rel=0.001)
    assert len(list(root_of(figure).iter(f"{SVG}polygon"))) == 1


def test_the_chain_is_as_wide_as_its_watts() -> None:
    figure = narrowing((Part("a", "", 7200.0, 5760.0, True), Part("b", "", 14400.0, 11520.0, False)), "Chain")
    heights = [
        float(r.get("height", "0")) for r in root_of(figure).iter(f"{SVG}rect") if r.get("fill") == "#ffffff"
    ]
    assert heights[1] == pytest.approx(2 * heights[0], rel=0.01)
    assert "decides" in figure.text


def test_no_load_fuel_is_the_line_carried_to_nothing() -> None:
    # 1 L/h at 1000 W and 2 L/h at 3000 W: 0.5 L/h at none, by the straight line
    figure = fuel_bars((Rate(1000.0, 1.0, 1.0), Rate(3000.0, 2.0, 1.0)), "L", "Fuel")
    full = max(width for _, width in rectangles(figure, "#6b4a86"))
    assert rectangles(figure, "#ffffff")[0][1] == pytest.approx(full * 0.5 / 2.0, rel=0.01)


@settings(derandomize=True, max_examples=200)
@given(st.floats(-1e6, 1e6), st.floats(0.0, 1e6), st.integers(2, 10))
def test_marks_are_round_even_and_reach_over_the_values(low: float, span: float, most: int) -> None:
    marks = steps(low, low + span, most)
    gaps = [b - a for a, b in pairwise(marks)]
    assert marks[0] <= low + 1e-8 * max(gaps[0], abs(low))
    assert marks[-1] >= low + span - 1e-8 * max(gaps[0], abs(low + span))
    assert max(gaps) == pytest.approx(min(gaps), rel=1e-6)
    digits = f"{gaps[0]:.0e}"[0]
    assert digits in "125"
    assert len(marks) <= most + 3


@pytest.mark.parametrize(("hours", "step"), [(2, 0.25), (12, 1), (24, 2), (72, 6), (168, 24)])
def test_hour_marks(hours: float, step: float) -> None:
    assert hour_step_s(hours * HOUR_S) == step * HOUR_S


def test_a_scale_keeps_values_beyond_its_ends_at_the_ends() -> None:
    scale = Scale(0.0, 10.0, 100.0, 200.0)
    assert [scale.at(v) for v in (-5.0, 5.0, inf)] == [100.0, 150.0, 200.0]


def test_spells_are_read_from_minutes() -> None:
    on = [0.0, 0.5, 1.0, 0.0, 1.0]
    assert spells_of([60.0 * i for i in range(5)], on) == ((60.0, 180.0), (240.0, 300.0))
    assert spells_of([], []) == ()


def test_an_outage_without_spells_or_panels_is_drawn_all_the_same() -> None:
    figure = timeline(Course(0.0, HOUR_S, (), ()), "Nothing runs")
    assert "does not run" in figure.text
    assert "never" in figure.svg
