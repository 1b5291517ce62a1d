"""The cheapest numbers of sticks that satisfy all cuts: a small program for CP-SAT."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from planner.cutlist.effort import Effort
from planner.cutlist.floors import Cut, most_sticks
from planner.cutlist.model import Model

Numbers = tuple[int, ...]
"""How many sticks use each slot."""
PRECISION = 1 << 22
"""Cuts are scaled down, on the safe side, to coefficients of about this size."""


@dataclass(frozen=True)
class Answer:
    """A floor on the cost, and numbers that reach it; None if none lie below the ceiling."""

    floor: int
    numbers: Numbers | None


def cheapest_numbers(
    model: Model,
    cuts: Sequence[Cut],
    forbidden: Sequence[Numbers],
    floor: int,
    ceiling: int,
    effort: Effort,
) -> Answer | None:
    """The cheapest numbers within [floor, ceiling] cents, none of them within `forbidden`.

    None if the effort ended before anything was proven.
    """
    program = cp_model.CpModel()
    most = most_sticks(model, ceiling + 1)
    sticks = [
        program.new_int_var(0, most[slot.kind], f"n{index}")
        for index, slot in enumerate(model.slots)
    ]
    for own, limit in zip(model.slots_of, model.limits, strict=True):
        if limit is not None:
            program.add(sum(sticks[s] for s in own) <= limit)
    for cut in cuts:
        pay, due = _coarser(cut)
        program.add(sum(p * n for p, n in zip(pay, sticks, strict=True)) >= due)
    for numbers in forbidden:
        _forbid(program, sticks, numbers)
    cost = sum(slot.cents * n for slot, n in zip(model.slots, sticks, strict=True))
    program.add(cost >= floor)
    program.add(cost <= ceiling)
    program.minimize(cost)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = max(0.01, effort.left())
    solver.parameters.random_seed = 1
    status = solver.solve(program)
    effort.spend(solver.response_proto.deterministic_time + 0.002)
    if status == cp_model.INFEASIBLE:
        return Answer(ceiling + 1, None)
    if status == cp_model.OPTIMAL:
        numbers = tuple(int(solver.value(n)) for n in sticks)
        return Answer(sum(s.cents * n for s, n in zip(model.slots, numbers, strict=True)), numbers)
    return None


def _coarser(cut: Cut) -> tuple[list[int], int]:
    """The same cut in smaller numbers: pay rounded up, due rounded down."""
    by = max(1, max(cut.pay) // PRECISION)
    return [-(-pay // by) for pay in cut.pay], cut.due // by


def _forbid(program: cp_model.CpModel, sticks: Sequence[cp_model.IntVar], numbers: Numbers) -> None:
    """Demand more sticks than `numbers` in at least one slot."""
    more: list[cp_model.IntVar] = []
    for variable, number in zip(sticks, numbers, strict=True):
        literal = program.new_bool_var("")
        program.add(variable >= number + 1).only_enforce_if(literal)
        more.append(literal)
    program.add_bool_or(more)
