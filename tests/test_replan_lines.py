"""What became of each order line since the plan was issued."""

from __future__ import annotations

from datetime import datetime

import pytest

from planner.audit import audit
from planner.orders import CutLength, EndCut, OrderLine
from planner.plan import make_plan
from planner.progress import Progress, State
from planner.records import Plan
from planner.replan import replan
from planner.replan.lines import Lines, begun_of, pieces_issued, sort_lines
from tests.test_happened import issued
from tests.trade import a_line, a_spec, a_stick, cut
from tests.week import DAY, a_week_shop, options, some_orders, some_stock

FAR = datetime(2026, 12, 31)
LOT = issued().lots[0]
LINE = next(line for line in issued().orders if line.key == LOT.lines[0])


def sorted_lines(change: OrderLine | None, *, begun: bool) -> Lines:
    """The lines, with one changed, or cancelled where there is None, and its lot begun or not."""
    orders = [line for line in issued().orders if line.key != LINE.key]
    stays = [LOT.key] if begun else []
    return sort_lines(
        issued(), [*orders, *([change] if change else [])], begun_of(issued(), stays, (), FAR)
    )


def changed(**changes: object) -> OrderLine:
    return LINE.model_copy(update=changes)


def told(lines: Lines) -> str:
    return "\n".join(finding.message for finding in lines.findings)


def test_lines_that_are_as_they_were_are_the_same_and_nothing_is_told() -> None:
    for begun in (True, False):
        lines = sorted_lines(LINE, begun=begun)
        assert lines.same == {line.key for line in issued().orders}
        assert lines.findings == ()


def test_a_single_piece_more_is_a_line_of_its_own_where_the_lot_has_begun() -> None:
    lines = sorted_lines(changed(quantity=LINE.quantity + 1), begun=True)
    found = {line.key: line.quantity for line in lines.orders}
    assert (found[LINE.key], found[f"{LINE.key}+1"]) == (LINE.quantity, 1)
    assert f"what is still needed, 1 piece, is line {LINE.key}+1, in a lot" in told(lines)


def test_a_line_that_changed_before_its_lot_had_begun_is_told_and_not_the_same() -> None:
    lines = sorted_lines(changed(quantity=LINE.quantity + 1), begun=False)
    assert LINE.key not in lines.same
    assert told(lines) == (
        f"Line {LINE.key} was changed before lot {LOT.key} had begun: it is in a new lot."
    )


def test_twice_as_many_pieces_are_a_line_of_its_own_where_the_lot_has_begun() -> None:
    lines = sorted_lines(changed(quantity=2 * LINE.quantity), begun=True)
    found = {line.key: line.quantity for line in lines.orders}
    assert (found[LINE.key], found[f"{LINE.key}+1"]) == (LINE.quantity, LINE.quantity)


@pytest.mark.parametrize("need", [1, 0, -1])
def test_what_was_added_to_a_line_is_left_out_where_the_rest_is_enough(need: int) -> None:
    more = changed(line=f"{LINE.line}+1", quantity=3)
    lot = LOT.model_copy(update={"key": "L99", "lines": (more.key,)})
    plan = issued().model_copy(
        update={"orders": (*issued().orders, more), "lots": (*issued().lots, lot)}
    )
    wanted = [changed(quantity=LINE.quantity + need) if x is LINE else x for x in issued().orders]
    lines = sort_lines(plan, wanted, begun_of(plan, [LOT.key], (), FAR))
    assert more.key not in lines.same
    enough = "lot L99, is left out, as lots that have begun make all that is wanted."
    anew = "was changed before lot L99 had begun: it is in a new lot."
    assert (f"Line {more.key}, {enough}" in told(lines)) == (need <= 0)
    assert (f"Line {more.key} {anew}" in told(lines)) == (need > 0)


def test_all_lines_of_a_lot_that_has_begun_are_cut_with_it() -> None:
    for change in (None, changed(recipe=None), changed(quantity=1), changed(quantity=99)):
        assert LINE.key in sorted_lines(change, begun=True).same
    for change in (None, changed(recipe=None)):
        assert LINE.key not in sorted_lines(change, begun=False).same


def test_a_line_that_was_added_to_another_counts_and_goes_with_it() -> None:
    more = changed(line=f"{LINE.line}+1", quantity=3)
    plan = issued().model_copy(update={"orders": (*issued().orders, more)})
    assert pieces_issued(issued())[LINE.key] == LINE.quantity
    assert pieces_issued(plan)[LINE.key] == LINE.quantity + 3
    lot = LOT.model_copy(update={"key": "L99", "lines": (more.key,)})
    plan = plan.model_copy(update={"lots": (*plan.lots, lot)})
    wanted = [changed(quantity=LINE.quantity + 3) if x is LINE else x for x in issued().orders]
    lines = sort_lines(plan, wanted, begun_of(plan, [LOT.key, "L99"], (), FAR))
    assert {LINE.key, more.key} <= lines.same
    assert lines.findings == ()


