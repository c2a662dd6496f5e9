"""One outage by a general-purpose integrator: the oracle of the engine.

The same model (tables of a compiled house) moved by scipy's DOP853 with terminal events at every thermostat, float
switch and level, one smooth stretch after another. Room coupling is continuous here; food is held as enthalpy and
read back through the curve, not moved from segment to segment. Only routines; no battery, no refuelling trips.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp

from hearthold.engine.kernels import layout as c
from hearthold.house.fill_cold import mixed_load_curve

DAY, HOUR = 86400.0, 3600.0
TINY = 1e-6


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


class Oracle:
    """State, tables and the loop from switching to switching."""

    def __init__(self, house, store_objects, rule, outdoor_c, start_s, length_s, rtol=1e-9):
        self.w, self.rule, self.outdoor = house.world, rule, outdoor_c
        self.p, self.start, self.length, self.rtol = house.world.par, start_s, length_s, rtol
        self.curve = mixed_load_curve()
        self.stores = store_objects
        self.k, self.v = len(self.w.cold), len(self.w.levels)
        self.n, self.j = len(self.w.loads), len(self.w.tasks)
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
        y = [air, mass, p[c.P_TANK0]]
        for k in range(self.k):
            t0 = w.cold[k, c.C_SHELL0]
            if self.box[k] is None:
                y += [t0, t0]
            else:
                shell, core, t, _, _ = self.box[k]
                y += [float(np.interp(t0, t, shell)), float(np.interp(t0, t, core))]
        y += list(w.levels[:, c.V_X0])
        self.y = np.array(y)
        self.scale = np.concatenate(
            [[1, 1, 1], np.tile([1e5, 1e5], self.k), np.maximum(1e-3, w.levels[:, c.V_CAP])]
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
        self.refill = False
        slot = int(np.searchsorted(w.slot_at, self.start % DAY, side="right") - 1)
        self._enter_slot(slot)
        self._latch()

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

    # --- who runs -------------------------------------------------------------------------------------------

    def _want(self, j):
        load, w = self.w.loads[j], self.w
        kind, which = load[c.L_KIND], int(load[c.L_WHICH])
        if kind == c.BY_CLOCK:
            return w.slot_want[self.slot, j] != 0.0
        if kind == c.BY_COLD:
            return bool(np.any(self.call_cold[w.cold[:, c.C_LOAD] == j]))
        if kind == c.BY_HEATER:
            return self.call_heat
        if kind == c.BY_TANK:
            return self.call_tank
        if kind == c.BY_LEVEL:
            return bool(self.call_level[which])
        return bool(self.busy_task[which])

    def _fits(self, sums, load, motor):
        a, qa, b, qb = sums + load[c.L_WA : c.L_WA + 4]
        lim = self.w.limits[0]
        if a + b > lim[c.LIM_RUN_W] or max(a, b) > lim[c.LIM_LEG_W]:
            return False
        if max(np.hypot(a, qa), np.hypot(b, qb)) > lim[c.LIM_LEG_VA]:
            return False
        if not motor:
            return True
        a, qa, b, qb = sums + load[c.L_SWA : c.L_SWA + 4]
        leg = max(np.hypot(a, qa), np.hypot(b, qb))
        return (
            a + b <= lim[c.LIM_START_W]
            and np.hypot(a + b, qa + qb) <= lim[c.LIM_START_VA]
            and leg <= lim[c.LIM_LEG_START_VA]
        )

    def _settle(self):  # noqa: C901 - one settling in one place, as the engine has it
        """Tasks, then loads in order of priority: what runs stays, what wants to start does if it fits."""
        for i in range(self.j):
            task = self.w.tasks[i]
            ready = self.owed[i] > 1e-6 and self.on and self.t - self.on_at >= task[c.J_DELAY_S] - TINY
            if ready and not self.busy_task[i] and self.y[2] < task[c.J_TANK_MIN] - 1e-6:
                ready = False
            if ready and task[c.J_LOAD] < 0.0 and not self.live[int(task[c.J_CIRCUIT])]:
                ready = False
            self.busy_task[i] = ready
        loads = self.w.loads
        want = [self.on and self._want(j) and self.live[int(loads[j, c.L_CIRCUIT])] for j in range(self.n)]
        sums, chosen = np.zeros(4), np.zeros(self.n, bool)
        for j in range(self.n):
            if want[j] and self.run[j] and self._fits(sums, loads[j], False):
                chosen[j] = True
                sums += loads[j, c.L_WA : c.L_WA + 4]
        for j in range(self.n):
            if not want[j] or self.run[j]:
                continue
            motor = loads[j, c.L_MOTOR] != 0.0
            if motor and self.busy > self.t + 1e-9:
                continue
            if not self._fits(sums, loads[j], motor):
                room = self._make_room(sums, chosen, j, motor)
                if room is None:
                    continue
                sums = room
            if motor:
                self.busy = self.t + loads[j, c.L_RUN_UP_S]
            chosen[j] = True
            sums += loads[j, c.L_WA : c.L_WA + 4]
        self.run = chosen
        self.watts = float(np.sum(loads[chosen, c.L_WA] + loads[chosen, c.L_WB]))
        for i in range(self.j):
            load = int(self.w.tasks[i, c.J_LOAD])
            if load >= 0 and not self.run[load]:
                self.busy_task[i] = False

    def _make_room(self, sums, chosen, j, motor):
        loads, trial, dropped = self.w.loads, sums.copy(), []
        for i in range(self.n - 1, -1, -1):
            if loads[i, c.L_RANK] <= loads[j, c.L_RANK]:
                break
            if chosen[i]:
                trial -= loads[i, c.L_WA : c.L_WA + 4]
                dropped.append(i)
                if self._fits(trial, loads[j], motor):
                    chosen[dropped] = False
                    return trial
        return None

    # --- machine ----------------------------------------------------------------------------------------------

    def _by_clock(self):
        """Whether a spell is under way, which, since when, and when to ask again."""
        local = (self.start + self.t) % DAY
        ask, found = np.inf, None
        for i, (begin, end) in enumerate(self.rule.spells):
            since = (local - begin + TINY) % DAY - TINY
            if since < end - begin - TINY:
                found = (i, self.t - since)
                ask = min(ask, self.t + end - begin - since)
            else:
                ask = min(ask, self.t + DAY - since)
        return found, ask

    def _machine(self):
        """Start, stop, dry, refill; returns the next time that matters to it."""
        found, ask = self._by_clock()
        p = self.p
        if self.refill and self.t >= self.ready - TINY:
            poured = min(self.stock, p[c.P_FUEL_TANK] - self.fuel)
            self.fuel, self.stock, self.refill = self.fuel + poured, self.stock - poured, False
        if self.on and (found is None or self.fuel <= 1e-12):
            self.on, self.ready = False, self.t
            if self.fuel < p[c.P_REFILL_BELOW] * p[c.P_FUEL_TANK] and self.stock > 1e-12:
                self.refill, self.ready = True, self.t + p[c.P_COOL_S] + p[c.P_REFILL_S]
        if not self.on and found is not None and self.t >= self.ready - TINY and self.fuel > 1e-12:
            self.on, self.on_at, self.base = True, self.t, self.t + self.rule.ctl[0 + 2]
            self.spell = found
        if not self.on and self.refill:
            ask = min(ask, self.ready)
        return ask

    def _circuits(self):
        self.live = np.zeros(len(self.w.circuit_fed), bool)
        ask = np.inf
        if not self.on:
            return ask
        for spell, which, on, off, rank in self.rule.steps:
            if spell >= 0 and spell != self.spell[0]:
                continue
            begin = max(self.spell[1] + on, self.base + rank * self.rule.ctl[3])
            end = self.spell[1] + off
            if begin - TINY <= self.t < end - TINY:
                self.live[int(which)] = self.w.circuit_fed[int(which)] != 0.0
                ask = min(ask, end)
            elif self.t < begin < end:
                ask = min(ask, begin)
        return ask

    # --- motion -----------------------------------------------------------------------------------------------

    def _flows(self):
        tap, hot = self.w.slots[self.slot, [c.Z_TAP, c.Z_HOT]]
        for i in np.flatnonzero(self.busy_task):
            tap += self.w.tasks[i, c.J_TAP]
            hot += self.w.tasks[i, c.J_HOT]
        water = int(self.p[c.P_WATER_LEVEL])
        if water >= 0:
            x, row = self.y[3 + 2 * self.k + water], self.w.levels[water]
            if x >= row[c.V_CAP] * (1 - 1e-8) and not self.run[int(row[c.V_LOAD])]:
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
            heat += p[c.P_HEATER_W]
        element = p[c.P_TANK_W] if self.run[int(p[c.P_TANK_LOAD])] and p[c.P_TANK_LOAD] >= 0 else 0.0
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
        for i, rate in enumerate(rates):
            x, row = self.y[3 + 2 * self.k + i], self.w.levels[i]
            marks = []
            if rate > 0.0:
                marks = [m for m in (row[c.V_ON], row[c.V_CAP]) if m > x + 1e-8 * row[c.V_CAP]]
            elif rate < 0.0:
                marks = [0.0]
            for mark in marks:
                soonest = min(soonest, self.t + max(0.0, (mark - x) / rate))
        return soonest

    def solve(self):
        """From the failure of the grid to the end."""
        minutes = np.arange(0.0, self.length + 1e-6, 60.0)
        kept = np.empty((len(minutes), len(self.y)))
        kept[0] = self.y
        done = 1
        self.spill = np.zeros(self.v)
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
            burn = self.p[c.P_FUEL_A] + self.p[c.P_FUEL_B] * self.watts if self.on else 0.0
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
            kept[:, 3 + 2 * self.k :],
            self.burned,
            self.run_time,
            self.over,
        )
