"""Which loads run for certain when they want to, and how long after the start of a spell their circuit is live."""

# mypy: disable-error-code="no-any-return"

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

import numpy as np

from hearthold.engine.control import RunPlan, Spell
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array
from hearthold.plan.objective import SLOT_S
from hearthold.plan.problem import Problem

NEVER, ALWAYS = 0.0, 1.0
TRANSIENT = (c.BY_TASK, c.BY_LEVEL)


@dataclass(frozen=True, slots=True, eq=False)
class Sureness:
    """One entry a load, in order of priority."""

    live_s: Array  # after the start of a spell, at the earliest; FAR where no step switches its circuit
    turned: Array  # whether its circuit is off for a while within a spell: then nothing on it is sure
    sure: Array  # ALWAYS or NEVER
    sheds: Array  # (n, n) 1 where load i, while it runs, may keep load j out


def sureness(problem: Problem) -> Sureness:
    """Lemma 1: a load that fits and starts beside all of its class and above, none of which pushes it out, runs."""
    world = problem.compiled.world
    loads, limits = world.loads, world.limits[0]
    count = len(loads)
    sheds, sure = np.zeros((count, count)), np.zeros(count)
    for j in range(count):
        held = [i for i in range(count) if i != j and loads[i, c.L_RANK] <= loads[j, c.L_RANK]]
        steady = [i for i in held if loads[i, c.L_KIND] not in TRANSIENT]
        rest = sorted(
            (i for i in held if i not in steady), key=lambda i: float(loads[i, c.L_SWA] + loads[i, c.L_SWB])
        )
        sure[j] = ALWAYS if _peace(loads, limits, j, steady) else NEVER
        for i in rest:
            if _peace(loads, limits, j, [*steady, i]):
                steady.append(i)
            else:
                sheds[i, j] = 1.0
    live, turned = live_s(problem)
    sure[turned] = NEVER
    return Sureness(live, turned, sure, sheds)


def _peace(loads: Array, limits: Array, j: int, held: list[int]) -> bool:
    """Whether j runs whatever of the others does: it fits, it starts, and no start of theirs pushes it out."""
    if not _fits(limits, _sums(loads, [*held, j])) or not _starts(loads, limits, j, held):
        return False
    above = [i for i in held if loads[i, c.L_RANK] < loads[j, c.L_RANK]]
    return all(_starts(loads, limits, i, [k for k in [*held, j] if k != i]) for i in above)


def live_s(problem: Problem) -> tuple[Array, Array]:
    """Seconds from the start of a spell until each load's circuit is live at the earliest; whether it goes in turns.

    What stays on from its first switching on is live at that time for certain. What goes in turns is taken as live
    from the end of the first slot at the latest: earlier than it is, so as good as it can be.
    """
    packed = problem.packed(RunPlan((Spell(0.0, 1.0, problem.steps),), problem.handling))
    at, w = packed.at, packed.w
    steps = w[at[c.A_STEPS] : at[c.A_STEPS] + 5 * at[c.N_STEPS]].reshape(-1, 5)
    count = len(problem.compiled.world.circuit_fed)
    first, turned = np.full(count, c.FAR), np.zeros(count, dtype=bool)
    for _, circuit, on_s, off_s, rank in steps.tolist():
        k = int(circuit)
        if on_s < off_s and problem.compiled.world.circuit_fed[k]:
            first[k] = min(first[k], max(on_s, w[c.K_WARM_S] + rank * w[c.K_BETWEEN_S]))
            turned[k] |= off_s < c.FAR * 0.5 or on_s >= SLOT_S
    first[turned] = np.minimum(first[turned], SLOT_S - 1.0)
    on = problem.compiled.world.loads[:, c.L_CIRCUIT].astype(int)
    return first[on], turned[on]


def _sums(loads: Array, which: list[int]) -> Array:
    return loads[which][:, [c.L_WA, c.L_QA, c.L_WB, c.L_QB]].sum(axis=0) if which else np.zeros(4)


def _fits(limits: Array, sums: Array) -> bool:
    wa, qa, wb, qb = sums.tolist()
    return bool(
        wa + wb <= limits[c.LIM_RUN_W] and max(wa, wb) <= limits[c.LIM_LEG_W]
        and max(hypot(wa, qa), hypot(wb, qb)) <= limits[c.LIM_LEG_VA]
    )  # fmt: skip


def _starts(loads: Array, limits: Array, j: int, others: list[int]) -> bool:
    """Whether the motor of j starts whatever of the others runs beside it."""
    x = loads[j]
    if x[c.L_MOTOR] == 0.0:
        return True
    wa, qa, wb, qb = _sums(loads, others).tolist()
    room_a, room_b = limits[c.LIM_LEG_W] - x[c.L_WA], limits[c.LIM_LEG_W] - x[c.L_WB]
    wa, wb = min(wa, room_a), min(wb, room_b)
    qa, qb = min(qa, limits[c.LIM_LEG_VA]), min(qb, limits[c.LIM_LEG_VA])
    both = min(wa + wb, limits[c.LIM_RUN_W] - x[c.L_WA] - x[c.L_WB])
    a = hypot(wa + x[c.L_SWA], qa + x[c.L_SQA])
    b = hypot(wb + x[c.L_SWB], qb + x[c.L_SQB])
    all_w = both + x[c.L_SWA] + x[c.L_SWB]
    all_va = hypot(all_w, qa + qb + x[c.L_SQA] + x[c.L_SQB])
    return bool(
        all_w <= limits[c.LIM_START_W] and all_va <= limits[c.LIM_START_VA]
        and max(a, b) <= limits[c.LIM_LEG_START_VA]
    )  # fmt: skip
