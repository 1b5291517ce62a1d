"""Small groups of a shop's own sizes, solved whole by an integer program, against the engine.

`python -m tests.cutlist.mip [COUNT] [SEED]` checks COUNT random groups (200 by default) of sticks
of 20 and 24 ft and some remnants, cut to sixteenths of an inch, with kerf, trims, clamp, counts
and what remnants are worth. Every pattern is written out and priced as in `tests.cutlist.brute`,
and OR-Tools' CP-SAT chooses from them: nothing is shared with the engine but the definition of
the problem. What the engine calls proven has to cost as much, and no floor may be higher.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator

from ortools.sat.python import cp_model

from planner.cutlist import Demand, DropValue, Problem, StockKind, solve
from planner.stop import Status
from tests.cutlist.brute import stick_cost

SIXTEENTH_NM = 1_587_500
FOOT_NM = 304_800_000
MOST_WORK = 5.0
"""In CP-SAT's deterministic seconds."""


def a_group(dice: random.Random) -> Problem:
    """Three to five lengths of 20 to 100 inches, up to 15 pieces."""
    lengths = dice.sample(range(20 * 16, 100 * 16), dice.randint(3, 5))
    demands = tuple(
        Demand(f"line {number}", sixteenths * SIXTEENTH_NM, dice.randint(1, 3))
        for number, sixteenths in enumerate(lengths)
    )
    foot_cents = dice.randint(200, 900)
    remnants = [
        StockKind(f"remnant {number}", feet * FOOT_NM, feet * foot_cents // 2, 1)
        for number, feet in enumerate(dice.sample(range(4, 18), dice.randint(0, 3)))
    ]
    few = dice.choice((1, 2, 3))
    keep = dice.choice((2, 3, 4))
    worth = tuple(DropValue(n * FOOT_NM, n * foot_cents // 2) for n in range(keep, 24))
    return Problem(
        demands,
        (
            StockKind("20 ft", 20 * FOOT_NM, 20 * foot_cents),
            StockKind("24 ft", 24 * FOOT_NM, 24 * foot_cents - dice.randint(0, 500), few),
            *remnants,
        ),
        kerf_nm=dice.choice((1, 2)) * SIXTEENTH_NM,
        trim_stick_nm=dice.choice((0, 4)) * SIXTEENTH_NM,
        trim_end_nm=dice.choice((0, 8)) * SIXTEENTH_NM,
        clamp_nm=dice.choice((0, 96)) * SIXTEENTH_NM,
        shortest_remnant_nm=keep * FOOT_NM,
        drop_values=worth if dice.random() < 0.8 else (),
        finish_cents_per_m=dice.choice((0, 250)),
        leaves_finished=dice.random() < 0.5,
    )


def patterns(problem: Problem, kind: StockKind) -> Iterator[tuple[tuple[int, ...], int]]:
    """How many of each length one stick may yield, and what it costs then."""
    demands = problem.demands

    def more(counts: tuple[int, ...]) -> Iterator[tuple[tuple[int, ...], int]]:
        if len(counts) == len(demands):
            pieces = pieces_of(counts)
            cost = stick_cost(problem, kind, pieces) if pieces else None
            if cost is not None:
                yield counts, cost
            return
        for number in range(demands[len(counts)].quantity + 1):
            if sum(pieces_of((*counts, number))) <= kind.length_nm:
                yield from more((*counts, number))

    def pieces_of(counts: tuple[int, ...]) -> list[int]:
        return [d.length_nm for d, n in zip(demands, counts, strict=False) for _ in range(n)]

    return more(())


def optimum(problem: Problem) -> int | None:
    """The least cost, None where it is not proven with the work allowed or there is none."""
    model = cp_model.CpModel()
    made: list[list[cp_model.LinearExpr | int]] = [[] for _ in problem.demands]
    costs: list[cp_model.LinearExpr | int] = []
    most = sum(demand.quantity for demand in problem.demands)
    for kind in problem.stock:
        count = most if kind.count is None else kind.count
        used: list[cp_model.LinearExpr | int] = []
        for counts, cost in patterns(problem, kind):
            sticks = model.new_int_var(0, count, "")
            used.append(sticks)
            costs.append(cost * sticks)
            for row, number in zip(made, counts, strict=True):
                row.append(number * sticks)
        model.add(sum(used) <= count)
    for row, demand in zip(made, problem.demands, strict=True):
        model.add(sum(row) == demand.quantity)
    model.minimize(sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = MOST_WORK
    if solver.solve(model) != cp_model.OPTIMAL:
        return None
    return round(solver.objective_value)


def check(count: int, seed: int, work: float = 1.0) -> tuple[list[str], int, int]:
    """Complaints about `count` random groups, how many of them the engine calls proven, and how
    many the integer program leaves open."""
    complaints: list[str] = []
    proven = left_open = 0
    for number in range(count):
        problem = a_group(random.Random(f"{seed}/{number}"))
        result = solve(problem, seed=number, work=work)
        best = optimum(problem)
        is_proven = result.status is Status.PROVEN
        proven += is_proven
        if best is None:
            left_open += 1
        elif result.bound_cents > best:
            complaints.append(f"{seed}/{number}: floor {result.bound_cents} above {best}")
        elif result.cost_cents < best:
            complaints.append(f"{seed}/{number}: {result.cost_cents} below the optimum {best}")
        elif is_proven and result.cost_cents != best:
            complaints.append(f"{seed}/{number}: {result.cost_cents} proven, {best} is possible")
    return complaints, proven, left_open


def main() -> None:
    """Check as many groups as asked for."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    complaints, proven, left_open = check(count, seed)
    print("\n".join(complaints))
    print(f"{count} groups, {proven} proven, {left_open} left open, {len(complaints)} wrong")
    raise SystemExit(bool(complaints))


if __name__ == "__main__":
    main()
