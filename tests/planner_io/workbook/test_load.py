"""Files of every kind are read or refused with one sentence, never with a stack trace."""

from __future__ import annotations

import datetime as dt
import zipfile
from pathlib import Path

import openpyxl
import pytest

from planner.errors import InputError
from planner_io.workbook import grid, legacy, read_workbook, write_template
from planner_io.workbook.load import load_grids
from tests.planner_io.workbook.files import an_ods
from tests.planner_io.workbook.sheets import a_table, an_order, some_orders

DATA = Path(__file__).parent / "data"
PLAIN = [[str(cell) for cell in row] for row in a_table([an_order(), an_order(Line="2")])]


def written(path: Path, content: bytes) -> Path:
    path.write_bytes(content)
    return path


def text_of(rows: list[list[str]], separator: str = ",") -> str:
    return "\n".join(separator.join(f'"{cell}"' for cell in row) for row in rows)


def test_an_old_workbook_is_read_with_its_dates_and_numbers() -> None:
    """The file was written by xlwt 1.3."""
    first, second = read_workbook(DATA / "orders.xls").orders
    assert (first.key, first.due.date()) == ("1187/1", dt.date(2026, 12, 4))
    assert first.shape == second.shape
    assert first.spec == second.spec
    assert first.place == "Orders!A4"


def test_an_open_document_is_read_like_the_same_text(tmp_path: Path) -> None:
    ods = read_workbook(an_ods(tmp_path / "w.ods", PLAIN))
    csv = read_workbook(written(tmp_path / "w.csv", text_of(PLAIN).encode()))
    assert ods.orders == csv.orders
    assert len(ods.orders) == 2


def test_rows_and_columns_that_an_open_document_does_not_show_are_told(tmp_path: Path) -> None:
    rows = [PLAIN[0], *PLAIN[1:] * 3]
    hidden = {3: "collapse", 5: "filter"}
    reading = read_workbook(an_ods(tmp_path / "w.ods", rows, 6, hidden, hidden_column=2))
    assert any("does not show count all the same: 3, 5;" in str(f) for f in reading.findings)
    assert any(
        f"does not show are read all the same: B, “{PLAIN[0][1]}”" in note
        for note in reading.readings
    )
    (grid,) = load_grids(an_ods(tmp_path / "v.ods", PLAIN))
    assert (grid.hidden, grid.hidden_columns) == (frozenset(), frozenset())


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_separated_text_is_read_whatever_its_marks(
    separator: str, encoding: str, tmp_path: Path
) -> None:
    rows = a_table([an_order(Customer="Café à côté, 2 Rue")])
    text = text_of([[str(cell) for cell in row] for row in rows], separator)
    reading = read_workbook(written(tmp_path / "w.csv", text.encode(encoding)))
    (line,) = reading.orders
    assert line.customer == "Café à côté, 2 Rue"
    assert line.spec.od_nm == 38_100_000


def test_the_content_decides_not_the_name(tmp_path: Path) -> None:
    path = some_orders(tmp_path / "w.xlsx", an_order())
    assert read_workbook(path.rename(tmp_path / "w.csv")).orders


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"%PDF-1.7 and so on", "a PDF"),
        (b"<html><table><tr><td>1</td></tr></table></html>", "a web page"),
        (b"\xef\xbb\xbf<table border=1><tr><td>Order</td></tr></table>", "a web page"),
        (b"ORDER   QTY\nJ1        4\n", "nothing separates its columns"),
        (b"\x89PNG\r\n\x1a\n", "a picture"),
        (b"\x00\x01\x02\x03" * 50, "neither a workbook nor text"),
        (b"PK\x03\x04 but nothing else", "damaged"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\x00" * 600, "damaged"),
        (
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + "EncryptedPackage".encode("utf-16-le"),
            "password",
        ),
    ],
)
def test_what_is_no_workbook_is_refused_with_a_reason(
    content: bytes, words: str, tmp_path: Path
) -> None:
    with pytest.raises(InputError, match=words):
        load_grids(written(tmp_path / "w.xlsx", content))


def test_a_missing_file_and_a_folder_are_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file"):
        load_grids(tmp_path / "nowhere.xlsx")
    with pytest.raises(InputError, match="folder"):
        load_grids(tmp_path)


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.999])
def test_a_cut_off_workbook_is_refused(share: float, tmp_path: Path) -> None:
    content = write_template()
    with pytest.raises(InputError, match="damaged"):
        load_grids(written(tmp_path / "w.xlsx", content[: int(len(content) * share)]))


