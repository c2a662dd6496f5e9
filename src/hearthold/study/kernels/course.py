"""One outage with its accounts read on the way: what it would have come to, had it ended there."""

from __future__ import annotations

from pathlib import Path

from hearthold.engine.bare import bare
from hearthold.engine.jit import entry, kernel
from hearthold.engine.kernels.layout import (
    B_END,
    FAR,
    O_STARTS,
    Q_SLOT,
    RUNNING,
    S_AWAKE,
    S_EVENTS,
    S_MODE,
    S_T,
    Array,
    Ints,
    Tape,
)
from hearthold.engine.kernels.loop import advance, close, outcome, wake
from hearthold.engine.kernels.start import begin, copy_state

_EDGE_S = 1e-3  # on either side of a change of the day's schedule
_NAP_S = 1800.0  # a night is looked at in pieces of this length
_AGAIN_S = 3600.0  # getting up twice within an hour is getting up once


@kernel
def _switchings(s: Array) -> float:
    """Starts and stops of the machine so far."""
    running = 1.0 if s[S_MODE] == RUNNING else 0.0
    return float(2.0 * s[O_STARTS] - running)


@kernel
def _advance_counting(w: Array, at: Ints, s: Array, tape: Tape, until_s: float) -> None:
    """Run to until_s; count behind the state how often the machine was switched while people slept."""
    count, last = at[B_END], at[B_END] + 1
    while s[S_T] < until_s:
        edge, t = s[Q_SLOT], s[S_T]
        before = _switchings(s)
        if t < edge - _EDGE_S:
            asleep = s[S_AWAKE] == 0.0
            piece = min(edge - _EDGE_S, t + _NAP_S) if asleep else edge - _EDGE_S
            advance(w, at, s, tape, min(until_s, piece))
        else:
            advance(w, at, s, tape, min(until_s, edge + _EDGE_S))
            asleep = s[S_AWAKE] == 0.0
        if asleep and _switchings(s) != before and s[S_T] - s[last] > _AGAIN_S:
            s[count] += 1.0
            s[last] = s[S_T]


@entry(extra=(Path(__file__),))
def follow_block(
    w: Array, at: Ints, s: Array, spare: Array, tape: Tape, start_s: Array, until_s: Array, many: int,
    rows: Array, woken: Array, which: Ints,
) -> float:  # fmt: skip
    """Outages `which`, each to the last of the checkpoints `until_s`. Returns the number of events.

    Row i many + j of `rows`: the accounts of outage i at checkpoint j, stores moved to that moment; `woken`
    alike: times somebody got up until then. `s` and `spare` are room for a state, and two more numbers behind
    it. The outage itself is not moved by being read: its accounts are closed on a copy of its state.
    """
    events = 0.0
    # As `simulate_block`: compiled once for both.
    w_, at_, s_, spare_ = bare(w), bare(at), bare(s), bare(spare)
    for n in range(which.shape[0]):
        i = which[n]
        begin(w_, at_, s_, start_s[i])
        wake(w_, at_, s_)
        s[at[B_END]], s[at[B_END] + 1] = 0.0, -FAR
        for j in range(until_s.shape[0]):
            _advance_counting(w_, at_, s_, tape, until_s[j])
            copy_state(s, spare)
            close(w_, at_, spare_)
            outcome(at_, spare_, rows, i * many + j)
            woken[i * many + j] = s[at[B_END]]
        events += s[S_EVENTS]
    return events
