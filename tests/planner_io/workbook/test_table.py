"""Sheets and headers are found by meaning."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from openpyxl.comments import Comment

from planner.errors import Severity
from planner.orders import CutLength
from planner.units import parse_length
from planner_io.workbook import read_workbook
from planner_io.workbook.headers import match_headers
from planner_io.workbook.names import find_name, plain_name
from planner_io.workbook.orders_sheet import ORDERS
from tests.planner_io.workbook.sheets import Cell, a_table, a_workbook, an_order, some_orders


@pytest.mark.parametrize(
    "name", ["Orders", "ORDERS", "orders ", "Order list", "Open Orders", "Oders", "Work-orders"]
)
def test_the_orders_sheet_is_found_by_its_name(name: str, tmp_path: Path) -> None:
    other: list[list[Cell]] = [["Phone"], ["1"]]
    path = a_workbook(tmp_path / "w.xlsx", **{"Phones": other, name: a_table([an_order()])})
    found = read_workbook(path)
    assert len(found.orders) == 1
    assert "sheets that are not used: Phones" in found.readings


def test_a_sheet_with_the_columns_of_orders_will_do(tmp_path: Path) -> None:
    path = a_workbook(tmp_path / "w.xlsx", **{"KW 49": a_table([an_order()])})
    found = read_workbook(path)
    assert len(found.orders) == 1
    assert "sheet “KW 49” read as Orders" in found.readings


def test_without_any_orders_sheet_there_is_one_error(tmp_path: Path) -> None:
    found = read_workbook(a_workbook(tmp_path / "w.xlsx", Notes=[["hello"], ["x"]]))
    (finding,) = found.findings
    assert "no sheet Orders" in finding.message


def test_without_a_header_row_there_is_one_error(tmp_path: Path) -> None:
    found = read_workbook(a_workbook(tmp_path / "w.xlsx", Orders=[[1, 2, 3], [4, 5, 6]]))
    (finding,) = found.findings
    assert "no header row" in finding.message


def test_headers_stand_below_titles_in_any_order_with_other_columns_between(
    tmp_path: Path,
) -> None:
    plain = a_table([an_order()])
    turned: list[list[Cell]] = [
        ["Orders of the week"],
        [],
        [*reversed(plain[0]), "Clerk"],
        [*reversed(plain[1]), "ab"],
    ]
    (one,) = read_workbook(a_workbook(tmp_path / "a.xlsx", Orders=plain)).orders
    found = read_workbook(a_workbook(tmp_path / "b.xlsx", Orders=turned))
    (other,) = found.orders
    assert other.model_copy(update={"place": one.place}) == one
    assert "Orders: columns that are not used: Clerk" in found.readings


def test_a_misspelt_header_is_read_and_told(tmp_path: Path) -> None:
    row = an_order(Quantitty=7)
    del row["Quantity"]
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert found.orders[0].quantity == 7
    assert any("header “Quantitty” read as Quantity" in text for text in found.readings)


def test_two_columns_of_one_meaning_are_told(tmp_path: Path) -> None:
    found = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(Qty=4)))
    assert found.orders[0].quantity == 4
    assert not found.findings
    assert any("D, “Quantity”, is used" in text for text in found.readings)
    found = read_workbook(some_orders(tmp_path / "v.xlsx", an_order(Qty=9)))
    assert found.orders[0].quantity == 4
    assert ["D, “Quantity”, is used" in each.message for each in found.findings] == [True]


def test_a_part_number_comes_before_a_description_wherever_it_stands(tmp_path: Path) -> None:
    row = {"Description": "a post for the gate", **an_order()}
    assert read_workbook(some_orders(tmp_path / "w.xlsx", row)).orders[0].part == "Post"


def test_a_hidden_sheet_counts_after_a_visible_one(tmp_path: Path) -> None:
    old, new = a_table([an_order(Quantity=1)]), a_table([an_order(Quantity=2)])
    path = a_workbook(tmp_path / "w.xlsx", **{"Orders": old, "Open orders": new})
    book = openpyxl.load_workbook(path)
    book["Orders"].sheet_state = "hidden"
    book.save(path)
    assert read_workbook(path).orders[0].quantity == 2
    hidden = some_orders(tmp_path / "h.xlsx", an_order(), Stock=a_table([an_order()]))
    book = openpyxl.load_workbook(hidden)
    book["Orders"].sheet_state = "veryHidden"
    book.save(hidden)
    found = read_workbook(hidden)
    assert len(found.orders) == 1
    assert "Orders: the sheet is hidden, and read all the same" in found.readings


def test_cells_merged_downwards_count_for_each_of_their_rows(tmp_path: Path) -> None:
    rows = [an_order(), an_order(Line="2", Order=None, Due=None), an_order(Line="3")]
    path = some_orders(tmp_path / "w.xlsx", *rows)
    book = openpyxl.load_workbook(path)
    book["Orders"].merge_cells("A2:A3")
    book["Orders"].merge_cells("J2:J3")
    book.save(path)
    found = read_workbook(path)
    assert [line.key for line in found.orders] == ["1187/1", "1187/2", "1187/3"]
    assert any("merged cells" in text for text in found.readings)


def test_a_column_without_a_header_is_told(tmp_path: Path) -> None:
    rows = a_table([an_order()])
    path = a_workbook(tmp_path / "w.xlsx", Orders=[rows[0], [*rows[1], "stray"]])
    assert "Orders: columns that are not used: K (without a header)" in read_workbook(path).readings


@pytest.mark.parametrize(
    ("text", "meant"),
    [("Order", 1), ("ORDERS", 1), ("oder", 1), ("due-date", 2), ("Duedate", 2), ("Do", None)],
)
def test_names_are_compared_by_meaning(text: str, meant: int | None) -> None:
    found = find_name(text, {plain_name("Order"): 1, plain_name("Due date"): 2})
    assert (found.value if found else None) == meant


@pytest.mark.parametrize(
    ("header", "title"),
    [
        ("Qty this week", "Quantity"),
        ("Finish Req'd", "Finish"),
        ("Wall Thk.", "Wall"),
        ("Cut length of piece", "Length"),
        ("Order due date", "Due"),
        ("OD of tube", "OD"),
    ],
)
def test_a_name_among_other_words_is_read_and_told(header: str, title: str, tmp_path: Path) -> None:
    row = {header if name == title else name: cell for name, cell in an_order().items()}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert len(found.orders) == 1
    assert any(f"header “{header}” read as {title}" in text for text in found.readings)


@pytest.mark.parametrize(
    "header", ["Order date", "Weight (lb)", "Price each", "Length tolerance", "Drawing sent on"]
)
def test_a_column_that_only_sounds_alike_is_left_alone(header: str, tmp_path: Path) -> None:
    found = read_workbook(some_orders(tmp_path / "w.xlsx", {header: "x", **an_order()}))
    assert len(found.orders) == 1
    assert f"Orders: columns that are not used: {header}" in found.readings


def test_rows_that_are_hidden_count_and_are_told(tmp_path: Path) -> None:
    rows = [an_order(Line=str(number)) for number in range(1, 5)]
    path = some_orders(tmp_path / "w.xlsx", *rows)
    book = openpyxl.load_workbook(path)
    for number in (3, 5):
        book["Orders"].row_dimensions[number].hidden = True
    book.save(path)
    reading = read_workbook(path)
    assert [line.line for line in reading.orders] == ["1", "2", "3", "4"]
    assert [str(finding) for finding in reading.findings] == [
        "Orders!A3: rows that the spreadsheet does not show count all the same: 3, 5; show them, "
        "and delete what is not wanted"
    ]


def test_columns_that_are_hidden_count_and_are_told(tmp_path: Path) -> None:
    path = some_orders(tmp_path / "w.xlsx", an_order(Note="soon"))
    book = openpyxl.load_workbook(path)
    book["Orders"].column_dimensions["B"].hidden = True
    header = next(row for row in book["Orders"].iter_rows(values_only=True) if row[1])[1]
    book.save(path)
    reading = read_workbook(path)
    assert len(reading.orders) == 1
    words = "columns that the spreadsheet does not show are read all the same"
    assert f"Orders: {words}: B, “{header}”" in reading.readings
    assert not any(words in text for text in read_workbook(some_orders(path, an_order())).readings)


def test_ln_is_a_line_and_a_row_entered_twice_may_be_deleted(tmp_path: Path) -> None:
    row = {("Ln" if name == "Line" else name): value for name, value in an_order().items()}
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", row, row))
    assert [line.key for line in reading.orders] == ["1187/1"]
    (finding,) = reading.findings
    assert finding.cell == "B3"
    assert "or delete it if it was entered twice" in finding.message


@pytest.mark.parametrize(
    ("quantity", "od", "length", "cells"),
    [
        ("1.000", "38,1", "640,5", {"D2"}),
        ("12", "38,1", "1.250", {"I2"}),
        ("12", "38,1", "1.250,5", set[str]()),
        ("12.000", "38.1", "640.5", set[str]()),
    ],
)
def test_a_point_before_three_figures_is_doubted_where_commas_stand_before_decimals(
    quantity: str, od: str, length: str, cells: set[str], tmp_path: Path
) -> None:
    row = an_order(Quantity=quantity, OD=f"{od} mm", Wall="1.65 mm", Length=f"{length} mm")
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert {finding.cell for finding in reading.findings if "may mean" in finding.message} == cells


def test_lengths_are_doubted_by_the_commas_of_their_own_column(tmp_path: Path) -> None:
    rows = (an_order(Length="640,5 mm"), an_order(Line="2", Length="1.250 mm"))
    (finding,) = read_workbook(some_orders(tmp_path / "w.xlsx", *rows)).findings
    assert (finding.cell, finding.read) == ("I3", "1.250 mm")
    assert "1.250 may mean 1,250 or 1250, as “640,5 mm” has a comma" in finding.message


@pytest.mark.parametrize(
    ("lengths", "doubted"),
    [
        (("1.150", "850"), ["1.150"]),
        (("1.150 mm", "2.400 mm"), ["1.150 mm", "2.400 mm"]),
        (("1.150", "912.5"), []),
        (("1.150", "1150.000"), []),
        (("609.600", "850"), []),
        (("1.15", "1.150"), []),
    ],
)
def test_a_piece_of_millimetres_to_a_thousandth_is_not_taken_for_so_short_a_one(
    lengths: tuple[str, str], doubted: list[str], tmp_path: Path
) -> None:
    tube: dict[str, Cell] = {"OD": "38.1 mm", "Wall": "1.5 mm"}
    rows = [
        {("Length (mm)" if name == "Length" else name): cell for name, cell in order.items()}
        for n, length in enumerate(lengths, 1)
        for order in [an_order(Line=str(n), Length=length, **tube)]
    ]
    found = read_workbook(some_orders(tmp_path / "w.xlsx", *rows)).findings
    assert [one.read for one in found if "may mean" in one.message] == doubted


def test_how_a_length_was_read_is_told_with_what_it_says(tmp_path: Path) -> None:
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(Length="1.250,5 mm")))
    assert "Orders!I2: “1.250,5 mm”: read as 1250.5" in reading.readings


def test_a_quantity_with_decimals_is_told(tmp_path: Path) -> None:
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(Quantity="12.000 pcs")))
    assert reading.orders[0].quantity == 12
    assert "Orders!D2: “12.000 pcs” read as 12" in reading.readings


@pytest.mark.parametrize(
    ("written", "pieces"),
    [("1 dz", 12), ("2 doz.", 24), ("1 dozen", 12), ("3 pr", 6), ("1 pair", 2)],
)
def test_dozens_and_pairs_are_counted_and_told(written: str, pieces: int, tmp_path: Path) -> None:
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(Quantity=written)))
    assert reading.orders[0].quantity == pieces
    assert f"Orders!D2: “{written}” read as {pieces}" in reading.readings


def test_abbreviated_headers_are_names_and_a_row_counter_is_none(tmp_path: Path) -> None:
    named = {"Order": "W.O.", "Quantity": "No.\noff", "Due": "Req'd by", "Line": "Part of"}
    row = {"#": 7, **{named.get(name, name): value for name, value in an_order().items()}}
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", {**row, "Hot?": "Y"}))
    (line,) = reading.orders
    assert (line.order, line.quantity, line.weight) == ("1187", 4, 5)
    assert "Orders: columns that are not used: #, Part of" in reading.readings
    assert not any("\n" in said for said in reading.readings)


def test_a_header_in_two_rows_that_do_not_fit_together_is_to_be_written_in_one(
    tmp_path: Path,
) -> None:
    top = ["Order", "Qty", "Stock", "", "", "Length", "Due"]
    below = ["", "per list 7", "Mat'l", "Dia", "Gage", "mm", ""]
    row: list[Cell] = ["W-1", 4, "304", "1.5", "16ga", 600, "2026-12-04"]
    findings = read_workbook(a_workbook(tmp_path / "w.xlsx", Orders=[top, below, row])).findings
    absent = [finding.message for finding in findings if "no column" in finding.message]
    assert len(absent) >= 2
    told = [said for said in absent if "row 2 looks like a part of the header" in said]
    assert len(told) >= 2


def test_words_below_a_title_that_name_no_column_are_remarks_on_it(tmp_path: Path) -> None:
    top = ["Order", "Qty", "Tube", "", "", "Length", "Due", "Notch", ""]
    below = ["", "as listed", "Mat'l", "OD", "Wall", "rough", "", "A", "B"]
    row: list[Cell] = ["W-1", 4, "304", "1.5", ".065", 36, "2026-12-04", "1-1/2 @ 90", "square"]
    reading = read_workbook(a_workbook(tmp_path / "w.xlsx", Orders=[top, below, row]))
    (line,) = reading.orders
    assert line.quantity == 4
    assert [str(end.kind) for end in line.ends] == ["saddle", "square"]
    assert any("Qty as listed" in each for each in reading.readings)
    top[1], below[1] = "Qty", "/car"
    error = read_workbook(a_workbook(tmp_path / "v.xlsx", Orders=[top, below, row]))
    assert error.orders == ()
    assert any("has not the pieces in all" in each.message for each in error.findings)


def test_items_by_name_beside_line_numbers_are_parts(tmp_path: Path) -> None:
    row: dict[str, Cell] = {**an_order(Ln=7), "Item": "Gate rail"}
    del row["Line"], row["Part"]
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert [(line.line, line.part) for line in reading.orders] == [("7", "Gate rail")]
    assert reading.findings == ()


def test_items_by_name_are_no_line_numbers(tmp_path: Path) -> None:
    rows = [an_order(Item=each, Mk=mark) for each, mark in (("Handrail", "H1"), ("Handrail", "H2"))]
    for row in rows:
        del row["Line"], row["Part"]
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", *rows))
    assert [(line.line, line.part) for line in reading.orders] == [("1", "H1"), ("2", "H2")]
    for row in rows:
        del row["Mk"]
    reading = read_workbook(some_orders(tmp_path / "v.xlsx", *rows))
    assert [(line.line, line.part) for line in reading.orders] == [
        ("1", "Handrail"),
        ("2", "Handrail"),
    ]
    numbered = [an_order(Item=each) for each in ("10", "20")]
    for row in numbered:
        del row["Line"]
    reading = read_workbook(some_orders(tmp_path / "n.xlsx", *numbered))
    assert [line.line for line in reading.orders] == ["10", "20"]


def test_comments_below_the_header_are_not_read_which_is_told(tmp_path: Path) -> None:
    path = some_orders(tmp_path / "w.xlsx", an_order(), an_order(Line="2"))
    book = openpyxl.load_workbook(path)
    sheet = book["Orders"]
    for cell in ("A1", "D2", "E3"):
        sheet[cell].comment = Comment("only 4 please", "Kim")
    book.save(path)
    (finding,) = read_workbook(path).findings
    assert (finding.cell, finding.severity) == ("D2", Severity.WARNING)
    assert "not read: D2, E3;" in finding.message


@pytest.mark.parametrize("mark", ['"', "ditto", "do.", "”"])
def test_a_ditto_mark_is_the_cell_above(tmp_path: Path, mark: str) -> None:
    like = an_order(Line="2", Material=mark, OD=mark, Wall=mark, Due=mark, Order=mark)
    path = some_orders(tmp_path / "w.xlsx", an_order(), like, {**like, "Line": "3"})
    found = read_workbook(path)
    assert [(line.order, line.line) for line in found.orders] == [
        ("1187", "1"),
        ("1187", "2"),
        ("1187", "3"),
    ]
    assert len({(line.spec, line.due) for line in found.orders}) == 1
    assert any("ditto marks read as the cell above" in each for each in found.readings)


def test_a_ditto_mark_below_a_blank_cell_is_blank(tmp_path: Path) -> None:
    whole = an_order(OD="1-1/2 x .065", Wall=None)
    path = some_orders(tmp_path / "w.xlsx", whole, {**whole, "Line": "2", "OD": '"', "Wall": '"'})
    found = read_workbook(path)
    assert not [each for each in found.findings if each.severity is Severity.ERROR]
    first, second = found.orders
    assert first.spec == second.spec


def test_two_columns_of_due_dates_that_differ_are_doubted(tmp_path: Path) -> None:
    row = {**an_order(), "Req date": "2026-12-02"}
    (finding,) = read_workbook(some_orders(tmp_path / "w.xlsx", row)).findings
    assert (finding.severity, "both mean Due" in finding.message) == (Severity.WARNING, True)
    same = {**an_order(), "Req date": "2026-12-04"}
    assert not read_workbook(some_orders(tmp_path / "v.xlsx", same)).findings


@pytest.mark.parametrize(
    ("header", "length"),
    [
        ("mm length", "36 mm"),
        ("Cut length mm +/-0.5", "36 mm"),
        ("Length (mm) finished", "36 mm"),
        ("Length in cm as cut", "36 cm"),
        ("Length FT-IN", "36"),
        ("Length (mm/in)", "36"),
        ("Cut length of piece", "36"),
    ],
)
def test_a_unit_counts_wherever_it_stands_in_a_header(
    header: str, length: str, tmp_path: Path
) -> None:
    row = {(header if name == "Length" else name): cell for name, cell in an_order().items()}
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", row)).orders
    assert line.shape == CutLength(length_nm=parse_length(length).nm)


@pytest.mark.parametrize("header", ["Touch-up sec/pc", "sec/pc touch-up", "Touch-up (sec/pc)"])
def test_seconds_in_a_header_are_no_minutes(header: str, tmp_path: Path) -> None:
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", {**an_order(), header: 30})).orders
    assert line.touch_up_s == 30


def test_two_columns_of_lengths_that_differ_are_doubted(tmp_path: Path) -> None:
    """One may be the stick's."""
    (finding,) = read_workbook(
        some_orders(tmp_path / "w.xlsx", {**an_order(), "Cut length": 40})
    ).findings
    assert (finding.severity, "both mean Length" in finding.message) == (Severity.WARNING, True)


