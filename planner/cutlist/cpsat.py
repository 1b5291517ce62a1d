"""The one gate to CP-SAT: one thread, deterministic time, our own words for what came out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from ortools.sat.python import cp_model

from planner.cutlist.effort import Effort
from planner.errors import EngineError

LEAST_TIME = 0.01
CALL = 0.002
"""Nominal seconds to build a program and read the answer."""


class Verdict(Enum):
    """What CP-SAT found out."""

    BEST = "best"
    FEASIBLE = "feasible"
    NONE = "none exists"
    UNKNOWN = "unknown"


VERDICTS = {
    cp_model.OPTIMAL: Verdict.BEST,
    cp_model.FEASIBLE: Verdict.FEASIBLE,
    cp_model.INFEASIBLE: Verdict.NONE,
    cp_model.UNKNOWN: Verdict.UNKNOWN,
}


@dataclass(frozen=True)
class Solved:
    """The verdict and the values of the variables asked for (empty if there are none)."""

    verdict: Verdict
    values: tuple[int, ...]


class Program:
    """A CP-SAT model under construction."""

    def __init__(self) -> None:
        self.model = cp_model.CpModel()

    def integer(self, low: int, high: int) -> cp_model.IntVar:
        """A whole variable in [low, high]."""
        return self.model.new_int_var(low, high, "")

    def some_above(self, variables: Sequence[cp_model.IntVar], values: Sequence[int]) -> None:
        """Demand that at least one variable is above its value."""
        literals: list[cp_model.IntVar] = []
        for variable, value in zip(variables, values, strict=True):
            literal = self.model.new_bool_var("")
            # value + 1 <= variable whenever the literal is 1; no bound otherwise.
            self.model.add(variable >= (value + 1) * literal)
            literals.append(literal)
        self.model.add_bool_or(literals)

    def solve(self, variables: Sequence[cp_model.IntVar], effort: Effort, limit: float) -> Solved:
        """Solve with at most `limit` nominal seconds of `effort`."""
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 1
        solver.parameters.max_deterministic_time = max(LEAST_TIME, min(limit, effort.left()))
        solver.parameters.max_time_in_seconds = max(LEAST_TIME, effort.seconds_left())
        status = solver.solve(self.model)
        effort.spend(CALL + float(solver.response_proto.deterministic_time))
        if status not in VERDICTS:
            raise EngineError(f"CP-SAT called a program invalid: {self.model.validate()}")
        verdict = VERDICTS[status]
        has_values = verdict in {Verdict.BEST, Verdict.FEASIBLE}
        values = tuple(int(solver.value(v)) for v in variables) if has_values else ()
        return Solved(verdict, values)
