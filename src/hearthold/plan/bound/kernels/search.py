"""The search over all allowed patterns at once: boxes with the same key are joined, nothing else is ever dropped
but what costs more than the plan in hand. Forward a pass with joins, backward the least cost to go of every box.
What costs more than a goal by the level before is not refined, and leads back to that level's box.
"""

# mypy: disable-error-code="no-any-return"

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import numpy as np

from hearthold.engine.jit import entry, kernel
from hearthold.plan.bound.kernels.cold import _heat_at
from hearthold.plan.bound.kernels.house import Q_COUNT
from hearthold.plan.bound.kernels.layout import (
    BIG,
    BY_BEGUN,
    BY_COST,
    BY_HOUSE,
    BY_LEAST,
    BY_MOST,
    BY_SHELL,
    G_DAY,
    G_RUN,
    G_SWITCH,
    H_C1,
    H_C2,
    Z_AH,
    Z_FIRST,
    Z_MH,
    ZC_COUNT,
    Array,
    Frame,
    Ints,
)  # fmt: skip
from hearthold.plan.bound.kernels.slot import end_j, flags, held_j, step

SOURCES = tuple(sorted(Path(__file__).parent.glob("*.py")))
MIX = -7046029254386353131
AGE_CAP = 104  # pauses longer than this are alike; the window of the room turns every 8 slots
R_LEAST_ON, R_MOST_ON, R_LEAST_OFF, R_STARTS = 0, 1, 2, 3
I_ON, I_AGE, I_BEGUN, I_OLD = 0, 1, 2, 3
NOW, COUNT, NEXT, BASE, TOTAL, WIDEST, FULL = 0, 1, 2, 3, 4, 5, 6
PLACE_COUNT = 7


class Room(NamedTuple):
    """Storage of a sweep: n boxes in all, m in a layer, b fields."""

    table: Ints  # (a power of two,) hash table of a layer
    boxes: Array  # (2, m, b)
    cost: Array  # (2, m)
    info: Ints  # (2, m, 4) on, age, spells begun today, box of the level before
    keys: Ints  # (m,)
    places: Ints  # (m,)
    scratch: Array  # (2, enough) a box and what passes between stores
    place: Ints  # (PLACE_COUNT,) where the sweep stands
    child: Ints  # (n, 2) where off and on lead, -1 nowhere
    step_cost: Array  # (n, 2)
    to_go: Array  # (n,) least cost from the box on
    above: Ints  # (n,) the box of the level before that holds this one, -1 at the first level


def new_room(boxes: int, layer: int, width: int) -> Room:
    """Room for a sweep; the pages are touched only as they are used."""
    size = 1 << int(np.ceil(np.log2(4 * layer)))
    return Room(
        np.empty(size, np.int64),
        np.empty((2, layer, width)),
        np.empty((2, layer)),
        np.empty((2, layer, 4), np.int64),
        np.empty(layer, np.int64),
        np.empty(layer, np.int64),
        np.empty((2, max(width, Q_COUNT))),
        np.zeros(PLACE_COUNT, np.int64),
        np.empty((boxes, 2), np.int64),
        np.empty((boxes, 2)),
        np.empty(boxes),
        np.empty(boxes, np.int64),
    )


@kernel
def _bucket(f: Frame, z: Array, cost: float, begun: int, kinds: Ints, scale: Array, key: int) -> int:
    """Mix the buckets of a box, of what it has cost and of the spells begun today into its key."""
    for i in range(kinds.shape[0]):
        at, kind = kinds[i, 0], kinds[i, 1]
        if kind == BY_LEAST:
            x = min(z[at], z[at + 2])
        elif kind == BY_MOST:
            x = max(z[at + 1], z[at + 3])
        elif kind == BY_COST:
            x = cost
        elif kind == BY_BEGUN:
            x = float(begun)
        elif kind == BY_SHELL:
            k = (at - Z_FIRST) // ZC_COUNT
            x = _heat_at(f.knots[k], f.caps[k, 0], z[at])
        elif kind == BY_HOUSE:
            x = f.par[H_C1] * z[Z_AH] + f.par[H_C2] * z[Z_MH]
        else:
            x = z[at]
        key = (key ^ int(np.floor(x * scale[i]))) * MIX
        key ^= key >> 29
    return key


