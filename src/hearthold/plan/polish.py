"""Small changes to a plan: each spell's edges moved by a slot, a spell moved, left out or joined to the next.

All changes of one round are run in the engine in one batch; those that gain and do not touch each other are
made together if that is better still than the best alone.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.control import RunPlan, Spell
from hearthold.engine.kernels.layout import Array, Ints
from hearthold.engine.trace import empty_tape
from hearthold.plan.labels import FRESH, Before
from hearthold.plan.objective import SLOT_S, switching_j
from hearthold.plan.problem import Problem

Pattern = NDArray[np.bool_]
Spans = list[tuple[int, int]]  # spells as first slot and end
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


def price_patterns(
    problem: Problem, wanted: Sequence[Pattern], before: Before = FRESH
) -> tuple[Array, Array]:
    """Cost parts (patterns, parts) of each pattern, by the engine, and what its switching costs (patterns,).

    All cores; same result on any number. A machine that runs before slot 0 and goes on is one spell with no
    start.
    """
    from hearthold.plan.kernels.candidates import price_candidates
    from hearthold.plan.kernels.price import PART_COUNT

    tables = [_table(problem, on, before) for on in wanted]
    most = max(1, *(len(t) for t in tables))
    candidates = np.zeros((len(tables), most, 2))
    counts = np.array([len(t) for t in tables], dtype=np.int64)
    for i, table in enumerate(tables):
        candidates[i, : len(table)] = table
    packed = problem.packed(RunPlan((Spell(0.0, 1.0, problem.steps),), problem.handling), most)
    parts = np.zeros((len(tables), 1, PART_COUNT))
    tape, start, length = (
        empty_tape(problem.compiled),
        np.array([problem.start_s]),
        np.array([problem.length_s]),
    )

    def work(which: Ints) -> None:
        price_candidates(
            packed.w.copy(), packed.at.copy(), np.zeros(packed.state_size), tape, start, length,
            problem.prices, problem.offset_j, candidates, counts, which, parts,
        )  # fmt: skip

    every = np.arange(len(tables), dtype=np.int64)
    blocks = [every[i : i + BLOCK] for i in range(0, len(every), BLOCK)]
    if len(blocks) == 1:
        work(every)
    else:
        with ThreadPoolExecutor(os.cpu_count()) as pool:
            list(pool.map(work, blocks))
    switching = np.array([switching_j(problem.patterns, on, before.on) for on in wanted])
    return parts[:, 0], switching


def _table(problem: Problem, on: Pattern, before: Before) -> Array:
    """Spells in seconds since the failure; the one that is under way began at 0."""
    table = np.array([(problem.lead_s + a * SLOT_S, problem.lead_s + b * SLOT_S) for a, b in spans(on)])
    table = table.reshape(-1, 2)
    if before.on and len(on) and on[0]:
        table[0, 0] = 0.0
    elif before.on and problem.lead_s > 0.0:
        table = np.vstack([[0.0, problem.lead_s], table])
    return table


def costs_j(problem: Problem, wanted: Sequence[Pattern], before: Before = FRESH) -> Array:
    """Cost of each pattern, switching included."""
    parts, switching = price_patterns(problem, wanted, before)
    return np.asarray(parts.sum(axis=1) + switching)


def changes(found: Spans) -> Iterator[tuple[int, Spans]]:
    """Every small change: the number of the spell it touches, and the spells after it."""
    for i, (first, end) in enumerate(found):
        others = found[:i], found[i + 1 :]
        for a, b in ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, -1)):
            yield i, [*others[0], (first + a, end + b), *others[1]]
        yield i, [*others[0], *others[1]]
        if others[1]:
            yield i, [*others[0], (first, others[1][0][1]), *others[1][1:]]


def polish(
    problem: Problem, on: Pattern, cost_j: float, rounds: int, before: Before = FRESH
) -> tuple[Pattern, float]:
    """The pattern after at most so many rounds of small changes, and its cost. Never worse than what was
    given.
    """
    for _ in range(rounds):
        better, better_j = _round(problem, on, cost_j, before)
        if better_j >= cost_j * (1.0 - 1e-6):
            break
        on, cost_j = better, better_j
    return on, cost_j


def _round(problem: Problem, on: Pattern, cost_j: float, before: Before) -> tuple[Pattern, float]:
    own, slots = spans(on), len(on)
    tried = [(i, new) for i, new in changes(own) if _allowed(problem, pattern(new, slots), before)]
    if not tried:
        return on, cost_j
    costs = costs_j(problem, [pattern(new, slots) for _, new in tried], before)
    order = np.argsort(costs, kind="stable")
    best = pattern(tried[order[0]][1], slots)
    together = _together(own, [tried[k] for k in order if costs[k] < cost_j])
    joined = pattern(together, slots)
    if together != own and _allowed(problem, joined, before):
        joined_j = float(costs_j(problem, [joined], before)[0])
        if joined_j < costs[order[0]]:
            return joined, joined_j
    return best, float(costs[order[0]])


def _together(own: Spans, gains: list[tuple[int, Spans]]) -> Spans:
    """The gaining moves of edges that touch different spells, best first, made at once."""
    made, touched = list(own), set[int]()
    for i, new in gains:
        if len(new) == len(own) and i not in touched:
            made[i] = new[i]
            touched.add(i)
    return made


def _allowed(problem: Problem, on: Pattern, before: Before) -> bool:
    return problem.patterns.allows(on, before.on, before.age, before.started)
