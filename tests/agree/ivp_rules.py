"""Who runs and from what, for the oracle of the engine: machine, inverter, circuits, loads, tasks, own batteries.

Written apart from the kernels, load by load and task by task, with nothing kept from one settling to the next but
what a house itself keeps. Only routines; no refuelling trips, no stove, a managed supply.
"""

from __future__ import annotations

import numpy as np

from hearthold.engine.kernels import layout as c

DAY, HOUR = 86400.0, 3600.0
TINY = 1e-6
NOTHING, BY_MACHINE, BY_INVERTER = "nothing", "machine", "inverter"


class Rules:
    """Decisions; the state that they read is that of `ivp_oracle.Oracle`."""

    # --- who runs -------------------------------------------------------------------------------------------

    def _want(self, j):
        load, w = self.w.loads[j], self.w
        kind, which = load[c.L_KIND], int(load[c.L_WHICH])
        if kind == c.BY_CLOCK:
            return w.slot_want[self.slot, j] != 0.0
        if kind == c.BY_COLD:
            return bool(np.any(self.call_cold[w.cold[:, c.C_LOAD] == j]))
        if kind == c.BY_HEATER:
            return self.call_heat or (self.p[c.P_TANK_BY] == 2.0 and self.call_tank)
        if kind == c.BY_TANK:
            return self.call_tank
        if kind == c.BY_CHARGER:
            rows = np.flatnonzero((w.medical[:, c.H_CHARGER] == j) & (w.medical[:, c.H_RATE] > 0.0))
            return bool(np.any(self.own()[rows] < w.medical[rows, c.H_OWN_S] * (1.0 - 1e-9)))
        if kind == c.BY_LEVEL:
            return bool(self.call_level[which])
        return bool(self.busy_task[which])

    def _fits(self, sums, load, motor):
        a, qa, b, qb = sums + load[c.L_WA : c.L_WA + 4]
        lim = self.w.limits[1 if self.source == BY_INVERTER else 0]
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
            self.busy_task[i] = self._ready(i, self.w.tasks[i])
        loads = self.w.loads
        want = [
            self.source != NOTHING and self._want(j) and self.live[int(loads[j, c.L_CIRCUIT])]
            for j in range(self.n)
        ]
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
            if self.w.tasks[i, c.J_TAP] > 0.0 and self.w.tasks[i, c.J_HOT] == 0.0 and self.dry():
                self.busy_task[i] = False  # nobody fills a can at a dry tap

    def _ready(self, i, task):
        """Whether people would be at a task now."""
        feeds = self.rule.battery_circuits[int(task[c.J_CIRCUIT])] != 0.0
        carried = task[c.J_INVERTER] != 0.0 and self.inverter_up() and feeds
        if self.owed[i] <= 1e-6 or (self.source != BY_MACHINE and not carried):
            return False
        if not carried and self.t - self.on_at < task[c.J_DELAY_S] - TINY:
            return False
        if not self.busy_task[i] and self.y[2] < task[c.J_TANK_MIN] - 1e-6:
            return False
        return bool(task[c.J_LOAD] >= 0.0 or self.live[int(task[c.J_CIRCUIT])])

    def dry(self):
        """Whether nothing comes out of the taps: the pressure tank is empty and the pump stands."""
        water = int(self.p[c.P_WATER_LEVEL])
        if water < 0:
            return False
        x, row = self.y[3 + 2 * self.k + water], self.w.levels[water]
        pumping = row[c.V_LOAD] >= 0 and self.run[int(row[c.V_LOAD])]
        return x >= row[c.V_CAP] * (1 - 1e-8) and not pumping

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
        return min(ask, self._source())

    def inverter_up(self):
        """Whether there is an inverter whose battery has not run down."""
        return self.p[c.P_HAS_BATTERY] != 0.0 and not self.down

    def _source(self):
        """Where power comes from now; the inverter carries on until the machine is warm."""
        if self.p[c.P_HAS_BATTERY] != 0.0:
            if self.battery() <= 1e-6 * self.p[c.P_BAT_RESTART_J]:
                self.down = True
            elif self.battery() >= self.p[c.P_BAT_RESTART_J] * (1 - 1e-9):
                self.down = False
        warm = self.t >= self.base - TINY
        if self.on and (warm or not self.inverter_up()):
            self.source = BY_MACHINE
        else:
            self.source = BY_INVERTER if self.inverter_up() else NOTHING
        return self.base if self.on and not warm else np.inf

    def _circuits(self):
        fed, by_inverter = self.w.circuit_fed != 0.0, self.rule.battery_circuits != 0.0
        self.live = fed & by_inverter if self.source == BY_INVERTER else np.zeros(len(fed), bool)
        ask = np.inf
        if self.source != BY_MACHINE:
            return ask
        for spell, which, on, off, rank in self.rule.steps:
            if spell >= 0 and spell != self.spell[0]:
                continue
            begin = max(self.spell[1] + on, self.base + rank * self.rule.ctl[3])
            if self.inverter_up() and by_inverter[int(which)]:
                begin = self.base
            end = self.spell[1] + off
            if begin - TINY <= self.t < end - TINY:
                self.live[int(which)] = fed[int(which)]
                ask = min(ask, end)
            elif self.t < begin < end:
                ask = min(ask, begin)
        return ask

    # --- battery and own batteries ------------------------------------------------------------------------------

    def _charge(self, outdoor, sun_w):
        """Watts from the machine into the charger, and the rate of the battery's energy."""
        p, lim = self.p, self.w.limits[0]
        if p[c.P_HAS_BATTERY] == 0.0:
            return 0.0, 0.0
        cell = self.y[0] if p[c.P_BAT_INSIDE] != 0.0 else outdoor
        takes = self.battery() < p[c.P_BAT_J] * (1 - 1e-9) and cell >= p[c.P_BAT_MIN_C]
        if self.source == BY_INVERTER:
            net = sun_w - self.watts / p[c.P_BAT_OUT] - p[c.P_BAT_IDLE_W]
            if net < 0.0:
                return 0.0, net
            return 0.0, min(net, p[c.P_BAT_CHARGE_W]) * p[c.P_BAT_IN] * takes
        charge = 0.0
        if self.source == BY_MACHINE and takes:
            legs = [float(np.sum(self.w.loads[self.run, x])) for x in (c.L_WA, c.L_WB)]
            spare = min(lim[c.LIM_RUN_W] - self.watts, 2.0 * (lim[c.LIM_LEG_W] - max(legs)))
            charge = max(0.0, min(p[c.P_BAT_CHARGE_W] - sun_w, spare))
        return charge, min(sun_w + charge, p[c.P_BAT_CHARGE_W]) * p[c.P_BAT_IN] * takes

    def _own_rates(self):
        """Seconds of use that each own battery gains a second, before it is full or empty."""
        made = []
        for i, row in enumerate(self.w.medical):
            rate = row[c.H_RATE] if row[c.H_RATE] > 0.0 and self.run[int(row[c.H_CHARGER])] else 0.0
            if self.w.slot_medical[self.slot, i] != 0.0 and not self.run[int(row[c.H_LOAD])]:
                rate -= 1.0
            made.append(rate)
        return made