@pytest.mark.parametrize(
    ("name", "words"),
    [("xl/workbook.bin", "xlsb"), ("word/document.xml", "no workbook"), ("xl/a.xml", "damaged")],
)
def test_other_zipped_files_are_refused(name: str, words: str, tmp_path: Path) -> None:
    path = tmp_path / "w.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr(name, "<a/>")
    with pytest.raises(InputError, match=words):
        load_grids(path)


def test_a_workbook_that_unpacks_to_too_much_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "w.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for number in range(9):
            archive.writestr(f"xl/{number}.xml", b" " * 50_000_000)
    with pytest.raises(InputError, match="too large"):
        load_grids(path)


def test_entities_that_grow_without_end_are_refused(tmp_path: Path) -> None:
    bomb = (
        '<?xml version="1.0"?><!DOCTYPE a [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]>'
        "<worksheet>&b;</worksheet>"
    )
    whole = some_orders(tmp_path / "w.xlsx", an_order())
    path = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(whole) as old, zipfile.ZipFile(path, "w") as new:
        for name in old.namelist():
            new.writestr(name, bomb if "sheet1" in name else old.read(name))
    with pytest.raises(InputError, match="damaged"):
        load_grids(path)


def test_one_cell_far_away_costs_nothing_in_a_workbook(tmp_path: Path) -> None:
    path = some_orders(tmp_path / "w.xlsx", an_order())
    book = openpyxl.load_workbook(path)
    book["Orders"]["XFD1048576"] = "stray"
    book.save(path)
    found = read_workbook(path)
    assert len(found.orders) == 1
    assert any("20,000 blank rows below row 2" in text for text in found.readings)


def test_one_cell_far_away_in_an_old_format_is_survived(tmp_path: Path) -> None:
    path = an_ods(tmp_path / "w.ods", [*PLAIN, ["stray"] * 16_000], gap=1_000_000)
    with pytest.raises(InputError, match="one cell stands far from the others"):
        load_grids(path)


def test_an_old_format_under_another_name_is_read(tmp_path: Path) -> None:
    path = an_ods(tmp_path / "w.ods", PLAIN).rename(tmp_path / "w.xlsx")
    assert len(read_workbook(path).orders) == 2


def test_a_reading_that_hangs_is_ended(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(legacy, "SECONDS", 0.001)
    with pytest.raises(InputError, match="memory and time"):
        load_grids(an_ods(tmp_path / "w.ods", PLAIN))


def test_rows_beyond_the_limit_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(grid, "MAX_ROWS", 20)
    rows = [an_order(Order=f"A{number}") for number in range(25)]
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", *rows))
    assert len(reading.orders) == 20 - 1
    assert any("too large" in str(finding) for finding in reading.findings)


def test_a_formula_that_was_never_calculated_is_told(tmp_path: Path) -> None:
    path = some_orders(tmp_path / "w.xlsx", an_order(Quantity="=2+2"))
    (finding,) = read_workbook(path).findings
    assert finding.cell == "D2"
    assert "never calculated" in finding.message


def test_what_the_reading_library_passes_over_is_no_warning(tmp_path: Path) -> None:
    whole = some_orders(tmp_path / "w.xlsx", an_order())
    path = tmp_path / "bare.xlsx"
    with zipfile.ZipFile(whole) as old, zipfile.ZipFile(path, "w") as new:
        for name in old.namelist():
            content = old.read(name)
            new.writestr(
                name, content.replace(b"<cellStyles", b"<x").replace(b"</cellStyles", b"</x")
            )
    assert len(read_workbook(path).orders) == 1


def test_null_in_a_list_from_a_database_is_a_blank_cell(tmp_path: Path) -> None:
    nothing = {"Customer": "NULL", "Route": "(null)", "Notes": "\\N"}
    row = [*PLAIN[1], *nothing.values()]
    found = read_workbook(
        written(tmp_path / "w.csv", text_of([[*PLAIN[0], *nothing], row]).encode())
    )
    (line,) = found.orders
    assert (line.customer, line.notes) == ("", "")
    row[PLAIN[0].index("Quantity")] = "NULL"
    found = read_workbook(
        written(tmp_path / "w.csv", text_of([[*PLAIN[0], *nothing], row]).encode())
    )
    assert any("nothing is written here" in each.message for each in found.findings)
