"""Small changes to a plan: spells' edges moved by half an hour, then by a slot, spells left out or joined to the next.

One kind of change at a time is tried on every spell, all in one batch in the engine, and on the few or many
spells that gain most by it together; the best is made before the next kind is tried.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.control import RunPlan, Spell
from hearthold.engine.kernels.layout import FAR, Array, Ints
from hearthold.engine.packing import Packed
from hearthold.engine.trace import empty_tape
from hearthold.plan.labels import FRESH, Before
from hearthold.plan.objective import SLOT_S, switching_j
from hearthold.plan.problem import Problem
from hearthold.plan.threads import side_by_side

Pattern = NDArray[np.bool_]
Spans = list[tuple[int, int]]  # spells as first slot and end
Move = tuple[int, int]  # slots by which first and end move
LEFT_OUT, JOINED, ADDED = (-10_000, 0), (0, 10_000), (10_000, 0)  # not by slots
PAUSE = 2  # slots between a spell that is added and the one after it
STEPS = (2, 1)
ENOUGH_FRAC = 1e-3  # all kinds of one step once that gain less: on to the next step
BLOCK = 8


def spans(on: Pattern) -> Spans:
    """Spells of a pattern as slots."""
    padded = np.concatenate([[False], on, [False]])
    return [(int(a), int(b)) for a, b in np.flatnonzero(padded[1:] != padded[:-1]).reshape(-1, 2)]


def pattern(found: Spans, slots: int) -> Pattern:
    """The pattern of some spells."""
    on = np.zeros(slots, dtype=bool)
    for first, end in found:
        on[max(0, first) : min(slots, end)] = True
    return on


@dataclass(frozen=True, slots=True, eq=False)
class Kept:
    """A pattern with the states of its replay at every slot's edge: what is changed later begins there."""

    on: Pattern
    states: Array  # (slots, state)


def kept_states(problem: Problem, on: Pattern, before: Before = FRESH) -> Kept:
    """Run a pattern once and keep its states."""
    from hearthold.plan.kernels.candidates import keep_states

    candidates, counts = _candidates(problem, [on], before)
    packed = _packed(problem, candidates)
    states = np.empty((problem.slots, packed.state_size))
    keep_states(
        packed.w, packed.at, np.zeros(packed.state_size), empty_tape(problem.compiled), problem.start_s,
        problem.lead_s, candidates, counts, states,
    )  # fmt: skip
    return Kept(on, states)


def price_patterns(
    problem: Problem, wanted: Sequence[Pattern], before: Before = FRESH, kept: Kept | None = None
) -> tuple[Array, Array]:
    """Cost parts (patterns, parts) of each pattern, by the engine, and what its switching costs (patterns,).

    All cores; same result on any number, and with or without the states of a pattern that they are like at first.
    A machine that runs before slot 0 was started before: the engine, which begins with it off, starts it anew, and
    that start is taken off again.
    """
    from hearthold.plan.kernels.candidates import price_candidates, price_changes
    from hearthold.plan.kernels.price import PART_COUNT, PART_STARTS

    candidates, counts = _candidates(problem, wanted, before)
    packed = _packed(problem, candidates)
    parts = np.zeros((len(wanted), 1, PART_COUNT))
    tape, start, length = (
        empty_tape(problem.compiled),
        np.array([problem.start_s]),
        np.array([problem.length_s]),
    )
    first = np.array([_first_change(kept.on, on) if kept is not None else 0 for on in wanted], dtype=np.int64)

    def work(which: Ints) -> None:
        w, at, state = packed.w.copy(), packed.at.copy(), np.zeros(packed.state_size)
        rest = (problem.prices, problem.offset_j, candidates, counts, which, parts)
        if kept is None:
            price_candidates(w, at, np.zeros((2, packed.state_size)), tape, start, length, *rest, FAR)
        else:
            price_changes(
                w, at, state, tape, problem.start_s, problem.lead_s, problem.length_s, *rest, kept.states, first
            )  # fmt: skip

    every = np.arange(len(wanted), dtype=np.int64)
    blocks = [every[i : i + BLOCK] for i in range(0, len(every), BLOCK)]
    side_by_side(work, blocks)
    if before.on:
        already = (candidates[:, 0, 0] == 0.0) & (counts > 0)
        parts[already, 0, PART_STARTS] = np.maximum(
            0.0, parts[already, 0, PART_STARTS] - problem.objective.start_j
        )
    switching = np.array([switching_j(problem.patterns, on, before.on) for on in wanted])
    return parts[:, 0], switching


def _first_change(on: Pattern, new: Pattern) -> int:
    """The slot in which two patterns first differ; the last where they do not."""
    differs = on != new
    return int(np.argmax(differs)) if differs.any() else len(on) - 1


def _candidates(problem: Problem, wanted: Sequence[Pattern], before: Before) -> tuple[Array, Ints]:
    """Spells of every pattern, padded, and how many each has."""
    tables = [_table(problem, on, before) for on in wanted]
    candidates = np.zeros((len(tables), max([1, *map(len, tables)]), 2))
    for i, table in enumerate(tables):
        candidates[i, : len(table)] = table
    return candidates, np.array([len(t) for t in tables], dtype=np.int64)


