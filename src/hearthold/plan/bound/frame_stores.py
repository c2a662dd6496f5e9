"""House, tank and cold stores as constants of a slot."""

from __future__ import annotations

import numpy as np

from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array
from hearthold.physics.twonode import decay_integral_kernel, decay_mean_kernel
from hearthold.plan.bound.common import UnsupportedError, always, energy_price, load_w, outdoors
from hearthold.plan.bound.kernels import layout as b
from hearthold.plan.bound.kernels.layout import Ints
from hearthold.plan.bound.sure import ALWAYS, Sureness
from hearthold.plan.objective import SLOT_S
from hearthold.plan.problem import Problem


def slot_step(modes: Array, c1: float, c2: float, dt: float) -> tuple[Array, Array]:
    """Matrix from rates of change (at the start) to rises over dt, and to integrals of the rises."""
    kf, ks, w1, w2, b1, b2 = modes
    ef, es = decay_integral_kernel(kf, dt), decay_integral_kernel(ks, dt)
    sf, ss = decay_mean_kernel(kf, dt) * dt, decay_mean_kernel(ks, dt) * dt
    rise = np.array([[w1 * ef + w2 * es, b1 * (ef - es)], [b2 * (ef - es), w2 * ef + w1 * es]])
    total = np.array([[w1 * sf + w2 * ss, b1 * (sf - ss)], [b2 * (sf - ss), w2 * sf + w1 * ss]])
    return rise, total


def house_par(problem: Problem, sure: Sureness, par: Array) -> None:
    """Constants of air and mass, heater and stove."""
    p, world = problem.compiled.world.par, problem.compiled.world
    par[b.H_ON], par[b.H_OFF] = p[c.P_HEAT_ON], p[c.P_HEAT_OFF]
    par[b.H_C1], par[b.H_C2] = p[c.P_C1], p[c.P_C2]
    if p[c.P_HAS_HOUSE] == 0.0:
        return
    par[b.F_HOUSE] = 1.0
    c1, c2, u1, u2, g = p[[c.P_C1, c.P_C2, c.P_U1, c.P_U2, c.P_G]].tolist()
    par[[b.H_U1, b.H_U2, b.H_G]] = u1, u2, g
    modes = p[[c.P_KF, c.P_KS, c.P_W1, c.P_W2, c.P_B1, c.P_B2]]
    rise, total = slot_step(modes, c1, c2, SLOT_S)
    rates = np.array([[-(u1 + g) / c1, g / c1], [g / c2, -(u2 + g) / c2]])
    step, mean = np.eye(2) + rise @ rates, SLOT_S * np.eye(2) + total @ rates
    outdoor, watt = np.array([u1 / c1, u2 / c2]), np.array([1.0 / c1, 0.0])
    par[[b.H_E11, b.H_E12, b.H_E21, b.H_E22]] = step.ravel()
    par[[b.H_O1, b.H_O2]], par[[b.H_Q1, b.H_Q2]] = rise @ outdoor, rise @ watt
    par[[b.H_M1, b.H_M2]], par[[b.H_N1, b.H_N2]] = mean
    par[[b.H_MO, b.H_NO]], par[[b.H_MQ, b.H_NQ]] = total @ outdoor, total @ watt
    heater = int(p[c.P_HEATER_LOAD])
    live = sure.live_s[heater] if heater >= 0 else c.FAR
    par[b.F_DELAY] = min(live, SLOT_S)
    part, part_total = slot_step(modes, c1, c2, max(0.0, SLOT_S - par[b.F_DELAY]))
    par[[b.H_L1, b.H_L2]], par[b.H_ML] = part @ watt, (part_total @ watt)[0]
    _impulses(par, modes, c1)
    par[b.H_KD] = np.exp(-(u2 + g) / c2 * SLOT_S)
    par[b.H_GAINS] = p[c.P_GAINS]
    if heater >= 0 and live < SLOT_S:
        par[b.H_W] = p[c.P_HEATER_W]
        shared = min(p[c.P_TANK_W], p[c.P_HEATER_W]) if p[c.P_TANK_BY] == 2.0 else 0.0
        par[b.H_W_LEAST] = p[c.P_HEATER_W] - shared
        par[b.H_SURE] = float(always(sure, heater))
    par[[b.H_STOVE_W, b.H_STOVE_ON, b.H_STOVE_OFF]] = p[[c.P_STOVE_W, c.P_STOVE_ON, c.P_STOVE_OFF]]
    par[b.H_DULL] = p[c.P_STOVE_DULL] if p[c.P_BLOWER_LOAD] >= 0.0 else 1.0
    par[b.H_LOW] = p[c.P_AIR_LOW]
    par[[b.H_RATIO, b.H_FREEZE]] = p[[c.P_PIPE_RATIO, c.P_PIPE_LOW]]
    inside = (world.loads[:, c.L_HEAT_FRAC] > 0.0) & (sure.live_s < c.FAR)
    steady = inside & np.isin(world.loads[:, c.L_KIND], [c.BY_COLD, c.BY_LEVEL, c.BY_BLOWER])
    par[b.H_COMP_W] = float(
        (world.loads[steady][:, [c.L_WA, c.L_WB]].sum(axis=1) * world.loads[steady, c.L_HEAT_FRAC]).sum()
    )
    set_c = 0.5 * (par[b.H_ON] + par[b.H_OFF])
    warmest = set_c - (p[c.P_GAINS] + p[c.P_STOVE_W]) / max(u1 + u2, 1e-9)
    if par[b.H_W] > 0.0 and outdoors(problem).max() < warmest:
        par[b.H_SETTLE] = 1.0
        par[b.H_PRICE] = energy_price(problem) * load_w(problem, heater) / p[c.P_HEATER_W]


