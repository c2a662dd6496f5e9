"""The middle of an outage as somebody reads it: thermometers, fuel, charge, and whether the machine runs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import inf

import numpy as np

from hearthold.engine.compile import compile_house
from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array
from hearthold.errors import InputError
from hearthold.house.house import House
from hearthold.plan.labels import Before
from hearthold.plan.objective import DAY_S, SLOT_S
from hearthold.plan.problem import Problem


@dataclass(frozen=True, slots=True)
class Now:
    """What is known at this moment. What is left out is as the house file has it."""

    at_s: float  # since midnight of day 0 of the hours outside
    elapsed_s: float = 0.0  # since the grid failed
    air_c: float | None = None
    mass_c: float | None = None  # walls and floors; as warm as the air where not known
    tank_c: float | None = None
    cold_c: Mapping[str, float] = field(default_factory=dict)  # by id of the store
    core_c: Mapping[str, float] = field(default_factory=dict)
    fuel_tank_m3: float | None = None
    fuel_stock_m3: float | None = None
    battery_j: float | None = None
    running: bool = False
    since_s: float = inf  # since the machine was last started or stopped; inf: nobody knows
    started_today: int = 0


def before_now(problem: Problem, now: Now) -> Before:
    """What came before the first slot, as the rules of running count it.

    A spell of unknown beginning may be ended at once, as one that has lasted the shortest spell, and may go on for
    the rest of the longest. It counts among those begun today unless it is known to be older, or runs in quiet hours,
    in which none of today's would.
    """
    if not now.running:
        return Before(False, _slots(now.since_s), now.started_today)
    known = now.since_s < inf
    begun_today = now.since_s <= problem.start_s % DAY_S if known else bool(problem.patterns.may_run[0])
    age = _slots(now.since_s) if known else problem.patterns.least_on
    return Before(True, age, max(now.started_today, int(begun_today)))


def _slots(since_s: float) -> int:
    return 10_000 if since_s > 1e6 else max(1, int(since_s // SLOT_S))


def compile_now(house: House, now: Now, fuel: str | None = None) -> CompiledHouse:
    """The house compiled with what is read now in place of the start of an outage.

    Raises: InputError for a reading of a store that the house has not, or fuel below 0.
    """
    plain = compile_house(house, fuel=fuel)
    unknown = (set(now.cold_c) | set(now.core_c)) - set(plain.cold_ids)
    if unknown:
        raise InputError(
            f"readings of {', '.join(sorted(unknown))}, which this house has not; allowed: "
            f"{', '.join(plain.cold_ids) or 'none'}.",
            code="unknown_store",
        )
    par, cold = plain.world.par.copy(), plain.world.cold.copy()
    _set_rooms(par, now)
    _set_fuel(par, now)
    for k, name in enumerate(plain.cold_ids):
        shell = now.cold_c.get(name)
        if shell is not None:
            core = now.core_c.get(name, shell)
            _set_cold(plain, cold[k], k, shell, core)
    world = plain.world._replace(par=par, cold=cold)
    start = float(par[c.P_FUEL_TANK0] + par[c.P_FUEL_STOCK0])
    return replace(plain, world=world, start_fuel_m3=start if start < c.FAR else inf)


def _set_rooms(par: Array, now: Now) -> None:
    if now.air_c is not None:
        par[c.P_AIR0] = now.air_c
        par[c.P_MASS0] = now.mass_c if now.mass_c is not None else now.air_c
    if now.tank_c is not None:
        par[c.P_TANK0] = now.tank_c
    if now.battery_j is not None and par[c.P_HAS_BATTERY] != 0.0:
        par[c.P_BAT0] = min(max(0.0, now.battery_j), par[c.P_BAT_J])


def _set_fuel(par: Array, now: Now) -> None:
    for value, place in ((now.fuel_tank_m3, c.P_FUEL_TANK0), (now.fuel_stock_m3, c.P_FUEL_STOCK0)):
        if value is None:
            continue
        if not value >= 0.0:
            raise InputError(f"fuel is {value:g} m3; allowed 0 and above.", code="out_of_range")
        par[place] = min(value, par[c.P_FUEL_TANK]) if place == c.P_FUEL_TANK0 else value


def _set_cold(plain: CompiledHouse, row: Array, k: int, shell_c: float, core_c: float) -> None:
    """Temperatures of a cold store and the segments of its food's heat capacity that they lie in."""
    row[[c.C_SHELL0, c.C_CORE0]] = shell_c, core_c
    knots = plain.world.knots[k]
    if knots[1] < c.FAR / 2.0:  # food that freezes has knots between its ends
        for value, place in ((shell_c, c.C_SEG1), (core_c, c.C_SEG2)):
            row[place] = float(np.clip(np.searchsorted(knots, value, side="right") - 1, 0, len(knots) - 2))
