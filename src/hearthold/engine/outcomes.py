"""`Outcomes`: what a batch of outages came to, one row an outage, every figure under a name with its unit.

A time "first" is seconds since the grid failed, inf where it never came. Arrays have one value an outage; those
of cold stores, pits and medical needs have a column for each, in the order of `cold_ids`, `pit_ids`,
`medical_ids`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.balance import WORST_FRAC, Residual, residuals
from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array
from hearthold.physics.pipes import FREEZE_CLOCK_S


def row_width(house: CompiledHouse) -> int:
    """Columns of one row of accounts."""
    many = c.D_COUNT * len(house.cold_ids) + c.W_COUNT * len(house.level_ids)
    return c.O_COUNT + many + 4 * len(house.task_ids) + 4 * len(house.medical_ids)


def _never(times: Array) -> Array:
    return np.where(times >= c.FAR * 0.1, np.inf, times)


@dataclass(frozen=True, eq=False)
class Outcomes:
    """Accounts of n outages. The properties below read the columns of `rows`."""

    house: CompiledHouse
    start_s: Array
    length_s: Array
    rows: Array

    def __len__(self) -> int:
        return len(self.start_s)

    def account(self, column: int) -> Array:
        """One accumulator by its column of `kernels.layout` (O_...)."""
        return np.asarray(self.rows[:, column - c.O_FIRST])

    @cached_property
    def cold_accounts(self) -> NDArray[np.float64]:
        """(n, stores, D_ columns)."""
        k = len(self.house.cold_ids)
        part = self.rows[:, c.O_COUNT : c.O_COUNT + k * c.D_COUNT]
        return np.asarray(part.reshape(len(self), k, c.D_COUNT))

    @cached_property
    def level_accounts(self) -> NDArray[np.float64]:
        """(n, levels, W_ columns)."""
        at = c.O_COUNT + len(self.house.cold_ids) * c.D_COUNT
        v = len(self.house.level_ids)
        return np.asarray(self.rows[:, at : at + v * c.W_COUNT].reshape(len(self), v, c.W_COUNT))

    @cached_property
    def _tasks(self) -> NDArray[np.float64]:
        j, m = len(self.house.task_ids), len(self.house.medical_ids)
        end = self.rows.shape[1] - 4 * m
        return np.asarray(self.rows[:, end - 4 * j : end].reshape(len(self), j, 4))

    @cached_property
    def _medical(self) -> NDArray[np.float64]:
        m = len(self.house.medical_ids)
        return np.asarray(self.rows[:, self.rows.shape[1] - 4 * m :].reshape(len(self), m, 4))

    # --- machine and fuel ---

    @property
    def fuel_m3(self) -> Array:
        """Fuel burned."""
        return self.account(c.O_FUEL_M3)

    @property
    def fuel_left_m3(self) -> Array:
        """Fuel in tank and stock at the end; inf on a gas main."""
        left = self.account(c.O_FUEL_END) + self.account(c.O_STOCK_END)
        return np.where(left >= c.FAR * 0.1, np.inf, left)

    @property
    def fuel_out_s(self) -> Array:
        """First time that the machine was wanted and no fuel was left."""
        return _never(self.account(c.O_FUEL_OUT_AT))

    @property
    def run_s(self) -> Array:
        """Time the machine ran."""
        return self.account(c.O_RUN_S)

    @property
    def night_run_s(self) -> Array:
        """Time it ran in the household's quiet hours."""
        return self.account(c.O_NIGHT_RUN_S)

    @property
    def starts(self) -> Array:
        """Starts of the machine, count."""
        return self.account(c.O_STARTS)

    @property
    def refills(self) -> Array:
        """Refillings of its tank, count."""
        return self.account(c.O_REFILLS)

    @property
    def fuel_trips(self) -> Array:
        """Trips for more fuel, count."""
        return self.account(c.O_FUEL_TRIPS)

    @property
    def overload_trips(self) -> Array:
        """Times the machine's breaker opened, count."""
        return self.account(c.O_OVERLOADS)

    @property
    def energy_j(self) -> Array:
        """Electrical energy from the machine."""
        return self.account(c.O_ENERGY_J)

    @property
    def peak_leg_a(self) -> Array:
        """(n, 2) highest running current of leg A and B."""
        return self.rows[:, [c.O_PEAK_A - c.O_FIRST, c.O_PEAK_B - c.O_FIRST]]

    @property
    def peak_neutral_a(self) -> Array:
        """Highest running current in the neutral."""
        return self.account(c.O_NEUTRAL)

    @property
    def peak_w(self) -> Array:
        """Highest running power."""
        return self.account(c.O_PEAK_W)

    @property
    def peak_start_va(self) -> Array:
        """Highest apparent power in the second in which a motor started."""
        return self.account(c.O_PEAK_START_VA)

    @property
    def waits(self) -> Array:
        """Times a load on a live circuit had to wait for another, count."""
        return self.account(c.O_WAITS)

    @property
    def wait_s(self) -> Array:
        """Time waited, summed over loads."""
        return self.account(c.O_WAIT_S)

    # --- house ---

    @property
    def air_min_c(self) -> Array:
        """Lowest indoor air temperature."""
        return self.account(c.O_AIR_MIN)

    @property
    def air_first_s(self) -> Array:
        """First time the air fell below the household's lowest."""
        return _never(self.account(c.O_AIR_FIRST))

    @property
    def air_below_s(self) -> Array:
        """Time below it."""
        return self.account(c.O_AIR_LOW_S)

    @property
    def air_below_k_s(self) -> Array:
        """Kelvin-seconds below it."""
        return self.account(c.O_AIR_LOW_KS)

    @property
    def pipe_min_c(self) -> Array:
        """Lowest temperature of the coldest pipe."""
        return self.account(c.O_PIPE_MIN)

    @property
    def pipe_below_s(self) -> Array:
        """Time it stood below freezing."""
        return self.account(c.O_PIPE_S)

    @property
    def pipe_first_s(self) -> Array:
        """First time it fell below freezing."""
        return _never(self.account(c.O_PIPE_FIRST))

    @property
    def pipes_at_risk(self) -> NDArray[np.bool_]:
        """Whether it stood below freezing for three hours or more in all."""
        return np.asarray(self.pipe_below_s >= FREEZE_CLOCK_S)

    # --- food ---

    @property
    def cold_max_c(self) -> Array:
        """(n, stores) warmest exposed food."""
        return self.cold_accounts[:, :, c.D_MAX]

    @property
    def cold_first_s(self) -> Array:
        """(n, stores) first time above the store's limit."""
        return _never(self.cold_accounts[:, :, c.D_FIRST])

    @property
    def cold_over_s(self) -> Array:
        """(n, stores) time above it."""
        return self.cold_accounts[:, :, c.D_OVER_S]

    @property
    def cold_over_k_s(self) -> Array:
        """(n, stores) kelvin-seconds above it."""
        return self.cold_accounts[:, :, c.D_OVER_KS]

    @property
    def food_lost_s(self) -> Array:
        """(n, stores) when two hours above the limit had added up: perishable food is to be discarded."""
        return _never(self.cold_accounts[:, :, c.D_LOST_AT])

    @property
    def food_lost(self) -> NDArray[np.bool_]:
        """(n, stores) whether that came to pass."""
        return np.isfinite(self.food_lost_s)

    @property
    def compressor_s(self) -> Array:
        """(n, stores) time the compressor ran."""
        return self.cold_accounts[:, :, c.D_RUN_S]

    # --- water ---

    def _level(self, name: str, column: int) -> Array:
        if name not in self.house.level_ids:
            return np.zeros(len(self))
        return self.level_accounts[:, self.house.level_ids.index(name), column]

    @property
    def water_drawn_m3(self) -> Array:
        """Water asked of the taps."""
        return self._level("water", c.W_ASKED)

    @property
    def water_pumped_m3(self) -> Array:
        """Water the well pump brought."""
        return self._level("water", c.W_MOVED)

    @property
    def tap_dry_m3(self) -> Array:
        """Water that the taps did not give."""
        return self._level("water", c.W_OVER)

    @property
    def unmet_water_m3(self) -> Array:
        """Of that, and of cans and tanks not filled in time, what the water stored in the house did not cover."""
        rows = self.house.world.tasks
        filled_m3_per_s = np.where(rows[:, c.J_HOT] == 0.0, rows[:, c.J_TAP], 0.0)
        missed_m3 = self.tap_dry_m3 + self._tasks[:, :, 3] @ filled_m3_per_s
        return np.maximum(0.0, missed_m3 - self.house.stored_water_m3)

    @property
    def tap_first_s(self) -> Array:
        """First time the taps ran dry."""
        if "water" not in self.house.level_ids:
            return np.full(len(self), np.inf)
        return _never(self._level("water", c.W_FIRST))

    def _pits(self, column: int) -> Array:
        rows = [self.house.level_ids.index(name) for name in self.house.pit_ids]
        return self.level_accounts[:, rows, column]

    @property
    def pit_over_m3(self) -> Array:
        """(n, pits) water that ran over."""
        return self._pits(c.W_OVER)

    @property
    def pit_first_s(self) -> Array:
        """(n, pits) first time a pit ran over."""
        return _never(self._pits(c.W_FIRST))

    @property
    def tank_min_c(self) -> Array:
        """Lowest temperature of the water heater."""
        return self.account(c.O_TANK_MIN)

    @property
    def tank_below_s(self) -> Array:
        """Time it stood below the household's lowest."""
        return self.account(c.O_TANK_LOW_S)

    @property
    def tank_first_s(self) -> Array:
        """First time it fell below."""
        return _never(self.account(c.O_TANK_FIRST))

    @property
    def hot_water_m3(self) -> Array:
        """Hot water asked for while it was drawn by the clock or in spells."""
        return self.account(c.O_HOT_M3)

    @property
    def unmet_hot_m3(self) -> Array:
        """Hot water drawn too cool, not drawn because the taps were dry, or put off and never had."""
        short = self.account(c.O_HOT_SHORT_M3)
        if "hot water" in self.house.task_ids:
            i = self.house.task_ids.index("hot water")
            short = short + (self._tasks[:, i, 0] + self._tasks[:, i, 3]) * self.house.world.tasks[i, c.J_HOT]
        return short

    @property
    def task_undone_s(self) -> Array:
        """(n, tasks) work still to do at the end or given up, as running time."""
        return self._tasks[:, :, 0] + self._tasks[:, :, 3]

    # --- people and battery ---

    @property
    def medical_unpowered_s(self) -> Array:
        """(n, needs) time a medical need went unpowered beyond its own battery."""
        return self._medical[:, :, 1]

    @property
    def medical_first_s(self) -> Array:
        """(n, needs) first such time."""
        return _never(self._medical[:, :, 2])

    @property
    def battery_min_j(self) -> Array:
        """Lowest energy in the battery; 0 without one."""
        return np.where(self.house.has_battery, self.account(c.O_BAT_MIN_J), 0.0)

    @property
    def battery_empty_s(self) -> Array:
        """Time the inverter was off because the battery had run down."""
        return self.account(c.O_BAT_DOWN_S)

    @property
    def battery_first_s(self) -> Array:
        """First time the battery ran down."""
        return _never(self.account(c.O_BAT_FIRST))

    @property
    def events(self) -> Array:
        """Events the engine worked through, count."""
        return self.account(c.O_EVENTS)

    # --- balances ---

    @cached_property
    def residuals(self) -> tuple[Residual, ...]:
        """How far each balance is from closing, at worst over the outages."""
        return residuals(self)

    def check(self) -> None:
        """Raise ArithmeticError if a run stuck or a balance does not close: a fault of the program, not of the user."""
        stuck = np.flatnonzero(self.account(c.O_STATUS) != 0.0)
        if stuck.size:
            raise ArithmeticError(
                f"outage {int(stuck[0])} (start {self.start_s[stuck[0]]:g} s) did not move on; please report it with "
                "the house file."
            )
        bad = [r for r in self.residuals if not r.worst_frac <= WORST_FRAC]
        if bad:
            listed = "; ".join(
                f"{r.name}: {r.worst:.3g} {r.unit}, {r.worst_frac:.1e} of the whole" for r in bad
            )
            raise ArithmeticError(
                f"a balance does not close: {listed}. Please report it with the house file."
            )
