"""What is wrong at many places is told once, with every place and every order line."""

from __future__ import annotations

from planner.errors import Finding, Severity
from planner_io.told import counted, told_once


def found(text: str, cell: str | None = "A5", **more: str) -> Finding:
    sheet = "Orders" if cell else None
    fields = {"severity": "error", "sheet": sheet, "cell": cell, **more}
    return Finding.model_validate({"message": text, **fields})


def of_line(key: str, text: str, cell: str, **more: str) -> Finding:
    return found(f"Line {key}: {text}", cell, subject=key, **more)


def test_the_same_of_many_lines_is_told_once_with_all_lines_and_cells() -> None:
    no_stock = "there is no stock of it."
    findings = [
        of_line("1187/1", no_stock, "A5"),
        of_line("1187/2", "there is no die for it.", "A6"),
        of_line("1190/1", no_stock, "A9"),
    ]
    assert [str(told) for told in told_once(findings)] == [
        "error: Orders!A5, A9: Lines 1187/1, 1190/1: there is no stock of it.",
        "error: Orders!A6: Line 1187/2: there is no die for it.",
    ]


def test_what_differs_in_sheet_severity_or_words_is_told_apart() -> None:
    findings = [
        of_line("1/1", "thin.", "A5", severity="warning"),
        of_line("1/2", "thin.", "A6"),
        found("Due: wrong", "O5"),
        found("Due: no day", "O6"),
        found("Due: wrong", "O7"),
        found("Due: wrong", "O8", sheet="Extra"),
    ]
    assert [told.place for told in told_once(findings)] == [
        "Orders!A6",
        "Orders!O5, O7",
        "Orders!O6",
        "Extra!O8",
        "Orders!A5",
    ]


def test_what_was_read_is_kept_of_every_cell() -> None:
    cells = {"A5": "Alder", "A9": "Birch", "A12": "Alder"}
    (told,) = told_once([found("a heading", cell, read=read) for cell, read in cells.items()])
    assert (told.place, told.read) == ("Orders!A5, A9, A12", "Alder; Birch")


def test_what_has_no_cell_is_told_each_time() -> None:
    twice = [found("Recipe: wide step.", None), found("Recipe: wide step.", None)]
    assert [str(told) for told in told_once(twice)] == ["error: Recipe: wide step."] * 2


def test_the_count_is_of_what_is_told_with_its_places() -> None:
    same = [of_line(f"1/{number}", "no stock.", f"A{number}") for number in (5, 6, 7)]
    warned = found("Finisher: stands.", None, severity=Severity.WARNING)
    assert counted([*same, warned]) == "1 error at 3 places and 1 warning"
    assert counted(same[:1]) == "1 error and 0 warnings"
    assert counted([]) == "0 errors and 0 warnings"
