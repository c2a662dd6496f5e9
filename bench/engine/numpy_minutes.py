"""The house of the benchmark in vectorised numpy: one-minute steps, all outages side by side, finished ones dropped.

What a good numpy program would do with the same tables: exact exponentials over the minute, thermostats and floats
asked once a minute, loads taken in order of priority within the limits. Starts are not timed within the minute, so
that answers agree to a per cent or so and not to the digit. A fixed routine only.
"""

from __future__ import annotations

import numpy as np

from hearthold.engine.kernels import layout as c
from hearthold.physics.twonode import decay_integral_kernel, twonode_modes_kernel

DT = 60.0


class Minutes:
    """State of n outages, longest first."""

    def __init__(self, world, rule, outdoor_c, start_s, length_s):
        self.w, self.p, self.rule, self.outdoor = world, world.par, rule, outdoor_c
        order = np.argsort(-length_s, kind="stable")
        self.order, self.start, self.steps = order, start_s[order], np.round(length_s[order] / DT).astype(int)
        n = len(order)
        p, w = self.p, world
        hour = (self.start // 3600).astype(int)
        first = np.maximum(0, hour - 23)
        mean = np.array([outdoor_c[a : a + 24].mean() for a in first])
        self.air = np.maximum(p[c.P_AIR0], mean)
        self.mass = (p[c.P_G] * self.air + p[c.P_U2] * mean) / (p[c.P_G] + p[c.P_U2])
        self.tank = np.full(n, p[c.P_TANK0])
        self.shell = np.tile(w.cold[:, c.C_SHELL0], (n, 1)).T.copy()
        self.core = self.shell.copy()
        self.level = np.tile(w.levels[:, c.V_X0], (n, 1)).T.copy()
        self.owed = np.zeros((len(w.tasks), n))
        self.left = np.tile(w.medical[:, c.H_OWN_S], (n, 1)).T.copy()
        self.fuel, self.stock = np.full(n, p[c.P_FUEL_TANK0]), np.full(n, p[c.P_FUEL_STOCK0])
        self.call_heat, self.call_tank = np.zeros(n, bool), np.zeros(n, bool)
        self.call_cold, self.call_level = np.zeros(self.shell.shape, bool), np.zeros(self.level.shape, bool)
        self.since = np.full(n, 1e9)
        self.on = np.zeros(n, bool)
        self.ready = np.zeros(n)
        self.burned, self.run_s, self.over_s = np.zeros(n), np.zeros(n), np.zeros(self.shell.shape)
        self._constants()

    def _constants(self):
        p, w = self.p, self.w
        fast, slow, w1, w2, b1, b2 = twonode_modes_kernel(
            p[c.P_C1], p[c.P_C2], p[c.P_U1], p[c.P_U2], p[c.P_G]
        )
        ef, es = decay_integral_kernel(fast, DT), decay_integral_kernel(slow, DT)
        self.house = (w1 * ef + w2 * es, b1 * (ef - es), w2 * ef + w1 * es, b2 * (ef - es))
        m = w.modes
        e_fast = -np.expm1(-m[..., c.M_KF] * DT) / m[..., c.M_KF]
        k_slow = np.maximum(m[..., c.M_KS], 1e-15)
        e_slow = -np.expm1(-k_slow * DT) / k_slow
        self.m11 = m[..., c.M_W1] * e_fast + m[..., c.M_W2] * e_slow
        self.m12 = m[..., c.M_B1] * (e_fast - e_slow)
        self.m22 = m[..., c.M_W2] * e_fast + m[..., c.M_W1] * e_slow
        self.m21 = m[..., c.M_B2] * (e_fast - e_slow)
        self.live_at = np.full(len(w.circuit_fed), np.inf)
        warm_s, between_s = self.rule.ctl[c.K_WARM_S - c.K_FIRST], self.rule.ctl[c.K_BETWEEN_S - c.K_FIRST]
        for _, which, on, _, rank in self.rule.steps:
            if w.circuit_fed[int(which)]:
                live_at = max(on, warm_s + rank * between_s)
                self.live_at[int(which)] = min(self.live_at[int(which)], live_at)

    def run(self):
        """All outages to their ends; fuel, run time and time over the limits in the order given."""
        k, n = 0, len(self.steps)
        while n:
            self._minute(k, n)
            k += 1
            while n and self.steps[n - 1] <= k:
                n -= 1
        back = np.empty_like(self.order)
        back[self.order] = np.arange(len(self.order))
        return self.burned[back], self.run_s[back], self.over_s.T[back]

    def _minute(self, k, n):
        p, w = self.p, self.w
        t = self.start[:n] + k * DT
        of_day = t % 86400.0
        slot = np.searchsorted(w.slot_at, of_day, side="right") - 1
        outdoor = self.outdoor[(t // 3600).astype(int)]
        changed = (k == 0) | (of_day - w.slot_at[slot] < DT)
        due = w.slot_task[slot].T * changed * w.tasks[:, c.J_NEED_S][:, None]
        self.owed[:, :n] = np.minimum(self.owed[:, :n] + due, w.tasks[:, c.J_MOST_S][:, None])
        self._machine(k, n, of_day)
        run, watts, heat = self._loads(n, slot)
        self._fills(n, run)
        self._needs(n, run, slot)
        tap, hot = w.slots[slot, c.Z_TAP], w.slots[slot, c.Z_HOT]
        for i, task in enumerate(w.tasks):
            tap = tap + self.busy[i] * task[c.J_TAP]
            hot = hot + self.busy[i] * task[c.J_HOT]
            self.owed[i, :n] = np.maximum(0.0, self.owed[i, :n] - DT * self.busy[i])
        self._levels(n, run, tap)
        self._stores(n, run, outdoor, hot, heat)
        self.burned[:n] += self.on[:n] * DT * (p[c.P_FUEL_A] + p[c.P_FUEL_B] * watts)
        self.fuel[:n] -= self.on[:n] * DT * (p[c.P_FUEL_A] + p[c.P_FUEL_B] * watts)
        self.run_s[:n] += DT * self.on[:n]

    def _machine(self, k, n, of_day):
        p = self.p
        want = np.zeros(n, bool)
        for begin, end in self.rule.spells:
            want |= (of_day - begin) % 86400.0 < end - begin
        was = self.on[:n].copy()
        self.on[:n] = want & (self.fuel[:n] > 0.0) & (k * DT >= self.ready[:n])
        stopped = (
            was
            & ~self.on[:n]
            & (self.fuel[:n] < p[c.P_REFILL_BELOW] * p[c.P_FUEL_TANK])
            & (self.stock[:n] > 0.0)
        )
        poured = np.where(
            stopped, np.minimum(self.stock[:n], p[c.P_FUEL_TANK] - np.maximum(self.fuel[:n], 0.0)), 0.0
        )
        self.fuel[:n] += poured
        self.stock[:n] -= poured
        self.ready[:n] = np.where(stopped, k * DT + p[c.P_COOL_S] + p[c.P_REFILL_S], self.ready[:n])
        self.since[:n] = np.where(self.on[:n], np.where(was, self.since[:n] + DT, 0.0), 1e9)

    def _loads(self, n, slot):
        """Loads in order of priority within the limits."""
        w, lim = self.w, self.w.limits[0]
        self._call(n)
        self.busy = np.zeros((len(w.tasks), n), bool)
        for i, task in enumerate(w.tasks):
            warm = self.tank[:n] >= task[c.J_TANK_MIN]
            self.busy[i] = (
                (self.owed[i, :n] > 0.0) & self.on[:n] & (self.since[:n] >= task[c.J_DELAY_S]) & warm
            )
        a, qa, b, qb, heat = (np.zeros(n) for _ in range(5))
        run = np.zeros((len(w.loads), n), bool)
        for j, x in enumerate(w.loads):
            kind, which = x[c.L_KIND], int(x[c.L_WHICH])
            if kind == c.BY_CLOCK:
                want = w.slot_want[slot, j] != 0.0
            elif kind == c.BY_COLD:
                want = self.call_cold[which, :n]
            elif kind == c.BY_HEATER:
                want = self.call_heat[:n]
            elif kind == c.BY_TANK:
                want = self.call_tank[:n]
            elif kind == c.BY_LEVEL:
                want = self.call_level[which, :n]
            elif kind == c.BY_CHARGER:
                want = self.left[which, :n] < w.medical[which, c.H_OWN_S]
            else:
                want = self.busy[which]
            want = want & self.on[:n] & (self.since[:n] >= self.live_at[int(x[c.L_CIRCUIT])])
            na, nqa, nb, nqb = a + x[c.L_WA], qa + x[c.L_QA], b + x[c.L_WB], qb + x[c.L_QB]
            fits = (na + nb <= lim[c.LIM_RUN_W]) & (na * na + nqa * nqa <= lim[c.LIM_LEG_VA] ** 2)
            run[j] = want & fits & (nb * nb + nqb * nqb <= lim[c.LIM_LEG_VA] ** 2)
            a, qa = np.where(run[j], na, a), np.where(run[j], nqa, qa)
            b, qb = np.where(run[j], nb, b), np.where(run[j], nqb, qb)
            heat += run[j] * x[c.L_HEAT_FRAC] * (x[c.L_WA] + x[c.L_WB])
            if kind == c.BY_TASK:
                self.busy[which] &= run[j]
        return run, a + b, heat

    def _fills(self, n, run):
        """Cans are filled while their circuit is live and the tap runs."""
        w, water = self.w, int(self.p[c.P_WATER_LEVEL])
        for i, task in enumerate(w.tasks):
            if task[c.J_LOAD] < 0 and task[c.J_CIRCUIT] >= 0:
                self.busy[i] &= self.since[:n] >= self.live_at[int(task[c.J_CIRCUIT])]
            if task[c.J_HOT] == 0.0 and task[c.J_TAP] > 0.0:
                wet = self.level[water, :n] < w.levels[water, c.V_CAP]
                self.busy[i] &= wet | run[int(w.levels[water, c.V_LOAD])]

    def _needs(self, n, run, slot):
        """Own batteries of medical needs: charged by their chargers, drained while their load is wanted and off."""
        for i, row in enumerate(self.w.medical):
            rate = row[c.H_RATE] * run[int(row[c.H_CHARGER])] if row[c.H_RATE] > 0.0 else 0.0
            rate = rate - (self.w.slot_medical[slot, i] != 0.0) * ~run[int(row[c.H_LOAD])]
            self.left[i, :n] = np.clip(self.left[i, :n] + DT * rate, 0.0, row[c.H_OWN_S])

    def _call(self, n):
        p, w = self.p, self.w
        self.call_heat[:n] = (self.air[:n] <= p[c.P_HEAT_ON]) | (
            self.call_heat[:n] & (self.air[:n] < p[c.P_HEAT_OFF])
        )
        self.call_tank[:n] = (self.tank[:n] <= p[c.P_TANK_ON]) | (
            self.call_tank[:n] & (self.tank[:n] < p[c.P_TANK_OFF])
        )
        for k, row in enumerate(w.cold):
            shell = self.shell[k, :n]
            self.call_cold[k, :n] = (shell >= row[c.C_ON]) | (self.call_cold[k, :n] & (shell > row[c.C_OFF]))
        for i, row in enumerate(w.levels):
            x = self.level[i, :n]
            self.call_level[i, :n] = (x >= row[c.V_ON]) | (self.call_level[i, :n] & (x > 0.0))

    def _levels(self, n, run, tap):
        w = self.w
        for i, row in enumerate(w.levels):
            inflow = tap if i == int(self.p[c.P_WATER_LEVEL]) else row[c.V_IN]
            pump = run[int(row[c.V_LOAD])] * row[c.V_OUT] if row[c.V_LOAD] >= 0 else 0.0
            self.level[i, :n] = np.clip(self.level[i, :n] + DT * (inflow - pump), 0.0, row[c.V_CAP])

    def _stores(self, n, run, outdoor, hot, heat):
        p, w = self.p, self.w
        air, mass, tank = self.air[:n].copy(), self.mass[:n], self.tank[:n]
        boiler = int(p[c.P_HEATER_LOAD])
        heat = heat + p[c.P_GAINS] + p[c.P_HEATER_W] * (run[boiler] & self.call_heat[:n])
        f1 = (p[c.P_U1] * (outdoor - air) + p[c.P_G] * (mass - air) + heat) / p[c.P_C1]
        f2 = (p[c.P_U2] * (outdoor - mass) + p[c.P_G] * (air - mass)) / p[c.P_C2]
        g11, g12, g22, g21 = self.house
        self.air[:n] += g11 * f1 + g12 * f2
        self.mass[:n] += g22 * f2 + g21 * f1
        room = 0.5 * (air + self.air[:n])
        flow = p[c.P_TANK_FLOW] * hot
        k = (p[c.P_TANK_UA] + flow) / p[c.P_TANK_J]
        rate = (
            p[c.P_TANK_UA] * (room - tank)
            + flow * (p[c.P_TANK_IN] - tank)
            + run[int(p[c.P_TANK_LOAD])] * p[c.P_TANK_W]
        )
        self.tank[:n] += rate / p[c.P_TANK_J] * -np.expm1(-k * DT) / k
        for q, row in enumerate(w.cold):
            shell, core = self.shell[q, :n], self.core[q, :n]
            s1 = np.searchsorted(w.knots[q, 1:-1], shell, side="right")
            s2 = np.searchsorted(w.knots[q, 1:-1], core, side="right")
            here = row[c.C_ROOM_AIR] * room + row[c.C_ROOM_OUT] * outdoor
            across = row[c.C_G] * (core - shell)
            cool = run[int(row[c.C_LOAD])] * row[c.C_COOL_W]
            f1 = (row[c.C_UA] * (here - shell) + across - cool) / w.modes[q, s1, s2, c.M_C1]
            f2 = -across / w.modes[q, s1, s2, c.M_C2]
            self.shell[q, :n] = shell + self.m11[q, s1, s2] * f1 + self.m12[q, s1, s2] * f2
            self.core[q, :n] = core + self.m22[q, s1, s2] * f2 + self.m21[q, s1, s2] * f1
            self.over_s[q, :n] += DT * (self.shell[q, :n] > row[c.C_LIMIT])
