"""House, control and weather packed into the flat arrays that the kernels read."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array, Ints, Rule, Weather, World


class Packed(NamedTuple):
    """Constants of a run and where its tables begin (see `kernels.layout`)."""

    w: Array
    at: Ints

    @property
    def state_size(self) -> int:
        """Length of the state of one outage."""
        return int(self.at[c.B_END])


def pack(world: World, rule: Rule, weather: Weather) -> Packed:
    """One array of constants and one of positions. Costs a copy of the weather, once a batch."""
    wide = words(world)
    circuits = np.arange(len(world.circuit_fed))[:, None]
    tables = {
        c.A_LOADS: world.loads, c.A_COLD: world.cold, c.A_KNOTS: world.knots, c.A_MODES: world.modes,
        c.A_LEVELS: world.levels, c.A_TASKS: world.tasks, c.A_MEDICAL: world.medical, c.A_SLOT_AT: world.slot_at,
        c.A_SLOTS: world.slots, c.A_SLOT_WANT: sets_of(world.slot_want, wide), c.A_SLOT_MEDICAL: world.slot_medical,
        c.A_SLOT_TASK: sets_of(world.slot_task, wide), c.A_FED: world.circuit_fed, c.A_SPELLS: rule.spells,
        c.A_STEPS: rule.steps, c.A_RULE_COLD: rule.cold, c.A_RULE_LEVELS: rule.levels,
        c.A_BATTERY_FEEDS: rule.battery_circuits,
        c.A_CLOCK: sets_of(world.loads[None, :, c.L_KIND] == c.BY_CLOCK, wide),
        c.A_ON_CIRCUIT: sets_of(world.loads[:, c.L_CIRCUIT] == circuits, wide),
        c.A_WORK_ON: sets_of((world.tasks[:, c.J_CIRCUIT] == circuits) & (world.tasks[:, c.J_LOAD] < 0.0), wide),
        c.A_OUTDOOR: weather.outdoor_c, c.A_SOLAR: weather.solar_w,
    }  # fmt: skip
    at = np.zeros(c.AT_COUNT, dtype=np.int64)
    parts = [world.par, world.limits.ravel(), rule.ctl]
    begin = sum(part.size for part in parts)
    for column, table in tables.items():
        at[column] = begin
        begin += table.size
        parts.append(table.ravel())
    _count(at, world, rule, weather)
    _place_state(at)
    return Packed(np.ascontiguousarray(np.concatenate(parts)), at)


def sets_of(members: NDArray[Any], wide: int) -> Array:
    """(sets, words) sets of loads from their members, one column a load; `wide` is their number of words."""
    rows, loads = members.shape
    padded = np.zeros((rows, wide, c.WORD_BITS))
    padded.reshape(rows, wide * c.WORD_BITS)[:, :loads] = members
    return np.asarray(padded @ 2.0 ** np.arange(c.WORD_BITS))


def words(world: World) -> int:
    """Words that a set of loads, tasks or cold stores takes; all are as wide."""
    return -(-max(len(world.loads), len(world.tasks), len(world.cold)) // c.WORD_BITS)


def _count(at: Ints, world: World, rule: Rule, weather: Weather) -> None:
    at[c.N_LOADS], at[c.N_COLD], at[c.N_LEVELS] = len(world.loads), len(world.cold), len(world.levels)
    at[c.N_TASKS], at[c.N_MEDICAL], at[c.N_SLOTS] = len(world.tasks), len(world.medical), len(world.slots)
    at[c.N_CIRCUITS], at[c.N_SPELLS], at[c.N_STEPS] = (
        len(world.circuit_fed),
        len(rule.spells),
        len(rule.steps),
    )
    at[c.N_WORDS] = words(world)
    at[c.N_SEGMENTS], at[c.N_HOURS] = world.modes.shape[1], len(weather.outdoor_c)


def _place_state(at: Ints) -> None:
    """Where the tables of a state begin, after its scalars, accumulators and queue."""
    begin = c.Q_FIRST + at[c.N_COLD] + at[c.N_LEVELS]
    begin += -(begin - c.Q_END) % c.QUEUE_STEP
    widths = (
        (c.B_SETS, at[c.N_WORDS] * c.SETS),
        (c.B_CIRCUITS, at[c.N_CIRCUITS] * c.E_COUNT),
        (c.B_COLD, at[c.N_COLD] * c.D_COUNT),
        (c.B_LEVELS, at[c.N_LEVELS] * c.W_COUNT),
        (c.B_TASKS, at[c.N_TASKS] * c.U_COUNT),
        (c.B_MEDICAL, at[c.N_MEDICAL] * c.NEED_COUNT),
    )
    for column, width in widths:
        at[column] = begin
        begin += width
    at[c.B_END] = begin
