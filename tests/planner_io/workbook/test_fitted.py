"""Radii and ODs of another unit's round figures find their tools, and it is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.orders import Bent, BentBlank
from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders

HEAD: list[Cell] = ["Part", "Straight (mm)", "Angle", "CLR (mm)"]
TOOLS: list[Cell] = ["Tool", "Kind", "Station", "OD", "CLR"]


def bent_at(path: Path, *radii: float, od: str = "2", tools: list[list[Cell]]) -> Reading:
    """A part with a bend of each of these radii, in a shop with these tools."""
    rows: list[list[Cell]] = [["Hoop", 300, 45, radius] for radius in radii]
    order = an_order(Part="Hoop", Length=None, OD=od)
    bends: list[list[Cell]] = [HEAD, *rows, ["Hoop", 300]]
    book = some_orders(path / "w.xlsx", order, Bends=bends, Tooling=[TOOLS, *tools])
    return read_workbook(book)


def blank_at(path: Path, clr: Cell, *tools: list[Cell], od: str = "2") -> Reading:
    """A part with two bends of this radius and no geometry, in a shop with these tools."""
    order = an_order(Length="54 blank", OD=od, Bent=2, CLR=clr)
    return read_workbook(some_orders(path / "w.xlsx", order, Tooling=[TOOLS, *tools]))


def a_die(od: str = "2", clr: str = '6"') -> list[Cell]:
    return [f"die {od} x {clr}", "die", "Bender", od, clr]


def radii_of(found: Reading) -> list[float]:
    shape = found.orders[0].shape
    assert isinstance(shape, Bent)
    return [row.clr_nm / 1e6 for row in shape.rows if row.angle_mdeg]


def told(found: Reading) -> list[str]:
    return [str(finding) for finding in found.findings if "as on" in str(finding)]


def test_a_radius_in_whole_millimetres_is_that_of_its_die_and_told_once(tmp_path: Path) -> None:
    found = bent_at(tmp_path, 152, 152, tools=[a_die()])
    assert radii_of(found) == [152.4, 152.4]
    (text,) = told(found)
    assert text.startswith('Orders!A2: CLR 5.984" is read as 6", as on die 2 x 6"; write 6"')


@pytest.mark.parametrize("radius", [151.89, 152.91, 200, 152.4])
def test_a_radius_more_than_half_a_millimetre_away_or_exact_stays(
    tmp_path: Path, radius: float
) -> None:
    found = bent_at(tmp_path, radius, tools=[a_die()])
    assert (radii_of(found), told(found)) == ([radius], [])


def test_the_die_of_another_od_and_a_radius_between_two_dies_are_not_guessed(
    tmp_path: Path,
) -> None:
    other = bent_at(tmp_path, 152, tools=[a_die(od="1-1/2")])
    between = bent_at(tmp_path, 152, tools=[a_die(clr="151.6 mm"), a_die(clr="152.4 mm")])
    assert (radii_of(other), radii_of(between)) == ([152], [152])


def clr_of(found: Reading) -> float:
    shape = found.orders[0].shape
    assert isinstance(shape, BentBlank)
    return shape.clr_nm / 1e6


def test_a_blank_s_radius_is_that_of_its_die_and_told(tmp_path: Path) -> None:
    found = blank_at(tmp_path, "152 mm", a_die())
    assert clr_of(found) == 152.4
    (text,) = told(found)
    assert text.startswith('Orders!A2: CLR 5.984" is read as 6"')
    assert "under CLR" in text
    assert clr_of(blank_at(tmp_path, '6"', a_die(), a_die(clr='5"'))) == 152.4


def test_a_radius_that_is_not_given_is_that_of_the_only_die_for_the_od(tmp_path: Path) -> None:
    found = blank_at(tmp_path, None, a_die(), a_die(od="1-1/2", clr="4-1/2"))
    assert clr_of(found) == 152.4
    assert not any(finding.cell for finding in found.findings)
    assert 'CLR 6" taken for bends of 2" tube, as on its only die, die 2 x 6"' in found.readings
    assert clr_of(blank_at(tmp_path, None, a_die(), a_die(clr='8"'))) == 0
    named_in_inches = blank_at(tmp_path, None, a_die(od="1.900"), od="48.3 mm")
    assert clr_of(named_in_inches) == 152.4


def test_the_nearest_of_two_dies_is_taken_and_an_exact_one_before_all(tmp_path: Path) -> None:
    near = bent_at(tmp_path, 152, tools=[a_die(clr="151.7 mm"), a_die(clr="152.4 mm")])
    exact = bent_at(tmp_path, 152, tools=[a_die(clr="152 mm"), a_die(clr="152.1 mm")])
    assert (radii_of(near), radii_of(exact)) == ([151.7], [152])


def test_a_die_for_pipe_in_inches_bends_the_same_pipe_in_millimetres(tmp_path: Path) -> None:
    """NPS 1-1/2 is 1.900 in by ASME B36.10M and 48.3 mm by ISO 4200 (from memory)."""
    found = bent_at(tmp_path, 152.4, od="48.3 mm", tools=[a_die(od="1.900")])
    assert [tool.od_nm for tool in found.shop.tools] == [48_300_000]
    assert any('for 1.900" is taken for the 1.902"' in str(f) for f in found.findings)


def test_a_die_stays_for_its_own_od_where_that_is_ordered_too_or_has_another(
    tmp_path: Path,
) -> None:
    two = bent_at(tmp_path, 152.4, od="48.3 mm", tools=[a_die(od="1.900"), a_die(od="48.3 mm")])
    assert [tool.od_nm for tool in two.shop.tools] == [48_260_000, 48_300_000]
    far = bent_at(tmp_path, 152.4, od="76.1 mm", tools=[a_die(od="3")])
    assert [tool.od_nm for tool in far.shop.tools] == [76_200_000]


def test_a_roller_serves_the_saddle_on_the_same_pipe(tmp_path: Path) -> None:
    order = an_order(Length="c-c 48", **{"End 1": "saddle 48.3 mm @ 90"})
    tools: list[list[Cell]] = [["roller 1.900", "roller", "Notcher", "1.900", None]]
    found = read_workbook(some_orders(tmp_path / "w.xlsx", order, Tooling=[TOOLS, *tools]))
    assert [tool.od_nm for tool in found.shop.tools] == [48_300_000]
