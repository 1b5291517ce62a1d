"""Floor of changeover minutes: every value, and every whole state, must be mounted once.

*By value*: whatever the order, each value of an attribute that some operation needs is entered at
least once unless it is mounted at the start, at no less than its cheapest way in. *By state*: where
every operation sets every attribute of its base, the order visits each distinct state; the
shortest tour through them (from what is mounted, over all bases of the group) is a floor, and so
is the bound of a tour that CP-SAT has not closed.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.schedule.compiled import Compiled
from planner.schedule.floors.groups import BaseGroup, base_groups
from planner.schedule.problem import Term
from planner.schedule.result import Floor

MOST_STATES = 130
"""Up to so many CP-SAT looks for the tour itself."""
MOST_ASSIGNED = 800
"""Up to so many the assignment relaxation is solved: every state entered and left once."""
DETERMINISTIC_SECONDS = 1.0
"""CP-SAT's own measure of work, so that the bound is the same on any machine."""

State = tuple[int, ...]


def changeover_floor(compiled: Compiled, seconds: float = DETERMINISTIC_SECONDS) -> Floor:
    """The sum over the groups of bases of the better of the two floors."""
    total = 0
    toured = False
    for group in base_groups(compiled):
        by_value = _by_value(compiled, group)
        tour = _Tour.of(compiled, group)
        by_state = 0 if tour is None else tour.floor(seconds)
        toured = toured or by_state > by_value
        total += max(by_value, by_state)
    kind = "shortest tour of the mounted states" if toured else "every value mounted once"
    return Floor(Term.CHANGEOVER, total, kind)


def _by_value(compiled: Compiled, group: BaseGroup) -> int:
    """Over all bases of the group the cheapest way into each value that is not mounted."""
    bases = [compiled.bases[b] for b in group.bases]
    entries: dict[str, dict[str, int]] = {}
    for i in group.operations:
        found = [_entries(compiled, m) for m in compiled.ops[i].modes]
        for attribute in set[str]().union(*found):
            names = {each[attribute][0] if attribute in each else "" for each in found}
            if len(names) == 1 and "" not in names:
                cheapest = min(each[attribute][1] for each in found)
                values = entries.setdefault(attribute, {})
                name = names.pop()
                values[name] = min(cheapest, values.get(name, cheapest))
    sums = [sum(values.values()) for values in entries.values()]
    if any(base.longest_counts for base in bases):
        return max(sums, default=0)
    return sum(sums)


def _entries(compiled: Compiled, mode: int) -> dict[str, tuple[str, int]]:
    """For each attribute that the mode needs, its value and the cheapest way into it."""
    base = compiled.bases[compiled.modes[mode].base]
    found: dict[str, tuple[str, int]] = {}
    for need in compiled.modes[mode].needs:
        slot = base.slots[need.slot - base.first_slot]
        ways = [
            slot.minutes[a * slot.values + need.value]
            for a in range(slot.values)
            if a != need.value and (a or slot.mounted == 0)
        ]
        mounted = slot.mounted == need.value
        found[slot.attribute] = (slot.names[need.value], 0 if mounted else min(ways, default=0))
    return found


@dataclass(frozen=True, slots=True)
class _Tour:
    """States to visit; `minutes[a][b]` from state a to b; the first ones are the bases' starts."""

    minutes: tuple[tuple[int, ...], ...]
    starts: int

    @staticmethod
    def of(compiled: Compiled, group: BaseGroup) -> _Tour | None:
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

        return _Tour(_closed([[change(a, b) for b in every] for a in every]), len(starts))

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
