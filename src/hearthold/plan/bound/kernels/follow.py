"""One pattern alone through its boxes, without any join: what the bound makes of it, slot by slot."""

# mypy: disable-error-code="no-any-return"

from __future__ import annotations

from hearthold.engine.jit import entry
from hearthold.plan.bound.kernels.layout import Array, Frame, Ints
from hearthold.plan.bound.kernels.search import AGE_CAP, SOURCES, next_age
from hearthold.plan.bound.kernels.slot import end_j, held_j, step


@entry(extra=SOURCES)
def follow(f: Frame, on: Ints, boxes: Array, costs: Array, scratch: Array) -> float:
    """Boxes (T + 1, b) of a pattern from boxes[0] on, additive cost (T + 1,), and its least cost in all."""
    was, age = 0, AGE_CAP - 6
    for t in range(on.shape[0]):
        same = on[t] == was
        costs[t + 1] = costs[t] + step(
            f, t, on[t] == 1, age if same else 0, age, boxes[t], boxes[t + 1], scratch
        )
        age = next_age(was, on[t], age)
        was = on[t]
    last = boxes[on.shape[0]]
    return float(costs[on.shape[0]]) + held_j(f, last) + end_j(f, last)
