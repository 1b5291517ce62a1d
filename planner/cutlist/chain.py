"""The chain of steps that solves one group, in one place."""

from __future__ import annotations

import random
from collections.abc import Callable

import numpy as np

from planner.cutlist import saw
from planner.cutlist.counts import count_sticks
from planner.cutlist.dive import dive
from planner.cutlist.effort import Effort
from planner.cutlist.exact import solve_over_all_patterns, solve_over_patterns
from planner.cutlist.feasible import reasons_after_search, reasons_before_search, with_shortage
from planner.cutlist.generation import Generator, root_columns
from planner.cutlist.heuristics import Filler, Floats, correct_values, decreasing_packings
from planner.cutlist.master import Master, limit_rows
from planner.cutlist.model import Model, Scaled, scale
from planner.cutlist.polish import fewest_patterns, use_fewer_patterns
from planner.cutlist.problem import Problem
from planner.cutlist.result import Level, Pattern, Result, Stick
from planner.cutlist.search import Search, table_for
from planner.errors import EngineError
from planner.stop import Status, Stop


def quick_packings(search: Search) -> None:
    """First-fit and best-fit decreasing, subset-sum fill, value correction."""
    for packing in decreasing_packings(search.model):
        search.offer(packing)
    quick = search.effort.share(QUICK_SHARE, QUICK_WORK)
    filler = Filler(search.model, search.table, quick)
    sizes = np.array(search.model.sizes, dtype=float)
    search.offer(filler.fill(sizes))
    for number in range(CORRECTIONS):
        if quick.is_over():
            break
        search.offer(correct_values(filler, sizes, search.seed + number))
    search.effort.spend(quick.spent)


def relaxation(search: Search) -> None:
    """Column generation at the root: the floor, and columns that good packings use."""
    master = Master(search.model, limit_rows(search.model), search.effort)
    master.add([*root_columns(search.model), *search.pool])
    generator = Generator(search.model, search.table, search.effort)
    cost = search.cost
    steady = generator.run(
        master, cost, search.cent_step, cuts=search.cuts, guess=by_size(search.model)
    )
    search.raise_bound(steady.floor)
    master.drop_exchanges()
    search.root = generator.run(master, cost, search.cent_step, cuts=search.cuts)
    search.master = master
    search.raise_bound(search.root.floor)


def by_size(model: Model) -> Floats:
    """Prices of pieces by their size, at the cheapest cost of room."""
    cheapest = min(slot.cents / slot.room for slot in model.slots)
    return np.array(model.sizes, dtype=np.float64) * cheapest


def few_patterns(search: Search) -> None:
    """Where there are only a few patterns at all, settle the group over them at once."""
    solve_over_all_patterns(search, FEW_SHARE * search.effort.left(), FEW_PATTERNS)


def diving(search: Search) -> None:
    """Dive from the root; with one slot again and again, as nothing else finds packings."""
    _dives(search, range(DIVES if len(search.model.slots) == 1 else 1))


def more_diving(search: Search) -> None:
    """Dive on with other choices while there is effort to spend."""
    if len(search.model.slots) == 1:
        _dives(search, range(DIVES, MORE_DIVES))
    else:
        count_sticks(search, range(DIVES, 3 * DIVES))


def _dives(search: Search, numbers: range) -> None:
    assert search.root is not None
    assert search.master is not None
    for number in numbers:
        if search.is_proven or search.effort.is_over():
            return
        dice = random.Random(f"{search.seed}/{number}") if number else None
        endings = ENDINGS if number else 0
        dive(search, search.master, search.root.point, dice, RELAXATIONS, endings)


FEW_PATTERNS, FEW_SHARE = 600, 0.4
"""Up to so many patterns are settled all at once, with this share of what effort is left."""
DIVES = 8
"""First dives; more are made once the other steps have left a gap."""
RELAXATIONS = 100
"""Rests that a dive tries at most."""
ENDINGS = 8
"""Short rests that a dive settles exactly; the first does without, as it mostly succeeds."""
MORE_DIVES = 60
"""Up to which dive it goes on after the first ones."""
CORRECTIONS = 10
"""Packings by value correction, each from other values."""
QUICK_WORK, QUICK_SHARE = 0.3, 0.2
"""Nominal seconds, and share of the budget, for filling and value correction."""

