"""Which loads get power: what runs goes on while it fits; new starts are let in by priority, one motor at a time.

The sums of the legs are those of what runs, changed by what starts and stops. Powers are whole multiples of a hair
(`compile.EXACT`), so that such sums are exact and do not hang on their order.
"""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from math import sqrt

from hearthold.engine.bits import highest, lowest
from hearthold.engine.jit import kernel
from hearthold.engine.kernels.layout import (
    A_LOADS,
    FAR,
    L_COUNT,
    L_MOTOR,
    L_QA,
    L_QB,
    L_RANK,
    L_RUN_UP_S,
    L_SQA,
    L_SQB,
    L_SWA,
    L_SWB,
    L_WA,
    L_WB,
    LIM_COUNT,
    LIM_LEG_START_VA,
    LIM_LEG_VA,
    LIM_LEG_W,
    LIM_RUN_W,
    LIM_START_VA,
    LIM_START_W,
    LIMITS,
    LIVE,
    MACHINE,
    N_WORDS,
    NEXT,
    O_PEAK_START_VA,
    P_TRIP_AFTER_S,
    Q_BUSY,
    Q_OVER,
    RUN,
    S_BUSY,
    S_QA,
    S_QB,
    S_SOURCE,
    S_T,
    S_WA,
    S_WB,
    WANT,
    Array,
    Ints,
)
from hearthold.engine.kernels.sets import has, load_at, put, words_of

_TINY = 1e-9


@kernel
def choose(w: Array, at: Ints, s: Array) -> None:
    """Managed supply: what runs goes on while it fits; what wants to start does so when it fits, first things first."""
    lim = LIMITS + LIM_COUNT * (0 if s[S_SOURCE] == MACHINE else 1)
    want, live, run, chosen = words_of(at, WANT), words_of(at, LIVE), words_of(at, RUN), words_of(at, NEXT)
    starting = 0
    for i in range(at[N_WORDS]):
        asked, running = int(s[want + i]) & int(s[live + i]), int(s[run + i])
        s[chosen + i] = float(asked & running)
        starting |= asked & ~running
        left = running & ~asked
        while left != 0:
            _add(w, at, s, load_at(i, lowest(left)), -1.0)
            left &= left - 1
    if not within(w, lim, s[S_WA], s[S_QA], s[S_WB], s[S_QB]):
        _keep_what_fits(w, at, s, lim)
    if starting != 0:
        _admit(w, at, s, lim)


@kernel
def _keep_what_fits(w: Array, at: Ints, s: Array, lim: int) -> None:
    """Of what would go on running only what fits, by priority. (No power is negative: where all fits, so does less.)"""
    s[S_WA] = s[S_QA] = s[S_WB] = s[S_QB] = 0.0
    for i in range(at[N_WORDS]):
        left, kept = int(s[words_of(at, NEXT) + i]), 0
        while left != 0:
            bit = lowest(left)
            if _fits(w, at, s, lim, load_at(i, bit)):
                kept |= 1 << bit
                _add(w, at, s, load_at(i, bit), 1.0)
            left &= left - 1
        s[words_of(at, NEXT) + i] = float(kept)


@kernel(inline=True)
def _add(w: Array, at: Ints, s: Array, j: int, sign: float) -> None:
    """Add load j to the sums of the legs, or take it out."""
    x = at[A_LOADS] + j * L_COUNT
    s[S_WA] += sign * w[x + L_WA]
    s[S_QA] += sign * w[x + L_QA]
    s[S_WB] += sign * w[x + L_WB]
    s[S_QB] += sign * w[x + L_QB]


@kernel(inline=True)
def within(w: Array, lim: int, wa: float, qa: float, wb: float, qb: float) -> bool:
    """Whether running sums stay within the machine and within each leg."""
    if wa + wb > w[lim + LIM_RUN_W] or wa > w[lim + LIM_LEG_W] or wb > w[lim + LIM_LEG_W]:
        return False
    most = w[lim + LIM_LEG_VA] * w[lim + LIM_LEG_VA]
    return wa * wa + qa * qa <= most and wb * wb + qb * qb <= most


@kernel
def _fits(w: Array, at: Ints, s: Array, lim: int, j: int) -> bool:
    """Whether load j, once running, fits beside what is taken already."""
    x = at[A_LOADS] + j * L_COUNT
    return within(
        w, lim, s[S_WA] + w[x + L_WA], s[S_QA] + w[x + L_QA], s[S_WB] + w[x + L_WB], s[S_QB] + w[x + L_QB]
    )


@kernel(inline=True)
def start_va(w: Array, lim: int, wa: float, qa: float, wb: float, qb: float) -> float:
    """Apparent power in the second of a start, -1 if source or leg is too weak for it."""
    all_va = sqrt((wa + wb) ** 2 + (qa + qb) ** 2)
    leg_va = sqrt(max(wa * wa + qa * qa, wb * wb + qb * qb))
    if wa + wb > w[lim + LIM_START_W] or all_va > w[lim + LIM_START_VA] or leg_va > w[lim + LIM_LEG_START_VA]:
        return -1.0
    return all_va


