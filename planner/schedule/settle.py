"""A short, cool search from an order that is nearly known: what a small change of the work costs.

A full search heats a schedule up until little of its start is left. Where most of the work is as
it was, a cool one from there tells within a few thousand moves whether the change is worth it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from planner.schedule.calendar import FAR_MIN
from planner.schedule.chain import Chain
from planner.schedule.compiled import Compiled, compile_problem
from planner.schedule.decoder import decode, placed
from planner.schedule.dispatch import Start, topological, urgencies
from planner.schedule.lanes import LANES, Hear, best_of_lanes, unheard
from planner.schedule.overtime import compiled_without, punctual, windows
from planner.schedule.phases import MERGES, energies, temperatures
from planner.schedule.problem import Problem
from planner.schedule.rates import iterations_for
from planner.schedule.report import figures
from planner.schedule.result import Figures, Placed
from planner.stop import Stop

COOL = 0.04
"""Where a short search begins, of the temperature at which a full one does."""
SLICE_SECONDS = 0.25
"""Of a call of the kernel, by the table of rates: how long a stop request waits."""


@dataclass(frozen=True, slots=True)
class Turn:
    """An operation's place in a run order: the station, its changeover and when it ends."""

    operation: str
    station: str
    change_min: int = 0
    end_min: int = 0


Turns = tuple[Turn, ...]
"""A run order as a list: what comes first is placed first."""


@dataclass(frozen=True, slots=True)
class Settled:
    """The best order that a short search found, and what it comes to."""

    figures: Figures
    turns: Turns


def settle(
    problem: Problem, starts: Sequence[Turns], stop: Stop, seed: int, seconds: float
) -> Settled:
    """The best of these orders after a short search.

    The problem must be sound (`check`); overtime that is offered is left alone where the work
    fits without. `seconds` become a number of moves by the same table as in `solve`.
    """
    compiled = _usual(problem)
    best = min(
        (as_given(compiled, turns) for turns in starts),
        key=lambda start: compiled.levels(start.terms),
    )
    moves = iterations_for(compiled, seconds, late=not punctual(best))
    if moves and len(compiled.ops) > 1:
        ends = _slices(moves, seconds)
        best = _cool(compiled, best, ends, stop, seed)
    return Settled(figures(compiled, best.terms), _turns(compiled, best))


def turns_of(placed: Sequence[Placed]) -> Turns:
    """A finished run order as a list."""
    return tuple(
        Turn(one.operation, one.station, one.changeover_min, one.end_min) for one in placed
    )


def as_given(compiled: Compiled, turns: Turns) -> Start:
    """The start that keeps to a list as far as precedence lets it; work that is not listed comes
    last, by due date."""
    place: Mapping[str, int] = {turn.operation: number for number, turn in enumerate(turns)}
    station = {turn.operation: turn.station for turn in turns}
    due = urgencies(compiled).due
    ranks = [place.get(op.key, FAR_MIN + due[i]) for i, op in enumerate(compiled.ops)]
    modes = [
        next((m for m in op.modes if compiled.modes[m].station == station.get(op.key)), op.modes[0])
        for op in compiled.ops
    ]
    order = topological(compiled, ranks)
    return placed(compiled, order, modes)


def _usual(problem: Problem) -> Compiled:
    offered = windows(problem)
    usual = compiled_without(problem, offered) if offered else None
    return usual or compile_problem(problem)


def _slices(moves: int, seconds: float) -> list[int]:
    """Moves after each call of the kernel, and 0 before the first."""
    count = min(moves, math.ceil(seconds / SLICE_SECONDS))
    return [moves * number // count for number in range(count + 1)]


def _cool(compiled: Compiled, start: Start, ends: Sequence[int], stop: Stop, seed: int) -> Start:
    """The best of as many chains as a full search has lanes, in slices that end after so many
    moves of each."""
    _, hot, cold = temperatures(compiled, start)
    merges = MERGES if any(mode.needs for mode in compiled.modes) else 0
    energy, begin = energies(compiled, 0.0), max(COOL * hot, cold)

    heats = [begin * (cold / begin) ** (end / ends[-1]) for end in ends[:-1]] + [cold]
    slices = list(pairwise(zip(ends, heats, strict=True)))

    def lane(number: int, _: Hear) -> Start:
        chain = Chain(compiled)
        chain.begin(start, seed + number, energy)
        for (done, first), (end, last) in slices:
            if stop():
                break
            chain.anneal(end - done, first, last, merges)
        return chain.best()

    lanes = [partial(lane, number) for number in range(LANES)]
    return best_of_lanes(compiled, lanes, start, unheard)


def _turns(compiled: Compiled, best: Start) -> Turns:
    _, steps = decode(compiled, best.order, list(best.modes))
    return tuple(
        Turn(
            compiled.ops[step.operation].key,
            compiled.modes[step.mode].station,
            step.change,
            step.end,
        )
        for step in steps
    )
