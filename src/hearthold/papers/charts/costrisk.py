"""Cost against risk: ways to get power in, each as a mark with what its risk may be, and the edge that no way beats.

Money goes by ratio, for the dearest way costs tens of times the cheapest. A key below the picture repeats every figure,
so that the marks need no more than a letter, on a phone too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, log10

from hearthold.papers.charts.scale import Scale, steps
from hearthold.papers.fontfile import text_width_pt
from hearthold.papers.look import LIGHT, look
from hearthold.papers.svg import Drawing, Figure, wrapped
from hearthold.papers.words.say import whole

_LEFT_PT, _RIGHT_PT, _TOP_PT, _HIGH_PT = 34.0, 10.0, 22.0, 178.0
_DOT_PT = 3.4
_KEY_COST_PT, _KEY_CHANCE_PT, _KEY_BAND_PT = 38.0, 42.0, 66.0  # of its columns of figures
_MOST_FRAC = 1.0
_ALONE_PT = 30.0
_Stretch = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Way:
    """One way: what it costs to have and run, the chance of any loss in a year, and what that may be."""

    letter: str
    name: str
    cost: float  # above 0
    chance_frac: float
    low_frac: float
    high_frac: float
    unbeaten: bool  # no other is both cheaper and less risky
    advised: bool
    chance: str  # in words
    may_be: str


def cost_risk(
    ways: Sequence[Way],
    title: str,
    currency: str,
    years: float,
    nothing: Way | None = None,
    width_pt: float = 512.0,
    theme: str = LIGHT,
    alone: bool = False,
) -> Figure:
    """The picture with its key. `nothing` is the house without any machine, a line across for comparison.

    `alone`: a file of its own, with head, caption, margin and ground in the picture.
    """
    draw = Drawing(width_pt, theme)
    across, up = _scales(ways, nothing, width_pt)
    _frame(draw, across, up, currency)
    _edge(draw, across, up, [w for w in ways if w.unbeaten])
    if nothing is not None:
        _across(draw, up, nothing, width_pt)
    for way in ways:
        _whisker(draw, across, up, way)
    for way in ways:
        _dot(draw, across, up, way)
    _letters(draw, across, up, ways, nothing)
    y = _key(draw, ways, nothing, currency, width_pt, _TOP_PT + _HIGH_PT + 40.0)
    draw.line((0.0, y), (width_pt, y), role="hair", weight="hair")
    caption = (
        f"Up: chance of any loss in a year, per cent. Right: cost to have and run over {years:g} years without "
        f"losses, {currency}, by ratio. Upright lines: what it may be, by the outage record and "
        "the outages tried. Filled, on the stepped line: "
        "no other way is both cheaper and less risky. Ring and bold: advised. Dashes: without any machine."
    )
    if alone:
        draw.text((0.0, -12.0), title, size="head", bold=True)
        for i, line in enumerate(wrapped(caption, width_pt, "note")):
            draw.text((0.0, y + 14.0 + 9.0 * i), line, size="note", role="quiet")
    return draw.finished(
        title, caption, _told(ways, nothing, currency), around_pt=_ALONE_PT if alone else 0.0
    )


@dataclass(frozen=True, slots=True)
class _Money:
    """A scale by ratio."""

    inner: Scale

    def at(self, cost: float) -> float:
        return self.inner.at(log10(cost))

    @property
    def marks(self) -> list[float]:
        """Round costs within the ends: 1, 2 and 5 times powers of ten, or 1 and 3 where there would be too many."""
        powers = range(floor(self.inner.low), ceil(self.inner.high) + 1)
        for steps_of_ten in ((1, 2, 5), (1, 3), (1,)):
            found = [k * 10.0**p for p in powers for k in steps_of_ten]
            found = [x for x in found if self.inner.low - 1e-9 <= log10(x) <= self.inner.high + 1e-9]
            if len(found) <= 7:
                break
        return found


def _scales(ways: Sequence[Way], nothing: Way | None, width_pt: float) -> tuple[_Money, Scale]:
    costs = [log10(max(w.cost, 1.0)) for w in ways] or [3.0]
    low, high = min(costs) - 0.15, max(costs) + 0.15
    every = [*ways, *([nothing] if nothing is not None else [])]
    marks = steps(0.0, min(_MOST_FRAC, max([w.high_frac for w in every] or [0.1])) * 100.0, 6)
    across = Scale(low, max(high, low + 0.5), _LEFT_PT, width_pt - _RIGHT_PT)
    return _Money(across), Scale(0.0, marks[-1] or 1.0, _TOP_PT + _HIGH_PT, _TOP_PT)


def _frame(draw: Drawing, across: _Money, up: Scale, currency: str) -> None:
    left, right, foot = across.inner.from_pt, across.inner.to_pt, up.from_pt
    draw.text((0.0, 9.0), "Chance of any loss in a year, %", bold=True)
    for mark in steps(0.0, up.high, 6):
        draw.line((left, up.at(mark)), (right, up.at(mark)), role="hair", weight="hair")
        draw.text((left - 5.0, up.at(mark) + 2.5), f"{mark:g}", size="note", role="quiet", anchor="end")
    draw.line((left, foot), (right, foot), weight="thin")
    for cost in across.marks:
        x = across.at(cost)
        draw.line((x, foot), (x, foot + 3.0), weight="thin")
        half = text_width_pt(whole(cost), look().size_pt["note"], False) / 2.0
        draw.text(
            (min(x, right + _RIGHT_PT - half), foot + 11.0),
            whole(cost),
            size="note",
            role="quiet",
            anchor="middle",
        )
    draw.text((right, foot + 22.0), f"Cost to have and run, {currency}", bold=True, anchor="end")


def _edge(draw: Drawing, across: _Money, up: Scale, unbeaten: Sequence[Way]) -> None:
    """The stepped line below and left of which no way lies."""
    points = _steps(across, up, unbeaten)
    if points:
        draw.area([*points, (across.inner.to_pt, up.to_pt)], "wash")
        draw.line(*points, weight="plain")


def _steps(across: _Money, up: Scale, unbeaten: Sequence[Way]) -> list[tuple[float, float]]:
    ranked = sorted(unbeaten, key=lambda w: w.cost)
    if not ranked:
        return []
    points = [(_place(across, up, ranked[0])[0], up.to_pt)]
    for way in ranked:
        x, y = _place(across, up, way)
        points += [(x, points[-1][1]), (x, y)]
    return [*points, (across.inner.to_pt, points[-1][1])]


def _across(draw: Drawing, up: Scale, nothing: Way, width_pt: float) -> None:
    y, right = up.at(100.0 * nothing.chance_frac), width_pt - _RIGHT_PT
    draw.line((_LEFT_PT, y), (right, y), role="quiet", weight="thin", dash="5 2")
    draw.text((right, y - 3.0), nothing.name, size="note", role="quiet", anchor="end")


def _whisker(draw: Drawing, across: _Money, up: Scale, way: Way) -> None:
    x = across.at(max(way.cost, 1.0))
    low, high = up.at(100.0 * way.low_frac), up.at(100.0 * min(_MOST_FRAC, way.high_frac))
    draw.line((x, low), (x, high), role="quiet", weight="thin")
    for y in (low, high):
        draw.line((x - 2.0, y), (x + 2.0, y), role="quiet", weight="thin")


def _dot(draw: Drawing, across: _Money, up: Scale, way: Way) -> None:
    at = _place(across, up, way)
    draw.circle(at, _DOT_PT, fill="ink" if way.unbeaten else "paper")
    if way.advised:
        draw.circle(at, _DOT_PT + 3.0, weight="plain")


def _place(across: _Money, up: Scale, way: Way) -> tuple[float, float]:
    return across.at(max(way.cost, 1.0)), up.at(100.0 * way.chance_frac)


def _letters(draw: Drawing, across: _Money, up: Scale, ways: Sequence[Way], nothing: Way | None) -> None:
    """Each beside its mark, where the fewest marks, letters and lines stand."""
    taken = [_place(across, up, way) for way in ways]
    lines = _lines(across, up, ways, nothing)
    for way in ways:
        x, y = _place(across, up, way)
        tried = [(x + dx, y + dy) for far in (12.0, 17.0, 23.0) for dx, dy in _around(far)]
        at = min(tried, key=lambda p: _crowding(p, taken, lines, across, up))  # the nearest of equals
        taken.append(at)
        draw.text((at[0], at[1] + 3.0), way.letter, bold=True, anchor="middle")


def _lines(across: _Money, up: Scale, ways: Sequence[Way], nothing: Way | None) -> list[_Stretch]:
    """The upright line of each way, the steps of the edge and the dashes, as (left, right, top, foot)."""
    found = []
    if nothing is not None:
        y = up.at(100.0 * nothing.chance_frac)
        found.append((across.inner.from_pt, across.inner.to_pt, y, y))
    for way in ways:
        x, _ = _place(across, up, way)
        found.append((x, x, up.at(100.0 * way.high_frac), up.at(100.0 * way.low_frac)))
    points = _steps(across, up, [w for w in ways if w.unbeaten])
    for (a, b), (c, d) in pairwise(points):
        found.append((min(a, c), max(a, c), min(b, d), max(b, d)))
    return found


def _crowding(
    at: tuple[float, float],
    taken: Sequence[tuple[float, float]],
    lines: Sequence[_Stretch],
    across: _Money,
    up: Scale,
) -> float:
    x, y = at
    outside = not (across.inner.from_pt + 4.0 < x < across.inner.to_pt and y < up.from_pt - 4.0)
    marks = sum(abs(x - a) < 9.0 and abs(y - b) < 9.0 for a, b in taken)
    crossed = sum(
        left - 5.5 < x < right + 5.5 and top - 6.0 < y < foot + 6.0 for left, right, top, foot in lines
    )
    return 100.0 * outside + 10.0 * marks + crossed


def _around(far: float) -> tuple[tuple[float, float], ...]:
    near = far * 0.75
    return ((near, -near), (-near, -near), (near, near), (-near, near), (far, 0.0), (-far, 0.0))


def _key(
    draw: Drawing, ways: Sequence[Way], nothing: Way | None, currency: str, width_pt: float, y: float
) -> float:
    """Every mark in words and figures; returns its foot."""
    band_at, chance_at = width_pt, width_pt - _KEY_BAND_PT
    cost_at = chance_at - _KEY_CHANCE_PT
    heads = (
        (0.0, "Way", "start"),
        (cost_at, currency, "end"),
        (chance_at, "any loss", "end"),
        (band_at, "may be", "end"),
    )
    for x, words, anchor in heads:
        draw.text((x, y), words, size="note", role="quiet", anchor=anchor)
    for way in (*ways, *([nothing] if nothing is not None else [])):
        draw.line((0.0, y + 4.0), (width_pt, y + 4.0), role="hair", weight="hair")
        y += 14.0
        draw.text((0.0, y), way.letter, bold=True)
        draw.text((cost_at, y), whole(way.cost), anchor="end")
        draw.text((chance_at, y), way.chance, anchor="end")
        draw.text((band_at, y), way.may_be, anchor="end")
        lines = wrapped(way.name, cost_at - _KEY_COST_PT - 12.0, bold=way.advised)
        for i, line in enumerate(lines):
            y += 10.0 if i else 0.0
            draw.text((12.0, y), line, bold=way.advised)
    return y + 4.0


def _told(ways: Sequence[Way], nothing: Way | None, currency: str) -> str:
    told = [
        f"{w.letter} {w.name}: {whole(w.cost)} {currency}, any loss {w.chance} in a year, may be {w.may_be}"
        + ("; no other is both cheaper and less risky" if w.unbeaten else "")
        + ("; advised." if w.advised else ".")
        for w in ways
    ]
    if nothing is not None:
        told.append(f"{nothing.name}: any loss {nothing.chance}, may be {nothing.may_be}.")
    return " ".join(told)
