"""The solves behind the choice of circuits: best set, fewest turns, panel spaces, each with exact circles.

Running and starting limits are circles in the plane of watts and vars. The 0/1 program has straight cuts;
where its answer lies outside a circle, a cut is added at that very angle and it is solved again, so what
comes out is the true optimum, not that of an approximation.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import atan2, cos, radians, sin

from hearthold.house.loads import Priority
from hearthold.plan.solver import Program, Solution, Status
from hearthold.sizing.together import TOLERANCE_FRAC, Draw, Limits

_FIRST_ANGLES = tuple(radians(d) for d in (0.0, 20.0, 40.0, 60.0))
_MOST_ROUNDS = 200


class Search:
    """The solves of one choice: they share limits, time and the cuts found so far."""

    def __init__(self, allowed: Limits, time_limit_s: float) -> None:
        self.allowed, self.time_limit_s = allowed, time_limit_s
        self.angles = list(_FIRST_ANGLES)

    def with_spaces(self, candidates: Sequence[Draw]) -> list[Draw]:
        """The circuits that get a place in the panel: by priority, most of them first."""
        spaces = self.allowed.spaces
        if spaces is None or sum(d.poles for d in candidates) <= spaces:
            return list(candidates)

        def build() -> tuple[Program, list[list[int]]]:
            program = Program()
            columns = [program.binary() for _ in candidates]
            program.at_most([(x, float(d.poles)) for x, d in zip(columns, candidates, strict=True)], spaces)
            return program, [columns]

        found, _ = self._by_priority(build, candidates)
        return found

    def best_set(self, candidates: Sequence[Draw], always: Sequence[Draw]) -> tuple[list[Draw], Status]:
        """The set to carry at one time, with some circuits in it whatever happens."""
        if not candidates:
            return [], Status.PROVEN
        held = {d.circuit for d in always}

        def build() -> tuple[Program, list[list[int]]]:
            program, turns = self._program(candidates, 1)
            for column, draw in zip(turns[0], candidates, strict=True):
                if draw.circuit in held:
                    program.fix(column, 1.0)
            return program, turns

        return self._by_priority(build, candidates)

    def turns(
        self, housed: Sequence[Draw], always: Sequence[Draw], best: Sequence[Draw]
    ) -> tuple[list[list[Draw]], Status]:
        """The fewest turns that carry everything, each filled up by priority."""
        rest = [d for d in housed if d not in always]
        if not housed:
            return [], Status.PROVEN
        status = Status.PROVEN
        for count in range(1, len(rest) + 1):
            parts, this = self._split(rest, always, count, [d for d in best if d in rest])
            if parts is not None:
                filled = [self.best_set(housed, [*always, *part])[0] for part in parts]
                return filled, status
            status = Status.STOPPED if this is Status.STOPPED else status
        return [list(always)], status

    def _split(
        self, rest: Sequence[Draw], always: Sequence[Draw], count: int, first: Sequence[Draw]
    ) -> tuple[list[list[Draw]] | None, Status]:
        """A partition of `rest` into `count` turns, the first of them `first` where that costs no turn."""
        parts, status = self._partition(rest, always, count, first)
        if parts is None and first:
            parts, status = self._partition(rest, always, count, ())
        return parts, status

    def _partition(
        self, rest: Sequence[Draw], always: Sequence[Draw], count: int, first: Sequence[Draw]
    ) -> tuple[list[list[Draw]] | None, Status]:
        everybody = [*always, *rest]

        def build() -> tuple[Program, list[list[int]]]:
            program, turns = self._program(everybody, count)
            for place, draw in enumerate(everybody):
                columns = [turn[place] for turn in turns]
                if place < len(always):
                    for column in columns:
                        program.fix(column, 1.0)
                    continue
                program.at_least([(c, 1.0) for c in columns], 1.0)
                program.at_most([(c, 1.0) for c in columns], 1.0)
                if draw in first:
                    program.fix(columns[0], 1.0)
                elif not first:
                    # turns are alike: the n-th circuit may open at most the n-th turn
                    for column in columns[place - len(always) + 1 :]:
                        program.fix(column, 0.0)
            return program, turns

        solution, turns = self._exactly(build, lambda _: [], everybody)
        if not solution.values:
            return None, solution.status
        sets = [_picked(solution, turn, everybody) for turn in turns]
        return [[d for d in s if d not in always] for s in sets if len(s) > len(always)], solution.status

    def _by_priority(
        self, build: Callable[[], tuple[Program, list[list[int]]]], candidates: Sequence[Draw]
    ) -> tuple[list[Draw], Status]:
        """Most circuits of each priority in turn, then most watts; earlier counts are kept."""
        kept: list[tuple[Priority, int]] = []
        status, solution, columns = Status.PROVEN, None, []

        def held() -> tuple[Program, list[list[int]]]:
            program, turns = build()
            for priority, count in kept:
                program.at_least(_weights(turns[0], candidates, priority), float(count))
            return program, turns

        for priority in (*Priority, None):
            aim = lambda turns, p=priority: _weights(turns[0], candidates, p)  # noqa: E731
            solution, turns = self._exactly(held, aim, candidates)
            columns = turns[0]
            if not solution.values:
                return [], Status.IMPOSSIBLE
            status = status if solution.status is Status.PROVEN else solution.status
            if priority is not None:
                picked = _picked(solution, columns, candidates)
                kept.append((priority, sum(d.priority is priority for d in picked)))
        return _picked(solution, columns, candidates) if solution is not None else [], status

    def _exactly(
        self,
        build: Callable[[], tuple[Program, list[list[int]]]],
        aim: Callable[[list[list[int]]], list[tuple[int, float]]],
        candidates: Sequence[Draw],
    ) -> tuple[Solution, list[list[int]]]:
        """Solve, and while a chosen set lies outside a circle, cut there and solve again."""
        for _ in range(_MOST_ROUNDS):
            program, turns = build()
            solution = program.maximise(aim(turns), self.time_limit_s)
            if not solution.values:
                break
            sets = [_picked(solution, turn, candidates) for turn in turns]
            outside = [angle for s in sets for angle in _violated(s, self.allowed)]
            new = [a for a in outside if a not in self.angles]
            if not new:
                return solution, turns
            self.angles += sorted(set(new))
        return Solution(solution.status if not solution.values else Status.STOPPED, (), 0.0, 0.0), turns

    def _program(self, candidates: Sequence[Draw], count: int) -> tuple[Program, list[list[int]]]:
        """Columns for every circuit in every turn, and all limits of each turn."""
        program = Program()
        turns = [[program.binary() for _ in candidates] for _ in range(count)]
        for columns in turns:
            self._limit_turn(program, columns, candidates)
        return program, turns

    def _limit_turn(self, program: Program, columns: list[int], candidates: Sequence[Draw]) -> None:
        pairs = list(zip(columns, candidates, strict=True))
        program.at_most([(x, d.mean_w) for x, d in pairs], self.allowed.mean_w)
        for value, running, start in _linear(self.allowed, self.angles):
            row = [(x, value(d.leg_a_va, d.leg_b_va)) for x, d in pairs]
            program.at_most(row, running)
            program.at_most(row, start)
            for column, draw in pairs:
                more = max((value(a, b) for a, b in draw.surpluses), default=0.0)
                if more > 0.0:
                    program.at_most([*row, (column, more)], start)


_Value = Callable[[complex, complex], float]


def _linear(allowed: Limits, angles: Sequence[float]) -> Iterator[tuple[_Value, float, float]]:
    """Straight limits: what is measured from the legs' powers, its running and its starting limit."""
    yield (lambda a, b: (a + b).real), allowed.running_w, allowed.start_w
    for angle in angles:
        yield _along(lambda a, b: a + b, angle), allowed.running_va, allowed.start_va
        yield _along(lambda a, b: a, angle), allowed.leg_va, allowed.leg_start_va
        yield _along(lambda a, b: b, angle), allowed.leg_va, allowed.leg_start_va