@pytest.mark.parametrize(("mm", "doubts"), [(914.4, 0), (914, 0), (1016, 1)])
def test_one_length_in_two_units_is_no_doubt(tmp_path: Path, mm: float, doubts: int) -> None:
    row = {key: cell for key, cell in an_order().items() if key != "Length"}
    path = some_orders(tmp_path / "w.xlsx", {**row, "Length (in)": 36, "Length (mm)": mm})
    assert len(read_workbook(path).findings) == doubts


def test_two_headers_that_are_guessed_to_mean_one_column_are_told(tmp_path: Path) -> None:
    row = {key: cell for key, cell in an_order().items() if key != "Due"}
    dates = {"New due": "2026-12-04", "Due revised": "2026-12-02"}
    (finding,) = read_workbook(some_orders(tmp_path / "w.xlsx", {**row, **dates})).findings
    assert (finding.severity, "both mean Due" in finding.message) == (Severity.WARNING, True)


@pytest.mark.parametrize(
    ("header", "key"),
    [
        *((each, "due") for each in ("Want by", "Wanted", "Need date", "Dock date", "Finish by")),
        *((each, "due") for each in ("Cust req date", "In hands", "Wunschtermin", "Date limite")),
        *((each, "length") for each in ("Blank", "Blank length", "Cut length", "Cut L", "Saw to")),
        *((each, "length") for each in ("Tube length", "Zuschnitt", "Blank lg (mm)")),
        *((each, "recipe") for each in ("Prep", "Surface prep", "Finish prep", "Brush")),
        *((each, "grit") for each in ("Grain", "Grit", "Final grit", "Körnung")),
        *((each, "part") for each in ("P/N", "Tube no.", "Tube name")),
        *(("Werkstoffnr.", "material"), ("Tube grade", "grade"), ("Mitres", "ends")),
    ],
)
def test_what_planners_call_a_column_is_known(header: str, key: str) -> None:
    found, _ = match_headers({1: header}, ORDERS)
    assert [(name, guess.guessed) for name, guess in found.items()] == [(key, False)]


