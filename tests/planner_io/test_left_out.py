"""Rows that were not read are counted beside order lines that were refused."""

from __future__ import annotations

from pathlib import Path

from planner.errors import Finding, Severity
from planner.records import Plan
from planner_io.summary import summary_lines
from planner_io.views.index import Index
from planner_io.views.left_out import unread_rows
from planner_io.views.summary import summary
from tests.planner_io.plans import a_plan


def finding(cell: str, sheet: str = "Open orders", **more: object) -> Finding:
    severity = more.get("severity", Severity.ERROR)
    return Finding.model_validate(
        {"severity": severity, "message": "wrong", "sheet": sheet, "cell": cell, **more}
    )


def a_plan_with(*findings: Finding) -> Plan:
    plan = a_plan()
    orders = tuple(
        line.model_copy(update={"place": f"Open orders!A{row}"})
        for row, line in enumerate(plan.orders, start=5)
    )
    return plan.model_copy(update={"orders": orders, "findings": findings})


def test_a_row_with_several_errors_is_one_row_not_read() -> None:
    plan = a_plan_with(finding("O14"), finding("E14"), finding("F9"))
    assert unread_rows(plan) == ("Open orders 9", "Open orders 14")


def test_a_refused_line_a_warning_and_another_sheet_are_no_rows_not_read() -> None:
    plan = a_plan_with(
        finding("A7", subject="1188/1"),
        finding("H9", severity=Severity.WARNING),
        finding("B3", sheet="Bends"),
    )
    assert unread_rows(plan) == ()


def test_planned_and_left_out_add_up_to_the_rows_of_the_sheet() -> None:
    plan = a_plan_with(finding("O14"))
    lines = list(summary_lines(plan, Path("plan")))
    assert "Left out     1 order line: 1188/1" in lines
    assert "Not read     1 row: Open orders 14" in lines
    assert summary(Index(plan)).figures[0].more.endswith(", 2 left out")
