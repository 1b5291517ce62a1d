"""Side by side with the models that one would write first, from the same libraries.

`python -m tests.benchmarks.cutlist_models [--seconds 10]` runs on one-length instances, each with
the same limit: first-fit decreasing; "piece i from stick j" in CP-SAT; arc-flow (J. M. Valério de
Carvalho, Annals of Operations Research 86, 1999) in HiGHS and in CP-SAT; and the engine. One
row an instance and model: value, floor, proven, seconds. One thread each.
"""

from __future__ import annotations

import argparse
import random
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import highspy
import numpy as np
from ortools.sat.python import cp_model

from planner.cutlist import solve
from planner.cutlist.heuristics import decreasing, first_fit
from planner.cutlist.model import scale
from planner.stop import Stop
from tests.benchmarks.cutlist import as_problem
from tests.benchmarks.cutlist_instances import CLASSES, Instance, from_list

MOST_ARCS = 400_000


@dataclass(frozen=True)
class Row:
    """What one model reached; no value when it found nothing or would not fit."""

    value: int | None
    floor: int
    note: str = ""


def first_fit_decreasing(instance: Instance, _seconds: float) -> Row:
    model = scale(as_problem(instance)).model
    packing = decreasing(model, first_fit, [0])
    return Row(sum(packing.values()) if packing else None, _material(instance))


