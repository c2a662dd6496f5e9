"""Simple daily rules: which there are, and the search that simulates them in batches and climbs from the
best.

A rule is a tuple of spells, each a start and a length in minutes of the day. Starts lie on half hours;
lengths on a short ladder, so that a rule can be said in one sentence.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import combinations, product

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.control import DailySpell, Routine
from hearthold.engine.kernels.layout import FAR, Array, Ints
from hearthold.engine.trace import empty_tape
from hearthold.plan.limits import RunRules
from hearthold.plan.objective import DAY_S, LITRE_J
from hearthold.plan.problem import Problem
from hearthold.plan.threads import side_by_side

Rule = tuple[tuple[int, int], ...]  # (start, length) in minutes, by start
DAY_MIN, HALF_MIN = 1440, 30
LADDER_MIN = (15, 30, 45, 60, 90, 120, 150, 180, 240, 300, 360, 480, 600, 720)
MOST_SPELLS = 6  # a rule with more cannot be kept by heart
UNLIKE_J_PER_DAY = 0.15 * LITRE_J  # a rule with two lengths is a little harder to remember
SCOUT = 8  # every so manieth rule of the grid is run to the end, and tells how dear is too dear
HOPELESS_FRAC = 0.5  # dearer than the best by which a rule is not followed to the end of the outage
NEAR_FRAC = 0.2  # and by which a number of spells is not climbed from but by its best rule
COARSE_RULES = 1200  # of the grid; the climb looks at about as many again
POOL = 10  # rules of each number of spells from which the climb goes on
FEW = 6  # as many of them for a routine
CLIMBS = 4


@dataclass(frozen=True, slots=True)
class RuleSet:
    """Which rules are allowed for a household."""

    rules: RunRules
    lengths_min: tuple[int, ...]
    starts_min: tuple[int, ...]  # half hours at which a spell of the shortest length may start
    vital: Rule  # spells that carry the vital loads through, if the machine must
    most_spells: int
    # By start and length: the search asks for the same few hundred spells thousands of times.
    spells: dict[tuple[int, int], bool] = field(default_factory=dict, init=False, compare=False, repr=False)

    def allows(self, rule: Rule) -> bool:
        """Whether every spell lies in permitted hours, begins and ends while people are up, and keeps its
        distance.
        """
        gap_min = self.rules.least_off_s / 60.0
        ordered = sorted(rule)
        ends = [
            (a + n, b + DAY_MIN * (i + 1 == len(ordered))) for i, (a, n, b) in enumerate(_with_next(ordered))
        ]
        if any(end + gap_min > after for end, after in ends):
            return False
        return all(spell in self.vital or self._allows_spell(*spell) for spell in ordered)

    def _allows_spell(self, start: int, length: int) -> bool:
        if (start, length) not in self.spells:
            self.spells[start, length] = self._is_permitted(start, length)
        return self.spells[start, length]

    def _is_permitted(self, start: int, length: int) -> bool:
        if not (self.rules.may_switch(60.0 * start) and self.rules.may_switch(60.0 * (start + length))):
            return False
        return all(self.rules.may_run(60.0 * m) for m in range(start, start + length, 15))


def _with_next(ordered: list[tuple[int, int]]) -> Iterator[tuple[int, int, int]]:
    for i, (start, length) in enumerate(ordered):
        yield start, length, ordered[(i + 1) % len(ordered)][0]


def rule_set(problem: Problem) -> RuleSet:
    """The rules of a household: half hours, a ladder of lengths between shortest and longest spell."""
    rules = problem.rules
    shortest, wished = round(rules.shortest_s / 60.0), round(problem.house.wishes.longest_spell_s / 60.0)
    lengths = sorted({shortest, wished} | {m for m in LADDER_MIN if shortest <= m <= wished})
    made = RuleSet(rules, tuple(lengths), (), _vital_spells(rules), min(MOST_SPELLS, rules.spells_per_day))
    starts = tuple(m for m in range(0, DAY_MIN, HALF_MIN) if made._allows_spell(m, shortest))
    if not problem.house.wishes.run_at_night:  # people asleep start the machine for a vital load alone
        starts = tuple(
            m for m in starts if rules.is_awake(60.0 * m) and rules.is_awake(60.0 * (m + shortest))
        )
    return RuleSet(rules, made.lengths_min, starts, made.vital, made.most_spells)


def _vital_spells(rules: RunRules) -> Rule:
    """Spells from half an hour before each vital need to its end, joined where they meet."""
    made: list[tuple[int, int]] = []
    for start_s, end_s in sorted(rules.vital):
        start = int(start_s / 60.0 - 10.0) // HALF_MIN * HALF_MIN
        length = -(-int(end_s / 60.0 - start) // 15) * 15
        if made and start <= made[-1][0] + made[-1][1] + HALF_MIN:
            first = made.pop()
            start, length = first[0], max(first[1], start + length - first[0])
        made.append((start % DAY_MIN, min(length, DAY_MIN - HALF_MIN)))
    return tuple(made)


def coarse(rules: RuleSet) -> Iterator[Rule]:
    """Rules spread over the day: every half hour for one spell, every hour for two, two for three, three
    for more.
    """
    few = rules.lengths_min[:: 2 if len(rules.lengths_min) > 4 else 1]
    bases: list[Rule] = [(), *([rules.vital] if rules.vital else [])]
    for base in bases:
        yield base
        for count in range(1, rules.most_spells - len(base) + 1):
            step = {1: HALF_MIN, 2: 60, 3: 120}.get(count, 180)
            starts = [m for m in rules.starts_min if (m - rules.starts_min[0]) % step == 0]
            lengths = rules.lengths_min if count == 1 else few
            for chosen, length in product(combinations(starts, count), lengths):
                yield tuple(sorted((*base, *((m, length) for m in chosen))))


def day_rules(problem: Problem, on: NDArray[np.bool_]) -> Iterator[Rule]:
    """The days of a run plan as rules: its spells at the nearest half hours, for the rung of the ladder nearest to each
    length, the one above or the one below.
    """
    ladder = rule_set(problem).lengths_min
    spells = [(problem.start_s + s.start_s, s.end_s - s.start_s) for s in problem.spells_of(on)]
    for day in sorted({at // DAY_S for at, _ in spells}):
        own = [(at % DAY_S / 60.0, n / 60.0) for at, n in spells if at // DAY_S == day]
        starts = [round(at / HALF_MIN) * HALF_MIN % DAY_MIN for at, _ in own]
        nearest = [int(np.argmin(np.abs(np.array(ladder) - n))) for _, n in own]
        for up in (-1, 0, 1):
            lengths = [ladder[min(max(i + up, 0), len(ladder) - 1)] for i in nearest]
            yield tuple(sorted(zip(starts, lengths, strict=True)))


def neighbours(rules: RuleSet, rule: Rule) -> Iterator[Rule]:
    """Rules one small change away: a spell moved by half an hour or an hour, a length one rung up or down, a
    spell less.
    """
    own = [i for i, spell in enumerate(rule) if spell not in rules.vital]
    for i in own:
        start, length = rule[i]
        for shift in (-60, -30, 30, 60):
            yield _replaced(rule, {i: ((start + shift) % DAY_MIN, length)})
        for rung in _rungs(rules, length):
            yield _replaced(rule, {i: (start, rung)})
            yield _replaced(rule, {i: ((start + length - rung) % DAY_MIN, rung)})  # the end stays
        if len(rule) > 1:
            yield rule[:i] + rule[i + 1 :]
    for up in (-1, 1):
        moved = {
            i: (rule[i][0], r) for i in own for r in _rungs(rules, rule[i][1]) if (r > rule[i][1]) == (up > 0)
        }
        yield _replaced(rule, moved)


def _rungs(rules: RuleSet, length: int) -> list[int]:
    ladder = rules.lengths_min
    if length not in ladder:
        return []
    i = ladder.index(length)
    return [ladder[j] for j in (i - 1, i + 1) if 0 <= j < len(ladder)]


def _replaced(rule: Rule, changes: dict[int, tuple[int, int]]) -> Rule:
    return tuple(sorted(changes.get(i, spell) for i, spell in enumerate(rule)))


@dataclass(slots=True)
class Judge:
    """Prices rules by simulation, each once. `start_s` and `length_s` are the outages a rule must serve."""

    problem: Problem
    start_s: Array
    length_s: Array
    known: dict[Rule, float] = field(default_factory=dict)

    def costs_j(self, wanted: Iterable[Rule], most_j: float = FAR) -> dict[Rule, float]:
        """Mean cost over the outages of every rule asked for; of one dearer than `most_j` how far it was followed."""
        asked = list(dict.fromkeys(wanted))
        new = [rule for rule in asked if rule not in self.known]
        if new:
            parts = simulate_rules(self.problem, new, self.start_s, self.length_s, most_j)
            days = float(self.length_s.mean()) / DAY_S
            for rule, cost in zip(new, parts.sum(axis=2).mean(axis=1).tolist(), strict=True):
                self.known[rule] = cost + days * habit_j_per_day(self.problem, rule)
        return {rule: self.known[rule] for rule in asked}


def habit_j_per_day(problem: Problem, rule: Rule) -> float:
    """What a rule costs the person: getting up at night to switch, and remembering two lengths."""
    edges = [60.0 * m for start, length in rule for m in (start, start + length)]
    asleep = sum(not problem.rules.is_awake(edge % DAY_S) for edge in edges)
    return asleep * problem.objective.wake_j + UNLIKE_J_PER_DAY * (len({length for _, length in rule}) > 1)


def simulate_rules(
    problem: Problem, rules: list[Rule], start_s: Array, length_s: Array, most_j: float = FAR
) -> Array:
    """Cost parts of every rule in every outage: shape (rules, outages, parts). All cores, same result on any
    number. A rule that costs more than `most_j` an outage is not followed to the end.
    """
    from hearthold.plan.kernels.candidates import price_candidates
    from hearthold.plan.kernels.price import PART_COUNT

    most = max(1, *(len(rule) for rule in rules))
    candidates, counts = np.zeros((len(rules), most, 2)), np.zeros(len(rules), dtype=np.int64)
    for i, rule in enumerate(rules):
        counts[i] = len(rule)
        candidates[i, : len(rule), 0] = [60.0 * start for start, _ in rule]
        candidates[i, : len(rule), 1] = [60.0 * (start + length) for start, length in rule]
    packed = problem.packed(control_of(problem, ((0, 1),)), most)
    parts = np.zeros((len(rules), len(start_s), PART_COUNT))
    tape = empty_tape(problem.compiled)

    def work(which: Ints) -> None:
        price_candidates(
            packed.w.copy(), packed.at.copy(), np.zeros((2, packed.state_size)), tape, start_s, length_s,
            problem.prices, problem.offset_j, candidates, counts, which, parts, min(most_j * len(start_s), FAR),
        )  # fmt: skip

    every = np.arange(len(rules), dtype=np.int64)
    blocks = [every[i : i + 64] for i in range(0, len(rules), 64)]
    side_by_side(work, blocks)
    return parts


def control_of(problem: Problem, rule: Rule) -> Routine:
    """A rule as a control of the engine."""
    spells = tuple(DailySpell(60.0 * start, 60.0 * length, problem.steps) for start, length in rule)
    return Routine(spells, problem.handling)


def search(
    problem: Problem,
    judge: Judge,
    most: int = 10**6,
    climbs: int = CLIMBS,
    pool_of: int = POOL,
    seeds: Iterable[Rule] | None = None,
) -> list[Rule]:
    """All rules looked at, best first: a coarse grid, then a climb from the best of every number of spells.

    `most`: rules of the coarse grid, spread evenly over all of it; `pool_of`: rules of each number of spells
    from which a climb goes on; `seeds` in place of the grid.
    """
    rules = rule_set(problem)
    grid = [r for r in (coarse(rules) if seeds is None else seeds) if rules.allows(r)]
    chosen = grid[:: max(1, len(grid) // most)]
    judge.costs_j(chosen[::SCOUT])
    judge.costs_j(chosen, _hopeless_j(judge))
    for _ in range(climbs):
        pool = _pool(judge.known, pool_of)
        near = {
            n for rule in pool for n in neighbours(rules, rule) if n and rules.allows(n)
        } - judge.known.keys()
        if not near:
            break
        best = min(judge.known.values())
        judge.costs_j(sorted(near), _hopeless_j(judge))
        if min(judge.known.values()) > best * (1.0 - 1e-4):
            break
    return sorted(judge.known, key=lambda rule: (judge.known[rule], len(rule), rule))


def _hopeless_j(judge: Judge) -> float:
    """A cost beyond which no rule is followed."""
    return (1.0 + HOPELESS_FRAC) * min(judge.known.values(), default=FAR)


def _pool(known: dict[Rule, float], pool_of: int) -> list[Rule]:
    """The best rules of every number of spells; one alone of a number whose best is much dearer than the best."""
    ordered = sorted(known, key=lambda rule: (known[rule], rule))
    chosen: list[Rule] = []
    for count in range(1, MOST_SPELLS + 1):
        own = [rule for rule in ordered if len(rule) == count]
        near = own and known[own[0]] <= (1.0 + NEAR_FRAC) * known[ordered[0]]
        chosen += own[: pool_of if near else 1]
    return chosen
