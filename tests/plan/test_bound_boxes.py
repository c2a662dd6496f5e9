"""The boxes of the lower bound against the engine's own states: whatever the engine does lies inside, in every slot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from running_houses import HOUR_S, running_house, steady

from hearthold.engine.control import RunPlan
from hearthold.engine.jit import entry
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array, Ints, Tape
from hearthold.engine.kernels.loop import advance, close, wake
from hearthold.engine.kernels.start import begin
from hearthold.engine.trace import empty_tape
from hearthold.house.house import House
from hearthold.house.reader import house_from_text, read_house
from hearthold.plan.asked import Asked
from hearthold.plan.bound.frame import Posed
from hearthold.plan.bound.kernels import layout as b
from hearthold.plan.bound.kernels.follow import follow
from hearthold.plan.bound.kernels.house import Q_COUNT
from hearthold.plan.bound.lower import pose_bound
from hearthold.plan.kernels.price import PART_COUNT, price_parts
from hearthold.plan.objective import SLOT_S, Patterns, switching_j
from hearthold.plan.problem import Problem, pose
from hearthold.plan.turns import TIMES_MIN, Turns, in_turns, one_turn, usual_choice

NEAR_K, NEAR_S, NEAR_M3, NEAR_J = 1e-6, 1e-3, 1e-7, 1.0
ODD = {  # what tries the proof: a tank that runs dry, fuel that runs out, wet cellars, short spells, nights
    "usual": {},
    "small tank": {"tank": "1 gal"},
    "scarce": {"fuel": "3 gal", "trip": 'trip = { time = "2 h", brings = "10 gal", works_in_outage = true }'},
    "none to be had": {"fuel": "4 gal"},
    "wet": {"inflow": "6 gal/h", "headroom": "12 gal"},
    "short": {"shortest": "15 min", "longest": "1 h", "spells": "8"},
    "night": {"night": "true", "spells": "5"},
}


@entry
def _start(w: Array, at: Ints, s: Array, start_s: float) -> None:
    begin(w, at, s, start_s)
    wake(w, at, s)


@entry
def _at(
    w: Array,
    at: Ints,
    s: Array,
    tape: Tape,
    until_s: float,
    closed: Array,
    prices: Array,
    offset_j: Array,
    parts: Array,
) -> None:
    advance(w, at, s, tape, until_s)
    for i in range(s.shape[0]):
        closed[i] = s[i]
    close(w, at, closed)
    price_parts(w, at, closed, prices, offset_j, parts)


def engine_states(problem: Problem, on: np.ndarray) -> tuple[np.ndarray, float, Ints]:
    """The engine's closed state at every slot's edge, the cost of the pattern, and where things are in a state."""
    packed = problem.packed(RunPlan(problem.spells_of(on), problem.handling), 1)
    s, closed, parts = np.zeros(packed.state_size), np.zeros(packed.state_size), np.zeros(PART_COUNT)
    _start(packed.w, packed.at, s, problem.start_s)
    states = []
    for t in range(problem.slots + 1):
        until_s = problem.lead_s + t * SLOT_S
        tape = empty_tape(problem.compiled)
        _at(packed.w, packed.at, s, tape, until_s, closed, problem.prices, problem.offset_j, parts)
        states.append(closed.copy())
    return np.array(states), float(parts.sum()) + switching_j(problem.patterns, on), packed.at


def boxes_of(case: Posed, on: np.ndarray) -> tuple[np.ndarray, float]:
    """The boxes of a pattern, without joins, and its least cost."""
    boxes, costs = np.zeros((len(on) + 1, len(case.z0))), np.zeros(len(on) + 1)
    boxes[0], costs[0] = case.z0, case.c0
    return boxes, float(follow(case.frame, on.astype(np.int64), boxes, costs, np.zeros(Q_COUNT)))


def has_fuel(on: np.ndarray, states: np.ndarray) -> bool:
    """The last rule of `Patterns`: in every slot that is on, the machine runs at its end or is being refilled."""
    after = states[1:]
    return bool(((after[:, c.S_MODE] == c.RUNNING) | (after[:, c.S_REFILL] != 0.0))[on].all())


def outside(case: Posed, z: np.ndarray, s: np.ndarray, at: Ints) -> Iterator[str]:
    """Names of what lies outside its box."""
    f = case.frame
    yield from _between("air", s[c.S_AIR], z[b.Z_AL], z[b.Z_AH], NEAR_K)
    yield from _between("mass", s[c.S_MASS], z[b.Z_ML], z[b.Z_MH], NEAR_K)
    if f.par[b.F_TANK]:
        low, high = min(z[b.Z_TCL], z[b.Z_TNL]), max(z[b.Z_TCH], z[b.Z_TNH])
        yield from _between("tank", s[c.S_TANK], low, high, NEAR_K)
    yield from _between("least air", s[c.O_AIR_MIN], -np.inf, z[b.Z_LEAST], NEAR_K)
    yield from _between("fuel", s[c.O_FUEL_M3], z[b.Z_FUEL], z[b.Z_FUELH], 1e-9)
    yield from _between("trips", s[c.O_FUEL_TRIPS], z[b.Z_BACK], np.inf, 0.0)
    i = b.Z_FIRST
    for k, row in enumerate(f.cold):
        d = at[c.B_COLD] + k * c.D_COUNT
        shell, core = s[d + c.D_SHELL], s[d + c.D_CORE]
        if row[b.C_ONE]:
            yield from _between(f"cold {k}", shell, min(z[i], z[i + 2]), max(z[i + 1], z[i + 3]), NEAR_K)
        else:
            yield from _between(f"shell {k}", shell, z[i], z[i + 2], NEAR_K)
            yield from _between(f"core {k}", core, z[i + 1], z[i + 3], NEAR_K)
        yield from _between(f"food {k}", s[d + c.D_FOOD_S], z[i + 4], np.inf, NEAR_S)
        i += b.ZC_COUNT
    for v in range(len(f.levels)):
        u = at[c.B_LEVELS] + v * c.W_COUNT
        yield from _between(f"level {v}", s[u + c.W_X], z[i], z[i + 1], NEAR_M3)
        yield from _between(f"over {v}", s[u + c.W_OVER], z[i + 2], np.inf, NEAR_M3)
        i += b.ZV_COUNT
    for j in range(len(f.tasks)):
        u = at[c.B_TASKS] + j * c.U_COUNT
        owed = s[u + c.U_OWED_S]
        if s[u + c.U_BUSY]:
            owed = max(0.0, owed - (s[c.S_T] - s[u + c.U_AT]))
        yield from _between(f"task {j}", owed, z[i], z[i + 1], NEAR_S)
        i += b.ZJ_COUNT
    for m in range(len(f.medical)):
        need = at[c.B_MEDICAL] + m * c.NEED_COUNT
        yield from _between(f"own battery {m}", s[need + c.NEED_LEFT_S], -np.inf, z[i], NEAR_S)
        yield from _between(f"unpowered {m}", s[need + c.NEED_SHORT_S], z[i + 1], np.inf, NEAR_S)
        i += b.ZM_COUNT


def _between(name: str, x: float, low: float, high: float, near: float) -> Iterator[str]:
    if not low - near <= x <= high + near:
        yield f"{name}: {x} not in {low}..{high}"


def some_pattern(rules: Patterns, seed: int) -> np.ndarray | None:
    """A random pattern that the rules allow, None where the dice lead into a corner."""
    rng = np.random.default_rng(seed)
    on, state, age, begun = np.zeros(rules.slots, dtype=bool), False, 10**6, 0
    length, eager = int(rng.integers(rules.least_on, rules.most_on + 1)), rng.uniform(0.01, 0.4)
    for t in range(rules.slots):
        if t and rules.day[t] != rules.day[t - 1]:
            begun = 0
        over = state and (not rules.may_run[t] or age >= length)
        can_start = rules.may_run[t] and begun < rules.starts_a_day and age >= rules.least_off
        flips = over if state else bool(can_start and rng.random() < eager)
        if flips and rules.may_switch[t]:
            state, age = not state, 1
            begun += state
            length = int(rng.integers(rules.least_on, rules.most_on + 1))
        else:
            age += 1
        on[t] = state
    return on if rules.allows(on) else None


def some_turns(house: House, seed: int) -> Turns:
    """Turns by dice: each circuit stays on, goes for a while and comes back, comes late, or has one window."""
    rng = np.random.default_rng(seed)
    base, steps = one_turn(house), []
    for step in base.steps:
        leaves_s, away_s = float(rng.integers(1, 12)) * 300.0, float(rng.integers(1, 9)) * 300.0
        late_s = leaves_s + step.on_s
        back_s = late_s + away_s
        steps += {
            0: [step],
            1: [replace(step, off_s=leaves_s), replace(step, on_s=back_s)],
            2: [replace(step, on_s=late_s)],
            3: [replace(step, on_s=late_s, off_s=back_s)],
        }[int(rng.choice(4, p=[0.4, 0.3, 0.15, 0.15]))]
    return replace(base, steps=tuple(sorted(steps, key=lambda x: x.on_s)))


@settings(max_examples=150, derandomize=True, deadline=None)
@given(
    st.sampled_from(["small tank", "scarce", "none to be had"]),
    st.sampled_from(["0.4 gal", "0.7 gal", "1 gal", "1.5 gal"]),
    st.floats(-25.0, 35.0),
    st.integers(0, 86_399),
    st.sampled_from([8.0, 24.0, 60.0]),
    st.integers(0, 10**6),
)
def test_a_tank_that_runs_dry_and_one_left_low_before_fuel_comes(
    odd: str, tank: str, mean_c: float, start_s: int, hours: float, seed: int
) -> None:
    house = running_house(**(ODD[odd] | {"tank": tank, "night": "true"}))
    inside_everywhere(pose(house, steady(mean_c), Asked(start_s=48 * HOUR_S + start_s, hours=hours)), seed)


@cache
def example(name: str) -> House:
    return read_house(Path(__file__).resolve().parents[2] / "examples" / f"{name}.toml")


def inside_everywhere(problem: Problem, seed: int) -> None:
    on = some_pattern(problem.patterns, seed)
    if on is None:
        return
    states, cost_j, at = engine_states(problem, on)
    if not has_fuel(on, states):
        return
    case = pose_bound(problem)
    boxes, least_j = boxes_of(case, on)
    for t in range(problem.slots + 1):
        assert list(outside(case, boxes[t], states[t], at)) == [], f"slot {t} of {problem.slots}"
    assert least_j <= cost_j + NEAR_J


@settings(max_examples=150, derandomize=True, deadline=None)
@given(
    st.sampled_from(sorted(ODD)),
    st.floats(-25.0, 35.0),
    st.integers(0, 86_399),
    st.sampled_from([6.0, 30.0, 60.0]),
    st.integers(0, 10**6),
)
def test_the_engine_stays_in_its_boxes(
    odd: str, mean_c: float, start_s: int, hours: float, seed: int
) -> None:
    """Evidence independent of the bound: the states are the engine's own, slot by slot."""
    problem = pose(
        running_house(**ODD[odd]), steady(mean_c), Asked(start_s=48 * HOUR_S + start_s, hours=hours)
    )
    inside_everywhere(problem, seed)


