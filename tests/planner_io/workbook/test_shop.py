"""The shop's own sheets are read whole or in part; the starter shop fills in and it is told."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from planner.errors import Severity
from planner.shop import HoursKind, StationKind, What
from planner.units import NM_PER_INCH
from planner_io.starter import starter_shop
from planner_io.workbook import Reading, read_workbook
from planner_io.workbook.shop_rows import weekdays_of
from tests.planner_io.workbook.sheets import Cell, a_workbook, an_order, some_orders

Rows = list[list[Cell]]


def reading(path: Path, **sheets: Rows) -> Reading:
    return read_workbook(some_orders(path / "w.xlsx", an_order(), **sheets))


def errors(found: Reading) -> list[tuple[str | None, str | None]]:
    return [(f.sheet, f.cell) for f in found.findings if f.severity == Severity.ERROR]


def test_without_shop_sheets_it_is_the_starter_shop(tmp_path: Path) -> None:
    found = reading(tmp_path)
    assert found.shop == starter_shop()
    assert any("built-in starter shop" in text for text in found.readings)


def test_the_sheet_of_the_week_comes_before_that_of_the_shop_file(tmp_path: Path) -> None:
    rails: Rows = [["Rail", "Thickness"], ["mine", "1/8"]]
    people: Rows = [["Person", "Stations"], ["Ash", "all"]]
    shop = a_workbook(
        tmp_path / "shop.xlsx",
        Rails=[["Rail", "Thickness"], ["theirs", "1/4"]],
        People=people,
        Settings=[["Setting", "Value"], ["Shop name", "Theirs"], ["Plan starts", "2026-11-30"]],
    )
    week = some_orders(
        tmp_path / "w.xlsx",
        an_order(),
        Rails=rails,
        Settings=[["Setting", "Value"], ["Name", "Mine"]],
    )
    found = read_workbook(week, shop)
    assert [rail.name for rail in found.shop.rails] == ["mine"]
    assert [person.name for person in found.shop.people] == ["Ash"]
    assert found.shop.house.name == "Mine"
    assert found.start == dt.date(2026, 11, 30)


def test_sheets_that_are_missing_are_told_with_the_stations(tmp_path: Path) -> None:
    found = reading(tmp_path, Rails=[["Rail", "Thickness"], ["mine", "1/8"]])
    (warning,) = found.findings
    assert (warning.severity, warning.sheet) == (Severity.WARNING, "Stations")
    assert "missing sheets: Stations, People, Hours" in warning.message
    assert "Rails" not in warning.message


def test_settings_reach_a_kind_or_one_station(tmp_path: Path) -> None:
    found = reading(
        tmp_path,
        Settings=[
            ["Station", "Setting", "Value"],
            ["saw", "Kerf", "1/8"],
            ["saw", "A cut", "30 s"],
            ["Cold saw", "Kerf", "3 mm"],
            ["Bender", "a bend", 50],
            ["Finisher", "Least tilt", 3],
            ["Finisher", "Slowest feed", "30 in/min"],
            ["House", "Value of a remnant", "40 %"],
            ["House", "Longest piece first", "no"],
        ],
    )
    assert errors(found) == []
    shop = found.shop
    assert shop.station("Cold saw").saw.kerf_nm == 3_000_000
    assert shop.station("Cold saw").saw.cut_s == 30
    assert shop.station("Bender").bender.bend_s == 50
    assert shop.station("Finisher").finisher.tilt_min_mdeg == 3_000
    assert shop.station("Finisher").finisher.feed_min_mm_min == 762
    assert (shop.house.remnant_share, shop.house.longest_first) == (0.4, False)


def test_the_unit_of_the_house_holds_for_every_bare_number(tmp_path: Path) -> None:
    path = some_orders(
        tmp_path / "w.xlsx",
        an_order(OD=38.1, Wall=1.651, Length=900),
        Settings=[["Setting", "Value"], ["Unit", "mm"]],
        Rails=[["Rail", "Thickness"], ["thin", 3]],
    )
    found = read_workbook(path)
    assert found.orders[0].spec.od_nm == 38_100_000
    assert found.shop.rails[0].thickness_nm == 3_000_000


def test_a_setting_without_a_station_is_of_the_only_kind_that_has_it(tmp_path: Path) -> None:
    rows: Rows = [["Setting", "Value"], ["Unit", "metric"], ["Kerf", 3], ["Pieces at once", 2]]
    found = reading(tmp_path, Settings=rows)
    assert found.shop.station("Cold saw").saw.kerf_nm == 3_000_000
    assert found.shop.house.unit == "mm"
    assert errors(found) == [("Settings", "A4")]
    assert any("“Kerf” read for each saw" in note for note in found.readings)


def test_what_is_changed_may_be_called_otherwise(tmp_path: Path) -> None:
    rows: Rows = [
        ["Station", "What", "Minutes"],
        ["Finisher", "diameter", 15],
        ["Finisher", "Grit", 6],
        ["Notcher", "hole saw", 8],
    ]
    found = reading(tmp_path, Changeovers=rows)
    assert errors(found) == []
    assert [row.what for row in found.shop.changeovers] == [What.OD, What.BELT, What.CUTTER]


@pytest.mark.parametrize(
    ("row", "cell"),
    [
        (["House", "Colour", "red"], "B2"),
        (["Moon", "Kerf", "1/8"], "A2"),
        (["saw", "Kerf", "wide"], "C2"),
        (["House", "Unit", "cubits"], "C2"),
        (["House", "Value of a remnant", 40], "C2"),
    ],
)
def test_a_setting_that_cannot_be_is_told_at_its_cell(
    row: list[Cell], cell: str, tmp_path: Path
) -> None:
    found = reading(tmp_path, Settings=[["Station", "Setting", "Value"], row])
    assert errors(found) == [("Settings", cell)]


def test_time_to_spare_is_read_in_minutes_or_hours(tmp_path: Path) -> None:
    rows: Rows = [
        ["Setting", "Value"],
        ["Time to spare before due", "1-1/2 h"],
        ["Spare is worth", 0],
    ]
    house = reading(tmp_path, Settings=rows).shop.house
    assert (house.spare_min, house.spare_worth_min) == (90, 0)


STATIONS: Rows = [
    ["Station", "Kind", "Base", "Smallest OD", "Largest OD"],
    ["Belt machine", "finisher", "Frame", "1/2", 3],
    ["Coper", "notcher", "Frame", None, None],
    ["Band saw", "saw", None, None, None],
]


def test_own_stations_take_only_what_fits_from_the_starter_shop(tmp_path: Path) -> None:
    found = reading(tmp_path, Stations=STATIONS)
    shop = found.shop
    assert [station.name for station in shop.stations] == ["Belt machine", "Coper", "Band saw"]
    assert shop.people == ()
    assert shop.tools == ()
    assert shop.mounted == ()
    assert shop.recipes == starter_shop().recipes
    assert shop.wheels == ()
    (told,) = [it.message for it in found.findings if "for missing sheets" in it.message]
    assert "for missing sheets: Hours, Belts, Recipes, Rails;" in told


def test_own_stations_without_changeovers_are_told_that_these_count_as_no_minutes(
    tmp_path: Path,
) -> None:
    def told(**sheets: Rows) -> bool:
        findings = reading(tmp_path, **sheets).findings
        return any("all changes count as no minutes" in it.message for it in findings)

    changes: Rows = [["Station", "What", "Minutes"], ["Belt machine", "belt", 5]]
    assert told(Stations=STATIONS)
    assert not told(Stations=STATIONS, Changeovers=changes)
    assert not told(Settings=[["Setting", "Value"], ["Unit", "mm"]])


def test_names_of_stations_are_found_by_meaning(tmp_path: Path) -> None:
    found = reading(
        tmp_path,
        Stations=STATIONS,
        People=[["Person", "Runs"], ["Ash", "belt machine, saw"], ["Bo", "all"]],
        Wheels=[["Station", "Contact", "Brake", "Rpm"], ["BELT-MACHINE", 10, 6, 60]],
        Changeovers=[
            ["Station", "What", "From", "To", "Minutes"],
            ["Frame", "attachment", None, None, 10],
            ["finisher", "OD", '1-1/2"', "2", 8],
            ["Belt machine", "clean-down", "steel", "SS", "20 min"],
        ],
        Mounted=[["Station", "What", "Value"], ["Belt machine", "OD", "38.1 mm"]],
    )
    assert errors(found) == []
    shop = found.shop
    assert shop.people[0].stations == ("Belt machine", "Band saw")
    assert shop.people[1].stations == ("Belt machine", "Coper", "Band saw")
    assert shop.wheels[0].station == "Belt machine"
    rows = [(row.station, row.what, row.before, row.after) for row in shop.changeovers]
    assert rows == [
        ("Frame", What.ATTACHMENT, None, None),
        ("finisher", What.OD, "38100000", "50800000"),
        ("Belt machine", What.FAMILY, "carbon", "stainless"),
    ]
    assert shop.mounted[0].value == "38100000"


@pytest.mark.parametrize(
    ("sheet", "rows", "cell"),
    [
        ("People", [["Person", "Stations"], ["Ash", "the moon"]], "B2"),
        ("Hours", [["Day", "From", "To"], ["Mon", "7", "later"]], "C2"),
        ("Hours", [["Day", "From", "To"], ["Someday", "7:00", "15:00"]], "A2"),
        ("Hours", [["Day", "From", "To"], ["Mon", "7:00", None]], "C2"),
        (
            "Belts",
            [["Belt", "Grade", "Families", "Width", "Thickness"], ["b", "P81", "all", 2, 1]],
            "B2",
        ),
        ("Rails", [["Rail", "Thickness"], ["r", "0"]], "B2"),
        (
            "Tooling",
            [["Tool", "Kind", "Station", "OD", "CLR"], ["d", "die", "Bender", 2, None]],
            "E2",
        ),
        ("Tooling", [["Tool", "Kind", "Station", "OD"], ["d", "spoon", "Bender", 2]], "B2"),
        ("Wheels", [["Station", "Contact", "Brake", "Rpm"], ["Bender", 10, 6, 60]], "A2"),
        ("Wheels", [["Station", "Contact", "Brake", "Rpm"], ["Finisher", 10, 6, 0]], "D2"),
        ("Recipes", [["Finish", "Grade", "Passes"], ["Satin", "P180", 0]], "C2"),
        ("Changeovers", [["Station", "What", "Minutes"], ["Finisher", "mood", 3]], "B2"),
        ("Stations", [["Station", "Kind"], ["Oven", "baker"]], "B2"),
    ],
)
def test_a_mistake_in_a_shop_sheet_is_told_at_its_cell(
    sheet: str, rows: Rows, cell: str, tmp_path: Path
) -> None:
    found = errors(reading(tmp_path, **{sheet: rows}))
    assert [error for error in found if error[0] == sheet] == [(sheet, cell)]


def test_kinds_of_stations_and_hours_may_be_called_otherwise_which_is_told(tmp_path: Path) -> None:
    hours: Rows = [
        ["Who", "Day", "Kind", "From", "To"],
        ["shop", "Mon-Fri", "2nd shift", "7:00", "15:30"],
        ["shop", "Mon-Fri", "Lunch", "12:00", "12:30"],
        ["shop", "Sat", "OT", "7:00", "11:00"],
        ["shop", "2026-12-24", "holiday", None, None],
    ]
    stations: Rows = [["Station", "Kind"], ["Grinder 1", "belt grinder"], ["Saw 1", "Band saw"]]
    found = reading(tmp_path, Hours=hours, Stations=stations)
    assert errors(found) == []
    assert [each.kind for each in found.shop.stations] == [StationKind.FINISHER, StationKind.SAW]
    kinds = [*[HoursKind.WORK] * 5, *[HoursKind.BREAK] * 5, HoursKind.OVERTIME, HoursKind.CLOSED]
    assert [row.kind for row in found.shop.hours] == kinds
    told = ("“Lunch” read as break", "“OT” read as overtime", "“Band saw” read as saw")
    assert all(any(text in note for note in found.readings) for text in told)


def test_somebody_may_run_all_but_some_stations_in_several_rows(tmp_path: Path) -> None:
    people: Rows = [
        ["Person", "Stations", "Hours"],
        ["Ash", "finisher, saw", "7 to 3"],
        ["Bo", "everything but the finisher and the saw", None],
        ["ash", "bender", None],
    ]
    found = reading(tmp_path, People=people)
    assert errors(found) == []
    assert [(each.name, each.stations) for each in found.shop.people] == [
        ("Ash", ("Finisher", "Cold saw", "Bender")),
        ("Bo", ("Notcher", "Bender", "Bench")),
    ]
    assert any("Ash has several rows" in note for note in found.readings)
    (told,) = (f for f in found.findings if "column Hours is not read" in f.message)
    assert (told.cell, told.severity) == ("C1", Severity.WARNING)


def test_stations_with_a_comma_in_their_names_may_stand_in_a_list(tmp_path: Path) -> None:
    stations: Rows = [
        ["Station", "Kind"],
        ["Finisher", "finisher"],
        ["Saw, cold", "saw"],
        ["Saw, band", "saw"],
        ["Notch and cope", "notcher"],
    ]
    people: Rows = [
        ["Person", "Stations"],
        ["Ash", "Finisher, saw,cold, Notch and cope"],
        ["Bo", "all but Saw, Band and Finisher"],
        ["Cy", "saw, finisher"],
    ]
    found = reading(tmp_path, Stations=stations, People=people)
    assert errors(found) == []
    assert [each.stations for each in found.shop.people] == [
        ("Finisher", "Saw, cold", "Notch and cope"),
        ("Saw, cold", "Notch and cope"),
        ("Saw, cold", "Saw, band", "Finisher"),
    ]


def test_hours_name_days_in_words_ranges_or_dates(tmp_path: Path) -> None:
    hours: Rows = [
        ["Who", "Day", "Kind", "From", "To"],
        ["shop", "Mon-Thu", "work", "06:30", "3 pm"],
        [None, "Friday", None, dt.time(6, 30), 0.5],
        ["Cold saw", "2026-12-24", "closed", None, None],
    ]
    found = reading(tmp_path, Hours=hours)
    rows = found.shop.hours
    assert errors(found) == []
    assert [row.weekday for row in rows] == [0, 1, 2, 3, 4, None]
    assert (rows[0].start_min, rows[0].end_min) == (390, 900)
    assert (rows[4].start_min, rows[4].end_min) == (390, 720)
    assert (rows[5].kind, rows[5].day) == (HoursKind.CLOSED, dt.date(2026, 12, 24))


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("Mon", [0]),
        ("Tuesdays", [1]),
        ("Thurs", [3]),
        ("Mon - Fri", [0, 1, 2, 3, 4]),
        ("Sat, Sun", [5, 6]),
        ("Fri to Mon", [0, 4, 5, 6]),
        ("weekdays", [0, 1, 2, 3, 4]),
        ("Mayday", []),
        ("2026-12-04", []),
    ],
)
def test_weekdays_are_read_alone_and_in_ranges(text: str, days: list[int]) -> None:
    assert weekdays_of(text) == days


def test_a_recipe_has_a_row_for_each_belt(tmp_path: Path) -> None:
    found = reading(
        tmp_path,
        Recipes=[
            ["Finish", "Grit", "Passes", "Families"],
            ["Satin P180", "P120", 2, "stainless"],
            [None, "P180", 1, None],
        ],
    )
    (recipe,) = found.shop.recipes
    assert [step.grade.label for step in recipe.steps] == ["P120", "P180"]
    assert set(recipe.steps[0].passes.values()) == {2}


@pytest.mark.parametrize("radius", ["3D", "3 x OD", "4-1/2"])
def test_the_radius_of_a_die_may_be_in_ods(tmp_path: Path, radius: str) -> None:
    tooling: Rows = [["Die", "Type", "Station", "OD", "CLR"], ["d", "die", "Bender", 1.5, radius]]
    found = reading(tmp_path, Tooling=tooling)
    assert errors(found) == []
    assert [tool.clr_nm for tool in found.shop.tools] == [4 * NM_PER_INCH + NM_PER_INCH // 2]


def test_a_cutter_needs_no_radius(tmp_path: Path) -> None:
    header: list[Cell] = ["Tool", "Kind", "Station", "OD", "CLR"]
    rows: Rows = [header, ["a", "cutter", "Notcher", 1.5, 0], ["b", "cutter", "Notcher", 2, None]]
    found = reading(tmp_path, Tooling=rows)
    assert errors(found) == []
    assert [tool.clr_nm for tool in found.shop.tools] == [0, 0]
