"""What `check --json` prints has the promised shape."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from planner.errors import InputError, Severity
from planner_io.planning import read_week
from planner_io.workbook import checked, read_workbook
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders

ORDER_KEYS = (
    "order line part quantity family grade od_nm wall_nm surface finish ends blank_nm due cell"
)
PROBLEM_KEYS = "sheet cell severity read expected message"


def test_orders_readings_and_problems_are_plain_data(tmp_path: Path) -> None:
    rows = (
        an_order(),
        an_order(Line="2", Length="c-c 48", Due="2026-12-04 10:00", **{"End 1": "saddle 1.9 @ 90"}),
        an_order(Line="3", OD="4"),
        an_order(Line="4", Quantity=0),
    )
    found = checked(read_workbook(some_orders(tmp_path / "w.xlsx", *rows))).as_json()
    assert json.loads(json.dumps(found)) == found
    assert [" ".join(order) for order in found["orders"]] == [ORDER_KEYS] * 3
    assert all(" ".join(problem) == PROBLEM_KEYS for problem in found["problems"])
    cut, axis, wide = found["orders"]
    assert cut == {
        "order": "1187",
        "line": "1",
        "part": "Post",
        "quantity": 4,
        "family": "stainless",
        "grade": "304",
        "od_nm": 38_100_000,
        "wall_nm": 1_651_000,
        "surface": "bright",
        "finish": "Satin P180",
        "ends": [{"cut": "square", "angle_mdeg": 0, "on_od_nm": 0}] * 2,
        "blank_nm": 914_400_000,
        "due": "2026-12-04",
        "cell": "Orders!A2",
    }
    assert axis["due"] == "2026-12-04T10:00"
    assert axis["blank_nm"] == 1_219_200_000 - round((0.95**2 - 0.75**2) ** 0.5 * 25_400_000)
    assert wide["blank_nm"] is None
    assert ("Orders", "D5") in [(p["sheet"], p["cell"]) for p in found["problems"]]
    assert {problem["severity"] for problem in found["problems"]} <= {"error", "warning"}


def test_a_stock_that_cannot_be_read_is_not_blamed_on_every_line(tmp_path: Path) -> None:
    stock: list[list[Cell]] = [["Material", "OD", "Wall", "Extent"], ["304", "1-1/2", 0.065, "20'"]]
    path = some_orders(tmp_path / "w.xlsx", an_order(), an_order(Line="2"), Stock=stock)
    found = checked(read_workbook(path)).as_json()
    assert len(found["orders"]) == 2
    (error,) = [one for one in found["problems"] if one["severity"] == "error"]
    assert error["message"].startswith("there is no column Length; add one")
    with pytest.raises(InputError) as refused:
        read_week(path, None, keep_going=True)
    assert [finding.message for finding in refused.value.findings] == [error["message"]]


def test_a_check_warns_of_too_little_tube_and_a_plan_says_what_is_missing(tmp_path: Path) -> None:
    stock: list[list[Cell]] = [
        ["Material", "OD", "Wall", "Length", "Count"],
        ["304", "1-1/2", ".065", "20 ft", 1],
    ]
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(Quantity=9), Stock=stock))
    (found,) = [f for f in checked(reading).findings if "too little" in f.message]
    assert (found.severity, found.sheet, found.cell) == (Severity.WARNING, "Orders", "A2")
