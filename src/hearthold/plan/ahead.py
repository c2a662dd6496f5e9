"""Tables of what each fridge will still ask for, built once for a problem; see `kernels.ahead`."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import exp
from typing import TYPE_CHECKING, Any

import numpy as np

from hearthold.engine.kernels import layout as c
from hearthold.engine.rows import inside
from hearthold.plan.objective import DAY_S, SLOT_S
from hearthold.plan.threads import side_by_side

if TYPE_CHECKING:
    from hearthold.engine.kernels.layout import Array, Ints
    from hearthold.plan.problem import Problem

# Of the guess, what counts: tried on the cases of bench/plan; a whole one misleads more often.
SHARE_FRAC = 0.5
COARSE_K = 0.75  # between temperatures above the limit


@dataclass(frozen=True, slots=True, eq=False)
class Outlook:
    """What is foreseen of some fridges, and whether one of them must get too warm."""

    table: Array
    rows: Array
    stores: tuple[int, ...]
    food_must_break: bool
    warm_c: float = 0.0  # walls and floors to which the two rooms of the table belong
    cool_c: float = 0.0

    def held_warm(self) -> Outlook:
        """The same where rooms are taken to be as warm as the heating holds them, however cold the house is."""
        return replace(self, cool_c=-c.FAR)

    def seen(self, at: Ints) -> Any:
        """As the label kernel reads it. `at`: places in a state (see `layout`)."""
        from hearthold.plan.kernels.ahead import Ahead

        places = [int(at[c.B_COLD]) + k * c.D_COUNT + c.D_SHELL for k in self.stores]
        return Ahead(
            self.table, self.rows, np.array(places, dtype=np.int64), self.warm_c, self.cool_c, SHARE_FRAC
        )


NOTHING_AHEAD = Outlook(np.zeros((0, 2, 1, 1, 1, 1)), np.zeros((0, 1)), (), False)


def outlook(problem: Problem) -> Outlook:
    """Tables of the fridges that only the machine feeds.

    Where even the cheapest way breaks a fridge's limit, the fixed sum of that breach is left out: it falls due
    anyway, and what counts is for how long and how far.
    """
    house = problem.house
    stores = tuple(k for k, s in enumerate(house.cold) if not s.is_freezer and house.battery is None)
    if not stores:
        return NOTHING_AHEAD
    rooms_c = _rooms_c(problem)
    made = [_store(problem, k, rooms_c) for k in stores]
    tables, rows = np.array([table for table, _, _ in made]), np.array([row for _, row, _ in made])
    return Outlook(tables, rows, stores, any(must for _, _, must in made), *rooms_c)


def _store(problem: Problem, k: int, rooms_c: tuple[float, float]) -> tuple[Array, Array, bool]:
    """Table and row of one fridge, and whether it must get too warm."""
    from hearthold.plan.kernels import ahead as a

    row, patterns = _row(problem, k), problem.patterns
    table = np.zeros((2, patterns.slots + 1, patterns.starts_a_day + 1, 1 + patterns.least_on, a.CELLS))
    days = _days(problem)
    rooms = [(_room_c(problem, k, air_c), part) for air_c, part in zip(rooms_c, table, strict=True)]

    def fill(room: tuple[Array, Array]) -> None:
        a.look_ahead(row, room[0], days, room[1])

    place = min(a.CELLS_BELOW, max(0, round((_start_c(problem, k) - row[a.LOW_C]) / row[a.FINE_K])))
    row[a.BREACH_J] = problem.objective.breach_j
    side_by_side(fill, rooms)
    must = float(table[a.WARM, 0, 0, 0, place]) >= problem.objective.breach_j
    if must:
        row[a.BREACH_J] = 0.0
        side_by_side(fill, rooms)
    return table, row, must


def _row(problem: Problem, k: int) -> Array:
    from hearthold.plan.kernels import ahead as a

    cold, store = problem.compiled.world.cold[k], problem.house.cold[k]
    ua_w_per_k, low_c, limit_c = float(cold[c.C_UA]), float(cold[c.C_OFF]), float(cold[c.C_LIMIT])
    fade = exp(-ua_w_per_k * SLOT_S / store.fresh_j_per_k)
    row = np.zeros(a.ROW_COUNT)
    row[[a.LOW_C, a.LIMIT_C, a.FINE_K, a.COARSE_K]] = (
        low_c, limit_c, max(limit_c - low_c, 0.1) / a.CELLS_BELOW, COARSE_K,
    )  # fmt: skip
    row[[a.SET_C, a.FADE_FRAC]] = 0.5 * (low_c + float(cold[c.C_ON])), fade
    row[a.COOL_K] = float(cold[c.C_COOL_W]) / ua_w_per_k * (1.0 - fade)
    row[a.OVER_J_PER_K] = problem.objective.cold_w_per_k * SLOT_S
    return row


def _start_c(problem: Problem, k: int) -> float:
    return float(problem.compiled.world.cold[k, c.C_SHELL0])


def _clock_s(problem: Problem) -> Array:
    return np.asarray(problem.start_s + problem.lead_s + SLOT_S * np.arange(problem.slots))


def _rooms_c(problem: Problem) -> tuple[float, float]:
    """A warm and a cool room: as the heating holds it, and as cool as is comfortable; as warm as it is outdoors, where
    that is warmer.
    """
    par, wishes = problem.compiled.world.par, problem.house.wishes
    held_c = 0.5 * (par[c.P_HEAT_ON] + par[c.P_HEAT_OFF]) if par[c.P_HEATER_LOAD] >= 0.0 else par[c.P_AIR0]
    out_c = _outdoor_c(problem).mean()
    return float(max(held_c, out_c)), float(max(min(held_c, wishes.indoor_comfort_c), out_c))


def _outdoor_c(problem: Problem) -> Array:
    """Outdoors, slot by slot."""
    hour = (_clock_s(problem) // 3600.0).astype(int)
    return np.asarray(problem.outside.outdoor_c[np.minimum(hour, len(problem.outside.outdoor_c) - 1)])


def _room_c(problem: Problem, k: int, air_c: float) -> Array:
    """How warm it is about the store, by its place: as `air_c`, or as outdoors."""
    cold = problem.compiled.world.cold[k]
    return np.ascontiguousarray(cold[c.C_ROOM_AIR] * air_c + cold[c.C_ROOM_OUT] * _outdoor_c(problem))


def _days(problem: Problem) -> Any:
    from hearthold.plan.kernels.ahead import Days

    p, o = problem.patterns, problem.objective
    idle_j = problem.lhv_j_per_m3 * float(problem.compiled.world.par[c.P_FUEL_A]) * SLOT_S
    night = np.array([inside(problem.rules.quiet, t % DAY_S) for t in _clock_s(problem).tolist()])
    run_j = idle_j + o.night_w * SLOT_S * night
    may_run, may_switch = p.may_run.astype(np.int64), p.may_switch.astype(np.int64)
    return Days(may_run, may_switch, p.switch_j, run_j, p.day, float(o.start_j))
