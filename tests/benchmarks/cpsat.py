"""What one would write first: a direct CP-SAT model with intervals and circuits.

One optional interval for each operation and station, breaks as fixed intervals (a run is made
longer by the breaks that it spans), a circuit a base whose arcs carry the changeovers, and the
engine's first three levels as one weighted sum. People and mounted states that outlive an
attachment are left out, which only makes the model's task easier.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from ortools.sat.python import cp_model

from planner.schedule import Operation, Problem, Result, Rule

LATE = 1000


def cpsat_levels(problem: Problem, seconds: float, hint: Result | None) -> tuple[int, ...] | None:
    """Levels (violation, lateness, changeover, flow) of what the model finds, or None."""
    model = _Model(problem)
    if hint is not None:
        model.hint(hint)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    status = solver.solve(model.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    late = solver.value(model.late)
    return (0, late, solver.value(model.changeovers), 0)


class _Model:
    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.model: Any = cp_model.CpModel()
        self.horizon = problem.horizon_min or sum(
            op.alternatives[0].duration_min for op in problem.operations
        )
        self.start = {op.key: self._time(op.key) for op in problem.operations}
        self.end = {op.key: self._time(op.key) for op in problem.operations}
        self.on: dict[tuple[str, str], Any] = {}
        self.minutes: list[Any] = []
        for station in problem.stations:
            self._station(station.key)
        for op in problem.operations:
            self.model.add_exactly_one(self.on[op.key, a.station] for a in op.alternatives)
        for arc in problem.arcs:
            self.model.add(self.start[arc.after] >= self.end[arc.before] + arc.lag_min)
        self.changeovers = sum(self.minutes)
        self.late = sum(job.weight * self._late(job.due_min, job.finals) for job in problem.jobs)
        self.model.minimize(LATE * self.late + self.changeovers)

    def hint(self, result: Result) -> None:
        """Begin from the engine's own start times."""
        for placed in result.placed:
            self.model.add_hint(self.start[placed.operation], placed.start_min)
            self.model.add_hint(self.on[placed.operation, placed.station], 1)

    def _time(self, key: str) -> Any:
        return self.model.new_int_var(0, self.horizon, key)

    def _late(self, due: int, finals: tuple[str, ...]) -> Any:
        late = self.model.new_int_var(0, self.horizon, "")
        for key in finals:
            self.model.add(late >= self.end[key] - due)
        return late

    def _station(self, key: str) -> None:
        station = next(s for s in self.problem.stations if s.key == key)
        here = [op for op in self.problem.operations if key in {a.station for a in op.alternatives}]
        breaks = [(a.end_min, b.start_min) for a, b in pairwise(station.hours or ())]
        if station.hours:
            breaks.insert(0, (0, station.hours[0].start_min))
        base = next((b for b in self.problem.bases if b.key == station.base_key), None)
        rules = base.rules if base else ()
        arcs: list[Any] = [(0, 0, self.model.new_bool_var(""))]
        for i, op in enumerate(here):
            self._operation(op, key, breaks)
            on = self.on[op.key, key]
            arcs.append((i + 1, i + 1, ~on))
            arcs += [(0, i + 1, self._first(rules, op)), (i + 1, 0, self._free())]
            for j, other in enumerate(here):
                if i != j:
                    arcs.append((i + 1, j + 1, self._next(rules, op, other, breaks)))
        self.model.add_circuit(arcs)

    def _free(self) -> Any:
        return self.model.new_bool_var("")

    def _operation(self, op: Operation, key: str, breaks: list[tuple[int, int]]) -> None:
        way = next(a for a in op.alternatives if a.station == key)
        on = self.on[op.key, key] = self._free()
        spanned: list[Any] = []
        for begin, stop in breaks:
            inside = self._free()
            before = self._free()
            self.model.add(self.start[op.key] < begin).only_enforce_if(inside)
            self.model.add(self.end[op.key] > stop).only_enforce_if(inside)
            self.model.add(self.end[op.key] <= begin).only_enforce_if(before)
            self.model.add(self.start[op.key] >= stop).only_enforce_if(~inside, ~before, on)
            spanned.append(inside * (stop - begin))
        length = way.duration_min + sum(spanned)
        self.model.add(self.end[op.key] == self.start[op.key] + length).only_enforce_if(on)

    def _first(self, rules: tuple[Rule, ...], op: Operation) -> Any:
        used = self._free()
        minutes = sum(rule.minutes for rule in rules if rule.attribute in op.needs)
        self.model.add(self.start[op.key] >= minutes).only_enforce_if(used)
        self.minutes.append(minutes * used)
        return used

    def _next(
        self,
        rules: tuple[Rule, ...],
        op: Operation,
        other: Operation,
        breaks: list[tuple[int, int]],
    ) -> Any:
        used = self._free()
        minutes = sum(_change(rule, op, other) for rule in rules)
        self.model.add(self.start[other.key] >= self.end[op.key] + minutes).only_enforce_if(used)
        self.minutes.append(minutes * used)
        return used


def _change(rule: Rule, op: Operation, other: Operation) -> int:
    a, b = op.needs.get(rule.attribute), other.needs.get(rule.attribute)
    if b is None or a == b:
        return 0
    return rule.from_to.get((a or "", b), rule.minutes)
