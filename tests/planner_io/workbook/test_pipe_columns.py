"""Sizes whose meaning stands in another cell are read as it says, and told."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.tube import TubeSpec
from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders

NPS_1_1_2 = 48_260_000
"""Outside diameter by ASME B36.10M: 1.900 in."""


def reading(path: Path, **changes: Cell) -> Reading:
    row = {key: value for key, value in an_order().items() if key not in {"OD", "Wall"}}
    return read_workbook(some_orders(path / "w.xlsx", {**row, **changes}))


def the_spec(path: Path, **changes: Cell) -> TubeSpec:
    found = reading(path, **changes)
    assert not found.findings, found.findings
    return found.orders[0].spec


@pytest.mark.parametrize(
    "cells",
    [
        {"OD": '1-1/2"', "Wall": "sch 40"},
        {"OD": "1-1/2", "Wall": "S40"},
        {"OD": "1-1/2", "Wall": "S/40"},
        {"Size": 1.5, "Sch": 40},
        {"Size": "1½", "Sch": "S40"},
        {"Pipe size": "1-1/2", "Schedule": "40S"},
        {"NPS": "1-1/2", "Wall": 0.145},
        {"Pipe": "1.5", "Wall": "40"},
        {"OD": "1.5 NPS", "Wall": 40},
        {"OD": "1.900", "Sch": "STD"},
        {"DN": 40, "Wall": "3.683 mm"},
    ],
)
def test_a_pipe_size_beside_its_schedule_or_below_its_header_has_the_od_of_pipe(
    tmp_path: Path, cells: dict[str, Cell]
) -> None:
    spec = the_spec(tmp_path, **cells)
    assert (spec.od_nm, spec.wall_nm) == (NPS_1_1_2, 3_683_000)


@pytest.mark.parametrize(
    ("cells", "od_nm"),
    [
        ({"Pipe size": "4", "Sch": 40}, 114_300_000),
        ({"OD": "4.000", "Sch": 40}, 101_600_000),
        ({"OD": "4.5", "Sch": 40}, 114_300_000),
        ({"OD": "1-1/2", "Wall": "16 ga"}, 38_100_000),
        ({"Pipe size": "1-1/2 OD", "Wall": ".065"}, 38_100_000),
    ],
)
def test_a_measured_od_stays_what_it_is(tmp_path: Path, cells: dict[str, Cell], od_nm: int) -> None:
    assert the_spec(tmp_path, **cells).od_nm == od_nm


@pytest.mark.parametrize("size", ["4", "3-1/2", 3.5])
def test_an_od_that_is_also_a_nominal_size_is_not_guessed(tmp_path: Path, size: Cell) -> None:
    """NPS 3-1/2 has an OD of 4 in and NPS 3 one of 3-1/2 (ASME B36.10M)."""
    found = reading(tmp_path, OD=size, Wall="sch 40")
    assert not found.orders
    assert [finding.cell for finding in found.findings] == ["I2"]
    assert "are two" in found.findings[0].message


@pytest.mark.parametrize("wall", [16, "16", 16.0])
def test_a_whole_number_of_inches_is_a_gauge(tmp_path: Path, wall: Cell) -> None:
    assert the_spec(tmp_path, OD="1-1/2", Wall=wall).wall_nm == 1_651_000


@pytest.mark.parametrize("cells", [{"Wall": 3}, {"Wall": 40}, {"Wall (in)": 16}])
def test_a_number_that_is_no_gauge_is_refused(tmp_path: Path, cells: dict[str, Cell]) -> None:
    assert not reading(tmp_path, OD="1-1/2", **cells).orders


@pytest.mark.parametrize("header", ["Wt (lb)", "Wt, kg", "Wt lbs", "Weight (WT)"])
def test_a_weight_is_no_wall(header: str, tmp_path: Path) -> None:
    order = {key: cell for key, cell in an_order(OD="1-1/2 x .065").items() if key != "Wall"}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", {**order, header: 18}))
    assert [line.spec.wall_nm for line in found.orders] == [1_651_000]
    assert any(f"not used: {header}" in text for text in found.readings)


@pytest.mark.parametrize(
    ("header", "wall_nm"), [("Wall (SWG)", 1_625_600), ("SWG", 1_625_600), ("BWG", 1_651_000)]
)
def test_a_gauge_is_of_the_table_that_its_header_names(
    tmp_path: Path, header: str, wall_nm: int
) -> None:
    order = {key: cell for key, cell in an_order(OD="1-1/2").items() if key != "Wall"}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", {**order, header: 16}))
    assert [line.spec.wall_nm for line in found.orders] == [wall_nm]


def test_a_wall_in_decimals_under_a_schedule_is_a_wall(tmp_path: Path) -> None:
    order = {key: cell for key, cell in an_order(OD="1.900").items() if key != "Wall"}
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", {**order, "Sch": "0.145"})).orders
    assert line.spec.wall_nm == 3_683_000


@pytest.mark.parametrize(
    ("od", "wall", "wall_nm"),
    [("2", "16ga", 1_651_000), ("1-1/2", "1/8", 3_175_000), ("1-1/4 pipe", "40", 3_556_000)],
)
def test_a_column_of_schedules_and_walls_has_both(
    tmp_path: Path, od: str, wall: str, wall_nm: int
) -> None:
    """BWG 16 is .065 in; schedule 40 of NPS 1-1/4 is .140 in by ASME B36.10M (from memory)."""
    found = reading(tmp_path, OD=od, **{"Sched/Wall": wall})
    assert [line.spec.wall_nm for line in found.orders] == [wall_nm]
