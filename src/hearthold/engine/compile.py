"""A house turned into arrays: every load and store of the circuits that the hookup feeds, the machine, the fuel.

compiled = compile_house(house)
compiled.world        # what the kernels read
compiled.load_ids     # names of its rows
"""

from __future__ import annotations

import numpy as np

from hearthold.engine.compile_day import (
    MOSTLY_ON_FRAC,
    Task,
    compile_day,
    fill_tasks,
    hot_task,
    load_tasks,
)
from hearthold.engine.compile_machine import battery_par, fuel_par, inverter_carries, limit_table
from hearthold.engine.compile_medical import medical_row, own_chargers
from hearthold.engine.compile_stores import cold_tables, cycle_row, house_par, pit_row, tank_par, water_row
from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.habits import USUAL, Habits
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array, World
from hearthold.engine.rows import row, stack
from hearthold.house.house import House
from hearthold.house.loads import Load, Pattern
from hearthold.physics.legs import Connection, reactive_kernel
from hearthold.sizing.placement import placement

EXACT = 2.0**24  # powers are multiples of 1/EXACT W and var: any sum below 500 MW is exact, in whatever order


def compile_house(
    house: House,
    *,
    habits: Habits = USUAL,
    likely: bool = False,
    managed: bool = True,
    fuel: str | None = None,
) -> CompiledHouse:
    """Arrays of a house. `likely` gives freezers one node (the likely hold) instead of two (the planning hold).

    `managed`: somebody, or a load manager, keeps the machine within its limits; otherwise it trips. `fuel` is one
    of the fuels of the machine, the preferred one if none is named. Raises InputError for a fuel it cannot burn, and
    ValueError for a house on cords before they are laid, which would run with nothing on.
    """
    if house.on_cords and house.cords is None:
        raise ValueError("the cords of this house are not laid: it is house.running that runs")
    return _Compiler(house, habits, likely, managed, fuel).compiled()


