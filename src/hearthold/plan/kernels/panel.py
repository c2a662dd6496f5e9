"""Many ways to keep a panel on a house battery at once: each is run through the outages in the engine and priced."""

from __future__ import annotations

from hearthold.engine.bare import bare
from hearthold.engine.jit import entry
from hearthold.engine.kernels.layout import A_BATTERY_FEEDS, N_CIRCUITS, O_BAT_DOWN_S, Array, Ints, Tape
from hearthold.engine.kernels.loop import play
from hearthold.plan.kernels.candidates import write_spells
from hearthold.plan.kernels.price import SOURCES, price_parts


@entry(extra=SOURCES)
def price_panels(
    w: Array, at: Ints, s: Array, tape: Tape, start_s: Array, length_s: Array, prices: Array, offset_j: Array,
    feeds: Array, candidates: Array, counts: Ints, which: Ints, parts: Array, dark_s: Array,
) -> None:  # fmt: skip
    """Cost parts of candidates `which`, one row for each outage, and how long the battery gave nothing.

    feeds: (n, circuits) never, always or in the hours; candidates: (n, spells, 2) the hours, in the day; counts: (n,)
    spells in use; parts: (n, outages, PART_COUNT) and dark_s: (n, outages), zeros. `w` and `at` are the caller's own
    copies with room for the most spells; `s` is scratch.
    """
    w_, at_, s_ = bare(w), bare(at), bare(s)  # as `simulate_block`: the same kernels, of the same types
    for n in range(which.shape[0]):
        i = which[n]
        write_spells(w, at, candidates, counts, i)
        for j in range(at[N_CIRCUITS]):
            w[at[A_BATTERY_FEEDS] + j] = feeds[i, j]
        for k in range(start_s.shape[0]):
            play(w_, at_, s_, tape, start_s[k], length_s[k])
            price_parts(w_, at_, s_, prices, offset_j, parts[i, k])
            dark_s[i, k] = s_[O_BAT_DOWN_S]
