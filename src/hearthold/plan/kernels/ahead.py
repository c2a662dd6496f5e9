"""What a fridge alone will still ask for: the least that starts, nights, idling and warm food cost from here on.

A label that has just run and one that soon must look alike by what they have cost; what tells them apart is when the
next spell falls due, and whether somebody must get up for it. One store by itself is small enough to work that out
backwards, slot by slot, over its temperature, the spells begun today and how long the machine has run, once in a warm
and once in a cool room: in a house that has cooled it may last the night. The answer is a guess that orders labels, and
no bound: rooms stay as warm as they are, and of several fridges the dearest speaks.
"""

from __future__ import annotations

from typing import NamedTuple

from hearthold.engine.bare import bare
from hearthold.engine.jit import entry, kernel
from hearthold.engine.kernels.layout import FAR, S_MASS, Array, Ints
from hearthold.plan.kernels.price import SOURCES

LOW_C, LIMIT_C, FINE_K, COARSE_K, SET_C, FADE_FRAC, COOL_K, BREACH_J, OVER_J_PER_K = 0, 1, 2, 3, 4, 5, 6, 7, 8
ROW_COUNT = 9  # of a store: see `plan.ahead`
CELLS_BELOW, CELLS = 20, 32  # temperatures up to the limit, and in all
WARM, COOL = 0, 1  # rooms of a table


class Ahead(NamedTuple):
    """Tables of the stores that are looked ahead for; none where there is nothing to say."""

    table: Array  # (stores, rooms, slots + 1, spells a day + 1, 1 + shortest spell in slots, CELLS) J
    rows: Array  # (stores, ROW_COUNT)
    places: Ints  # (stores,) of their temperatures in a state
    warm_c: float  # walls and floors to which the two rooms belong
    cool_c: float
    share: float  # of the table that counts


class Days(NamedTuple):
    """What a slot allows and costs, whatever the store."""

    may_run: Ints
    may_switch: Ints
    switch_j: Array
    run_j: Array  # idling, and the night
    day: Ints
    start_j: float


@kernel
def cell(row: Array, temp_c: float) -> float:
    """Place of a temperature among the cells, fine up to the limit and coarse beyond."""
    if temp_c <= row[LIMIT_C]:
        return float(max(0.0, (temp_c - row[LOW_C]) / row[FINE_K]))
    return float(min(CELLS - 1.0, CELLS_BELOW + (temp_c - row[LIMIT_C]) / row[COARSE_K]))


@kernel
def between(values: Array, place: float) -> float:
    """Value at a place between two cells."""
    i = min(int(place), CELLS - 2)
    part = place - i
    return float((1.0 - part) * values[i] + part * values[i + 1])


@kernel
def _warm_j(row: Array, before_c: float, after_c: float) -> float:
    """What a slot above the limit costs, and the first moment of it."""
    over_k = max(0.0, 0.5 * (before_c + after_c) - row[LIMIT_C])
    crossed = before_c <= row[LIMIT_C] and after_c > row[LIMIT_C]
    return float(row[OVER_J_PER_K] * over_k + (row[BREACH_J] if crossed else 0.0))


@kernel
def _fill(row: Array, room_c: float, days: Days, t: int, x: int, table: Array) -> None:
    """Entries of slot t and one temperature, from those of the slot after it."""
    most, least_on = table.shape[1] - 1, table.shape[2] - 1
    temp_c = row[LOW_C] + row[FINE_K] * x
    if x > CELLS_BELOW:
        temp_c = row[LIMIT_C] + row[COARSE_K] * (x - CELLS_BELOW)
    warm_c = room_c + (temp_c - room_c) * row[FADE_FRAC]
    cold_c = max(warm_c - row[COOL_K], min(warm_c, row[SET_C]))  # no colder than its thermostat wants
    off_j, on_j = _warm_j(row, temp_c, warm_c), _warm_j(row, temp_c, cold_c) + days.run_j[t]
    at_off, at_on = cell(row, warm_c), cell(row, cold_c)
    new_day = t + 1 < days.day.shape[0] and days.day[t + 1] != days.day[t]
    for begun in range(most + 1):
        then = 0 if new_day else begun
        stay = off_j + between(bare(table[t + 1, then, 0]), at_off)
        best = stay
        if days.may_run[t] != 0 and days.may_switch[t] != 0 and begun < most:
            go = on_j + between(bare(table[t + 1, 0 if new_day else begun + 1, 1]), at_on)
            best = min(best, go + days.start_j + days.switch_j[t])
        table[t, begun, 0, x] = best
        for age in range(1, least_on + 1):
            best = FAR
            if days.may_run[t] != 0:
                best = on_j + between(bare(table[t + 1, then, min(age + 1, least_on)]), at_on)
            if age == least_on and days.may_switch[t] != 0:
                best = min(best, stay + days.switch_j[t])
            table[t, begun, age, x] = best


@entry(extra=SOURCES)
def look_ahead(row: Array, room_c: Array, days: Days, table: Array) -> None:
    """Fill the table of one store backwards from the end, where nothing is asked any more."""
    slots = days.day.shape[0]
    table[slots] = 0.0
    for t in range(slots - 1, -1, -1):
        for x in range(CELLS):
            _fill(row, room_c[t], days, t, x, table)


@kernel
def ahead_j(ahead: Ahead, on: int, age: int, begun: int, slot: int, state: Array) -> float:
    """What the stores still ask for at a slot's edge, as warm as the house is now: the dearest of them, as much of it
    as counts.
    """
    most_j = 0.0
    begun = min(begun, ahead.table.shape[3] - 1)
    mode = min(age, ahead.table.shape[4] - 1) if on == 1 else 0
    cooled = (ahead.warm_c - state[S_MASS]) / max(ahead.warm_c - ahead.cool_c, 0.1)
    cooled = min(1.0, max(0.0, cooled))
    for k in range(ahead.table.shape[0]):
        place = cell(bare(ahead.rows[k]), state[ahead.places[k]])
        warm_j = between(bare(ahead.table[k, WARM, slot, begun, mode]), place)
        cool_j = between(bare(ahead.table[k, COOL, slot, begun, mode]), place)
        most_j = max(most_j, (1.0 - cooled) * warm_j + cooled * cool_j)
    return float(ahead.share * most_j)
