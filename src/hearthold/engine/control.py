"""Control as data: when the machine runs, and which circuits are switched on in which order. Nothing here computes.

    Routine((DailySpell(at_s=6.5 * 3600, length_s=5400), DailySpell(at_s=18 * 3600, length_s=5400)))

Without steps a spell switches every fed circuit, in the order of the house file. Times of a `RunPlan` count from
the failure of the grid, those of a `Routine` are times of day.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from math import inf, isinf

import numpy as np

from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array, Rule
from hearthold.engine.rows import stack
from hearthold.errors import InputError

MINUTE_S = 60.0


@dataclass(frozen=True, slots=True)
class Step:
    """A circuit switched on, and perhaps off again, some time after the start of the spell."""

    circuit: str
    on_s: float = 0.0
    off_s: float = inf


@dataclass(frozen=True, slots=True)
class Spell:
    """One run of the machine, from and to in seconds since the grid failed."""

    start_s: float
    end_s: float
    steps: tuple[Step, ...] = ()


@dataclass(frozen=True, slots=True)
class DailySpell:
    """One run of the machine every day, by the clock; it may run past midnight."""

    at_s: float
    length_s: float
    steps: tuple[Step, ...] = ()


@dataclass(frozen=True, slots=True)
class Handling:
    """What holds for any control: warming up, seconds between circuits, and what the inverter feeds."""

    warm_up_s: float = 120.0  # common practice, no source
    between_s: float = 10.0  # common practice, no source
    battery_circuits: tuple[str, ...] | None = None  # None: every fed circuit


USUAL_HANDLING = Handling()


@dataclass(frozen=True, slots=True)
class Off:
    """The machine never runs."""

    handling: Handling = USUAL_HANDLING


@dataclass(frozen=True, slots=True)
class AlwaysOn:
    """The machine runs from `delay_s` until the grid is back, refilling apart."""

    delay_s: float = 600.0  # somebody sets it up
    steps: tuple[Step, ...] = ()
    handling: Handling = USUAL_HANDLING


@dataclass(frozen=True, slots=True)
class Standby:
    """An automatic set: it starts by itself and switches everything it feeds."""

    start_delay_s: float = 10.0  # common setting, from memory
    warm_up_s: float = 10.0
    self_test_every_s: float = 7 * 86400.0
    self_test_run_s: float = 720.0
    steps: tuple[Step, ...] = ()
    battery_circuits: tuple[str, ...] | None = None

    @property
    def handling(self) -> Handling:
        """No person between machine and circuits; a second between groups."""
        return Handling(self.warm_up_s, 1.0, self.battery_circuits)


@dataclass(frozen=True, slots=True)
class RunPlan:
    """Spells of one outage, in order and apart."""

    spells: tuple[Spell, ...]
    handling: Handling = USUAL_HANDLING


@dataclass(frozen=True, slots=True)
class Routine:
    """The same spells every day."""

    spells: tuple[DailySpell, ...]
    handling: Handling = USUAL_HANDLING


@dataclass(frozen=True, slots=True)
class Watchful:
    """Run when a store nears its limit, stop when all have recovered.

    Margins are kelvins before the limit at which to start; a store has recovered `recover_k` beyond its set point
    (cold stores: warmer by that; heat and hot water: cooler by that). Levels are shares of the brim.
    """

    cold_margin_k: float = 1.0
    freezer_start_c: float = -9.0
    air_margin_k: float = 1.0
    tank_margin_k: float | None = None  # None: hot water alone starts no machine
    level_start_frac: float = 0.85
    battery_start_frac: float = 0.25
    battery_stop_frac: float = 0.9
    recover_k: float = 1.5
    min_run_s: float = 3600.0
    max_run_s: float = 6 * 3600.0
    min_off_s: float = 1800.0
    not_at_night: bool = False
    steps: tuple[Step, ...] = ()
    handling: Handling = USUAL_HANDLING
    also_start: dict[str, tuple[float, float]] = field(
        default_factory=dict
    )  # cold store id: start and stop, degC


@dataclass(frozen=True, slots=True)
class PanelHours:
    """Circuits on the inverter of a house battery, by the clock; no machine runs.

    `always` are on at all hours, `in_hours` within the daily spells alone; what is in neither stays off.
    """

    always: tuple[str, ...] = ()
    in_hours: tuple[str, ...] = ()
    spells: tuple[DailySpell, ...] = ()

    @property
    def handling(self) -> Handling:
        """No machine to warm up; the inverter feeds what is on at any time."""
        return Handling(battery_circuits=(*self.always, *self.in_hours))


Control = Off | AlwaysOn | Standby | RunPlan | Routine | Watchful | PanelHours


def compile_control(house: CompiledHouse, control: Control) -> Rule:
    """A control as arrays for this house. Raises InputError for an unknown circuit or spells that overlap."""
    ctl = np.zeros(c.W_TABLES)  # addressed by the columns of the packed array
    ctl[[c.K_WARM_S, c.K_BETWEEN_S]] = control.handling.warm_up_s, control.handling.between_s
    ctl[[c.K_AIR_START, c.K_TANK_START, c.K_BAT_START]] = -c.FAR
    ctl[[c.K_AIR_STOP, c.K_TANK_STOP, c.K_BAT_STOP]] = -c.FAR
    cold = np.tile([c.FAR, c.FAR], (len(house.cold_ids), 1))
    levels = np.tile([c.FAR, c.FAR], (len(house.level_ids), 1))
    spells = np.zeros((0, 2))
    steps: tuple[tuple[int, tuple[Step, ...]], ...] = ()
    if isinstance(control, AlwaysOn):
        ctl[[c.K_KIND, c.K_DELAY_S]] = c.ALWAYS, control.delay_s
        steps = ((-1, control.steps),)
    elif isinstance(control, Standby):
        ctl[[c.K_KIND, c.K_DELAY_S]] = c.ALWAYS, control.start_delay_s
        steps = ((-1, control.steps),)
    elif isinstance(control, RunPlan):
        ctl[c.K_KIND] = c.PLAN
        spells = _checked_spells([(x.start_s, x.end_s) for x in control.spells])
        steps = tuple((i, x.steps) for i, x in enumerate(control.spells))
    elif isinstance(control, Routine):
        ctl[c.K_KIND] = c.ROUTINE
        spells = _checked_daily([(x.at_s, x.at_s + x.length_s) for x in control.spells])
        steps = tuple((i, x.steps) for i, x in enumerate(control.spells))
    elif isinstance(control, PanelHours):
        ctl[c.K_KIND] = c.PANEL
        spells = _checked_daily([(x.at_s, x.at_s + x.length_s) for x in control.spells])
    elif isinstance(control, Watchful):
        _watchful(house, control, ctl, cold, levels)
        steps = ((-1, control.steps),)
    return Rule(
        ctl[c.K_FIRST :],
        spells,
        _step_table(house, steps),
        cold,
        levels,
        _in_hours(house, control, _battery_circuits(house, control.handling)),
    )


def _checked_spells(found: list[tuple[float, float]]) -> Array:
    table = np.array(found, dtype=float).reshape(-1, 2)
    if len(table) and (
        np.any(table[:, 1] <= table[:, 0]) or np.any(table[1:, 0] < table[:-1, 1]) or table[0, 0] < 0.0
    ):
        raise InputError(
            "the spells of a run plan must follow one another: each ends after it starts, none begins before 0 or "
            f"before the one before it has ended; got {[tuple(map(float, row)) for row in table]}.",
            code="spells",
        )
    return table


def _checked_daily(found: list[tuple[float, float]]) -> Array:
    table = np.array(found, dtype=float).reshape(-1, 2)
    if len(table) and (
        np.any(table[:, 0] < 0.0) or np.any(table[:, 0] >= c.DAY_S) or np.any(table[:, 1] <= table[:, 0])
    ):
        raise InputError(
            "a daily spell starts between 0 and 24 h and has a length above 0; "
            f"got {[tuple(map(float, row)) for row in table]}.",
            code="spells",
        )
    order = np.argsort(table[:, 0], kind="stable")
    starts, ends = table[order, 0], table[order, 1]
    if len(table) and np.any(ends > np.append(starts[1:], starts[0] + c.DAY_S) + 1e-6):
        raise InputError("the daily spells overlap; shorten one or join them.", code="spells")
    return table


def _step_table(house: CompiledHouse, given: Iterable[tuple[int, tuple[Step, ...]]]) -> Array:
    """Rows of spell, circuit, on, off and rank in the order of switching."""
    index = {name: i for i, name in enumerate(house.circuit_ids)}
    fed = [name for name, is_fed in zip(house.circuit_ids, house.world.circuit_fed, strict=True) if is_fed]
    rows = []
    for spell, listed in given:
        steps = listed or tuple(Step(name) for name in fed)
        for rank, step in enumerate(sorted(steps, key=lambda x: x.on_s)):
            if step.circuit not in index:
                raise InputError(
                    f"circuit {step.circuit!r} is not one of this house; allowed: {', '.join(index)}.",
                    code="unknown_circuit",
                )
            off = c.FAR if isinf(step.off_s) else step.off_s
            rows.append(np.array([spell, index[step.circuit], step.on_s, off, rank], dtype=float))
    return stack(rows, 5)


def _battery_circuits(house: CompiledHouse, handling: Handling) -> Array:
    if handling.battery_circuits is None:
        return house.world.circuit_fed.copy()
    unknown = set(handling.battery_circuits) - set(house.circuit_ids)
    if unknown:
        raise InputError(
            f"battery_circuits names {sorted(unknown)}; allowed: {', '.join(house.circuit_ids)}.",
            code="unknown_circuit",
        )
    return np.array([float(name in handling.battery_circuits) for name in house.circuit_ids])


def _in_hours(house: CompiledHouse, control: Control, feeds: Array) -> Array:
    """The circuits on the inverter, those marked that have hours."""
    if isinstance(control, PanelHours):
        feeds[[house.circuit_ids.index(name) for name in control.in_hours]] = c.FED_IN_HOURS
        feeds[[house.circuit_ids.index(name) for name in control.always]] = c.FED_ALWAYS
    return feeds


def _watchful(house: CompiledHouse, rule: Watchful, ctl: Array, cold: Array, levels: Array) -> None:
    """Start and stop levels of every store, from its limit and its set point."""
    w = house.world
    ctl[c.K_KIND] = c.THERMO
    ctl[[c.K_MIN_RUN_S, c.K_MAX_RUN_S, c.K_MIN_OFF_S]] = rule.min_run_s, rule.max_run_s, rule.min_off_s
    ctl[c.K_NOT_AT_NIGHT] = float(rule.not_at_night)
    for k, name in enumerate(house.cold_ids):
        limit, set_c = w.cold[k, c.C_LIMIT], (w.cold[k, c.C_ON] + w.cold[k, c.C_OFF]) / 2.0
        start = rule.freezer_start_c if set_c < -5.0 else limit - rule.cold_margin_k
        cold[k] = rule.also_start.get(name, (start, min(set_c + rule.recover_k, start)))
        if cold[k, 1] > cold[k, 0]:
            raise InputError(
                f"{name}: a store must recover below the temperature it starts at.", code="margins"
            )
    if house.has_house:
        ctl[c.K_AIR_START] = w.par[c.P_AIR_LOW] + rule.air_margin_k
        set_c = (w.par[c.P_HEAT_ON] + w.par[c.P_HEAT_OFF]) / 2.0
        has_heater = w.par[c.P_HEATER_LOAD] >= 0.0
        ctl[c.K_AIR_STOP] = max(ctl[c.K_AIR_START], set_c - rule.recover_k) if has_heater else -c.FAR
    if house.has_tank and rule.tank_margin_k is not None:
        ctl[c.K_TANK_START] = w.par[c.P_TANK_LOW] + rule.tank_margin_k
        ctl[c.K_TANK_STOP] = max(ctl[c.K_TANK_START], w.par[c.P_TANK_OFF] - rule.recover_k)
    if house.has_battery:
        ctl[[c.K_BAT_START, c.K_BAT_STOP]] = (
            rule.battery_start_frac * w.par[c.P_BAT_J], rule.battery_stop_frac * w.par[c.P_BAT_J],
        )  # fmt: skip
    for i in range(len(house.level_ids)):
        if w.levels[i, c.V_KIND] != c.CYCLE and w.levels[i, c.V_LOAD] >= 0.0:
            levels[i] = rule.level_start_frac * w.levels[i, c.V_CAP], 0.5 * w.levels[i, c.V_CAP]


def self_tests_m3(house: CompiledHouse, standby: Standby, over_s: float) -> float:
    """Fuel that an automatic set burns testing itself, unloaded, over a stretch of time without outages."""
    if standby.self_test_every_s <= 0.0:
        return 0.0
    return float(
        house.world.par[c.P_FUEL_A] * standby.self_test_run_s * (over_s // standby.self_test_every_s)
    )
