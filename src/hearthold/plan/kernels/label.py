"""Labels: partial plans with the whole engine state inside, extended layer by layer, merged and thinned.

A label is one engine state at a slot's edge with what led to it. In each layer (a slot, or a few that are
decided as one) it is copied and run on, off or on, by the engine itself, so its cost is what a replay gives.
Labels that agree in everything the rules ask (on or off, slots since the last switch, spells begun today) and
lie in the same bucket of every slow store are rivals: the one with the lower value stays. Value is cost so
far, plus the fuel to restore every store, plus what a fridge will still ask for (`ahead`), plus prices on fuel
burned where it will not last. Of a layer at most `width` labels stay, the best by value, on and off apart, and none
that is dearer than the best of its side by more than a margin.

Pool rows hold labels; a layer is a list of rows. The caller gives all arrays; the engine takes addresses.
"""

from __future__ import annotations

from typing import NamedTuple

from hearthold.engine.bare import bare
from hearthold.engine.jit import entry, kernel
from hearthold.engine.kernels.layout import (
    A_SPELLS,
    FAR,
    O_FUEL_M3,
    O_STARTS,
    Q_CONTROL,
    RUNNING,
    S_MODE,
    S_REFILL,
    S_SPELL,
    Array,
    Ints,
    Tape,
)  # fmt: skip # isort: skip
from hearthold.engine.kernels.loop import advance, close, wake
from hearthold.engine.kernels.start import begin, copy_state
from hearthold.plan.kernels.ahead import Ahead, ahead_j
from hearthold.plan.kernels.price import PART_RESTORE, SOURCES, price_parts
from hearthold.plan.objective import SLOT_S, START_J

LEAST_ON, MOST_ON, LEAST_OFF, STARTS_A_DAY = 0, 1, 2, 3  # of `limits`
ON, AGE, STARTED, NUMBER, HOME, PLACE = 0, 1, 2, 3, 4, 5  # of `tags`
TAG_COUNT = 6
COST, VALUE, EXTRA, SPELL_AT, TOTAL = 0, 1, 2, 3, 4  # of `marks`
MARK_COUNT = 5
FOUND_ROW, REACHED, EXTENDED, MERGED, CUT, PEAK = 0, 1, 2, 3, 4, 5  # of `found`
FOUND_SIZE = 6
AGE_CAP = 250
PAUSE_CAP = 12  # pauses longer than this, in slots, are alike
STARTED_CAP = 7


class Labels(NamedTuple):
    """Arrays of a search. Shapes: p pool rows, n layers, h places of the hash table (a power of two)."""

    states: Array  # (p, state)
    marks: Array  # (p, 5) cost, value, price of switching so far, start of the spell, cost with restoring
    tags: Ints  # (p, 6) on, age, spells begun today, number in its layer, places in hash table and next layer
    keys: Ints  # (p,)
    now: Ints  # (p,) rows of the layer
    then: Ints  # (p,) rows of the next layer
    free: Ints  # (p,) rows that hold nothing
    table: Ints  # (h,) row, or -1
    parent: Ints  # (n, width) number of the parent in the layer before
    was_on: Ints  # (n, width) whether the layer is on
    closed: Array  # (state,) scratch
    parts: Array  # (PART_COUNT,) scratch


class Case(NamedTuple):
    """What does not change in a search. `w` is the caller's own copy: its one spell is written."""

    w: Array
    at: Ints
    tape: Tape
    prices: Array
    offset_j: Array
    edges: Ints  # (layers + 1,) first slot of each layer, and the end
    forced: Ints  # (layers,) 0 or 1 where the decision is given, -1 where it is free
    may_run: Ints  # (slots,)
    may_switch: Ints  # (slots,)
    switch_j: Array  # (slots,)
    day: Ints  # (slots,)
    limits: Ints  # (4,)
    key_at: Ints  # places in the state that tell labels apart
    key_step: Array  # width of their buckets
    start_s: float
    lead_s: float
    most_j: float  # cost of a plan in hand: nothing dearer is followed
    shadow_j_per_m3: float
    margin_j: float
    ration_m3: Array  # (slots + 1,) fuel that may be burned by then; what is beyond has a price of its own
    ration_j_per_m3: float
    ahead: Ahead


@kernel
def _order(case: Case, s: Array, want: int, was: int, at_s: float, spell_at_s: float) -> None:
    """Tell the machine what is wanted from at_s on: the one open spell of the rule."""
    first = case.at[A_SPELLS]
    s[S_SPELL] = 0.0
    case.w[first] = spell_at_s
    case.w[first + 1] = FAR if want == 1 else at_s
    if want != was:
        s[Q_CONTROL] = at_s


@kernel
def _allowed(case: Case, tags: Ints, layer: int, want: int, started: int) -> bool:
    """Whether the rules let a label go on or off in a layer (see `objective.Patterns`)."""
    on, age = tags[ON], tags[AGE]
    first, end = case.edges[layer], case.edges[layer + 1]
    if case.forced[layer] == 1 - want:
        return False
    if want == 1:
        for t in range(first, end):
            if case.may_run[t] == 0:
                return False
    if want == on:
        return bool(want == 0 or age + end - first <= case.limits[MOST_ON])
    if case.may_switch[first] == 0:
        return False
    if want == 1:
        return bool(age >= case.limits[LEAST_OFF] and started < case.limits[STARTS_A_DAY])
    return bool(age >= case.limits[LEAST_ON])


