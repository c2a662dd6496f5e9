"""`Trace`: one outage minute by minute, with a log of what a person would notice."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import ceil
from typing import TYPE_CHECKING

import numpy as np

from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array, Tape
from hearthold.engine.outcomes import Outcomes

if TYPE_CHECKING:
    from hearthold.engine.control import Control

LOG_ROWS = 4000


class Happening(StrEnum):
    """What a line of the log says."""

    START = "machine starts"
    STOP = "machine stops"
    SWITCH = "circuits switched"
    DRY = "machine's tank empty"
    REFILL = "tank refilled"
    BACK = "back with fuel"
    OVERLOAD = "overload: breaker opens"
    BATTERY = "battery full, empty or recovered"


@dataclass(frozen=True, slots=True)
class LogLine:
    """One happening: when (since the grid failed), what, and which loads ran."""

    at_s: float
    what: Happening
    running: tuple[str, ...]
    value: (
        float  # fuel in the tank (start, stop, refill) or in stock (dry, back), m3; energy in the battery, J
    )


def empty_tape(house: CompiledHouse) -> Tape:
    """A tape that records nothing."""
    return _tape(house, -1, 0)


def new_tape(house: CompiledHouse, length_s: float) -> Tape:
    """A tape for an outage of this length."""
    return _tape(house, ceil(length_s / c.MINUTE_S - 1e-9), LOG_ROWS)


def _tape(house: CompiledHouse, minutes: int, lines: int) -> Tape:
    k, v, n = len(house.cold_ids), len(house.level_ids), len(house.load_ids)
    spans = max(0, minutes)
    return Tape(
        np.zeros((minutes + 1, c.T_COUNT)),
        np.zeros((minutes + 1, k, 2)),
        np.zeros((minutes + 1, v)),
        np.zeros((spans, len(house.circuit_ids))),
        np.zeros((spans, c.X_COUNT)),
        np.full((lines, 4), -1.0),
        np.zeros((lines, n)),
    )


@dataclass(frozen=True, eq=False)
class Trace:
    """One outage. States are at each minute (one more than minutes), powers are means over each minute."""

    house: CompiledHouse
    control: Control
    start_s: float
    length_s: float
    tape: Tape
    outcomes: Outcomes  # of this one outage: shape (1, ...)

    @property
    def minute_s(self) -> Array:
        """Times of the states, since the grid failed."""
        return np.arange(len(self.tape.house), dtype=np.float64) * c.MINUTE_S

    @property
    def air_c(self) -> Array:
        """Indoor air."""
        return self.tape.house[:, c.T_AIR]

    @property
    def mass_c(self) -> Array:
        """Walls and floors."""
        return self.tape.house[:, c.T_MASS]

    @property
    def outdoor_c(self) -> Array:
        """Outdoors."""
        return self.tape.house[:, c.T_OUT]

    @property
    def pipe_c(self) -> Array:
        """The coldest pipe."""
        return self.tape.house[:, c.T_PIPE]

    @property
    def tank_c(self) -> Array:
        """The water heater."""
        return self.tape.house[:, c.T_TANK]

    @property
    def fuel_m3(self) -> Array:
        """Fuel in the machine's tank."""
        return self.tape.house[:, c.T_FUEL]

    @property
    def stock_m3(self) -> Array:
        """Fuel in cans or cylinders."""
        return self.tape.house[:, c.T_STOCK]

    @property
    def battery_j(self) -> Array:
        """Usable energy in the battery."""
        return self.tape.house[:, c.T_BAT]

    @property
    def cold_c(self) -> Array:
        """(minutes + 1, stores) exposed food."""
        return self.tape.cold[:, :, 0]

    @property
    def core_c(self) -> Array:
        """(minutes + 1, stores) the food behind it; for one-node stores as at the start."""
        return self.tape.cold[:, :, 1]

    @property
    def pit_m3(self) -> Array:
        """(minutes + 1, pits) water above the level at which the pump stops."""
        return self.tape.levels[:, [self.house.level_ids.index(p) for p in self.house.pit_ids]]

    @property
    def water_m3(self) -> Array:
        """Water the pressure tank still gives; zeros without a well."""
        if "water" not in self.house.level_ids:
            return np.zeros(len(self.tape.house))
        i = self.house.level_ids.index("water")
        found: Array = self.house.world.levels[i, c.V_CAP] - self.tape.levels[:, i]
        return found

    @property
    def circuit_w(self) -> Array:
        """(minutes, circuits) mean power of each circuit."""
        return self.tape.circuits

    @property
    def leg_w(self) -> Array:
        """(minutes, 2) mean power of each leg."""
        return self.tape.power[:, [c.X_WA, c.X_WB]]

    @property
    def leg_va(self) -> Array:
        """(minutes, 2) mean apparent power of each leg."""
        return self.tape.power[:, [c.X_VA_A, c.X_VA_B]]

    @property
    def neutral_a(self) -> Array:
        """Mean current in the neutral."""
        return self.tape.power[:, c.X_N]

    @property
    def load_w(self) -> Array:
        """Mean power of all loads."""
        return np.asarray(self.tape.power[:, c.X_WA] + self.tape.power[:, c.X_WB])

    @property
    def charge_w(self) -> Array:
        """Mean power into the charger of the battery from the machine."""
        return self.tape.power[:, c.X_CHARGE]

    @property
    def solar_w(self) -> Array:
        """Mean power from the panel."""
        return self.tape.power[:, c.X_SOLAR]

    @property
    def machine_frac(self) -> Array:
        """Share of each minute in which the machine ran."""
        return self.tape.power[:, c.X_ON]

    @property
    def burn_m3_per_s(self) -> Array:
        """Mean fuel rate."""
        return self.tape.power[:, c.X_FUEL]

    @property
    def log(self) -> tuple[LogLine, ...]:
        """What happened, in order."""
        names, kinds = self.house.load_ids, tuple(Happening)
        return tuple(
            LogLine(
                float(line[0]),
                kinds[int(line[1])],
                tuple(name for name, on in zip(names, ran, strict=True) if on),
                float(line[3]),
            )
            for line, ran in zip(self.tape.log, self.tape.log_loads, strict=True)
            if line[0] >= 0.0
        )

    def to_columns(self) -> dict[str, Array]:
        """Named columns of equal length, one row a minute (states at its beginning), for CSV or Parquet."""
        n = len(self.tape.power)
        made = {
            "at_s": self.minute_s[:n],
            "machine_frac": self.machine_frac,
            "load_w": self.load_w,
            "leg_a_w": self.tape.power[:, c.X_WA],
            "leg_b_w": self.tape.power[:, c.X_WB],
            "leg_a_va": self.tape.power[:, c.X_VA_A],
            "leg_b_va": self.tape.power[:, c.X_VA_B],
            "neutral_a": self.neutral_a,
            "charge_w": self.charge_w,
            "solar_w": self.solar_w,
            "burn_m3_per_s": self.burn_m3_per_s,
            "fuel_m3": self.fuel_m3[:n],
            "stock_m3": self.stock_m3[:n],
            "outdoor_c": self.outdoor_c[:n],
            "air_c": self.air_c[:n],
            "mass_c": self.mass_c[:n],
            "pipe_c": self.pipe_c[:n],
        }
        if self.house.has_tank:
            made["tank_c"] = self.tank_c[:n]
        if self.house.has_battery:
            made["battery_j"] = self.battery_j[:n]
        if self.house.has_water:
            made["water_m3"] = self.water_m3[:n]
        for i, name in enumerate(self.house.circuit_ids):
            made[f"circuit.{name}_w"] = self.circuit_w[:, i]
        for k, name in enumerate(self.house.cold_ids):
            made[f"cold.{name}_c"] = self.cold_c[:n, k]
            made[f"core.{name}_c"] = self.core_c[:n, k]
        for i, name in enumerate(self.house.pit_ids):
            made[f"pit.{name}_m3"] = self.pit_m3[:n, i]
        return made
