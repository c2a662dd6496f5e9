"""Ways to get power in, side by side, as a picture: cost against risk, for a file or a paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.papers.charts.costrisk import Way, cost_risk
from hearthold.papers.look import LIGHT
from hearthold.study.words import LETTERS, band, chance

if TYPE_CHECKING:
    from hearthold.papers.svg import Figure
    from hearthold.study.comparison import Candidate, Comparison

NARROW_PT = 320.0  # read without zooming on a phone of 360 pixels


def comparison_figure(
    found: Comparison, width_pt: float = NARROW_PT, theme: str = LIGHT, *, alone: bool = False
) -> Figure:
    """Cost against risk of every way of a comparison, lettered as on its page; `alone` for a file of its own."""
    ways = [
        _way(c, letter, c.way == found.recommended)
        for letter, c in zip(LETTERS, found.candidates, strict=False)
    ]
    nothing = _way(found.nothing, "", False)
    title = f"{found.house}: cost against risk"
    return cost_risk(ways, title, found.currency, found.terms.years, nothing, width_pt, theme, alone)


def _way(found: Candidate, letter: str, advised: bool) -> Way:
    loss, value = found.loss("anything"), found.any_loss_frac
    low, high = (value.low, value.high) if loss is None else loss.year_band_frac
    low, high = min(low, value.low), max(high, value.high)
    told = chance(value).replace("under ", "<")
    # What was never seen has one bound, said once in the same digits.
    may_be = f"0 to {told[1:]}" if told[0] == "<" and high == value.high else band((low, high))
    return Way(
        letter,
        found.name,
        found.owning,
        value.value,
        low,
        high,
        found.on_front,
        advised,
        told,
        may_be,
    )
