"""What merging two lots would save and delay."""

from datetime import date, datetime

import pytest

from planner.options import LotPolicy
from planner.orders import OrderLine
from planner.plan import Plan, make_plan
from tests.trade import a_line, a_spec, a_stick, cut
from tests.week import a_week_shop, options


def line(order: str, day: int) -> OrderLine:
    """One piece of a little less than half a stick."""
    return a_line(order=order, quantity=1, shape=cut("110"), due=datetime(2026, 12, day, 15))


LATER = (("1", 1), ("2", 4))
"""Order and day of December of two lines that are not due together."""


def plan_of(*lines: OrderLine, policy: LotPolicy) -> Plan:
    stock = [a_stick(lines[0].spec, "20'", key="stick", price_cents=9_000)]
    shop = a_week_shop()
    shop = shop.model_copy(update={"house": shop.house.model_copy(update={"remnant_share": 0.0})})
    return make_plan(lines, stock, shop, options(lots=policy))


def test_two_halves_of_a_stick_save_one_stick_when_merged() -> None:
    plan = plan_of(line("1", 1), line("2", 4), policy=LotPolicy.BY_DUE_DATE)
    assert len(plan.mergers) == 1
    merger = plan.mergers[0]
    assert (merger.early, merger.late, merger.days_apart) == ("L01", "L02", 3)
    together = plan_of(line("1", 1), line("2", 4), policy=LotPolicy.MERGE)
    saved = sum(cut_list.cost_cents for cut_list in plan.cut_lists) - sum(
        cut_list.cost_cents for cut_list in together.cut_lists
    )
    assert merger.saves_cents == saved > 0
    waits = [op for op in plan.operations if op.lot == "L02"]
    assert merger.delays_min == sum(op.alternatives[0].minutes for op in waits)


def test_the_delay_is_the_work_of_the_later_lot_alone() -> None:
    later = line("2", 4).model_copy(update={"quantity": 3})
    plan = plan_of(line("1", 1), later, policy=LotPolicy.BY_DUE_DATE)
    (merger,) = plan.mergers
    minutes = {
        lot: sum(op.alternatives[0].minutes for op in plan.operations if op.lot == lot)
        for lot in ("L01", "L02")
    }
    assert merger.delays_min == minutes["L02"] > minutes["L01"]


def test_auto_merges_where_the_saving_outweighs_the_delay() -> None:
    plan = plan_of(line("1", 1), line("2", 4), policy=LotPolicy.AUTO)
    assert len(plan.lots) == 1
    assert plan.mergers == ()


def test_lots_of_other_tube_are_no_neighbours() -> None:
    other = a_line(order="3", quantity=1, shape=cut("110"), recipe=None)
    plan = plan_of(line("1", 1), other, policy=LotPolicy.BY_DUE_DATE)
    assert plan.mergers == ()


def test_lots_that_are_no_cheaper_as_one_are_left_apart() -> None:
    full = [line(order, day).model_copy(update={"shape": cut("200")}) for order, day in LATER]
    assert plan_of(*full, policy=LotPolicy.BY_DUE_DATE).mergers == ()


def test_lots_that_cannot_be_cut_as_one_are_left_apart() -> None:
    """The sticks of the later one come after the earlier one is due."""
    lines = [line(order, day) for order, day in LATER]
    now = a_stick(lines[0].spec, "10'", key="now", price_cents=9_000, count=1)
    later = a_stick(lines[0].spec, "10'", key="later", price_cents=9_000, count=1)
    later = later.model_copy(update={"arrives": date(2026, 12, 3)})
    args = a_week_shop(), options(lots=LotPolicy.BY_DUE_DATE)
    plan = make_plan(lines, [now, later], *args)
    assert len(plan.lots) == 2
    assert plan.mergers == ()


def test_the_largest_saving_comes_first() -> None:
    dear = a_spec("2")
    lines = [line(order, day) for order, day in LATER]
    lines += [line(f"1{order}", day).model_copy(update={"spec": dear}) for order, day in LATER]
    stock = [
        a_stick(spec, "20'", key=f"{spec.od_nm}", price_cents=cents)
        for spec, cents in ((lines[0].spec, 9_000), (dear, 19_000))
    ]
    plan = make_plan(lines, stock, a_week_shop(), options(lots=LotPolicy.BY_DUE_DATE))
    of = {lot.key: lot.spec for lot in plan.lots}
    assert [of[one.early] for one in plan.mergers] == [dear, lines[0].spec]
    first, second = plan.mergers
    assert first.saves_cents > second.saves_cents
    assert first.early > second.early


def a_book() -> Plan:
    """Of one tube three lines, a day apart, that each leave most of a stick, and of another two
    that leave little."""
    other = a_spec("2")
    full = [
        a_line(order=str(n), spec=other, quantity=1, shape=cut("200"), due=datetime(2026, 12, n))
        for n in (1, 2)
    ]
    lines = [line("3", 1), line("4", 2), line("5", 3), *full]
    stock = [a_stick(spec, "20'", key=f"{spec.od_nm}") for spec in (lines[0].spec, other)]
    return make_plan(lines, stock, a_week_shop(), options(lots=LotPolicy.BY_DUE_DATE))


def test_of_many_pairs_those_with_the_most_waste_are_cut_as_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    several = {(one.early, one.late) for one in a_book().mergers}
    monkeypatch.setattr("planner.merging.MOST_PAIRS", 1)
    (one,) = a_book().mergers
    assert (one.early, one.late) in several
    assert len(several) > 1
