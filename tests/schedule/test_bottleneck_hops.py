"""Hops among orders of lines that share their work."""

from __future__ import annotations

from itertools import pairwise

from planner.schedule.bottleneck import Bottleneck, Orders, as_bottleneck
from planner.schedule.bottleneck_hops import Hopper
from planner.schedule.compiled import compile_problem
from planner.schedule.rules import make_rules
from tests.benchmarks.weeks import a_week

WEEK = compile_problem(a_week(20, 2, finishers=2))


def two_lines() -> tuple[Bottleneck, Orders]:
    """A bottleneck of two finishers, and orders of a rule."""
    neck = as_bottleneck(WEEK, 50)
    assert neck is not None
    return neck, neck.orders_in(make_rules(WEEK).starts[-1])


def hops(count: int, seed: int = 1) -> list[Orders]:
    """Orders one hop after the other."""
    neck, orders = two_lines()
    hopper = Hopper(neck, orders, seed)
    found = [orders]
    for _ in range(count):
        found.append(hopper.hop(found[-1])[0])
    return found


def test_all_work_stays_on_the_lines_and_some_goes_over() -> None:
    neck, _ = two_lines()
    work = sorted(neck.feeding)
    found = hops(100)
    assert all(sorted(one + other) == work for one, other in found)
    over = sum(set(a) != set(b) for (a, _), (b, _) in pairwise(found))
    assert 20 <= over <= 60


def test_passes_of_a_lot_keep_their_order_on_a_line() -> None:
    neck, _ = two_lines()
    for orders in hops(100):
        for branch, order in zip(neck.branches, orders, strict=True):
            operations = tuple(branch.mode)
            place = {i: number for number, i in enumerate(order)}
            for number, i in enumerate(operations):
                waits = [operations[pred.operation] for pred in branch.alone.ops[number].preds]
                assert all(place[b] < place[i] for b in waits if i in place and b in place)


def test_a_line_that_has_given_everything_away_gets_work_again() -> None:
    neck, (one, other) = two_lines()
    place = {i: number for number, i in enumerate(make_rules(WEEK).starts[-1].order)}
    orders: Orders = (tuple(sorted(one + other, key=place.__getitem__)), ())
    hopper = Hopper(neck, orders, 3)
    for _ in range(20):
        orders, _ = hopper.hop(orders)
    assert orders[1]


def test_the_same_seed_gives_the_same_orders() -> None:
    assert hops(30) == hops(30)
    assert hops(30) != hops(30, seed=2)