def _packed(problem: Problem, candidates: Array) -> Packed:
    return problem.packed(RunPlan((Spell(0.0, 1.0, problem.steps),), problem.handling), candidates.shape[1])


def _table(problem: Problem, on: Pattern, before: Before) -> Array:
    """Spells in seconds since the failure; the one that is under way began at 0."""
    table = np.array([(problem.lead_s + a * SLOT_S, problem.lead_s + b * SLOT_S) for a, b in spans(on)])
    table = table.reshape(-1, 2)
    if before.on and len(on) and on[0]:
        table[0, 0] = 0.0
    elif before.on and problem.lead_s > 0.0:
        table = np.vstack([[0.0, problem.lead_s], table])
    return table


def costs_j(
    problem: Problem, wanted: Sequence[Pattern], before: Before = FRESH, kept: Kept | None = None
) -> Array:
    """Cost of each pattern, switching included."""
    parts, switching = price_patterns(problem, wanted, before, kept)
    return np.asarray(parts.sum(axis=1) + switching)


def moves(found: Spans, kind: Move, least_on: int) -> Iterator[tuple[int, Spans]]:
    """Every spell changed in one way: the number of the spell, and all spells after it."""
    for i, (first, end) in enumerate(found):
        before, after = found[:i], found[i + 1 :]
        if kind == LEFT_OUT:
            yield i, [*before, *after]
        elif kind == ADDED:
            if first - PAUSE - least_on > (before[-1][1] if before else -1):
                yield i, [*before, (first - PAUSE - least_on, first - PAUSE), (first, end), *after]
        elif kind == JOINED:
            if after:
                yield i, [*before, (first, after[0][1]), *after[1:]]
        elif first + kind[0] < end + kind[1]:
            yield i, [*before, (first + kind[0], end + kind[1]), *after]


def polish(
    problem: Problem, on: Pattern, cost_j: float, tries: int, before: Before = FRESH
) -> tuple[Pattern, float]:
    """The pattern after small changes, and its cost; about `tries` patterns are run. Never worse than what was
    given.
    """
    kept = kept_states(problem, on, before)
    for step in STEPS:
        while tries > 0:
            was_j = cost_j
            for kind in _kinds(step):
                on, cost_j, used = _one_kind(problem, kept, cost_j, kind, tries, before)
                kept = kept if on is kept.on else kept_states(problem, on, before)
                tries -= used
                if tries <= 0:
                    break
            if cost_j >= was_j * (1.0 - ENOUGH_FRAC):
                break
    return on, cost_j


def _kinds(step: int) -> tuple[Move, ...]:
    """Ways to change a spell: an edge or both by so many slots; left out; joined to the next; one put before it."""
    edges: tuple[Move, ...] = ((0, step), (-step, 0), (0, -step), (step, 0), (step, step), (-step, -step))
    return (*edges, LEFT_OUT, JOINED, ADDED)


def _one_kind(
    problem: Problem, kept: Kept, cost_j: float, kind: Move, most: int, before: Before
) -> tuple[Pattern, float, int]:
    """The best of one kind of change made to one spell, or to the few or many that gain most; how many were
    run. Of more spells than `most`, every second or third is tried.
    """
    on = kept.on
    own, slots = spans(on), len(on)
    tried = [(i, pattern(new, slots)) for i, new in moves(own, kind, problem.patterns.least_on)]
    tried = [(i, new) for i, new in tried if _allowed(problem, new, before)]
    tried = tried[:: max(1, ceil(len(tried) / most))]
    if not tried:
        return on, cost_j, 0
    costs = costs_j(problem, [new for _, new in tried], before, kept)
    order = np.argsort(costs, kind="stable").tolist()
    found = [(float(costs[order[0]]), tried[order[0]][1])]
    gains = [tried[k][0] for k in order if costs[k] < cost_j]
    joint = [] if kind in (LEFT_OUT, JOINED, ADDED) else _jointly(own, gains, kind, slots)
    joint = [new for new in joint if _allowed(problem, new, before)]
    if joint:
        found += zip(costs_j(problem, joint, before, kept).tolist(), joint, strict=True)
    best_j, best = min(found, key=lambda x: x[0])
    ran = len(tried) + len(joint)
    return (best, best_j, ran) if best_j < cost_j * (1.0 - 1e-6) else (on, cost_j, ran)


def _jointly(own: Spans, gains: list[int], kind: tuple[int, int], slots: int) -> list[Pattern]:
    """The same change made to the first two, four, eight ... and all of the spells that gain by it."""
    counts = [m for m in (2, 4, 8, 16) if m < len(gains)] + [len(gains)] * (len(gains) > 1)
    made = []
    for count in counts:
        some = set(gains[:count])
        new = [(a + kind[0], b + kind[1]) if i in some else (a, b) for i, (a, b) in enumerate(own)]
        made.append(pattern(new, slots))
    return made


def _allowed(problem: Problem, on: Pattern, before: Before) -> bool:
    return problem.patterns.allows(on, before.on, before.age, before.started)
