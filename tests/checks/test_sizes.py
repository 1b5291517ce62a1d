"""Gauges and pipe sizes against a general-purpose library and the standards' printed values."""

from __future__ import annotations

import pytest
from fluids.piping import t_from_gauge

from planner.standard_sizes import BWG_NM, MILL_SHORT_NM, PIPES, SWG_NM, Pipe, pipe
from planner.units import NM_PER_INCH, parse_od, parse_wall
from tests.checks.piping import library_pipe_m, listed_pipe_in

INCH_M = 0.0254

ASME = "ASME B36.10M / B36.19M"
PRINTED = {
    "1/2": (0.840, 0.065, 0.083, 0.109, 0.147),
    "3/4": (1.050, 0.065, 0.083, 0.113, 0.154),
    "1": (1.315, 0.065, 0.109, 0.133, 0.179),
    "1-1/4": (1.660, 0.065, 0.109, 0.140, 0.191),
    "1-1/2": (1.900, 0.065, 0.109, 0.145, 0.200),
    "2": (2.375, 0.065, 0.109, 0.154, 0.218),
    "2-1/2": (2.875, 0.083, 0.120, 0.203, 0.276),
    "3": (3.500, 0.083, 0.120, 0.216, 0.300),
    "4": (4.500, 0.083, 0.120, 0.237, 0.337),
}
"""OD and walls of schedules 5S, 10S, 40 and 80 in inches. Source: ASME B36.10M/B36.19M, tag M."""


@pytest.mark.parametrize("gauge", sorted(BWG_NM))
def test_birmingham_gauge_agrees_with_fluids(gauge: int) -> None:
    """Source: fluids.piping.t_from_gauge, tag L."""
    assert BWG_NM[gauge] / NM_PER_INCH == pytest.approx(t_from_gauge(gauge, False, "BWG"))


@pytest.mark.parametrize("gauge", sorted(SWG_NM))
def test_british_gauge_agrees_with_fluids(gauge: int) -> None:
    """Source: fluids.piping.t_from_gauge, tag L."""
    assert SWG_NM[gauge] / NM_PER_INCH == pytest.approx(t_from_gauge(gauge, False, "BSWG"))


EVERY_PIPE = [
    pytest.param(row, schedule, id=f"NPS {row.name} sch {schedule}")
    for row in PIPES
    for schedule in row.walls_nm
]


@pytest.mark.parametrize(("row", "schedule"), EVERY_PIPE)
def test_pipe_is_that_of_steel_sections(row: Pipe, schedule: str) -> None:
    """Source: steel_sections.pipe, tag L, exact."""
    od, wall = listed_pipe_in(row, schedule)
    assert row.od_nm == round(od * NM_PER_INCH)
    assert row.walls_nm[schedule] == round(wall * NM_PER_INCH)


@pytest.mark.parametrize(("row", "schedule"), EVERY_PIPE)
def test_pipe_agrees_with_fluids(row: Pipe, schedule: str) -> None:
    """Source: fluids.piping.nearest_pipe, tag L; it rounds to whole tenths of a millimetre."""
    _, od_m, wall_m = library_pipe_m(row, schedule)
    assert row.od_nm / NM_PER_INCH == pytest.approx(od_m / INCH_M, abs=0.002)
    assert row.walls_nm[schedule] / NM_PER_INCH == pytest.approx(wall_m / INCH_M, abs=0.0003)


@pytest.mark.parametrize("name", sorted(PRINTED))
def test_pipe_agrees_with_the_printed_standard(name: str) -> None:
    """Source: ASME B36.10M/B36.19M, tag M."""
    od, *walls = PRINTED[name]
    row = pipe(name)
    assert row.od_nm == round(od * NM_PER_INCH)
    found = [row.walls_nm[schedule] for schedule in ("5S", "10S", "40", "80")]
    assert found == [round(wall * NM_PER_INCH) for wall in walls], ASME


@pytest.mark.parametrize(
    ("other_gauge", "inches"),
    [("steel sheet", 0.0598), ("stainless sheet", 0.0625), ("aluminium sheet", 0.0508)],
)
def test_sixteen_gauge_of_tube_is_none_of_the_sheet_gauges(other_gauge: str, inches: float) -> None:
    """Source: sheet gauge tables, tag M; tube gauge is BWG, tag T."""
    wall = parse_wall("16 ga")
    assert wall.nm == round(0.065 * NM_PER_INCH), other_gauge
    assert wall.nm != round(inches * NM_PER_INCH)
    assert "BWG" in wall.note


CUT_LENGTHS_IN = {"up to 22 ft": (0.5, -0.25), "over 22 ft": (0.75, -0.25)}
"""Tolerances of cut lengths. Source: ASTM A500, tag P."""


@pytest.mark.parametrize("length", CUT_LENGTHS_IN)
def test_a_mill_may_cut_as_much_short_at_any_length(length: str) -> None:
    """Source: ASTM A500, tag P."""
    _, short = CUT_LENGTHS_IN[length]
    assert round(-short * NM_PER_INCH) == MILL_SHORT_NM


def test_a_pipe_size_is_not_its_od() -> None:
    """Source: ASME B36.10M, tag M: NPS 1-1/4 schedule 40 is 1.660 OD with a .140 wall."""
    reading = parse_od("1-1/4 sch 40")
    assert (reading.nm, reading.wall_nm) == (42_164_000, 3_556_000)