@kernel
def next_age(on: int, action: int, age: int) -> int:
    """Slots since the last switch after one more slot."""
    if action != on:
        return 1
    return age + 1 if age < AGE_CAP else AGE_CAP - 7


@kernel
def _allowed(f: Frame, t: int, rules: Ints, on: int, action: int, age: int, begun: int) -> bool:
    """Whether the rules of running let a state (on, age, begun) take an action in slot t."""
    row = f.slots[t]
    if action == 1 and row[G_RUN] == 0.0:
        return False
    if action == on:
        return on == 0 or age + 1 <= rules[R_MOST_ON]
    if row[G_SWITCH] == 0.0 or age < (rules[R_LEAST_OFF] if action == 1 else rules[R_LEAST_ON]):
        return False
    return action == 0 or begun + 1 <= rules[R_STARTS]


@kernel
def _join(side: Array, x: Array, y: Array) -> None:
    """Widen box x to hold box y too."""
    for i in range(side.shape[0]):
        x[i] = max(x[i], y[i]) if side[i] > 0.0 else min(x[i], y[i])


@kernel
def _seed(room: Room, z0: Array, c0: float, old: int) -> None:
    """The first layer: one box."""
    p = room.place
    for i in range(room.table.shape[0]):
        room.table[i] = -1
    for i in range(z0.shape[0]):
        room.boxes[0, 0, i] = z0[i]
    room.cost[0, 0] = c0
    room.info[0, 0, I_ON], room.info[0, 0, I_AGE] = 0, AGE_CAP - 6
    room.info[0, 0, I_BEGUN], room.info[0, 0, I_OLD] = 0, old
    at = p[TOTAL]
    room.child[at, 0] = room.child[at, 1] = -1
    room.above[at] = old
    p[NOW], p[COUNT], p[NEXT], p[BASE], p[TOTAL], p[WIDEST], p[FULL] = 0, 1, 0, at, at + 1, 1, 0


@kernel
def _find(room: Room, key: int, on: int, age: int, old: int) -> int:
    """Place of the hash table that holds this key in the next layer, or where it would stand."""
    then, mask = 1 - room.place[NOW], room.table.shape[0] - 1
    at = (key ^ (key >> 32)) & mask
    while room.table[at] >= 0:
        j = room.table[at]
        row = room.info[then, j]
        if room.keys[j] == key and row[I_ON] == on and row[I_AGE] == age and row[I_OLD] == old:
            break
        at = (at + 1) & mask
    return at


@kernel
def _keep(f: Frame, room: Room, key: int, c: float, on: int, age: int, begun: int, old: int) -> int:
    """Put the scratch box into the next layer, joined with its like; its place there, -1 where there is no room.
    Of joined ones the fewest spells begun today count: that allows whatever any of them may still do."""
    y, then, p = room.scratch[0], 1 - room.place[NOW], room.place
    at = _find(room, key, on, age, old)
    j = room.table[at]
    if j >= 0:
        _join(f.side, room.boxes[then, j], y)
        room.info[then, j, I_BEGUN] = min(room.info[then, j, I_BEGUN], begun)
        room.cost[then, j] = min(room.cost[then, j], c)
        return j
    j = p[NEXT]
    if j >= room.keys.shape[0] or p[TOTAL] + j + 1 >= room.to_go.shape[0]:
        p[FULL] = 1
        return -1
    p[NEXT] += 1
    room.table[at], room.keys[j], room.places[j] = j, key, at
    for i in range(f.side.shape[0]):
        room.boxes[then, j, i] = y[i]
    room.cost[then, j] = c
    row = room.info[then, j]
    row[I_ON], row[I_AGE], row[I_BEGUN], row[I_OLD] = on, age, begun, old
    room.child[p[TOTAL] + j, 0] = room.child[p[TOTAL] + j, 1] = -1
    room.above[p[TOTAL] + j] = old
    return j