@kernel
def _start_va(w: Array, at: Ints, s: Array, lim: int, j: int) -> float:
    """Apparent power in the second in which load j starts beside what is taken already, -1 if that is too much."""
    x = at[A_LOADS] + j * L_COUNT
    return start_va(
        w, lim, s[S_WA] + w[x + L_SWA], s[S_QA] + w[x + L_SQA], s[S_WB] + w[x + L_SWB], s[S_QB] + w[x + L_SQB]
    )


@kernel
def _can_start(w: Array, at: Ints, s: Array, lim: int, j: int) -> bool:
    return _fits(w, at, s, lim, j) and (
        w[at[A_LOADS] + j * L_COUNT + L_MOTOR] == 0.0 or _start_va(w, at, s, lim, j) >= 0.0
    )


@kernel
def _admit(w: Array, at: Ints, s: Array, lim: int) -> None:
    """Let new loads start in order of priority; a motor waits for the one before it to run up."""
    for i in range(at[N_WORDS]):
        left = (
            int(s[words_of(at, WANT) + i]) & int(s[words_of(at, LIVE) + i]) & ~int(s[words_of(at, RUN) + i])
        )
        while left != 0:
            _admit_one(w, at, s, lim, load_at(i, lowest(left)))
            left &= left - 1


@kernel
def _admit_one(w: Array, at: Ints, s: Array, lim: int, j: int) -> None:
    """Let load j start, if it fits or what matters less makes room."""
    x = at[A_LOADS] + j * L_COUNT
    motor = w[x + L_MOTOR] != 0.0
    if motor and s[S_BUSY] > s[S_T] + _TINY:
        s[Q_BUSY] = s[S_BUSY]
        return
    tight = not _can_start(w, at, s, lim, j)
    if tight and not _make_room(w, at, s, lim, j):
        return
    if motor:
        s[O_PEAK_START_VA] = max(s[O_PEAK_START_VA], _start_va(w, at, s, lim, j))
        s[S_BUSY] = s[S_T] + w[x + L_RUN_UP_S]
        if tight:
            s[Q_BUSY] = s[S_BUSY]  # what made room may come back once the motor has run up
    put(at, s, NEXT, j, True)
    _add(w, at, s, j, 1.0)


@kernel
def _make_room(w: Array, at: Ints, s: Array, lim: int, j: int) -> bool:
    """Switch off running loads of a lower class, the least first, until load j can start; all or nothing."""
    rank, words, chosen = w[at[A_LOADS] + j * L_COUNT + L_RANK], at[N_WORDS], words_of(at, NEXT)
    wa, qa, wb, qb = s[S_WA], s[S_QA], s[S_WB], s[S_QB]
    for back in range(words):
        i = words - 1 - back
        left = int(s[chosen + i])
        while left != 0:
            bit = highest(left)
            last = load_at(i, bit)
            if w[at[A_LOADS] + last * L_COUNT + L_RANK] <= rank:
                s[S_WA], s[S_QA], s[S_WB], s[S_QB] = wa, qa, wb, qb
                return False
            left ^= 1 << bit
            _add(w, at, s, last, -1.0)
            if _can_start(w, at, s, lim, j):
                s[chosen + i] = float(left)
                for k in range(i + 1, words):
                    s[chosen + k] = 0.0
                return True
    s[S_WA], s[S_QA], s[S_WB], s[S_QB] = wa, qa, wb, qb
    return False


@kernel
def let_all(w: Array, at: Ints, s: Array) -> None:
    """Unmanaged supply: everything that wants to runs; a breaker answers (see `machine.overloaded`)."""
    lim = LIMITS + LIM_COUNT * (0 if s[S_SOURCE] == MACHINE else 1)
    wa = qa = wb = qb = sa = ta = sb = tb = 0.0
    for i in range(at[N_WORDS]):
        left = int(s[words_of(at, WANT) + i]) & int(s[words_of(at, LIVE) + i])
        s[words_of(at, NEXT) + i] = float(left)
        while left != 0:
            j = load_at(i, lowest(left))
            x = at[A_LOADS] + j * L_COUNT
            wa, qa, wb, qb = wa + w[x + L_WA], qa + w[x + L_QA], wb + w[x + L_WB], qb + w[x + L_QB]
            if not has(at, s, RUN, j):  # all that start in this instant start together
                sa, ta = sa + w[x + L_SWA] - w[x + L_WA], ta + w[x + L_SQA] - w[x + L_QA]
                sb, tb = sb + w[x + L_SWB] - w[x + L_WB], tb + w[x + L_SQB] - w[x + L_QB]
            left &= left - 1
    s[S_WA], s[S_QA], s[S_WB], s[S_QB] = wa, qa, wb, qb
    all_w = wa + wb + sa + sb
    all_va = sqrt(all_w**2 + (qa + qb + ta + tb) ** 2)
    leg_va = max(sqrt((wa + sa) ** 2 + (qa + ta) ** 2), sqrt((wb + sb) ** 2 + (qb + tb) ** 2))
    if sa + sb > 0.0:
        s[O_PEAK_START_VA] = max(s[O_PEAK_START_VA], all_va)
    if all_w > w[lim + LIM_START_W] or all_va > w[lim + LIM_START_VA] or leg_va > w[lim + LIM_LEG_START_VA]:
        s[Q_OVER] = s[S_T]
    elif within(w, lim, wa, qa, wb, qb):
        s[Q_OVER] = FAR
    elif s[Q_OVER] >= FAR:
        s[Q_OVER] = s[S_T] + w[P_TRIP_AFTER_S]
