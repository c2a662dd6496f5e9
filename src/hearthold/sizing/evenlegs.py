"""Even legs, exactly: which leg each one-pole circuit belongs on, among all the ways there are.

Running VA is rounded to whole VA, and every sum that leg A can have is found by going through the circuits once
(subset sums, as bits of a whole number). Among the assignments that come nearest to even, the worst of (running +
heaviest start above running) over the two legs is made least, and among those the fewest circuits leave the leg that
they are on. All three are exact to the rounding.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from hearthold.errors import InputError


@dataclass(frozen=True, slots=True)
class Item:
    """A one-pole circuit as the balance sees it; `partner` is its multi-wire partner's id."""

    circuit: str
    running_va: float
    surplus_va: float  # heaviest start above running, never below 0
    now: str  # "A" or "B"
    fixed: bool = False
    partner: str | None = None


class _Option(NamedTuple):
    """One way to place a unit."""

    a_va: int
    b_va: int
    a_surplus_va: float
    b_surplus_va: float
    moved: int
    legs: tuple[tuple[str, str], ...]


class _Goal(NamedTuple):
    """Leg A's sum to reach, and the heaviest surplus each leg may hold."""

    a_va: int
    caps_va: tuple[float, float]


def even_legs(
    items: Sequence[Item], common_surplus_va: float = 0.0, names: Mapping[str, str] | None = None
) -> dict[str, str]:
    """The leg of every item; `common_surplus_va` is the heaviest start above running of what loads both legs.

    Multi-wire partners go to opposite legs, or their shared neutral would carry the sum of both.
    Raises: InputError for partners fixed to one leg.

    Source: even legs are common practice, no source; opposite legs of a multi-wire circuit, NEC 210.4.
    """
    units = [_options(unit, names or {}) for unit in _units(items)]
    return min(
        (_fewest_moves(units, goal) for goal in _goals(units, common_surplus_va)),
        key=lambda way: sum(way[i.circuit] != i.now for i in items),
    )


def _units(items: Sequence[Item]) -> list[tuple[Item, ...]]:
    """Single circuits, and multi-wire pairs that move as one."""
    by_id = {i.circuit: i for i in items}
    units: list[tuple[Item, ...]] = []
    seen: set[str] = set()
    for item in items:
        if item.circuit in seen:
            continue
        partner = by_id.get(item.partner or "") or next(
            (i for i in items if i.partner == item.circuit and i.circuit != item.circuit), None
        )
        pair = (item,) if partner is None or partner.circuit in seen else (item, partner)
        units.append(pair)
        seen |= {i.circuit for i in pair}
    return units


def _options(unit: tuple[Item, ...], names: Mapping[str, str]) -> tuple[_Option, ...]:
    """The ways to place a unit that its fixed circuits allow."""
    ways = [("A",), ("B",)] if len(unit) == 1 else [("A", "B"), ("B", "A")]
    allowed = [w for w in ways if all(not i.fixed or i.now == leg for i, leg in zip(unit, w, strict=True))]
    if not allowed:
        pair = " and ".join(names.get(i.circuit, i.circuit) for i in unit)
        raise InputError(
            f"the multi-wire partners {pair} are fixed to one leg; their neutral would carry the sum. "
            "Free one of them.",
            code="multiwire_one_leg",
        )
    return tuple(_option(unit, way) for way in allowed)


def _option(unit: tuple[Item, ...], way: tuple[str, ...]) -> _Option:
    pairs = list(zip(unit, way, strict=True))
    a_va, b_va = (sum(round(i.running_va) for i, leg in pairs if leg == side) for side in "AB")
    a_surplus_va, b_surplus_va = (
        max((i.surplus_va for i, leg in pairs if leg == side), default=0.0) for side in "AB"
    )
    moved = sum(i.now != leg for i, leg in pairs)
    return _Option(a_va, b_va, a_surplus_va, b_surplus_va, moved, tuple((i.circuit, w) for i, w in pairs))


def _goals(units: Sequence[tuple[_Option, ...]], common_surplus_va: float) -> list[_Goal]:
    """The sums of leg A nearest to even whose worst start is least: one, or two that mirror each other."""
    total_va = sum(options[0].a_va + options[0].b_va for options in units)
    every = _sums(units, (inf, inf))
    nearest_va = min(abs(2 * s - total_va) for s in range(total_va + 1) if every >> s & 1)
    sums_va = {(total_va - nearest_va) // 2, (total_va + nearest_va) // 2}
    worst = {s: _least_worst_va(units, s, total_va - s, common_surplus_va) for s in sums_va if every >> s & 1}
    least_va = min(worst.values())
    # all that stays under the worst is allowed on either leg, so that the fewest moves may choose freely
    return [
        _Goal(s, (least_va - s, least_va - (total_va - s)))
        for s in sorted(worst)
        if worst[s] <= least_va + 1e-9
    ]


def _least_worst_va(
    units: Sequence[tuple[_Option, ...]], leg_a_va: int, leg_b_va: int, common_surplus_va: float
) -> float:
    """Least of max(A + cap A, B + cap B) over the caps that leave the sum of leg A within reach.

    A higher cap on one leg never asks for a higher one on the other, so one walk down the stairs is enough.
    """
    surpluses = {v for options in units for o in options for v in (o.a_surplus_va, o.b_surplus_va)}
    levels = sorted({common_surplus_va} | {v for v in surpluses if v > common_surplus_va})
    best_va, at_b = inf, len(levels) - 1
    for cap_a in levels:
        while at_b >= 0 and _sums(units, (cap_a, levels[at_b])) >> leg_a_va & 1:
            best_va = min(best_va, max(leg_a_va + cap_a, leg_b_va + levels[at_b]))
            at_b -= 1
    return best_va


def _sums(units: Sequence[tuple[_Option, ...]], caps: tuple[float, float]) -> int:
    """Every sum that leg A can have, as bits, with no heavier surplus on a leg than its cap."""
    reached = 1
    for options in units:
        before, reached = reached, 0
        for option in options:
            if _within(option, caps):
                reached |= before << option.a_va
    return reached


def _within(option: _Option, caps: tuple[float, float]) -> bool:
    return option.a_surplus_va <= caps[0] + 1e-9 and option.b_surplus_va <= caps[1] + 1e-9


def _fewest_moves(units: Sequence[tuple[_Option, ...]], goal: _Goal) -> dict[str, str]:
    """The assignment that reaches the goal with the fewest circuits moved."""
    size = sum(max(o.a_va for o in options) for options in units) + 1
    moves = np.full(size, np.inf)
    moves[0] = 0.0
    steps = []
    for options in units:
        usable = [o for o in options if _within(o, goal.caps_va)]
        ahead, choice = np.full(size, np.inf), np.full(size, -1, dtype=np.int8)
        for place, option in enumerate(usable):
            shifted = np.full(size, np.inf)
            shifted[option.a_va :] = moves[: size - option.a_va] + option.moved
            better = shifted < ahead
            ahead[better], choice[better] = shifted[better], place
        steps.append((usable, choice))
        moves = ahead
    return _traced(steps, goal.a_va)


def _traced(steps: Sequence[tuple[list[_Option], NDArray[np.int8]]], target_va: int) -> dict[str, str]:
    leg_of: dict[str, str] = {}
    at = target_va
    for usable, choice in reversed(steps):
        option = usable[int(choice[at])]
        leg_of |= dict(option.legs)
        at -= option.a_va
    return leg_of
