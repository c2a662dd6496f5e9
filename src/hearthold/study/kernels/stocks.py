"""One outage under many stocks of fuel, run once as far as they agree.

Until a stock is used up the house does the same whatever the stock is. So the smallest stock is run first and the
state is kept at the last checkpoint at which some of it was left; the next larger stock goes on from there.
"""

from __future__ import annotations

from pathlib import Path

from hearthold.engine.bare import bare
from hearthold.engine.jit import entry
from hearthold.engine.kernels.layout import (
    O_FIRST,
    O_STOCK_END,
    P_FUEL_STOCK0,
    S_EVENTS,
    S_STOCK,
    Array,
    Ints,
    Tape,
)
from hearthold.engine.kernels.loop import advance, close, outcome, wake
from hearthold.engine.kernels.start import begin, copy_state

_TINY_M3 = 1e-9


@entry(extra=(Path(__file__),))
def stocks_block(
    w: Array, at: Ints, s: Array, spare: Array, kept: Array, tape: Tape, start_s: Array, until_s: Array,
    stock_m3: Array, many: int, rows: Array, which: Ints,
) -> float:  # fmt: skip
    """Outages `which` under each of the stocks, rising, to the last checkpoint. Returns the number of events.

    Row (j n + i) many + k of `rows`: accounts of outage i of all n with stock j at checkpoint k. `w` is written to (the
    stock at the start), so each thread needs its own; `s`, `spare` and `kept` are room for a state each. Nobody
    fetches fuel: trips must be switched off.
    """
    events, count, lot = 0.0, stock_m3.shape[0], start_s.shape[0] * many
    # As `simulate_block`: compiled once for both.
    w_, at_, s_, spare_ = bare(w), bare(at), bare(s), bare(spare)
    for n in range(which.shape[0]):
        i = which[n]
        w[P_FUEL_STOCK0] = stock_m3[0]
        begin(w_, at_, s_, start_s[i])
        wake(w_, at_, s_)
        copy_state(s, kept)
        kept_k = -1
        for j in range(count):
            if j > 0:
                copy_state(kept, s)
                more = stock_m3[j] - stock_m3[j - 1]
                s[S_STOCK] += more
                kept[S_STOCK] += more
                for k in range(kept_k + 1):
                    row = j * lot + i * many + k
                    for column in range(rows.shape[1]):
                        rows[row, column] = rows[row - lot, column]
                    rows[row, O_STOCK_END - O_FIRST] += more
            before = s[S_EVENTS]
            for k in range(kept_k + 1, until_s.shape[0]):
                advance(w_, at_, s_, tape, until_s[k])
                copy_state(s, spare)
                close(w_, at_, spare_)
                outcome(at_, spare_, rows, j * lot + i * many + k)
                if s[S_STOCK] > _TINY_M3:
                    copy_state(s, kept)
                    kept_k = k
            events += s[S_EVENTS] - before
    return events
