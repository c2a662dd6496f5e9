"""Ways to keep a panel on a house battery: every circuit at all hours, in some hours of the day, or off.

The hours are the same for all circuits that have hours, so that a way can be kept by heart; they begin and end while
somebody is up. A circuit with a vital load on it is on whenever that load needs power: at all hours, or in hours that
hold all of its need.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import IntEnum
from itertools import pairwise

import numpy as np

from hearthold.engine.compile_day import clock_windows
from hearthold.engine.control import DailySpell, PanelHours
from hearthold.engine.kernels.layout import Array, Ints
from hearthold.engine.rows import Windows, inside, unwrapped
from hearthold.engine.trace import empty_tape
from hearthold.house.house import House
from hearthold.house.loads import Load, Priority
from hearthold.plan.limits import RunRules
from hearthold.plan.objective import DAY_S, HOUR_S, LITRE_J, SLOT_S, SLOTS_A_DAY
from hearthold.plan.problem import Problem, with_reserve
from hearthold.plan.rule_search import DAY_MIN, HALF_MIN, Rule
from hearthold.plan.threads import side_by_side
from hearthold.sizing.demand import is_lighting
from hearthold.sizing.inverter import unstartable

MOST_SPELLS = 3  # more cannot be kept by heart beside three lists of circuits
LENGTHS_MIN = (30, 60, 90, 120, 180, 240, 360, 480, 600, 720)
SWITCH_J = 0.3 * LITRE_J  # a walk to the panel; what a start of a machine costs, less the cord
HOURS_J_PER_DAY = 0.3 * LITRE_J  # to remember which circuits have hours at all
# An hour without a load that runs by the clock, awake or asleep for what is essential and while people are up for the
# rest; and without lamps while people are up and it may be dark. With the prices of the objective, judgements.
CLOCK_W = {
    Priority.VITAL: 0.0,  # has an account of its own, and is never traded
    Priority.ESSENTIAL: 2.0 * LITRE_J / HOUR_S,
    Priority.COMFORT: 0.3 * LITRE_J / HOUR_S,
    Priority.DEFER: 0.1 * LITRE_J / HOUR_S,
}
VITAL_PART = 14  # of a cost's parts (see `parts.CostParts`)
MAY_BE_DARK = ((0.0, 8 * HOUR_S), (17 * HOUR_S, DAY_S))  # at which lamps are missed, all year (judgement)


class Duty(IntEnum):
    """What a circuit does, with the numbers that the engine knows it by."""

    OFF = 0
    ALWAYS = 1
    HOURS = 2


@dataclass(frozen=True, slots=True, order=True)
class PanelRule:
    """The duty of every fed circuit in the order of the house file, and the hours (start and length in minutes)."""

    duties: tuple[Duty, ...]
    hours: Rule = ()

    @property
    def settled(self) -> PanelRule:
        """The same without hours that no circuit keeps, or circuits whose hours there are none of."""
        if not self.hours:
            return PanelRule(tuple(Duty.OFF if d is Duty.HOURS else d for d in self.duties))
        return self if Duty.HOURS in self.duties else PanelRule(self.duties)


@dataclass(frozen=True, slots=True)
class Panel:
    """The circuits that a battery feeds and may serve, how much each is wanted, and which may never be off."""

    circuits: tuple[str, ...]
    ranks: tuple[int, ...]  # of the weightiest load on each: 0 for vital
    needs: tuple[
        Windows, ...
    ]  # times of day at which a vital load on it needs power; empty where there is none
    missed_j: Array  # (circuits, SLOTS_A_DAY) price of a slot without the loads that run by the clock

    def rule(self, *, up_to: int, hours_up_to: int = -1, hours: Rule = ()) -> PanelRule:
        """All circuits that weigh so much on at all hours, more of them in the hours."""
        duties = [
            Duty.ALWAYS if rank <= up_to or need else Duty.HOURS if rank <= hours_up_to else Duty.OFF
            for rank, need in zip(self.ranks, self.needs, strict=True)
        ]
        return PanelRule(tuple(duties), hours).settled

    def named(self, rule: PanelRule, duty: Duty) -> tuple[str, ...]:
        """Circuits of one duty."""
        return tuple(c for c, d in zip(self.circuits, rule.duties, strict=True) if d is duty)

    def serves_vital(self, rule: PanelRule) -> bool:
        """Whether every circuit with a vital load is on, by the rule, whenever that needs power."""
        return all(
            d is Duty.ALWAYS or not need or (d is Duty.HOURS and _hold(rule.hours, need))
            for d, need in zip(rule.duties, self.needs, strict=True)
        )


def _hold(hours: Rule, need: Windows) -> bool:
    """Whether hours hold all of a need, looked at by the minute."""
    on = _windows(hours)
    return all(inside(on, 60.0 * m) for m in range(DAY_MIN) if inside(need, 60.0 * m))


def _windows(hours: Rule) -> Windows:
    return unwrapped((60.0 * start, 60.0 * (start + n)) for start, n in hours)


def barred(house: House) -> tuple[str, ...]:
    """Fed circuits with nothing on them but motors that the inverter cannot start: they stay off in every way."""
    motors = {load.id for load in unstartable(house)}
    on_it = {circuit.id: {load.id for load in house.loads_on(circuit.id)} for circuit in house.fed_circuits}
    return tuple(ident for ident, loads in on_it.items() if loads and loads <= motors)


def panel_of(house: House, rules: RunRules) -> Panel:
    """The panel of a house: fed circuits with something on them that can run."""
    off = barred(house)
    fed = [c.id for c in house.fed_circuits if house.loads_on(c.id) and c.id not in off]
    return Panel(
        tuple(fed),
        tuple(min(load.priority.rank for load in house.loads_on(c)) for c in fed),
        tuple(vital_needs(house, house.loads_on(c)) for c in fed),
        np.array([_missed_j(house, rules, house.loads_on(c)) for c in fed]).reshape(len(fed), SLOTS_A_DAY),
    )


def vital_needs(house: House, loads: tuple[Load, ...]) -> Windows:
    """When the vital ones of some loads need power: at the times that the house file says, else at all hours."""
    found: Windows = ()
    for load in (x for x in loads if x in house.vital_loads):
        said = bool(load.use) or any(need.load == load.id for need in house.medical)
        found += (clock_windows(house, load) or ()) if said else ((0.0, DAY_S),)
    return found


def _missed_j(house: House, rules: RunRules, loads: tuple[Load, ...]) -> Array:
    """Price of every slot of the day in which the lamps and what runs by the clock on a circuit get nothing."""
    found = np.zeros(SLOTS_A_DAY)
    vital = {load.id for load in house.vital_loads}
    for load in loads:
        if load.id in vital or load.running_w <= 0.0:
            continue
        windows, always = clock_windows(house, load), load.priority is Priority.ESSENTIAL
        if windows is None:
            windows, always = MAY_BE_DARK if is_lighting(load) else (), False
        for k in range(SLOTS_A_DAY):
            if inside(windows, k * SLOT_S) and (always or rules.is_awake(k * SLOT_S)):
                found[k] += CLOCK_W[load.priority] * SLOT_S
    return found


def allows(rules: RunRules, hours: Rule) -> bool:
    """Whether hours begin and end while somebody is up, apart from each other, and are few enough."""
    ordered = sorted(hours)
    if len(ordered) > MOST_SPELLS or any(not 0 < n < DAY_MIN for _, n in ordered):
        return False
    ends = [a + n for a, n in ordered]
    nexts = [a for a, _ in ordered[1:]] + [a + DAY_MIN for a, _ in ordered[:1]]
    if any(end + HALF_MIN > after for end, after in zip(ends, nexts, strict=True)):
        return False
    return all(rules.is_awake(60.0 * (m % DAY_MIN)) for a, n in ordered for m in (a, a + n))


def coarse_hours(rules: RunRules) -> tuple[Rule, ...]:
    """Hours spread over the day: all of the night or of the waking day first, then one spell, two or three alike."""
    every = range(0, DAY_MIN, 120)
    found = list(_day_and_night(rules))
    found += [((a, n),) for a in every for n in LENGTHS_MIN[1::2]]
    for n in (60, 120, 180, 240):
        found += [((a, n), (b, n)) for a in every for b in every if a < b]
        found += [((a, n), (a + 360, n), (a + 720, n)) for a in every if a + 720 < DAY_MIN]
    return tuple(dict.fromkeys(h for h in found if allows(rules, h)))


def _day_and_night(rules: RunRules) -> Iterator[Rule]:
    """From going to bed to getting up, and the other way round, on half hours at which somebody is up."""
    up = [m for m in range(0, DAY_MIN, HALF_MIN) if rules.is_awake(60.0 * m)]
    if len(up) == DAY_MIN // HALF_MIN or not up:
        return
    gets_up = next(m for m in up if (m - HALF_MIN) % DAY_MIN not in up)
    to_bed = next(m for m in up if (m + HALF_MIN) % DAY_MIN not in up)
    yield ((to_bed, (gets_up - to_bed) % DAY_MIN),)
    yield ((gets_up, (to_bed - gets_up) % DAY_MIN),)


def near_hours(hours: Rule) -> Iterator[Rule]:
    """Hours one small change away: an end moved by half an hour or an hour, a spell moved, less, joined or more."""
    for i, (start, n) in enumerate(hours):
        others = hours[:i] + hours[i + 1 :]
        for shift in (-60, -30, 30, 60):
            for changed in (((start + shift) % DAY_MIN, n), (start, n + shift), (start + shift, n - shift)):
                yield tuple(sorted((*others, (changed[0] % DAY_MIN, changed[1]))))
        yield others
    for (a, _), (b, n) in pairwise(hours):
        yield tuple(sorted((*(h for h in hours if h[0] not in (a, b)), (a, b + n - a))))
    for start in range(0, DAY_MIN, 120):
        yield tuple(sorted((*hours, (start, 60))))


@dataclass(slots=True)
class PanelJudge:
    """Prices ways to keep the panel by simulation, each once, over the outages they must serve: a vital load with a
    part of the charge held back (but where `reserves` is not set), everything else with the whole.
    """

    problem: Problem
    panel: Panel
    start_s: Array
    length_s: Array
    reserves: bool = True
    known: dict[PanelRule, float] = field(default_factory=dict)
    reserved: Problem | None = field(
        init=False
    )  # the one by which what is vital is judged, where something is

    def __post_init__(self) -> None:
        self.reserved = with_reserve(self.problem) if self.reserves else None

    def costs_j(self, wanted: list[PanelRule]) -> dict[PanelRule, float]:
        """Mean cost of each over the outages."""
        asked = list(dict.fromkeys(rule.settled for rule in wanted))
        new = [rule for rule in asked if rule not in self.known]
        if new:
            for rule, cost in zip(new, self._priced(new), strict=True):
                self.known[rule] = cost
        return {rule: self.known[rule] for rule in asked}

    def _priced(self, rules: list[PanelRule]) -> list[float]:
        parts, dark_s = price_rules(self.problem, self.panel, rules, self.start_s, self.length_s)
        if self.reserved is not None:
            low, _ = price_rules(self.reserved, self.panel, rules, self.start_s, self.length_s)
            parts[:, :, VITAL_PART] = low[:, :, VITAL_PART]
        days = float(self.length_s.mean()) / DAY_S
        lived = [self._lived_j(rule, float(d)) for rule, d in zip(rules, dark_s.mean(axis=1), strict=True)]
        work = [days * work_j_per_day(rule) for rule in rules]
        costs = parts.sum(axis=2).mean(axis=1) + np.array(lived) + np.array(work)
        return [float(cost) for cost in costs]

    def _lived_j(self, rule: PanelRule, dark_s: float) -> float:
        """What an outage costs of loads that run by the clock: off by the rule, or for want of charge."""
        missed, every = missed_j_per_day(self.panel, rule), float(self.panel.missed_j.sum())
        return (missed * float(self.length_s.mean()) + (every - missed) * dark_s) / DAY_S


def missed_j_per_day(panel: Panel, rule: PanelRule) -> float:
    """What the rule itself keeps from the loads that run by the clock, at their prices."""
    windows = _windows(rule.hours)
    in_hours = np.array([inside(windows, k * SLOT_S) for k in range(SLOTS_A_DAY)])
    duty = np.array(rule.duties)
    off = (duty == Duty.OFF)[:, None] | ((duty == Duty.HOURS)[:, None] & ~in_hours[None, :])
    return float((panel.missed_j * off).sum())


def work_j_per_day(rule: PanelRule) -> float:
    """What a rule costs the person: going to the panel, and remembering."""
    return 2.0 * len(rule.hours) * SWITCH_J + HOURS_J_PER_DAY * bool(rule.hours)


def control_of(panel: Panel, rule: PanelRule) -> PanelHours:
    """A rule as a control of the engine."""
    spells = tuple(DailySpell(60.0 * start, 60.0 * n) for start, n in rule.hours)
    return PanelHours(panel.named(rule, Duty.ALWAYS), panel.named(rule, Duty.HOURS), spells)


def price_rules(
    problem: Problem, panel: Panel, rules: list[PanelRule], start_s: Array, length_s: Array
) -> tuple[Array, Array]:
    """Cost parts (rules, outages, parts) of every rule in every outage, and how long the battery gave nothing."""
    from hearthold.plan.kernels.panel import price_panels
    from hearthold.plan.kernels.price import PART_COUNT

    spells, counts = np.zeros((len(rules), MOST_SPELLS, 2)), np.zeros(len(rules), dtype=np.int64)
    feeds = np.zeros((len(rules), len(problem.compiled.circuit_ids)))
    columns = [problem.compiled.circuit_ids.index(name) for name in panel.circuits]
    for i, rule in enumerate(rules):
        counts[i], feeds[i, columns] = len(rule.hours), rule.duties
        for j, (start, n) in enumerate(rule.hours):
            spells[i, j] = 60.0 * start, 60.0 * (start + n)
    packed = problem.packed(PanelHours(), MOST_SPELLS)
    parts, dark_s = np.zeros((len(rules), len(start_s), PART_COUNT)), np.zeros((len(rules), len(start_s)))
    tape = empty_tape(problem.compiled)

    def work(which: Ints) -> None:
        price_panels(
            packed.w.copy(), packed.at.copy(), np.zeros(packed.state_size), tape, start_s, length_s,
            problem.prices, problem.offset_j, feeds, spells, counts, which, parts, dark_s,
        )  # fmt: skip

    every = np.arange(len(rules), dtype=np.int64)
    side_by_side(work, [every[i : i + 32] for i in range(0, len(rules), 32)])
    return parts, dark_s
