"""`Problem`: one house, one outage, one objective, as the arrays that every part of the planner works on.

    problem = pose(house, month_hours(house, 1), Asked(start_s=18 * 3600.0, hours=72.0))
    problem.price(problem.replay(on))     # cost of a pattern, by the engine

The planner's world differs from the plain one in three accounts and in nothing that moves: time below *comfort*
is counted (the lowest temperature is read from the minimum), a vital load without a medical entry gets one, and pipes
that freeze with the heating on as well have none.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import inf

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.compile import compile_house
from hearthold.engine.compile_machine import fuel_kind
from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.control import USUAL_HANDLING, Control, Handling, Spell, Step, compile_control
from hearthold.engine.habits import USUAL, Habits
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array, Weather
from hearthold.engine.packing import Packed, pack
from hearthold.engine.rows import inside, row
from hearthold.engine.run import with_fuel
from hearthold.engine.weather import Hours
from hearthold.errors import InputError
from hearthold.house.fill_cold import mixed_load_curve
from hearthold.house.house import House
from hearthold.house.stores import ColdStore
from hearthold.house.supply import FuelKind
from hearthold.physics.food import EnthalpyCurve
from hearthold.plan.asked import NEXT_DAYS, Asked
from hearthold.plan.limits import RunRules, patterns, run_rules, vital_clock
from hearthold.plan.objective import HOUR_S, LITRE_J, SLOT_S, Objective, Patterns
from hearthold.plan.turns import Turns, one_turn
from hearthold.sizing.burn import burn

# Joules of fuel that a joule from a house battery is worth: a portable set burns about four (from memory, a quarter
# of the heat becomes electricity at half load).
POWER_WORTH = 4.0
# A vital load on the battery must be kept as if that held so much less: gauges err, cells age, and what is vital must
# not stand or fall by that (judgement). All else is judged with the whole charge.
VITAL_RESERVE_FRAC = 0.2
# A battery that is too small for what is vital is asked of everything else too: no food is kept for an hour of that.
VITAL_W = 1e6 * LITRE_J / HOUR_S


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """Everything that a search, a bound or a replay needs. Times count from the failure of the grid."""

    house: House
    compiled: CompiledHouse  # the planner's world
    plain: CompiledHouse  # the world as everybody else sees it, for traces that are shown
    outside: Hours
    start_s: float  # of the outage, since midnight of day 0
    lead_s: float  # from the failure to the first slot's edge
    objective: Objective
    rules: RunRules
    patterns: Patterns
    prices: Array
    offset_j: Array  # heat that each cold store lacked at the start
    turns: Turns  # circuits within a spell
    handling: Handling
    lhv_j_per_m3: float
    fuel: str  # the kind it runs on; empty without a machine

    @property
    def steps(self) -> tuple[Step, ...]:
        """What is switched in every spell."""
        return self.turns.steps

    @property
    def slots(self) -> int:
        """Slots of the horizon."""
        return self.patterns.slots

    @property
    def length_s(self) -> float:
        """From the failure of the grid to the end of the horizon."""
        return self.lead_s + self.slots * SLOT_S

    def packed(self, control: Control, most_spells: int = 0) -> Packed:
        """House, control and weather as the kernels read them; steps hold for every spell.

        `most_spells` makes room in the table of spells for a search that writes there.
        """
        rule = compile_control(self.compiled, control)
        steps = rule.steps[rule.steps[:, 0] == 0.0].copy()
        steps[:, 0] = -1.0
        spells = np.zeros((max(most_spells, len(rule.spells)), 2))
        spells[: len(rule.spells)] = rule.spells
        weather = Weather(self.outside.outdoor_c, self.outside.solar_w)
        packed = pack(self.compiled.world, rule._replace(steps=steps, spells=spells), weather)
        packed.at[c.N_SPELLS] = len(rule.spells)
        return packed

    def spells_of(self, on: NDArray[np.bool_]) -> tuple[Spell, ...]:
        """The spells of a pattern, as a control that can be replayed."""
        padded = np.concatenate([[False], on, [False]])
        edges = np.flatnonzero(padded[1:] != padded[:-1]).reshape(-1, 2)
        at_s = [(self.lead_s + a * SLOT_S, self.lead_s + b * SLOT_S) for a, b in edges.tolist()]
        return tuple(Spell(a, b, self.steps) for a, b in at_s)


def pose(
    house: House,
    outside: Hours,
    asked: Asked = NEXT_DAYS,
    *,
    handling: Handling = USUAL_HANDLING,
    habits: Habits = USUAL,
    compiled: CompiledHouse | None = None,
) -> Problem:
    """The problem of one outage. Without turns every fed circuit is switched on in each spell.

    `compiled` replaces the house as compiled here, as a replan from readings does.
    Raises: InputError for a house without a machine, or a horizon that the weather does not cover.
    """
    if house.generator is None:
        raise InputError(
            "there is no machine to plan: add a [generator] section, or ask how long the stores last.",
            code="no_generator",
        )
    plain = compiled if compiled is not None else compile_house(house, habits=habits, fuel=asked.fuel)
    plain = plain if asked.fuel_m3 is None else with_fuel(plain, asked.fuel_m3)
    return _posed(house, plain, outside, asked, handling, fuel_kind(house, asked.fuel))


def pose_battery(
    house: House, outside: Hours, asked: Asked, *, compiled: CompiledHouse | None = None
) -> Problem:
    """The problem of a house with a battery and no machine. What the battery has given counts as the fuel that a
    machine would burn for it (`POWER_WORTH`): a price, no fuel; no machine runs.

    Raises: InputError for a house without a battery, or a horizon that the weather does not cover.
    """
    if house.battery is None:
        raise InputError(
            "there is neither a machine nor a battery to plan: add a [generator] or a [battery] section.",
            code="no_generator",
        )
    plain = compiled if compiled is not None else compile_house(house)
    prices = replace(asked.objective, vital_w=VITAL_W)
    made = _posed(house, plain, outside, replace(asked, objective=prices), USUAL_HANDLING, None)
    par = made.compiled.world.par.copy()
    par[[c.P_FUEL_A, c.P_FUEL_B]] = 0.0, POWER_WORTH
    return _with_par(made, par)


def with_reserve(problem: Problem) -> Problem | None:
    """The problem in which what is vital is judged: a part of the charge held back; None where nothing is."""
    if not len(problem.compiled.medical_ids):
        return None
    par = problem.compiled.world.par.copy()
    par[c.P_BAT0] *= 1.0 - VITAL_RESERVE_FRAC
    return _with_par(problem, par)


def _with_par(problem: Problem, par: Array) -> Problem:
    world = problem.compiled.world._replace(par=par)
    return replace(problem, compiled=replace(problem.compiled, world=world))


def _posed(
    house: House,
    plain: CompiledHouse,
    outside: Hours,
    asked: Asked,
    handling: Handling,
    kind: FuelKind | None,
) -> Problem:
    plain = with_vital_rows(house, plain)
    start_s, lead_s = asked.start_s, (-asked.start_s) % SLOT_S
    slots = round(asked.hours * HOUR_S / SLOT_S)
    _check_horizon(outside, start_s, lead_s + slots * SLOT_S, slots)
    rules = run_rules(house)
    lhv = 1.0 if kind is None else burn(house, kind).lhv_j_per_m3
    lowest_c = house.heat.lowest_c if house.heat is not None else -inf
    coldest_c = outside.coldest_c(start_s, lead_s + slots * SLOT_S)
    world = without_lost_pipes(house, with_comfort(house, plain), coldest_c)
    return Problem(
        house, world, plain, outside, start_s, lead_s, asked.objective, rules,
        patterns(rules, asked.objective, start_s + lead_s, slots), asked.objective.row(lhv, lowest_c),
        start_offsets_j(house, plain), asked.turns or one_turn(house), handling, lhv,
        "" if kind is None else kind.value,
    )  # fmt: skip


def shortened(problem: Problem, slots: int) -> Problem:
    """The same problem up to a slot's edge; every pattern of the long one begins with one of these."""
    p = problem.patterns
    first = replace(
        p,
        may_run=p.may_run[:slots],
        may_switch=p.may_switch[:slots],
        switch_j=p.switch_j[:slots],
        day=p.day[:slots],
    )
    return replace(problem, patterns=first)