@pytest.mark.parametrize(
    "header",
    [
        *("Tube ID", "Inside dia", "Hole dia", "Header OD", "OD tol", "Schedule date", "Wall min"),
        *("Cut date", "Total length", "Stick length", "Cut qty", "Bend angle", "Bend min"),
        *("Finish date", "Surface area", "Material cost", "Qty on hand", "Original due date"),
        *("Order total", "PO date", "Line value", "End cap", "Weld prep", "Part weight"),
    ],
)
def test_what_only_sounds_like_a_column_is_not_taken_for_one(header: str) -> None:
    assert match_headers({1: header}, ORDERS) == ({}, [])


@pytest.mark.parametrize(
    ("header", "key", "unit"),
    [
        *(("OrderNo", "order", ""), ("DUE_DATE", "due", ""), ("TubeOD", "od", "")),
        *(("CutLengthIn", "length", "in"), ("WALL_MM", "wall", "mm"), ("EndPrepB", "end_2", "")),
    ],
)
def test_words_of_a_header_may_be_joined(header: str, key: str, unit: str) -> None:
    found, _ = match_headers({1: header}, ORDERS)
    assert [(name, guess.header.unit) for name, guess in found.items()] == [(key, unit)]


@pytest.mark.parametrize("first", ["square", None])
def test_two_columns_of_ends_that_differ_are_refused(first: Cell, tmp_path: Path) -> None:
    rows = (
        {**an_order(), "Cope": "saddle 1-1/2", "Miter": "saddle 1-1/2"},
        {**an_order(Line="2"), "Cope": first, "Miter": "mitre 45"},
    )
    found = read_workbook(some_orders(tmp_path / "w.xlsx", *rows)).findings
    (error,) = (one.message for one in found if one.severity is Severity.ERROR)
    assert "though row 3 differs; write what both say under End 1 and End 2" in error


