"""Fuel by load: what an hour takes, with how long one filling lasts written on each bar."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.papers.charts.scale import Scale
from hearthold.papers.look import LIGHT
from hearthold.papers.svg import Drawing, Figure
from hearthold.papers.words.say import duration, figure, whole

_LEFT_PT, _RIGHT_PT = 96.0, 150.0


@dataclass(frozen=True, slots=True)
class Rate:
    """Fuel for an hour at a load, in the reader's unit, and the time one filling lasts."""

    output_w: float
    per_hour: float
    lasts_s: float


def fuel_bars(
    rates: tuple[Rate, ...], unit: str, title: str, width_pt: float = 512.0, theme: str = LIGHT
) -> Figure:
    """A bar for each load, as long as the fuel it takes in an hour; the part burned for nothing is open."""
    draw = Drawing(width_pt, theme)
    most = max([r.per_hour for r in rates] or [1.0])
    across = Scale(0.0, most, _LEFT_PT, width_pt - _RIGHT_PT)
    idle = _idle(rates)
    y = 8.0
    for rate in rates:
        end = across.at(rate.per_hour)
        draw.text((_LEFT_PT - 6.0, y + 8.0), f"{whole(rate.output_w)} W", anchor="end")
        draw.box(_LEFT_PT, y, end - _LEFT_PT, 10.0, fill="fuel")
        draw.box(_LEFT_PT, y, across.at(idle) - _LEFT_PT, 10.0, fill="paper", role="fuel", weight="thin")
        words = f"{figure(rate.per_hour)} {unit}/h"
        draw.text((end + 6.0, y + 8.0), words, bold=True)
        draw.text((end + 62.0, y + 8.0), f"one filling: {duration(rate.lasts_s)}", role="quiet")
        y += 17.0
    caption = (
        f"Fuel in {unit} an hour by load in watts. Open: burned to keep the machine turning, load or no load."
    )
    return draw.finished(title, caption, _told(rates, unit))


def _idle(rates: tuple[Rate, ...]) -> float:
    """Fuel an hour at no load, by the straight line through the first and last load."""
    if len(rates) < 2 or rates[-1].output_w == rates[0].output_w:
        return 0.0
    first, last = rates[0], rates[-1]
    slope = (last.per_hour - first.per_hour) / (last.output_w - first.output_w)
    return max(0.0, first.per_hour - slope * first.output_w)


def _told(rates: tuple[Rate, ...], unit: str) -> str:
    return " ".join(
        f"At {whole(r.output_w)} W {figure(r.per_hour)} {unit} an hour, one filling lasts "
        f"{duration(r.lasts_s)}."
        for r in rates
    )
