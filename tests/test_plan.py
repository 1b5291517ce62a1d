"""make_plan: the whole way from order lines to a plan that its audit accepts."""

import pytest

from planner.assembly import RULE_NAMES
from planner.audit import audit
from planner.errors import NoPlanError
from planner.hours import moment
from planner.options import LotPolicy
from planner.orders import Step
from planner.plan import Plan, make_plan
from planner.records import FloorKind
from planner.shop import What
from planner.stop import Status
from tests.trade import a_line, a_spec, a_stick, bent, cut, from_blank
from tests.week import MONDAY, a_week_shop, options, some_orders, some_stock


def a_plan(**changes: object) -> Plan:
    return make_plan(some_orders(), some_stock(), a_week_shop(), options(**changes))


def test_a_small_week_is_planned_whole_and_passes_its_audit() -> None:
    plan = a_plan()
    assert audit(plan) == ()
    assert {line.key for line in plan.orders} == {done.line for done in plan.done}
    assert plan.refused == ()


def test_the_same_input_and_seed_give_the_same_bytes() -> None:
    assert a_plan().model_dump_json() == a_plan().model_dump_json()


@pytest.mark.parametrize("policy", list(LotPolicy))
def test_every_lot_policy_gives_a_plan_that_passes(policy: LotPolicy) -> None:
    assert audit(a_plan(lots=policy)) == ()


def test_the_plan_is_never_worse_than_any_rule_it_is_compared_with() -> None:
    this, *others = a_plan().yardsticks
    assert {other.name for other in others} == set(RULE_NAMES.values())
    for other in others:
        assert (this.weighted_late_min, this.changeover_min) <= (
            other.weighted_late_min,
            other.changeover_min,
        )


def test_a_part_bent_from_a_blank_takes_time_and_a_die_as_one_with_its_geometry_does() -> None:
    same = {"order": "999", "quantity": 7}
    parts = [a_line(line="1", shape=from_blank("54", 2), **same)]
    parts.append(a_line(line="2", shape=bent((10, 90, 4.5), (20, 90, 4.5), 10), **same))
    plan = make_plan([*some_orders(), *parts], some_stock(), a_week_shop(), options())
    assert (audit(plan), plan.refused) == ((), ())
    ways = {op.line: op.alternatives for op in plan.operations if op.step is Step.BEND}
    assert ways["999/1"] == ways["999/2"]
    assert ways["999/1"][0].state[What.DIE]
    (told,) = {r for card in plan.cards for r in card.remarks if r.startswith("999/1: 2 bends")}
    assert "as on its drawing" in told


def test_a_line_that_cannot_be_made_is_refused_and_the_others_are_planned() -> None:
    no_die = a_line(order="999", shape=bent((12, 90, 99), 20))
    orders = [*some_orders(), no_die]
    plan = make_plan(orders, some_stock(), a_week_shop(), options())
    assert [line.key for line in plan.refused] == ["999/1"]
    assert any("999/1" in (finding.subject or "") for finding in plan.findings)
    assert audit(plan) == ()


def test_tube_that_is_not_in_stock_is_refused_with_what_to_buy() -> None:
    rare = a_line(order="999", spec=a_spec("1-3/4"), shape=cut("30"))
    plan = make_plan([*some_orders(), rare], some_stock(), a_week_shop(), options())
    assert [line.key for line in plan.refused] == ["999/1"]


def test_stock_that_ends_refuses_the_lot_that_it_ends_for() -> None:
    line = a_line(quantity=50, shape=cut("100"))
    stock = [a_stick(line.spec, "20'", key="few", count=2)]
    with pytest.raises(NoPlanError, match="stick"):
        make_plan([line], stock, a_week_shop(), options())


def test_every_line_of_a_lot_that_stock_ends_for_is_told_in_the_units_of_the_shop() -> None:
    other = a_line(order="1", spec=a_spec("1"), shape=cut("30"))
    many, more = (a_line(order=order, quantity=50, shape=cut("100")) for order in ("1187", "1188"))
    stock = [a_stick(many.spec, "20'", count=2), a_stick(other.spec, "20'", key="small")]
    changes = options(lots=LotPolicy.MERGE)
    plan = make_plan([other, many, more], stock, a_week_shop(), changes)
    assert [line.key for line in plan.refused] == [many.key, more.key]
    told = {finding.subject: finding.message for finding in plan.findings}
    # Two pieces of 100" to a stick of 20': 25 sticks for each, and two are there.
    lack = 'missing 48 × 20\' 0" of 1-1/2" × .065" 304 bright, for 1187/1, 1188/1 together'
    assert lack in told[many.key]
    assert lack in told[more.key]
    assert not any(" nm" in message for message in told.values())
    assert audit(plan) == ()


def test_nothing_to_plan_is_said() -> None:
    with pytest.raises(NoPlanError, match="no order line"):
        make_plan([], some_stock(), a_week_shop(), options())


def test_a_run_order_is_proven_where_it_meets_both_floors_though_time_to_spare_is_short() -> None:
    line = a_line(recipe=None, shape=cut("30"), quantity=4)
    done = make_plan([line], some_stock(), a_week_shop(), options()).done[0].done_min
    soon = line.model_copy(update={"due": moment(done, MONDAY)})
    plan = make_plan([soon], some_stock(), a_week_shop(), options())
    assert plan.late == ()
    assert {one.kind for one in plan.floors if one.value == one.floor} >= {
        FloorKind.LATENESS,
        FloorKind.CHANGEOVER,
    }
    assert plan.status is Status.PROVEN
    assert audit(plan) == ()