@settings(max_examples=60, derandomize=True, deadline=None)
@given(
    st.sampled_from(["tarn_hollow", "skerrow_croft"]),
    st.floats(-25.0, 28.0),
    st.integers(0, 86_399),
    st.integers(0, 10**6),
)
def test_and_so_it_does_in_the_example_houses(name: str, mean_c: float, start_s: int, seed: int) -> None:
    problem = pose(example(name), steady(mean_c), Asked(start_s=48 * HOUR_S + start_s, hours=48.0))
    inside_everywhere(problem, seed)


@cache
def strong_coil(output: str) -> House:
    text = (Path(__file__).resolve().parents[2] / "examples" / "skerrow_croft.toml").read_text(
        encoding="utf-8"
    )
    changed = text.replace('output = "8 kW"', f'output = "{output}"')
    assert changed != text
    return house_from_text(changed)


@settings(max_examples=40, derandomize=True, deadline=None)
@given(
    st.sampled_from(["15 kW", "18 kW"]), st.floats(-15.0, 20.0), st.integers(0, 86_399), st.integers(0, 10**6)
)
def test_a_coil_that_brings_the_tank_all_the_way_in_a_slot(
    output: str, mean_c: float, start_s: int, seed: int
) -> None:
    """150 litres by 15 kW: 21 K in a quarter hour, more than the band of the thermostat."""
    asked = Asked(start_s=48 * HOUR_S + start_s, hours=48.0)
    inside_everywhere(pose(strong_coil(output), steady(mean_c), asked), seed)


