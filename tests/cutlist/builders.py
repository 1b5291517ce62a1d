"""Small problems for the tests, and what must hold for every answer."""

from __future__ import annotations

from collections import Counter

from planner.cutlist import Demand, Problem, Result, StockKind

MM = 1_000_000


def a_problem(
    *pieces: tuple[int, int],
    stick: int = 100,
    price: int = 10,
    stock: tuple[StockKind, ...] | None = None,
    **rest: object,
) -> Problem:
    """Pieces as (length, quantity); one endless stock length unless `stock` says otherwise."""
    demands = tuple(Demand(f"line {n}", nm, count) for n, (nm, count) in enumerate(pieces))
    kinds = stock or (StockKind("stick", stick, price),)
    return Problem(demands, kinds, **rest)  # type: ignore[arg-type]  # keyword values vary in type


def assert_plan_valid(problem: Problem, result: Result) -> None:
    """Every piece is cut once, lengths and money add up, counts are respected."""
    wanted: Counter[tuple[str, int]] = Counter()
    for demand in problem.demands:
        wanted[demand.key, demand.length_nm] += demand.quantity
    pieces = [piece for stick in result.sticks for piece in stick.pieces]
    assert Counter((p.key, p.length_nm) for p in pieces) == +wanted
    assert len({piece.label for piece in pieces}) == len(pieces)
    taken: Counter[int] = Counter()
    for number, pattern in enumerate(result.patterns):
        kind = problem.stock[pattern.stock]
        own = [stick for stick in result.sticks if stick.pattern == number]
        taken[pattern.stock] += pattern.count
        assert len(own) == pattern.count
        assert all(tuple(p.length_nm for p in s.pieces) == pattern.lengths_nm for s in own)
        lengths = sum(pattern.lengths_nm)
        assert pattern.trim_nm + lengths + pattern.kerf_nm + pattern.drop_nm == kind.length_nm
        cuts = len(pattern.lengths_nm)
        assert 0 <= pattern.kerf_nm <= cuts * problem.kerf_nm
        assert pattern.kerf_nm >= (cuts - 1) * problem.kerf_nm
        assert pattern.drop_nm >= max(0, problem.trim_end_nm - problem.kerf_nm, problem.clamp_nm)
    for stock, count in taken.items():
        limit = problem.stock[stock].count
        assert limit is None or count <= limit
    assert result.cost_cents == sum(p.cost_cents * p.count for p in result.patterns)
    assert 0 <= result.bound_cents <= result.cost_cents
    money = result.money
    assert money.used_cents + money.kept_cents + money.scrapped_cents == money.paid_cents
    assert money.paid_cents - money.kept_cents == result.cost_cents
