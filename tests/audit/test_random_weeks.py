"""Whatever the shop and the week, what is planned holds."""

from __future__ import annotations

from hypothesis import given, settings

from planner.audit import audit
from planner.errors import NoPlanError
from planner.plan import make_plan
from tests.audit.random_weeks import Week, weeks


@settings(max_examples=25)
@given(weeks())
def test_a_plan_of_a_random_week_holds(week: Week) -> None:
    orders, stock, shop, options = week
    try:
        plan = make_plan(orders, stock, shop, options)
    except NoPlanError:
        return
    assert [str(finding) for finding in audit(plan)] == []
    assert {line.key for line in (*plan.orders, *plan.refused)} == {line.key for line in orders}
