"""One outage by a general-purpose integrator: the oracle of the engine.

The same model (tables of a compiled house) moved by scipy's DOP853 with terminal events at every thermostat, float
switch and level, one smooth stretch after another. Room coupling is continuous here; food is held as enthalpy and
read back through the curve, not moved from segment to segment. What runs is decided in `ivp_rules`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from ivp_rules import BY_MACHINE, DAY, HOUR, NOTHING, TINY, Rules
from scipy.integrate import solve_ivp

from hearthold.engine.kernels import layout as c
from hearthold.house.fill_cold import mixed_load_curve


@dataclass
class Answer:
    """Samples at each minute and totals."""

    minute_s: np.ndarray
    air_c: np.ndarray
    mass_c: np.ndarray
    tank_c: np.ndarray
    cold_c: np.ndarray
    levels: np.ndarray
    fuel_m3: float
    run_s: float
    over: np.ndarray
    battery_j: np.ndarray
    short_s: np.ndarray  # of each medical need, beyond its own battery


class Oracle(Rules):
    """State, tables and the loop from switching to switching."""

    def __init__(self, house, store_objects, rule, outside, start_s, length_s, rtol=1e-9):
        self.w, self.rule, self.outdoor, self.sun = house.world, rule, outside.outdoor_c, outside.solar_w
        self.p, self.start, self.length, self.rtol = house.world.par, start_s, length_s, rtol
        self.curve = mixed_load_curve()
        self.stores = store_objects
        self.k, self.v = len(self.w.cold), len(self.w.levels)
        self.n, self.j, self.m = len(self.w.loads), len(self.w.tasks), len(self.w.medical)
        self._boxes()
        self._begin()

    # --- food: temperature from enthalpy ------------------------------------------------------------------

    def _boxes(self):
        """Knots of T(H) for shell and core of each store, in J from -40 degC."""
        self.box = []
        t, h = self.curve.knots_c, self.curve.knots_j_per_kg
        for store in self.stores:
            if not store.is_freezer:
                self.box.append(None)
                continue
            shell_kg = store.shell_frac * store.contents_kg
            core_kg = store.contents_kg - shell_kg
            shell = shell_kg * h + store.cabinet_j_per_k * (t - t[0])
            self.box.append((shell, core_kg * h, t, store.coupling_w_per_k_kg * store.contents_kg, core_kg))

    @staticmethod
    def _read(value, held, t):
        """Straight between knots and straight on beyond the last."""
        if value >= held[-1]:
            return t[-1] + (value - held[-1]) * (t[-1] - t[-2]) / (held[-1] - held[-2])
        return float(np.interp(value, held, t))

    def cold_temps(self, y, k):
        """Shell and core of store k."""
        a, b = y[3 + 2 * k], y[4 + 2 * k]
        if self.box[k] is None:
            return a, a
        shell, core, t, _, core_kg = self.box[k]
        return self._read(a, shell, t), self._read(b, core, t) if core_kg > 0.0 else self._read(a, shell, t)

    # --- start ----------------------------------------------------------------------------------------------

    def _begin(self):
        p, w = self.p, self.w
        hour = int(self.start // HOUR)
        first = max(0, hour - 23)
        mean = np.mean(self.outdoor[first : first + 24])
        air = max(p[c.P_AIR0], mean)
        mass = (p[c.P_G] * air + p[c.P_U2] * mean) / (p[c.P_G] + p[c.P_U2])
        if p[c.P_MASS0] > -1e20:  # a reading of the air
            air, mass = p[c.P_AIR0], p[c.P_MASS0]
        y = [air, mass, p[c.P_TANK0]]
        for k in range(self.k):
            t0 = w.cold[k, c.C_SHELL0]
            if self.box[k] is None:
                y += [t0, t0]
            else:
                shell, core, t, _, _ = self.box[k]
                y += [float(np.interp(t0, t, shell)), float(np.interp(t0, t, core))]
        y += list(w.levels[:, c.V_X0])
        y += [p[c.P_BAT0] if p[c.P_HAS_BATTERY] != 0.0 else 0.0, *w.medical[:, c.H_OWN_S]]
        self.y = np.array(y)
        self.scale = np.concatenate(
            [
                [1, 1, 1],
                np.tile([1e5, 1e5], self.k),
                np.maximum(1e-3, w.levels[:, c.V_CAP]),
                [1e6],
                np.full(self.m, 1e3),
            ]
        )
        for k in range(self.k):
            if self.box[k] is None:
                self.scale[3 + 2 * k : 5 + 2 * k] = 1.0
        self.t, self.fuel, self.stock = 0.0, p[c.P_FUEL_TANK0], p[c.P_FUEL_STOCK0]
        self.burned = self.run_time = 0.0
        self.on, self.on_at, self.base, self.spell, self.ready = False, 0.0, 0.0, -1, -1.0
        self.run = np.zeros(self.n, bool)
        self.call_heat = self.call_tank = False
        self.call_cold = np.zeros(self.k, bool)
        self.call_level = np.zeros(self.v, bool)
        self.owed = np.zeros(self.j)
        self.busy_task = np.zeros(self.j, bool)
        self.busy = -1.0
        self.over = np.zeros(self.v)
        self.refill = self.down = False
        self.source, self.short = NOTHING, np.zeros(self.m)
        slot = int(np.searchsorted(w.slot_at, self.start % DAY, side="right") - 1)
        self._enter_slot(slot)
        self._latch()

    def battery(self):
        """Energy in the house battery, J."""
        return self.y[3 + 2 * self.k + self.v]

    def own(self):
        """Seconds of use left in each own battery."""
        return self.y[4 + 2 * self.k + self.v :]

    def _enter_slot(self, slot):
        self.slot = slot
        for i in np.flatnonzero(self.w.slot_task[slot]):
            self.owed[i] = min(self.owed[i] + self.w.tasks[i, c.J_NEED_S], self.w.tasks[i, c.J_MOST_S])

    def _latch(self):
        """Thermostats and floats as they stand, with a hair of tolerance."""
        p, w, y, tol = self.p, self.w, self.y, 2e-7
        shift = w.slots[self.slot, c.Z_SETBACK]
        if y[0] <= p[c.P_HEAT_ON] - shift + tol:
            self.call_heat = True
        elif y[0] >= p[c.P_HEAT_OFF] - shift - tol:
            self.call_heat = False
        if y[2] <= p[c.P_TANK_ON] + tol:
            self.call_tank = True
        elif y[2] >= p[c.P_TANK_OFF] - tol:
            self.call_tank = False
        for k in range(self.k):
            shell, _ = self.cold_temps(y, k)
            if shell >= w.cold[k, c.C_ON] - tol:
                self.call_cold[k] = True
            elif shell <= w.cold[k, c.C_OFF] + tol:
                self.call_cold[k] = False
        for i in range(self.v):
            x, brim = y[3 + 2 * self.k + i], w.levels[i, c.V_CAP]
            if x >= w.levels[i, c.V_ON] - 1e-8 * brim:
                self.call_level[i] = True
            elif x <= 1e-8 * brim:
                self.call_level[i] = False

    # --- motion -----------------------------------------------------------------------------------------------

    def _flows(self):
        tap, hot = self.w.slots[self.slot, [c.Z_TAP, c.Z_HOT]]
        for i in np.flatnonzero(self.busy_task):
            tap += self.w.tasks[i, c.J_TAP]
            hot += self.w.tasks[i, c.J_HOT]
        if self.dry():
            hot = 0.0
        return tap, hot

    def _rates(self):
        """The right-hand side with everything that is switched held fixed."""
        p, w, loads = self.p, self.w, self.w.loads
        tap, hot = self._flows()
        heat = p[c.P_GAINS] + float(
            np.sum(loads[self.run, c.L_HEAT_FRAC] * (loads[self.run, c.L_WA] + loads[self.run, c.L_WB]))
        )
        boiler = int(p[c.P_HEATER_LOAD])
        if boiler >= 0 and self.run[boiler] and self.call_heat:
            shared = p[c.P_TANK_BY] == 2.0 and self.call_tank
            heat += p[c.P_HEATER_W] - (min(p[c.P_TANK_W], p[c.P_HEATER_W]) if shared else 0.0)
        heater = {0.0: -1, 1.0: int(p[c.P_TANK_LOAD]), 2.0: boiler, 3.0: -1}[p[c.P_TANK_BY]]
        burns = p[c.P_TANK_BY] == 3.0 or (heater >= 0 and self.run[heater])
        element = p[c.P_TANK_W] if self.call_tank and burns else 0.0
        outdoor = self.outdoor[int((self.start + self.t + 1e-6) // HOUR)]
        cooling = [
            w.cold[k, c.C_COOL_W] if self.run[int(w.cold[k, c.C_LOAD])] else 0.0 for k in range(self.k)
        ]
        rates = []
        for i in range(self.v):
            row = w.levels[i]
            inflow = tap if i == int(p[c.P_WATER_LEVEL]) else row[c.V_IN]
            rate = inflow - (row[c.V_OUT] if row[c.V_LOAD] >= 0 and self.run[int(row[c.V_LOAD])] else 0.0)
            x = self.y[3 + 2 * self.k + i]
            if rate > 0.0 and x >= row[c.V_CAP] * (1 - 1e-8):
                self.spill[i], rate = rate, 0.0
            else:
                self.spill[i] = 0.0
            rates.append(rate)
        hour = int((self.start + self.t + 1e-6) // HOUR)
        self.charge_w, battery = self._charge(outdoor, self.sun[hour])
        rates.append(battery)
        for i, rate in enumerate(self._own_rates()):
            left, full = self.own()[i], w.medical[i, c.H_OWN_S]
            self.lacking[i] = -rate if rate < 0.0 and left <= 1e-8 * max(1.0, full) else 0.0
            stuck = self.lacking[i] > 0.0 or (rate > 0.0 and left >= full * (1 - 1e-9))
            rates.append(0.0 if stuck else rate)

        def f(_, y):
            air, mass, tank = y[0], y[1], y[2]
            out = np.empty_like(y)
            out[0] = (p[c.P_U1] * (outdoor - air) + p[c.P_G] * (mass - air) + heat) / p[c.P_C1]
            out[1] = (p[c.P_U2] * (outdoor - mass) + p[c.P_G] * (air - mass)) / p[c.P_C2]
            out[2] = (
                p[c.P_TANK_UA] * (air - tank) + p[c.P_TANK_FLOW] * hot * (p[c.P_TANK_IN] - tank) + element
            ) / p[c.P_TANK_J]
            for k in range(self.k):
                shell, core = self.cold_temps(y, k)
                room = w.cold[k, c.C_ROOM_AIR] * air + w.cold[k, c.C_ROOM_OUT] * outdoor
                gain = w.cold[k, c.C_UA] * (room - shell) - cooling[k]
                if self.box[k] is None:
                    out[3 + 2 * k] = out[4 + 2 * k] = gain / w.modes[k, 0, 0, c.M_C1]
                else:
                    across = self.box[k][3] * (core - shell) if self.box[k][4] > 0.0 else 0.0
                    out[3 + 2 * k], out[4 + 2 * k] = gain + across, -across
            out[3 + 2 * self.k :] = rates
            return out

        return f, rates

    def _events(self, rates):
        """Terminal events: every switch that could move from where it stands."""
        p, w, found = self.p, self.w, []

        def at(read, level, way):
            def event(_, y):
                return read(y) - level

            event.terminal, event.direction = True, way
            found.append(event)

        shift = w.slots[self.slot, c.Z_SETBACK]
        level = p[c.P_HEAT_OFF] if self.call_heat else p[c.P_HEAT_ON]
        at(lambda y: y[0], level - shift, 1 if self.call_heat else -1)
        at(lambda y: y[2], p[c.P_TANK_OFF] if self.call_tank else p[c.P_TANK_ON], 1 if self.call_tank else -1)
        if p[c.P_TANK_READY] > -1e20 and abs(self.y[2] - p[c.P_TANK_READY]) > 1e-6:
            at(lambda y: y[2], p[c.P_TANK_READY], 0)
        for k in range(self.k):
            on = self.call_cold[k]
            at(lambda y, k=k: self.cold_temps(y, k)[0], w.cold[k, c.C_OFF if on else c.C_ON], -1 if on else 1)
        return found

    def _level_time(self, rates):
        """When the next float or pressure switch is reached: all straight lines."""
        soonest = np.inf
        for i, rate in enumerate(rates[: self.v]):
            x, row = self.y[3 + 2 * self.k + i], self.w.levels[i]
            marks = []
            if rate > 0.0:
                marks = [m for m in (row[c.V_ON], row[c.V_CAP]) if m > x + 1e-8 * row[c.V_CAP]]
            elif rate < 0.0:
                marks = [0.0]
            for mark in marks:
                soonest = min(soonest, self.t + max(0.0, (mark - x) / rate))
        p, tail = self.p, self.y[3 + 2 * self.k + self.v :]
        ends = [[0.0, p[c.P_BAT_RESTART_J], p[c.P_BAT_J]]] + [[0.0, x] for x in self.w.medical[:, c.H_OWN_S]]
        for x, rate, marks in zip(tail, rates[self.v :], ends, strict=True):
            for mark in marks:
                if (mark - x) * rate > 1e-9 * marks[-1] * abs(rate):
                    soonest = min(soonest, self.t + (mark - x) / rate)
        return soonest

    def solve(self):
        """From the failure of the grid to the end."""
        minutes = np.arange(0.0, self.length + 1e-6, 60.0)
        kept = np.empty((len(minutes), len(self.y)))
        kept[0] = self.y
        done = 1
        self.spill, self.lacking = np.zeros(self.v), np.zeros(self.m)
        while self.t < self.length - TINY:
            ask = min(self.length, self._machine())
            ask = min(ask, self._circuits())
            self._settle()
            f, rates = self._rates()
            of_day = (self.start + self.t + TINY) % DAY - TINY
            ask = min(
                ask,
                self.t + self.w.slot_at[self.slot + 1] - of_day,
                (np.floor((self.start + self.t) / HOUR + 1e-9) + 1) * HOUR - self.start,
            )
            if self.busy > self.t + 1e-9:
                ask = min(ask, self.busy)
            given_w = self.watts + self.charge_w if self.source == BY_MACHINE else 0.0
            burn = self.p[c.P_FUEL_A] + self.p[c.P_FUEL_B] * given_w if self.on else 0.0
            if self.on:
                ask = min(ask, self.t + self.fuel / burn)
            ask = min(ask, self._level_time(rates))
            for i in range(self.j):
                if self.busy_task[i]:
                    ask = min(ask, self.t + self.owed[i])
                elif self.owed[i] > 1e-6 and self.on:
                    due = self.on_at + self.w.tasks[i, c.J_DELAY_S]
                    if due > self.t + TINY:
                        ask = min(ask, due)
            end = max(ask, self.t + 1e-6)
            found = solve_ivp(
                f, (self.t, end), self.y, method="DOP853", rtol=self.rtol, atol=self.rtol * self.scale,
                events=self._events(rates) or None, dense_output=True, max_step=1800.0,
            )  # fmt: skip
            now = found.t[-1]
            while done < len(minutes) and minutes[done] <= now + 1e-9:
                kept[done] = found.sol(min(minutes[done], now))
                done += 1
            dt = now - self.t
            self.over += self.spill * dt
            self.short += self.lacking * dt
            self.owed[self.busy_task] = np.maximum(0.0, self.owed[self.busy_task] - dt)
            self.burned += burn * dt
            self.fuel = max(0.0, self.fuel - burn * dt)
            self.run_time += dt if self.on else 0.0
            self.t, self.y = now, found.y[:, -1].copy()
            slot = int(np.searchsorted(self.w.slot_at, (self.start + self.t + TINY) % DAY, side="right") - 1)
            if slot != self.slot:
                self._enter_slot(slot)
            self._latch()
        temps = np.array([[self.cold_temps(y, k)[0] for k in range(self.k)] for y in kept])
        return Answer(
            minutes,
            kept[:, 0],
            kept[:, 1],
            kept[:, 2],
            temps,
            kept[:, 3 + 2 * self.k : 3 + 2 * self.k + self.v],
            self.burned,
            self.run_time,
            self.over,
            kept[:, 3 + 2 * self.k + self.v],
            self.short,
        )
