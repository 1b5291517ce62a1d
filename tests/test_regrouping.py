"""Lots changed one by one: what is tried, and what is passed over."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime

import pytest

from planner.cutting import Solve
from planner.drafts import Desk, Draft, draft
from planner.engines import Engines
from planner.lots import Grouping, grouping, windowed
from planner.orders import OrderLine
from planner.regrouping import LotByLot
from planner.windows import looks
from tests.trade import a_line, a_spec, cut
from tests.week import a_desk


def half_a_stick(number: int) -> OrderLine:
    """A piece of a little less than half a stick, due on one of four days."""
    due = datetime(2026, 12, 1 + number % 4, 15)
    return a_line(order=str(number), spec=a_spec(), quantity=1, shape=cut("110"), due=due)


def test_what_promises_nothing_is_passed_over_before_its_lots_are_put_together(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Putting all lots of a big book together takes longer than all else that is asked. Two lots
    of six half sticks save nothing as one, so handing a line from one to the other is not tried."""
    put_together: list[Grouping] = []
    drafted: list[Grouping] = []

    def noted(parts: Iterable[Iterable[str]], due_min: Mapping[str, int]) -> Grouping:
        put_together.append(grouping(parts, due_min))
        return put_together[-1]

    def noted_draft(desk: Desk, groups: Grouping, solve: Solve) -> Draft:
        drafted.append(groups)
        return draft(desk, groups, solve)

    desk = a_desk([half_a_stick(n) for n in range(1, 13)], seconds=4.0)
    engines = Engines()
    cutter, order = engines.cutter(desk.options), engines.orderer(desk.options)
    ways = [windowed(desk.free, desk.blanks, desk.due_min, 2)]
    (best,) = looks(desk, ways, cutter.quick, order, 0.03, engines)
    monkeypatch.setattr("planner.regrouping.grouping", noted)
    monkeypatch.setattr("planner.regrouping.draft", noted_draft)
    LotByLot(desk, cutter.quick, order, best, 1.8).run(engines)
    assert drafted
    assert put_together == drafted
    assert len(set(drafted)) == len(drafted)
