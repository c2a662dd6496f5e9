"""Many candidates at once, daily rules or plans: each is run through the outages in the engine and priced."""

from __future__ import annotations

from hearthold.engine.bare import bare
from hearthold.engine.jit import entry
from hearthold.engine.kernels.layout import A_SPELLS, N_SPELLS, Array, Ints, Tape
from hearthold.engine.kernels.loop import play
from hearthold.plan.kernels.price import SOURCES, price_parts


@entry(extra=SOURCES)
def price_candidates(
    w: Array, at: Ints, s: Array, tape: Tape, start_s: Array, length_s: Array, prices: Array, offset_j: Array,
    candidates: Array, counts: Ints, which: Ints, parts: Array,
) -> None:  # fmt: skip
    """Cost parts of candidates `which`, one row for each outage.

    candidates: (n, spells, 2) start and end, in the day or since the failure as the control packed in `w` has
    it;
    counts: (n,) spells in use; parts: (n, outages, PART_COUNT). `w` and `at` are the caller's own copies with
    room for the most spells: the table of spells is written. `s` is scratch, one state.
    """
    w_, at_, s_ = bare(w), bare(at), bare(s)  # as `simulate_block`: the same kernels, of the same types
    for n in range(which.shape[0]):
        i = which[n]
        at[N_SPELLS] = counts[i]
        for j in range(counts[i]):
            w[at[A_SPELLS] + 2 * j] = candidates[i, j, 0]
            w[at[A_SPELLS] + 2 * j + 1] = candidates[i, j, 1]
        for k in range(start_s.shape[0]):
            play(w_, at_, s_, tape, start_s[k], length_s[k])
            price_parts(w_, at_, s_, prices, offset_j, parts[i, k])