def switched_freely(problem: Problem) -> Problem:
    """The same where nobody minds when the machine is started or stopped."""
    p = problem.patterns
    return replace(problem, patterns=replace(p, switch_j=np.zeros_like(p.switch_j)))


def _check_horizon(outside: Hours, start_s: float, length_s: float, slots: int) -> None:
    if slots < 1 or start_s < 0.0 or start_s + length_s > outside.length_s:
        raise InputError(
            f"a plan from {start_s / HOUR_S:g} h over {length_s / HOUR_S:g} h lies outside the "
            f"{outside.length_s / HOUR_S:g} h of weather that were given; give more, or plan a shorter time.",
            code="weather_too_short",
        )


def with_comfort(house: House, plain: CompiledHouse) -> CompiledHouse:
    """The world in which time below comfort is counted; nothing that moves differs."""
    if house.heat is None:
        return plain
    par = plain.world.par.copy()
    par[c.P_AIR_LOW] = max(par[c.P_AIR_LOW], house.wishes.indoor_comfort_c)
    return replace(plain, world=plain.world._replace(par=par))


def without_lost_pipes(house: House, world: CompiledHouse, coldest_c: float) -> CompiledHouse:
    """The world in which nobody asks how cold the pipes are, where at this coldest hour they freeze with the heating on
    as well: no running keeps them, and all of it would be spent in vain.
    """
    if not house.pipe_freezes_heated(coldest_c):
        return world
    par = world.world.par.copy()
    par[c.P_PIPE_LOW] = -c.FAR
    return replace(world, world=world.world._replace(par=par))


