"""One outage over time: when the machine runs, stores against their limits, power, fuel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from hearthold.papers.charts.scale import Scale, hour_step_s, steps
from hearthold.papers.fontfile import text_width_pt
from hearthold.papers.look import LIGHT, look
from hearthold.papers.svg import Drawing, Figure, wrapped
from hearthold.papers.words.say import clock, counted, duration, names

_DASHES = ("", "5 2", "1.5 1.5", "7 2 1.5 2")  # so that curves differ without colour
_ROLES = ("cold", "warm", "fuel", "water", "earth", "quiet")
_LEFT_PT, _RIGHT_PT = 44.0, 108.0


@dataclass(frozen=True, slots=True)
class Curve:
    """One value over time, in the unit of its panel, with the limit it must keep."""

    name: str
    at_s: tuple[float, ...]
    values: tuple[float, ...]
    limit: float | None = None
    role: str = ""  # colour; empty: by its place in the panel


@dataclass(frozen=True, slots=True)
class Panel:
    """Curves that share a scale, or, where `stacked`, lie on one another."""

    head: str  # with the unit, as "Food, °F"
    curves: tuple[Curve, ...]
    height_pt: float = 92.0
    stacked: bool = False


@dataclass(frozen=True, slots=True)
class Course:
    """What the chart shows: spells as (from, to), counted from the failure of the grid."""

    starts_at_s: float  # time of day at which the grid fails
    length_s: float
    spells: tuple[tuple[float, float], ...]
    panels: tuple[Panel, ...]


def timeline(course: Course, title: str, width_pt: float = 512.0, theme: str = LIGHT) -> Figure:
    """The course of one outage: a strip of spells, then a panel for each kind of store."""
    draw = Drawing(width_pt, theme)
    across = Scale(0.0, course.length_s, _LEFT_PT, width_pt - _RIGHT_PT)
    top = 14.0
    _strip(draw, across, course, top)
    y = top + 26.0
    for panel in course.panels:
        y = _panel(draw, across, course, panel, y + 18.0)
    _hours(draw, across, course, y)
    heads = names([p.head for p in course.panels], 12)
    caption = f"Time of day along the foot. Bands: the machine runs. Panels: {heads}. Dotted rules: limits."
    return draw.finished(title, caption, _told(course))


def _strip(draw: Drawing, across: Scale, course: Course, top: float) -> None:
    """The spells as solid bars."""
    draw.text((_LEFT_PT, top - 4.0), "Machine runs", size="note", role="quiet")
    draw.line((_LEFT_PT, top + 9.0), (across.to_pt, top + 9.0), role="hair", weight="hair")
    for begin, end in course.spells:
        x = across.at(begin)
        draw.box(x, top + 3.0, max(1.0, across.at(end) - x), 12.0, fill="ink")
    total = sum(end - begin for begin, end in course.spells)
    draw.text((across.to_pt + 6.0, top + 8.0), duration(total) if total else "never", size="table", bold=True)
    draw.text(
        (across.to_pt + 6.0, top + 17.0),
        f"in {counted(len(course.spells), 'spell')}",
        size="note",
        role="quiet",
    )


def _panel(draw: Drawing, across: Scale, course: Course, panel: Panel, top: float) -> float:
    """One panel; returns its foot."""
    foot = top + panel.height_pt
    marks = _marks(panel)
    up = Scale(marks[0], marks[-1], foot, top)
    for begin, end in course.spells:
        x = across.at(begin)
        draw.box(x, top, max(0.5, across.at(end) - x), panel.height_pt, fill="running")
    for mark in marks:
        draw.line((_LEFT_PT, up.at(mark)), (across.to_pt, up.at(mark)), role="hair", weight="hair")
        draw.text((_LEFT_PT - 5.0, up.at(mark) + 2.5), f"{mark:g}", size="note", role="quiet", anchor="end")
    draw.text((_LEFT_PT, top - 5.0), panel.head, size="table", bold=True)
    labels = _stack(draw, across, up, panel) if panel.stacked else _curves(draw, across, up, panel)
    _labels(draw, across.to_pt + 6.0, labels, top, foot)
    return foot


Label = tuple[float, str, str, str]  # wanted height, words, role, dash


def _curves(draw: Drawing, across: Scale, up: Scale, panel: Panel) -> list[Label]:
    labels: list[Label] = []
    for i, curve in enumerate(panel.curves):
        role, dash = curve.role or _ROLES[i % len(_ROLES)], _DASHES[i % len(_DASHES)]
        if curve.limit is not None:
            y = up.at(curve.limit)
            draw.line((_LEFT_PT, y), (across.to_pt, y), role=role, weight="plain", dash="0.5 3")
        points = [(across.at(t), up.at(v)) for t, v in zip(curve.at_s, curve.values, strict=True)]
        draw.line(*_thinned(points), role=role, weight="plain", dash=dash)
        limit = "" if curve.limit is None else f" (limit {curve.limit:g})"
        labels.append((points[-1][1] if points else up.from_pt, curve.name + limit, role, dash))
    return labels


def _stack(draw: Drawing, across: Scale, up: Scale, panel: Panel) -> list[Label]:
    """Curves lying on one another: areas with an outline each."""
    labels: list[Label] = []
    below = [0.0] * (len(panel.curves[0].values) if panel.curves else 0)
    for i, curve in enumerate(panel.curves):
        role = curve.role or _ROLES[i % len(_ROLES)]
        above = [b + v for b, v in zip(below, curve.values, strict=True)]
        upper = [(across.at(t), up.at(v)) for t, v in zip(curve.at_s, above, strict=True)]
        lower = [(across.at(t), up.at(v)) for t, v in zip(curve.at_s, below, strict=True)]
        draw.area([*_thinned(upper), *reversed(_thinned(lower))], role, 0.30 + 0.12 * (i % 4))
        draw.line(*_thinned(upper), role=role, weight="thin")
        peak = max(range(len(above)), key=lambda k: curve.values[k], default=0)
        labels.append((upper[peak][1] if upper else up.from_pt, curve.name, role, ""))
        below = above
    return labels


def _labels(draw: Drawing, x: float, labels: list[Label], top: float, foot: float) -> None:
    """Names at the right edge, pushed apart so that none covers another, with a key to each line."""
    size = look().size_pt["note"]
    y = top - 2.0
    for wanted, words, role, dash in sorted(labels):
        lines = wrapped(words, _RIGHT_PT - 24.0, "note")
        y = max(y + size + 2.0, min(wanted + 2.5, foot - size * (len(lines) - 1)))
        draw.line((x, y - 2.5), (x + 13.0, y - 2.5), role=role, weight="plain", dash=dash)
        for line in lines:
            draw.text((x + 17.0, y), line, size="note")
            y += size + 1.0
        y -= size + 1.0


def _hours(draw: Drawing, across: Scale, course: Course, foot: float) -> None:
    """Marks on the hours of the clock, with the day where it begins."""
    step = hour_step_s(course.length_s)
    first = -(course.starts_at_s % step) % step
    at = first
    draw.line((_LEFT_PT, foot), (across.to_pt, foot), role="ink", weight="thin")
    while at <= course.length_s + 1.0:
        x = across.at(at)
        draw.line((x, foot), (x, foot + 3.0), weight="thin")
        draw.text(
            (x, foot + 11.0), clock(course.starts_at_s + at), size="note", role="quiet", anchor="middle"
        )
        at += step
    for day in range(int((course.starts_at_s + course.length_s) // 86400.0) + 1):
        begins = max(0.0, day * 86400.0 - course.starts_at_s)
        word = f"day {day + 1}"
        if across.to_pt - across.at(begins) > text_width_pt(word, look().size_pt["note"]):
            draw.text((across.at(begins), foot + 20.0), word, size="note", bold=True)


def _marks(panel: Panel) -> tuple[float, ...]:
    if panel.stacked:
        tops = [sum(values) for values in zip(*(c.values for c in panel.curves), strict=True)]
        return steps(0.0, max([*tops, 1.0]), 4)
    values = [v for c in panel.curves for v in (*c.values, *([] if c.limit is None else [c.limit]))]
    return steps(min(values), max(values), 4) if values else (0.0, 1.0)


def _thinned(points: Sequence[tuple[float, float]], gap_pt: float = 0.75) -> list[tuple[float, float]]:
    """Fewer points that look the same: of those within a gap, first, lowest, highest and last."""
    kept: list[tuple[float, float]] = []
    group: list[tuple[float, float]] = []
    for point in points:
        if group and point[0] - group[0][0] > gap_pt:
            kept += _ends(group)
            group = []
        group.append(point)
    return kept + _ends(group) if group else kept


def _ends(group: list[tuple[float, float]]) -> list[tuple[float, float]]:
    wanted = {0, len(group) - 1, *(f(range(len(group)), key=lambda i: group[i][1]) for f in (min, max))}
    return [group[i] for i in sorted(wanted)]


def _told(course: Course) -> str:
    """The chart in words: the spells, and the end, lowest and highest of every curve."""
    at = [f"{clock(course.starts_at_s + a)} for {duration(b - a)}" for a, b in course.spells]
    parts = [f"{duration(course.length_s)} without the grid, from {clock(course.starts_at_s)} on"]
    parts.append(f"the machine runs at {'; '.join(at)}" if at else "the machine does not run")
    for panel in course.panels:
        for curve in panel.curves:
            if curve.values:
                span = f"{min(curve.values):.4g} to {max(curve.values):.4g}"
                limit = "" if curve.limit is None else f", limit {curve.limit:g}"
                parts.append(f"{panel.head}, {curve.name}: {span}{limit}")
    return ". ".join(parts) + "."


def spells_of(at_s: Sequence[float], on_frac: Sequence[float]) -> tuple[tuple[float, float], ...]:
    """Spells from a row of minutes with the share of each in which the machine ran."""
    found: list[tuple[float, float]] = []
    edges = [*at_s, at_s[-1] + (at_s[-1] - at_s[-2] if len(at_s) > 1 else 60.0)] if len(at_s) else []
    for (begin, end), on in zip(pairwise(edges), on_frac, strict=False):
        if on <= 0.0:
            continue
        if found and begin - found[-1][1] < 1.0:
            found[-1] = (found[-1][0], end)
        else:
            found.append((begin, end))
    return tuple(found)
