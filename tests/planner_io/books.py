"""Small orders workbooks for tests of the commands."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from openpyxl import Workbook

HEAD = (
    *("Order", "Line", "Customer", "Part", "Qty", "Material", "Grade", "OD", "Wall", "Surface"),
    *("Finish", "Length", "Due"),
)
MONDAY = date(2026, 11, 30)
FRIDAY = date(2026, 12, 4)


def a_row(line: str = "1", **changes: object) -> list[object]:
    """An order line that the starter shop can make."""
    fields: dict[str, object] = {
        "Order": "1187",
        "Line": line,
        "Customer": "Alder Works",
        "Part": "Rail",
        "Qty": 12,
        "Material": "stainless",
        "Grade": "304",
        "OD": '1-1/2"',
        "Wall": ".065",
        "Surface": "bright",
        "Finish": "Satin P180",
        "Length": '48"',
        "Due": FRIDAY,
    }
    return [(fields | changes)[name] for name in HEAD]


def a_book(path: Path, *rows: Sequence[object]) -> Path:
    """A workbook with the sheet Orders alone."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Orders"
    for row in (HEAD, *(rows or (a_row("1"), a_row("2", Finish=None, Length='30"')))):
        sheet.append(list(row))
    book.save(path)
    return path