def _impulses(par: Array, modes: Array, c1: float) -> None:
    """What is left in air and mass of a joule given at some moment of a slot: least and most, over the mean."""
    times = np.linspace(0.0, SLOT_S, 91)
    kf, ks, w1, w2, _, b2 = modes
    h1 = (w1 * np.exp(-kf * times) + w2 * np.exp(-ks * times)) / c1
    h2 = b2 * (np.exp(-kf * times) - np.exp(-ks * times)) / c1
    par[[b.H_UP1, b.H_UP2]] = h1.max() - par[b.H_Q1] / SLOT_S, 1.001 * h2.max() - par[b.H_Q2] / SLOT_S
    par[[b.H_DOWN1, b.H_DOWN2]] = par[b.H_Q1] / SLOT_S - 0.999 * h1.min(), par[b.H_Q2] / SLOT_S


def tank_par(problem: Problem, sure: Sureness, par: Array) -> None:
    """Constants of the tank and its heater."""
    p = problem.compiled.world.par
    par[b.K_J], par[b.K_FLOW] = p[c.P_TANK_J], p[c.P_TANK_FLOW]
    par[[b.K_UA, b.K_W, b.K_ON, b.K_OFF, b.K_LOW, b.K_IN]] = p[
        [c.P_TANK_UA, c.P_TANK_W, c.P_TANK_ON, c.P_TANK_OFF, c.P_TANK_LOW, c.P_TANK_IN]
    ]
    if p[c.P_HAS_TANK] == 0.0:
        return
    par[b.F_TANK] = 1.0
    by = p[c.P_TANK_BY]
    par[b.K_BY] = by
    load = int(p[c.P_TANK_LOAD]) if by == 1.0 else int(p[c.P_HEATER_LOAD]) if by == 2.0 else -1
    if by in (1.0, 2.0):
        live = sure.live_s[load]
        par[b.K_LIVE_D] = min(live, SLOT_S)
        par[b.K_SURE] = float(sure.sure[load] == ALWAYS)
        if by == 2.0:
            par[b.K_SURE] = float(always(sure, load))
        if live >= SLOT_S:
            par[b.K_BY] = 0.0
        else:
            most_w = p[c.P_TANK_W] if by == 1.0 else max(p[c.P_TANK_W], p[c.P_HEATER_W])
            par[b.K_SHED_W] = load_w(problem, load)
            par[b.K_PRICE] = energy_price(problem) * load_w(problem, load) / most_w
    elif by == 3.0:
        par[b.K_SURE] = 1.0
    if par[b.K_BY] == 1.0 and par[b.K_W] / par[b.K_J] * SLOT_S > 12.0:
        raise UnsupportedError("a tank that heats by more than 12 K in a quarter hour")


def cold_rows(problem: Problem, sure: Sureness, state: Array, at: Ints) -> tuple[Array, Array, Array]:
    """Cold stores: constants, knots and heat capacities by segment."""
    world = problem.compiled.world
    count, segments = len(world.cold), world.modes.shape[1]
    cold, knots, caps = (
        np.zeros((count, b.C_COUNT)),
        np.zeros((count, segments + 1)),
        np.zeros((count, 2, segments)),
    )
    for k, row in enumerate(world.cold):
        load = int(row[c.C_LOAD])
        live = sure.live_s[load] if load >= 0 else c.FAR
        fed = live < SLOT_S
        cool_w = row[c.C_COOL_W] if fed else 0.0
        for i in range(segments):
            caps[k, 0, i], caps[k, 1, i] = world.modes[k, i, 0, c.M_C1], world.modes[k, 0, i, c.M_C2]
        knots[k] = world.knots[k]
        smooth = world.knots[k, 1] >= c.FAR * 0.1
        if smooth:
            knots[k] = np.concatenate([[-c.FAR], np.arange(1, segments) * 1e3, [c.FAR]])
            caps[k] = caps[k, :, :1]
        one = smooth and row[c.C_G] == 0.0 and slow_store(row, caps[k, 0, 0], cool_w)
        price = (
            energy_price(problem) * load_w(problem, load) / row[c.C_COOL_W]
            if fed and row[c.C_COOL_W] > 0.0
            else 0.0
        )
        held = state[at[c.B_COLD] + k * c.D_COUNT + c.D_SHELL], state[at[c.B_COLD] + k * c.D_COUNT + c.D_CORE]
        lacking = state[at[c.B_COLD] + k * c.D_COUNT + c.D_HELD_J] + problem.offset_j[k]
        now = held_at(knots[k], caps[k, 0], held[0]) if not one else caps[k, 0, 0] * held[0]
        if row[c.C_G] > 0.0 or not one:
            now += held_at(knots[k], caps[k, 1], held[1])
        cold[k] = [
            row[c.C_UA], row[c.C_G], cool_w, row[c.C_ON], row[c.C_OFF], row[c.C_LIMIT], row[c.C_ROOM_AIR],
            row[c.C_ROOM_OUT], float(fed and always(sure, load)), live if fed else 0.0, price, float(one),
            load_w(problem, load), now - lacking, 0.5 * (row[c.C_ON] + row[c.C_OFF]), 0.0,
        ]  # fmt: skip
    return cold, knots, caps


def slow_store(row: Array, cap: float, cool_w: float) -> bool:
    """Whether a store takes longer than a slot between its levels, both ways."""
    band = row[c.C_ON] - row[c.C_OFF] - 0.3
    return bool(band * cap > SLOT_S * cool_w and band * cap > SLOT_S * row[c.C_UA] * 40.0 and cool_w > 0.0)


def held_at(knots: Array, caps: Array, at_c: float) -> float:
    """Heat held by a node, from its first finite knot on."""
    from hearthold.plan.bound.kernels.cold import _heat_at

    return float(_heat_at(knots, caps, at_c))
