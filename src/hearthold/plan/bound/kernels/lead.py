"""The engine's own state at the first slot's edge: where every box begins."""

from __future__ import annotations

from hearthold.engine.bare import bare
from hearthold.engine.jit import entry
from hearthold.engine.kernels.layout import Array, Ints, Tape
from hearthold.engine.kernels.loop import play
from hearthold.plan.kernels.price import SOURCES, price_parts


@entry(extra=SOURCES)
def lead_in(
    w: Array, at: Ints, s: Array, tape: Tape, start_s: float, lead_s: float, prices: Array, offset_j: Array,
    parts: Array,
) -> None:  # fmt: skip
    """Run the house, machine off, from the failure to the first slot; its state into s, its cost into parts."""
    w_, at_, s_ = bare(w), bare(at), bare(s)
    play(w_, at_, s_, tape, start_s, lead_s)
    price_parts(w_, at_, s_, prices, offset_j, parts)