@settings(max_examples=100, derandomize=True, deadline=None)
@given(
    st.sampled_from(["tarn_hollow", "skerrow_croft"]),
    st.floats(-25.0, 28.0),
    st.integers(0, 86_399),
    st.sampled_from([12.0, 48.0]),
    st.integers(0, 6),
    st.integers(0, 10**6),
)
def test_and_where_circuits_go_in_turns(
    name: str, mean_c: float, start_s: int, hours: float, times: int, seed: int
) -> None:
    """Turns of every length that the routine chooses among; some end within a slot, some on its edge."""
    house = example(name)
    chosen = usual_choice(house)
    assert chosen is not None
    turns = in_turns(house, chosen, *TIMES_MIN[times])
    assert turns.changes > 0
    asked = Asked(start_s=48 * HOUR_S + start_s, hours=hours, turns=turns)
    inside_everywhere(pose(house, steady(mean_c), asked), seed)


@settings(max_examples=150, derandomize=True, deadline=None)
@given(
    st.sampled_from(sorted(ODD)),
    st.floats(-25.0, 35.0),
    st.integers(0, 86_399),
    st.integers(0, 10**6),
)
def test_and_where_turns_are_thrown_by_dice(odd: str, mean_c: float, start_s: int, seed: int) -> None:
    house = running_house(**ODD[odd])
    asked = Asked(start_s=48 * HOUR_S + start_s, hours=24.0, turns=some_turns(house, seed))
    inside_everywhere(pose(house, steady(mean_c), asked), seed)


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.floats(-0.02, 0.02), st.sampled_from([1.0, 5.0, 9.0]), st.integers(0, 10**6))
def test_near_the_thresholds_of_the_fridge(near_k: float, mean_c: float, seed: int) -> None:
    """A fridge that starts on its upper switch, on its limit or on its lower switch, give or take a hair."""
    problem = pose(running_house(), steady(mean_c), Asked(start_s=60 * HOUR_S, hours=12.0))
    for column in (c.C_ON, c.C_LIMIT, c.C_OFF):
        world = problem.compiled.world
        cold = world.cold.copy()
        cold[0, c.C_SHELL0] = cold[0, column] + near_k
        world = world._replace(cold=cold)
        moved = problem.compiled.__class__(
            **{name: getattr(problem.compiled, name) for name in problem.compiled.__slots__}
            | {"world": world}
        )
        inside_everywhere(
            pose(problem.house, problem.outside, Asked(start_s=60 * HOUR_S, hours=12.0), compiled=moved), seed
        )


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.floats(700.0, 2500.0), st.integers(0, 10**6))
def test_a_machine_too_small_for_everything(running_w: float, seed: int) -> None:
    """Loads wait, are pushed out, or never start: nothing that the bound takes for sure may rest on them."""
    problem = pose(running_house(), steady(-5.0), Asked(start_s=42 * HOUR_S, hours=36.0))
    world = problem.compiled.world
    limits = world.limits.copy()
    limits[0] *= running_w / limits[0, c.LIM_RUN_W]
    moved = problem.compiled.__class__(
        **{name: getattr(problem.compiled, name) for name in problem.compiled.__slots__}
        | {"world": world._replace(limits=limits)}
    )
    inside_everywhere(
        pose(problem.house, problem.outside, Asked(start_s=42 * HOUR_S, hours=36.0), compiled=moved), seed
    )
