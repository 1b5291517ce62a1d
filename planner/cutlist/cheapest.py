"""The cheapest numbers of sticks that satisfy all cuts: a small program for CP-SAT."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.cutlist.cpsat import Program, Verdict
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
    program = Program()
    most = most_sticks(model, ceiling + 1)
    sticks = [program.integer(0, most[slot.kind]) for slot in model.slots]
    for own, limit in zip(model.slots_of, model.limits, strict=True):
        if limit is not None:
            program.model.add(sum(sticks[s] for s in own) <= limit)
    for cut in cuts:
        pay, due = _coarser(cut)
        program.model.add(sum(p * n for p, n in zip(pay, sticks, strict=True)) >= due)
    for numbers in forbidden:
        program.some_above(sticks, numbers)
    cost = sum(slot.cents * n for slot, n in zip(model.slots, sticks, strict=True))
    program.model.add(cost >= floor)
    program.model.add(cost <= ceiling)
    program.model.minimize(cost)
    solved = program.solve(sticks, effort, effort.left())
    if solved.verdict is Verdict.NONE:
        return Answer(ceiling + 1, None)
    if solved.verdict is not Verdict.BEST:
        return None
    paid = sum(slot.cents * n for slot, n in zip(model.slots, solved.values, strict=True))
    return Answer(paid, solved.values)


def _coarser(cut: Cut) -> tuple[list[int], int]:
    """The same cut in smaller numbers: pay rounded up, due rounded down."""
    by = max(1, max(cut.pay) // PRECISION)
    return [-(-pay // by) for pay in cut.pay], cut.due // by
