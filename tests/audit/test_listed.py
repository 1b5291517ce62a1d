"""Lists that have what they should have, but not in the order in which they are told, are found."""

from __future__ import annotations

import pytest

from planner.audit import audit
from planner.records import Plan
from tests.audit.edits import breaches
from tests.audit.weeks import a_plan


def turned(part: str) -> Plan:
    """The plan with the first record of a list at its end."""
    first, *others = getattr(a_plan(), part)
    return a_plan().model_copy(update={part: (*others, first)})


@pytest.mark.parametrize(
    ("part", "what"),
    [
        ("blanks", "blanks"),
        ("cut_lists", "cut lists"),
        ("operations", "operations"),
        ("slots", "slots"),
        ("done", "completions"),
        ("ledger", "ledger rows"),
        ("floors", "floors"),
    ],
)
def test_a_list_that_is_turned_round(part: str, what: str) -> None:
    assert audit(a_plan()) == ()
    assert f"{what}: are not in their order: " in breaches(turned(part), 0)


def test_late_lines_of_which_the_latest_is_not_the_first() -> None:
    late = a_plan().late[0]
    later = late.model_copy(update={"line": "1187/1", "late_min": late.late_min + 1})
    for lines, right in (((later, late), True), ((late, later), False)):
        text = breaches(a_plan().model_copy(update={"late": lines}), 0)
        assert ("late lines: are not in their order" not in text) == right


def test_a_buy_list_in_another_order_than_the_stock() -> None:
    (line,) = a_plan().buy
    other = line.model_copy(update={"stock": "small"})
    for lines, right in (((line, other), True), ((other, line), False)):
        text = breaches(a_plan().model_copy(update={"buy": lines}), 0)
        assert ("lines to buy: are not in their order" not in text) == right


def test_a_list_that_lacks_something_is_not_told_as_turned_round() -> None:
    plan = a_plan().model_copy(update={"floors": a_plan().floors[:0:-1]})
    assert "floors: are not in their order" not in breaches(plan, 0)
