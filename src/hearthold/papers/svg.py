"""A drawing as SVG: lines, boxes, circles and words, everything escaped, with a title and a text alternative.

The same file goes into a PDF and a web page. For a page, colours may be CSS custom properties of the look, so
that a drawing follows the reader's light or dark.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from hearthold.papers.fontfile import printable, text_width_pt
from hearthold.papers.look import LIGHT, look

CSS = "css"  # colours as custom properties, see look.css_variables
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Figure:
    """A finished drawing: SVG, size, caption with units, and what it shows in words."""

    svg: str
    width_pt: float
    height_pt: float
    caption: str
    text: str


class Drawing:
    """Collects marks; coordinates in points, y downward."""

    def __init__(self, width_pt: float, theme: str = LIGHT) -> None:
        self.width_pt, self.theme = width_pt, theme
        self.lowest_pt = 0.0
        self._marks: list[str] = []

    def line(self, *points: Point, role: str = "ink", weight: str = "thin", dash: str = "") -> None:
        """A line through points."""
        at = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
        self._reach(*(y for _, y in points))
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        self._marks.append(
            f'<polyline points="{at}" fill="none" stroke="{self._colour(role)}" '
            f'stroke-width="{_n(look().weight_pt[weight])}" stroke-linejoin="round"{dashes}/>'
        )

    def path(self, d: str, role: str = "ink", weight: str = "thin", fill: str = "") -> None:
        """A path in SVG's own words; never made from a user's text."""
        inside = self._colour(fill) if fill else "none"
        self._marks.append(
            f'<path d="{d}" fill="{inside}" stroke="{self._colour(role)}" '
            f'stroke-width="{_n(look().weight_pt[weight])}"/>'
        )

    def area(self, points: Sequence[Point], role: str, opacity: float = 1.0) -> None:
        """A filled shape without an outline."""
        at = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
        self._reach(*(y for _, y in points))
        self._marks.append(
            f'<polygon points="{at}" fill="{self._colour(role)}" fill-opacity="{_n(opacity)}"/>'
        )

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        fill: str = "",
        role: str = "",
        weight: str = "thin",
    ) -> None:
        """A rectangle, filled, outlined or both."""
        self._reach(y + height)
        edge = f' stroke="{self._colour(role)}" stroke-width="{_n(look().weight_pt[weight])}"' if role else ""
        self._marks.append(
            f'<rect x="{_n(x)}" y="{_n(y)}" width="{_n(width)}" height="{_n(height)}" '
            f'fill="{self._colour(fill) if fill else "none"}"{edge}/>'
        )

    def circle(
        self, at: Point, radius: float, role: str = "ink", weight: str = "thin", fill: str = ""
    ) -> None:
        """A circle, or a dot where it is filled."""
        self._reach(at[1] + radius)
        self._marks.append(
            f'<circle cx="{_n(at[0])}" cy="{_n(at[1])}" r="{_n(radius)}" '
            f'fill="{self._colour(fill) if fill else "none"}" stroke="{self._colour(role)}" '
            f'stroke-width="{_n(look().weight_pt[weight])}"/>'
        )

    def text(
        self,
        at: Point,
        words: str,
        size: str = "table",
        role: str = "ink",
        anchor: str = "start",
        bold: bool = False,
    ) -> None:
        """One line of words, its baseline at the point."""
        self._reach(at[1] + 2.0)
        weight = ' font-weight="bold"' if bold else ""
        self._marks.append(
            f'<text x="{_n(at[0])}" y="{_n(at[1])}" font-size="{_n(look().size_pt[size])}" '
            f'fill="{self._colour(role)}" text-anchor="{anchor}"{weight}>{escape(printable(words))}</text>'
        )

    def finished(
        self, title: str, caption: str, text: str, below_pt: float = 2.0, around_pt: float = 0.0
    ) -> Figure:
        """The drawing as a figure, as tall as its lowest mark; `around_pt` gives it a margin and a ground."""
        wide, height = self.width_pt + 2.0 * around_pt, self.lowest_pt + below_pt + 2.0 * around_pt
        edge = _n(-around_pt)
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(wide)}pt" height="{_n(height)}pt" '
            f'viewBox="{edge} {edge} {_n(wide)} {_n(height)}" role="img" '
            f"aria-label={quoteattr(printable(title))} "
            f'font-family="{look().family}">'
        )
        told = f"<title>{escape(printable(title))}</title><desc>{escape(printable(text))}</desc>"
        ground = (
            f'<rect x="{edge}" y="{edge}" width="{_n(wide)}" height="{_n(height)}" fill="{self._colour("paper")}"/>'
            if around_pt
            else ""
        )
        svg = head + told + ground + "".join(self._marks) + "</svg>"
        return Figure(svg, wide, height, caption, f"{title}. {text}")

    def _colour(self, role: str) -> str:
        return f"var(--{role.replace('_', '-')})" if self.theme == CSS else look().colour(role, self.theme)

    def _reach(self, *ys: float) -> None:
        self.lowest_pt = max(self.lowest_pt, *ys)


def wrapped(text: str, width_pt: float, size: str = "table", bold: bool = False) -> list[str]:
    """A text in lines that fit a width; a word too long for a line is broken inside."""
    size_pt = look().size_pt[size]
    lines, now = [], ""
    for word in printable(text).split():
        for piece in _pieces(word, width_pt, size_pt, bold):
            longer = f"{now} {piece}" if now else piece
            if now and text_width_pt(longer, size_pt, bold) > width_pt:
                lines.append(now)
                now = piece
            else:
                now = longer
    return [*lines, now] if now else lines


def _pieces(word: str, width_pt: float, size_pt: float, bold: bool) -> list[str]:
    """A word, or its parts where it is wider than the line."""
    pieces, now = [], ""
    for letter in word:
        if now and text_width_pt(now + letter, size_pt, bold) > width_pt:
            pieces.append(now)
            now = ""
        now += letter
    return [*pieces, now]


def _n(value: float) -> str:
    """A coordinate with two decimals at most. Raises ValueError for what is no number."""
    if not -1e6 < value < 1e6:
        raise ValueError(f"{value} cannot be drawn")
    return f"{value:.2f}".rstrip("0").rstrip(".")
