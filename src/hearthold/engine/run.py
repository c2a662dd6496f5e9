"""Running outages: one with a trace by the minute, or thousands side by side on all cores.

    trace = simulate(house, month_hours(house, 1), Routine(...), start_s=6 * 3600, hours=72)
    found = simulate_many(house, year_hours(house, seed=1), Routine(...), start_s, length_s)

Both run the same kernel on the same numbers: a trace does not move anything, and an outage alone gives to the bit
what it gives among thousands, on any number of threads.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.engine import jit
from hearthold.engine.compile import compile_house
from hearthold.engine.compile_machine import set_fuel
from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.control import Control, compile_control
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array, Rule, Tape, Weather
from hearthold.engine.outcomes import Outcomes, row_width
from hearthold.engine.packing import pack
from hearthold.engine.trace import Trace, empty_tape, new_tape
from hearthold.engine.weather import Hours
from hearthold.errors import InputError
from hearthold.house.house import House

if TYPE_CHECKING:
    from collections.abc import Sequence

LONGEST_H = 90 * 24.0
BLOCK = 32  # outages a thread takes at a time
Progress = Callable[[str], None]


def simulate(
    house: House | CompiledHouse,
    hours_outside: Hours,
    control: Control,
    *,
    start_s: float = 0.0,
    hours: float = 72.0,
    fuel_m3: float | None = None,
    progress: Progress | None = None,
) -> Trace:
    """One outage with its trace. `start_s` counts from midnight of day 0 of the hours outside.

    `fuel_m3` replaces all fuel at home at the start (inf: never runs out). Raises InputError for a start or length
    outside the series, and ArithmeticError if a balance does not close (a fault of the program).
    """
    compiled = _compiled(house, fuel_m3)
    starts, lengths = _checked(hours_outside, [start_s], [hours * 3600.0])
    rule = compile_control(compiled, control)
    tape = new_tape(compiled, float(lengths[0]))
    rows = _run(compiled, rule, hours_outside, tape, starts, lengths, 1, progress)
    outcomes = Outcomes(compiled, starts, lengths, rows)
    outcomes.check()
    return Trace(compiled, control, float(starts[0]), float(lengths[0]), tape, outcomes)


def simulate_both(
    house: House,
    hours_outside: Hours,
    control: Control,
    *,
    start_s: float = 0.0,
    hours: float = 72.0,
    fuel_m3: float | None = None,
    progress: Progress | None = None,
) -> tuple[Trace, Trace]:
    """One outage twice: with the planning model of freezers (exposed food), and with the likely one (all food alike).

    Two whole worlds: the freezers' power differs a little between them. Raises as `simulate` does.
    """
    planning, likely = (
        simulate(
            compile_house(house, likely=kind),
            hours_outside,
            control,
            start_s=start_s,
            hours=hours,
            fuel_m3=fuel_m3,
            progress=progress,
        )
        for kind in (False, True)
    )
    return planning, likely


def simulate_many(
    house: House | CompiledHouse,
    hours_outside: Hours,
    control: Control,
    start_s: ArrayLike,
    length_s: ArrayLike,
    *,
    fuel_m3: float | None = None,
    threads: int | None = None,
    progress: Progress | None = None,
) -> Outcomes:
    """Many outages, one start and length each, on all cores (or `threads`). Same result on any number of threads.

    Raises InputError for lengths that differ or lie outside the series; ArithmeticError as `simulate` does.
    """
    compiled = _compiled(house, fuel_m3)
    starts, lengths = _checked(hours_outside, start_s, length_s)
    rule = compile_control(compiled, control)
    rows = _run(compiled, rule, hours_outside, empty_tape(compiled), starts, lengths, threads, progress)
    outcomes = Outcomes(compiled, starts, lengths, rows)
    outcomes.check()
    return outcomes


def _compiled(house: House | CompiledHouse, fuel_m3: float | None) -> CompiledHouse:
    compiled = compile_house(house) if isinstance(house, House) else house
    return compiled if fuel_m3 is None else with_fuel(compiled, fuel_m3)


def with_fuel(house: CompiledHouse, fuel_m3: float) -> CompiledHouse:
    """The same house with another amount of fuel at the start. Raises InputError for a negative amount."""
    if not fuel_m3 >= 0.0:
        raise InputError(f"fuel_m3 is {fuel_m3:g} m3; allowed 0 and above.", code="out_of_range")
    par = house.world.par.copy()
    tank = par[c.P_FUEL_TANK] if par[c.P_FUEL_TANK] < c.FAR else np.inf
    set_fuel(par, float(tank), fuel_m3)
    return replace(house, world=house.world._replace(par=par), start_fuel_m3=fuel_m3)


def _checked(outside: Hours, start_s: ArrayLike, length_s: ArrayLike) -> tuple[Array, Array]:
    starts = np.atleast_1d(np.asarray(start_s, dtype=float))
    lengths = np.atleast_1d(np.asarray(length_s, dtype=float))
    if starts.shape != lengths.shape or starts.ndim != 1 or starts.size == 0:
        raise InputError(
            f"start_s has shape {starts.shape} and length_s {lengths.shape}; give one of each for every outage.",
            code="lengths",
        )
    if not (np.all(lengths > 0.0) and np.all(lengths <= LONGEST_H * 3600.0)):
        raise InputError(f"an outage lasts more than 0 and at most {LONGEST_H:g} h.", code="out_of_range")
    if not (np.all(starts >= 0.0) and np.all(starts + lengths <= outside.length_s)):
        raise InputError(
            f"an outage must lie within the {outside.length_s / 3600.0:g} hours of weather that were given; the last "
            f"one ends at {float(np.max(starts + lengths)) / 3600.0:g} h.",
            code="weather_too_short",
        )
    return np.ascontiguousarray(starts), np.ascontiguousarray(lengths)


def _run(
    house: CompiledHouse,
    rule: Rule,
    outside: Hours,
    tape: Tape,
    starts: Array,
    lengths: Array,
    threads: int | None,
    progress: Progress | None,
) -> Array:
    """Rows of accounts, one an outage; blocks of outages go to the threads, the longest first."""
    if progress is not None and not jit.is_compiled():
        progress("compiling the engine for this machine, once; later runs start at once ...")
    from hearthold.engine.kernels.loop import simulate_block

    packed = pack(house.world, rule, Weather(outside.outdoor_c, outside.solar_w))
    rows = np.zeros((len(starts), row_width(house)))
    blocks = _blocks(lengths)

    def work(which: NDArray[np.int64]) -> float:
        state = np.empty(packed.state_size)
        return float(simulate_block(packed.w, packed.at, state, tape, starts, lengths, rows, which))

    count = min(threads or os.cpu_count() or 1, len(blocks))
    if count <= 1:
        for block in blocks:
            work(block)
        return rows
    work(blocks[-1])  # compiles, or loads from the cache, before the threads need it
    with ThreadPoolExecutor(count) as pool:
        list(pool.map(work, blocks[:-1]))
    return rows


def _blocks(lengths: Array) -> Sequence[NDArray[np.int64]]:
    """Numbers of the outages in blocks, longest outages first, so that no thread is left with one at the end."""
    order = np.argsort(-lengths, kind="stable").astype(np.int64)
    return [order[i : i + BLOCK] for i in range(0, len(order), BLOCK)]