Stage = Callable[[Search], None]
STAGES: tuple[tuple[str, Stage], ...] = (
    ("heuristics", quick_packings),
    ("relaxation", relaxation),
    ("few patterns", few_patterns),
    ("stick counts", count_sticks),
    ("diving", diving),
    ("patterns", solve_over_patterns),
    ("more dives", more_diving),
)


def solve(
    problem: Problem,
    stop: Stop | None = None,
    seed: int = 0,
    work: float = float("inf"),
    before: Result | None = None,
) -> Result:
    """The cheapest cut list for one group, with its floor.

    `work` is a budget in nominal seconds that makes the result the same on every machine;
    `stop` guards the clock. `before` is a result of the same problem to go on from.
    """
    reasons = reasons_before_search(problem)
    if reasons:
        return Result(Status.NO_PLAN, 0, 0, "before the search", reasons=reasons)
    scaled = scale(problem)
    if not scaled.model.sizes:
        return Result(Status.PROVEN, 0, 0, "nothing to cut")
    model, shortage = with_shortage(scaled.model)
    search = Search(model, Effort(work, stop), table_for(model), seed)
    if before is not None and before.patterns:
        search.offer(saw.packing_for(scaled, before.patterns))
        search.raise_bound(before.bound_cents)
    stage = run(search)
    _attempt(search, use_fewer_patterns)
    return _result(problem, scaled, search, stage, shortage)


def run(search: Search) -> str:
    """Take the steps in turn until the floor is reached or the effort is spent."""
    for name, step in STAGES:
        trouble = _attempt(search, step)
        if trouble:
            return f"{name}, given up: {trouble}"
        if search.is_proven or search.effort.is_over():
            return name
    return STAGES[-1][0]


def _attempt(search: Search, step: Stage) -> str:
    """Take a step; a solver that fails ends the search, not the plan: best and floor stand."""
    try:
        step(search)
    except EngineError as error:
        if search.best is None:
            raise
        return str(error)
    return ""


def _result(
    problem: Problem, scaled: Scaled, search: Search, stage: str, shortage: int | None
) -> Result:
    model, best = search.model, search.best
    assert best is not None, "first fit always places every piece"
    if shortage is not None and any(model.slots[c.slot].kind == shortage for c in best):
        proven = search.bound >= model.slots[-1].cents
        reasons = reasons_after_search(problem, scaled, model, best, proven)
        return Result(Status.NO_PLAN, 0, 0, stage, work=search.effort.spent, reasons=reasons)
    patterns = saw.patterns_for(problem, scaled, best)
    sticks = saw.sticks_for(problem, patterns)
    cost = sum(pattern.cost_cents * pattern.count for pattern in patterns)
    bound = min(cost, search.bound)
    status = Status.LIMIT if search.effort.is_over() else Status.GAP
    return Result(
        status=Status.PROVEN if bound == cost else status,
        cost_cents=cost,
        bound_cents=bound,
        stage=stage,
        patterns=patterns,
        sticks=sticks,
        levels=(
            Level("money, cents", cost, bound == cost),
            *_preferences(model, patterns, sticks),
        ),
        money=saw.money_for(problem, patterns),
        work=search.effort.spent,
    )


def _preferences(
    model: Model, patterns: tuple[Pattern, ...], sticks: tuple[Stick, ...]
) -> tuple[Level, ...]:
    """The preferences after money; each is proven where a count of lengths proves it."""
    moves, broken = saw.stop_moves(patterns), saw.interruptions(sticks)
    return (
        Level("patterns", len(patterns), len(patterns) == fewest_patterns(model)),
        Level("stop set-ups", moves, moves == len(model.sizes)),
        Level("order lines interrupted", broken, broken == 0),
    )