def with_vital_rows(house: House, plain: CompiledHouse) -> CompiledHouse:
    """The world with an account of its own for every vital load that runs by the clock and has no medical
    entry.
    """
    world, needs = plain.world, {need.load for need in house.medical}
    extra = [
        x for x in house.vital_loads if x.id in plain.load_ids and x.id not in needs and vital_clock(house, x)
    ]
    rows, wants = [world.medical], [world.slot_medical]
    for load in extra:
        rows.append(row(c.H_COUNT, {c.H_LOAD: plain.load_ids.index(load.id)})[None, :])
        wants.append(
            np.array([[float(inside(vital_clock(house, load), s))] for s in world.slot_at[:-1].tolist()])
        )
    world = world._replace(
        medical=np.ascontiguousarray(np.vstack(rows)), slot_medical=np.ascontiguousarray(np.hstack(wants))
    )
    return replace(plain, world=world, medical_ids=plain.medical_ids + tuple(x.id for x in extra))


def start_offsets_j(house: House, plain: CompiledHouse) -> Array:
    """Heat that must leave each cold store to bring it from its start to its set point."""
    curve = mixed_load_curve()
    made = np.zeros(len(house.cold))
    for k, store in enumerate(house.cold):
        shell, core = plain.world.cold[k, [c.C_SHELL0, c.C_CORE0]].tolist()
        made[k] = _heat_to(store, shell, store.shell_frac, store.cabinet_j_per_k, curve)
        made[k] += _heat_to(store, core, 1.0 - store.shell_frac, 0.0, curve) if store.is_freezer else 0.0
    return made


def _heat_to(
    store: ColdStore, at_c: float, share: float, cabinet_j_per_k: float, curve: EnthalpyCurve
) -> float:
    """Heat of one node between its set point and `at_c`; a fridge has one constant heat capacity."""
    if not store.is_freezer:
        return store.fresh_j_per_k * (at_c - store.set_c)
    knots, heat = curve.knots_c, curve.heat_j_per_kg_k
    low, high = min(at_c, store.set_c), max(at_c, store.set_c)
    inner = np.array([low, *[x for x in knots.tolist() if low < x < high], high])
    which = np.clip(np.searchsorted(knots, (inner[1:] + inner[:-1]) / 2.0) - 1, 0, len(heat) - 1)
    per_k = cabinet_j_per_k + share * store.contents_kg * heat[which]
    return float(np.sign(at_c - store.set_c) * (per_k * np.diff(inner)).sum())
