from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.cutlist import Demand, DropValue, Problem, Result, StockKind, solve
from planner.cutlist.heuristics import decreasing, first_fit, kind_orders
from planner.cutlist.lp import Lp
from planner.cutlist.model import scale
from planner.cutlist.result import Fate
from planner.errors import EngineError
from planner.stop import Status, Stop
from tests.cutlist.builders import MM, a_problem, assert_plan_valid


@st.composite
def problems(draw: st.DrawFn) -> Problem:
    """Shops of every kind, at scales that need up to a few thousand rooms."""
    stick = draw(st.integers(100, 3000))
    lengths = draw(st.lists(st.integers(5, stick - 40), min_size=1, max_size=7, unique=True))
    demands = tuple(
        Demand(f"line {n % 3}", nm, draw(st.integers(1, 12))) for n, nm in enumerate(lengths)
    )
    stock = [StockKind("main", stick, draw(st.integers(10, 500)))]
    for n in range(draw(st.integers(0, 3))):
        length = draw(st.integers(50, stick + 500))
        count = draw(st.sampled_from([None, 0, 1, 5]))
        stock.append(StockKind(f"extra {n}", length, draw(st.integers(0, 500)), count))
    keep = draw(st.sampled_from([None, stick // 5]))
    values = () if keep is None else (DropValue(keep, 5), DropValue(2 * keep, 25))
    return Problem(
        demands,
        tuple(stock),
        kerf_nm=draw(st.integers(0, 5)),
        trim_end_nm=draw(st.integers(0, 10)),
        clamp_nm=draw(st.sampled_from([0, 20])),
        shortest_remnant_nm=keep,
        drop_values=values,
        max_lengths_per_stick=draw(st.sampled_from([None, 2])),
        leaves_finished=draw(st.booleans()),
        longest_first=draw(st.booleans()),
    )


@settings(max_examples=40)
@given(problem=problems())
def test_no_piece_is_lost_and_first_fit_is_never_better(problem: Problem) -> None:
    result = solve(problem, work=0.3)
    if result.status is Status.NO_PLAN:
        assert result.reasons
        return
    assert_plan_valid(problem, result)
    model = scale(problem).model
    for kinds in kind_orders(model):
        packing = decreasing(model, first_fit, kinds)
        assert packing is None or result.cost_cents <= model.cost(packing)


def test_the_same_problem_and_seed_give_the_same_result() -> None:
    problem = a_problem((410, 7), (333, 9), (287, 11), (190, 13), stick=1000)
    assert solve(problem, seed=3, work=0.5) == solve(problem, seed=3, work=0.5)


def why(result: Result) -> str:
    return result.reasons[0].told(lambda nm: f"{nm} nm")


def test_a_piece_that_no_stick_holds_is_named_before_any_search() -> None:
    result = solve(a_problem((50, 1), (98, 2), stick=100, trim_end_nm=2))
    assert result.status is Status.NO_PLAN
    assert result.stage == "before the search"
    assert [reason.keys for reason in result.reasons] == [("line 1",)]
    assert "too long for every stick" in why(result)


def test_stock_that_is_too_little_is_named_with_what_it_lacks() -> None:
    result = solve(a_problem((50, 5), stock=(StockKind("rack", 100, 1, 2),)))
    assert result.status is Status.NO_PLAN
    assert "need 250 nm" in why(result)
    assert "have 200 nm" in why(result)


def test_stock_that_fails_only_by_its_lengths_says_what_to_buy() -> None:
    result = solve(a_problem((60, 3), stock=(StockKind("rack", 100, 1, 2),)))
    assert result.status is Status.NO_PLAN
    assert "1 more stick" in why(result)
    assert "proven" in why(result)
    assert result.reasons[0].keys == ("line 0",)


def test_no_stock_at_all_is_said_plainly() -> None:
    result = solve(Problem((Demand("line", 10, 1),), ()))
    assert "no stock of this tube" in why(result)


def test_nothing_to_cut_costs_nothing() -> None:
    result = solve(a_problem((50, 0)))
    assert (result.status, result.cost_cents, result.sticks) == (Status.PROVEN, 0, ())


def test_a_stop_that_has_struck_still_gets_a_valid_cut_list() -> None:
    problem = a_problem((410, 7), (333, 9), (287, 11), (190, 13), stick=1000)
    stop = Stop()
    stop.ask()
    result = solve(problem, stop)
    assert_plan_valid(problem, result)
    assert result.status in {Status.LIMIT, Status.PROVEN}


def test_a_search_goes_on_from_an_earlier_result() -> None:
    problem = a_problem((410, 7), (333, 9), (287, 11), (190, 13), stick=1000)
    done = solve(problem)
    again = solve(problem, work=1e-6, before=done)
    assert again.status is Status.PROVEN
    assert again.cost_cents == done.cost_cents


def test_a_finished_remnant_skips_its_passes_and_so_wins_at_the_same_price() -> None:
    stock = (
        StockKind("raw", 3000 * MM, 900),
        StockKind("finished", 3000 * MM, 900, 1, is_finished=True),
    )
    problem = a_problem((1400 * MM, 2), stock=stock, finish_cents_per_m=100)
    result = solve(problem)
    assert [problem.stock[p.stock].label for p in result.patterns] == ["finished"]
    assert result.cost_cents == 900


def test_a_drop_of_a_finished_stick_goes_back_as_a_finished_remnant() -> None:
    problem = a_problem((60, 1), shortest_remnant_nm=30, leaves_finished=True)
    assert solve(problem).patterns[0].fate is Fate.FINISHED_REMNANT


def test_finishing_spent_on_scrap_can_turn_the_choice_of_sticks() -> None:
    stock = (StockKind("long", 10_000 * MM, 1_000), StockKind("short", 6_000 * MM, 1_010))
    problem = a_problem((5_000 * MM, 1), stock=stock)
    assert solve(problem).patterns[0].stock == 0
    assert solve(replace(problem, finish_cents_per_m=100)).patterns[0].stock == 1


def test_lengths_without_a_common_unit_are_still_proven() -> None:
    pieces = [(1_375_064_237, 9), (912_345_679, 7), (640_000_003, 12), (333_333_331, 5)]
    problem = a_problem(*pieces, stick=6_096_000_000, price=5_000, kerf_nm=2_381_250)
    result = solve(problem)
    assert_plan_valid(problem, result)
    assert result.status is Status.PROVEN


def test_a_solver_that_fails_ends_the_search_but_not_the_cut_list(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def fail(_: object) -> None:
        raise EngineError("the linear program ended badly")

    monkeypatch.setattr(Lp, "solve", fail)
    problem = a_problem((410, 7), (333, 9), (287, 11), (190, 13), stick=1000)
    result = solve(problem)
    assert_plan_valid(problem, result)
    assert "given up" in result.stage


def test_the_preferences_stand_on_the_result_in_their_order() -> None:
    result = solve(a_problem((50, 4), (25, 4)))
    assert [level.name for level in result.levels] == [
        "money, cents",
        "patterns",
        "stop set-ups",
        "order lines interrupted",
    ]
    assert [level.value for level in result.levels] == [30, 2, 2, 0]
    assert [level.is_proven for level in result.levels] == [True, False, True, True]


@pytest.mark.parametrize("longest_first", [True, False])
def test_pieces_come_longest_first_unless_the_shop_says_otherwise(*, longest_first: bool) -> None:
    result = solve(a_problem((60, 1), (25, 1), (10, 1), longest_first=longest_first))
    lengths = list(result.patterns[0].lengths_nm)
    assert lengths == sorted(lengths, reverse=longest_first)
