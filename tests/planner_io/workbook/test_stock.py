"""Stock is read with its prices, counts and remnants."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from planner.errors import Severity
from planner.stock import StockItem
from planner.tube import Surface
from planner_io.starter_stock import starter_stock
from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.sheets import Cell, a_table, an_order, some_orders

ROW: dict[str, Cell] = {
    "Stock": "S1",
    "Material": "304",
    "OD": "1-1/2",
    "Wall": ".065",
    "Length": "20 ft",
    "Price": 81,
}


def reading(path: Path, *rows: dict[str, Cell]) -> Reading:
    return read_workbook(some_orders(path / "w.xlsx", an_order(), Stock=a_table(rows)))


def the_item(path: Path, **changes: Cell) -> StockItem:
    (item,) = reading(path, {**ROW, **changes}).stock
    return item


def test_a_stick_is_bought_as_needed_unless_it_is_counted(tmp_path: Path) -> None:
    item = the_item(tmp_path)
    assert (item.key, item.length_nm, item.price_cents) == ("S1", 6_096_000_000, 8_100)
    assert (item.count, item.arrives, item.lead_days, item.remnant) == (None, None, 0, False)
    assert item.spec.surface == Surface.BRIGHT


@pytest.mark.parametrize(
    ("count", "expected"), [(6, 6), ("6 sticks", 6), ("as needed", None), (0, 0), (None, None)]
)
def test_a_count_is_a_number_or_as_needed(count: Cell, expected: int, tmp_path: Path) -> None:
    assert the_item(tmp_path, Count=count).count == expected


@pytest.mark.parametrize(
    ("header", "price", "cents"),
    [
        ("Price", "$81.00", 8_100),
        ("Price", "81,50 €", 8_150),
        ("Price/ft", 4.05, 8_100),
        ("Price per m", 10, 6_096),
        ("Cost", 81, 8_100),
        ("£ each", "£81", 8_100),
        ("$/ft", 4.05, 8_100),
    ],
)
def test_a_price_is_for_a_stick_or_by_length(
    header: str, price: Cell, cents: int, tmp_path: Path
) -> None:
    row = {key: cell for key, cell in ROW.items() if key != "Price"}
    (item,) = reading(tmp_path, {**row, header: price}).stock
    assert item.price_cents == cents


def test_without_a_price_sticks_are_compared_by_weight(tmp_path: Path) -> None:
    long, short = reading(
        tmp_path,
        {**ROW, "Price": None},
        {**ROW, "Stock": "S2", "Length": "10 ft", "Price": None},
    ).stock
    assert abs(long.price_cents - 2 * short.price_cents) <= 1


def test_a_remnant_is_there_once_and_may_be_finished(tmp_path: Path) -> None:
    item = the_item(tmp_path, Remnant="x", Finished="satin p240", Location="rack 2")
    assert (item.remnant, item.count, item.finished) == (True, 1, "Satin P240")
    assert item.location == "rack 2"


def test_sticks_on_order_say_when_they_arrive(tmp_path: Path) -> None:
    item = the_item(tmp_path, Arrives=dt.date(2026, 12, 2), **{"Lead days": 3})
    assert (item.arrives, item.lead_days) == (dt.date(2026, 12, 2), 3)


@pytest.mark.parametrize(
    ("cells", "cell"),
    [
        ({"Length": None}, "E2"),
        ({"Price": -1}, "F2"),
        ({"Count": 2.5}, "G2"),
        ({"Finished": "Mirror"}, "G2"),
        ({"Remnant": "perhaps"}, "G2"),
        ({"Arrives": "soon"}, "G2"),
    ],
)
def test_a_mistake_is_told_at_its_cell(cells: dict[str, Cell], cell: str, tmp_path: Path) -> None:
    found = reading(tmp_path, {**ROW, **cells})
    assert found.stock == ()
    assert [(f.sheet, f.cell) for f in found.findings] == [("Stock", cell)]


def test_two_rows_of_one_name_are_refused(tmp_path: Path) -> None:
    found = reading(tmp_path, ROW, ROW)
    assert len(found.stock) == 1
    assert "stands in row 2 already" in found.findings[0].message


def test_without_a_stock_sheet_the_starter_stock_is_taken_and_told(tmp_path: Path) -> None:
    found = read_workbook(some_orders(tmp_path / "w.xlsx", an_order()))
    assert found.stock == starter_stock()
    assert any("no sheet Stock" in text for text in found.readings)


@pytest.mark.parametrize(
    ("material", "surface"),
    [
        ("A513", Surface.SCALED),
        ("A500 Gr B", Surface.SCALED),
        ("1020 DOM", Surface.BRIGHT),
        ("4130", Surface.BRIGHT),
        ("304", Surface.BRIGHT),
        ("6061-T6", Surface.BRIGHT),
    ],
)
def test_a_surface_left_open_is_the_usual_one(
    material: str, surface: Surface, tmp_path: Path
) -> None:
    assert the_item(tmp_path, Material=material).spec.surface == surface


@pytest.mark.parametrize(
    ("cells", "surface"),
    [
        ({"Material": "A513", "Surface": "oiled"}, Surface.SCALED),
        ({"Material": "A513", "Surface": "bright, oiled"}, Surface.BRIGHT),
        ({"Material": "1020 DOM", "Finished": "oiled"}, Surface.BRIGHT),
    ],
)
def test_oiled_sticks_have_the_surface_that_is_below_the_oil(
    cells: dict[str, Cell], surface: Surface, tmp_path: Path
) -> None:
    item = the_item(tmp_path, **cells)
    assert (item.oiled, item.spec.surface, item.finished) == (True, surface, None)
    assert not the_item(tmp_path, Material="A513").oiled


@pytest.mark.parametrize(("length", "fix"), [(24, "write 24 ft"), ("20", "write 20 ft")])
def test_a_stick_too_short_for_one_is_refused_with_the_unit_that_may_be_missing(
    length: Cell, fix: str, tmp_path: Path
) -> None:
    found = reading(tmp_path, {**ROW, "Length": length})
    assert not found.stock
    assert [(f.cell, fix in f.message) for f in found.findings] == [("E2", True)]


def test_a_remnant_may_be_short(tmp_path: Path) -> None:
    assert the_item(tmp_path, Length=24, Remnant="yes").length_nm == 609_600_000


def test_a_stick_without_a_price_is_counted_by_its_weight(tmp_path: Path) -> None:
    # 1-1/2 x .065 of stainless is 1.518 kg a metre, and 850 cents a kilogram
    item = the_item(tmp_path, Price=None)
    assert item.price_cents == pytest.approx(1.518 * 6.096 * 850, rel=1e-3)


def test_a_remnant_is_one_stick_unless_it_is_counted(tmp_path: Path) -> None:
    changes: dict[str, Cell] = {"Length": "20 in", "Remnant": "yes"}
    assert the_item(tmp_path, **changes).count == 1
    assert the_item(tmp_path, **changes, Count=3).count == 3


def test_a_row_without_a_name_is_called_by_its_number(tmp_path: Path) -> None:
    found = reading(tmp_path, {**ROW, "Stock": None})
    assert [item.key for item in found.stock] == ["row 2, 20' 0\""]
    assert any("rows without a name" in str(note) for note in found.readings)


@pytest.mark.parametrize("count", ["∞", "unlimited", "as needed", "a pedir", "zu bestellen"])
def test_a_count_without_a_limit(count: str, tmp_path: Path) -> None:
    assert the_item(tmp_path, Count=count).count is None


@pytest.mark.parametrize("finish", ["no", "none", "-"])
def test_a_stick_that_is_not_finished(finish: str, tmp_path: Path) -> None:
    assert the_item(tmp_path, Finished=finish).finished is None


@pytest.mark.parametrize("written", ['drop 63"', '63" drop', "offcut 63", "Rem: 63", "63 off-cut"])
def test_a_length_may_say_that_it_is_of_a_remnant(written: str, tmp_path: Path) -> None:
    found = reading(tmp_path, {**ROW, "Length": written})
    (item,) = found.stock
    assert (item.length_nm, item.remnant, item.count) == (1_600_200_000, True, 1)
    assert any(f"“{written}” read as a remnant of 63" in note for note in found.readings)


@pytest.mark.parametrize(
    "written",
    ["3 @ 20', 2 @ 14'6\"", "17-24 ft", "20' R/L", "random 20 ft", "20', 24'", "6 to 7 m"],
)
def test_several_lengths_in_a_cell_are_asked_for_row_by_row(written: str, tmp_path: Path) -> None:
    found = reading(tmp_path, {**ROW, "Length": written})
    (error,) = (f for f in found.findings if f.severity == Severity.ERROR and f.sheet == "Stock")
    assert "sticks of several lengths are a row each" in error.message


@pytest.mark.parametrize("written", ["5' 2-3/8\"", "46-13/16", "20 ft", "6,1 m", "1-1/2 m"])
def test_one_length_is_not_taken_for_several(written: str, tmp_path: Path) -> None:
    found = reading(tmp_path, {**ROW, "Length": written, "Remnant": "yes"})
    assert not any("several lengths" in f.message for f in found.findings)


def test_a_price_that_is_still_open_is_none(tmp_path: Path) -> None:
    found = reading(tmp_path, {**ROW, "Price": "as quoted"})
    assert found.stock[0].price_cents == the_item(tmp_path, Price=None).price_cents
    assert any("“as quoted” read as no price" in note for note in found.readings)


@pytest.mark.parametrize("length", ["Length", "Len", "Lg"])
def test_sticks_beside_a_length_are_a_count(length: str, tmp_path: Path) -> None:
    row = {key: cell for key, cell in ROW.items() if key not in ("Length", "Price")}
    (item,) = reading(tmp_path, {**row, length: "20 ft", "Sticks": 4}).stock
    assert (item.length_nm, item.count) == (6_096_000_000, 4)


def test_feet_on_hand_are_no_sticks(tmp_path: Path) -> None:
    row = {key: cell for key, cell in ROW.items() if key != "Count"}
    found = reading(tmp_path, {**row, "On hand (ft)": 240})
    assert found.stock == ()
    (error,) = (f for f in found.findings if f.severity == Severity.ERROR)
    assert "sticks are needed" in error.message
