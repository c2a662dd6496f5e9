"""The limit chain as a strip that narrows: each part as wide as what it lets through."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.papers.charts.scale import Scale
from hearthold.papers.look import LIGHT, look
from hearthold.papers.svg import Drawing, Figure, wrapped
from hearthold.papers.words.say import whole

_DEEP_PT = 58.0  # half of this each side of the middle


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the way, with what it passes for up to three hours and for longer."""

    kind: str
    name: str
    rated_w: float
    continuous_w: float
    decides: bool


def narrowing(parts: tuple[Part, ...], title: str, width_pt: float = 512.0, theme: str = LIGHT) -> Figure:
    """Parts from left (machine) to right (panel), drawn to one scale of watts."""
    draw = Drawing(width_pt, theme)
    room = width_pt / max(1, len(parts))
    middle = 20.0 + _DEEP_PT / 2.0
    deep = Scale(0.0, max([p.rated_w for p in parts] or [1.0]), 0.0, _DEEP_PT / 2.0)
    least = min((p.rated_w for p in parts), default=0.0)
    for i, part in enumerate(parts):
        _part(draw, part, i * room, room, middle, deep)
    half = deep.at(least)
    for y in (middle - half, middle + half):
        draw.line((0.0, y), (width_pt, y), role="alarm", weight="thin", dash="1.5 2")
    caption = (
        "Watts that each part passes, to scale from the middle outward; shaded: for three hours "
        "and more. Dotted: "
        "what arrives. Marked: the part that decides."
    )
    return draw.finished(title, caption, _told(parts))


def _part(draw: Drawing, part: Part, x: float, room: float, middle: float, deep: Scale) -> None:
    size = look().size_pt["note"]
    half, steady = deep.at(part.rated_w), deep.at(part.continuous_w)
    wide = room - 3.0
    edge = "alarm" if part.decides else "ink"
    draw.box(
        x,
        middle - half,
        wide,
        2.0 * half,
        fill="paper",
        role=edge,
        weight="strong" if part.decides else "thin",
    )
    draw.box(x, middle - steady, wide, 2.0 * steady, fill="running", role="quiet", weight="hair")
    draw.text((x, 12.0), f"{whole(part.rated_w)} W", size="note", bold=part.decides)
    y = middle + _DEEP_PT / 2.0 + 12.0
    for line in wrapped(part.kind, wide, "note", True):
        draw.text((x, y), line, size="note", bold=True)
        y += size + 1.0
    for line in wrapped(part.name, wide, "note"):
        draw.text((x, y), line, size="note", role="quiet")
        y += size + 1.0
    if part.decides:
        draw.text((x, y), "decides", size="note", role="alarm", bold=True)


def _told(parts: tuple[Part, ...]) -> str:
    return " ".join(
        f"{p.kind} ({p.name}): {whole(p.rated_w)} W, {whole(p.continuous_w)} W for three hours or more"
        + (", decides." if p.decides else ".")
        for p in parts
    )
