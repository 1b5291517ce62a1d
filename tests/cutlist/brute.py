"""Every way to cut tiny problems, from the saw's point of view, against the engine.

`python -m tests.cutlist.brute [COUNT] [SEED]` checks COUNT random problems (1,000 by default)
with several lengths, remnants, kerf, trims, clamp, counts, drop values, finishing and a cap on
lengths per stick: the cost is never below the true optimum, the floor never above it, and
what is called proven is the optimum. The optimum comes from trying every pattern on every
stick, with nothing shared with the engine but the definition of the problem.
"""

from __future__ import annotations

import random
import sys
from functools import cache
from itertools import product

from planner.cutlist import Demand, DropValue, Problem, Result, StockKind, solve
from planner.stop import Status


def a_tiny_problem(dice: random.Random) -> Problem:
    """A problem of at most 4 lengths and 9 pieces, with every feature now and then."""
    stick = dice.choice([10, 20, 37, 60])
    lengths = dice.sample(range(2, stick), k=min(dice.randint(1, 4), stick - 2))
    demands = tuple(
        Demand(f"line {i}", nm, dice.randint(1, 3 if len(lengths) < 4 else 2))
        for i, nm in enumerate(lengths)
    )
    kinds = [StockKind("long", stick, dice.randint(5, 40), dice.choice([None, None, 1, 2, 3]))]
    for number in range(dice.randint(0, 3)):
        length = dice.randint(max(2, stick // 4), stick + 10)
        is_remnant = dice.random() < 0.5
        count = dice.randint(0, 2) if is_remnant else dice.choice([None, 1, 4])
        price = dice.randint(0, 1 + length)
        finished = dice.random() < 0.3
        kinds.append(StockKind(f"k{number}", length, price, count, 0, finished))
    keep = dice.choice([None, None, 2, stick // 4])
    rising = sorted(dice.sample(range(1, stick), 2))
    worth = sorted(dice.randint(0, 12) for _ in rising)
    steps = tuple(DropValue(nm, cents) for nm, cents in zip(rising, worth, strict=True))
    return Problem(
        demands,
        tuple(kinds),
        kerf_nm=dice.choice([0, 0, 1, 2]),
        trim_stick_nm=dice.choice([0, 0, 1]),
        trim_end_nm=dice.choice([0, 0, 1, 3]),
        clamp_nm=dice.choice([0, 0, 2, 5]),
        shortest_remnant_nm=keep,
        drop_values=steps if keep is not None and dice.random() < 0.7 else (),
        finish_cents_per_m=dice.choice([0, 0, 400_000_000]),
        max_lengths_per_stick=dice.choice([None, None, None, 1, 2]),
    )


def stick_cost(problem: Problem, kind: StockKind, pieces: list[int]) -> int | None:
    """Saw the pieces off one stick and say what that costs, None if they do not fit."""
    at = problem.trim_stick_nm + problem.trim_end_nm
    for length in pieces:
        at += length
        if at > kind.length_nm - problem.trim_end_nm:
            return None
        at += problem.kerf_nm
    if problem.clamp_nm and at > kind.length_nm - problem.clamp_nm:
        return None
    most = problem.max_lengths_per_stick
    if most is not None and len(set(pieces)) > most:
        return None
    drop = max(0, kind.length_nm - at)
    paid = kind.price_cents
    if not kind.is_finished:
        paid += (problem.finish_cents_per_m * kind.length_nm + 5 * 10**8) // 10**9
    credit = 0
    if problem.shortest_remnant_nm is not None and drop >= problem.shortest_remnant_nm:
        for step in problem.drop_values:
            if drop >= step.length_nm:
                credit = max(credit, step.value_cents)
        credit += problem.finish_cents_per_m * drop // 10**9
    return max(0, paid - credit)


def optimum(problem: Problem) -> int | None:
    """The least cost over all ways to cut everything, None if there is no way."""
    lengths = [demand.length_nm for demand in problem.demands]
    wanted = tuple(demand.quantity for demand in problem.demands)
    ways: list[tuple[int, tuple[int, ...], int]] = []
    for index, kind in enumerate(problem.stock):
        for counts in product(*(range(number + 1) for number in wanted)):
            pieces = [nm for nm, n in zip(lengths, counts, strict=True) for _ in range(n)]
            cost = stick_cost(problem, kind, pieces) if pieces else None
            if cost is not None:
                ways.append((index, counts, cost))

    @cache
    def least(left: tuple[int, ...], sticks: tuple[int, ...]) -> float:
        if not any(left):
            return 0
        best = float("inf")
        first = next(i for i, number in enumerate(left) if number)
        for index, counts, cost in ways:
            if not counts[first] or not sticks[index]:
                continue
            rest = tuple(have - take for have, take in zip(left, counts, strict=True))
            if min(rest) >= 0:
                fewer = tuple(n - (i == index) for i, n in enumerate(sticks))
                best = min(best, cost + least(rest, fewer))
        return best

    total = sum(wanted)
    value = least(wanted, tuple(total if k.count is None else k.count for k in problem.stock))
    return None if value == float("inf") else int(value)


def complaint(problem: Problem, result: Result) -> str | None:
    """What is wrong with a result, or None."""
    best = optimum(problem)
    if best is None:
        return (
            None if result.status is Status.NO_PLAN and result.reasons else "plans the impossible"
        )
    if result.status is Status.NO_PLAN:
        proven = not any("as far as" in reason.text for reason in result.reasons)
        return "a false proof that no plan exists" if proven else None
    if result.bound_cents > best:
        return f"floor {result.bound_cents} above the optimum {best}"
    if result.cost_cents < best:
        return f"cost {result.cost_cents} below the optimum {best}"
    if result.status is Status.PROVEN and result.cost_cents != best:
        return f"calls {result.cost_cents} proven, but {best} is possible"
    return None


def check(count: int, seed: int) -> tuple[list[str], int]:
    """Complaints about `count` random problems, and how many of these were closed."""
    complaints: list[str] = []
    closed = 0
    for number in range(count):
        problem = a_tiny_problem(random.Random(f"{seed}/{number}"))
        result = solve(problem, seed=number, work=1.0)
        wrong = complaint(problem, result)
        closed += result.gap_cents == 0
        if wrong:
            complaints.append(f"{seed}/{number}: {wrong}")
    return complaints, closed


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    complaints, closed = check(count, seed)
    print("\n".join(complaints))
    print(f"{count} problems, {closed} closed, {len(complaints)} wrong")
    raise SystemExit(bool(complaints))


if __name__ == "__main__":
    main()
