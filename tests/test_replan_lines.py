"""What became of each order line since the plan was issued."""

from __future__ import annotations

from datetime import datetime

from planner.orders import OrderLine
from planner.replan.lines import Lines, begun_of, pieces_issued, sort_lines
from tests.test_happened import issued

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
    assert f"the 1 pieces that are still needed are line {LINE.key}+1" in told(lines)


def test_a_line_that_changed_before_its_lot_had_begun_is_told_and_not_the_same() -> None:
    lines = sorted_lines(changed(quantity=LINE.quantity + 1), begun=False)
    assert LINE.key not in lines.same
    assert told(lines) == (
        f"Line {LINE.key} was changed before lot {LOT.key} had begun: it is in a new lot."
    )


def test_all_lines_of_a_lot_that_has_begun_are_cut_with_it() -> None:
    for change in (None, changed(recipe=None), changed(quantity=1), changed(quantity=99)):
        assert LINE.key in sorted_lines(change, begun=True).same
    assert LINE.key not in sorted_lines(None, begun=False).same


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
