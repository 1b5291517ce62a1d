"""Tube specs are sound, weigh what the formula says, and go by the names of the trade."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from planner.standard_sizes import BWG_NM, PIPES, Pipe
from planner.tube import Family, Surface, TubeSpec, mass_g, size_name, spec_name
from planner.units import NM_PER_INCH, parse_od
from tests.trade import a_spec


def a_pipe(text: str, family: Family = Family.CARBON, grade: str = "A53") -> TubeSpec:
    reading = parse_od(text)
    return TubeSpec(
        family=family,
        grade=grade,
        od_nm=reading.nm,
        wall_nm=reading.wall_nm or 0,
        surface=Surface.SCALED,
    )


def test_a_wall_must_leave_a_bore() -> None:
    with pytest.raises(ValidationError, match="less than the OD"):
        TubeSpec(family=Family.CARBON, grade="A513", od_nm=10, wall_nm=5, surface=Surface.BRIGHT)


def test_tube_is_named_by_od_wall_grade_and_surface() -> None:
    assert spec_name(a_spec()) == '1-1/2" × .065" 304 bright'
    assert spec_name(a_spec(), "mm") == "38.1 × 1.65 mm 304 bright"


def test_pipe_is_named_by_size_and_schedule() -> None:
    assert spec_name(a_pipe("2 sch 40")) == "2 sch 40 A53 scaled"
    assert size_name(a_pipe("1-1/4 sch 10")) == "1-1/4 sch 10"
    assert size_name(a_pipe("1-1/4 sch 10", Family.STAINLESS, "304")) == "1-1/4 sch 10S"


def test_a_whole_fraction_od_with_a_gauge_wall_stays_tube() -> None:
    assert size_name(a_spec("3-1/2", ".120")) == '3-1/2" × .120"'
    assert size_name(a_spec("3-1/2", ".216", Family.CARBON, "A500")) == "3 sch 40"
    assert size_name(a_spec("1.9", ".120")) == '1.900" × .120"'


@given(st.integers(10**6, 10**8), st.integers(1, 10**6), st.integers(0, 10**7))
def test_mass_grows_with_length_and_never_is_negative(od: int, wall: int, length: int) -> None:
    if 2 * wall < od:
        spec = a_spec().model_copy(update={"od_nm": od, "wall_nm": wall})
        assert 0 <= mass_g(spec, length) <= mass_g(spec, 2 * length)


def test_6063_is_a_little_lighter_than_6061() -> None:
    weights = [
        mass_g(a_spec(family=Family.ALUMINIUM, grade=grade), 10**10)
        for grade in ("6061-T6", "6063-T52")
    ]
    assert weights[0] > weights[1]


WALLS = st.sampled_from(sorted(BWG_NM.values()))
SIXTEENTHS = st.integers(8, 16 * 6).map(lambda n: n * NM_PER_INCH // 16)


@given(SIXTEENTHS, WALLS)
def test_the_name_of_a_tube_reads_back_as_its_size(od: int, wall: int) -> None:
    if 2 * wall < od:
        spec = a_spec().model_copy(update={"od_nm": od, "wall_nm": wall})
        reading = parse_od(size_name(spec))
        assert (reading.nm, reading.wall_nm) == (od, wall)


@pytest.mark.parametrize("row", PIPES, ids=[row.name for row in PIPES])
def test_the_name_of_a_pipe_reads_back_as_its_size(row: Pipe) -> None:
    for family, wall in product((Family.CARBON, Family.STAINLESS), row.walls_nm.values()):
        spec = a_spec().model_copy(update={"family": family, "od_nm": row.od_nm, "wall_nm": wall})
        reading = parse_od(size_name(spec))
        assert (reading.nm, reading.wall_nm) == (row.od_nm, wall)
