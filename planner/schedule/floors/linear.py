"""Linear programs in whole numbers whose floors do not rest on a solver's tolerances.

Columns lie between 0 and a whole number, rows are sums that stay at or below a whole number. The
solver only proposes multipliers for the rows. Any multipliers that are not negative prove a floor:
the least value of the costs plus the weighted rows over the box of the columns (weak duality).
They are rounded to whole multiples of a small fraction and the floor is worked out exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

SCALE = 1 << 32
"""Multipliers are rounded to multiples of 1 / SCALE."""

Terms = Sequence[tuple[int, int]]
"""(column, factor) pairs."""


class Linear:
    """A minimisation that grows by columns and rows."""

    def __init__(self) -> None:
        self.costs: list[int] = []
        self.highs: list[int] = []
        self.rows: list[tuple[Terms, int]] = []
        self._solver: Any = None
        self._sent = 0

    def column(self, high: int, cost: int = 0) -> int:
        """A new quantity between 0 and `high`; its number."""
        self.costs.append(cost)
        self.highs.append(high)
        return len(self.costs) - 1

    def at_most(self, terms: Terms, limit: int) -> None:
        """A new row: the sum of the terms, each column once, is at most `limit`."""
        self.rows.append((terms, limit))

    def at_least(self, terms: Terms, limit: int) -> None:
        """A new row: the sum of the terms is at least `limit`."""
        self.at_most([(column, -factor) for column, factor in terms], -limit)

    def relaxed(self, pivots: int) -> tuple[int, list[float], int]:
        """Floor of the relaxation, a point, and the simplex steps taken, at most about `pivots`.

        Rows that came since the last call are added to the solver's last basis. When the steps
        run out the floor still holds, as any multipliers prove one.
        """
        self._send()
        self._solver.setOptionValue("simplex_iteration_limit", max(1, pivots))
        self._solver.run()
        solution, info = self._solver.getSolution(), self._solver.getInfo()
        steps = max(0, int(info.simplex_iteration_count))
        if not solution.dual_valid:
            return 0, [], steps
        point = [float(x) for x in solution.col_value] if solution.value_valid else []
        return self.floor([float(dual) for dual in solution.row_dual]), point, steps

    def floor(self, duals: Sequence[float]) -> int:
        """What the rows' multipliers (at most 0, others are ignored) prove, rounded up."""
        reduced = [cost * SCALE for cost in self.costs]
        total = 0
        for (terms, limit), dual in zip(self.rows, duals, strict=True):
            multiplier = round(-dual * SCALE)
            if multiplier > 0:
                total -= multiplier * limit
                for column, factor in terms:
                    reduced[column] += multiplier * factor
        total += sum(
            each * high for each, high in zip(reduced, self.highs, strict=True) if each < 0
        )
        return -(-total // SCALE)

    def proven(self, seconds: float) -> int:
        """What CP-SAT proves of the least value in whole numbers, in its own seconds of work."""
        from ortools.sat.python import cp_model  # noqa: PLC0415 - slow to import, needed only here

        model = cp_model.CpModel()
        columns = [model.new_int_var(0, high, "") for high in self.highs]
        for terms, limit in self.rows:
            model.add(sum(factor * columns[column] for column, factor in terms) <= limit)
        model.minimize(sum(c * x for c, x in zip(self.costs, columns, strict=True) if c))
        solver = cp_model.CpSolver()
        solver.parameters.max_deterministic_time = seconds
        solver.parameters.num_workers = 1
        solver.parameters.linearization_level = 2
        solver.solve(model)
        return max(0, round(solver.best_objective_bound))

    def _send(self) -> None:
        """Tell the solver of everything that is new."""
        import highspy  # noqa: PLC0415 - slow to import, needed only here

        if self._solver is None:
            core: Any = highspy
            # The public subclass prints a banner while it is built; its base does not.
            self._solver = core._core._Highs()
            for name, value in {
                "output_flag": False, "threads": 1, "solver": "simplex", "presolve": "off",
            }.items():  # fmt: skip
                self._solver.setOptionValue(name, value)
            count = len(self.costs)
            none = np.zeros(count, dtype=np.int32)
            self._solver.addCols(
                count, np.array(self.costs, dtype=float), np.zeros(count),
                np.array(self.highs, dtype=float), 0, none, none[:0], np.zeros(0),
            )  # fmt: skip
        new = self.rows[self._sent :]
        starts = np.cumsum([0, *(len(terms) for terms, _ in new)])[:-1]
        flat = [term for terms, _ in new for term in terms]
        self._solver.addRows(
            len(new), np.full(len(new), -float(highspy.kHighsInf)),
            np.array([limit for _, limit in new], dtype=float), len(flat),
            starts.astype(np.int32), np.array([c for c, _ in flat], dtype=np.int32),
            np.array([f for _, f in flat], dtype=float),
        )  # fmt: skip
        self._sent = len(self.rows)
