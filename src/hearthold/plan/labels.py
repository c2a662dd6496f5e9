"""The search for a run plan: builds the arrays that the label kernel works on, runs it, reads the pattern
back.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.control import RunPlan, Spell
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array, Ints
from hearthold.engine.packing import Packed
from hearthold.engine.trace import empty_tape
from hearthold.plan.ahead import NOTHING_AHEAD, Outlook
from hearthold.plan.objective import SLOT_S, SLOTS_A_DAY, Patterns
from hearthold.plan.problem import Problem

WIDTH = 160  # labels kept of a layer: the knob between time and quality


@dataclass(frozen=True, slots=True)
class Buckets:
    """How finely rivals are told apart. Infinite widths leave a store out."""

    mass_k: float = 0.2
    tank_k: float = 3.0
    cold_run_s: float = 1800.0  # heat in a cold store, in seconds of its own compressor
    fuel_frac: float = 0.2  # of the machine's tank
    battery_frac: float = 0.1


USUAL_BUCKETS = Buckets()


@dataclass(frozen=True, slots=True)
class Before:
    """What came before the first slot: whether the machine runs, for how many slots that has been so,
    spells today.
    """

    on: bool = False
    age: int = 10_000
    started: int = 0


FRESH = Before()


@dataclass(frozen=True, slots=True)
class Ration:
    """Fuel spread evenly over the horizon: what a label has burned beyond its share counts so much more."""

    price: float  # as a multiple of the fuel's own
    early_frac: float  # of a day that may be burned ahead of its time


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """How a pass looks at its labels: prices that are not those of the problem, and what orders them beside cost.

    `margin_j`: how much dearer than the best of its side (on or off) a label may be. `shadow`: extra price of fuel,
    as a multiple of its own. `ahead`: what fridges will still ask for, or nothing.
    """

    prices: Array | None = None
    margin_j: float = inf
    shadow: float = 0.0
    ration: Ration | None = None
    outlook: Outlook = NOTHING_AHEAD


PLAIN = View()


@dataclass(frozen=True, slots=True)
class Found:
    """The best pattern of one pass."""

    on: NDArray[np.bool_]  # (slots,); all off after `reached`
    reached: int  # slots for which a pattern was found; fewer than asked where nothing went on
    value_j: float  # its cost up to there as the search has it; the replay decides
    extended: int
    merged: int
    cut: int  # labels dropped because a layer was full or the cost in hand was passed
    peak: int


@dataclass(frozen=True, slots=True, eq=False)
class Layers:
    """Slots cut into layers, each decided as one: `edges` (layers + 1,), `forced` (layers,) 0, 1 or -1 for
    free.
    """

    edges: Ints
    forced: Ints


def even_layers(problem: Problem, stride: int, later: int = 0, after: int = 0) -> Layers:
    """Layers of `stride` slots on the clock (a stride of 2: half hours), every one free.

    With `later`, that stride holds from slot `after` on: what lies far ahead needs less care.
    """
    first = round((problem.start_s + problem.lead_s) / SLOT_S)
    steps = [(t, later if later and t >= after else stride) for t in range(1, problem.slots)]
    inner = [t for t, step in steps if (first + t) % step == 0]
    edges = np.array([0, *inner, problem.slots], dtype=np.int64)
    return Layers(edges, np.full(len(edges) - 1, -1, dtype=np.int64))


def corridor(on: NDArray[np.bool_], was_on: bool, reach: int) -> Layers:
    """Slots within `reach` of a switch of the pattern are free and single; all others go as the pattern
    has them.
    """
    slots = len(on)
    before = np.concatenate([[was_on], on[:-1]])
    near = np.zeros(slots, dtype=bool)
    for t in np.flatnonzero(before != on).tolist():
        near[max(0, t - reach) : t + reach] = True
    edges = [t for t in range(slots) if t == 0 or near[t] or near[t - 1] or on[t] != on[t - 1]]
    forced = [-1 if near[t] else int(on[t]) for t in edges]
    return Layers(np.array([*edges, slots], dtype=np.int64), np.array(forced, dtype=np.int64))


def find_pattern(
    problem: Problem,
    layers: Layers,
    *,
    width: int = WIDTH,
    buckets: Buckets = USUAL_BUCKETS,
    before: Before = FRESH,
    most_j: float = inf,
    view: View = PLAIN,
) -> Found:
    """The best pattern that one pass of labels finds. Deterministic; one thread.

    `most_j`: the cost of a plan in hand; nothing dearer is followed. Where the view has prices of its own, the value
    is in these.
    """
    from hearthold.plan.kernels.label import FOUND_SIZE, TOTAL, Case, label_pass

    p: Patterns = problem.patterns
    packed = problem.packed(RunPlan((Spell(0.0, 1.0, problem.steps),), problem.handling), 1)
    places = key_places(problem, packed.at, buckets)
    case = Case(
        packed.w, packed.at, empty_tape(problem.compiled), problem.prices if view.prices is None else view.prices,
        problem.offset_j, layers.edges, layers.forced, p.may_run.astype(np.int64),
        p.may_switch.astype(np.int64), p.switch_j, p.day, np.array([p.least_on, p.most_on, p.least_off,
        p.starts_a_day], dtype=np.int64), np.array([place for place, _ in places], dtype=np.int64),
        np.array([step for _, step in places]), float(problem.start_s), float(problem.lead_s),
        float(min(most_j, c.FAR)), view.shadow * problem.lhv_j_per_m3, float(min(view.margin_j, c.FAR)),
        *_ration(problem, view.ration), view.outlook.seen(packed.at),
    )  # fmt: skip
    labels = _labels(packed, len(layers.forced), width)
    found = np.zeros(FOUND_SIZE)
    label_pass(case, labels, int(before.on), before.age, before.started, width, found)
    row, reached, extended, merged, cut, peak = (int(x) for x in found)
    value_j = float(labels.marks[row, TOTAL]) if reached else inf
    on = _pattern(labels, row, layers.edges, reached)
    return Found(on, int(layers.edges[reached]), value_j, extended, merged, cut, peak)


def _ration(problem: Problem, ration: Ration | None) -> tuple[Array, float]:
    """Fuel that may be burned by each slot's edge, and the price of what is beyond."""
    if ration is None or problem.compiled.start_fuel_m3 >= inf:
        return np.zeros(problem.slots + 1), 0.0
    share = (np.arange(problem.slots + 1) + ration.early_frac * SLOTS_A_DAY) / problem.slots
    return problem.compiled.start_fuel_m3 * np.minimum(1.0, share), ration.price * problem.lhv_j_per_m3