class _Compiler:
    """Collects the tables; one method a table."""

    def __init__(self, house: House, habits: Habits, likely: bool, managed: bool, fuel: str | None) -> None:
        self.house, self.habits, self.likely, self.managed, self.fuel = house, habits, likely, managed, fuel
        self.fed = {circuit.id for circuit in house.fed_circuits}
        self.circuits = {circuit.id: i for i, circuit in enumerate(house.circuits)}
        vital = {load.id for load in house.vital_loads}
        served = [x for x in house.loads if x.circuit in self.fed and x.running_w > 0.0]
        self.chargers = own_chargers(house, served)
        self.vital = vital | {charger.id for charger in self.chargers.values()}
        self.loads = sorted([*served, *self.chargers.values()], key=self._rank)
        self.row_of = {load.id: j for j, load in enumerate(self.loads)}
        self.par = np.zeros(c.P_COUNT)
        self.levels: list[Array] = []
        self.level_ids: list[str] = []
        self.notes: list[str] = []
        self.inverter_pumps = False
        self.tasks = (
            load_tasks(house, self.loads, habits) + hot_task(house, habits) + fill_tasks(house, habits)
        )

    def _rank(self, load: Load) -> float:
        """Class of priority: 0 for what is never traded away."""
        return 0.0 if load.id in self.vital else float(load.priority.rank)

    def compiled(self) -> CompiledHouse:
        """Everything put together."""
        house = self.house
        house_par(self.par, house.heat, self.habits, self.row_of)
        tank_par(self.par, house.hot_water, self.habits, self.row_of)
        start_m3 = fuel_par(self.par, house, self.habits, self.fuel)
        battery_par(self.par, house, self.habits)
        self._fill_levels()
        self._other_par()
        cold, knots, modes = cold_tables(house, self.habits, self.row_of, self.likely)
        medical = [need for need in house.medical if need.load in self.row_of]
        day = compile_day(house, self.loads, self.tasks, medical, self.habits)
        self.notes += [
            f"{x.id}: no circuit of the hookup feeds it" for x in house.loads if x.circuit not in self.fed
        ]
        loads, limits = self._load_table(), limit_table(house, self.habits, self.fuel)
        self.inverter_pumps = self._inverter_pumps(limits, loads)
        world = World(
            self.par,
            limits,
            loads,
            cold,
            knots,
            modes,
            stack(self.levels, c.V_COUNT),
            stack((self._task_row(t) for t in self.tasks), c.J_COUNT),
            stack((medical_row(need, self.row_of, self.chargers) for need in medical), c.H_COUNT),
            day.slot_at,
            day.slots,
            day.want,
            day.medical,
            day.task,
            np.array([float(circuit.id in self.fed) for circuit in house.circuits]),
        )
        return CompiledHouse(
            house.name,
            world,
            self.habits,
            tuple(self.circuits),
            tuple(self.row_of),
            tuple(s.id for s in house.cold),
            tuple(self.level_ids),
            tuple(p.id for p in house.pits),
            tuple(t.id for t in self.tasks),
            tuple(n.load for n in medical),
            house.heat is not None,
            house.hot_water is not None,
            house.battery is not None,
            house.water is not None,
            house.water.stored_m3 if house.water is not None else 0.0,
            start_m3,
            tuple(self.notes),
        )

    def _fill_levels(self) -> None:
        """Pits first, then the pressure tank, then cycling loads that no store speaks for."""
        house = self.house
        for pit in house.pits:
            self._add_level(pit.id, pit_row(pit, self.row_of.get(pit.load, -1)))
        self.par[c.P_WATER_LEVEL] = -1.0
        if house.water is not None:
            self.par[c.P_WATER_LEVEL] = len(self.levels)
            self._add_level("water", water_row(house.water, self.row_of.get(house.water.pump_load, -1)))
        spoken_for = self._store_loads()
        for load in self.loads:
            if self._cycles_alone(load, spoken_for):
                self._add_level(load.id, cycle_row(load.duty_frac, self.row_of[load.id], self.habits))

    def _add_level(self, name: str, made: Array) -> None:
        self.levels.append(made)
        self.level_ids.append(name)

    def _store_loads(self) -> set[str]:
        """Loads that a store switches."""
        house = self.house
        found = {s.load for s in house.cold} | {p.load for p in house.pits}
        if house.heat is not None:
            found |= {house.heat.heater_load or "", house.heat.stove_blower_load or ""}
        if house.water is not None:
            found.add(house.water.pump_load)
        if house.hot_water is not None and self.par[c.P_TANK_BY] == 1.0:
            found.add(house.hot_water.load or "")
        return found

    def _cycles_alone(self, load: Load, spoken_for: set[str]) -> bool:
        return (
            load.pattern is Pattern.CYCLING
            and load.id not in spoken_for
            and 0.0 < load.duty_frac < MOSTLY_ON_FRAC
            and not any(need.load == load.id for need in self.house.medical)
        )

    def _other_par(self) -> None:
        par, habits = self.par, self.habits
        par[c.P_LEG_V] = self.house.system.leg_voltage_v
        par[[c.P_TRIP_AFTER_S, c.P_RESET_S]] = habits.breaker_s, habits.reset_s
        par[c.P_MANAGED] = float(self.managed)
        par[c.P_FOOD_S] = habits.food_lost_s
        par[c.P_TANK_READY] = max((t.tank_min_c for t in self.tasks), default=-c.FAR)
        if self.house.water is not None:
            par[c.P_STORED_M3] = self.house.water.stored_m3

    def _load_table(self) -> Array:
        table = stack((self._load_row(load) for load in self.loads), c.L_COUNT)
        powers = slice(c.L_WA, c.L_SQB + 1)
        table[:, powers] = np.round(table[:, powers] * EXACT) / EXACT
        return table

    def _inverter_pumps(self, limits: Array, loads: Array) -> bool:
        """Whether a battery's inverter can carry the well pump."""
        house = self.house
        if house.battery is None or house.water is None or house.water.pump_load not in self.row_of:
            return False
        return inverter_carries(limits, loads[self.row_of[house.water.pump_load]])

    def _load_row(self, load: Load) -> Array:
        kind, which = self._kind(load)
        legs = placement(self.house).leg_of[load.circuit]
        a, b = {Connection.A: (1.0, 0.0), Connection.B: (0.0, 1.0)}.get(legs, (0.5, 0.5))
        watts = load.running_w
        var = float(reactive_kernel(watts, load.power_factor))
        others = (load.count - 1) / load.count
        start_w = load.start_w + others * watts if load.is_motor else watts
        start_var = (
            (max(0.0, load.start_va**2 - load.start_w**2)) ** 0.5 + others * var if load.is_motor else var
        )
        outside = kind in (c.BY_TANK, c.BY_HEATER, c.BY_CHARGER) or load.id in self._outside_loads()
        return row(
            c.L_COUNT,
            {
                c.L_KIND: kind, c.L_WHICH: which, c.L_CIRCUIT: self.circuits[load.circuit],
                c.L_MOTOR: float(load.is_motor), c.L_RUN_UP_S: load.run_up_s, c.L_HEAT_FRAC: 0.0 if outside else 1.0,
                c.L_WA: a * watts, c.L_QA: a * var, c.L_WB: b * watts, c.L_QB: b * var,
                c.L_SWA: a * start_w, c.L_SQA: a * start_var, c.L_SWB: b * start_w, c.L_SQB: b * start_var,
                c.L_RANK: self._rank(load), c.L_TASK: self._task_of(load),
            },
        )  # fmt: skip

    def _outside_loads(self) -> set[str]:
        """Loads whose heat does not reach the rooms: pumps, and cold stores that stand elsewhere."""
        found = {p.load for p in self.house.pits} | {s.load for s in self.house.cold if s.room != "house"}
        if self.house.water is not None:
            found.add(self.house.water.pump_load)
        return found

    def _kind(self, load: Load) -> tuple[float, int]:
        """What switches a load, and which row of that."""
        house = self.house
        if load in self.chargers.values():
            return c.BY_CHARGER, 0
        for k, store in enumerate(house.cold):
            if store.load == load.id:
                return c.BY_COLD, k
        if house.heat is not None and load.id == house.heat.heater_load:
            return c.BY_HEATER, 0
        if house.heat is not None and load.id == house.heat.stove_blower_load:
            return c.BY_BLOWER, 0
        if self.par[c.P_TANK_BY] == 1.0 and house.hot_water is not None and load.id == house.hot_water.load:
            return c.BY_TANK, 0
        for i, made in enumerate(self.levels):
            if int(made[c.V_LOAD]) == self.row_of[load.id]:
                return c.BY_LEVEL, i
        task = self._task_of(load)
        return (c.BY_TASK, task) if task >= 0 else (c.BY_CLOCK, 0)

    def _task_of(self, load: Load) -> int:
        """Row of the task that a load runs for, -1 where it runs for none."""
        return next((i for i, task in enumerate(self.tasks) if task.load == load.id), -1)

    def _task_row(self, task: Task) -> Array:
        return row(
            c.J_COUNT,
            {
                c.J_LOAD: self.row_of.get(task.load or "", -1),
                c.J_CIRCUIT: self.circuits.get(task.circuit or "", -1),
                c.J_NEED_S: task.need_s, c.J_MOST_S: task.most_s, c.J_TAP: task.tap_m3_per_s,
                c.J_HOT: task.hot_m3_per_s, c.J_TANK_MIN: task.tank_min_c, c.J_DELAY_S: task.delay_s,
                c.J_INVERTER: self._on_inverter(task),
            },
        )  # fmt: skip

    def _on_inverter(self, task: Task) -> float:
        """Whether people do a task on the house battery, without waiting for a machine.

        Filling cans, where the inverter starts the pump. In a house without a machine everything but what is heavy,
        while they are up: a kettle would take a tenth of a battery for a day's tea (judgement).
        """
        house = self.house
        if house.battery is None:
            return 0.0
        if task.load is None:
            can = self.inverter_pumps and (task.is_fill or house.generator is None)
        else:
            light = house.load_by_id[task.load].running_w < self.habits.heavy_w
            can = house.generator is None and light
        return float(can) if task.is_fill else c.WHILE_UP * can
