"""Machine, fuel and battery as numbers: limits of each source, the fuel line, tank, stock and trips."""

from __future__ import annotations

from math import inf, isinf

import numpy as np

from hearthold.engine.habits import Habits
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array
from hearthold.errors import InputError
from hearthold.house.house import House
from hearthold.house.supply import FuelKind
from hearthold.sizing.burn import burn, container_m3
from hearthold.sizing.chain import chain
from hearthold.sizing.fuel import stock_m3
from hearthold.sizing.inverter import inverter
from hearthold.sizing.supply import preferred_fuel, rating_on, supply


def fuel_kind(house: House, fuel: str | None) -> FuelKind:
    """The fuel a run burns: the one named, else the preferred one. Raises InputError for an unknown name."""
    if fuel is None:
        return preferred_fuel(house)
    try:
        return FuelKind(fuel)
    except ValueError:
        raise InputError(
            f"fuel is {fuel!r}; allowed: {', '.join(kind.value for kind in FuelKind)}.", code="unknown_fuel"
        ) from None


def limit_table(house: House, habits: Habits, fuel: str | None) -> Array:
    """Running and starting limits of the machine and of the inverter, one row each; no machine is all zero.

    A leg holds what the weakest link of the hookup lets through. A start is held by the engine's watts and, for an
    alternator, by the dip that is let happen: X s/(1 + X s) = dip; a set that limits its current holds its rating.
    """
    limits = np.zeros((2, c.LIM_COUNT))
    if house.generator is not None:
        limits[0] = _machine_limits(house, habits, fuel)
    if house.battery is not None:
        limits[1] = _inverter_limits(house)
    return limits


def _machine_limits(house: House, habits: Habits, fuel: str | None) -> tuple[float, ...]:
    source = supply(house, fuel=fuel_kind(house, fuel))
    leg_v = house.system.leg_voltage_v
    run_w, leg_va = source.running_w, source.leg_limit_w
    if house.hookup is not None and not house.on_cords:  # cords side by side have no way in common
        links = chain(house, source)
        run_w = min(run_w, links.delivered_w)
        leg_va = min(leg_va, links.leg_a * leg_v)
    start_va = source.start_va
    if not source.limits_current and source.reactance_frac[1] > 0.0:
        dip = habits.start_dip_frac
        start_va = source.running_va * dip / (1.0 - dip) / source.reactance_frac[1]
    leg_start_va = start_va * min(1.0, source.leg_limit_w / source.running_w)
    return run_w, source.leg_limit_w, leg_va, source.start_w, start_va, leg_start_va


def _inverter_limits(house: House) -> tuple[float, ...]:
    found = inverter(house)
    if found is None:
        return (0.0,) * 6
    leg_w, start_va = found.leg_limit_w, found.start_va
    return found.running_w, leg_w, leg_w, start_va, start_va, found.leg_start_va


def inverter_carries(limits: Array, load: Array) -> bool:
    """Whether the inverter starts and runs a load alone, by the kernels' own rule."""
    from hearthold.engine.kernels.choose import start_va, within

    running, starting = load[c.L_WA : c.L_QB + 1].tolist(), load[c.L_SWA : c.L_SQB + 1].tolist()
    return within(limits[1], 0, *running) and (
        load[c.L_MOTOR] == 0.0 or start_va(limits[1], 0, *starting) >= 0.0
    )


def fuel_par(par: Array, house: House, habits: Habits, fuel: str | None) -> float:
    """Fill the columns of fuel; returns what is there at the start (inf on a gas main)."""
    par[c.P_TRIP_S] = c.FAR
    par[[c.P_COOL_S, c.P_REFILL_S, c.P_REFILL_BELOW]] = (
        house.wishes.cool_down_s,
        habits.refill_s,
        habits.refill_below_frac,
    )
    if house.generator is None:
        return 0.0
    kind = fuel_kind(house, fuel)
    line = burn(house, kind)
    par[c.P_FUEL_A] = line.line.no_load_fuel_w / line.lhv_j_per_m3
    par[c.P_FUEL_B] = line.line.slope_w_per_w / line.lhv_j_per_m3
    rating, _ = rating_on(house.generator, kind)
    held_m3 = container_m3(rating) if rating.fuel is kind else None
    if held_m3 is not None and rating.tank_m3 is None:
        held_m3 *= rating.cylinders_joined
    stock = stock_m3(house, kind) if house.fuel is not None else (held_m3 or 0.0)
    set_fuel(par, held_m3 if held_m3 is not None else inf, stock)
    trip = house.fuel.trip if house.fuel is not None else None
    if trip is not None and trip.brings_m3 and trip.works_in_outage:
        par[[c.P_TRIP_S, c.P_TRIP_M3, c.P_TRIPS_MOST]] = trip.time_s, trip.brings_m3, c.FAR
        par[c.P_TRIP_BELOW] = min(held_m3 or trip.brings_m3, trip.brings_m3)
    return stock


def set_fuel(par: Array, tank_m3: float, start_m3: float) -> None:
    """Tank and stock from all the fuel that is there at the start; the tank is filled from it first."""
    tank = c.FAR if isinf(tank_m3) or isinf(start_m3) else tank_m3
    start = c.FAR if isinf(start_m3) else start_m3
    par[c.P_FUEL_TANK] = tank
    par[c.P_FUEL_TANK0] = min(tank, start)
    par[c.P_FUEL_STOCK0] = 0.0 if isinf(start_m3) else max(0.0, start - tank)


def battery_par(par: Array, house: House, habits: Habits) -> None:
    """Fill the columns of the battery; full at the start. Energies are usable ones."""
    battery = house.battery
    if battery is None:
        par[c.P_BAT0] = c.FAR
        return
    usable_j = battery.capacity_j * battery.usable
    par[c.P_HAS_BATTERY] = 1.0
    par[[c.P_BAT_J, c.P_BAT0]] = usable_j
    par[[c.P_BAT_CHARGE_W, c.P_BAT_IN, c.P_BAT_OUT]] = (
        battery.charge_w, battery.charge_efficiency, battery.discharge_efficiency,
    )  # fmt: skip
    par[c.P_BAT_IDLE_W] = battery.idle_w
    par[c.P_BAT_RESTART_J] = habits.battery_restart_frac * usable_j
    par[c.P_BAT_MIN_C] = habits.battery_min_charge_c if battery.chemistry == "lfp" else -c.FAR
    par[c.P_BAT_INSIDE] = float(battery.place == "heated")
