"""Many candidates at once, daily rules or plans: each is run through the outages in the engine and priced."""

from __future__ import annotations

from hearthold.engine.bare import bare
from hearthold.engine.jit import entry, kernel
from hearthold.engine.kernels.layout import A_SPELLS, FAR, N_SPELLS, Q_CONTROL, S_SPELL, Array, Ints, Tape
from hearthold.engine.kernels.loop import advance, close, wake
from hearthold.engine.kernels.start import begin, copy_state
from hearthold.plan.kernels.price import PART_RESTORE, SOURCES, price_parts
from hearthold.plan.objective import SLOT_S

LOOKS = 4  # at what an outage has cost so far, the last at its end


@kernel
def write_spells(w: Array, at: Ints, candidates: Array, counts: Ints, i: int) -> None:
    """Put the spells of candidate i into the table that the control reads."""
    at[N_SPELLS] = counts[i]
    for j in range(counts[i]):
        w[at[A_SPELLS] + 2 * j] = candidates[i, j, 0]
        w[at[A_SPELLS] + 2 * j + 1] = candidates[i, j, 1]


@kernel
def _too_dear(
    w: Array, at: Ints, s: Array, closed: Array, tape: Tape, length_s: float, prices: Array, offset_j: Array,
    parts: Array, most_j: float,
) -> bool:  # fmt: skip
    """Run the outage up to its last quarter; whether it costs more than `most_j` before: cost only grows.

    A copy is closed for each look, so that the state goes on untouched.
    """
    for look in range(1, LOOKS):
        advance(bare(w), bare(at), bare(s), tape, length_s * look / LOOKS)
        copy_state(s, closed)
        close(bare(w), bare(at), bare(closed))
        cost_j = price_parts(bare(w), bare(at), bare(closed), prices, offset_j, parts)
        if cost_j - parts[PART_RESTORE] > most_j:
            parts[PART_RESTORE] = 0.0
            return True
    return False


@entry(extra=SOURCES)
def price_candidates(
    w: Array, at: Ints, states: Array, tape: Tape, start_s: Array, length_s: Array, prices: Array, offset_j: Array,
    candidates: Array, counts: Ints, which: Ints, parts: Array, most_j: float,
) -> None:  # fmt: skip
    """Cost parts of candidates `which`, one row for each outage.

    candidates: (n, spells, 2) start and end, in the day or since the failure as the control packed in `w` has
    it;
    counts: (n,) spells in use; parts: (n, outages, PART_COUNT), zeros. `w` and `at` are the caller's own copies with
    room for the most spells: the table of spells is written. `states` is scratch, (2, state). Of a candidate that
    costs more than `most_j` before its outages are over, the parts are those up to then.
    """
    w_, at_, s = bare(w), bare(at), states[0]  # as `simulate_block`: the same kernels, of the same types
    s_ = bare(s)
    for n in range(which.shape[0]):
        i, left_j = which[n], most_j
        write_spells(w, at, candidates, counts, i)
        for k in range(start_s.shape[0]):
            begin(w_, at_, s_, start_s[k])
            wake(w_, at_, s_)
            own = parts[i, k]
            if most_j < FAR and _too_dear(
                w, at, s, states[1], tape, length_s[k], prices, offset_j, own, left_j
            ):
                break
            advance(w_, at_, s_, tape, length_s[k])
            close(w_, at_, s_)
            left_j -= price_parts(w_, at_, s_, prices, offset_j, own)


@entry(extra=SOURCES)
def keep_states(
    w: Array,
    at: Ints,
    s: Array,
    tape: Tape,
    start_s: float,
    lead_s: float,
    candidates: Array,
    counts: Ints,
    states: Array,
) -> None:
    """Run the first candidate and keep its state at every slot's edge: states is (slots, state)."""
    w_, at_, s_ = bare(w), bare(at), bare(s)
    write_spells(w, at, candidates, counts, 0)
    begin(w_, at_, s_, start_s)
    wake(w_, at_, s_)
    for t in range(states.shape[0]):
        advance(w_, at_, s_, tape, lead_s + SLOT_S * t)
        for j in range(states.shape[1]):
            states[t, j] = s[j]


@kernel
def _take_up(candidates: Array, counts: Ints, i: int, now_s: float, kept: Array, s: Array) -> None:
    """A kept state as candidate i goes on from it: the control is asked at its next switch."""
    copy_state(kept, s)
    edge_s = FAR
    for j in range(counts[i]):
        for side in range(2):
            if candidates[i, j, side] >= now_s:
                edge_s = min(edge_s, candidates[i, j, side])
    s[Q_CONTROL], s[S_SPELL] = edge_s, 0.0


@entry(extra=SOURCES)
def price_changes(
    w: Array, at: Ints, s: Array, tape: Tape, start_s: float, lead_s: float, length_s: float, prices: Array,
    offset_j: Array, candidates: Array, counts: Ints, which: Ints, parts: Array, states: Array, first: Ints,
) -> None:  # fmt: skip
    """As `price_candidates` for one outage, each from the state kept at slot `first`, up to which it does as the
    pattern that the states are of. The same to the bit: stopping the engine and taking it up changes nothing.
    """
    w_, at_, s_ = bare(w), bare(at), bare(s)
    for n in range(which.shape[0]):
        i = which[n]
        write_spells(w, at, candidates, counts, i)
        if first[i] == 0:  # the first moment already asks what is wanted
            begin(w_, at_, s_, start_s)
            wake(w_, at_, s_)
        else:
            _take_up(candidates, counts, i, lead_s + SLOT_S * first[i], states[first[i]], s)
        advance(w_, at_, s_, tape, length_s)
        close(w_, at_, s_)
        price_parts(w_, at_, s_, prices, offset_j, parts[i, 0])