def _along(part: Callable[[complex, complex], complex], angle: float) -> _Value:
    """The part's size seen along one direction of the plane of watts and vars."""
    toward = complex(cos(angle), sin(angle))
    return lambda a, b: (part(a, b) * toward.conjugate()).real


def _violated(chosen: Sequence[Draw], allowed: Limits) -> Iterator[float]:
    """Angles at which a chosen set lies outside one of the circles."""
    total, leg_a, leg_b = (sum((p(d) for d in chosen), 0j) for p in _PARTS)
    starts = [(0j, 0j), *(s for d in chosen for s in d.surpluses)]
    circles = [(total, allowed.running_va), (leg_a, allowed.leg_va), (leg_b, allowed.leg_va)]
    for a, b in starts:
        circles += [
            (total + a + b, allowed.start_va),
            (leg_a + a, allowed.leg_start_va),
            (leg_b + b, allowed.leg_start_va),
        ]
    for power_va, limit_va in circles:
        if abs(power_va) > limit_va * (1.0 + TOLERANCE_FRAC):
            yield atan2(power_va.imag, power_va.real)


_PARTS: tuple[Callable[[Draw], complex], ...] = (
    lambda d: d.total_va,
    lambda d: d.leg_a_va,
    lambda d: d.leg_b_va,
)


def _weights(
    columns: Sequence[int], candidates: Sequence[Draw], priority: Priority | None
) -> list[tuple[int, float]]:
    """Objective: circuits of one priority, or kilowatts of all."""
    if priority is None:
        return [(x, d.total_va.real / 1000.0) for x, d in zip(columns, candidates, strict=True)]
    return [(x, 1.0) for x, d in zip(columns, candidates, strict=True) if d.priority is priority]


def _picked(solution: Solution, columns: Sequence[int], candidates: Sequence[Draw]) -> list[Draw]:
    return [d for x, d in zip(columns, candidates, strict=True) if solution.chosen(x)]
