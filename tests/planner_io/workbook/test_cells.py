"""Numbers, shares and pieces in a cell: what is read, and what is refused."""

from __future__ import annotations

import pytest

from planner.errors import InputError
from planner_io.workbook import cells
from planner_io.workbook.grid import CellError, Value


@pytest.mark.parametrize(("value", "words"), [("=", "never calculated"), ("#REF!", "failed")])
def test_a_formula_says_why_it_has_no_result(value: str, words: str) -> None:
    found = cells.broken(CellError(value))
    assert found is not None
    assert words in str(found)


@pytest.mark.parametrize("value", [True, False, float("inf"), float("nan"), 2e12, -2e12, None])
def test_what_is_no_number(value: Value) -> None:
    with pytest.raises(InputError, match="a number"):
        cells.plain_number(value, "a number")


def test_a_number_up_to_a_million_millions_is_one() -> None:
    assert cells.plain_number(1e12, "a number").value == 10**12
    assert float(cells.plain_number(0.1, "a number").value) == 0.1


def test_a_decimal_is_not_less_than_nothing() -> None:
    assert cells.decimal(0).value == 0
    with pytest.raises(InputError, match="less than nothing"):
        cells.decimal(-0.5)


@pytest.mark.parametrize(("value", "share"), [("50 %", 0.5), ("0.5", 0.5), (1, 1), ("100%", 1)])
def test_a_share_is_per_cent_only_with_its_sign(value: Value, share: float) -> None:
    assert cells.share(value).value == share


@pytest.mark.parametrize("value", ["50", 1.5, "150 %", -0.1])
def test_a_share_of_more_than_all_is_refused(value: Value) -> None:
    with pytest.raises(InputError, match="a share"):
        cells.share(value)
