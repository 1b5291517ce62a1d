"""What one would write first: a direct CP-SAT model with intervals and circuits.

All stations of a generated week have the same hours, so the model counts in working minutes:
a run that pauses over a break is an interval of fixed length, no break appears anywhere, and
late work is late by its working minutes. An optional interval for each operation and station, no
overlap on a station, a circuit a station whose arcs carry the changeovers, lateness and
changeovers as one weighted sum.

People are left out, and changeovers may be split by a break, which only makes the model's task
easier. Its orders are then placed by the rules of the shop (`planner.schedule.decoder`), and
these figures count: what the floor would get.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor, wait
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from ortools.sat.python import cp_model

from planner.schedule import Operation, Placed, Problem, Rule
from planner.schedule.calendar import Calendar, make_calendar
from planner.schedule.compiled import compile_problem
from planner.schedule.decoder import decode

LATE = 1000
WORKERS = 2
TICK_SECONDS = 0.05
SOLVED = (cp_model.OPTIMAL, cp_model.FEASIBLE)

Plan = Sequence[Placed]


@dataclass(frozen=True, slots=True)
class Answer:
    """What the model found: its own value, its bound, and the levels once placed by the shop."""

    own: int
    bound: int
    levels: tuple[int, ...]


def cpsat_answer(problem: Problem, seconds: float, hint: Plan = ()) -> Answer | None:
    """The best that CP-SAT finds in `seconds` of two cores, or None where it finds no plan.

    The seconds are those of the processor, so that other work on the machine takes nothing away.
    """
    model = _Model(problem)
    if hint:
        model.hint(hint)
    solver = _solver()
    with ThreadPoolExecutor(1) as pool:
        began = time.process_time()
        solving = pool.submit(solver.solve, model.model)
        while wait([solving], timeout=TICK_SECONDS).not_done:
            if time.process_time() - began > WORKERS * seconds:
                solver.stop_search()
    if solving.result() not in SOLVED:
        return None
    own, bound = solver.objective_value, solver.best_objective_bound
    return Answer(round(own), round(bound), _placed(problem, model, solver))


def value_of_hint(problem: Problem, hint: Plan) -> int | None:
    """The model's own value of a plan, every variable fixed to it; None if it does not fit in."""
    model = _Model(problem)
    model.hint(hint)
    solver = _solver()
    solver.parameters.fix_variables_to_their_hinted_value = True
    return round(solver.objective_value) if solver.solve(model.model) in SOLVED else None


def _solver() -> Any:
    solver: Any = cp_model.CpSolver()
    solver.parameters.num_workers = WORKERS
    # With the precedences that it would detect, a conflict takes 0.1 s instead of 1 ms.
    solver.parameters.auto_detect_greater_than_at_least_one_of = False
    return solver


