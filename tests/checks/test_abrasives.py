"""Grain sizes, their order, and the roughness seen after them, against standards and handbooks."""

from __future__ import annotations

from itertools import pairwise

import pytest

from planner.abrasives import CAMI_MICRON, FEPA_P_MICRON, NON_WOVEN_MICRON, parse_grade
from planner.roughness import doubt, usual_roughness_uin

FEPA_PRINTED = {24: 764, 36: 538, 40: 425, 50: 336, 60: 269, 80: 201, 100: 162, 120: 125}
"""Median µm of P24-P120. Source: ISO 6344-2, tag P."""
CAMI_PRINTED = {24: 715, 36: 535, 40: 428, 50: 351, 60: 268, 80: 192, 100: 141}
"""Median µm of CAMI 24-100. Source: ANSI B74.18, tag P."""
FEPA_FINE = {
    **{150: 100, 180: 82, 220: 68, 240: 58.5, 280: 52.2, 320: 46.2, 360: 40.5, 400: 35.0},
    **{500: 30.2, 600: 25.8, 800: 21.8, 1000: 18.3, 1200: 15.3, 1500: 12.6, 2000: 10.3, 2500: 8.4},
}
"""Source: ISO 6344-2 and -3, P1500 and finer before the 2021 edition of -3; tag M."""
CAMI_FINE = {
    **{120: 116, 150: 93, 180: 82, 220: 68, 240: 52, 280: 42, 320: 35, 360: 28, 400: 22},
    **{500: 18, 600: 15},
}
"""Source: ANSI B74.18, tag M."""


@pytest.mark.parametrize(("number", "micron"), (FEPA_PRINTED | FEPA_FINE).items())
def test_p_grades_have_the_standards_size(number: int, micron: float) -> None:
    """Source: ISO 6344-2 and -3, tags P and M as above."""
    assert parse_grade(f"P{number}").grade.micron == micron


@pytest.mark.parametrize(("number", "micron"), (CAMI_PRINTED | CAMI_FINE).items())
def test_cami_grades_have_the_standards_size(number: int, micron: float) -> None:
    """Source: ANSI B74.18, tags P and M as above."""
    assert parse_grade(f"{number} CAMI").grade.micron == micron


@pytest.mark.parametrize(
    ("cami", "p_number"), [(80, 80), (180, 180), (220, 220), (240, 280), (320, 400), (600, 1200)]
)
def test_cami_numbers_have_their_known_neighbours_in_p(cami: int, p_number: int) -> None:
    """Source: comparison charts of the two standards, tag M: 320 is P400, 600 is about P1200."""
    size = CAMI_MICRON[cami]
    nearest = min(FEPA_P_MICRON, key=lambda p: abs(FEPA_P_MICRON[p] - size))
    assert nearest == p_number


def test_a_higher_number_is_finer_within_a_system() -> None:
    """Source: both standards, tag P."""
    for table in (FEPA_P_MICRON, CAMI_MICRON):
        sizes = [table[number] for number in sorted(table)]
        assert all(coarse > fine for coarse, fine in pairwise(sizes))


@pytest.mark.parametrize(
    ("word", "coarse", "fine"),
    [("coarse", 60, 80), ("medium", 80, 120), ("fine", 120, 240), ("very fine", 220, 320)],
)
def test_non_woven_sizes_lie_in_the_usual_range(word: str, coarse: int, fine: int) -> None:
    """Source: common practice, no standard, tag T."""
    assert FEPA_P_MICRON[fine] < NON_WOVEN_MICRON[word] < FEPA_P_MICRON[coarse]


def test_every_grade_of_the_tables_is_checked() -> None:
    """Source: ISO 6344; ANSI B74.18, which stops at 600."""
    assert set(FEPA_P_MICRON) == set(FEPA_PRINTED | FEPA_FINE)
    assert set(CAMI_MICRON) == set(CAMI_PRINTED | CAMI_FINE)
    assert max(CAMI_MICRON) == 600


SEEN = {80: (70, 70), 120: (52, 52), 150: (42, 42), 180: (30, 32), 240: (15, 20), 320: (10, 12)}
"""µin Ra seen after belts of these P grades, tag T; only order and overlap are checked."""


def test_a_finer_belt_leaves_a_finer_surface() -> None:
    """Source: values above, tag T."""
    usual = [usual_roughness_uin(parse_grade(f"P{number}").grade) for number in SEEN]
    found = [each for each in usual if each is not None]
    assert len(found) == len(SEEN)
    assert all(rough > fine for (rough, _), (_, fine) in pairwise(found))
    assert all(
        low <= most and least <= high
        for (least, most), (low, high) in zip(found, SEEN.values(), strict=True)
    )


FINISHES = {"No. 3": (28, 58), "No. 4": (12, 45), "dairy No. 4": (18, 31), "No. 6": (10, 20)}
"""Ranges of µin Ra seen for mill finishes, tag T; no standard defines a finish by Ra."""


@pytest.mark.parametrize(
    ("grade", "finish"),
    [
        *(("P120", "No. 3"), ("P150", "No. 4"), ("P180", "No. 4"), ("P180", "dairy No. 4")),
        ("P240", "No. 6"),
    ],
)
def test_belts_leave_what_the_finishes_made_with_them_show(grade: str, finish: str) -> None:
    """Source: ranges above, tag T; only overlap is checked."""
    usual = usual_roughness_uin(parse_grade(grade).grade)
    assert usual is not None
    low, high = FINISHES[finish]
    assert usual[0] <= high
    assert usual[1] >= low


MIRRORS = {"No. 7": (2.4, 7.9), "No. 8": (0.8, 3.9)}
"""Ranges of µin Ra seen for buffed finishes, tag T."""


@pytest.mark.parametrize("finish", MIRRORS)
def test_no_belt_of_the_table_leaves_a_mirror(finish: str) -> None:
    """Source: ranges above, tag T: such finishes are buffed, so they lie below all belts."""
    _, high = MIRRORS[finish]
    finest = usual_roughness_uin(parse_grade("P320").grade)
    assert finest is not None
    assert finest[0] > high


def test_a_recipe_that_promises_a_mirror_by_a_belt_is_doubted() -> None:
    """Source: ranges above, tag T; half the usual roughness is still believed."""
    assert "finer belt" in doubt(parse_grade("P320").grade, *MIRRORS["No. 8"])
    assert "finer belt" in doubt(parse_grade("P240").grade, *MIRRORS["No. 8"])
    assert doubt(parse_grade("P320").grade, *MIRRORS["No. 7"]) == ""