@kernel
def _extend(case: Case, labels: Labels, layer: int, row: int, want: int, new: int) -> bool:
    """Run a copy of the label through a layer. False where the machine would have to run and cannot."""
    old, made = labels.states[row], labels.states[new]
    copy_state(old, made)
    first, end = case.edges[layer], case.edges[layer + 1]
    at_s = case.lead_s + SLOT_S * first
    was = labels.tags[row, ON]
    labels.marks[new, EXTRA] = labels.marks[row, EXTRA]
    labels.marks[new, SPELL_AT] = labels.marks[row, SPELL_AT]
    labels.tags[new, ON] = want
    labels.tags[new, AGE] = labels.tags[row, AGE] + end - first
    if want != was:
        labels.marks[new, EXTRA] += case.switch_j[first]
        labels.tags[new, AGE] = end - first
        if want == 1:
            labels.marks[new, SPELL_AT] = at_s
    _order(case, made, want, was, at_s, labels.marks[new, SPELL_AT])
    advance(bare(case.w), bare(case.at), bare(made), case.tape, case.lead_s + SLOT_S * end)
    return want == 0 or made[S_MODE] == RUNNING or made[S_REFILL] != 0.0


@kernel
def _score(case: Case, labels: Labels, row: int, end: int) -> None:
    """Cost and value of the label, from a closed copy, so that its own state goes on untouched."""
    closed, state = labels.closed, labels.states[row]
    copy_state(state, closed)
    w, at, s = bare(case.w), bare(case.at), bare(closed)
    close(w, at, s)
    total = price_parts(w, at, s, case.prices, case.offset_j, labels.parts)
    total += labels.marks[row, EXTRA]
    labels.marks[row, TOTAL] = total
    value = total + case.shadow_j_per_m3 * closed[O_FUEL_M3]
    value += case.ration_j_per_m3 * max(0.0, closed[O_FUEL_M3] - case.ration_m3[end])
    tags = labels.tags[row]
    new_day = end < case.day.shape[0] and case.day[end] != case.day[end - 1]
    value += ahead_j(case.ahead, tags[ON], tags[AGE], 0 if new_day else tags[STARTED], end, closed)
    labels.marks[row, VALUE] = value
    labels.marks[row, COST] = total - labels.parts[PART_RESTORE]


@kernel
def _key(case: Case, labels: Labels, row: int) -> int:
    """One number for all that tells rivals from others; read from the closed copy."""
    cap = AGE_CAP if labels.tags[row, ON] == 1 else max(PAUSE_CAP, case.limits[LEAST_OFF])
    key: int = labels.tags[row, ON] * (AGE_CAP + 1) + min(labels.tags[row, AGE], cap)
    key = key * (STARTED_CAP + 1) + min(labels.tags[row, STARTED], STARTED_CAP)
    for i in range(case.key_at.shape[0]):
        key = key * 8191 + int(labels.closed[case.key_at[i]] / case.key_step[i] + 4096.0)
    return key


@kernel
def _place(labels: Labels, key: int) -> int:
    """Place of the key in the hash table: where it is, or the free place where it belongs."""
    mask = labels.table.shape[0] - 1
    place: int = (key ^ (key >> 17) ^ (key >> 31)) * 40503 & mask
    while labels.table[place] >= 0 and labels.keys[labels.table[place]] != key:
        place = (place + 1) & mask
    return place


@kernel
def _enter(labels: Labels, new: int, parent: int, key: int, count: int) -> int:
    """Put a new label among its rivals; the better stays. Returns the row that is free now, -1 if none is."""
    place = _place(labels, key)
    rival: int = labels.table[place]
    labels.keys[new], labels.tags[new, HOME], labels.tags[new, NUMBER] = key, place, parent
    if rival < 0:
        labels.table[place] = new
        labels.then[count] = new
        labels.tags[new, PLACE] = count
        return -1
    if labels.marks[new, VALUE] >= labels.marks[rival, VALUE]:
        return new
    labels.table[place] = new
    labels.tags[new, PLACE] = labels.tags[rival, PLACE]
    labels.then[labels.tags[new, PLACE]] = new
    return rival


@kernel
def _by_value(labels: Labels, count: int) -> None:
    """Put the next layer in order of value, the best first (Shell's sort: in place, and the same every time)."""
    then, gap = labels.then, 1
    while gap < count // 3:
        gap = 3 * gap + 1
    while gap > 0:
        for i in range(gap, count):
            row, j = then[i], i
            value = labels.marks[row, VALUE]
            while j >= gap and labels.marks[then[j - gap], VALUE] > value:
                then[j] = then[j - gap]
                j -= gap
            then[j] = row
        gap //= 3