def _material(instance: Instance) -> int:
    total = sum(length * count for length, count in instance.pieces)
    return -(-total // instance.stick)


def assignment(instance: Instance, seconds: float) -> Row:
    """Binary: piece i comes from stick j; sticks are used in order."""
    pieces = [length for length, count in instance.pieces for _ in range(count)]
    sticks = first_fit_decreasing(instance, seconds).value or len(pieces)
    model = cp_model.CpModel()
    used = [model.new_bool_var("") for _ in range(sticks)]
    on = [[model.new_bool_var("") for _ in range(sticks)] for _ in pieces]
    for row in on:
        model.add_exactly_one(row)
    for j, flag in enumerate(used):
        load = sum(length * row[j] for length, row in zip(pieces, on, strict=True))
        model.add(load <= instance.stick * flag)
    for earlier, later in pairwise(used):
        model.add_implication(later, earlier)
    model.minimize(sum(used))
    return _cpsat(model, seconds)


def _cpsat(model: cp_model.CpModel, seconds: float) -> Row:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
    found = status in {cp_model.OPTIMAL, cp_model.FEASIBLE}
    floor = int(np.ceil(solver.best_objective_bound - 1e-6))
    return Row(round(solver.objective_value) if found else None, max(0, floor))


def arcs(instance: Instance) -> list[tuple[int, int, int]] | None:
    """(from, to, item or -1) of the arc-flow graph with falling lengths; None if too many."""
    reach = {0}
    found: set[tuple[int, int, int]] = set()
    for item, (length, count) in enumerate(instance.pieces):
        front = set(reach)
        for _ in range(min(count, instance.stick // length)):
            steps = {(at, at + length, item) for at in front if at + length <= instance.stick}
            front = {to for _, to, _ in steps}
            found |= steps
            reach |= front
            if len(found) > MOST_ARCS:
                return None
    nodes = sorted(reach | {instance.stick})
    loss = [(a, b, -1) for a, b in pairwise(nodes[1:])]
    return [*found, *loss]


def arc_flow_cpsat(instance: Instance, seconds: float) -> Row:
    graph = arcs(instance)
    if graph is None:
        return Row(None, 0, "too many arcs")
    most = sum(count for _, count in instance.pieces)
    model = cp_model.CpModel()
    sticks = model.new_int_var(0, most, "")
    flow = [model.new_int_var(0, most, "") for _ in graph]
    balance: dict[int, list[Any]] = {0: [sticks], instance.stick: [-sticks]}
    made: list[list[Any]] = [[] for _ in instance.pieces]
    for (start, end, item), variable in zip(graph, flow, strict=True):
        balance.setdefault(start, []).append(-variable)
        balance.setdefault(end, []).append(variable)
        if item >= 0:
            made[item].append(variable)
    for terms in balance.values():
        model.add(sum(terms) == 0)
    for terms, (_, count) in zip(made, instance.pieces, strict=True):
        model.add(sum(terms) >= count)
    model.minimize(sticks)
    return _cpsat(model, seconds)


def arc_flow_highs(instance: Instance, seconds: float) -> Row:
    graph = arcs(instance)
    if graph is None:
        return Row(None, 0, "too many arcs")
    core: Any = highspy
    highs: Any = core._core._Highs()
    for name, value in (("output_flag", False), ("threads", 1), ("time_limit", seconds)):
        highs.setOptionValue(name, value)
    nodes = {node: row for row, node in enumerate(sorted({n for a in graph for n in a[:2]}))}
    none = np.zeros(0, dtype=np.int32)
    for _ in nodes:
        highs.addRow(0.0, 0.0, 0, none, np.zeros(0))
    for _, count in instance.pieces:
        highs.addRow(float(count), highspy.kHighsInf, 0, none, np.zeros(0))
    ends = [(nodes[0], 1.0), (nodes[instance.stick], -1.0)]
    columns = [ends, *([(nodes[a], -1.0), (nodes[b], 1.0)] for a, b, _ in graph)]
    for (_, _, item), column in zip(graph, columns[1:], strict=True):
        if item >= 0:
            column.append((len(nodes) + item, 1.0))
    _add_integers(highs, columns)
    highs.run()
    info = highs.getInfo()
    found = info.primal_solution_status == 2
    floor = int(np.ceil(info.mip_dual_bound - 1e-6)) if np.isfinite(info.mip_dual_bound) else 0
    return Row(round(info.objective_function_value) if found else None, max(0, floor))


def _add_integers(highs: Any, columns: list[list[tuple[int, float]]]) -> None:
    """Integer columns; the first alone costs 1."""
    count = len(columns)
    starts = np.cumsum([0, *(len(c) for c in columns[:-1])]).astype(np.int32)
    rows = np.array([row for c in columns for row, _ in c], dtype=np.int32)
    values = np.array([value for c in columns for _, value in c])
    costs = np.zeros(count)
    costs[0] = 1.0
    top = np.full(count, float(highspy.kHighsInf))
    highs.addCols(count, costs, np.zeros(count), top, len(rows), starts, rows, values)
    kinds = np.array([highspy.HighsVarType.kInteger] * count)
    highs.changeColsIntegrality(count, np.arange(count, dtype=np.int32), kinds)


def engine(instance: Instance, seconds: float) -> Row:
    result = solve(as_problem(instance), Stop(seconds, time.perf_counter))
    return Row(result.cost_cents, result.bound_cents, result.stage)


MODELS: dict[str, Callable[[Instance, float], Row]] = {
    "first-fit decreasing": first_fit_decreasing,
    "assignment, CP-SAT": assignment,
    "arc-flow, HiGHS": arc_flow_highs,
    "arc-flow, CP-SAT": arc_flow_cpsat,
    "this engine": engine,
}


def sample() -> Iterator[Instance]:
    """One instance of each kind, from small and easy to a 6 m stick in tenths of a millimetre."""
    for name, items in (
        ("uniform", 120), ("triplets", 60), ("triplets", 120), ("scholl2", 100), ("scholl3", 200),
        ("waescher", 120), ("hard", 160), ("augmented", 201),
    ):  # fmt: skip
        yield CLASSES[name][0](random.Random(f"side/{name}/{items}"), 0, items)
    dice = random.Random("side/tubes")
    tubes = [dice.randint(1_500, 28_000) for _ in range(20)]
    yield from_list("tubes-6m-in-0.1mm", 60_000, [nm for nm in tubes for _ in range(6)])


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=10.0)
    options = parser.parse_args()
    print("| instance | model | value | floor | proven | seconds |\n|---|---|---|---|---|---|")
    for instance in sample():
        for name, model in MODELS.items():
            start = time.process_time()
            row = model(instance, options.seconds)
            seconds = time.process_time() - start
            value = "none" if row.value is None else str(row.value)
            proven = "yes" if row.value is not None and row.value == row.floor else "no"
            note = f" ({row.note})" if row.note == "too many arcs" else ""
            print(
                f"| {instance.name} | {name}{note} | {value} | {row.floor} | {proven} "
                f"| {seconds:.2f} |",
                flush=True,
            )


if __name__ == "__main__":
    main()
