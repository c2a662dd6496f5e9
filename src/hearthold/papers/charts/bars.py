"""Holds as bars on one scale of hours: how long each store lasts, by the careful and by the likely answer."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.papers.charts.scale import Scale, hour_step_s
from hearthold.papers.look import LIGHT, look
from hearthold.papers.svg import Drawing, Figure, wrapped
from hearthold.papers.words.say import duration

_NAME_PT, _FIGURE_PT = 150.0, 62.0
_BAR_PT = 9.0


@dataclass(frozen=True, slots=True)
class Bar:
    """One store: what to plan on, what is likely, and the clock of public guidance; `inf` never ends."""

    name: str
    plan_s: float
    likely_s: float
    rule_s: float | None = None


def hold_bars(
    bars: tuple[Bar, ...], length_s: float, title: str, width_pt: float = 512.0, theme: str = LIGHT
) -> Figure:
    """Bars from now to the end of each hold; the scale ends with the outage that is planned for."""
    draw = Drawing(width_pt, theme)
    across = Scale(0.0, length_s, _NAME_PT, width_pt - _FIGURE_PT)
    y = 8.0
    for bar in bars:
        y = _bar(draw, across, bar, y)
    _scale(draw, across, length_s, y)
    caption = (
        "Hours without power. Solid: plan on this. Open: likely. Tick: the clock of public food guidance. "
        "An arrow goes on beyond the scale."
    )
    return draw.finished(title, caption, _told(bars))


def _bar(draw: Drawing, across: Scale, bar: Bar, y: float) -> float:
    size = look().size_pt["table"]
    lines = wrapped(bar.name, _NAME_PT - 8.0)
    for i, line in enumerate(lines):
        draw.text((_NAME_PT - 6.0, y + size * 0.9 + i * (size + 1.0)), line, anchor="end")
    likely, planned = across.at(min(bar.likely_s, 1e9)), across.at(min(bar.plan_s, 1e9))
    draw.box(_NAME_PT, y, max(0.1, likely - _NAME_PT), _BAR_PT, role="ink", weight="thin", fill="paper")
    draw.box(_NAME_PT, y, max(1.6, planned - _NAME_PT), _BAR_PT, fill="ink")
    if bar.likely_s > across.high:
        _arrow(draw, across.to_pt, y)
    if bar.rule_s is not None and bar.rule_s <= across.high:
        x = across.at(bar.rule_s)
        draw.line((x, y - 2.5), (x, y + _BAR_PT + 2.5), role="alarm", weight="strong")
    draw.text((across.to_pt + 10.0, y + size * 0.9), duration(bar.plan_s), bold=True)
    return y + max(_BAR_PT, len(lines) * (size + 1.0)) + 6.0


def _arrow(draw: Drawing, x: float, y: float) -> None:
    middle = y + _BAR_PT / 2.0
    draw.area([(x, y - 1.0), (x + 6.0, middle), (x, y + _BAR_PT + 1.0)], "ink")


def _scale(draw: Drawing, across: Scale, length_s: float, y: float) -> None:
    step = hour_step_s(length_s)
    draw.line((across.from_pt, y), (across.to_pt, y), weight="thin")
    for k in range(int(length_s / step + 1e-9) + 1):
        x = across.at(k * step)
        draw.line((x, y), (x, y + 3.0), weight="thin")
        draw.text((x, y + 11.0), f"{k * step / 3600.0:g}", size="note", role="quiet", anchor="middle")
    draw.text((across.to_pt + 10.0, y + 11.0), "hours", size="note", role="quiet")


def _told(bars: tuple[Bar, ...]) -> str:
    return " ".join(
        f"{b.name}: plan on {duration(b.plan_s)}, likely {duration(b.likely_s)}"
        + ("." if b.rule_s is None else f", public guidance {duration(b.rule_s)}.")
        for b in bars
    )
