"""Floor of changeover minutes by whole states: the shortest tour through all that must be mounted.

Where every operation sets every attribute of its base, the order visits each distinct state; the
shortest tour through them (from what is mounted, over all bases of the group) is a floor, and so
is the bound of a tour that CP-SAT has not closed. It sees each single change of a full table.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.schedule.compiled import Compiled
from planner.schedule.floors.groups import BaseGroup

MOST_STATES = 130
"""Up to so many CP-SAT looks for the tour itself."""
MOST_ASSIGNED = 800
"""Up to so many the assignment relaxation is solved: every state entered and left once."""

State = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Tour:
    """States to visit; `minutes[a][b]` from state a to b; the first ones are the bases' starts."""

    minutes: tuple[tuple[int, ...], ...]
    starts: int
    attributes: int

    @staticmethod
    def of(compiled: Compiled, group: BaseGroup) -> Tour | None:
        """None where some operation leaves an attribute as it is, or bases differ."""
        first = compiled.bases[group.bases[0]]
        for b in group.bases[1:]:
            if [(s.attribute, s.names, s.minutes) for s in compiled.bases[b].slots] != [
                (s.attribute, s.names, s.minutes) for s in first.slots
            ]:
                return None
        states: dict[State, None] = {}
        for i in group.operations:
            needs = {tuple(n.value for n in compiled.modes[m].needs) for m in compiled.ops[i].modes}
            if len(needs) > 1 or any(len(state) < len(first.slots) for state in needs):
                return None
            states[needs.pop()] = None
        if not first.slots or not 1 < len(states) <= MOST_ASSIGNED:
            return None
        starts = [tuple(s.mounted for s in compiled.bases[b].slots) for b in group.bases]
        every = [*starts, *states]

        def change(a: State, b: State) -> int:
            each = [s.minutes[x * s.values + y] for s, x, y in zip(first.slots, a, b, strict=True)]
            return max(each) if first.longest_counts else sum(each)

        minutes = _closed([[change(a, b) for b in every] for a in every])
        return Tour(minutes, len(starts), len(first.slots))

    def floor(self, seconds: float) -> int:
        """What is proven of the shortest tour; going back to a start is free."""
        if len(self.minutes) > MOST_STATES:
            return self.assigned()
        return max(self.assigned(), self.proven(seconds))

    def assigned(self) -> int:
        """The least cost of entering and leaving every state once, in however many tours."""
        from scipy.optimize import linear_sum_assignment  # noqa: PLC0415 - slow to import

        table = np.array(self.minutes, dtype=float)
        table[:, : self.starts] = 0.0
        np.fill_diagonal(table, 1e9)
        rows, columns = linear_sum_assignment(table)
        return round(float(table[rows, columns].sum()))

    def proven(self, seconds: float) -> int:
        """What CP-SAT proves of one tour."""
        from ortools.sat.python import cp_model  # noqa: PLC0415 - slow to import, needed only here

        model = cp_model.CpModel()
        nodes = range(len(self.minutes))
        arcs = [(a, b, model.new_bool_var("")) for a in nodes for b in nodes if a != b]
        model.add_circuit(arcs)
        model.minimize(sum(self.minutes[a][b] * used for a, b, used in arcs if b >= self.starts))
        solver = cp_model.CpSolver()
        solver.parameters.max_deterministic_time = seconds
        solver.parameters.num_workers = 1
        solver.parameters.linearization_level = 2
        solver.solve(model)
        return max(0, round(solver.best_objective_bound))


def _closed(minutes: list[list[int]]) -> tuple[tuple[int, ...], ...]:
    """Shortest ways, since an order may pass through a state more than once."""
    table = np.array(minutes)
    for mid in range(len(table)):
        table = np.minimum(table, table[:, mid, None] + table[None, mid, :])
    return tuple(tuple(row) for row in table.tolist())
