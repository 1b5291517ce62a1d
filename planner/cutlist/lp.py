"""The one gate to the linear-programming solver: rows, columns, a warm start, no surprises."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import highspy
import numpy as np
from numpy.typing import NDArray

from planner.errors import EngineError

Floats = NDArray[np.float64]
ENDLESS = float(highspy.kHighsInf)


@dataclass(frozen=True, slots=True)
class LpPoint:
    """A basic optimum: its value, the rows' duals, the columns' values, simplex steps."""

    value: float
    duals: Floats
    x: Floats
    pivots: int


class Lp:
    """A minimisation that grows by columns and is solved again from the last basis."""

    def __init__(self, rows: Sequence[tuple[float, float]]) -> None:
        # The public subclass prints a banner while it is built; its base does not.
        core: Any = highspy
        self._highs: Any = core._core._Highs()
        options: dict[str, object] = {"output_flag": False, "threads": 1, "presolve": "off"}
        for name, value in options.items():
            self._highs.setOptionValue(name, value)
        none = np.zeros(0, dtype=np.int32)
        for low, high in rows:
            self._highs.addRow(low, high, 0, none, np.zeros(0))
        self.columns = 0
        self.rows = len(rows)

    def add(
        self, costs: Sequence[float], entries: Sequence[Sequence[tuple[int, float]]], high: float
    ) -> int:
        """Append columns with values in [0, high]; returns the index of the first."""
        count = len(costs)
        starts = np.zeros(count, dtype=np.int32)
        starts[1:] = np.cumsum([len(column) for column in entries[:-1]], dtype=np.int32)
        flat = [entry for column in entries for entry in column]
        rows = np.array([row for row, _ in flat], dtype=np.int32)
        values = np.array([value for _, value in flat], dtype=np.float64)
        low, top = np.zeros(count), np.full(count, high)
        self._highs.addCols(
            count, np.array(costs, dtype=np.float64), low, top, len(flat), starts, rows, values
        )
        first, self.columns = self.columns, self.columns + count
        return first

    def bound_columns(self, indices: Sequence[int], high: Sequence[float]) -> None:
        """Set the upper bounds of columns."""
        at = np.array(indices, dtype=np.int32)
        self._highs.changeColsBounds(len(at), at, np.zeros(len(at)), np.array(high, dtype=float))

    def bound_rows(self, low: Sequence[float], high: Sequence[float]) -> None:
        """Set the bounds of all rows."""
        at = np.arange(self.rows, dtype=np.int32)
        low_array, high_array = np.array(low, dtype=float), np.array(high, dtype=float)
        self._highs.changeRowsBounds(self.rows, at, low_array, high_array)

    def solve(self) -> LpPoint:
        """Solve; raises EngineError unless an optimum comes back."""
        self._highs.run()
        if self._highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            self._highs.clearSolver()
            self._highs.run()
        status = self._highs.getModelStatus()
        if status != highspy.HighsModelStatus.kOptimal:
            raise EngineError(f"the linear program ended as {status}, not as optimal")
        return self._point()

    def centre(self) -> LpPoint:
        """An optimum in the middle of all optima, by an interior-point method."""
        for name, value in (("solver", "ipm"), ("run_crossover", "off")):
            self._highs.setOptionValue(name, value)
        self._highs.run()
        point = self._point()
        for name, value in (("solver", "choose"), ("run_crossover", "on")):
            self._highs.setOptionValue(name, value)
        self._highs.clearSolver()
        return point

    def _point(self) -> LpPoint:
        solution, info = self._highs.getSolution(), self._highs.getInfo()
        return LpPoint(
            float(info.objective_function_value),
            np.array(solution.row_dual, dtype=np.float64),
            np.array(solution.col_value, dtype=np.float64),
            max(0, int(info.simplex_iteration_count)),
        )