def test_a_line_that_is_cancelled_is_cut_as_straight_blanks_unless_its_work_has_begun() -> None:
    (stopped,) = (x for x in sorted_lines(None, begun=True).orders if x.key == LINE.key)
    blank = next(one for one in issued().blanks if one.line == LINE.key)
    assert stopped.shape == CutLength(length_nm=blank.length_nm)
    assert (stopped.ends, stopped.touch_up_s) == ((EndCut(), EndCut()), 0)
    assert (stopped.due, stopped.weight) == (FAR, 1)
    orders = [line for line in issued().orders if line.key != LINE.key]
    lines = sort_lines(issued(), orders, begun_of(issued(), [LOT.key], [LINE.key], FAR))
    (going,) = (x for x in lines.orders if x.key == LINE.key)
    assert (going.shape, going.ends, going.due) == (LINE.shape, LINE.ends, FAR)
    assert "its work goes on, last of all" in told(lines)
    assert "was cancelled before lot" in told(sorted_lines(None, begun=False))


def test_a_line_for_fewer_pieces_is_cut_as_it_was_and_told_with_its_cell() -> None:
    lines = sorted_lines(changed(quantity=LINE.quantity - 1, place="Orders!A9"), begun=True)
    assert "had begun: 1 more than ordered are cut; put them on the rack" in told(lines)
    assert (lines.findings[0].sheet, lines.findings[0].cell) == ("Orders", "A9")
    nowhere = sorted_lines(changed(quantity=LINE.quantity - 1, place=""), begun=True)
    assert (nowhere.findings[0].sheet, nowhere.findings[0].cell) == (None, None)


def test_the_first_of_two_rows_of_a_line_is_planned() -> None:
    orders = [*issued().orders, changed(quantity=99)]
    lines = sort_lines(issued(), orders, begun_of(issued(), [], (), FAR))
    assert told(lines) == f"Line {LINE.key} is entered twice: the first one is planned."
    assert lines.orders == issued().orders


def test_a_line_that_is_made_otherwise_now_is_new_whether_its_lot_has_begun_or_not() -> None:
    other = changed(recipe=None)
    for begun, key in ((True, f"{LINE.key}+1"), (False, LINE.key)):
        lines = sorted_lines(other, begun=begun)
        (new,) = (line for line in lines.orders if line.key == key)
        assert (new.recipe, new.quantity) == (None, LINE.quantity)
    lines = sorted_lines(other, begun=True)
    (old,) = (line for line in lines.orders if line.key == LINE.key)
    assert (old.recipe, old.notes) == (LINE.recipe, f"was changed after lot {LOT.key} had begun")


def test_sticks_for_a_lot_are_ordered_once_however_often_the_week_is_planned_again() -> None:
    """A rush line of Tuesday, for tube that comes two days after it is ordered: on Thursday."""
    spec = a_spec("1-3/4")
    stock = [*some_stock(), a_stick(spec, "20'", key="rare", lead_days=2)]
    rush = a_line(order="999", spec=spec, due=datetime(2026, 12, 4, 15, 30), shape=cut("30"))
    args = stock, a_week_shop()
    plan = make_plan(some_orders(4), *args, options(seconds=0.2))
    for now in (DAY + 630, DAY + 690, 2 * DAY + 450):
        plan = replan(plan, [*some_orders(4), rush], *args, options(seconds=0.2, start_min=now))
        assert audit(plan) == ()
        (lot,) = (lot for lot in plan.lots if "999/1" in lot.lines)
        assert lot.ordered_day == 1
        own = [one for one in plan.operations if one.lot == lot.key]
        assert {one.release_min for one in own} == {3 * DAY}


def raised(state: State) -> Plan:
    """A week planned again on its first morning, with a row for its last operation, of a line for
    which more pieces are wanted now."""
    orders = some_orders(6)
    args = some_stock(), a_week_shop()
    plan = make_plan(orders, *args, options(seconds=0.2))
    last = max(plan.slots, key=lambda slot: slot.start_min)
    (lot,) = (one.lot for one in plan.operations if one.key == last.operation)
    (line, *_) = (key for each in plan.lots if each.key == lot for key in each.lines)
    more = [x.model_copy(update={"quantity": 40}) if x.key == line else x for x in orders]
    rows = [Progress((last.operation,), state)]
    new = replan(plan, more, *args, options(seconds=0.2, start_min=430), rows)
    assert audit(new) == ()
    before = {each.key for each in plan.lots}
    assert [each.key for each in new.lots if each.key not in before] == [f"L{len(before) + 1:02}"]
    assert (lot in {each.key for each in new.lots}) == (f"{line}+1" in {x.key for x in new.orders})
    return new


def test_a_lot_of_which_something_is_locked_stays_though_its_line_was_raised() -> None:
    assert any(line.key.endswith("+1") for line in raised(State.LOCK).orders)
    assert not any(line.key.endswith("+1") for line in raised(State.OPEN).orders)