@kernel
def _extend(
    f: Frame, t: int, i: int, action: int, begun: int, goal: float, kinds: Ints, scale: Array, room: Room
) -> None:
    """Box i of the present layer through slot t. What costs more than `goal` by the level before is not refined:
    it leads back to the box of that level, whose cost to go holds for it too."""
    now, p = room.place[NOW], room.place
    on, age, above = room.info[now, i, I_ON], room.info[now, i, I_AGE], room.info[now, i, I_OLD]
    at, so_far, old, known, rest = p[BASE] + i, room.cost[now, i], -1, -BIG, -BIG
    if above >= 0:
        old, known = room.child[above, action], room.step_cost[above, action]
        if old < 0:
            return
        rest = room.to_go[old]
        if so_far + known + rest > goal:
            room.child[at, action], room.step_cost[at, action] = old, known
            return
    y = room.scratch[0]
    dear = step(f, t, action == 1, age if action == on else 0, age, room.boxes[now, i], y, room.scratch[1])
    if dear >= BIG:  # no pattern has the fuel for it
        return
    dear = max(dear, known)
    c = so_far + dear
    if old < 0 and c + held_j(f, y) > goal:
        return
    if old >= 0 and c + rest > goal:
        room.child[at, action], room.step_cost[at, action] = old, dear
        return
    age2, begun2 = next_age(on, action, age), begun + (1 if action == 1 and on == 0 else 0)
    key = (((old * 2 + action) * 128 + age2) * 65536 + flags(f, y)) * MIX
    key = _bucket(f, y, c, begun2, kinds, scale, key ^ (key >> 31))
    j = _keep(f, room, key, c, action, age2, begun2, old)
    if j >= 0:
        room.child[at, action] = p[TOTAL] + j
        room.step_cost[at, action] = dear


@kernel
def _turn(room: Room) -> None:
    """The next layer becomes the present one."""
    p = room.place
    for j in range(p[NEXT]):
        room.table[room.places[j]] = -1
    p[NOW], p[BASE], p[COUNT] = 1 - p[NOW], p[TOTAL], p[NEXT]
    p[TOTAL] += p[NEXT]
    p[WIDEST] = max(p[WIDEST], p[NEXT])
    p[NEXT] = 0


@kernel
def _backward(f: Frame, room: Room, begin: int) -> None:
    """Least cost to go of every new box: at the end what is held and owed, before it the best of its children; and
    never less than the level before knew."""
    p, to_go = room.place, room.to_go
    for i in range(p[COUNT]):
        x = room.boxes[p[NOW], i]
        to_go[p[BASE] + i] = held_j(f, x) + end_j(f, x)
    for i in range(p[BASE] - 1, begin - 1, -1):
        best = BIG
        for action in range(2):
            if room.child[i, action] >= 0:
                best = min(best, room.step_cost[i, action] + to_go[room.child[i, action]])
        if room.above[i] >= 0:
            best = max(best, to_go[room.above[i]])
        to_go[i] = best


@kernel
def _layer(f: Frame, t: int, rules: Ints, goal: float, kinds: Ints, scale: Array, room: Room) -> None:
    """Every box of the present layer through slot t, off and on as the rules allow."""
    fresh = t > 0 and f.slots[t, G_DAY] != f.slots[t - 1, G_DAY]
    now = room.place[NOW]
    for i in range(room.place[COUNT]):
        row = room.info[now, i]
        begun = 0 if fresh else row[I_BEGUN]
        for action in range(2):
            if room.place[FULL] == 0 and _allowed(f, t, rules, row[I_ON], action, row[I_AGE], begun):
                _extend(f, t, i, action, begun, goal, kinds, scale, room)


@entry(extra=SOURCES)
def sweep(
    f: Frame, rules: Ints, z0: Array, c0: float, goal: float, kinds: Ints, scale: Array, old: int, room: Room,
    stop: Array,
) -> tuple[float, bool]:  # fmt: skip
    """One level of refinement, laid into `room` behind those that are there. `old`: the first box of the level
    before, -1 where there is none.

    Returns the least cost over all patterns, where at the first level those dearer than `goal` are left out; and
    whether room or time ran out: then nothing is proven, and the level is taken out of the room again.
    `stop[0]`: a caller's sign to give up.
    """
    p = room.place
    begin = p[TOTAL]
    if begin >= room.to_go.shape[0]:
        return -BIG, True
    _seed(room, z0, c0, old)
    for t in range(f.slots.shape[0]):
        _layer(f, t, rules, goal, kinds, scale, room)
        if p[FULL] != 0 or stop[0] != 0.0:
            p[TOTAL] = begin
            return -BIG, True
        _turn(room)
    _backward(f, room, begin)
    return c0 + room.to_go[begin], False
