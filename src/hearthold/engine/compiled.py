"""`CompiledHouse`: a house as arrays, with the names that belong to their rows."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.engine.habits import Habits
from hearthold.engine.kernels.layout import World


@dataclass(frozen=True, slots=True, eq=False)
class CompiledHouse:
    """A house ready to run. The ids stand in the order of the rows of `world`."""

    name: str
    world: World
    habits: Habits
    circuit_ids: tuple[str, ...]
    load_ids: tuple[str, ...]  # in order of priority, fed circuits only
    cold_ids: tuple[str, ...]
    level_ids: tuple[str, ...]  # pits, "water", and cycling loads without a store of their own
    pit_ids: tuple[str, ...]
    task_ids: tuple[str, ...]
    medical_ids: tuple[str, ...]
    has_house: bool
    has_tank: bool
    has_battery: bool
    has_water: bool
    stored_water_m3: float
    start_fuel_m3: float  # in tank and stock at the start; inf on a gas main
    notes: tuple[str, ...]