class _Model:
    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.model: Any = cp_model.CpModel()
        (hours,) = {station.hours for station in problem.stations}
        self.calendar = make_calendar([hours], problem.horizon_min)
        self.horizon = _worked(self.calendar, problem.horizon_min or 1 << 20)
        self.start = {op.key: self._time(op.release_min) for op in problem.operations}
        self.end = {op.key: self._time(0) for op in problem.operations}
        self.on: dict[tuple[str, str], Any] = {}
        self.arc: dict[tuple[str, str, str], Any] = {}
        """By station, operation ("" for the start) and the one after it ("" for the end)."""
        self.minutes: list[Any] = []
        self.late = {job.key: self._time(0) for job in problem.jobs}
        for station in problem.stations:
            self._station(station.key)
        for op in problem.operations:
            self.model.add_exactly_one(self.on[op.key, a.station] for a in op.alternatives)
        for arc in problem.arcs:
            self.model.add(self.start[arc.after] >= self.end[arc.before])
        for job in problem.jobs:
            due = _worked(self.calendar, job.due_min)
            for key in job.finals:
                self.model.add(self.late[job.key] >= self.end[key] - due)
        lateness = sum(job.weight * self.late[job.key] for job in problem.jobs)
        self.model.minimize(LATE * lateness + sum(self.minutes))

    def hint(self, plan: Plan) -> None:
        """Give every variable its value in a plan."""
        hint = self.model.add_hint
        ends: dict[str, int] = {}
        sequences = {station.key: [""] for station in self.problem.stations}
        for placed in sorted(plan, key=lambda each: (each.start_min, each.end_min)):
            key = placed.operation
            sequences[placed.station].append(key)
            start = _worked(self.calendar, placed.start_min)
            ends[key] = start + sum(b - a for a, b in placed.pieces)
            hint(self.start[key], start)
            hint(self.end[key], ends[key])
        for (key, name), on in self.on.items():
            hint(on, key in sequences[name])
        used = {(name, *each) for name, keys in sequences.items() for each in pairwise((*keys, ""))}
        for arc, literal in self.arc.items():
            hint(literal, arc in used)
        for job in self.problem.jobs:
            late = max(ends[key] for key in job.finals) - _worked(self.calendar, job.due_min)
            hint(self.late[job.key], max(0, late))

    def _time(self, earliest: int) -> Any:
        return self.model.new_int_var(_worked(self.calendar, earliest), self.horizon, "")

    def _station(self, name: str) -> None:
        station = next(s for s in self.problem.stations if s.key == name)
        here = [
            op for op in self.problem.operations if name in {a.station for a in op.alternatives}
        ]
        base = next((b for b in self.problem.bases if b.key == station.base_key), None)
        rules = base.rules if base else ()
        self.model.add_no_overlap([self._interval(op, name) for op in here])
        arcs: list[Any] = [(0, 0, self._arc(name, "", ""))]
        for i, op in enumerate(here):
            arcs.append((i + 1, i + 1, ~self.on[op.key, name]))
            arcs.append((0, i + 1, self._first(name, rules, op)))
            arcs.append((i + 1, 0, self._arc(name, op.key, "")))
            arcs += [
                (i + 1, j + 1, self._next(name, rules, op, other))
                for j, other in enumerate(here)
                if i != j
            ]
        self.model.add_circuit(arcs)

    def _interval(self, op: Operation, name: str) -> Any:
        way = next(a for a in op.alternatives if a.station == name)
        on = self.on[op.key, name] = self.model.new_bool_var("")
        start, end = self.start[op.key], self.end[op.key]
        return self.model.new_optional_interval_var(start, way.duration_min, end, on, "")

    def _arc(self, name: str, before: str, after: str) -> Any:
        used = self.arc[name, before, after] = self.model.new_bool_var("")
        return used

    def _first(self, name: str, rules: tuple[Rule, ...], op: Operation) -> Any:
        used = self._arc(name, "", op.key)
        minutes = sum(rule.minutes for rule in rules if rule.attribute in op.needs)
        self.model.add(self.start[op.key] >= minutes).only_enforce_if(used)
        self.minutes.append(minutes * used)
        return used

    def _next(self, name: str, rules: tuple[Rule, ...], op: Operation, other: Operation) -> Any:
        used = self._arc(name, op.key, other.key)
        minutes = sum(_change(rule, op, other) for rule in rules)
        end = self.end[op.key]
        self.model.add(self.start[other.key] >= end + minutes).only_enforce_if(used)
        self.minutes.append(minutes * used)
        return used


def _worked(calendar: Calendar, minute: int) -> int:
    """Working minutes before a minute."""
    spans = zip(calendar.starts, calendar.ends, strict=True)
    return sum(max(0, min(minute, end) - start) for start, end in spans)


def _change(rule: Rule, op: Operation, other: Operation) -> int:
    a, b = op.needs.get(rule.attribute), other.needs.get(rule.attribute)
    if b is None or a == b:
        return 0
    return rule.from_to.get((a or "", b), rule.minutes)


def _placed(problem: Problem, model: _Model, solver: Any) -> tuple[int, ...]:
    """Levels of the model's order when the shop's own rules place it."""
    compiled = compile_problem(problem)
    numbers = range(len(problem.operations))
    starts = [solver.value(model.start[op.key]) for op in problem.operations]
    ends = [solver.value(model.end[op.key]) for op in problem.operations]
    order = sorted(numbers, key=lambda i: (starts[i], ends[i]))
    modes = [
        next(m for m in op.modes if solver.value(model.on[op.key, compiled.modes[m].station]))
        for op in compiled.ops[: len(numbers)]
    ]
    return compiled.levels(decode(compiled, order, modes)[0].terms)
