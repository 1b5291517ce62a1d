"""The demo weeks are what their tables say, and show what they are meant to show."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

import pytest

from demo_orders.make import HERE, workbooks
from planner.blanks import make_blanks
from planner.errors import Severity
from planner.finisher.learned import learn
from planner.orders import Bent, EndKind
from planner_io.logbook import read_log
from planner_io.workbook import Reading, checked, read_workbook
from planner_io.workbook.load import load_grids

NAMES = ("small.xlsx", "usual.xlsx", "messy.xlsx")


@cache
def week(name: str) -> Reading:
    return read_workbook(HERE / name)


@pytest.mark.parametrize("name", NAMES)
def test_the_workbooks_hold_what_their_tables_say(name: str, tmp_path: Path) -> None:
    fresh = tmp_path / name
    fresh.write_bytes(workbooks()[name])
    assert load_grids(fresh) == load_grids(HERE / name)


def test_a_workbook_is_written_with_the_same_bytes_each_time() -> None:
    assert workbooks() == workbooks()


@pytest.mark.parametrize("name", NAMES)
def test_every_week_starts_on_a_monday_that_its_settings_name(name: str) -> None:
    assert week(name).start == date(2026, 11, 30)


@pytest.mark.parametrize(("name", "lines"), [("small.xlsx", 12), ("usual.xlsx", 60)])
def test_the_good_weeks_have_no_errors(name: str, lines: int) -> None:
    reading = week(name)
    blanks = make_blanks(reading.orders, reading.stock, reading.shop)
    assert reading.findings == ()
    assert len(blanks.blanks) == lines
    assert not [f for f in blanks.findings if f.severity == Severity.ERROR]


def test_the_usual_week_is_as_varied_as_its_description() -> None:
    orders, stock = week("usual.xlsx").orders, week("usual.xlsx").stock
    assert 8 <= len({line.spec.od_nm for line in orders}) <= 12
    assert len({line.spec.family for line in orders}) == 4
    assert len({line.recipe for line in orders if line.recipe}) == 5
    assert len({line.due for line in orders}) >= 4
    assert len({line.weight for line in orders}) >= 3
    assert any(isinstance(line.shape, Bent) for line in orders)
    assert {end.kind for line in orders for end in line.ends} == set(EndKind)
    assert any(line.touch_up_s for line in orders)
    assert any(item.remnant for item in stock)
    assert any(item.finished for item in stock)
    assert any(item.lead_days for item in stock)
    assert any(item.count and not item.remnant for item in stock)


@pytest.mark.parametrize(
    ("severity", "words"),
    [
        ("error", "stands in row 11 already"),
        ("error", "Quantity: read “0”"),
        ("error", "not a whole number"),
        ("error", "Mirror No. 8"),
        ("error", "unobtainium"),
        ("error", "12 ft 3 x"),
        ("error", "soon"),
        ("error", "the formula failed"),
        ("error", "axis to axis needs a saddle"),
        ("error", "R-401"),
        ("error", "bent tube cannot go through the finisher"),
        ("error", "no die"),
        ("error", "outside what the finisher takes"),
        ("error", "longer than any stick"),
        ("error", "shorter than"),
        ("warning", "in Bends"),
        ("warning", "too short to feed by hand"),
        ("warning", "thin for a bend"),
        ("warning", "From P120 to P320"),
    ],
)
def test_the_messy_week_is_told_what_is_wrong_with_it(severity: str, words: str) -> None:
    problems = checked(week("messy.xlsx")).as_json()["problems"]
    words = words.replace("“", '"').replace("”", '"')
    found = [p["severity"] for p in problems if words in p["message"]]
    assert severity in found


def test_the_good_lines_of_the_messy_week_are_read() -> None:
    orders = {line.key: line for line in week("messy.xlsx").orders}
    assert orders["2701/1"].spec.wall_nm == 1_651_000
    assert orders["2701/2"].due.date() == date(2026, 12, 4)
    assert orders["2702/2"].due.date() == date(2026, 12, 3)
    assert orders["2703/1"].touch_up_s == 90


def test_the_log_teaches_what_the_invented_shop_does() -> None:
    found = read_log(HERE / "log.xlsx", HERE / "usual.xlsx")
    lesson = learn(found.shop, found.runs)
    settings = lesson.shop.stations[0].finisher
    assert found.findings == ()
    assert 0.79 < settings.slip < 0.87
    assert 27 < settings.handling_s < 37
    assert [drift.name for drift in lesson.drifts] == ["P120 steel"]
    assert [outlier.row for outlier in lesson.calibration.outliers] == [41]
