"""A thin, typed wrapper over HiGHS for small 0/1 programs, with plain words for what came out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

Terms = Sequence[tuple[int, float]]


class Status(StrEnum):
    """Three different words: nobody should take one for another."""

    PROVEN = "proven best"
    STOPPED = "best found in the time"
    IMPOSSIBLE = "cannot be done"


@dataclass(frozen=True, slots=True)
class Solution:
    """What the solver found; `values` is empty where nothing was, `bound` is what it proved."""

    status: Status
    values: tuple[float, ...]
    objective: float
    bound: float

    def chosen(self, column: int) -> bool:
        """Whether a 0/1 column is 1."""
        return self.values[column] > 0.5


@dataclass(slots=True)
class Program:
    """A 0/1 program under construction: columns, rows between limits, and an objective for each solve."""

    _integer: list[bool] = field(default_factory=list)
    _lower: list[float] = field(default_factory=list)
    _upper: list[float] = field(default_factory=list)
    _rows: list[tuple[Terms, float, float]] = field(default_factory=list)

    def binary(self) -> int:
        """A new 0/1 column; its index."""
        return self._column(True, 0.0, 1.0)

    def number(self, lower: float, upper: float) -> int:
        """A new continuous column between limits; its index."""
        return self._column(False, lower, upper)

    def fix(self, column: int, value: float) -> None:
        """Hold a column to one value."""
        self._lower[column] = self._upper[column] = value

    def at_most(self, terms: Terms, limit: float) -> None:
        """Sum of coefficient times column at most `limit`."""
        self._rows.append((terms, -float("inf"), limit))

    def at_least(self, terms: Terms, limit: float) -> None:
        """Sum of coefficient times column at least `limit`."""
        self._rows.append((terms, limit, float("inf")))

    def maximise(self, terms: Terms, time_limit_s: float = 10.0) -> Solution:
        """The best values for an objective, and how sure that is."""
        solver = _quiet_solver()
        solver.setOptionValue("time_limit", time_limit_s)
        solver.setOptionValue("mip_rel_gap", 0.0)
        solver.setOptionValue("random_seed", 1)
        solver.passModel(self._model(terms))
        solver.run()
        return _solution(solver)

    def _column(self, integer: bool, lower: float, upper: float) -> int:
        self._integer.append(integer)
        self._lower.append(lower)
        self._upper.append(upper)
        return len(self._integer) - 1

    def _model(self, terms: Terms) -> Any:
        """The program as HiGHS takes it, row by row."""
        import highspy

        model, count = highspy.HighsLp(), len(self._integer)
        model.num_col_, model.num_row_ = count, len(self._rows)
        model.col_cost_ = _dense(terms, count)
        model.col_lower_, model.col_upper_ = self._lower, self._upper
        model.row_lower_ = [low for _, low, _ in self._rows]
        model.row_upper_ = [high for _, _, high in self._rows]
        kinds = highspy.HighsVarType
        model.integrality_ = [kinds.kInteger if whole else kinds.kContinuous for whole in self._integer]
        model.sense_ = highspy.ObjSense.kMaximize
        model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        model.a_matrix_.num_col_, model.a_matrix_.num_row_ = count, len(self._rows)
        starts, index, value = _sparse([terms for terms, _, _ in self._rows])
        model.a_matrix_.start_, model.a_matrix_.index_, model.a_matrix_.value_ = starts, index, value
        return model


def _quiet_solver() -> Any:
    """A solver that prints nothing, not even its banner: stdout belongs to results."""
    import highspy

    class Quiet(highspy.Highs):  # type: ignore[misc]
        def enableCallbacks(self) -> None:  # noqa: N802
            self.setOptionValue("output_flag", False)
            super().enableCallbacks()

    return Quiet()


def _dense(terms: Terms, count: int) -> list[float]:
    cost = [0.0] * count
    for column, weight in terms:
        cost[column] += weight
    return cost


def _sparse(rows: Sequence[Terms]) -> tuple[list[int], list[int], list[float]]:
    """Row starts, column indices and values; a column named twice in a row is summed."""
    starts, index, value = [0], [], []
    for row in rows:
        merged: dict[int, float] = {}
        for column, weight in row:
            merged[column] = merged.get(column, 0.0) + weight
        index += list(merged)
        value += list(merged.values())
        starts.append(len(index))
    return starts, index, value


def _solution(solver: Any) -> Solution:
    import highspy

    state, info = solver.getModelStatus(), solver.getInfo()
    if state == highspy.HighsModelStatus.kInfeasible:
        return Solution(Status.IMPOSSIBLE, (), 0.0, 0.0)
    feasible = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    values = tuple(solver.getSolution().col_value) if feasible else ()
    proven = state == highspy.HighsModelStatus.kOptimal
    status = Status.PROVEN if proven else Status.STOPPED
    return Solution(status, values, info.objective_function_value, info.mip_dual_bound)