def _labels(packed: Packed, layers: int, width: int) -> Any:
    """Empty arrays of a search, as the kernel's `Labels`."""
    from hearthold.plan.kernels.label import MARK_COUNT, TAG_COUNT, Labels
    from hearthold.plan.kernels.price import PART_COUNT

    rows = 3 * width + 2
    places = 1 << (4 * rows - 1).bit_length()
    return Labels(
        states=np.empty((rows, packed.state_size)),
        marks=np.empty((rows, MARK_COUNT)),
        tags=np.zeros((rows, TAG_COUNT), dtype=np.int64),
        keys=np.zeros(rows, dtype=np.int64),
        now=np.zeros(rows, dtype=np.int64),
        then=np.zeros(rows, dtype=np.int64),
        free=np.arange(rows, dtype=np.int64),
        table=np.full(places, -1, dtype=np.int64),
        parent=np.zeros((layers, width), dtype=np.int64),
        was_on=np.zeros((layers, width), dtype=np.int64),
        closed=np.empty(packed.state_size),
        parts=np.empty(PART_COUNT),
    )


def key_places(problem: Problem, at: Ints, buckets: Buckets) -> list[tuple[int, float]]:
    """Places in a state that tell rivals apart, with the width of their buckets."""
    house, w = problem.compiled, problem.compiled.world
    found: list[tuple[int, float]] = []
    if house.has_house:
        found.append((c.S_MASS, buckets.mass_k))
    if house.has_tank:
        found.append((c.S_TANK, buckets.tank_k))
    for k in range(len(house.cold_ids)):
        step = buckets.cold_run_s * float(w.cold[k, c.C_COOL_W])
        found.append((int(at[c.B_COLD]) + k * c.D_COUNT + c.D_HELD_J, step))
    if w.par[c.P_FUEL_TANK] < c.FAR:
        found.append((c.S_FUEL, buckets.fuel_frac * float(w.par[c.P_FUEL_TANK])))
    if house.has_battery:
        found.append((c.S_BAT, buckets.battery_frac * float(w.par[c.P_BAT_J])))
    return [(place, step) for place, step in found if step < inf]


def _pattern(labels: Any, row: int, edges: Ints, reached: int) -> NDArray[np.bool_]:
    """Decisions of a label, read back from the last layer reached, slot by slot."""
    from hearthold.plan.kernels.label import NUMBER

    on = np.zeros(int(edges[-1]), dtype=bool)
    number = int(labels.tags[row, NUMBER])
    for layer in range(reached - 1, -1, -1):
        on[edges[layer] : edges[layer + 1]] = labels.was_on[layer, number] != 0
        number = int(labels.parent[layer, number])
    return on
