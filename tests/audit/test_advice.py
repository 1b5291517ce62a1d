"""Invariant 6 catches advice on other ways to share lots that does not fit the plan's own lots."""

from __future__ import annotations

from datetime import datetime
from functools import cache

import pytest

from planner.advice import LotsTried
from planner.audit import audit
from planner.options import LotPolicy
from planner.plan import make_plan
from planner.records import Plan
from tests.audit.edits import Change, breaches, edited
from tests.trade import a_line, a_spec, a_stick, cut
from tests.week import a_week_shop, options


@cache
def advised() -> Plan:
    """Two lines of one tube, due a day apart, that fill one stick together and two apart."""
    orders = [
        a_line(order="1", quantity=1, shape=cut("120"), due=datetime(2026, 12, 1, 15, 30)),
        a_line(order="2", quantity=1, shape=cut("100"), due=datetime(2026, 12, 2, 15, 30)),
    ]
    stock = [a_stick(a_spec(), "20'", key="stick")]
    plan = make_plan(orders, stock, a_week_shop(), options(seconds=0.1, lots=LotPolicy.BY_DUE_DATE))
    tried = LotsTried(
        lots=("L01", "L02"),
        instead=(("1/1", "2/1"),),
        cost_cents=1,
        material_cents=1,
        changeover_min=0,
        late_min=0,
    )
    return plan.model_copy(update={"lots_tried": (tried,)})


def found(part: str, **changes: Change) -> str:
    return breaches(edited(advised(), part, lambda _: True, **changes), 6)


def test_advice_of_a_plan_holds() -> None:
    assert len(advised().mergers) == 1
    assert audit(advised()) == ()


def test_a_merger_of_no_lot() -> None:
    plan = edited(advised(), "mergers", lambda _: True, late="L99")
    assert "L99: is named in the plan" in breaches(plan, 0)


@pytest.mark.parametrize("by", [-1, 1])
def test_a_merger_with_other_figures(by: int) -> None:
    assert "due 2 days apart, not 1" in found("mergers", days_apart=2)
    assert "of work, not" in found("mergers", delays_min=lambda one: one.delays_min + by)
    assert "cents of" in found("mergers", saves_cents=max(0, by) * 10**6)


def test_a_merger_of_a_lot_with_itself() -> None:
    assert "days apart" in found("mergers", late="L01")


def test_a_merger_of_lots_that_cannot_be_cut_as_one() -> None:
    plan = edited(advised(), "lots", lambda lot: lot.key == "L02", saw_first=True)
    assert "cannot be cut as one" in breaches(plan, 6)


def test_lines_that_were_not_tried() -> None:
    assert "not tried otherwise with the same order lines" in found(
        "lots_tried", instead=(("1/1",),)
    )