@kernel
def _shares(labels: Labels, count: int, width: int) -> tuple[int, int]:
    """How many labels that are off and on may stay: half the width each, and what the other does not need.

    What has just paid for a start or a night would lose against what has yet to pay; so each side has its own.
    """
    on = 0
    for i in range(count):
        on += labels.tags[labels.then[i], ON]
    off = count - on
    if off + on <= width:
        return off, on
    half = width // 2
    if on <= half:
        return width - on, on
    if off <= half:
        return off, width - off
    return width - half, half


@kernel
def _thin(labels: Labels, layer: int, count: int, width: int, spare: int, margin_j: float) -> tuple[int, int]:
    """Keep the best labels, number them, note parent and decision, free the others' rows."""
    most_off, most_on = _shares(labels, count, width)
    _by_value(labels, count)
    limit_off, limit_on = FAR * FAR, FAR * FAR  # by the best of each side, which comes first
    off, on = 0, 0
    for i in range(count):
        row = labels.then[i]
        labels.table[labels.tags[row, HOME]] = -1
        value, is_on = labels.marks[row, VALUE], labels.tags[row, ON]
        if is_on == 1:
            limit_on = min(limit_on, value + margin_j)
            stays = on < most_on and value <= limit_on
        else:
            limit_off = min(limit_off, value + margin_j)
            stays = off < most_off and value <= limit_off
        if not stays:
            labels.free[spare] = row
            spare += 1
            continue
        kept = off + on
        labels.parent[layer, kept], labels.was_on[layer, kept] = labels.tags[row, NUMBER], is_on
        labels.tags[row, NUMBER] = kept
        labels.now[kept] = row
        on, off = on + is_on, off + 1 - is_on
    return off + on, spare


@kernel
def _follow(case: Case, labels: Labels, layer: int, count: int, spare: int, found: Array) -> tuple[int, int]:
    """Extend every label of the layer into the next. Returns how many there are, and how many rows are
    free.
    """
    made = 0
    first = case.edges[layer]
    new_day = first > 0 and case.day[first] != case.day[case.edges[layer - 1]]
    for i in range(count):
        row = labels.now[i]
        started = 0 if new_day else labels.tags[row, STARTED]
        for want in range(2):
            if not _allowed(case, labels.tags[row], layer, want, started):
                continue
            new = labels.free[spare - 1]
            found[EXTENDED] += 1.0
            if not _extend(case, labels, layer, row, want, new):
                continue
            labels.tags[new, STARTED] = started + (1 if want == 1 and labels.tags[row, ON] == 0 else 0)
            _score(case, labels, new, case.edges[layer + 1])
            if labels.marks[new, COST] > case.most_j:
                found[CUT] += 1.0
                continue
            freed = _enter(labels, new, i, _key(case, labels, new), made)
            if freed >= 0:
                labels.free[spare - 1] = freed
                found[MERGED] += 1.0
            else:
                made += 1
                spare -= 1
    return made, spare


@kernel
def _first(case: Case, labels: Labels, row: int, was_on: int, age: int, started: int) -> None:
    """The one label of the first layer: the house as the grid left it, run to the first slot's edge."""
    w, at, s, first = bare(case.w), bare(case.at), bare(labels.states[row]), case.at[A_SPELLS]
    case.w[first] = 0.0 if was_on == 1 else -FAR
    case.w[first + 1] = FAR if was_on == 1 else -FAR
    begin(w, at, s, case.start_s)
    wake(w, at, s)
    advance(w, at, s, case.tape, case.lead_s)
    labels.tags[row, ON], labels.tags[row, AGE], labels.tags[row, STARTED] = was_on, age, started
    labels.marks[row, EXTRA] = -case.prices[START_J] * s[O_STARTS] if was_on == 1 else 0.0  # it ran already
    labels.marks[row, SPELL_AT] = case.w[first]
    labels.now[0] = row


@entry(extra=SOURCES)
def label_pass(
    case: Case, labels: Labels, was_on: int, age: int, started: int, width: int, found: Array
) -> None:
    """The whole search. `found` receives the row of the best label of the last layer reached, and counts.

    Labels whose cost alone exceeds that of the plan in hand are dropped: cost only grows. Where none is left
    the search ends early, and the best of the last layer that had any is given.
    """
    count, spare = 1, labels.free.shape[0] - 1
    _first(case, labels, labels.free[spare], was_on, age, started)
    for layer in range(case.forced.shape[0]):
        made, spare = _follow(case, labels, layer, count, spare, found)
        if made == 0:
            break
        for i in range(count):
            labels.free[spare] = labels.now[i]
            spare += 1
        found[PEAK] = max(found[PEAK], float(made))
        found[CUT] += max(0.0, float(made - width))
        count, spare = _thin(labels, layer, made, width, spare, case.margin_j)
        found[REACHED] = float(layer + 1)
    best = labels.now[0]
    for i in range(count):
        if labels.marks[labels.now[i], TOTAL] < labels.marks[best, TOTAL]:
            best = labels.now[i]
    found[FOUND_ROW] = float(best)