def test_an_order_may_have_two_numbers(tmp_path: Path) -> None:
    found = read_workbook(some_orders(tmp_path / "w.xlsx", {**an_order(), "PO": "88-1"}))
    assert (found.findings, found.orders[0].order) == ((), "1187")


def test_a_column_of_names_called_piece_leaves_the_quantity_to_another(tmp_path: Path) -> None:
    row: dict[str, Cell] = {}
    for key, value in an_order().items():
        row[{"Part": "Pieza", "Quantity": "Cant."}.get(key, key)] = value
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", row)).orders
    assert (line.part, line.quantity) == ("Post", 4)


@pytest.mark.parametrize("header", ["Gehrung links", "Onglet", "Ausklinkung", "Inglete"])
def test_a_column_of_ends_in_another_language_that_is_not_read_is_warned_of(
    header: str, tmp_path: Path
) -> None:
    order = {**an_order(), header: "45"}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", order)).findings
    assert any(f"the column “{header}” is not read" in each.message for each in found)


@pytest.mark.parametrize("header", ["Anzahl Bögen", "Coudes", "Dobleces"])
def test_bends_are_counted_in_other_languages_too(header: str, tmp_path: Path) -> None:
    cells: dict[str, Cell] = {"Length is": "blank", "CLR": "4-1/2", header: 2}
    order = an_order(**cells)
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", order)).orders
    assert line.shape.kind == "blank"
