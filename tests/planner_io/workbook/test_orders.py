"""Order lines are built as the trade means them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from pathlib import Path

import openpyxl
import pytest
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from planner.errors import Severity
from planner.orders import AxisToAxis, Bent, BentBlank, CutLength, EndKind, OrderLine
from planner.tube import Family, Surface
from planner.units import NM_PER_INCH, parse_length
from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.sheets import Cell, a_table, an_order, some_orders

HOOP: list[list[Cell]] = [
    ["Part", "Straight", "Angle", "CLR"],
    ["Hoop", 20, 90, 4.5],
    [None, 10, 90, 4.5],
    [None, 20, None, None],
]


def reading(path: Path, *rows: Mapping[str, Cell], **sheets: Sequence[Sequence[Cell]]) -> Reading:
    return read_workbook(some_orders(path / "w.xlsx", *rows, **sheets))


def the_line(path: Path, **changes: Cell) -> OrderLine:
    found = reading(path, an_order(**changes), Bends=HOOP)
    assert not found.findings, found.findings
    return found.orders[0]


def the_error(path: Path, **changes: Cell) -> tuple[str | None, str]:
    found = reading(path, an_order(**changes), Bends=HOOP)
    errors = [f for f in found.findings if f.severity == Severity.ERROR]
    assert not found.orders
    assert len(errors) == 1, errors
    return errors[0].cell, errors[0].message


@pytest.mark.parametrize(
    ("cells", "family", "grade", "od", "wall"),
    [
        (
            {"Material": "4130", "OD": "1-1/4", "Wall": 0.095},
            "alloy",
            "4130",
            31_750_000,
            2_413_000,
        ),
        (
            {"Material": "A53", "OD": "1-1/4 sch 40", "Wall": None},
            "carbon",
            "A53",
            42_164_000,
            3_556_000,
        ),
        (
            {"Material": "aluminum", "Grade": "6061-T6"},
            "aluminium",
            "6061-T6",
            38_100_000,
            1_651_000,
        ),
        ({"Material": "A500 Gr B"}, "carbon", "A500", 38_100_000, 1_651_000),
        ({"Material": 304, "OD": 1.5, "Wall": "16 ga"}, "stainless", "304", 38_100_000, 1_651_000),
        (
            {"Material": "304", "OD": "1-1/2 x .065", "Wall": None},
            "stainless",
            "304",
            38_100_000,
            1_651_000,
        ),
    ],
)
def test_material_and_size_make_the_tube(
    cells: dict[str, Cell], family: str, grade: str, od: int, wall: int, tmp_path: Path
) -> None:
    spec = the_line(tmp_path, **cells).spec
    assert (spec.family, spec.od_nm, spec.wall_nm) == (Family(family), od, wall)
    assert spec.grade.startswith(grade)


def test_units_in_headers_hold_for_their_columns(tmp_path: Path) -> None:
    row = an_order()
    row["Length (mm)"], row["OD, mm"] = 900, 38.1
    del row["Length"], row["OD"]
    (line,) = reading(tmp_path, row).orders
    assert line.shape == CutLength(length_nm=900_000_000)
    assert line.spec.od_nm == 38_100_000


@pytest.mark.parametrize(
    ("od", "wall"), [("Ø38.1", "1.7"), ("38.1 x 1.7", None), ("38.1 OD", "1.7 wall")]
)
def test_units_in_headers_hold_for_sizes_with_words_about_them(
    od: Cell, wall: Cell, tmp_path: Path
) -> None:
    row = {k: v for k, v in an_order().items() if k not in {"OD", "Wall"}}
    row |= {"OD (mm)": od, "Wall (mm)": wall, "Length": "36 in"}
    (line,) = reading(tmp_path, row).orders
    assert (line.spec.od_nm, line.spec.wall_nm) == (38_100_000, 1_700_000)


def test_a_fraction_below_a_metric_header_is_of_an_inch_and_told(tmp_path: Path) -> None:
    row = {k: v for k, v in an_order().items() if k not in {"OD", "Length"}}
    found = reading(tmp_path, {**row, "OD (mm)": "1-1/2", "Length (mm)": "46-13/16"})
    (line,) = found.orders
    assert line.spec.od_nm == 38_100_000
    assert line.shape == CutLength(length_nm=parse_length("46-13/16").nm)
    assert sum("a fraction, so read in inches" in text for text in found.readings) == 2


def test_oiled_tube_has_the_surface_of_the_stock_below_the_oil(tmp_path: Path) -> None:
    stock: list[list[Cell]] = [
        ["Material", "OD", "Wall", "Length", "Surface"],
        ["A513", "1-1/2", 0.065, "20'", "bright"],
    ]
    row = an_order(Material="A513", Surface="oiled", Finish="Primer-ready")
    line = reading(tmp_path, row, Stock=stock).orders[0]
    assert (line.oiled, line.spec.surface) == (True, Surface.BRIGHT)


def test_grade_and_surface_come_from_stock_where_the_row_leaves_them_open(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Material="stainless", OD="2", Finish="none"))
    (line,) = found.orders
    assert (line.spec.grade, line.spec.surface) == ("304", Surface.BRIGHT)
    assert any("grade read as 304, as in Stock" in text for text in found.readings)


@pytest.mark.parametrize(
    ("material", "od", "wall", "grade"),
    [
        ("6061", "2", ".125", "6061-T6"),
        ("4130", "1", ".065", "4130"),
        ("A513", "2", ".120", "A513"),
    ],
)
def test_a_short_grade_is_the_one_in_stock_that_says_more(
    material: str, od: str, wall: str, grade: str, tmp_path: Path
) -> None:
    line = the_line(tmp_path, Material=material, OD=od, Wall=wall, Finish="none")
    assert line.spec.grade == grade


@pytest.mark.parametrize(
    ("od", "wall", "read"),
    [
        ("31.8 mm", "1.65 mm", (31_750_000, 1_651_000)),
        ("31.75 mm", "2.1 mm", (31_750_000, 2_108_200)),
        ("1-1/4", ".065", (31_750_000, 1_651_000)),
        ("31.9 mm", "1.65 mm", (31_900_000, 1_650_000)),
        ("31.8 mm", "2.0 mm", (31_800_000, 2_000_000)),
    ],
)
def test_a_rounded_size_is_the_one_in_stock(
    od: str, wall: str, read: tuple[int, int], tmp_path: Path
) -> None:
    stock = a_table(
        [
            {"Stock": thick, "Material": "304", "OD": "1-1/4", "Wall": thick, "Length": "20 ft"}
            for thick in (".065", ".083", ".080")
        ]
    )
    book = some_orders(tmp_path / "w.xlsx", an_order(OD=od, Wall=wall), Stock=stock)
    found = read_workbook(book)
    (line,) = found.orders
    assert (line.spec.od_nm, line.spec.wall_nm) == read
    told = [text for text in found.readings if text.endswith("as in Stock")]
    assert bool(told) == (od != "1-1/4" and read[0] == 31_750_000)


def test_a_size_between_two_in_stock_is_neither(tmp_path: Path) -> None:
    stock = a_table(
        [
            {"Stock": od, "Material": "304", "OD": od, "Wall": ".065", "Length": "20 ft"}
            for od in ("38.06 mm", "38.14 mm")
        ]
    )
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(), Stock=stock)).orders
    assert line.spec.od_nm == 38_100_000


def test_several_grades_in_stock_are_asked_for(tmp_path: Path) -> None:
    cell, message = the_error(tmp_path, Material="stainless")
    assert cell == "E2"
    assert "304, 316" in message


@pytest.mark.parametrize(
    ("cells", "shape"),
    [
        ({"Length": "36-1/2"}, CutLength(length_nm=927_100_000)),
        ({"Length": "5' 2-3/8\""}, CutLength(length_nm=1_584_325_000)),
        ({"Length": "900 mm overall"}, CutLength(length_nm=900_000_000)),
        ({"Length": "c-c 48", "End 1": "saddle 2 @ 90"}, AxisToAxis(length_nm=1_219_200_000)),
        (
            {"Length": 48, "Length is": "axis-to-axis", "End 1": "saddle 2 @ 90"},
            AxisToAxis(length_nm=1_219_200_000),
        ),
    ],
)
def test_a_length_is_cut_or_between_axes(
    cells: dict[str, Cell], shape: CutLength | AxisToAxis, tmp_path: Path
) -> None:
    assert the_line(tmp_path, **cells).shape == shape


@pytest.mark.parametrize("length", [None, "see bends", "bent"])
def test_a_bent_part_takes_its_rows_from_bends(length: Cell, tmp_path: Path) -> None:
    shape = the_line(tmp_path, Part="hoop", Length=length).shape
    assert isinstance(shape, Bent)
    assert [row.straight_nm for row in shape.rows] == [508_000_000, 254_000_000, 508_000_000]
    assert [row.angle_mdeg for row in shape.rows] == [90_000, 90_000, 0]


def test_a_length_beside_bends_is_told_and_not_used(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Part="Hoop", Length=60), Bends=HOOP)
    assert isinstance(found.orders[0].shape, Bent)
    (finding,) = found.findings
    assert (finding.severity, finding.cell) == (Severity.WARNING, "I2")


def test_a_length_that_is_cut_wins_over_bends(tmp_path: Path) -> None:
    line = the_line(tmp_path, Part="Hoop", Length=60, **{"Length is": "cut"})
    assert line.shape == CutLength(length_nm=1_524_000_000)


@pytest.mark.parametrize(
    ("cells", "cell", "words"),
    [
        ({"Quantity": 0}, "D2", "from 1"),
        ({"Quantity": -3}, "D2", "from 1"),
        ({"Quantity": 2.5}, "D2", "not a whole number"),
        ({"Quantity": None}, "D2", "nothing is written"),
        ({"Quantity": "#N/A"}, "D2", "expected"),
        ({"Material": "unobtanium"}, "E2", "expected a material"),
        ({"Material": "304 4130"}, "E2", "two materials"),
        ({"OD": "big"}, "F2", "expected an outside diameter"),
        ({"OD": dt.datetime(2026, 1, 1)}, "F2", "date"),
        ({"Wall": None}, "G2", "nothing is written"),
        ({"Wall": "1"}, "G2", "no bore"),
        ({"OD": "1-1/2 sch 40", "Wall": ".065"}, "G2", "another wall"),
        ({"Finish": "Mirror"}, "H2", "Satin P180"),
        ({"Length": None}, "I2", "nothing is written"),
        ({"Length": "12 ft 3 x"}, "I2", "12 ft 3 x"),
        ({"Length": "bent"}, "C2", "Bends has no rows"),
        ({"Length": "c-c 48"}, "A2", "needs a saddle"),
        ({"Length": "c-c 48", "Length is": "cut"}, "K2", "says otherwise"),
        ({"Due": "soon"}, "J2", "expected a date"),
        ({"Due": None}, "J2", "nothing is written"),
        ({"Priority": "blue"}, "K2", "rush"),
        ({"Route": "fly"}, "K2", "usual"),
        ({"End 2": "wavy"}, "K2", "square"),
        ({"Touch-up": "long"}, "K2", "expected a time"),
        ({"Order": None}, "A2", "nothing is written"),
    ],
)
def test_each_mistake_is_one_error_at_its_cell(
    cells: dict[str, Cell], cell: str, words: str, tmp_path: Path
) -> None:
    found = the_error(tmp_path, **cells)
    assert found[0] == cell
    assert words in found[1]


def test_a_line_typed_twice_is_refused_the_second_time(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(), an_order(Quantity=9))
    assert [line.quantity for line in found.orders] == [4]
    assert "stands in row 2 already" in found.findings[0].message


def test_blank_orders_and_lines_are_filled_in_from_above(tmp_path: Path) -> None:
    rows = [an_order(Line=None), an_order(Order=None, Line=None), an_order(Order="1188", Line=None)]
    found = reading(tmp_path, *rows)
    assert [line.key for line in found.orders] == ["1187/1", "1187/2", "1188/1"]
    assert any("order taken from the row above" in text for text in found.readings)


def test_totals_and_blank_rows_are_left_out(tmp_path: Path) -> None:
    rows: list[dict[str, Cell]] = [an_order(), {}, {"Order": "Grand total", "Quantity": 4}]
    found = reading(tmp_path, *rows, {"Quantity": 4})
    assert len(found.orders) == 1
    assert not found.findings
    assert any("Orders!A4" in text and "totals" in text for text in found.readings)


def test_a_total_says_so_in_any_column(tmp_path: Path) -> None:
    rows: list[dict[str, Cell]] = [{"Due": "TOTAL", "Quantity": 4}, {"Length": "Sum"}]
    found = reading(tmp_path, an_order(), *rows)
    assert len(found.orders) == 1
    assert not found.findings


def test_a_line_with_a_tube_is_no_total_whatever_it_is_called(tmp_path: Path) -> None:
    (line,) = reading(tmp_path, an_order(Part="Total station post")).orders
    assert line.part == "Total station post"


@pytest.mark.parametrize(
    ("priority", "weight"), [(None, 1), ("normal", 1), ("RUSH", 5), ("high", 3), (7, 7), ("no", 1)]
)
def test_priority_is_how_often_a_late_minute_counts(
    priority: Cell, weight: int, tmp_path: Path
) -> None:
    assert the_line(tmp_path, Priority=priority).weight == weight


@pytest.mark.parametrize(
    ("due", "expected"),
    [
        (dt.date(2026, 12, 4), dt.datetime(2026, 12, 4, 15, 30)),
        ("4 Dec 2026", dt.datetime(2026, 12, 4, 15, 30)),
        ("2026-12-05", dt.datetime(2026, 12, 5, 23, 59)),
        (dt.datetime(2026, 12, 4, 10, 0), dt.datetime(2026, 12, 4, 10, 0)),
    ],
)
def test_a_date_alone_is_due_at_the_end_of_the_shops_day(
    due: Cell, expected: dt.datetime, tmp_path: Path
) -> None:
    assert the_line(tmp_path, Due=due).due == expected


@pytest.mark.parametrize(
    ("header", "cell", "seconds"),
    [("Touch-up", 3, 180), ("Touch-up", "45 s", 45), ("Touch-up (s)", 90, 90)],
)
def test_touch_up_is_in_minutes_unless_it_says_otherwise(
    header: str, cell: Cell, seconds: int, tmp_path: Path
) -> None:
    assert the_line(tmp_path, **{header: cell}).touch_up_s == seconds


def test_misspelt_finishes_are_read_and_told(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Finish="satn p180"))
    assert found.orders[0].recipe == "Satin P180"
    assert any("satn p180" in text for text in found.readings)


@pytest.mark.parametrize("none", [None, "none", "-", "n/a", "mill finish"])
def test_no_finish_is_no_recipe(none: Cell, tmp_path: Path) -> None:
    assert the_line(tmp_path, Finish=none).recipe is None


def test_one_cell_for_both_ends_counts_where_the_others_are_blank(tmp_path: Path) -> None:
    line = the_line(tmp_path, Ends="mitre 45", **{"End 2": "square"})
    assert [end.kind for end in line.ends] == [EndKind.MITRE, EndKind.SQUARE]


def test_a_date_before_the_plan_starts_is_doubted(tmp_path: Path) -> None:
    settings: list[list[Cell]] = [["Setting", "Value"], ["Plan starts", "2026-11-30"]]
    found = reading(tmp_path, an_order(Due="2026-11-20"), Settings=settings)
    assert len(found.orders) == 1
    assert any("before the plan starts" in each.message for each in found.findings)


def test_a_grade_column_will_do_without_a_material_column(tmp_path: Path) -> None:
    row = an_order(Grade="304")
    del row["Material"]
    assert reading(tmp_path, row).orders[0].spec.family == Family.STAINLESS


def test_a_missing_column_is_one_error_not_one_a_row(tmp_path: Path) -> None:
    rows = [{key: cell for key, cell in an_order().items() if key != "Due"}] * 3
    found = reading(tmp_path, *rows)
    assert found.orders == ()
    assert ["no column Due" in finding.message for finding in found.findings] == [True]


def test_a_missing_column_is_looked_for_among_those_that_are_not_read(tmp_path: Path) -> None:
    row = an_order(Folder="7001")
    del row["Order"]
    messages = [finding.message for finding in reading(tmp_path, row).findings]
    assert any(
        "no column Order" in each and "rename the one of “Folder”" in each for each in messages
    )


def test_a_dash_says_that_there_is_nothing(tmp_path: Path) -> None:
    names = ("Surface", "Finish", "End 1", "Priority", "Route", "Touch-up", "Length is")
    line = the_line(tmp_path, OD="1-1/2 x .065", Wall="-", **dict.fromkeys(names, "-"))
    assert line == the_line(tmp_path, Finish=None)


def test_a_header_that_is_repeated_on_each_page_is_left_out(tmp_path: Path) -> None:
    header: dict[str, Cell] = {name: name for name in an_order()}
    rows = [an_order(), header, an_order(Line="2")]
    found = reading(tmp_path, *rows)
    assert len(found.orders) == 2
    assert not found.findings
    assert "Orders: the header again in row 3" in found.readings


def test_a_remark_between_the_rows_is_one_warning(tmp_path: Path) -> None:
    remark: dict[str, Cell] = {"Order": "*** hold until the paint is here ***"}
    (finding,) = reading(tmp_path, an_order(), remark, an_order(Line="2")).findings
    assert (finding.cell, finding.severity) == ("A3", Severity.WARNING)
    assert "left out as a heading" in finding.message


def test_day_numbers_count_from_the_workbooks_own_first_day(tmp_path: Path) -> None:
    path = some_orders(tmp_path / "w.xlsx", an_order(Due=46360 - 1462))
    book = openpyxl.load_workbook(path)
    book.epoch = CALENDAR_MAC_1904
    book.save(path)
    assert read_workbook(path).orders[0].due.date() == dt.date(2026, 12, 4)


def test_a_sheet_without_a_finish_column_is_doubted(tmp_path: Path) -> None:
    plain = {key: value for key, value in an_order().items() if key != "Finish"}
    found = reading(tmp_path, {**plain, "Shine": "Satin P180"})
    warnings = [f.message for f in found.findings if f.severity == Severity.WARNING]
    (finish,) = (text for text in warnings if "no column Finish, so nothing is finished" in text)
    assert "rename the one of “Shine” that says it" in finish
    assert len(found.orders) == 1


def test_a_sheet_without_a_length_column_is_doubted_once(tmp_path: Path) -> None:
    plain = {key: value for key, value in an_order().items() if key != "Length"}
    found = reading(tmp_path, *[{**plain, "Tall": "600 mm"}] * 2)
    warnings = [f.message for f in found.findings if f.severity == Severity.WARNING]
    (length,) = (text for text in warnings if "no column Length" in text)
    assert "only parts in Bends have one" in length
    assert "rename the one of “Tall” that says it" in length


def test_a_sheet_without_a_part_column_is_doubted_once(tmp_path: Path) -> None:
    plain = {key: value for key, value in an_order().items() if key != "Part"}
    found = reading(tmp_path, {**plain, "What": "Gate rail"})
    (part,) = (f.message for f in found.findings if "no column Part" in f.message)
    assert "“What”" in part


def test_a_saw_hand_s_name_for_the_length_is_known(tmp_path: Path) -> None:
    row = {("Cut to" if key == "Length" else key): value for key, value in an_order().items()}
    assert reading(tmp_path, row).orders == reading(tmp_path, an_order()).orders


@pytest.mark.parametrize("written", ["Satin P180", "P180"])
def test_a_column_called_surface_that_names_recipes_is_the_finish(
    tmp_path: Path, written: str
) -> None:
    plain = {key: value for key, value in an_order().items() if key not in {"Finish", "Surface"}}
    found = reading(tmp_path, {**plain, "Surface": written})
    assert not found.findings
    assert [order.recipe for order in found.orders] == ["Satin P180"]
    assert any("read as Finish, as it names recipes" in note for note in found.readings)


def test_words_that_say_neither_do_not_hide_that_a_column_is_the_finish(tmp_path: Path) -> None:
    plain = {key: value for key, value in an_order().items() if key not in {"Finish", "Surface"}}
    words = ("180 grit", "P180", "as quoted", "see drawing", "satin", "mill scale off")
    found = reading(tmp_path, *({**plain, "Line": n, "Surface": w} for n, w in enumerate(words, 1)))
    assert [order.recipe for order in found.orders] == ["Satin P180"] * 2 + ["Mill-scale removal"]
    assert len([f for f in found.findings if "Finish: read" in f.message]) == 3


def test_as_many_surfaces_as_recipes_are_surfaces(tmp_path: Path) -> None:
    plain = {key: value for key, value in an_order().items() if key not in {"Finish", "Surface"}}
    rows = ({**plain, "Line": n, "Surface": w} for n, w in enumerate(("scaled", "P180"), 1))
    found = reading(tmp_path, *rows)
    assert [order.spec.surface for order in found.orders] == [Surface.SCALED]


def test_a_column_of_surfaces_is_not_taken_for_the_finish(tmp_path: Path) -> None:
    plain = {key: value for key, value in an_order().items() if key not in {"Finish", "Surface"}}
    found = reading(tmp_path, {**plain, "Surface": "scaled"})
    assert [order.recipe for order in found.orders] == [None]
    assert [order.spec.surface for order in found.orders] == [Surface.SCALED]


MITRES: dict[str, Cell] = {"End 1": "mitre 45", "End 2": "mitre 30"}


@pytest.mark.parametrize(
    ("twist", "mdeg"),
    [
        ("same side", 0),
        ("Opposite sides", 180_000),
        ("parallel", 180_000),
        (180, 180_000),
        ("90°", 90_000),
        (270, -90_000),
    ],
)
def test_two_mitres_are_turned_as_the_row_says(twist: Cell, mdeg: int, tmp_path: Path) -> None:
    assert the_line(tmp_path, **MITRES, Twist=twist).twist_mdeg == mdeg


def test_two_mitres_without_a_twist_are_told(tmp_path: Path) -> None:
    words = "two mitres without a Twist read as: both long points on one side"
    found = reading(tmp_path, an_order(**MITRES))
    assert found.orders[0].twist_mdeg == 0
    assert any(words in text for text in found.readings)
    said = reading(tmp_path, an_order(**MITRES, Twist="same side"))
    assert not any(words in text for text in said.readings)


def test_a_twist_without_two_mitres_is_not_used_and_told(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Twist=180))
    assert found.orders[0].twist_mdeg == 0
    assert any("Twist is not used" in text for text in found.readings)


def test_a_twist_that_could_be_two_things_is_an_error(tmp_path: Path) -> None:
    _, message = the_error(tmp_path, **MITRES, Twist="opposed")
    assert "same side, opposite sides, or degrees such as 90" in message


def test_notes_below_the_table_are_left_out_with_a_warning(tmp_path: Path) -> None:
    notes: list[dict[str, Cell]] = [
        {"Order": "NOTE: wrap all stainless"},
        {"Due": "approved: J."},
        {"Order": "Foreman: call the office", "Quantity": "tel ext 12"},
    ]
    found = reading(tmp_path, an_order(), *notes)
    assert len(found.orders) == 1
    assert {finding.severity for finding in found.findings} == {Severity.WARNING}
    assert [finding.read for finding in found.findings] == [
        "NOTE: wrap all stainless",
        "approved: J.",
        "Foreman: call the office; tel ext 12",
    ]


@pytest.mark.parametrize(
    "row", [{"Order": "1190", "Quantity": "12"}, {"Due": "2026-12-04"}, {"Length": 12.5}]
)
def test_an_order_line_below_the_table_that_lacks_nearly_all_is_an_error(
    row: dict[str, Cell], tmp_path: Path
) -> None:
    found = reading(tmp_path, an_order(), row)
    assert any(finding.severity == Severity.ERROR for finding in found.findings)


def test_an_order_s_name_above_its_lines_is_no_note(tmp_path: Path) -> None:
    name = {**dict.fromkeys(an_order()), "Order": "1190"}
    found = reading(tmp_path, name, an_order(Order=None))
    assert [line.order for line in found.orders] == ["1190"]


def test_a_missing_column_of_walls_is_told_once(tmp_path: Path) -> None:
    rows = [an_order(Line=str(number)) for number in (1, 2, 3)]
    for row in rows:
        row["Shell"] = row.pop("Wall")
    found = reading(tmp_path, *rows)
    (error,) = [f for f in found.findings if f.severity == Severity.ERROR]
    assert error.message.startswith("there is no column Wall, and no OD names a wall; add one")
    assert error.message.endswith("or rename the one of “Shell” that says it")


@pytest.mark.parametrize(
    ("header", "value"),
    [("Ends (A/B)", "mitre 45 / square"), ("Ends 1/2", "mitre 45 / square")],
)
def test_one_column_holds_both_ends(header: str, value: str, tmp_path: Path) -> None:
    line = the_line(tmp_path, **{header: value})
    assert [end.kind for end in line.ends] == [EndKind.MITRE, EndKind.SQUARE]


def test_a_column_of_notches_may_say_at_which_ends(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Line=1, Notch="1 end"), an_order(Line=2, Notch=0))
    assert [[end.kind for end in line.ends] for line in found.orders] == [
        [EndKind.SADDLE, EndKind.SQUARE],
        [EndKind.SQUARE, EndKind.SQUARE],
    ]
    assert any("“1 end”: “saddle” read as saddle on" in note for note in found.readings)


def test_s_is_a_wall_and_urgent_is_a_priority(tmp_path: Path) -> None:
    row = {("s (mm)" if name == "Wall" else name): value for name, value in an_order().items()}
    found = reading(tmp_path, {**row, "s (mm)": 1.5, "Urgent": "x"})
    assert [(line.spec.wall_nm, line.weight) for line in found.orders] == [(1_500_000, 5)]


@pytest.mark.parametrize("header", ["Reqd", "REQ'D", "No. Req'd", "Qty Req'd", "Qty required"])
def test_what_is_required_is_a_quantity_beside_a_due_date(header: str, tmp_path: Path) -> None:
    row = {(header if name == "Quantity" else name): value for name, value in an_order().items()}
    for due in ("Due", "Req'd by", "Required"):
        named = {(due if name == "Due" else name): value for name, value in row.items()}
        (line,) = reading(tmp_path, named).orders
        assert (line.quantity, line.due.date()) == (4, dt.date(2026, 12, 4))


def test_who_ordered_is_the_customer_and_no_quantity(tmp_path: Path) -> None:
    plain = {("No. of pcs" if key == "Quantity" else key): v for key, v in an_order().items()}
    found = reading(tmp_path, {"Ordered by": "Otter Quay", **plain})
    assert [(each.customer, each.quantity) for each in found.orders] == [("Otter Quay", 4)]


def test_copes_in_two_columns_are_the_two_ends(tmp_path: Path) -> None:
    (line,) = reading(tmp_path, an_order(Cope_A="saddle 1-1/2", Cope_B="square")).orders
    assert [end.kind for end in line.ends] == [EndKind.SADDLE, EndKind.SQUARE]


def test_a_cell_for_both_ends_that_cannot_be_read_is_told_once(tmp_path: Path) -> None:
    cell, message = the_error(tmp_path, Ends="threaded")
    assert (cell, "threaded" in message) == ("K2", True)


@pytest.mark.parametrize("finish", ["no", "No finish", "mill finish"])
def test_words_for_no_finish_are_known(tmp_path: Path, finish: str) -> None:
    assert the_line(tmp_path, Finish=finish).recipe is None


@pytest.mark.parametrize("finish", ["180#", "#180", "180 grit"])
def test_a_finish_may_be_called_by_its_last_grade(tmp_path: Path, finish: str) -> None:
    assert the_line(tmp_path, Finish=finish).recipe == "Satin P180"


def test_an_unknown_finish_may_be_added_to_recipes(tmp_path: Path) -> None:
    assert "add this one to the sheet Recipes" in the_error(tmp_path, Finish="mirror")[1]


@pytest.mark.parametrize(
    ("written", "pieces"),
    [
        ("4 units", 4),
        ("4 tubes", 4),
        ("x4", 4),
        ("Qty 4", 4),
        ("4 lg", 4),
        ("4 Stk.", 4),
        ("2 (1L, 1R)", 2),
        ("10 (2x5)", 10),
        *(("four", 4), ("six (6)", 6), ("a dozen", 12), ("half a dozen", 6), ("half doz", 6)),
        *(("a pair", 2), ("two pair", 4), ("2 pair (4)", 4), ("1 Paar", 2), ("1.5 doz", 18)),
        *(("3L + 3R", 6), ("2 LH/2 RH", 4), ("1,200", 1200), ("six off", 6), ("4 (four)", 4)),
        *(("1 gross", 144), ("6 RH 6 LH", 12), ("douzaine", 12), ("une douzaine", 12)),
    ],
)
def test_a_quantity_may_have_words_about_it(tmp_path: Path, written: str, pieces: int) -> None:
    assert the_line(tmp_path, Quantity=written).quantity == pieces


@pytest.mark.parametrize(
    "written", ["4 (2 sets)", "4 (2x3)", "4 (8 left)", "6 LH 6 LH", "2 sets", "six (8)"]
)
def test_a_quantity_that_may_be_another_is_refused(tmp_path: Path, written: str) -> None:
    assert the_error(tmp_path, Quantity=written)[0] == "D2"


@pytest.mark.parametrize("written", ["4 sets of 2", "2x4", "a couple", "pair", "1 ea L & R"])
def test_a_quantity_in_sets_says_what_to_write(tmp_path: Path, written: str) -> None:
    assert "write how many pieces that is in all" in the_error(tmp_path, Quantity=written)[1]


@pytest.mark.parametrize("written", ["6/6", "12/6", "4 of 6"])
def test_a_quantity_of_so_many_of_so_many_is_no_fraction(tmp_path: Path, written: str) -> None:
    cell, message = the_error(tmp_path, Quantity=written)
    assert (cell, "those that are made under Done" in message) == ("D2", True)


@pytest.mark.parametrize("written", ["n/a", "-", "none"])
def test_nothing_in_a_column_of_both_ends_is_square(tmp_path: Path, written: str) -> None:
    assert [end.kind for end in the_line(tmp_path, Ends=written).ends] == [EndKind.SQUARE] * 2


@pytest.mark.parametrize("written", ["1,000", "1.200"])
def test_a_quantity_with_two_whole_readings_or_none_is_refused(
    tmp_path: Path, written: str
) -> None:
    assert the_error(tmp_path, Quantity=written)[0] == "D2"


@pytest.mark.parametrize("column", ["Quantity", "Material", "OD", "Wall", "Length", "Due", "Bent"])
@pytest.mark.parametrize("written", ["TBD", "???"])
def test_a_needed_cell_that_is_left_open_says_so(tmp_path: Path, column: str, written: str) -> None:
    _, message = the_error(tmp_path, **{column: written})
    assert f"“{written}” leaves it open; write it once it is decided, and put hold" in message


@pytest.mark.parametrize("written", ["L=36", '36" LG', "36 long", "3 ft lg", "36 lgth"])
def test_a_length_may_be_called_one(tmp_path: Path, written: str) -> None:
    assert the_line(tmp_path, Length=written).shape == CutLength(length_nm=914_400_000)


@pytest.mark.parametrize(
    "written",
    [
        *("36 ±1/32", "36 +/- .03", "36 +0/-.02", "36 +.010 -.020", "36 (-0/+1/8)", "36 +1/8 -0"),
        *("36 max", '36" nom', "~36"),
    ],
)
def test_a_tolerance_belongs_in_the_notes(tmp_path: Path, written: str) -> None:
    cell, message = the_error(tmp_path, Length=written)
    assert (cell, "write the tolerance under Notes" in message) == ("I2", True)


def test_tube_drawn_over_a_mandrel_by_its_type_comes_in_bright(tmp_path: Path) -> None:
    line = the_line(tmp_path, Material="A513 T5")
    assert (line.spec.grade, line.spec.surface) == ("A513-5", Surface.BRIGHT)


def test_a_heading_between_orders_is_left_out_and_warned_of(tmp_path: Path) -> None:
    heading: dict[str, Cell] = {"Order": "Customer: Jones"}
    found = reading(tmp_path, an_order(), heading, an_order(Order="1188"))
    assert [line.order for line in found.orders] == ["1187", "1188"]
    assert [(f.cell, f.severity) for f in found.findings] == [("A3", Severity.WARNING)]


def test_rows_below_a_heading_without_an_order_are_of_what_it_says(tmp_path: Path) -> None:
    heading: dict[str, Cell] = {"Order": "Job 1188"}
    rows = [an_order(), heading, an_order(Order=None), an_order(Order=None, Line="2")]
    found = reading(tmp_path, *rows)
    assert [line.order for line in found.orders] == ["1187", "Job 1188", "Job 1188"]


def test_a_row_that_names_no_tube_is_told_once(tmp_path: Path) -> None:
    row: dict[str, Cell] = {"Order": "1187", "Part": "Freight", "Quantity": 1, "Due": "2026-12-04"}
    found = reading(tmp_path, an_order(), row)
    assert [f.cell for f in found.findings] == ["A3"]
    assert "names no tube" in found.findings[0].message


@pytest.mark.parametrize(
    ("length", "cells"),
    [
        ("Length", {"Length": "54 blank"}),
        ("Length", {"Length is": "developed length"}),
        ("Length", {"Length is": "cut"}),
        ("Cut length (in)", {}),
        ("Blank length", {}),
        ("Dev. length in", {}),
        ("Unbent length", {}),
    ],
)
def test_a_part_with_a_number_of_bends_and_the_length_of_its_blank_is_bent_from_that(
    length: str, cells: dict[str, Cell], tmp_path: Path
) -> None:
    row = {**an_order(Length=54, Bends="2 pcs", **{"Bend radius": 4.5}), **cells}
    row = {(length if name == "Length" else name): value for name, value in row.items()}
    found = reading(tmp_path, row)
    assert not found.findings
    shape = BentBlank(length_nm=54 * NM_PER_INCH, bends=2, clr_nm=114_300_000)
    assert found.orders[0].shape == shape


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        ({"Bent": 2}, "write blank under Length is, if"),
        ({"Bent": "yes", "Length is": "blank"}, "write how many bends under Bent; or no"),
        ({"Bent": "yes"}, "write how many bends under Bent and blank under Length is, if"),
        ({"Bent": 2, "Length is": "overall"}, "write blank under Length is, if"),
        ({"Bent": 2, "Length is": "axis to axis", "Ends": "saddle 2"}, "write blank under"),
        ({"Bent": 2, "Length": None}, "write the length of its blank under Length, and blank"),
        ({"Length is": "bent", "Bent": 2}, "write blank under Length is, if"),
    ],
)
def test_a_bent_part_of_which_too_little_is_known_is_told_what_to_write(
    cells: dict[str, Cell], words: str, tmp_path: Path
) -> None:
    cell, message = the_error(tmp_path, **{"Bent": None, **cells})
    assert cell == "C2"
    assert words in message


def test_the_rows_of_bends_come_before_a_number_of_bends(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Part="Hoop", Length="54 blank", Bent=5), Bends=HOOP)
    assert isinstance(found.orders[0].shape, Bent)
    assert ["not used, since part Hoop" in f.message for f in found.findings] == [True]


def test_a_radius_of_a_part_that_nothing_says_is_bent_is_doubted(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(CLR=4.5), an_order(Line=2, Length="54 blank"))
    assert [type(line.shape) for line in found.orders] == [CutLength, CutLength]
    assert ["write how many bends under Bent" in f.message for f in found.findings] == [True]


@pytest.mark.parametrize("bent", ["Y", "yes", 2, "3"])
def test_a_part_that_is_to_be_bent_must_be_in_bends(tmp_path: Path, bent: Cell) -> None:
    row = {**an_order(), "Bend?": bent}
    found = reading(tmp_path, row, {**row, "Part": "Hoop", "Line": "2", "Length": None}, Bends=HOOP)
    assert [isinstance(line.shape, Bent) for line in found.orders] == [True]
    assert [(f.cell, "or no under Bend?" in f.message) for f in found.findings] == [("C2", True)]


@pytest.mark.parametrize("bent", ["N", "no", 0, "-", None])
def test_a_part_that_is_not_bent_is_cut_alone(tmp_path: Path, bent: Cell) -> None:
    found = reading(tmp_path, {**an_order(), "Bends": bent})
    assert not found.findings
    assert isinstance(found.orders[0].shape, CutLength)


@pytest.mark.parametrize(
    "word",
    [
        *("Report total", "Total for week", "Sub-total Jones", "Week sum", "Zwischensumme"),
        *("Job 2241 total", "#7 GT total", "Total: 14"),
    ],
)
def test_totals_may_be_called_in_several_words(tmp_path: Path, word: str) -> None:
    found = reading(tmp_path, an_order(), {"Order": word, "Quantity": 4})
    assert not found.findings
    assert any("row of totals" in each for each in found.readings)


def test_a_date_below_req_d_is_the_due_date_where_pieces_have_a_column(tmp_path: Path) -> None:
    row = {("Req'd" if key == "Due" else key): value for key, value in an_order().items()}
    (line,) = reading(tmp_path, row).orders
    assert (line.quantity, line.due.day) == (4, 4)
    counted = {("Req'd" if key == "Quantity" else key): value for key, value in an_order().items()}
    (line,) = reading(tmp_path, counted).orders
    assert (line.quantity, line.due.day) == (4, 4)


@pytest.mark.parametrize(("ranks", "doubted"), [((1, 2, 3), True), ((1, 1), False), ((5,), False)])
def test_priorities_from_1_on_are_doubted(
    tmp_path: Path, ranks: tuple[int, ...], doubted: bool
) -> None:
    rows = [an_order(Line=str(n), Priority=rank) for n, rank in enumerate(ranks)]
    found = reading(tmp_path, *rows)
    assert [line.weight for line in found.orders] == list(ranks)
    assert ["if 1 is the most urgent" in f.message for f in found.findings] == [True] * doubted


def test_a_day_without_a_year_that_comes_out_months_ahead_is_warned_of(tmp_path: Path) -> None:
    rows = [an_order(Line=str(n), Due=due) for n, due in enumerate(("12/14", "4/12", "12/4/2026"))]
    found = read_workbook(some_orders(tmp_path / "w.xlsx", *rows), start=dt.date(2026, 11, 30))
    (warning,) = found.findings
    assert (warning.cell, warning.read) == ("J3", "4/12")
    assert "due on 2027-04-12, months ahead" in warning.message


def test_a_remark_in_brackets_is_shown_whole_where_a_length_is_refused(tmp_path: Path) -> None:
    rows = [
        an_order(Line=str(n), Length=text) for n, text in ((1, "36 (field cut)"), (2, "40 (cut)"))
    ]
    found = reading(tmp_path, *rows)
    assert [finding.read for finding in found.findings] == ["36 (field cut)"]
    (line,) = found.orders
    assert line.shape == CutLength(length_nm=parse_length("40").nm)


def test_a_radius_in_ods_is_read_by_the_row_s_od(tmp_path: Path) -> None:
    row = an_order(Length_is="blank", Bent="2", CLR="2.5 D")
    found = reading(tmp_path, row)
    assert found.orders[0].shape == BentBlank(length_nm=914_400_000, bends=2, clr_nm=95_250_000)
    assert any('“2.5 D” read as 3-3/4", 2.5 times the OD' in each for each in found.readings)


@pytest.mark.parametrize(
    ("ordered", "in_stock"),
    [
        *(("1.4301", "304"), ("304", "1.4301"), ("304 (1.4301)", "304"), ("1.0308", "E235")),
        *(("X2CrNiMo17-12-2", "316L"), ("1.4307/1.4301", "304/304L"), ("1.4301", "304/304L")),
    ],
)
def test_a_steel_by_its_european_number_is_the_one_in_stock(
    tmp_path: Path, ordered: str, in_stock: str
) -> None:
    stock = [["Material", "OD", "Wall", "Length"], [in_stock, "1-1/2", ".065", "20 ft"]]
    found = reading(tmp_path, an_order(Material=ordered), Stock=stock)
    assert {line.spec.grade for line in found.orders} == {in_stock}
    assert any(f"{in_stock}, as in Stock" in each for each in found.readings)


@pytest.mark.parametrize(
    ("ordered", "in_stock"), [("1.4435", "316L"), ("1.4301", "304L"), ("1.0308", "A513")]
)
def test_a_steel_that_is_only_like_the_one_in_stock_is_another(
    tmp_path: Path, ordered: str, in_stock: str
) -> None:
    stock = [["Material", "OD", "Wall", "Length"], [in_stock, "1-1/2", ".065", "20 ft"]]
    found = reading(tmp_path, an_order(Material=ordered), Stock=stock)
    assert {line.spec.grade for line in found.orders} == {ordered}


@pytest.mark.parametrize(
    ("material", "alloy", "family", "grade"),
    [
        ("Steel", "4130", Family.ALLOY, "4130"),
        ("Steel", "304", Family.STAINLESS, "304"),
        ("Steel", "A513", Family.CARBON, "A513"),
        ("Steel", "X60", Family.CARBON, "X60"),
        ("Aluminum", "6061-T6", Family.ALUMINIUM, "6061-T6"),
    ],
)
@pytest.mark.parametrize("header", ["Alloy", "Grade"])
def test_a_second_column_of_materials_is_the_grade(
    tmp_path: Path, header: str, material: str, alloy: str, family: Family, grade: str
) -> None:
    found = reading(tmp_path, {**an_order(Material=material), header: alloy})
    assert [(line.spec.family, line.spec.grade) for line in found.orders] == [(family, grade)]
    assert found.findings == ()


@pytest.mark.parametrize(("said", "weight"), [("True", 5), ("FALSE", 1), (True, 5), (False, 1)])
def test_a_rush_may_be_true_or_false(tmp_path: Path, said: Cell, weight: int) -> None:
    (line,) = reading(tmp_path, {**an_order(), "IsRush": said}).orders
    assert line.weight == weight


@pytest.mark.parametrize(
    ("header", "said", "weight"),
    [("Prioridad", "alta", 3), ("Priorität", "eilig", 5), ("Priorité", "normale", 1)],
)
def test_priorities_may_be_german_french_or_spanish(
    tmp_path: Path, header: str, said: str, weight: int
) -> None:
    (line,) = reading(tmp_path, {**an_order(), header: said}).orders
    assert line.weight == weight


def test_ln_is_a_line_and_a_row_entered_twice_may_be_deleted(tmp_path: Path) -> None:
    row = {("Ln" if name == "Line" else name): value for name, value in an_order().items()}
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", row, row))
    assert [line.key for line in reading.orders] == ["1187/1"]
    (finding,) = reading.findings
    assert finding.cell == "B3"
    assert "or delete it if it was entered twice" in finding.message


@pytest.mark.parametrize("header", ["Gehrung links", "Onglet", "Ausklinkung", "Inglete"])
def test_a_column_of_ends_in_another_language_that_is_not_read_is_warned_of(
    header: str, tmp_path: Path
) -> None:
    order = {**an_order(), header: "45"}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", order)).findings
    assert any(f"the column “{header}” is not read" in each.message for each in found)
