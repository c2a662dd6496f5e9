"""Do the balances close? Energy, fuel, water and food, from accounts that are kept apart from the states they check."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array

if TYPE_CHECKING:
    from hearthold.engine.outcomes import Outcomes

WORST_FRAC = 1e-6  # of what went through: a balance off by more is a fault of the program


@dataclass(frozen=True, slots=True)
class Residual:
    """How far one balance is from closing: in its own unit, and as a share of what went through."""

    name: str
    worst: float
    worst_frac: float
    unit: str


def residuals(found_by: Outcomes) -> tuple[Residual, ...]:
    """How far each balance is from closing, at worst over the outages."""
    w, out = found_by.house.world, found_by.account
    found = [_fuel(found_by), _fuel_line(found_by)]
    if found_by.house.has_house:
        held = w.par[c.P_C1] * (out(c.O_AIR_END) - out(c.O_AIR_START))
        held = held + w.par[c.P_C2] * (out(c.O_MASS_END) - out(c.O_MASS_START))
        through = out(c.O_HEAT_J) + np.abs(out(c.O_LOSS_J))
        found.append(_residual("house", held - (out(c.O_HEAT_J) - out(c.O_LOSS_J)), through, "J"))
    if found_by.house.has_tank:
        held = w.par[c.P_TANK_J] * (out(c.O_TANK_END) - w.par[c.P_TANK0])
        given, taken = out(c.O_TANK_IN_J), out(c.O_TANK_OUT_J)
        found.append(
            _residual("tank heater", held - (given - taken), given + np.abs(taken) + np.abs(held), "J")
        )
    if found_by.house.has_battery:
        held = out(c.O_BAT_END) - w.par[c.P_BAT0]
        given, taken = out(c.O_BAT_IN_J), out(c.O_BAT_OUT_J)
        found.append(_residual("battery", held - (given - taken), given + taken, "J"))
    for i, name in enumerate(found_by.house.level_ids):
        u = found_by.level_accounts[:, i]
        held = u[:, c.W_X] - w.levels[i, c.V_X0]
        asked = u[:, c.W_ASKED]
        unit = "s" if w.levels[i, c.V_KIND] == c.CYCLE else "m3"
        found.append(
            _residual(name, held - (asked - u[:, c.W_MOVED] - u[:, c.W_OVER]), asked + np.abs(held), unit)
        )
    for k, name in enumerate(found_by.house.cold_ids):
        d = found_by.cold_accounts[:, k]
        through = np.abs(d[:, c.D_HELD_J]) + w.cold[k, c.C_COOL_W] * d[:, c.D_RUN_S]
        found.append(_residual(name, d[:, c.D_HELD_J] - d[:, c.D_GAIN_J], through, "J"))
    return tuple(found)


def _fuel(found_by: Outcomes) -> Residual:
    """What was there and was brought is burned or left."""
    if found_by.house.world.par[c.P_FUEL_TANK] >= c.FAR * 0.1:
        return Residual("fuel", 0.0, 0.0, "m3")
    start = found_by.house.world.par[c.P_FUEL_TANK0] + found_by.house.world.par[c.P_FUEL_STOCK0]
    left = found_by.account(c.O_FUEL_END) + found_by.account(c.O_STOCK_END)
    off = start + found_by.account(c.O_BROUGHT_M3) - left - found_by.fuel_m3
    return _residual("fuel", off, start + found_by.account(c.O_BROUGHT_M3), "m3")


def _fuel_line(found_by: Outcomes) -> Residual:
    """What was burned lies on the fuel line: so much an hour of running, so much a joule."""
    par = found_by.house.world.par
    by_line = par[c.P_FUEL_A] * found_by.run_s + par[c.P_FUEL_B] * found_by.energy_j
    return _residual("fuel line", found_by.fuel_m3 - by_line, found_by.fuel_m3, "m3")


def _residual(name: str, off: Array, through: Array, unit: str) -> Residual:
    """Worst residual over the outages; what is lost in rounding of a nearly empty account does not count."""
    floor = {"J": 1.0, "m3": 1e-9, "s": 1e-3}[unit]
    shares = np.abs(off) / np.maximum(through, floor)
    return Residual(name, float(np.max(np.abs(off))), float(np.max(shares)), unit)
