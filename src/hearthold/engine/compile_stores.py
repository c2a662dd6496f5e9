"""House, cold stores, tank and levels as rows of numbers."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np

from hearthold.engine.habits import Habits
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.decays import third
from hearthold.engine.kernels.layout import Array
from hearthold.engine.rows import row, stack
from hearthold.house.fill_cold import mixed_load_curve
from hearthold.house.house import House
from hearthold.house.stores import ColdStore, HotWater, HouseHeat, Pit, WaterSystem
from hearthold.physics.tankheater import WATER_J_PER_M3_K
from hearthold.physics.twonode import decay_integral_kernel, decay_mean_kernel, twonode_modes_kernel

CALM_AIR_C = 20.0  # indoor air of a house without a [heat] section: constant
_STILL_J_PER_K = 1e15


def house_par(par: Array, heat: HouseHeat | None, habits: Habits, loads: dict[str, int]) -> None:
    """Fill the columns of the house; without one the air stands still."""
    c1, c2, u1, u2, g = _nodes(heat)
    modes = twonode_modes_kernel(c1, c2, u1, u2, g)
    par[[c.P_C1, c.P_C2, c.P_U1, c.P_U2, c.P_G]] = c1, c2, u1, u2, g
    par[[c.P_KF, c.P_KS, c.P_W1, c.P_W2, c.P_B1, c.P_B2]] = modes
    par[[c.P_EF, c.P_SF, c.P_ES, c.P_SS]] = _decays(modes, c.HOUR_S)
    par[c.P_AIR_K_PER_W] = (par[c.P_W1] * par[c.P_EF] + par[c.P_W2] * par[c.P_ES]) / c1
    par[[c.P_VF, c.P_VS]] = [third(k, c.HOUR_S, decay_mean_kernel(k, c.HOUR_S) * c.HOUR_S) for k in modes[:2]]
    par[[c.P_HEATER_LOAD, c.P_BLOWER_LOAD]] = -1.0
    par[[c.P_AIR_LOW, c.P_PIPE_LOW]] = -c.FAR
    par[[c.P_AIR0, c.P_MASS0]] = CALM_AIR_C, -c.FAR  # no mass given: in balance with air and outdoors
    par[[c.P_HEAT_ON, c.P_STOVE_ON]] = -c.FAR
    if heat is None:
        return
    par[c.P_HAS_HOUSE] = 1.0
    par[c.P_AIR0] = heat.set_c
    if heat.start_c is not None:
        par[[c.P_AIR0, c.P_MASS0]] = heat.start_c  # a reading of the air; walls and floors are taken as warm
    par[c.P_GAINS] = heat.gains_w
    par[[c.P_HEATER_W, c.P_STOVE_W, c.P_STOVE_DULL]] = (
        heat.heater_output_w, heat.stove_output_w, heat.stove_without_blower_frac,
    )  # fmt: skip
    half = habits.heat_band_k / 2.0
    par[[c.P_HEAT_ON, c.P_HEAT_OFF]] = heat.set_c - half, heat.set_c + half
    par[[c.P_STOVE_ON, c.P_STOVE_OFF]] = heat.set_c + half, heat.set_c + habits.stove_above_k
    par[c.P_AIR_LOW] = heat.lowest_c
    if not heat.pipes_drained:
        par[[c.P_PIPE_RATIO, c.P_PIPE_LOW]] = heat.pipe_ratio, habits.pipe_low_c
    par[c.P_HEATER_LOAD] = loads.get(heat.heater_load or "", -1)
    par[c.P_BLOWER_LOAD] = loads.get(heat.stove_blower_load or "", -1)
    if heat.stove_blower_load and par[c.P_BLOWER_LOAD] < 0.0:
        par[c.P_STOVE_W] *= heat.stove_without_blower_frac  # a blower that no circuit can feed


def _nodes(heat: HouseHeat | None) -> tuple[float, float, float, float, float]:
    if heat is None:
        return _STILL_J_PER_K, _STILL_J_PER_K, 0.0, 0.0, 0.0
    return (
        heat.air_j_per_k, heat.mass_j_per_k, heat.air_outdoor_w_per_k, heat.mass_outdoor_w_per_k, heat.air_mass_w_per_k,
    )  # fmt: skip


def _decays(modes: tuple[float, ...], dt_s: float) -> list[float]:
    """Decay integral and its integral over dt, fast and slow."""
    fast, slow = modes[0], modes[1]
    return [
        decay_integral_kernel(fast, dt_s),
        decay_mean_kernel(fast, dt_s) * dt_s,
        decay_integral_kernel(slow, dt_s),
        decay_mean_kernel(slow, dt_s) * dt_s,
    ]


def cold_tables(
    house: House, habits: Habits, loads: dict[str, int], likely: bool
) -> tuple[Array, Array, Array]:
    """Rows, knots and modes of all cold stores. `likely` makes every freezer one node instead of two."""
    curve = mixed_load_curve()
    stores = [replace(s, shell_frac=1.0, coupling_w_per_k_kg=0.0) if likely else s for s in house.cold]
    segments = len(curve.heat_j_per_kg_k)
    rows = stack((_cold_row(s, habits, loads, curve.knots_c) for s in stores), c.C_COUNT)
    inner = curve.knots_c[1:-1]
    food = np.concatenate([[-c.FAR], inner, [c.FAR]])  # the outer segments are open
    knots = stack((food if s.is_freezer else _no_knots(segments) for s in stores), segments + 1)
    rows[:, c.C_NEXT] = _sharing(rows[:, c.C_LOAD])
    modes = np.zeros((len(stores), segments, segments, c.M_COUNT))
    for k, store in enumerate(stores):
        for i, j in product(range(segments), repeat=2):
            modes[k, i, j, : c.M_UP1] = _cold_modes(
                store, float(curve.heat_j_per_kg_k[i]), float(curve.heat_j_per_kg_k[j])
            )
        _beyond_knots(modes[k])
    return rows, knots, modes


def _sharing(load_of: Array) -> Array:
    """For each store the next one on the same load, after the last the first again."""
    following = np.arange(len(load_of), dtype=float)
    for load in set(load_of.tolist()):
        same = np.flatnonzero(load_of == load)
        following[same] = np.roll(same, -1)
    return following


def _beyond_knots(modes: Array) -> None:
    """Fill, for each pair of segments, the capacity of each node over that beyond its knots; 1 where there is none."""
    modes[:, :, c.M_UP1 :] = 1.0
    first, second = modes[:, :, c.M_C1], modes[:, :, c.M_C2]
    modes[:-1, :, c.M_UP1] = first[:-1] / first[1:]
    modes[1:, :, c.M_DOWN1] = first[1:] / first[:-1]
    modes[:, :-1, c.M_UP2] = second[:, :-1] / second[:, 1:]
    modes[:, 1:, c.M_DOWN2] = second[:, 1:] / second[:, :-1]


def _no_knots(segments: int) -> Array:
    """One segment without ends, for a store of constant heat capacity."""
    return np.concatenate([[-c.FAR], np.full(segments, c.FAR)])


def _cold_modes(s: ColdStore, shell_heat: float, core_heat: float) -> Array:
    c1 = s.cabinet_j_per_k + s.shell_frac * s.contents_kg * shell_heat if s.is_freezer else s.fresh_j_per_k
    core_kg = (1.0 - s.shell_frac) * s.contents_kg if s.is_freezer else 0.0
    coupling = s.coupling_w_per_k_kg * s.contents_kg if core_kg > 0.0 else 0.0
    c2 = core_kg * core_heat if core_kg > 0.0 else 1.0
    modes = twonode_modes_kernel(c1, c2, s.ua_w_per_k, 0.0, coupling)
    return np.array([*modes, c1, c2, *_decays(modes, c.COLD_STEP_S)])


def _cold_row(s: ColdStore, habits: Habits, loads: dict[str, int], knots_c: Array) -> Array:
    half = (habits.freezer_band_k if s.is_freezer else habits.fridge_band_k) / 2.0
    air, out = {"house": (1.0, 0.0), "outside": (0.0, 1.0)}.get(
        s.room, (habits.unheated_frac, 1.0 - habits.unheated_frac)
    )
    segment = float(np.clip(np.searchsorted(knots_c, s.start_c, side="right") - 1, 0, len(knots_c) - 2))
    two_nodes = s.is_freezer and s.shell_frac < 1.0
    return row(
        c.C_COUNT,
        {
            c.C_LOAD: loads.get(s.load, -1),
            c.C_UA: s.ua_w_per_k,
            c.C_G: s.coupling_w_per_k_kg * s.contents_kg if two_nodes else 0.0,
            c.C_COOL_W: s.cooling_w,
            c.C_ON: s.set_c + half,
            c.C_OFF: s.set_c - half,
            c.C_LIMIT: s.limit_c,
            c.C_ROOM_AIR: air,
            c.C_ROOM_OUT: out,
            c.C_SHELL0: s.start_c,
            c.C_CORE0: s.start_c,
            c.C_SEG1: segment if s.is_freezer else 0.0,
            c.C_SEG2: segment if s.is_freezer else 0.0,
        },
    )


def tank_par(par: Array, hot: HotWater | None, habits: Habits, loads: dict[str, int]) -> None:
    """Fill the columns of the tank water heater."""
    par[c.P_TANK_LOAD] = -1.0
    par[[c.P_TANK_ON, c.P_TANK_LOW]] = -c.FAR
    par[c.P_TANK_J] = 1.0
    if hot is None:
        return
    half = habits.tank_band_k / 2.0
    par[c.P_HAS_TANK] = 1.0
    par[[c.P_TANK_J, c.P_TANK_FLOW]] = hot.volume_m3 * WATER_J_PER_M3_K, WATER_J_PER_M3_K
    par[[c.P_TANK_UA, c.P_TANK_W, c.P_TANK_LOW, c.P_TANK_IN]] = (
        hot.ua_w_per_k, hot.heat_w, hot.lowest_c, hot.inlet_c,
    )  # fmt: skip
    par[[c.P_TANK_ON, c.P_TANK_OFF]] = hot.set_c - half, hot.set_c + half
    par[c.P_TANK0] = hot.start_c if hot.start_c is not None else hot.set_c
    par[c.P_TANK_LOAD] = loads.get(hot.load or "", -1)
    by_boiler = hot.heated_by == "boiler"
    by_flame = hot.heated_by == "gas_pilot" and hot.load is None
    by_element = not by_boiler and par[c.P_TANK_LOAD] >= 0.0
    boiler = by_boiler and par[c.P_HEATER_LOAD] >= 0.0
    par[c.P_TANK_BY] = 3.0 if by_flame else 1.0 if by_element else 2.0 if boiler else 0.0


def level_row(
    kind: float, load: int, out: float, inflow: float, on: float, brim: float, start: float
) -> Array:
    """One level: what fills it, when its load is called, where it overflows."""
    return row(
        c.V_COUNT,
        {
            c.V_KIND: kind, c.V_LOAD: load, c.V_OUT: out, c.V_IN: inflow, c.V_ON: on, c.V_CAP: brim, c.V_X0: start,
        },
    )  # fmt: skip


def pit_row(pit: Pit, load: int) -> Array:
    """A pit: called at a full cycle, flooded when its headroom above that is gone.

    It starts at the switch, the worst moment for the grid to fail, so that it floods after headroom over inflow.
    """
    brim = pit.cycle_m3 + pit.headroom_m3
    return level_row(c.PIT, load, pit.pump_m3_per_s, pit.inflow_m3_per_s, pit.cycle_m3, brim, pit.cycle_m3)


def water_row(water: WaterSystem, load: int) -> Array:
    """The pressure tank as room that fills with draws: half a drawdown used at the start."""
    brim = water.drawdown_m3 + water.below_cut_in_m3
    return level_row(
        c.WATER, load, water.pump_m3_per_s, 0.0, water.drawdown_m3, brim, water.drawdown_m3 / 2.0
    )


def cycle_row(duty_frac: float, load: int, habits: Habits) -> Array:
    """A cycling load without a store: seconds of running owed, at its duty."""
    owed = habits.cycle_run_s * (1.0 - duty_frac)
    return level_row(c.CYCLE, load, 1.0, duty_frac, owed, max(owed, habits.cycle_most_s), owed / 2.0)
