from __future__ import annotations

import random

import numpy as np

from planner.cutlist.effort import Effort
from planner.cutlist.floors import evaluate
from planner.cutlist.master import limit_rows
from planner.cutlist.model import scale
from planner.cutlist.search import table_for
from tests.cutlist.brute import a_tiny_problem, optimum
from tests.cutlist.builders import a_problem


def test_no_prices_whatever_prove_more_than_the_optimum() -> None:
    checked = 0
    for number in range(120):
        dice = random.Random(f"floors/{number}")
        problem = a_tiny_problem(dice)
        best, model = optimum(problem), scale(problem).model
        if best is None or not model.slots:
            continue
        table, rows = table_for(model), limit_rows(model)
        for _ in range(5):
            prices = np.array([dice.uniform(0, 30) for _ in model.sizes])
            side = np.array([dice.uniform(-20, 5) for _ in rows])
            dual = evaluate(model, table, prices, rows, side, None, Effort())
            assert dual.floor <= best
            below = evaluate(model, table, prices, rows, side, best + 1, Effort())
            assert below.floor <= best
            checked += 1
    assert checked > 300


def test_the_known_prices_of_a_textbook_instance_prove_its_floor() -> None:
    """Chvátal, Linear Programming (1983): LP value 452.25, so 453 sticks at least."""
    model = scale(a_problem((45, 97), (36, 610), (31, 395), (14, 211), price=1)).model
    prices = np.array([1 / 2, 1 / 2, 1 / 4, 0.0])
    dual = evaluate(model, table_for(model), prices, [], np.zeros(0), None, Effort())
    assert dual.floor == 453


def test_prices_that_pay_too_much_are_scaled_down_and_not_believed() -> None:
    model = scale(a_problem((50, 10), price=1)).model
    dual = evaluate(model, table_for(model), np.array([7.0]), [], np.zeros(0), None, Effort())
    assert dual.floor == 5


def test_every_packing_satisfies_every_cut() -> None:
    model = scale(a_problem((50, 4), (30, 3), price=1)).model
    dual = evaluate(model, table_for(model), np.array([0.6, 0.3]), [], np.zeros(0), None, Effort())
    sticks = 3
    assert dual.cut.pay[0] * sticks >= dual.cut.due
