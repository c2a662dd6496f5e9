"""The day's schedule as slots: what runs by the clock, what is drawn, who is awake, which tasks fall due."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hearthold.engine.habits import Habits
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import DAY_S, Array
from hearthold.engine.rows import Windows, inside, unwrapped
from hearthold.house.house import House
from hearthold.house.loads import Load, Pattern
from hearthold.house.site import Medical

NOON_S, EVENING_S = 12 * 3600.0, 17.5 * 3600.0
MOSTLY_ON_FRAC = 0.95  # a duty above this is no cycling


@dataclass(frozen=True, slots=True)
class Task:
    """Work that waits for power: `need_s` of running at each of `due_s`, at most `most_s` piled up."""

    id: str
    load: str | None
    circuit: str | None
    need_s: float
    due_s: tuple[float, ...]
    most_s: float
    tap_m3_per_s: float = 0.0
    hot_m3_per_s: float = 0.0
    tank_min_c: float = -c.FAR
    delay_s: float = 0.0

    @property
    def is_fill(self) -> bool:
        """Cold water into cans or a stock tank: the well pump is all that it needs."""
        return self.load is None and self.tap_m3_per_s > 0.0 and self.hot_m3_per_s == 0.0


def clock_windows(house: House, load: Load) -> Windows | None:
    """When a load runs by the clock; None where something else decides."""
    medical = [need for need in house.medical if need.load == load.id]
    if medical:
        return unwrapped([medical_window(need) for need in medical] + list(load.use))
    if load.pattern is Pattern.CONTINUOUS:
        return ((0.0, DAY_S),)
    if load.pattern is not Pattern.SCHEDULED:
        return None
    if load.use:
        return unwrapped(load.use)
    half_s = min(DAY_S / 2.0, load.energy_day_j / max(load.running_w, 1e-9) / 2.0)
    wake, sleep = house.people.awake_from_s, house.people.awake_to_s
    return unwrapped([(wake, wake + half_s), (sleep - half_s, sleep)]) if half_s > 0.0 else ()


def medical_window(need: Medical) -> tuple[float, float]:
    """The time of day of a medical need."""
    return need.from_s, need.from_s + min(need.hours_per_day, 24.0 - 1e-9) * 3600.0


def load_tasks(house: House, loads: list[Load], habits: Habits) -> list[Task]:
    """Loads that people switch when there is power: three times a day, or once where they can wait."""
    made: list[Task] = []
    heavy = 0
    for load in loads:
        if load.pattern is not Pattern.ON_DEMAND or load.running_w <= 0.0:
            continue
        if any(need.load == load.id for need in house.medical):
            continue
        due = (house.people.awake_from_s, NOON_S, EVENING_S)
        day_s = min(DAY_S, load.energy_day_j / load.running_w)
        delay = 0.0
        if load.running_w >= habits.heavy_w:
            delay, heavy = habits.heavy_gap_s * (1 + heavy), heavy + 1
        made.append(Task(load.id, load.id, None, day_s / len(due), due, day_s, delay_s=delay))
    return made


def hot_task(house: House, habits: Habits) -> list[Task]:
    """Showers and laundry, put off until the machine runs and the water is warm."""
    hot = house.hot_water
    if hot is None or hot.draw_day_m3 <= 0.0 or habits.hot_in_spells_frac <= 0.0:
        return []
    day_s = hot.draw_day_m3 * habits.hot_in_spells_frac / habits.hot_flow_m3_per_s
    pump = house.load_by_id[house.water.pump_load].circuit if house.water is not None else None
    return [
        Task(
            "hot water", None, pump, day_s, (house.people.awake_from_s,), 2.0 * day_s,
            tap_m3_per_s=habits.hot_flow_m3_per_s * habits.tap_flow_frac, hot_m3_per_s=habits.hot_flow_m3_per_s,
            tank_min_c=hot.lowest_c + 2.0, delay_s=habits.hot_delay_s,
        )
    ]  # fmt: skip


def fill_tasks(house: House, habits: Habits) -> list[Task]:
    """Cans and stock tanks, filled once the machine has run for a while and the pump's circuit is live.

    Where an inverter with charge carries the pump, they are filled when they are due.
    """
    water = house.water
    if water is None:
        return []
    return [
        Task(
            f"fill {fill.name}", None, house.load_by_id[water.pump_load].circuit,
            fill.day_m3 / fill.flow_m3_per_s, (fill.due_s,), 2.0 * fill.day_m3 / fill.flow_m3_per_s,
            tap_m3_per_s=fill.flow_m3_per_s, delay_s=habits.fill_delay_s,
        )
        for fill in water.fills
    ]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Day:
    """Slots of the day and their tables."""

    slot_at: Array
    slots: Array
    want: Array
    medical: Array
    task: Array


def compile_day(
    house: House, loads: list[Load], tasks: list[Task], medical: list[Medical], habits: Habits
) -> Day:
    """All windows of the day cut into slots in which nothing changes."""
    clock = [clock_windows(house, x) for x in loads]
    needs = [unwrapped([medical_window(need)]) for need in medical]
    awake = unwrapped([(house.people.awake_from_s, house.people.awake_to_s)])
    quiet = unwrapped([(house.people.quiet_from_s, house.people.quiet_to_s)])
    stove = _stove_windows(house)
    draws = [unwrapped([(d.from_s, d.to_s)]) for d in habits.draws]
    edges = {0.0, DAY_S}
    for windows in [w for w in clock if w] + needs + draws + [awake, quiet, stove]:
        edges |= {edge for window in windows for edge in window}
    edges |= {due % DAY_S for task in tasks for due in task.due_s}
    at = np.array(sorted(edges))
    starts = at[:-1].tolist()
    taps = _clock_draws(house, tasks, habits)
    slots = np.zeros((len(starts), c.Z_COUNT))
    for i, start in enumerate(starts):
        for share, windows in zip(habits.draws, draws, strict=True):
            if inside(windows, start):
                slots[i, [c.Z_TAP, c.Z_HOT]] += [
                    x * share.share_frac / (share.to_s - share.from_s) for x in taps
                ]
        slots[i, [c.Z_STOVE, c.Z_NIGHT, c.Z_AWAKE]] = [inside(w, start) for w in (stove, quiet, awake)]
        if not inside(awake, start):
            slots[i, c.Z_SETBACK] = house.wishes.night_setback_k
    return Day(
        at,
        slots,
        np.array([[float(bool(w) and inside(w or (), s)) for w in clock] for s in starts]).reshape(
            len(starts), -1
        ),
        np.array([[float(inside(w, s)) for w in needs] for s in starts]).reshape(len(starts), len(needs)),
        np.array([[float(s in [d % DAY_S for d in t.due_s]) for t in tasks] for s in starts]).reshape(
            len(starts), len(tasks)
        ),
    )


def _stove_windows(house: House) -> Windows:
    """The stove burns from the time people get up, for its hours a day."""
    heat = house.heat
    if heat is None or heat.stove_output_w <= 0.0 or heat.stove_hours_per_day <= 0.0:
        return ()
    if heat.stove_hours_per_day >= 24.0:
        return ((0.0, DAY_S),)
    return unwrapped(
        [(house.people.awake_from_s, house.people.awake_from_s + heat.stove_hours_per_day * 3600.0)]
    )


def _clock_draws(house: House, tasks: list[Task], habits: Habits) -> tuple[float, float]:
    """Water and hot water drawn by the clock in a day: what the tasks do not take.

    Of what is not filled, people draw by the clock at least the share that does not wait for the machine: showers
    can be more than the careful use that a house file states, and drinking and flushing do not stop for them.
    """
    by_task = [(t.tap_m3_per_s * t.need_s * len(t.due_s), t.hot_m3_per_s > 0.0) for t in tasks]
    washed, filled = (sum(x for x, hot in by_task if hot is which) for which in (True, False))
    left = max(0.0, house.water.use_day_m3 - filled) if house.water is not None else 0.0
    water = max(left - washed, (1.0 - habits.hot_in_spells_frac) * left)
    hot = (
        house.hot_water.draw_day_m3 * (1.0 - habits.hot_in_spells_frac)
        if house.hot_water is not None
        else 0.0
    )
    return water, hot
